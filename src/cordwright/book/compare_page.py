"""How do variants, the inputs that matter most, and the points of a sweep read at the command line?"""

import csv
import io
from collections.abc import Iterator, Sequence
from fnmatch import fnmatch
from typing import Final

from cordwright.base import Figure
from cordwright.book.formats import NB, show_check, show_figure, show_middle, show_share, show_spread, show_value
from cordwright.book.lists import harmless
from cordwright.case import Project
from cordwright.compare import Comparison, Point, Row, VerdictRow
from cordwright.drivers import Driver, Drivers
from cordwright.project.variants import owners_name

HEADLINE: Final = {
    "wall.wood_volume": "wood in the wall",
    "mortar.volume": "mortar",
    "wall.fill_volume": "fill",
    "wall.u_value": "heat through the wall",
    "heat.season_energy": "heat in a season",
    "heat.firewood_stacked": "stacked firewood",
    "daylight.average_factor": "daylight",
    "cost.hours": "hours",
    "cost.wall_materials": "wall materials",
    "cost.total": "cost",
    "season.roof_first.closed_p50": "closed, roof first",
    "season.walls_first.closed_p50": "closed, walls first",
}
"""What a builder asks first of a change, in words; those that stand and change make the sentence."""
ROUNDING: Final = 1e-9


def is_wanted(key: str, patterns: Sequence[str]) -> bool:
    """Whether a figure's key fits one of the patterns; none fits all."""
    return not patterns or any(fnmatch(key, pattern) for pattern in patterns)


def comparison_lines(project: Project, made: Comparison, patterns: Sequence[str] = (), *, laid: bool) -> Iterator[str]:
    """Give a sentence for each variant, then every figure that changes, then the checks that judge otherwise.

    Args:
        project: the building as it stands, for units and language.
        made: the comparison.
        patterns: keys of figures to show, with * for any letters; none for all.
        laid: whether every variant was laid out log by log.
    """
    rows = [row for row in made.rows if is_wanted(row.key, patterns)]
    for text in _comparison(project, made, rows, laid=laid):
        yield text.replace(NB, " ")


def _comparison(project: Project, made: Comparison, rows: Sequence[Row], *, laid: bool) -> Iterator[str]:
    yield f"{project.name}  (not reviewed by an engineer; figures for review)"
    yield "each laid out log by log" if laid else "each as planned, not laid out; --lay lays each"
    for n, name in enumerate(made.names[1:], start=1):
        yield _sentence(project, made, n, name)
    wide = max(map(len, made.names))
    for row in rows:
        yield f"\n{row.key}  {row.label}"
        yield from (f"  {name:<{wide}}  {_cell(project, row, n)}" for n, name in enumerate(made.names))
    if made.verdicts:
        yield "\nchecks that judge otherwise"
    for check in made.verdicts:
        yield from _verdicts(project, made, check, wide)
    yield f"\n{made.same} figures stay as they are" + _unknown_words(made)


def _unknown_words(made: Comparison) -> str:
    return f"; of {len(made.unknown)} nothing is known in any: {', '.join(made.unknown)}" if made.unknown else ""


def _sentence(project: Project, made: Comparison, variant: int, name: str) -> str:
    by_key = {row.key: row for row in made.rows}
    told = [_headline(project, by_key[key], variant) for key in HEADLINE if key in by_key]
    told = [words for words in told if words]
    return f"{name}: {'; '.join(told)}" if told else f"{name}: none of the figures a builder asks first changes"


def _headline(project: Project, row: Row, variant: int) -> str:
    change = row.change(variant)
    if not _moves(row, change):
        return ""
    return f"{HEADLINE[row.key]} {show_change(project, row.unit, row.figures[0], change)}"


def _moves(row: Row, change: float | None) -> bool:
    here = row.figures[0]
    size = abs(here.value) if here is not None and isinstance(here.value, float) else 1.0
    return change is not None and abs(change) > ROUNDING * max(size, 1e-12)


def show_change(project: Project, unit: str, figure: Figure | None, change: float | None) -> str:
    """A difference with its sign, in the figure's unit; days for dates."""
    if change is None:
        return "not known"
    sign = "+" if change > 0 else "−" if change < 0 else "±"
    if figure is not None and figure.value is not None and not isinstance(figure.value, float):
        days = abs(round(change))
        return f"{days} day{'s' if days != 1 else ''} {'later' if change > 0 else 'earlier'}" if days else "same day"
    if unit == "1":
        return f"{sign}{show_value(abs(change) * 100, '', project.units, project.locale)}{NB}points"
    if unit == "degC":
        return f"{sign}{show_value(abs(change), '', project.units, project.locale)}{NB}K"
    return sign + show_value(abs(change), unit, project.units, project.locale)


def _cell(project: Project, row: Row, variant: int) -> str:
    figure = row.figures[variant]
    if figure is None:
        return "no such figure"
    shown = show_middle(figure, project.units, project.locale)
    spread = show_spread(figure, project.units, project.locale)
    told = f"{shown} ({spread})" if spread else shown
    return told if variant == 0 else told + _against(project, row, variant)


def _against(project: Project, row: Row, variant: int) -> str:
    change = row.change(variant)
    if change is None:
        return ""
    if not _moves(row, change):
        return "  the same"
    words = "  " + show_change(project, row.unit, row.figures[0], change)
    return words + {False: ", within the spread", True: ", outside the spread", None: ""}[row.is_clear(variant)]


def _verdicts(project: Project, made: Comparison, row: VerdictRow, wide: int) -> Iterator[str]:
    yield f"  {row.label}"
    for name, check in zip(made.names, row.checks, strict=True):
        shown = show_check(check, project.units, project.locale) if check else "no such check"
        yield f"    {name:<{wide}}  {shown}"


def drivers_lines(project: Project, told: Drivers, most: int = 15) -> Iterator[str]:
    """Give what matters most to one figure, the strongest first, in two lists: known spreads, and common steps.

    Args:
        project: the building, for units and language.
        told: the drivers.
        most: lines a list.
    """
    for text in _drivers(project, told, most):
        yield text.replace(NB, " ")


def _drivers(project: Project, told: Drivers, most: int) -> Iterator[str]:
    figure = told.figure
    yield f"{project.name}  (not reviewed by an engineer; figures for review)"
    yield f"what matters most to {figure.key}, {figure.label}"
    yield f"  as it stands  {show_figure(figure, project.units, project.locale)}"
    for heading, chosen in _lists(told):
        if chosen:
            yield f"\n{heading}"
            yield from _driver_lines(project, told, chosen[:most])
        if len(chosen) > most:
            yield f"  and {len(chosen) - most} that move it less"
    yield f"\n{len(told.idle)} other inputs do not move it. Months, dates and counts are not moved."
    for driver in told.stuck:
        yield f"  {owners_name(driver.lever.path)} cannot be moved: {driver.refusals[0]}"


def _lists(told: Drivers) -> tuple[tuple[str, list[Driver]], ...]:
    """Known spreads first, then what could be chosen otherwise, then the sizes of the building itself."""
    own = [d for d in told.moving if d.lever.basis == "stated spread"]
    step = [d for d in told.moving if d.lever.basis == "common step"]
    sizes = [d for d in step if is_size(d.lever.path)]
    return (
        ("over the spread that you state", own),
        ("a tenth down and up: a common step, no statement about your site", [d for d in step if d not in sizes]),
        ("the building's own sizes, a tenth down and up", sizes),
    )


def is_size(path: str) -> bool:
    """Whether a lever is a size of the building and not of its wall's build-up."""
    return path.startswith("plan.") and not path.startswith("plan.section.")


def _driver_lines(project: Project, told: Drivers, chosen: Sequence[Driver]) -> Iterator[str]:
    names = [owners_name(d.lever.path) for d in chosen]
    wide = max(map(len, names))
    for name, driver in zip(names, chosen, strict=True):
        low, high = (_end(project, told, driver, end) for end in (driver.at_low, driver.at_high))
        share = "" if driver.elasticity is None else f"  {driver.elasticity:+.2f} % for each %".replace("-", "−")
        reach = show_share(driver.lever.low / driver.lever.value - 1, project.locale).replace("-", "−")
        top = show_share(driver.lever.high / driver.lever.value - 1, project.locale)
        yield f"  {name:<{wide}}  {reach}: {low};  +{top}: {high}{share}"


def _end(project: Project, told: Drivers, driver: Driver, change: float | None) -> str:
    if change is None and driver.refusals:
        return "cannot be built"
    return show_change(project, told.figure.unit, told.figure, change)


def sweep_table(project: Project, points: Sequence[Point], keys: Sequence[str]) -> tuple[tuple[str, ...], ...]:
    """Give a sweep as rows of words, the heading first: its axes, then each figure or, in the first, a refusal.

    Args:
        project: the building, for units and language.
        points: of the sweep.
        keys: figures to show.
    """
    axes = tuple(points[0].settings) if points else ()
    rows = [(*axes, *keys)]
    for point in points:
        cells = [_point_cell(project, point, key) for key in keys]
        if point.refusal:
            cells = [point.refusal, *("" for _ in keys[1:])]
        rows.append((*point.settings.values(), *cells))
    return tuple(rows)


def _point_cell(project: Project, point: Point, key: str) -> str:
    figure = point.figures.get(key)
    return show_middle(figure, project.units, project.locale).replace(NB, " ") if figure else "–"


def sweep_csv(points: Sequence[Point], keys: Sequence[str]) -> str:
    """A sweep as plain text with commas: the axes as typed, figures in SI with their units in the heading.

    Args:
        points: of the sweep.
        keys: figures to write.
    """
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    units = {key: f.unit for point in points for key, f in point.figures.items()}
    axes = tuple(points[0].settings) if points else ()
    writer.writerow([*map(harmless, axes), *(f"{key} [{units.get(key, '')}]" for key in keys), "refusal"])
    for point in points:
        cells = [_machine(point.figures.get(key)) for key in keys]
        writer.writerow([*map(harmless, point.settings.values()), *cells, harmless(point.refusal)])
    return out.getvalue()


def _machine(figure: Figure | None) -> str:
    if figure is None or figure.value is None:
        return ""
    return f"{figure.value:.12g}" if isinstance(figure.value, float) else figure.value.isoformat()
