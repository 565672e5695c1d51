"""What does the wall lose, where is it cold, and what drives it?"""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from cordwright.cli.app import (
    MISUSED,
    AsJson,
    File,
    NoStudies,
    Watch,
    app,
    dump,
    problems_json,
    put,
    read_or_stop,
    reckon_whole,
    say,
    stop,
)

if TYPE_CHECKING:
    from cordwright.case import Project
    from cordwright.heat import Drivers, HeatStudy, LaidWall
    from cordwright.reckon import Reckoning


@app.command()
def heat(  # noqa: PLR0917 - an option each, named by the owner
    file: File,
    panel: Annotated[str, typer.Option(help="solve this panel only")] = "",
    grid: Annotated[str, typer.Option(help='breadth of a cell along the wall, 5 mm to 50 mm: "10 mm"')] = "10 mm",
    output: Annotated[Path | None, typer.Option("-o", "--output", help="folder for drawings (SVG)")] = None,
    no_studies: NoStudies = False,
    as_json: AsJson = False,
) -> None:
    """What does the wall lose, where is it cold, and what drives it?"""
    reading, project = read_or_stop(file, as_json=as_json)
    pitch = _grid(grid)
    reckoning = reckon_whole(file, reading, project, as_json=as_json, no_studies=no_studies)
    names = [p.name for p in reckoning.plan.panels]
    if panel and panel not in names:
        say(f"there is no panel {panel!r}; the panels are {', '.join(names)}")
        stop(MISUSED)
    wall = _laid(project, reckoning)
    study = None if wall is None else _solved(file, wall, pitch, panel)
    if output is not None:
        _draw(project, wall, study, output)
    if as_json:
        from cordwright.heat.heat_json import panels_json
        from cordwright.reckon import check_json, figure_json

        found = reckoning.wall_heat
        figures = {f.key: figure_json(f) for f in found.figures}
        content = {"figures": figures, "checks": [check_json(c) for c in found.checks], "panels": panels_json(study)}
        dump({"schema": 1, **content, "problems": problems_json(reading.problems)})
        return
    from cordwright.book.heat_page import heat_lines

    for text in heat_lines(project, reckoning, _drivers(project, reckoning), study):
        put(text)


def _grid(text: str) -> float:
    """Read the grid, or stop with what is wrong with it."""
    from cordwright.project.quantity import QuantityFault, parse_quantity

    try:
        pitch = parse_quantity(text, "length", "positive")
    except QuantityFault as fault:
        say(f"--grid: {fault}")
        stop(MISUSED)
    if not 0.0049 <= pitch <= 0.0501:
        say(f"--grid: a grid of {pitch * 1000:g} mm tells nothing of a wall; write 5 mm to 50 mm")
        stop(MISUSED)
    return pitch


def _laid(project: "Project", reckoning: "Reckoning") -> "LaidWall | None":
    """The wall as laid, None where it is not laid or its materials are not known."""
    from cordwright.reckon import laid_wall

    return laid_wall(project, reckoning)


def _solved(file: Path, wall: "LaidWall", pitch: float, panel: str) -> "HeatStudy | None":
    """Say what it will take, then solve the panels or read them as kept."""
    from time import perf_counter

    from cordwright.heat.solve import estimate
    from cordwright.project.studies import KeptStudies

    bodies = [estimate(wall.body(p, pitch), pitch) for p in wall.laid if panel in ("", p.face.name)]
    if not bodies:
        return None
    cells, most = sum(e.cells for e in bodies) / 1e6, max(e.memory for e in bodies) / 2**20
    seconds = sum(e.seconds for e in bodies)
    say(f"{len(bodies)} panels, {cells:.1f} million cells: about {seconds:.0f} s and {most:.0f} MiB")
    with Watch() as progress:
        kept = KeptStudies(file, progress=progress.part(1.0), clock=perf_counter, say=say)
        return kept.panels_heat(wall, pitch, panel)


def _drivers(project: "Project", reckoning: "Reckoning") -> "Drivers | None":
    from cordwright.heat.drivers import drivers

    found = reckoning.wall_heat
    if found.materials is None or found.section is None:
        return None
    return drivers(project.plan.section, found.wood_fraction, found.materials, found.diameters)


def _draw(project: "Project", wall: "LaidWall | None", study: "HeatStudy | None", output: Path) -> None:
    from cordwright.book.heat_files import write_heat_drawings

    if wall is None or study is None:
        say("no panel is solved, so that there is nothing to draw")
        stop(MISUSED)
    for path in write_heat_drawings(project, wall, study, output):
        say(str(path))
