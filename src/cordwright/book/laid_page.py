"""How does a laid wall read at the command line?"""

from collections import Counter
from collections.abc import Iterator

from cordwright.book.formats import show_number, show_value
from cordwright.case import Project
from cordwright.wall.laid_study import LayoutStudy, Note, Shortage
from cordwright.wall.layout import PanelLayout
from cordwright.wall.narrow import layout_notes

CHIPS_NAMED = 6
"""So many logs on a chip are named on the page; the drawing marks them all."""


def laid_lines(project: Project, study: LayoutStudy) -> Iterator[str]:
    """Give the joint the stock asks for, a line a panel, what is left, what to know, and what is missing.

    Args:
        project: the owner's case, for units and language.
        study: the laid panels.
    """
    yield f"{project.name}  (not reviewed by an engineer)"
    yield _joint(project, study)
    for layout in study.panels:
        yield from _panel(project, layout)
        yield from (f"      {note}" for note in layout_notes(layout, project.wall.joints))
    yield f"{len(study.unused)} log ends stand in no panel: culls and spares kept back, and what was left over"
    if study.notes:
        yield "\nto know"
    for note in study.notes:
        yield f"  {_words(project, note)}"
    if study.shortage is not None:
        yield from _shortage(project, study.shortage)


def _length(project: Project, value: float) -> str:
    return show_value(value, "m", project.units, project.locale)


def _of(project: Project, value: float, unit: str) -> str:
    return show_value(value, unit, project.units, project.locale)


def _words(project: Project, note: Note) -> str:
    return "".join(piece if isinstance(piece, str) else _length(project, piece) for piece in note.pieces)


def _joint(project: Project, study: LayoutStudy) -> str:
    joints = project.wall.joints
    joint, wanted, widest = (_length(project, v) for v in (study.joint, joints.nominal, joints.largest))
    if study.shortage is not None or any(p.closed < 1 for p in study.panels):
        line = f"joint {joint}, the largest stated: even so the stock does not close the wall"
    elif study.joint <= joints.nominal + 1e-9:
        return f"joint {joint}, as stated: the stock closes the wall with it"
    else:
        line = f"joint {joint} instead of {wanted}: so wide for the stock to close the wall (largest {widest})"
    if study.shortage is not None or study.widened is None or study.widened.extra_mortar is None:
        return line
    return f"{line}; about {_of(project, study.widened.extra_mortar, 'm3')} more mortar in place than at {wanted}"


def _splits(layout: PanelLayout) -> str:
    """How many of the log ends are halves and quarters; nothing where all are rounds."""
    shapes = Counter(p.log.shape for p in layout.placements)
    counts = ((shapes["half"], "halves"), (shapes["quarter"], "quarters"))
    found = [f"{n} {word}" for n, word in counts if n]
    return f" ({', '.join(found)})" if found else ""


def _panel(project: Project, layout: PanelLayout) -> Iterator[str]:
    report, count = layout.report, len(layout.placements)
    words = [
        f"{count} log ends{_splits(layout)}",
        f"wood {show_number(report.wood_fraction * 100, 1, project.locale)} %",
        f"joints {_length(project, report.joint_min)} to {_length(project, report.joint_max)}",
        f"{report.unsupported} on a chip",
        f"{sum(f.stones for f in layout.fillers)} stones",
    ]
    if layout.closed < 1:
        words.append(f"only {show_number(layout.closed * 100, 0, project.locale)} % of its area laid")
    yield f"  {layout.face.name:<12} " + ", ".join(words)
    chips = [p for p in layout.placements if "chip" in p.supports]
    if chips:
        named = "; ".join(f"{p.log.id} (number {p.order}, lift {p.lift})" for p in chips[:CHIPS_NAMED])
        more = f"; {len(chips) - CHIPS_NAMED} more" if len(chips) > CHIPS_NAMED else ""
        yield f"  {'':<12}   on a chip: {named}{more}"


def _shortage(project: Project, short: Shortage) -> Iterator[str]:
    """What is missing, then the choices with their numbers."""
    yield (
        f"\nmissing: {_of(project, short.wall_area, 'm2')} of wall, that is {_of(project, short.wood_area, 'm2')} of"
        f" log-end face or {short.logs} logs at a joint of {_length(project, short.joint)}"
    )
    yield "  in the proportion of your stock:"
    for each in short.classes:
        sizes = f"{_length(project, each.low)} to {_length(project, each.high)}"
        yield f"    {each.count:>5} of {sizes}"
    yield "what can close it; logs are never scaled"
    yield f"  more logs: {_more_logs(project, short)}"
    yield f"  a larger joint: {_larger_joint(project, short)}"
    yield f"  a lower wall: {_lower_wall(project, short)}"
    yield f"  bottle ends or stones in place of the missing logs: {_of(project, short.wood_area, 'm2')} of their faces"
    yield (
        "  a thinner wall: shorter log ends give more of them; what that does to the heat, `cordwright compare` says"
        " with another wall.log_end_length"
    )


def _more_logs(project: Project, short: Shortage) -> str:
    nominal = _length(project, project.wall.joints.nominal)
    words = f"{short.logs} (for the nominal joint of {nominal}: {short.logs_nominal})"
    if short.stems is not None:
        words += f"; {short.stems} stems like yours give the {short.logs}, culls and spares allowed for"
    if short.stacked is not None:
        stacked = _of(project, short.stacked, "m3")
        words += f"; {stacked} stacked like yours give the {short.logs}, culls and spares allowed for"
    return words


def _larger_joint(project: Project, short: Shortage) -> str:
    if short.closing_joint is None:
        return "none up to 150 mm would close it"
    words = f"{_length(project, short.closing_joint)} would close it"
    if short.closing_mortar is None:
        return words
    more, joint = _of(project, short.closing_mortar, "m3"), _length(project, short.joint)
    return f"{words}, with about {more} more mortar than {joint}"


def _lower_wall(project: Project, short: Shortage) -> str:
    words = f"the stock reaches {_length(project, short.height)} over the bed, on all panels alike"
    if short.height < short.openings_top:
        words += f"; the openings stand up to {_length(project, short.openings_top)}"
    return words
