"""How is a sleeve or a group of bottle ends named on a laid panel, where no room is left among the logs?

Its mark stands in a row above the head or under the bed, on a thin line to its place that crosses no number.
"""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Final

from cordwright.book.drawing import THIN_PEN, Point, Shape, Text, distance, fitted, line, text_width
from cordwright.book.laid_sheet import Laid
from cordwright.book.log_ends import figure_place
from cordwright.plan.results import Obstacle

MARK_SIZE: Final = 3.7
SHIFTS: Final = (0.0, 2.0, -2.0, 4.0, -4.0, 7.0, -7.0, 10.0, -10.0, 14.0, -14.0)
CLEAR_OF_NUMBERS: Final = 2.4
"""A line to a mark keeps this far from the middle of every number where it can [mm]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Room:
    """The row of marks: how wide the sheet is, and what of the row is taken [mm]."""

    width: float
    taken: tuple[tuple[float, float], ...] = ()


def draw_marks(laid: Laid) -> list[Shape]:
    """The marks of sleeves and groups of bottle ends, outside the panel, each on a thin line to its place."""
    to_paper, frame = laid.frame.to_paper, laid.frame
    numbers = [
        figure_place(p.log, to_paper((p.x, p.y)), to_paper.length(p.log.diameter / 2), p.angle, "00")[0]
        for p in laid.bay.own
    ]
    room = Room(width=frame.width)
    shapes: list[Shape] = []
    head = frame.mark_foot + (MARK_SIZE if laid.bay.marks_below else 0.0) - 0.4
    for words, start in sorted(_named(laid), key=lambda item: item[1]):
        width = text_width(words, MARK_SIZE)
        seat = _seat(start, head, width, numbers, room)
        room = replace(room, taken=(*room.taken, (seat - width / 2 - 1, seat + width / 2 + 1)))
        at = (seat, frame.mark_foot)
        shapes.append(line(start, (seat, head), THIN_PEN, "built-in"))
        shapes.append(Text(text=words, at=at, size=MARK_SIZE, bold=True, halo=True, layer="built-in"))
    return shapes


def _named(laid: Laid) -> list[tuple[str, Point]]:
    """What stands on each mark, and the edge of the sleeve or of the bottle it leads to [mm]."""
    side = -1.0 if laid.bay.marks_below else 1.0
    named: dict[str, tuple[str, Obstacle]] = {}
    for o in laid.bay.panel.obstacles:
        group = next((g for g in laid.project.plan.bottles if o.id.startswith(f"{g.id}.")), None)
        if is_sleeve(o, laid) or group is None:
            named[o.id] = (fitted(o.id, 20, MARK_SIZE), o)
        elif group.id not in named or side * (o.v - named[group.id][1].v) > 0:
            ends = "bottle end" if group.count == 1 else "bottle ends"
            named[group.id] = (f"{fitted(group.id, 20, MARK_SIZE)}: {group.count} {ends}", o)
    to_paper = laid.frame.to_paper
    return [(words, to_paper((o.u, o.v + side * o.diameter / 2))) for words, o in named.values()]


def _seat(start: Point, height: float, width: float, numbers: list[Point], room: Room) -> float:
    """Where along its row a mark stands so that it covers no other and its line crosses no number [mm]."""
    places = [min(max(start[0] + shift, width / 2), room.width - width / 2) for shift in SHIFTS]
    free = [p for p in places if all(p + width / 2 <= low or p - width / 2 >= high for low, high in room.taken)]
    if not free:
        return max([high for _, high in room.taken], default=start[0]) + width / 2
    return max(free, key=lambda p: (min(CLEAR_OF_NUMBERS, _least_way(numbers, start, (p, height))), -abs(p - start[0])))


def _least_way(points: Iterable[Point], start: Point, end: Point) -> float:
    """How near a line comes to the nearest of some points [mm]."""
    length = max(distance(start, end), 1e-9)
    ux, uy = (end[0] - start[0]) / length, (end[1] - start[1]) / length
    ways = []
    for x, y in points:
        t = min(max((x - start[0]) * ux + (y - start[1]) * uy, 0.0), length)
        ways.append(distance((x, y), (start[0] + t * ux, start[1] + t * uy)))
    return min(ways, default=length)


def is_sleeve(obstacle: Obstacle, laid: Laid) -> bool:
    """Whether it is a sleeve and no bottle end."""
    return obstacle.id in {s.id for s in laid.project.plan.sleeves}
