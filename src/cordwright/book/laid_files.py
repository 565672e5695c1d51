"""Which files show a laid wall? One drawing a panel, or one a bay where a panel is long."""

from pathlib import Path

from cordwright.book.assemble import slugs
from cordwright.book.laid_drawing import draw_laid_panel
from cordwright.book.log_ends import kinds_of_wood
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
    """
    kinds = kinds_of_wood(timber.stock.species)
    rings = {
        name: kinds.index(wood)
        for name, wood in zip(timber.stock.id, timber.stock.species, strict=True)
        if wood in kinds
    }
    panels = {panel.name: panel for panel in plan.panels}
    names = dict(zip(panels, slugs(list(panels)), strict=True))
    folder.mkdir(parents=True, exist_ok=True)
    written: list[Path] = []
    for layout in study.panels:
        name = layout.face.name
        for drawing in draw_laid_panel(project, panels[name], layout, rings, f"laid-{names[name]}"):
            path = folder / f"{drawing.name}.svg"
            path.write_text(to_svg(drawing), encoding="utf-8")
            written.append(path)
    return tuple(written)
