"""How do inflated log ends push one another apart inside a panel?

Every log counts with its radius plus half a joint, every edge with what the edge joint is more than half a joint, so
that discs that just touch leave exactly the joint. Moving discs come first in every array, then those that stand still.

Edges: array (e, 7) of start x, start y, direction x, direction y, length, inward normal x, inward normal y.
Corners: array (c, 2) of points that stick into the panel.
"""

import math

import numpy as np
from numpy.typing import NDArray

from cordwright.base.kernel import kernel

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

SKIN = 0.02
"""Pairs this much [m] beyond touching are kept in the list, so that it lasts many steps."""

DEPTH = 0.2
"""A disc whose centre is farther than this [m] behind an edge stands on another edge's side."""

MOST_PAIRS = 24
"""Room in the lists, per disc."""


@kernel
def list_pairs(x: Floats, y: Floats, radius: Floats, moving: int, pairs: Ints) -> int:
    """List the pairs of discs within reach of each other, at least one of them moving; gives their number."""
    n = x.size
    cell = 2.0 * radius.max() + SKIN
    left, low = x.min(), y.min()
    columns = int((x.max() - left) / cell) + 1
    rows = int((y.max() - low) / cell) + 1
    first = np.full(columns * rows, -1, np.int64)
    after = np.empty(n, np.int64)
    for i in range(n - 1, -1, -1):
        place = int((y[i] - low) / cell) * columns + int((x[i] - left) / cell)
        after[i] = first[place]
        first[place] = i
    count = 0
    for i in range(moving):
        column, row = int((x[i] - left) / cell), int((y[i] - low) / cell)
        for r in range(max(row - 1, 0), min(row + 2, rows)):
            for c in range(max(column - 1, 0), min(column + 2, columns)):
                k = first[r * columns + c]
                while k >= 0:
                    if k > i:
                        reach = radius[i] + radius[k] + SKIN
                        dx, dy = x[i] - x[k], y[i] - y[k]
                        if dx * dx + dy * dy < reach * reach and count < pairs.shape[0]:
                            pairs[count, 0] = i
                            pairs[count, 1] = k
                            count += 1
                    k = after[k]
    return count


@kernel
def list_walls(
    x: Floats, y: Floats, radius: Floats, moving: int, edges: Floats, corners: Floats, offset: float, walls: Ints
) -> int:
    """List which disc stands within reach of which edge (numbered 0 ...) or corner (numbered after the edges)."""
    count = 0
    for i in range(moving):
        reach = radius[i] + offset + SKIN
        for e in range(edges.shape[0]):
            dx, dy = x[i] - edges[e, 0], y[i] - edges[e, 1]
            along = dx * edges[e, 2] + dy * edges[e, 3]
            above = dx * edges[e, 5] + dy * edges[e, 6]
            near = -SKIN < along < edges[e, 4] + SKIN and -DEPTH < above < reach
            if near and count < walls.shape[0]:
                walls[count, 0] = i
                walls[count, 1] = e
                count += 1
        for c in range(corners.shape[0]):
            near = math.hypot(x[i] - corners[c, 0], y[i] - corners[c, 1]) < reach
            if near and count < walls.shape[0]:
                walls[count, 0] = i
                walls[count, 1] = edges.shape[0] + c
                count += 1
    return count


@kernel
def push_pairs(
    x: Floats, y: Floats, radius: Floats, moving: int, pairs: Ints, count: int, fx: Floats, fy: Floats, p: Floats
) -> float:
    """Add the push of overlapping discs on one another and each disc's overlap; gives the deepest overlap [m]."""
    worst = 0.0
    for q in range(count):
        i, k = pairs[q, 0], pairs[q, 1]
        dx, dy = x[i] - x[k], y[i] - y[k]
        reach = radius[i] + radius[k]
        squared = dx * dx + dy * dy
        if squared < reach * reach:
            apart = math.sqrt(squared) + 1e-12
            overlap = reach - apart
            worst = max(worst, overlap)
            fx[i] += dx / apart * overlap
            fy[i] += dy / apart * overlap
            p[i] += overlap
            if k < moving:
                fx[k] -= dx / apart * overlap
                fy[k] -= dy / apart * overlap
                p[k] += overlap
    return worst


@kernel
def push_walls(
    x: Floats,
    y: Floats,
    radius: Floats,
    edges: Floats,
    corners: Floats,
    offset: float,
    walls: Ints,
    count: int,
    fx: Floats,
    fy: Floats,
    p: Floats,
) -> float:
    """Add the push of edges and corners on the discs; gives the deepest overlap [m]."""
    worst = 0.0
    for q in range(count):
        i, e = walls[q, 0], walls[q, 1]
        overlap = 0.0
        nx, ny = 0.0, 0.0
        if e < edges.shape[0]:
            dx, dy = x[i] - edges[e, 0], y[i] - edges[e, 1]
            along = dx * edges[e, 2] + dy * edges[e, 3]
            if 0.0 <= along <= edges[e, 4]:
                nx, ny = edges[e, 5], edges[e, 6]
                overlap = radius[i] + offset - (dx * nx + dy * ny)
        else:
            dx, dy = x[i] - corners[e - edges.shape[0], 0], y[i] - corners[e - edges.shape[0], 1]
            apart = math.hypot(dx, dy) + 1e-12
            nx, ny = dx / apart, dy / apart
            overlap = radius[i] + offset - apart
        if overlap > 0.0:
            worst = max(worst, overlap)
            fx[i] += nx * overlap
            fy[i] += ny * overlap
            p[i] += overlap
    return worst


@kernel
def steer(vx: Floats, vy: Floats, fx: Floats, fy: Floats, pace: Floats) -> None:
    """Bend the speeds toward the pushes and quicken while they agree; stop when they do not (FIRE).

    `pace` holds step, mixing share and number of agreeing steps. Sources: Bitzek et al. 2006, Guenole et al. 2020.
    """
    power, ff, vv = 0.0, 1e-300, 0.0
    for i in range(vx.size):
        power += fx[i] * vx[i] + fy[i] * vy[i]
        ff += fx[i] * fx[i] + fy[i] * fy[i]
        vv += vx[i] * vx[i] + vy[i] * vy[i]
    if power > 0.0:
        pace[2] += 1.0
        if pace[2] > 5.0:
            pace[0] = min(pace[0] * 1.1, 0.45)
            pace[1] *= 0.99
        keep, lead = 1.0 - pace[1], pace[1] * math.sqrt(vv / ff)
    else:
        pace[0] = max(pace[0] * 0.6, 0.05)
        pace[1] = 0.1
        pace[2] = 0.0
        keep, lead = 0.0, 0.0
    for i in range(vx.size):
        vx[i] = keep * vx[i] + (lead + pace[0]) * fx[i]
        vy[i] = keep * vy[i] + (lead + pace[0]) * fy[i]


@kernel
def strayed(x: Floats, y: Floats, x0: Floats, y0: Floats) -> bool:
    """Say whether any disc has moved so far that the lists may miss a pair."""
    limit = 0.25 * SKIN * SKIN
    for i in range(x0.size):
        dx, dy = x[i] - x0[i], y[i] - y0[i]
        if dx * dx + dy * dy > limit:
            return True
    return False


@kernel
def relax(
    x: Floats,
    y: Floats,
    radius: Floats,
    vx: Floats,
    vy: Floats,
    pace: Floats,
    edges: Floats,
    corners: Floats,
    offset: float,
    pull: Floats,
    steps: int,
    tolerance: float,
    p: Floats,
) -> float:
    """Let discs push one another apart for some steps, in place, until no overlap is deeper than the tolerance.

    Gives the deepest overlap [m]; `p` receives each moving disc's overlaps in sum [m]. `pull` draws each moving
    disc down (as overlap it causes [m]); when any does, all steps are run.
    """
    moving = vx.size
    drawn = np.any(pull != 0.0)
    pairs = np.empty((x.size * MOST_PAIRS, 2), np.int64)
    walls = np.empty((x.size * 6 + 32, 2), np.int64)
    fx, fy = np.empty(moving), np.empty(moving)
    x0, y0 = x[:moving].copy(), y[:moving].copy()
    many, near = -1, 0
    worst = 0.0
    for _ in range(steps):
        if many < 0 or strayed(x, y, x0, y0):
            many = list_pairs(x, y, radius, moving, pairs)
            near = list_walls(x, y, radius, moving, edges, corners, offset, walls)
            x0[:], y0[:] = x[:moving], y[:moving]
        fx[:], fy[:], p[:] = 0.0, -pull, 0.0
        worst = push_pairs(x, y, radius, moving, pairs, many, fx, fy, p)
        worst = max(worst, push_walls(x, y, radius, edges, corners, offset, walls, near, fx, fy, p))
        if worst <= tolerance and not drawn:
            break
        steer(vx, vy, fx, fy, pace)
        for i in range(moving):
            x[i] += pace[0] * vx[i]
            y[i] += pace[0] * vy[i]
    return worst


@kernel
def neighbour_excess(x: Floats, y: Floats, radius: Floats, moving: int) -> Floats:
    """Give by how much each moving disc's neighbours are larger than itself, on average [m]."""
    pairs = np.empty((x.size * MOST_PAIRS, 2), np.int64)
    many = list_pairs(x, y, radius, moving, pairs)
    total, count = np.zeros(moving), np.zeros(moving)
    for q in range(many):
        i, k = pairs[q, 0], pairs[q, 1]
        total[i] += radius[k] - radius[i]
        count[i] += 1.0
        if k < moving:
            total[k] += radius[i] - radius[k]
            count[k] += 1.0
    return total / np.maximum(count, 1.0)


@kernel
def anneal(
    x: Floats,
    y: Floats,
    which: Ints,
    sizes: Floats,
    still: Floats,
    edges: Floats,
    corners: Floats,
    offset: float,
    noise: Floats,
    scale: float,
    give: float,
    spread: float,
    steps: int,
    vx: Floats,
    vy: Floats,
    pace: Floats,
) -> None:
    """Relax and exchange sizes in turn: pressed places wish for a smaller log, loose ones for a larger; by rank.

    `which` numbers the log at each place within `sizes` (ascending) and is permuted in place, so that no log is ever
    used twice. `noise` (rounds, moving) [m] blurs the wishes; `spread` makes large logs wish to stand among small ones.
    """
    moving = which.size
    p, none = np.empty(moving), np.zeros(moving)
    radius = np.concatenate((sizes[which] * scale, still))
    mine = np.sort(which)
    for t in range(noise.shape[0]):
        relax(x, y, radius, vx, vy, pace, edges, corners, offset, none, steps, 0.0, p)
        wish = sizes[which] + give * (p.mean() - p) + noise[t]
        if spread > 0.0:
            wish -= spread * neighbour_excess(x, y, radius, moving)
        which[np.argsort(wish)] = mine
        radius[:moving] = sizes[which] * scale
