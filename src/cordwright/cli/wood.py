"""When are the logs dry, and where does each stand in the wall?"""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from cordwright.cli.app import (
    MISUSED,
    AsJson,
    File,
    Watch,
    app,
    dump,
    problems_json,
    put,
    read_or_stop,
    refuse,
    say,
    stop,
)

if TYPE_CHECKING:
    from cordwright.case import Project
    from cordwright.project.wishes import Asked
    from cordwright.reckon import Reckoning
    from cordwright.wall.laid_study import LayoutStudy
    from cordwright.wall.placed import PlacedWall


@app.command()
def dry(file: File, as_json: AsJson = False) -> None:
    """When are the logs ready? How the stack dries, what gap it leaves, how it is stacked and treated."""
    reading, project = read_or_stop(file, as_json=as_json)
    from cordwright.reckon import as_json as reckoning_json
    from cordwright.reckon import reckon as reckon_all

    reckoning = reckon_all(project)
    if as_json:
        from cordwright.timber.drying_json import drying_json

        content = dict(reckoning_json(reckoning))
        keys = {f.key for f in reckoning.timber.figures}
        figures, checks = content["figures"], [c.key for c in reckoning.timber.checks]
        assert isinstance(figures, dict)
        content["figures"] = {key: figure for key, figure in figures.items() if key in keys}
        content["checks"] = [c for c in content["checks"] if c["key"] in checks]  # type: ignore[attr-defined]
        dump({**content, "drying": drying_json(reckoning.timber.drying), "problems": problems_json(reading.problems)})
        return
    from cordwright.book.drying_page import drying_lines

    for line in drying_lines(project, reckoning):
        put(line)


@app.command()
def lay(  # noqa: PLR0917 - an option each, named by the owner
    file: File,
    panel: Annotated[str, typer.Option(help="lay this panel only, from its share of the stock")] = "",
    output: Annotated[Path | None, typer.Option("-o", "--output", help="folder for one drawing a panel (SVG)")] = None,
    seed: Annotated[
        int | None, typer.Option(help="another number gives another wall, the same number the same one")
    ] = None,
    pattern: Annotated[str, typer.Option(help='"mixed" or "large at the bottom"', show_default=False)] = "",
    forbid: Annotated[list[str] | None, typer.Option(metavar="LOG", help="a log not to be used; repeatable")] = None,
    lock: Annotated[
        list[str] | None,
        typer.Option(metavar='"LOG PANEL 1.20 m 0.45 m"', help="a log at a place, from left and height; repeatable"),
    ] = None,
    swap: Annotated[
        list[str] | None, typer.Option(metavar='"LOG OTHER"', help="two logs that change places; repeatable")
    ] = None,
    laid: Annotated[
        list[Path] | None, typer.Option(metavar="FILE.csv", help="logs as really laid; repeatable", show_default=False)
    ] = None,
    day: Annotated[str, typer.Option(help='what a day of laying so much needs: "0.8 m2"', show_default=False)] = "",
    as_json: AsJson = False,
) -> None:
    """Lay the log ends out, panel by panel, each at its true size and traceable to its stem.

    What is asked here is added, for this run, to what stands in [layout] of building.toml.
    """
    from cordwright.project.wishes import Asked

    asked = Asked(
        seed=seed,
        pattern=pattern,
        forbid=tuple(forbid or ()),
        locks=tuple(lock or ()),
        swaps=tuple(swap or ()),
        laid=tuple(laid or ()),
    )
    _show_laid(file, asked, panel, day, output=output, as_json=as_json)


def _show_laid(file: Path, asked: "Asked", panel: str, day: str, *, output: Path | None, as_json: bool) -> None:
    """Lay the wall as asked and tell it, in words or as JSON, and in drawings where a folder is named."""
    reading, project = read_or_stop(file, as_json=as_json, asked=asked)
    from cordwright.reckon import reckon as reckon_all
    from cordwright.wall.placed import place_wall

    reckoning = reckon_all(project)
    names = [p.name for p in reckoning.plan.panels]
    if panel and panel not in names:
        say(f"there is no panel {panel!r}; the panels are {', '.join(names)}")
        stop(MISUSED)
    area = _day_area(day) if day else None
    study = _lay(file, project, reckoning, panel)
    refuse(reading.placed(study.refusals), as_json=as_json)
    placed = place_wall(study, reckoning.plan, project.plan.section, reckoning.timber.stock, reckoning.mix)
    if output is not None:
        from cordwright.book.laid_files import write_laid_drawings

        for path in write_laid_drawings(project, reckoning.plan, reckoning.timber, study, output):
            say(str(path))
    if as_json:
        dump(_layout_json(project, study, placed))
        return
    from cordwright.book.laid_page import laid_lines
    from cordwright.book.needs_page import needs_lines

    for line in (*laid_lines(project, study), *needs_lines(project, reckoning.mix, placed, area)):
        put(line)


def _lay(file: Path, project: "Project", reckoning: "Reckoning", panel: str) -> "LayoutStudy":
    """The whole wall from the studies that are kept; one panel alone is laid anew."""
    from time import perf_counter

    from cordwright.project.studies import KeptStudies
    from cordwright.wall.laid_study import SIZE_CLASSES
    from cordwright.wall.study import lay_study

    with Watch() as watch:
        progress = watch.part(1.0)
        kept = KeptStudies(file, progress=progress, clock=perf_counter, say=say)
        if not panel and (study := kept.layout(project, reckoning.plan, reckoning.timber)):
            return study
        return lay_study(
            reckoning.plan,
            reckoning.timber,
            project.timber,
            project.wall,
            only=panel,
            mortar_depth=project.plan.section.mortar_depth,
            size_class=SIZE_CLASSES[project.units],
            progress=progress,
            clock=perf_counter,
        )


def _layout_json(project: "Project", study: "LayoutStudy", placed: "PlacedWall") -> object:
    from cordwright.wall.layout_json import layout_json, quantities_json

    shown = layout_json(
        study.panels,
        study.stock,
        study.unused,
        mortar_depth=project.plan.section.mortar_depth,
        seconds=study.seconds,
        shortage=study.shortage,
        widened=study.widened,
        settled=study.settled,
    )
    return {**shown, "quantities": quantities_json(placed)}


def _day_area(text: str) -> float:
    """Read the face to lay in a day, or stop with what is wrong with it."""
    from cordwright.project.quantity import QuantityFault, parse_quantity

    try:
        return parse_quantity(text, "area", "positive")
    except QuantityFault as fault:
        say(f"--day: {fault}")
        stop(MISUSED)
