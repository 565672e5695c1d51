"""How does a laid wall read at the command line?"""

from collections.abc import Iterator

from cordwright.book.formats import show_number, show_value
from cordwright.case import Project
from cordwright.wall.laid_study import LayoutStudy
from cordwright.wall.layout import PanelLayout


def laid_lines(project: Project, study: LayoutStudy) -> Iterator[str]:
    """Give the joint the stock asks for, then a line a panel, then what is left or missing.

    Args:
        project: the owner's case, for units and language.
        study: the laid panels.
    """
    units, locale = project.units, project.locale
    nominal, largest = project.wall.joints.nominal, project.wall.joints.largest
    yield f"{project.name}  (not reviewed by an engineer)"
    joint, wanted, widest = (show_value(v, "m", units, locale) for v in (study.joint, nominal, largest))
    if any(p.closed < 1 for p in study.panels):
        yield f"joint {joint}, the largest stated: even so the stock does not close the wall"
    elif study.joint <= nominal + 1e-9:
        yield f"joint {joint}, as stated: the stock closes the wall with it"
    else:
        yield f"joint {joint} instead of {wanted}: so wide for the stock to close the wall (largest {widest})"
    for layout in study.panels:
        yield _panel(project, layout)
    yield f"{len(study.unused)} log ends stand in no panel: culls and spares kept back, and what was left over"
    if any(p.closed < 1 for p in study.panels):
        yield "what can close it: more logs, a larger joint, a shorter wall, stones or bottle ends; never scaled logs"


def _panel(project: Project, layout: PanelLayout) -> str:
    report, count = layout.report, len(layout.placements)
    words = [
        f"{count} log ends",
        f"wood {show_number(report.wood_fraction * 100, 1, project.locale)} %",
        f"{report.unsupported} on a chip",
        f"{len(layout.fillers)} stones",
    ]
    if layout.closed < 1:
        words.append(f"only {show_number(layout.closed * 100, 0, project.locale)} % of its area laid")
    return f"  {layout.face.name:<12} " + ", ".join(words)
