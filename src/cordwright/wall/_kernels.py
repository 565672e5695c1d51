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
Lists = tuple[Ints, Ints, Ints, Floats]

SKIN = 0.02
"""Pairs this much [m] beyond touching are kept in the list, so that it lasts many steps."""

DEPTH = 0.2
"""A disc whose centre is farther than this [m] behind an edge stands on another edge's side."""

STUCK = 1e-3
"""Pushes this small, as a share of the deepest overlap, are in balance."""

MOST_PAIRS = 24
"""Room in the lists, per disc."""


@kernel
def sort_cells(place: Ints, cells: int) -> tuple[Ints, Ints]:
    """Sort discs by the cell they stand in; gives where each cell starts in the sorted order, and that order."""
    start = np.zeros(cells + 1, np.int64)
    for i in range(place.size):
        start[place[i] + 1] += 1
    for c in range(cells):
        start[c + 1] += start[c]
    order = np.empty(place.size, np.int64)
    put = start[:cells].copy()
    for i in range(place.size):
        order[put[place[i]]] = i
        put[place[i]] += 1
    return start, order


@kernel
def list_pairs(x: Floats, y: Floats, radius: Floats, moving: int, pairs: Ints) -> int:
    """List the pairs of discs within reach of each other, a moving one first; gives their number.

    Each disc looks for smaller ones only, so that small discs need not look as far as the largest reach.
    """
    cell = 2.0 * radius.mean() + SKIN
    left, low = x.min(), y.min()
    columns, rows = int((x.max() - left) / cell) + 1, int((y.max() - low) / cell) + 1
    place = ((y - low) / cell).astype(np.int64) * columns + ((x - left) / cell).astype(np.int64)
    start, order = sort_cells(place, columns * rows)
    count = 0
    for i in range(x.size):
        far = 2.0 * radius[i] + SKIN
        c0 = max(int((x[i] - far - left) / cell), 0)
        c1 = min(int((x[i] + far - left) / cell), columns - 1)
        for r in range(max(int((y[i] - far - low) / cell), 0), min(int((y[i] + far - low) / cell), rows - 1) + 1):
            for k in order[start[r * columns + c0] : start[r * columns + c1 + 1]]:
                if radius[k] > radius[i] or (radius[k] == radius[i] and k >= i) or min(i, k) >= moving:
                    continue
                reach = radius[i] + radius[k] + SKIN
                dx, dy = x[i] - x[k], y[i] - y[k]
                if dx * dx + dy * dy < reach * reach and count < pairs.shape[0]:
                    pairs[count, 0] = min(i, k)
                    pairs[count, 1] = max(i, k)
                    count += 1
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
            cx, cy = abs(x[i] - corners[c, 0]), abs(y[i] - corners[c, 1])
            near = cx < reach and cy < reach and math.hypot(cx, cy) < reach
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
            share = overlap / apart
            fx[i] += dx * share
            fy[i] += dy * share
            p[i] += overlap
            if k < moving:
                fx[k] -= dx * share
                fy[k] -= dy * share
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
def outdated(x: Floats, y: Floats, radius: Floats, listed: Floats) -> bool:
    """Say whether any disc has moved or grown so far since the lists were made that they may miss a pair."""
    for i in range(listed.shape[1]):
        left = 0.5 * SKIN - max(radius[i] - listed[2, i], 0.0)
        dx, dy = x[i] - listed[0, i], y[i] - listed[1, i]
        if left < 0.0 or dx * dx + dy * dy > left * left:
            return True
    return False


@kernel
def blank_lists(discs: int, moving: int) -> Lists:
    """Room for the pairs of discs, what stands at which edge, how many of both (-1: to be made), and made for what."""
    pairs = np.empty((discs * MOST_PAIRS, 2), np.int64)
    walls = np.empty((discs * 6 + 32, 2), np.int64)
    return pairs, walls, np.full(2, -1, np.int64), np.empty((3, moving))


@kernel
def renew_lists(
    x: Floats, y: Floats, radius: Floats, edges: Floats, corners: Floats, offset: float, lists: Lists
) -> None:
    """Make the lists anew where discs have moved or grown too far since they were made."""
    pairs, walls, many, listed = lists
    moving = listed.shape[1]
    if many[0] < 0 or outdated(x, y, radius, listed):
        many[0] = list_pairs(x, y, radius, moving, pairs)
        many[1] = list_walls(x, y, radius, moving, edges, corners, offset, walls)
        listed[0], listed[1], listed[2] = x[:moving], y[:moving], radius[:moving]


@kernel
def relax(
    x: Floats, y: Floats, radius: Floats, vx: Floats, vy: Floats, pace: Floats, edges: Floats, corners: Floats,
    offset: float, pull: Floats, steps: int, tolerance: float, p: Floats,
) -> float:  # fmt: skip
    """Let discs push one another apart for some steps, in place, until no overlap is deeper than the tolerance.

    Gives the deepest overlap [m]; `p` receives each moving disc's overlaps in sum [m]. `pull` draws each moving
    disc down (as overlap it causes [m]); when any does, all steps are run.
    """
    lists = blank_lists(x.size, vx.size)
    return run(x, y, radius, vx, vy, pace, edges, corners, offset, pull, steps, tolerance, p, lists)


@kernel
def run(
    x: Floats, y: Floats, radius: Floats, vx: Floats, vy: Floats, pace: Floats, edges: Floats, corners: Floats,
    offset: float, pull: Floats, steps: int, tolerance: float, p: Floats, lists: Lists,
) -> float:  # fmt: skip
    """Relax with lists that outlive the call."""
    moving = vx.size
    drawn = np.any(pull != 0.0)
    fx, fy = np.empty(moving), np.empty(moving)
    pairs, walls, many, _ = lists
    worst = 0.0
    for step in range(1, steps + 1):
        renew_lists(x, y, radius, edges, corners, offset, lists)
        fx[:], fy[:], p[:] = 0.0, -pull, 0.0
        worst = push_pairs(x, y, radius, moving, pairs, many[0], fx, fy, p)
        worst = max(worst, push_walls(x, y, radius, edges, corners, offset, walls, many[1], fx, fy, p))
        if not drawn and tolerance > 0.0 and (worst <= tolerance or (step % 50 == 0 and stuck(fx, fy, worst))):
            break
        steer(vx, vy, fx, fy, pace)
        for i in range(moving):
            x[i] += pace[0] * vx[i]
            y[i] += pace[0] * vy[i]
    return worst


@kernel
def stuck(fx: Floats, fy: Floats, worst: float) -> bool:
    """Say whether all pushes are in balance though discs overlap, so that more steps would change nothing."""
    most = 0.0
    for i in range(fx.size):
        most = max(most, abs(fx[i]), abs(fy[i]))
    return most <= STUCK * worst


@kernel
def neighbour_excess(radius: Floats, moving: int, pairs: Ints, many: int) -> Floats:
    """Give by how much each moving disc's neighbours are larger than itself, on average [m]."""
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
    x: Floats, y: Floats, which: Ints, sizes: Floats, still: Floats, edges: Floats, corners: Floats, offset: float,
    noise: Floats, scale: float, give: float, spread: float, steps: int, vx: Floats, vy: Floats, pace: Floats,
    heights: Floats, lean: Floats,
) -> None:  # fmt: skip
    """Relax and exchange sizes in turn: pressed places wish for a smaller log, loose ones for a larger; by rank.

    `which` numbers the log at each place within `sizes` (ascending) and is permuted in place, so that no log is ever
    used twice. `noise` (rounds, moving) [m] blurs the wishes; `spread` makes large logs wish to stand among small ones.
    `lean` [m], given at some heights [m], makes places there wish for larger logs, or smaller ones where below 0.
    """
    moving = which.size
    p, none = np.empty(moving), np.zeros(moving)
    radius = np.concatenate((sizes[which] * scale, still))
    mine = np.sort(which)
    lists = blank_lists(x.size, moving)
    for t in range(noise.shape[0]):
        run(x, y, radius, vx, vy, pace, edges, corners, offset, none, steps, 0.0, p, lists)
        wish = sizes[which] + give * (p.mean() - p) + noise[t]
        if spread > 0.0:
            wish -= spread * neighbour_excess(radius, moving, lists[0], lists[2][0])
        if heights.size:
            wish += np.interp(y[:moving], heights, lean)
        which[np.argsort(wish)] = mine
        radius[:moving] = sizes[which] * scale
