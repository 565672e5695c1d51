"""Which panels, log ends and joints can nobody lay, and what would cure it?"""

import math
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence

from cordwright.base import InputError
from cordwright.plan.inputs import Point
from cordwright.wall import dealing
from cordwright.wall import region as regions
from cordwright.wall.layout import Face, Log

LEAST_HOLLOW = 0.05
"""A wall whose hollow face is less than this of its centre line turns on the spot."""

ROOM_TOLERANCE = 1e-4
"""The widest circle that finds room is known this well [m]."""


def refuse(face: Face, stock: Sequence[Log], fixed: Iterable[Log], joints: tuple[float, float, float, float]) -> None:
    """Refuse what no wall can have.

    Args:
        face: the panel.
        stock: logs that may be used.
        fixed: logs laid or locked already.
        joints: least, nominal, largest and edge joint [m].

    Raises:
        InputError: the first thing that cannot be, with its number and its cure.
    """
    for fault in (*_face_faults(face), *_log_faults(stock, fixed), *_joint_faults(*joints)):
        raise InputError(f"{face.name}: {fault}")


def _mm(length: float) -> str:
    return f"{round(length * 1000, 1):g} mm"


def _face_faults(face: Face) -> Iterator[str]:
    yield from _outline_fault("the panel's outline", face.outline)
    for hole in face.openings:
        yield from _outline_fault(f"opening {hole.id}", hole.outline)
    for disc in face.obstacles:
        if not (math.isfinite(disc.x) and math.isfinite(disc.y) and 0 < disc.diameter < math.inf):
            yield f"{disc.id} has a diameter of {_mm(disc.diameter)}; state its size and its place"
    if not (LEAST_HOLLOW <= face.hollow <= 1 <= face.wide < math.inf):
        share = f"{face.hollow:.0%}".replace("%", " %")
        yield f"the hollow face is {share} of the centre line; a larger radius or a thinner wall"


def _outline_fault(what: str, outline: Sequence[Point]) -> Iterator[str]:
    from shapely import Polygon

    if not all(math.isfinite(v) for point in outline for v in point):
        yield f"{what} has a corner without a place; state all its sizes"
    elif len(outline) < 3 or Polygon(outline).area <= 0:
        yield f"{what} has no area; state its width and height, more than 0 mm"
    elif not Polygon(outline).is_valid:
        yield f"{what} crosses or touches itself; list its corners in order around it, each once"


def _log_faults(stock: Sequence[Log], fixed: Iterable[Log]) -> Iterator[str]:
    for name, count in Counter(log.id for log in stock).items():
        if count > 1:
            yield f"log {name} stands {count} times in the stock; give every log its own id"
    for log in (*stock, *fixed):
        if not 0 < log.diameter < math.inf:
            yield f"log {log.id} has a diameter of {_mm(log.diameter)}; measure it, more than 0 mm"


def _joint_faults(least: float, nominal: float, largest: float, edge: float) -> Iterator[str]:
    if not 0 < least <= nominal <= largest < math.inf:
        told = ", ".join(_mm(width) for width in (least, nominal, largest))
        yield f"least, nominal and largest joint are {told}; they must be more than 0 mm and not fall in this order"
    if not 0 <= edge < math.inf:
        yield f"the joint at edges is {_mm(edge)}; it must be 0 mm or more"


def refuse_misfits(face: Face, stock: Sequence[Log], joint: float, edge: float) -> None:
    """Refuse a stock of which no log finds room in the panel; an empty stock lays nothing and is no fault.

    Args:
        face: the panel where it is laid.
        stock: logs that may be used.
        joint: clear joint between logs [m].
        edge: joint at edges [m].

    Raises:
        InputError: even the smallest log is too large.
    """
    if not stock:
        return
    offset = edge - joint / 2
    room = max((2 * dealing.widest(part, offset) - joint for part in regions.regions_of(face)), default=0.0)
    least = min(stock, key=lambda log: (log.diameter, log.id))
    if least.diameter > room + ROOM_TOLERANCE:
        raise InputError(
            f"{face.name}: the panel is too small for any log of the stock: the smallest, {least.id}, is"
            f" {_mm(least.diameter)}, and {_mm(max(0.0, room))} find room between the joints; smaller logs, splits, or"
            " a wider panel"
        )
