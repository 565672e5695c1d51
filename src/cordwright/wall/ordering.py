"""In what order does the mason lay the log ends, on what does each rest, and where does a lift end?"""

import heapq
import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

LIFT_HEIGHT = 0.6
"""Highest lift laid in one go [m] (`lift-height`)."""

COURSE = 0.1
"""Logs whose feet lie within so much height are laid in one run along the wall [m] (`lift-height`)."""

LIFT_MOST = 99
"""Most logs in a lift: marks on the wall carry two figures within a lift (`lift-height`)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """One log in its place [m], with the ids of what holds it (logs, "bed", "post", "frame", "chip") and a note.

    `radius`: how far it reaches below (x, y); `angle`: the way a split's bark faces [rad].
    """

    id: str
    x: float
    y: float
    radius: float
    supports: tuple[str, ...]
    note: str = ""
    angle: float = 0.0

    @property
    def foot(self) -> float:
        """Height of its lowest point [m]."""
        return self.y - self.radius


def lifts_of(logs: Sequence[Standing], bottom: float, top: float) -> dict[str, int]:
    """Cut a panel into level lifts, none with more logs than a lift may have; a log belongs where its centre is.

    Args:
        logs: all logs in their places.
        bottom: height of the bed [m].
        top: height of the wall head [m].
    """
    count = lift_count([log.y for log in logs], bottom, top)
    return {log.id: _lift(log.y, bottom, (top - bottom) / count, count) for log in logs}


def lift_count(centres: Sequence[float], bottom: float, top: float) -> int:
    """Give how many level lifts of one height a panel is laid in.

    Args:
        centres: heights of the middles of all logs [m].
        bottom: height of the bed [m].
        top: height of the wall head [m].
    """
    least = max(1, math.ceil((top - bottom) / LIFT_HEIGHT - 1e-9))
    for count in range(least, least + len(centres) + 1):
        numbers = [_lift(y, bottom, (top - bottom) / count, count) for y in centres]
        if all(numbers.count(n) <= LIFT_MOST for n in set(numbers)):
            break
    return count


def _lift(y: float, bottom: float, height: float, count: int) -> int:
    return min(count, max(1, 1 + int((y - bottom) / height)))


def laying_order(logs: Sequence[Standing], lifts: Mapping[str, int], laid: int = 0) -> dict[str, int]:
    """Number the logs as they are laid: after all their supports, lift by lift, along the wall course by course.

    Within a lift the mason goes to and fro: one run a hand's breadth high from the left, the next from the right.

    Args:
        logs: logs to lay.
        lifts: the lift of each.
        laid: how many are laid already.
    """
    by_id = {log.id: log for log in logs}
    waits = {log.id: {s for s in log.supports if s in by_id} for log in logs}
    bears: dict[str, list[str]] = {log.id: [] for log in logs}
    for log in logs:
        for under in waits[log.id]:
            bears[under].append(log.id)
    ready = [_rank(log, lifts) for log in logs if not waits[log.id]]
    heapq.heapify(ready)
    order: dict[str, int] = {}
    while ready:
        this = heapq.heappop(ready)[-1]
        order[this] = laid + len(order) + 1
        for above in bears[this]:
            waits[above].discard(this)
            if not waits[above]:
                heapq.heappush(ready, _rank(by_id[above], lifts))
    return order


def _rank(log: Standing, lifts: Mapping[str, int]) -> tuple[int, int, float, str]:
    course = int(log.foot // COURSE)
    return lifts[log.id], course, log.x if course % 2 == 0 else -log.x, log.id
