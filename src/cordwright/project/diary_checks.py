"""Does a record name panels and log ends that this building has? Told, never guessed."""

import math
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from cordwright.base import Problem, Records
from cordwright.base.records import Laid, Moisture, Said
from cordwright.case import Project
from cordwright.plan import reckon_plan
from cordwright.project.diary_lines import Draft, read_said
from cordwright.project.faults import nearest, shown
from cordwright.reckon import reckon

ROOM = 1.02
"""So much over a panel's area is a matter of measuring."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Names:
    """What the building knows by name: net area of each panel [m2], marks of the log ends of the stock."""

    panels: Mapping[str, float]
    marks: frozenset[str]


def names_of(project: Project, *, marks: bool) -> Names:
    """The panels of a building, and the marks of its log ends where they are asked for.

    Args:
        project: the owner's case.
        marks: whether a record names log ends.
    """
    if not marks:
        plan = reckon_plan(project.plan)
        return Names(panels={p.name: p.net_area for p in plan.panels}, marks=frozenset())
    reckoning = reckon(project)
    panels = {p.name: p.net_area for p in reckoning.plan.panels}
    return Names(panels=panels, marks=frozenset(reckoning.timber.stock.id))


def name_faults(said: Said, project: Project, where: str) -> Iterator[Problem]:
    """Names in a record that the building does not know.

    Args:
        said: the record.
        project: the owner's case.
        where: what messages name as the place.
    """
    panel, marks = getattr(said, "panel", ""), marks_in(said)
    if not panel and not marks:
        return
    names = names_of(project, marks=bool(marks))
    if panel and panel not in names.panels:
        message = f"there is no panel {shown(panel)}"
        yield Problem(field="panel", message=message, hint=nearest(panel, names.panels), where=where)
    strange = [mark for mark in marks if not _known(mark, names.marks)]
    for mark in strange[:5]:
        yield Problem(
            field="logs" if isinstance(said, Laid) else "log",
            message=f"there is no log end {shown(mark)} in the stock",
            hint=_nearest_mark(mark, names.marks),
            where=where,
        )


def marks_in(said: Said) -> tuple[str, ...]:
    """The log ends that a record names."""
    if isinstance(said, Laid):
        return said.logs
    return (said.log,) if isinstance(said, Moisture) and said.log else ()


def _known(mark: str, marks: frozenset[str]) -> bool:
    """Whether a mark is of the stock, or a piece cleft from one of it (`S1-3a`)."""
    return mark in marks or (mark[-1:].isalpha() and mark[:-1] in marks)


def _nearest_mark(mark: str, marks: frozenset[str]) -> str:
    from difflib import get_close_matches

    near = get_close_matches(mark, sorted(marks), n=3)
    return f"the nearest are {', '.join(near)}" if near else "read the mark on the label, or leave it out"


def room_fault(records: Records, panel: str, area: float, where: str) -> Problem | None:
    """A panel on which more is laid than it has.

    Args:
        records: those that stand.
        panel: its name.
        area: its net area [m2].
        where: what messages name as the place.
    """
    laid = math.fsum(said.area or 0.0 for _, said in records.of(Laid) if said.panel == panel)
    if laid <= area * ROOM:
        return None
    message = f"{laid:.2f} m2 are now laid on panel {panel}, which has {area:.2f} m2"
    hint = "kept as you said it; correct or withdraw what is not so"
    return Problem(field="area", message=message, hint=hint, severity="warning", where=where)


def taken_name_faults(drafts: Iterable[Draft], project: Project, where: str) -> Iterator[Problem]:
    """Names in lines just taken home that the building does not know, each once.

    Args:
        drafts: the lines.
        project: the owner's case.
        where: what messages name as the place.
    """
    said = [read_said(each.kind, each.said) for each in drafts if each.act != "withdrawal"]
    panels = {panel for each in said if (panel := getattr(each, "panel", ""))}
    marks = {mark for each in said for mark in marks_in(each)}
    for panel in sorted(panels):
        yield from name_faults(Laid(area=0.0, panel=panel), project, where)
    if marks:
        yield from name_faults(Laid(logs=tuple(sorted(marks))), project, where)
