"""Where is a long panel cut in bays, so that each can be drawn large enough to read?

A bay is the panel between two upright cuts that pass through no opening, sleeve or bottle end.
"""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from itertools import pairwise
from typing import Final

from cordwright.book.drawing import Point
from cordwright.plan.corner_blocks import clipped, within
from cordwright.plan.results import Obstacle, Panel, PlacedOpening

READABLE: Final = {"metric": 30.0, "imperial": 32.0}
"""The smallest scale (largest denominator) at which a panel is still pinned to the wall in one piece."""

MOST_BAYS: Final = 4

CLEAR: Final = 0.3
"""A cut keeps this far from what stands in the panel where there is room [m]."""


def bays(panel: Panel, count: int) -> tuple[tuple[float, float], ...]:
    """Cut a panel in about equal bays, each as its left and right end along the panel [m].

    A cut moves to the nearest place that nothing crosses; where there is none, two bays stay one.
    """
    clear = _clear_stretches(panel)
    wished = [panel.centre_length * k / count for k in range(1, count)]
    cuts = sorted({cut for cut in (_nearest(wish, clear) for wish in wished) if cut is not None})
    return tuple(pairwise((0.0, *cuts, panel.centre_length)))


def _clear_stretches(panel: Panel) -> list[tuple[float, float]]:
    """Stretches of the panel through which an upright cut meets nothing, left to right [m]."""
    things = [(p.opening.from_left, p.opening.from_left + p.opening.width) for p in panel.openings]
    things += [(o.u - o.diameter / 2, o.u + o.diameter / 2) for o in panel.obstacles]
    clear, reached = [], 0.0
    for left, right in sorted(things):
        if left > reached:
            clear.append((reached, left))
        reached = max(reached, right)
    return [*clear, (reached, panel.centre_length)]


def _nearest(wish: float, clear: Sequence[tuple[float, float]]) -> float | None:
    """The place nearest to a wish that lies within a clear stretch, well away from its ends."""
    inside = []
    for left, right in clear:
        away = min(CLEAR, (right - left) / 2)
        inside.append(min(max(wish, left + away), right - away))
    within = [u for u in inside if 0.0 < u < clear[-1][1]]
    return min(within, key=lambda u: abs(u - wish)) if within else None


def bay_of(panel: Panel, ends: tuple[float, float]) -> Panel:
    """Give one bay of a panel as a panel of its own, its frame beginning at its own left end."""
    left, right = ends
    return replace(
        panel,
        centre_length=right - left,
        outline=tuple((u - left, v) for u, v in _between(panel, left, right)),
        blocks=within(panel.blocks, left, right),
        openings=tuple(_moved(p, left) for p in panel.openings if left <= p.opening.from_left < right),
        obstacles=tuple(_shifted(o, left) for o in panel.obstacles if left <= o.u < right),
    )


def _moved(placed: PlacedOpening, left: float) -> PlacedOpening:
    opening = replace(placed.opening, from_left=placed.opening.from_left - left)
    return replace(placed, opening=opening, outline=tuple((u - left, v) for u, v in placed.outline))


def _shifted(obstacle: Obstacle, left: float) -> Obstacle:
    return replace(obstacle, u=obstacle.u - left)


def _between(panel: Panel, left: float, right: float) -> tuple[Point, ...]:
    return clipped(panel.outline, left, right) if panel.blocks else _clipped(panel.outline, left, right)


def _clipped(outline: Iterable[Point], left: float, right: float) -> tuple[Point, ...]:
    """The part of a panel's outline between two upright cuts: its bed, then its head from right to left."""
    head = [p for p in outline if p[1] > 0]
    head = sorted(head)
    edge = [(u, _height(head, u)) for u in (right, left)]
    between = [p for p in reversed(head) if left < p[0] < right]
    return ((left, 0.0), (right, 0.0), edge[0], *between, edge[1])


def _height(head: Sequence[Point], u: float) -> float:
    """Height of the wall head over a place of the panel [m]."""
    for (u0, v0), (u1, v1) in pairwise(head):
        if u0 <= u <= u1 and u1 > u0:
            return v0 + (v1 - v0) * (u - u0) / (u1 - u0)
    return head[-1][1] if u > head[0][0] else head[0][1]
