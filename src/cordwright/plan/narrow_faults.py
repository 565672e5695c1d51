"""Which piers are narrower than a log end is long, and which lintels or bottles find no room?"""

from collections.abc import Iterable, Iterator, Sequence
from itertools import islice

from cordwright.base import Problem
from cordwright.plan.inputs import Opening, PlanInput
from cordwright.plan.opening_faults import Thing
from cordwright.plan.panels import bottle_ends
from cordwright.plan.places import TOUCH, Bay
from cordwright.plan.words import mm


def pier_warnings(plan: PlanInput, panel: str, bay: Bay, things: Sequence[Thing]) -> Iterator[Problem]:
    """Find strips of wall beside openings that are narrower than one log end is long.

    A strip is measured between the holes, the slack around the frames taken off; no strip at all is no pier.
    """
    holes = sorted((t for t in things if t.kind == "opening"), key=lambda t: t.left)
    least, slack = plan.section.log_end_length, plan.opening_slack or 0.0
    for n, hole in enumerate(holes):
        if not bay.closed:
            yield from _end_pier(hole, holes, panel, (hole.left - slack, "start"), least)
        yield from _pier(hole, _right_neighbour(hole, islice(holes, n + 1, None), least + 2 * slack), least, slack)
        if not bay.closed:
            yield from _end_pier(hole, holes, panel, (bay.width - hole.right - slack, "end"), least)
    if bay.closed and len(holes) > 1:
        last = max(holes, key=lambda t: t.right)
        yield from _pier(last, (holes[0], holes[0].left + bay.width - last.right), least, slack)


def _same_height(one: Thing, other: Thing) -> bool:
    return min(one.edge.top, other.edge.top) - max(one.edge.bottom, other.edge.bottom) > TOUCH


def _right_neighbour(hole: Thing, after: Iterable[Thing], within: float) -> tuple[Thing, float] | None:
    for other in after:
        gap = other.left - hole.right
        if gap > within:
            return None
        if gap > -TOUCH and _same_height(hole, other):
            return other, gap
    return None


def _pier(hole: Thing, neighbour: tuple[Thing, float] | None, least: float, slack: float) -> Iterator[Problem]:
    if neighbour is None:
        return
    other, gap = neighbour
    pier = gap - 2 * slack
    if TOUCH < pier < least - TOUCH:
        yield Problem(
            field=f"{max(hole, other, key=lambda t: t.order).key}.from_left",
            message=f"the pier between {hole.id} and {other.id} is {mm(pier)} mm wide, "
            f"less than one log end ({mm(least)} mm)",
            hint=f"leave at least {mm(least)} mm, or let one frame or post close it",
            severity="warning",
        )


def _end_pier(
    hole: Thing, holes: Sequence[Thing], panel: str, end: tuple[float, str], least: float
) -> Iterator[Problem]:
    pier, name = end
    if not TOUCH < pier < least - TOUCH:
        return
    nearer = (h for h in holes if h is not hole and _same_height(h, hole))
    if any((h.left < hole.left) if name == "start" else (h.right > hole.right) for h in nearer):
        return
    yield Problem(
        field=f"{hole.key}.from_left",
        message=f"the pier between {hole.id} and the {name} of panel {panel} is {mm(pier)} mm wide, "
        f"less than one log end ({mm(least)} mm)",
        hint=f"leave at least {mm(least)} mm, or set the frame against the post",
        severity="warning",
    )


def lintel_warnings(plan: PlanInput, panel: str, bay: Bay) -> Iterator[Problem]:
    """Find lintels that run past their panel or up through the wall head."""
    for n, opening in enumerate(plan.openings):
        if opening.panel == panel:
            yield from _bearing_warning(f"openings[{n}]", opening, bay)
            yield from _depth_warning(f"openings[{n}]", opening, bay)


def _bearing_warning(key: str, opening: Opening, bay: Bay) -> Iterator[Problem]:
    bearing = opening.lintel_bearing
    if bearing is None:
        return
    room = {"start": opening.from_left, "end": bay.width - opening.from_left - opening.width}
    for end, clear in room.items():
        if -TOUCH <= clear < bearing - TOUCH:
            yield Problem(
                field=f"{key}.lintel_bearing",
                message=f"the lintel of {opening.id} bears {mm(bearing)} mm with {mm(clear)} mm to the panel's {end}",
                hint="bear it on the post, or move the opening",
                severity="warning",
            )


def _depth_warning(key: str, opening: Opening, bay: Bay) -> Iterator[Problem]:
    depth = opening.lintel_depth
    if depth is None:
        return
    past = opening.lintel_bearing or 0.0
    left, right = opening.from_left - past, opening.from_left + opening.width + past
    top = opening.sill + opening.height
    clear = min(start + slope * u for start, slope in bay.slopes for u in (left, right)) - top
    if 0 <= clear < depth - TOUCH:
        yield Problem(
            field=f"{key}.lintel_depth",
            message=f"the lintel of {opening.id} is {mm(depth)} mm deep but has {mm(clear)} mm to the wall head",
            hint="let the beam above carry the load, or lower the opening",
            severity="warning",
        )


def bottle_faults(plan: PlanInput, panel: str, bay: Bay) -> Iterator[Problem]:
    """Find bottle groups that do not all find room in their band, and tell how many do."""
    for n, placed in bottle_ends(plan, bay, panel):
        group = plan.bottles[n]
        if len(placed) < group.count:
            yield Problem(
                field=f"bottles[{n}].count",
                message=f"{len(placed)} of {group.count} bottle ends of {group.id} fit in their band, "
                "half a bottle clear of each other and of all else",
                hint=f"at most {len(placed)}, a higher band, or another panel",
            )
