"""Which files show a laid wall? One drawing a panel, or one a bay where a panel is long."""

from collections.abc import Sequence
from pathlib import Path

from cordwright.base import CordwrightError
from cordwright.book.assemble import slugs
from cordwright.book.drawing import Drawing
from cordwright.book.laid_drawing import draw_laid_panel
from cordwright.book.log_ends import kinds_of_wood
from cordwright.book.moving import making, move_in
from cordwright.book.svg import to_svg
from cordwright.case import Project
from cordwright.plan.results import Plan
from cordwright.timber.results import Timber
from cordwright.wall.laid_study import LayoutStudy


def write_laid_drawings(
    project: Project, plan: Plan, timber: Timber, study: LayoutStudy, folder: Path
) -> tuple[Path, ...]:
    """Write a drawing of every laid panel into a folder, made when it is not there, and give the paths.

    Args:
        project: the owner's case, for units and language.
        plan: the plan worked out.
        timber: the wood worked out, whose kinds the rings tell.
        study: the laid panels.
        folder: where the drawings go.

    Raises:
        CordwrightError: the folder cannot be written; it is then as it was.
    """
    kinds = kinds_of_wood(timber.stock.species)
    rings = {
        name: kinds.index(wood)
        for name, wood in zip(timber.stock.id, timber.stock.species, strict=True)
        if wood in kinds
    }
    panels = {panel.name: panel for panel in plan.panels}
    names = dict(zip(panels, slugs(list(panels)), strict=True))
    drawings = [
        drawing
        for layout in study.panels
        for drawing in draw_laid_panel(
            project, panels[layout.face.name], layout, rings, f"laid-{names[layout.face.name]}"
        )
    ]
    try:
        return _write(drawings, folder)
    except OSError as fault:
        raise CordwrightError(f"the drawings could not be written to {folder}: {fault.strerror or fault}") from fault


def _write(drawings: Sequence[Drawing], folder: Path) -> tuple[Path, ...]:
    """All together or not at all."""
    with making(folder) as beside:
        made = [beside / f"{drawing.name}.svg" for drawing in drawings]
        for path, drawing in zip(made, drawings, strict=True):
            path.write_text(to_svg(drawing), encoding="utf-8")
        move_in(made, folder, beside)
    return tuple(folder / path.name for path in made)
