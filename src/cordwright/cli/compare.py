"""What if it were built otherwise, and what matters most?"""

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from cordwright.cli.app import (
    FAULTY,
    MISUSED,
    AsJson,
    File,
    Watch,
    app,
    dump,
    has_errors,
    problems_json,
    put,
    read_or_stop,
    reckon_whole,
    say,
    stop,
)

if TYPE_CHECKING:
    from concurrent.futures import Executor

    from cordwright.case import Project
    from cordwright.compare import Case, Comparison, Point
    from cordwright.drivers import Drivers
    from cordwright.project.variants import Variant, VariantReader
    from cordwright.reckon import Reckoning

AS_IT_STANDS = "as it stands"


@app.command()
def compare(  # noqa: PLR0917 - an option each, named by the owner
    file: File,
    changes: Annotated[
        list[str] | None,
        typer.Option(
            "--with",
            metavar='"[NAME:] KEY=VALUE[; KEY=VALUE]"',
            help="a variant: what is otherwise in building.toml; repeatable",
        ),
    ] = None,
    figures: Annotated[
        list[str] | None, typer.Option(metavar="PATTERN", help='figures to show, "mortar.*"; repeatable')
    ] = None,
    drivers: Annotated[
        str, typer.Option(metavar="FIGURE", help="which input matters most to this figure", show_default=False)
    ] = "",
    sweep: Annotated[
        list[str] | None,
        typer.Option(metavar='"KEY=FIRST..LAST UNIT by STEP"', help='an axis of a grid, or "KEY=A | B"; repeatable'),
    ] = None,
    lay: Annotated[bool, typer.Option("--lay", help="run the slow studies for each variant: the wall as laid")] = False,
    workers: Annotated[int, typer.Option(min=1, max=64, help="processes for --drivers and --sweep")] = 1,
    as_csv: Annotated[bool, typer.Option("--csv", help="print a sweep as CSV")] = False,
    save: Annotated[
        Path | None, typer.Option(metavar="FOLDER", help="copy the project with the one variant's changes")
    ] = None,
    as_json: AsJson = False,
) -> None:
    """Set variants side by side, find what matters most to a figure, or sweep a grid; the project stays as it is."""
    if sum((bool(changes), bool(drivers), bool(sweep))) != 1:
        say('say one of --with "KEY=VALUE", --drivers FIGURE or --sweep "KEY=FIRST..LAST UNIT by STEP"')
        stop(MISUSED)
    if (as_csv and not sweep) or (save is not None and not changes):
        say("--csv goes with --sweep, and --save with --with")
        stop(MISUSED)
    _, project = read_or_stop(file, as_json=as_json)
    if drivers:
        _show_drivers(project, drivers, workers=workers, as_json=as_json)
    elif sweep:
        _show_sweep(file, project, sweep, figures or [], workers=workers, as_json=as_json, as_csv=as_csv)
    else:
        _show_variants(file, changes or [], figures or [], lay=lay, save=save, as_json=as_json)


def _show_variants(
    file: Path, texts: Sequence[str], patterns: Sequence[str], *, lay: bool, save: Path | None, as_json: bool
) -> None:
    from cordwright.compare import compare as set_side_by_side
    from cordwright.project.variants import VariantReader, parse_with

    reader = VariantReader(file)
    variants = [reader.read(*parse_with(text)) for text in texts]
    _stop_at_faults(variants, as_json=as_json)
    if save is not None:
        _save(reader, variants, save)
    made = set_side_by_side(_reckonings(file, reader, variants, lay=lay, as_json=as_json))
    project = reader.reading.project
    assert project is not None
    if as_json:
        dump(_comparison_json(made, variants, patterns))
        return
    from cordwright.book.compare_page import comparison_lines

    for line in comparison_lines(project, made, patterns, laid=lay):
        put(line)


def _stop_at_faults(variants: "Sequence[Variant]", *, as_json: bool) -> None:
    problems = tuple(p for v in variants for p in v.problems)
    for problem in problems:
        say(str(problem))
    if has_errors(problems) or any(v.project is None for v in variants):
        if as_json:
            dump({"schema": 1, "rows": [], "problems": problems_json(problems)})
        stop(FAULTY)


def _save(reader: "VariantReader", variants: "Sequence[Variant]", folder: Path) -> None:
    from cordwright.project.starting import copy_project

    if len(variants) != 1:
        say("--save takes one variant")
        stop(MISUSED)
    for path in copy_project(reader.reading.files, reader.content_with(variants[0].changes), folder):
        say(str(path))


def _reckonings(
    file: Path, reader: "VariantReader", variants: "Sequence[Variant]", *, lay: bool, as_json: bool
) -> "dict[str, Reckoning]":
    projects = [(AS_IT_STANDS, reader.reading.project), *((v.name, v.project) for v in variants)]
    made: dict[str, Reckoning] = {}
    for name, project in projects:
        assert project is not None
        unique = name if name not in made else f"{name} ({len(made)})"
        made[unique] = reckon_whole(file, reader.reading, project, as_json=as_json, no_studies=not lay)
    return made


def _comparison_json(made: "Comparison", variants: "Sequence[Variant]", patterns: Sequence[str]) -> object:
    from cordwright.book.compare_page import is_wanted
    from cordwright.reckon import check_json, figure_json

    places = range(1, len(made.names))
    return {
        "schema": 1,
        "variants": [{"name": made.names[0], "changes": {}}]
        + [
            {"name": name, "changes": {c.key: c.text for c in v.changes}}
            for name, v in zip(made.names[1:], variants, strict=True)
        ],
        "rows": [
            {
                "key": row.key,
                "label": row.label,
                "unit": row.unit,
                "figures": [figure_json(f) if f else None for f in row.figures],
                "change": [row.change(n) for n in places],
                "outside_spread": [row.is_clear(n) for n in places],
            }
            for row in made.rows
            if is_wanted(row.key, patterns)
        ],
        "checks": [
            {"key": row.key, "checks": [check_json(c) if c else None for c in row.checks]} for row in made.verdicts
        ],
        "same": made.same,
        "unknown": list(made.unknown),
        "problems": problems_json(tuple(p for v in variants for p in v.problems)),
    }


def _show_drivers(project: "Project", key: str, *, workers: int, as_json: bool) -> None:
    from cordwright.drivers import drivers

    with _executor(workers) as executor, Watch() as watch:
        try:
            told = drivers(project, key, executor, progress=watch.part(1.0))
        except KeyError:
            say(f"there is no figure {key!r}; `cordwright reckon` lists them")
            stop(MISUSED)
    if as_json:
        dump(_drivers_json(told))
        return
    from cordwright.book.compare_page import drivers_lines

    for line in drivers_lines(project, told):
        put(line)


def _drivers_json(told: "Drivers") -> object:
    from cordwright.project.variants import owners_name

    return {
        "schema": 1,
        "figure": told.figure.key,
        "drivers": [
            {
                "input": owners_name(d.lever.path),
                "basis": d.lever.basis,
                "from": [d.lever.low, d.lever.high],
                "change": [d.at_low, d.at_high],
                "elasticity": d.elasticity,
            }
            for d in told.moving
        ],
        "idle": [owners_name(lever.path) for lever in told.idle],
        "stuck": {owners_name(d.lever.path): d.refusals[0] for d in told.stuck},
    }


def _show_sweep(
    file: Path,
    project: "Project",
    axes: Sequence[str],
    keys: Sequence[str],
    *,
    workers: int,
    as_json: bool,
    as_csv: bool,
) -> None:
    from cordwright.project.variants import VariantReader, parse_axis

    values: dict[str, Sequence[str]] = dict(parse_axis(text) for text in axes)
    cases = _cases(VariantReader(file), values)
    wanted = list(keys) or ["mortar.volume", "wall.fill_volume", "cost.total"]
    points = _swept(cases, wanted, workers)
    _stop_at_strangers(points, wanted)
    if as_json:
        dump(_sweep_json(points))
        return
    from cordwright.book.compare_page import sweep_csv, sweep_table

    if as_csv:
        put(sweep_csv(points, wanted).rstrip("\r\n"))
        return
    table = sweep_table(project, points, wanted)
    widths = [max(len(row[n]) for row in table) for n in range(len(table[0]))]
    for row in table:
        put("  ".join(f"{cell:<{width}}" for cell, width in zip(row, widths, strict=True)).rstrip())


def _cases(reader: "VariantReader", axes: "dict[str, Sequence[str]]") -> "list[Case]":
    from cordwright.compare import Case, grid
    from cordwright.project.variants import Change

    cases = []
    for settings in grid(axes):
        variant = reader.read(_named(settings), [Change(key=key, text=text) for key, text in settings.items()])
        refusal = next((p.message for p in variant.problems if p.severity == "error"), "")
        cases.append(Case(settings=settings, project=variant.project, refusal=refusal))
    return cases


def _named(settings: Mapping[str, str]) -> str:
    return "; ".join(f"{key}={text}" for key, text in settings.items())


def _swept(cases: "list[Case]", keys: Sequence[str], workers: int) -> "tuple[Point, ...]":
    from cordwright.compare import sweep

    with _executor(workers) as executor, Watch() as watch:
        return sweep(cases, executor, keys, progress=watch.part(1.0))


def _stop_at_strangers(points: "Sequence[Point]", keys: Sequence[str]) -> None:
    """A figure that no case of a sweep has is a slip of the finger, no unknown."""
    reckoned = [p for p in points if not p.refusal]
    strange = [key for key in keys if reckoned and not any(key in p.figures for p in reckoned)]
    if strange:
        say(f"there is no figure {', '.join(map(repr, strange))}; `cordwright reckon` lists them")
        stop(MISUSED)


def _executor(workers: int) -> "Executor":
    """One thread, or so many processes that each begin afresh."""
    from concurrent.futures import ProcessPoolExecutor, ThreadPoolExecutor
    from multiprocessing import get_context

    return ThreadPoolExecutor(1) if workers == 1 else ProcessPoolExecutor(workers, mp_context=get_context("spawn"))


def _sweep_json(points: "Sequence[Point]") -> object:
    from cordwright.reckon import figure_json

    return {
        "schema": 1,
        "points": [
            {
                "settings": dict(p.settings),
                "figures": {key: figure_json(f) for key, f in p.figures.items()},
                "refusal": p.refusal,
            }
            for p in points
        ],
    }
