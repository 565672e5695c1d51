"""How do rounds, halves and quarters push one another apart inside a panel, and on what does each rest? Compiled.

A body is its core grown all around: a round is a point grown by its inflated radius, a split the half or quarter disc
of its parent grown by half a joint. A half that lies with its flat on an edge, and a quarter in a square corner, count
as their parent's disc: all else in the wall stands on the inner side of the flat, and from there the nearest point of
the half is the nearest of the disc. Such splits slide along their edge (their rail) or stand still.

Bodies that move come first: rounds, then splits. `shape` rows: kind (0 disc, 1 half, 2 quarter), cosine and sine of the
way the bark faces. `rail` rows: mode (0 free, 1 on a rail, 2 still), tangent x, y, start of the rail x, y, share of the
radius and length kept free at the start, the same at the end, length of the edge, its number, those of the edges before
and after it, and the numbers of the corners at its ends (-1 none).
"""

import math

import numpy as np

from cordwright.base.kernel import kernel
from cordwright.wall._kernels import DEPTH, MOST_PAIRS, SKIN, Floats, Ints, list_pairs, neighbour_excess, steer

MOST_TURNS = 40
"""Steps from one split to the other and back, in search of the nearest points of two that cross."""

DIAGONAL = math.sqrt(0.5)


@kernel
def nearest(shape: Floats, ax: float, ay: float, radius: float, px: float, py: float) -> tuple[float, float]:
    """Point of a core nearest to a point: the centre of a disc, else of the half or quarter disc (itself inside)."""
    if shape[0] == 0.0:
        return ax, ay
    c, s = shape[1], shape[2]
    dx, dy = px - ax, py - ay
    along, across = dx * c + dy * s, -dx * s + dy * c
    away = math.hypot(along, across)
    if shape[0] == 1.0:
        within = along >= 0.0
        wx, wy = 0.0, 1.0 if across >= 0.0 else -1.0
    else:
        within = along >= abs(across)
        wx, wy = DIAGONAL, DIAGONAL if across >= 0.0 else -DIAGONAL
    if within:
        share = 1.0 if away <= radius else radius / away
        u, v = along * share, across * share
    else:
        far = min(max(along * wx + across * wy, 0.0), radius)
        u, v = far * wx, far * wy
    return ax + u * c - v * s, ay + u * s + v * c


@kernel
def middle(shape: Floats, ax: float, ay: float, radius: float) -> tuple[float, float]:
    """Middle of a core's face: where its weight hangs."""
    far = 0.0
    if shape[0] == 1.0:
        far = 4.0 / (3.0 * math.pi) * radius
    elif shape[0] == 2.0:
        far = 4.0 * math.sqrt(2.0) / (3.0 * math.pi) * radius
    return ax + far * shape[1], ay + far * shape[2]


@kernel
def corner_points(shape: Floats, ax: float, ay: float, radius: float, out: Floats) -> int:
    """Where the outline of a split has corners: the ends of its bark, a quarter's tip; gives their number."""
    c, s = shape[1], shape[2]
    wx, wy = (0.0, 1.0) if shape[0] == 1.0 else (DIAGONAL, DIAGONAL)
    u, v = radius * wx, radius * wy
    out[0, 0], out[0, 1] = ax + u * c - v * s, ay + u * s + v * c
    out[1, 0], out[1, 1] = ax + u * c + v * s, ay + u * s - v * c
    out[2, 0], out[2, 1] = ax, ay
    return 2 if shape[0] == 1.0 else 3


@kernel
def first_guess(
    a: Floats, ax: float, ay: float, ac: float, b: Floats, bx: float, by: float, bc: float, points: Floats
) -> tuple[float, float]:
    """Point of split a nearest to split b, right unless they cross.

    Where the nearest point of one lies on its bark, the other's is the nearest to the one's centre; else one of both
    is a corner.
    """
    qx, qy = nearest(a, ax, ay, ac, bx, by)
    px, py = nearest(b, bx, by, bc, qx, qy)
    best = math.hypot(qx - px, qy - py)
    gx, gy = qx, qy
    px, py = nearest(b, bx, by, bc, ax, ay)
    qx, qy = nearest(a, ax, ay, ac, px, py)
    away = math.hypot(qx - px, qy - py)
    if away < best:
        best, gx, gy = away, qx, qy
    for q in range(corner_points(a, ax, ay, ac, points)):
        px, py = nearest(b, bx, by, bc, points[q, 0], points[q, 1])
        away = math.hypot(points[q, 0] - px, points[q, 1] - py)
        if away < best:
            best, gx, gy = away, points[q, 0], points[q, 1]
    for q in range(corner_points(b, bx, by, bc, points)):
        qx, qy = nearest(a, ax, ay, ac, points[q, 0], points[q, 1])
        away = math.hypot(points[q, 0] - qx, points[q, 1] - qy)
        if away < best:
            best, gx, gy = away, qx, qy
    return gx, gy


@kernel
def meet(
    a: Floats, ax: float, ay: float, ar: float, b: Floats, bx: float, by: float, br: float, half: float
) -> tuple[float, float, float, float, float]:
    """Clear way between two grown bodies, its direction from b to a, and a's nearest point; radii are grown ones [m].

    From a first guess one goes to the nearest point of the other split and back until nothing moves, which is at once
    unless they cross. Where cores lie in one another they are pushed apart along the line of their middles.
    """
    ac, bc = ar - half, br - half
    grown = (ar if a[0] == 0.0 else half) + (br if b[0] == 0.0 else half)
    if a[0] == 0.0:
        qx, qy = ax, ay
    elif b[0] == 0.0:
        qx, qy = nearest(a, ax, ay, ac, bx, by)
    else:
        qx, qy = first_guess(a, ax, ay, ac, b, bx, by, bc, np.empty((3, 2)))
    px, py = nearest(b, bx, by, bc, qx, qy)
    for _ in range(MOST_TURNS):
        nx, ny = nearest(a, ax, ay, ac, px, py)
        moved = abs(nx - qx) + abs(ny - qy)
        if moved < 1e-8:
            break
        qx, qy = nx, ny
        px, py = nearest(b, bx, by, bc, qx, qy)
    dx, dy = qx - px, qy - py
    away = math.hypot(dx, dy)
    if away > 1e-6:
        return away - grown, dx / away, dy / away, qx, qy
    amx, amy = middle(a, ax, ay, ac)
    bmx, bmy = middle(b, bx, by, bc)
    dx, dy = amx - bmx, amy - bmy + 1e-9
    away = math.hypot(dx, dy)
    return -grown, dx / away, dy / away, qx, qy


@kernel
def rim_points(shape: Floats, ax: float, ay: float, radius: float, nx: float, ny: float, out: Floats) -> int:
    """Points of a core that may lie deepest against an edge of some inward normal; gives their number."""
    if shape[0] == 0.0:
        out[0, 0], out[0, 1] = ax, ay
        return 1
    c, s = shape[1], shape[2]
    count = 0
    along, across = -(nx * c + ny * s), -(-nx * s + ny * c)
    if (shape[0] == 1.0 and along >= 0.0) or (shape[0] == 2.0 and along >= abs(across)):
        out[count, 0], out[count, 1] = ax - radius * nx, ay - radius * ny
        count += 1
    wx = 0.0 if shape[0] == 1.0 else DIAGONAL
    wy = 1.0 if shape[0] == 1.0 else DIAGONAL
    for side in (-1.0, 1.0):
        u, v = radius * wx, side * radius * wy
        out[count, 0], out[count, 1] = ax + u * c - v * s, ay + u * s + v * c
        count += 1
    if shape[0] == 2.0:
        out[count, 0], out[count, 1] = ax, ay
        count += 1
    return count


@kernel
def exempt(rail: Floats, wall: int, edges: int) -> bool:
    """Whether an edge or corner does not push a split: its own edge, those beside it and the corners between."""
    if rail[0] == 0.0:
        return False
    if wall < edges:
        return wall == int(rail[10]) or wall == int(rail[11]) or wall == int(rail[12])
    return wall - edges == int(rail[13]) or wall - edges == int(rail[14])


@kernel
def list_near_walls(
    x: Floats, y: Floats, radius: Floats, moving: int, edges: Floats, corners: Floats, offset: float, walls: Ints
) -> int:
    """List which body's parent disc stands within reach of which edge or corner (numbered after the edges)."""
    count = 0
    for i in range(moving):
        reach = radius[i] + max(offset, 0.0) + SKIN
        for e in range(edges.shape[0]):
            dx, dy = x[i] - edges[e, 0], y[i] - edges[e, 1]
            along = dx * edges[e, 2] + dy * edges[e, 3]
            above = dx * edges[e, 5] + dy * edges[e, 6]
            near = -reach < along < edges[e, 4] + reach and -DEPTH < above < reach
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
def meet_wall(
    shape: Floats, px: float, py: float, radius: float, half: float, edges: Floats, corners: Floats, wall: int,
    offset: float, points: Floats,
) -> tuple[float, float, float]:  # fmt: skip
    """Clear way of a grown body to an edge or corner [m] and the direction it is pushed; 1 m where they do not face."""
    grown = (radius if shape[0] == 0.0 else half) + offset
    if wall < edges.shape[0]:
        nx, ny = edges[wall, 5], edges[wall, 6]
        count = rim_points(shape, px, py, radius - half, nx, ny, points)
        least = np.inf
        for q in range(count):
            dx, dy = points[q, 0] - edges[wall, 0], points[q, 1] - edges[wall, 1]
            along = dx * edges[wall, 2] + dy * edges[wall, 3]
            above = dx * nx + dy * ny
            if 0.0 <= along <= edges[wall, 4] and above > -DEPTH:
                least = min(least, above - grown)
        return min(least, 1.0), nx, ny
    cx, cy = corners[wall - edges.shape[0], 0], corners[wall - edges.shape[0], 1]
    qx, qy = nearest(shape, px, py, radius - half, cx, cy)
    dx, dy = qx - cx, qy - cy
    away = math.hypot(dx, dy)
    if away <= 1e-9:
        mx, my = middle(shape, px, py, radius - half)
        dx, dy = mx - cx, my - cy + 1e-9
        away = math.hypot(dx, dy)
        return -grown, dx / away, dy / away
    return away - grown, dx / away, dy / away


@kernel
def push_bodies(
    x: Floats, y: Floats, radius: Floats, moving: int, half: float, shape: Floats, pairs: Ints, count: int,
    fx: Floats, fy: Floats, p: Floats,
) -> float:  # fmt: skip
    """Add the push of overlapping bodies on one another; gives the deepest overlap [m]."""
    worst = 0.0
    for q in range(count):
        i, k = pairs[q, 0], pairs[q, 1]
        dx, dy = x[i] - x[k], y[i] - y[k]
        reach = radius[i] + radius[k]
        if dx * dx + dy * dy >= reach * reach:
            continue
        if shape[i, 0] == 0.0 and shape[k, 0] == 0.0:
            apart = math.sqrt(dx * dx + dy * dy) + 1e-12
            gap, nx, ny = apart - reach, dx / apart, dy / apart
        else:
            gap, nx, ny, _, _ = meet(shape[i], x[i], y[i], radius[i], shape[k], x[k], y[k], radius[k], half)
        if gap < 0.0:
            worst = max(worst, -gap)
            fx[i] -= nx * gap
            fy[i] -= ny * gap
            p[i] -= gap
            if k < moving:
                fx[k] += nx * gap
                fy[k] += ny * gap
                p[k] -= gap
    return worst


@kernel
def push_from_walls(
    x: Floats, y: Floats, radius: Floats, half: float, shape: Floats, rail: Floats, edges: Floats, corners: Floats,
    offset: float, walls: Ints, count: int, fx: Floats, fy: Floats, p: Floats,
) -> float:  # fmt: skip
    """Add the push of edges and corners on the bodies; gives the deepest overlap [m]."""
    worst = 0.0
    points = np.empty((4, 2))
    for q in range(count):
        i, wall = walls[q, 0], walls[q, 1]
        if exempt(rail[i], wall, edges.shape[0]):
            continue
        gap, nx, ny = meet_wall(shape[i], x[i], y[i], radius[i], half, edges, corners, wall, offset, points)
        if gap < 0.0:
            worst = max(worst, -gap)
            fx[i] -= nx * gap
            fy[i] -= ny * gap
            p[i] -= gap
    return worst


@kernel
def keep_on_rails(fx: Floats, fy: Floats, rail: Floats) -> None:
    """Leave of each push only what moves a split along its rail; nothing for one that stands still."""
    for i in range(fx.size):
        if rail[i, 0] == 1.0:
            along = fx[i] * rail[i, 1] + fy[i] * rail[i, 2]
            fx[i], fy[i] = along * rail[i, 1], along * rail[i, 2]
        elif rail[i, 0] == 2.0:
            fx[i], fy[i] = 0.0, 0.0


@kernel
def hold_within(x: Floats, y: Floats, radius: Floats, half: float, vx: Floats, vy: Floats, rail: Floats) -> None:
    """Put each split on a rail back onto it, so far from its ends that the whole flat lies on the edge."""
    for i in range(vx.size):
        if rail[i, 0] == 1.0:
            core = radius[i] - half
            low = rail[i, 5] * core + rail[i, 6]
            high = rail[i, 9] - rail[i, 7] * core - rail[i, 8]
            at = (x[i] - rail[i, 3]) * rail[i, 1] + (y[i] - rail[i, 4]) * rail[i, 2]
            kept = min(max(at, low), max(high, low))
            if kept != at:
                vx[i], vy[i] = 0.0, 0.0
            x[i] = rail[i, 3] + kept * rail[i, 1]
            y[i] = rail[i, 4] + kept * rail[i, 2]


@kernel
def strayed(x: Floats, y: Floats, x0: Floats, y0: Floats) -> bool:
    """Say whether any body has moved so far that the lists may miss a pair."""
    limit = 0.25 * SKIN * SKIN
    for i in range(x0.size):
        dx, dy = x[i] - x0[i], y[i] - y0[i]
        if dx * dx + dy * dy > limit:
            return True
    return False


@kernel
def relax_bodies(
    x: Floats, y: Floats, radius: Floats, half: float, shape: Floats, rail: Floats, vx: Floats, vy: Floats,
    pace: Floats, edges: Floats, corners: Floats, offset: float, pull: Floats, steps: int, tolerance: float, p: Floats,
) -> float:  # fmt: skip
    """Let bodies push one another apart for some steps, in place, until no overlap is deeper than the tolerance.

    Gives the deepest overlap [m]; `p` receives each moving body's overlaps in sum [m]; `pull` draws each down.
    """
    moving = vx.size
    drawn = np.any(pull != 0.0)
    pairs = np.empty((x.size * MOST_PAIRS, 2), np.int64)
    walls = np.empty((x.size * 12 + 64, 2), np.int64)
    fx, fy = np.empty(moving), np.empty(moving)
    hold_within(x, y, radius, half, vx, vy, rail)
    x0, y0 = x[:moving].copy(), y[:moving].copy()
    many, near = -1, 0
    worst = 0.0
    for _ in range(steps):
        if many < 0 or strayed(x, y, x0, y0):
            many = list_pairs(x, y, radius, moving, pairs)
            near = list_near_walls(x, y, radius, moving, edges, corners, offset, walls)
            x0[:], y0[:] = x[:moving], y[:moving]
        fx[:], fy[:], p[:] = 0.0, -pull, 0.0
        worst = push_bodies(x, y, radius, moving, half, shape, pairs, many, fx, fy, p)
        worst = max(
            worst, push_from_walls(x, y, radius, half, shape, rail, edges, corners, offset, walls, near, fx, fy, p)
        )
        if worst <= tolerance and not drawn:
            break
        keep_on_rails(fx, fy, rail)
        steer(vx, vy, fx, fy, pace)
        for i in range(moving):
            x[i] += pace[0] * vx[i]
            y[i] += pace[0] * vy[i]
        hold_within(x, y, radius, half, vx, vy, rail)
    return worst


@kernel
def exchange(which: Ints, wish: Floats, group: Ints, groups: int) -> None:
    """Hand the sizes of each group out anew by the rank of its members' wishes, in place; group -1 keeps its own."""
    for g in range(groups):
        members = np.flatnonzero(group == g)
        mine = np.sort(which[members])
        order = np.argsort(wish[members])
        for q in range(members.size):
            which[members[order[q]]] = mine[q]


@kernel
def anneal_bodies(
    x: Floats, y: Floats, which: Ints, sizes: Floats, still: Floats, half: float, shape: Floats, rail: Floats,
    group: Ints, groups: int, edges: Floats, corners: Floats, offset: float, noise: Floats, scale: float, give: float,
    spread: float, steps: int, vx: Floats, vy: Floats, pace: Floats, heights: Floats, lean: Floats,
) -> None:  # fmt: skip
    """Relax and exchange sizes in turn, within each class of bodies: pressed ones wish for a smaller log, by rank.

    `which` numbers each body's log within `sizes` and is permuted in place within each `group` (moving,). `lean` [m],
    given at some heights [m], makes places there wish for larger logs, or smaller ones where below 0.
    """
    moving = which.size
    pairs = np.empty((x.size * MOST_PAIRS, 2), np.int64)
    p, none = np.empty(moving), np.zeros(moving)
    radius = np.concatenate((sizes[which] * scale, still))
    for t in range(noise.shape[0]):
        relax_bodies(
            x, y, radius, half, shape, rail, vx, vy, pace, edges, corners, offset, none, steps, 0.0, p
        )  # fmt: skip
        wish = sizes[which] + give * (p.mean() - p) + noise[t]
        if spread > 0.0:
            wish -= spread * neighbour_excess(radius, moving, pairs, list_pairs(x, y, radius, moving, pairs))
        if heights.size:
            wish += np.interp(y[:moving], heights, lean)
        exchange(which, wish, group, groups)
        radius[:moving] = sizes[which] * scale
