"""On what does a log end rest, and where near by would it rest on two? Compiled.

Bodies are numbered: discs 0 ... n - 1, then edges, then corners; -1 is none.
"""

import math

import numpy as np
from numpy.typing import NDArray

from cordwright.base.kernel import kernel
from cordwright.wall._gap_kernels import edge_clearance
from cordwright.wall._kernels import DEPTH, Floats, Ints

STEEPEST = math.radians(75.0)
"""The nearer to straight below of the two supports leans no more than this."""

POST_STEEPEST = math.radians(95.0)
"""A post or frame may hold the other side though it stands beside the log, even leaning a little over it."""

LOG_STEEPEST = math.radians(89.0)
"""A log under another lies truly lower, so that no two hold each other up."""

LEVEL = 5e-4
"""A flat support this close to straight below [rad] is level, and holds both sides at once."""


@kernel
def disc_contact(
    i: int, k: int, px: float, py: float, size: float, x: Floats, y: Floats, radius: Floats, slack: float
) -> float:
    """Angle from straight down to a disc that a log of some size at a point rests on, right positive; nan if not."""
    dx, dy = x[k] - px, y[k] - py
    reach = radius[k] + size + slack
    if k == i or dy >= 0.0 or dx * dx + dy * dy > reach * reach:
        return np.nan
    angle = math.atan2(dx, -dy)
    return angle if abs(angle) <= LOG_STEEPEST else np.nan


@kernel
def edge_contact(px: float, py: float, size: float, edges: Floats, e: int, reach: float) -> float:
    """Angle from straight down to an edge that a log rests on, right positive; nan if not."""
    dx, dy = px - edges[e, 0], py - edges[e, 1]
    along = dx * edges[e, 2] + dy * edges[e, 3]
    above = dx * edges[e, 5] + dy * edges[e, 6]
    if not (0.0 <= along <= edges[e, 4] and -DEPTH < above <= size + reach):
        return np.nan
    angle = math.atan2(-edges[e, 5], edges[e, 6])
    return angle if abs(angle) <= POST_STEEPEST else np.nan


@kernel
def corner_contact(px: float, py: float, size: float, corners: Floats, c: int, reach: float) -> float:
    """Angle from straight down to a frame's corner that a log rests on, right positive; nan if not."""
    dx, dy = corners[c, 0] - px, corners[c, 1] - py
    if dx * dx + dy * dy > (size + reach) * (size + reach):
        return np.nan
    angle = math.atan2(dx, -dy)
    return angle if abs(angle) <= LOG_STEEPEST else np.nan


@kernel
def take(held: Floats, body: int, angle: float, flat: bool) -> None:
    """Note a contact: on each side the one nearest to straight below is kept (left body, angle, right body, angle)."""
    if math.isnan(angle):
        return
    if (angle <= 0.0 or flat) and abs(angle) < held[1]:
        held[0], held[1] = body, abs(angle)
    if (angle >= 0.0 or flat) and abs(angle) < held[3]:
        held[2], held[3] = body, abs(angle)


@kernel
def holders(
    i: int, px: float, py: float, size: float, x: Floats, y: Floats, radius: Floats, bears: NDArray[np.bool_],
    near: Ints, edges: Floats, corners: Floats, offset: float, slack: float,
) -> Floats:  # fmt: skip
    """Give what holds a log of some size at a point: left body, its angle, right body, its angle."""
    held = np.array([-1.0, 9.0, -1.0, 9.0])
    for k in near:
        if bears[k]:
            take(held, k, disc_contact(i, k, px, py, size, x, y, radius, slack), False)
    n = x.size
    for e in range(edges.shape[0]):
        angle = edge_contact(px, py, size, edges, e, offset + slack)
        take(held, n + e, angle, abs(angle) <= LEVEL)
    for c in range(corners.shape[0]):
        take(held, n + edges.shape[0] + c, corner_contact(px, py, size, corners, c, offset + slack), False)
    return held


@kernel
def is_held(held: Floats) -> bool:
    """Say whether both sides are held and one of them well from below."""
    return bool(held[0] >= 0.0 and held[2] >= 0.0 and min(held[1], held[3]) <= STEEPEST)


@kernel
def within(x: Floats, y: Floats, px: float, py: float, reach: float) -> Ints:
    """Number the discs whose centres lie within a reach of a point."""
    near = np.empty(x.size, np.int64)
    count = 0
    for k in range(x.size):
        if abs(x[k] - px) <= reach and abs(y[k] - py) <= reach:
            near[count] = k
            count += 1
    return near[:count]


@kernel
def support_table(
    x: Floats, y: Floats, radius: Floats, moving: int, bears: NDArray[np.bool_], edges: Floats, corners: Floats,
    offset: float, slack: float,
) -> Floats:  # fmt: skip
    """Give what holds each log: rows of left body, its angle, right body, its angle."""
    table = np.empty((moving, 4))
    reach = 2.0 * radius.max() + slack
    for i in range(moving):
        near = within(x, y, x[i], y[i], reach)
        table[i] = holders(i, x[i], y[i], radius[i], x, y, radius, bears, near, edges, corners, offset, slack)
    return table


@kernel
def fits(
    i: int, px: float, py: float, size: float, x: Floats, y: Floats, radius: Floats, near: Ints, edges: Floats,
    corners: Floats, offset: float,
) -> bool:  # fmt: skip
    """Say whether a disc at a point overlaps nothing."""
    for k in near:
        if k != i:
            reach = radius[k] + size
            dx, dy = px - x[k], py - y[k]
            if dx * dx + dy * dy < reach * reach:
                return False
    return edge_clearance(px, py, edges, corners, offset) >= size


@kernel
def all_held(
    near: Ints, moving: int, skip: int, x: Floats, y: Floats, radius: Floats, bears: NDArray[np.bool_], edges: Floats,
    corners: Floats, offset: float, slack: float,
) -> Ints:  # fmt: skip
    """Say for each near log (1 or 0) whether it is held; those that stand still and `skip` count as held."""
    state = np.ones(near.size, np.int64)
    for q in range(near.size):
        k = near[q]
        if k < moving and k != skip:
            held = holders(k, x[k], y[k], radius[k], x, y, radius, bears, near, edges, corners, offset, slack)
            state[q] = 1 if is_held(held) else 0
    return state


@kernel
def find_rest(
    i: int, size: float, x: Floats, y: Floats, radius: Floats, moving: int, bears: NDArray[np.bool_], edges: Floats,
    corners: Floats, offset: float, slack: float, reach: float, pitch: float,
) -> Floats:  # fmt: skip
    """Look around log i for the nearest place where a log of some size rests on two and nobody else loses rest.

    Gives found (1 or 0), x and y. Disc i keeps its size and place; only a trial stands in for it.
    """
    far = 4.0 * radius.max() + reach + slack
    x0, y0, r0 = x[i], y[i], radius[i]
    near = within(x, y, x0, y0, far)
    before = all_held(near, moving, i, x, y, radius, bears, edges, corners, offset, slack)
    best = np.array([0.0, x0, y0])
    nearest = np.inf
    half = int(reach / pitch)
    for a in range(-half, half + 1):
        for b in range(-half, half + 1):
            px, py = x0 + a * pitch, y0 + b * pitch
            away = math.hypot(px - x0, py - y0)
            if away >= nearest or not fits(i, px, py, size, x, y, radius, near, edges, corners, offset):
                continue
            held = holders(i, px, py, size, x, y, radius, bears, near, edges, corners, offset, slack)
            if not is_held(held):
                continue
            x[i], y[i], radius[i] = px, py, size
            after = all_held(near, moving, i, x, y, radius, bears, edges, corners, offset, slack)
            x[i], y[i], radius[i] = x0, y0, r0
            if np.all(after >= before):
                nearest = away
                best[0], best[1], best[2] = 1.0, px, py
    return best
