"""Where do the roof's slopes lie? Every slope rises at one pitch from its eave until it meets its neighbours."""

import math
from collections.abc import Iterator, Sequence

from cordwright.plan.inputs import Point, Roof
from cordwright.plan.results import Plan

Corner = tuple[float, float, float]

ROUND_SIDES = 40
"""A round eave is shown with about so many slopes."""


def roof_faces(roof: Roof, plan: Plan, head: float) -> Iterator[list[Corner]]:
    """Give each slope as its corners in order [m]; none over re-entrant eaves, where slopes are not worked out.

    The slopes lie on the ring beam at the wall's outer face and go down to the eaves.

    Args:
        roof: form, pitch and overhang as stated.
        plan: the plan worked out.
        head: height of the top of the ring beam [m].

    Sources: closed form (over convex eaves a hip roof is as high as the nearest eave is far, times the slope).
    """
    eaves = _thinned(plan.eaves)
    if not _convex(eaves):
        return
    slopes = [*_slopes(roof, eaves)]
    drop = min(_away(p, s) for p in plan.outer_face for s in slopes) * math.tan(roof.pitch)
    for slope in slopes:
        part = list(eaves)
        for other in slopes:
            if other is not slope:
                part = _nearer(part, slope, other)
        if len(part) > 2:
            yield [(x, y, head - drop + _away((x, y), slope) * math.tan(roof.pitch)) for x, y in part]


Slope = tuple[Point, Point]
"""A point on an eave and the level direction in which its slope rises."""


def _slopes(roof: Roof, eaves: Sequence[Point]) -> Iterator[Slope]:
    if roof.form in ("gable", "shed") and roof.ridge is None:
        return
    if roof.form == "shed":
        yield _lowest(eaves, roof.ridge or 0.0)
    elif roof.form == "gable":
        across = (roof.ridge or 0.0) + math.pi / 2
        yield _lowest(eaves, across)
        yield _lowest(eaves, across + math.pi)
    else:
        for (ax, ay), (bx, by) in zip(eaves, [*eaves[1:], eaves[0]], strict=True):
            length = math.hypot(bx - ax, by - ay)
            yield (ax, ay), (-(by - ay) / length, (bx - ax) / length)


def _lowest(eaves: Sequence[Point], falls: float) -> Slope:
    """The eave toward which a slope falls, by its bearing clockwise from plan up [rad]."""
    down = (math.sin(falls), math.cos(falls))
    foot = max(eaves, key=lambda p: p[0] * down[0] + p[1] * down[1])
    return foot, (-down[0], -down[1])


def _away(point: Point, slope: Slope) -> float:
    (x, y), (nx, ny) = slope
    return (point[0] - x) * nx + (point[1] - y) * ny


def _nearer(part: list[Point], slope: Slope, other: Slope) -> list[Point]:
    """The part of a polygon that lies nearer to one eave than to another."""
    kept: list[Point] = []
    for a, b in zip(part, [*part[1:], part[0]] if part else [], strict=True):
        da, db = (_away(p, other) - _away(p, slope) for p in (a, b))
        if da >= -1e-9:
            kept.append(a)
        if (da > 1e-9 and db < -1e-9) or (da < -1e-9 and db > 1e-9):
            share = da / (da - db)
            kept.append((a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])))
    return kept


def _thinned(eaves: Sequence[Point]) -> list[Point]:
    """Every n-th corner of a curved eave: a hundred slopes look no rounder than forty."""
    step = max(1, len(eaves) // ROUND_SIDES)
    return list(eaves[::step])


def _convex(ring: Sequence[Point]) -> bool:
    turns = (
        (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0])
        for a, b, c in zip(ring, [*ring[1:], ring[0]], [*ring[2:], *ring[:2]], strict=True)
    )
    return all(t > -1e-9 for t in turns)
