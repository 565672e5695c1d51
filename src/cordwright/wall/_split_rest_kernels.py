"""On what does each round, half or quarter rest? Compiled, with the true shape of every split.

A contact must push from below. Which side of the log it holds is told by where it touches, seen from the middle of the
log's face, where its weight hangs: for a round that is the way of the push itself.
"""

import math

import numpy as np
from numpy.typing import NDArray

from cordwright.base.kernel import kernel
from cordwright.wall._kernels import Floats
from cordwright.wall._split_kernels import meet, meet_wall, middle, nearest, rim_points
from cordwright.wall._support_kernels import LEVEL, LOG_STEEPEST, POST_STEEPEST, take

LIES_FLAT = 1e-3
"""Two ends of a flat that are alike high above an edge to within this [m] lie on it."""


LIES_ALONG = 1e-6
"""Flats nearly as near as this [m] all along touch along their length."""

STRAIGHT = 1e-6
"""A round so straight above the level flat of a split may roll to either side [rad]."""


@kernel
def side_of(shape: Floats, px: float, py: float, radius: float, qx: float, qy: float) -> float:
    """Angle from straight below to a point of a log, seen from the middle of its face, right positive [rad]."""
    mx, my = middle(shape, px, py, radius)
    return math.atan2(qx - mx, my - qy)


@kernel
def body_contact(
    a: Floats, ax: float, ay: float, ar: float, b: Floats, bx: float, by: float, br: float, half: float, slack: float
) -> float:
    """Angle at which body a rests on body b; nan if it does not.

    Where a flat lies along a flat, of all places of touch the one nearest the middle of a tells.
    """
    reach = ar + br + slack
    if (ax - bx) * (ax - bx) + (ay - by) * (ay - by) > reach * reach:
        return np.nan
    gap, nx, ny, qx, qy = meet(a, ax, ay, ar, b, bx, by, br, half)
    if gap > slack or ny <= 0.0 or abs(math.atan2(nx, ny)) > LOG_STEEPEST:
        return np.nan
    if a[0] == 0.0:
        return math.atan2(-nx, ny)
    mx, my = middle(a, ax, ay, ar - half)
    along = (mx - qx) * ny - (my - qy) * nx
    px, py = nearest(b, bx, by, br - half, qx + along * ny, qy - along * nx)
    sx, sy = nearest(a, ax, ay, ar - half, px, py)
    near = gap + half + (br if b[0] == 0.0 else half) + LIES_ALONG
    if math.hypot(sx - px, sy - py) < near:
        qx, qy = sx, sy
    angle = side_of(a, ax, ay, ar - half, qx, qy)
    return angle if abs(angle) <= LOG_STEEPEST else np.nan


@kernel
def level_angle(shape: Floats, px: float, py: float, radius: float, edge: Floats, points: Floats) -> float:
    """Angle at which a split touches a level edge: 0 where it lies on it with its middle above it; nan where aside.

    A split that overhangs the end of an edge is held by the corner there.
    """
    mx, my = middle(shape, px, py, radius)
    along = (mx - edge[0]) * edge[2] + (my - edge[1]) * edge[3]
    if not 0.0 <= along <= edge[4]:
        return np.nan
    count = rim_points(shape, px, py, radius, edge[5], edge[6], points)
    heights = points[:count, 0] * edge[5] + points[:count, 1] * edge[6]
    lowest = int(np.argmin(heights))
    qx, qy = points[lowest, 0], points[lowest, 1]
    for q in range(count):
        wide = math.hypot(points[q, 0] - qx, points[q, 1] - qy)
        if heights[q] < heights[lowest] + LIES_FLAT and wide > 2.0 * LIES_FLAT:
            return 0.0
    return math.atan2(qx - mx, my - qy)


@kernel
def body_holders(
    i: int, x: Floats, y: Floats, radius: Floats, half: float, shape: Floats, bears: NDArray[np.bool_], edges: Floats,
    corners: Floats, offset: float, slack: float,
) -> Floats:  # fmt: skip
    """Give what holds a body: left body, its angle, right body, its angle, and what it stands on that holds no side.

    Bodies are numbered first, then edges, then corners; -1 is none.
    """
    held = np.array([-1.0, 9.0, -1.0, 9.0, -1.0])
    points = np.empty((4, 2))
    n, core = x.size, radius[i] - half
    for k in range(n):
        if k != i and bears[k]:
            angle = body_contact(
                shape[i], x[i], y[i], radius[i], shape[k], x[k], y[k], radius[k], half, slack
            )  # fmt: skip
            if shape[i, 0] == 0.0 and abs(angle) < STRAIGHT:
                held[4] = k
            else:
                take(held, k, angle if angle != 0.0 else STRAIGHT, False)
    for e in range(edges.shape[0]):
        gap, nx, ny = meet_wall(shape[i], x[i], y[i], radius[i], half, edges, corners, e, offset, points)
        angle = math.atan2(-nx, ny)
        if gap <= slack and abs(angle) <= POST_STEEPEST:
            level = abs(angle) <= LEVEL
            if level and shape[i, 0] > 0.0:
                angle = level_angle(shape[i], x[i], y[i], core, edges[e], points)
                level = angle == 0.0
            take(held, n + e, angle, level)
    for c in range(corners.shape[0]):
        gap, nx, ny = meet_wall(
            shape[i], x[i], y[i], radius[i], half, edges, corners, edges.shape[0] + c, offset, points
        )  # fmt: skip
        if gap <= slack and ny > 0.0 and abs(math.atan2(nx, ny)) <= LOG_STEEPEST:
            qx, qy = nearest(shape[i], x[i], y[i], core, corners[c, 0], corners[c, 1])
            angle = math.atan2(-nx, ny) if shape[i, 0] == 0.0 else side_of(shape[i], x[i], y[i], core, qx, qy)
            take(held, n + edges.shape[0] + c, angle, False)
    return held
