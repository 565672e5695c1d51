"""How warm and how dry is the house, what stove and how much wood?"""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from cordwright.cli.app import AsJson, File, NoStudies, app, dump, problems_json, put, read_or_stop, reckon_whole, say

if TYPE_CHECKING:
    from cordwright.case import Project
    from cordwright.project import Reading
    from cordwright.reckon import Reckoning


@app.command()
def warm(
    file: File,
    output: Annotated[Path | None, typer.Option("-o", "--output", help="folder for the charts (SVG)")] = None,
    no_studies: NoStudies = False,
    as_json: AsJson = False,
) -> None:
    """How big a stove, how much wood, how cold at seven in the morning, and where is it damp?"""
    reading, project = read_or_stop(file, as_json=as_json)
    reckoning = reckon_whole(file, reading, project, as_json=as_json, no_studies=no_studies)
    if output is not None:
        _draw(project, reckoning, output)
    if as_json:
        _print_json(reckoning, reading)
        return
    from cordwright.book.house_page import house_lines

    for text in house_lines(project, reckoning):
        put(text)


def _draw(project: "Project", reckoning: "Reckoning", output: Path) -> None:
    from cordwright.book.house_page import write_house_drawings

    for path in write_house_drawings(project, reckoning, output):
        say(str(path))


def _print_json(reckoning: "Reckoning", reading: "Reading") -> None:
    from cordwright.reckon import check_json, figure_json

    found = reckoning.warmth
    losses = [
        {"name": p.name, "kind": p.kind, "amount": p.amount, "unit": p.unit, "low": p.loss[0], "loss": p.loss[1],
         "high": p.loss[2]}
        for p in found.house.losses
    ]  # fmt: skip
    panels = [{"panel": p.panel, "score": p.score, "why": list(p.why), "cure": p.cure} for p in found.damp.panels]
    dump(
        {
            "schema": 1,
            "figures": {f.key: figure_json(f) for f in found.figures},
            "checks": [check_json(c) for c in found.checks],
            "losses": losses,
            "panels": panels,
            "problems": problems_json(reading.problems),
        }
    )
