"""Where along a panel does a thing fit, and what is in its way?

A place is told by the thing's upright axis, measured from the panel's left end seen from inside.
"""

import math
from collections.abc import Iterable
from dataclasses import dataclass
from itertools import pairwise

from cordwright.plan.inputs import Head, Point
from cordwright.plan.openings import Body

TOUCH = 1e-6
"""Things closer than this [m] touch and do not overlap: the last digits of sums of typed sizes are not a fault."""

Span = tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Bay:
    """The face in which things may stand: `width` [m], the wall head from left to right, if it closes on itself.

    `blocks`: axis [m] and edge of the corner blocks that stand in it.
    """

    width: float
    head: tuple[Point, ...]
    closed: bool = False
    blocks: tuple[tuple[float, Body], ...] = ()

    @property
    def slopes(self) -> tuple[tuple[float, float], ...]:
        """Each straight piece of the wall head as its height at the left end [m] and its slope [1]."""
        pieces = pairwise(self.head)
        lines = ((v0, u0, (v1 - v0) / (u1 - u0)) for (u0, v0), (u1, v1) in pieces if u1 > u0)
        return tuple((v0 - slope * u0, slope) for v0, u0, slope in lines)


def head_line(head: Head, height: float, width: float) -> tuple[Point, ...]:
    """Draw the wall head over a panel of `width` [m], `height` [m] the plan's wall height, from left to right."""
    if head.kind == "gable":
        peak = width / 2 if head.peak_from_left is None else head.peak_from_left
        return ((0.0, height), (peak, height + head.rise), (width, height))
    if head.kind == "sloping":
        assert head.left is not None
        assert head.right is not None
        return ((0.0, head.left), (width, head.right))
    return ((0.0, height), (width, height))


def too_high(thing: Body, place: float, bay: Bay) -> float:
    """Give by how much a thing stands above the wall head [m]; negative when it stays below."""
    return max(thing.reach_up(slope) - start - slope * place for start, slope in bay.slopes)


def room(thing: Body, bay: Bay) -> Span | None:
    """Give the places between the panel's ends and under its head, None when there are none."""
    low, high = thing.half, bay.width - thing.half
    for start, slope in bay.slopes:
        over = thing.reach_up(slope) - start
        if slope > 0:
            low = max(low, over / slope)
        elif slope < 0:
            high = min(high, over / slope)
        elif over > TOUCH:
            return None
    return (low, high) if low <= high + TOUCH else None


def reach(one: Body, other: Body) -> float:
    """Give how far apart the axes of two things must stand so that they just touch [m]; 0 when one is above the other.

    Both widths are concave over the height, so their sum has one greatest value: where both are full, or else between.
    """
    low, high = max(one.bottom, other.bottom), min(one.top, other.top)
    if high - low <= TOUCH:
        return 0.0
    if max(low, one.low, other.low) <= min(high, one.high, other.high):
        return one.half + other.half
    for _ in range(80):
        third = (high - low) / 3
        if _widths(one, other, low + third) < _widths(one, other, high - third):
            low += third
        else:
            high -= third
    return _widths(one, other, (low + high) / 2)


def _widths(one: Body, other: Body, height: float) -> float:
    return one.half_width(height) + other.half_width(height)


def free_places(span: Span | None, thing: Body, others: Iterable[tuple[float, Body]]) -> tuple[Span, ...]:
    """Give the places within a span where a thing stands clear of others, each told by its axis and body."""
    if span is None:
        return ()
    taken = sorted((u - r, u + r) for u, r in ((u, reach(thing, other)) for u, other in others) if r > 0)
    free: list[Span] = []
    low, high = span
    for start, end in taken:
        if start >= low - TOUCH:
            free.append((low, min(start, high)))
        low = max(low, end)
        if low > high + TOUCH:
            break
    return tuple(s for s in (*free, (low, high)) if s[0] <= s[1] + TOUCH)


def nearest(places: Iterable[Span], wanted: float) -> tuple[float, Span] | None:
    """Give the free place nearest to the wanted one, with the span it lies in; None when there is none."""
    best = min(((min(max(wanted, a), b), (a, b)) for a, b in places), key=lambda p: abs(p[0] - wanted), default=None)
    return best


def tidy(value: float, low: float, high: float) -> float:
    """Round a length to whole millimetres (or tenths, or thousandths) so that it still lies between two limits [m]."""
    for step in (1e-3, 1e-4, 1e-6):
        for count in (round(value / step), math.ceil(value / step - 1e-6), math.floor(value / step + 1e-6)):
            if low - TOUCH / 2 <= count * step <= high + TOUCH / 2:
                return count * step
    return value


def widest(span: Span, thing: Body, others: Iterable[tuple[float, Body]]) -> float:
    """Give the widest clear stretch beside others at a thing's height, within a span of its edges [m]."""
    beside = [(u, o.half) for u, o in others if reach(thing, o) > 0]
    low, best = span[0], 0.0
    for start, end in sorted((u - half, u + half) for u, half in beside):
        best = max(best, min(start, span[1]) - low)
        low = max(low, end)
    return max(best, span[1] - low)
