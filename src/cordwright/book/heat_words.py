"""How does the wall's heat read? The answer first, then what drives it, then what each panel loses."""

from collections.abc import Iterator
from typing import Final

from cordwright.base import Figure
from cordwright.book.formats import show_figure, show_in, show_number, show_share, show_value, unit_of
from cordwright.case import Project
from cordwright.heat import Driver, Drivers, HeatStudy, PanelHeat, WallHeat
from cordwright.reckon import Reckoning

CAUSES: Final = {
    "grain": "how well the wood leads heat along its grain",
    "mortar": "how well the mortar leads heat",
    "fill": "how well the fill leads heat",
    "length": "the length of the log ends",
    "bead": "the depth of the beads",
    "fraction": "the wood fraction",
}
LEAVES_OUT: Final = (
    "Left out: air through checks and gaps, the sun, rain, moisture that wanders. Logs, beads, fill, posts, lintels "
    "and frame timbers are in; pipes, bottle ends and gap stones count as joint; reveals are taken as closed. A curved "
    "panel is unrolled on its centre line."
)
MAP_WORDS: Final = (
    "Lines of one temperature of the inner face, for 20 °C inside and -10 °C outside. The ring with the cross is the "
    "coldest spot; the wall is cut open through it, level below and upright beside."
)
FLUX_WORDS: Final = "Heat that goes into the wall: a dot twice as large in area stands for twice the heat."
ACROSS_BOUNDS: Final = "by hand's method, the mean of two bounds: "


def answer(project: Project, reckoning: Reckoning) -> Iterator[str]:
    """What the wall loses, in a sentence or two; what is missing where it is not known."""
    heat = reckoning.wall_heat
    if heat.materials is None:
        yield f"What the wall loses is not known: {'; '.join(heat.missing)}."
        return
    best, how = _best(heat)
    shown = show_figure(best, project.units, project.locale)
    yield f"The wall loses {shown} of its face, {how}."
    yield _bounds(project, heat)


def _best(heat: WallHeat) -> tuple[Figure, str]:
    """The best U there is, and how it came about."""
    for key, how in (("wall.u_resolved", "as laid, log by log"), ("wall.u_cell", "log by log in round cells")):
        if heat.figure(key).value is not None:
            return heat.figure(key), how
    return heat.figure("wall.u_value"), "by the mean of its bounds"


def _bounds(project: Project, heat: WallHeat) -> str:
    assert heat.section is not None
    low, high = (heat.figure(f"wall.u_{name}_bound").value for name in ("lower", "upper"))
    ends = [show_value(v, "W/m2K", project.units, project.locale) for v in (low, high)]
    middle = heat.section.middle
    ratio = show_number(middle.ratio, 2, project.locale)
    if not middle.valid:
        return (
            f"By hand the truth lies between {ends[0]} and {ends[1]}; the resistances are {ratio} apart, over 1.5: the "
            "method is not valid for this wall, and no mean is given."
        )
    mean = show_value(heat.figure("wall.u_value").value, "W/m2K", project.units, project.locale)
    return (
        f"By hand {mean}, between {ends[0]} and {ends[1]} (resistances {ratio} apart; over 1.5 it would not be valid)."
    )


def drivers_words(project: Project, found: Drivers) -> Iterator[str]:
    """What drives the wall's loss: what is unsure first, then what the owner can choose, then which path is weaker."""
    if found.unsure:
        first = found.unsure[0]
        moves = _moves(first, project.locale)
        yield f"Least sure is {CAUSES[first.cause]}: by its spread alone the loss moves {moves}."
    length, *others = sorted(found.chosen, key=lambda d: -d.reach)
    said = ", ".join(f"{CAUSES[d.cause]} {_moves(d, project.locale)}" for d in (length, *others))
    yield f"A tenth less or more moves it so: {said}."
    log, joint = (show_value(u, "W/m2K", project.units, project.locale) for u in (found.log_path, found.joint_path))
    if found.log_path > found.joint_path:
        paths = f"{log} against {joint} through the joint"
        yield f"The log is the weaker path ({paths}): more wood in the face is not warmer."
    else:
        paths = f"{joint} against {log} through the log"
        yield f"The joint is the weaker path ({paths}): more wood in the face is warmer."


def _moves(driver: Driver, locale: str) -> str:
    def signed(share: float) -> str:
        return ("+" if share > 0 else "−" if share < 0 else "") + show_share(abs(share), locale)

    return f"{signed(driver.low)} to {signed(driver.high)}"


def material_rows(project: Project, heat: WallHeat) -> list[tuple[str, str, str]]:
    """What each material of the wall leads: its name, the value, low to high."""
    if heat.materials is None:
        return []
    m = heat.materials
    parts = [c for c in (m.along, m.across, m.mortar, m.fill) if c is not None]
    show = [
        (c.label, *(show_in(v, "W/mK", project.units, project.locale, 3) for v in (c.value, c.low, c.high)))
        for c in parts
    ]
    return [(label, value, f"{low} to {high}" if low != high else "as stated") for label, value, low, high in show]


def panel_rows(project: Project, study: HeatStudy) -> list[tuple[str, ...]]:
    """A row for each panel: its face, U with the error of its grid, heat through timbers, and its coldest factors."""
    return [_panel_row(project, panel) for panel in study.panels]


def _panel_row(project: Project, panel: PanelHeat) -> tuple[str, ...]:
    units, locale = project.units, project.locale
    error = show_in(panel.error, "W/m2K", units, locale, 3)
    factors = {spot.ground: show_number(spot.factor, 2, locale) for spot in panel.checked.worst}
    spot = panel.checked.coldest()
    where = f"{show_value(spot.x, 'm', units, locale)} from left, {show_value(max(spot.y, 0.0), 'm', units, locale)} up"
    return (
        panel.name,
        show_in(panel.area, "m2", units, locale),
        f"{show_in(panel.u_value, 'W/m2K', units, locale, 3)} ± {error}",
        show_in(panel.flow_timber, "W/K", units, locale, 2),
        factors.get("log", "–"),
        factors.get("mortar", "–"),
        factors.get("timber", "–"),
        where,
    )


def panel_heads(project: Project) -> tuple[str, ...]:
    """Heads of the panels' columns, with units."""
    u, face = (unit_of(unit, project.units)[0] for unit in ("W/m2K", "m2"))
    return (
        "panel",
        f"net face, {face}",
        f"loss, {u}",
        "posts and frames, W/K",
        "coldest log",
        "coldest mortar",
        "coldest timber",
        "coldest spot",
    )


def whole_words(project: Project, study: HeatStudy) -> str:
    """All panels together in a sentence, with the grid."""
    u = show_value(study.u_value, "W/m2K", project.units, project.locale)
    error = show_value(study.error, "W/m2K", project.units, project.locale)
    grid = show_value(max(p.pitch for p in study.panels), "m", project.units, project.locale)
    cells = show_number(sum(p.cells for p in study.panels) / 1e6, 1, project.locale)
    return f"All together {u}, the grid's error {error} (grid {grid}, {cells} million cells)."
