"""Which files show the warmth of a laid wall? Two drawings a panel: lines of one temperature, and heat as dots."""

from pathlib import Path

from cordwright.base import CordwrightError
from cordwright.book.assemble import slugs
from cordwright.book.heat_drawing import heat_drawings
from cordwright.book.svg import to_svg
from cordwright.case import Project
from cordwright.heat import HeatStudy, LaidWall


def write_heat_drawings(project: Project, wall: LaidWall, study: HeatStudy, folder: Path) -> tuple[Path, ...]:
    """Write the drawings into a folder, made when it is not there, and give the paths.

    Raises:
        CordwrightError: the folder cannot be written.
    """
    names = dict(zip((p.name for p in wall.built.panels), slugs(p.name for p in wall.built.panels), strict=True))
    try:
        folder.mkdir(parents=True, exist_ok=True)
        made = []
        for drawing in heat_drawings(project, wall, study, names):
            path = folder / f"{drawing.name}.svg"
            path.write_text(to_svg(drawing), encoding="utf-8")
            made.append(path)
    except OSError as fault:
        raise CordwrightError(f"the drawings could not be written to {folder}: {fault.strerror or fault}") from fault
    return tuple(made)
