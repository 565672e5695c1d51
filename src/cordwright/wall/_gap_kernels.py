"""How far is a point from the nearest log end or edge? Compiled."""

import math

import numpy as np

from cordwright.base.kernel import kernel
from cordwright.wall._kernels import DEPTH, Floats

MOST_STEPS = 200
"""A climb ends after so many steps, wherever it is."""

AROUND = 0.12
"""A climb knows all discs this far beyond its circle [m]; after a third of the way it looks around anew."""


@kernel
def edge_clearance(px: float, py: float, edges: Floats, corners: Floats, offset: float) -> float:
    """Give the distance of a point to the nearest edge or corner, less an offset [m]."""
    best = np.inf
    for e in range(edges.shape[0]):
        dx, dy = px - edges[e, 0], py - edges[e, 1]
        along = dx * edges[e, 2] + dy * edges[e, 3]
        above = dx * edges[e, 5] + dy * edges[e, 6]
        if 0.0 <= along <= edges[e, 4] and above > -DEPTH:
            best = min(best, above)
    for c in range(corners.shape[0]):
        dx, dy = abs(px - corners[c, 0]), abs(py - corners[c, 1])
        if dx < best and dy < best:
            best = min(best, math.hypot(dx, dy))
    return best - offset


@kernel
def clearance(
    px: float, py: float, x: Floats, y: Floats, radius: Floats, edges: Floats, corners: Floats, offset: float
) -> float:
    """Give the radius of the largest disc around a point that touches nothing [m]; negative inside a disc."""
    best = edge_clearance(px, py, edges, corners, offset)
    for k in range(x.size):
        dx, dy = px - x[k], py - y[k]
        reach = best + radius[k]
        if reach > 0.0 and dx * dx + dy * dy < reach * reach:
            best = math.sqrt(dx * dx + dy * dy) - radius[k]
    return best


@kernel
def columns_and_rows(
    clear: Floats, left: float, bottom: float, pitch: float, box: tuple[float, float, float, float]
) -> tuple[int, int, int, int]:
    """Number the first and the last but one column and row of a grid that a box of left, bottom, right, top covers."""
    return (
        max(0, int((box[0] - left) / pitch)),
        min(clear.shape[1], int((box[2] - left) / pitch) + 1),
        max(0, int((box[1] - bottom) / pitch)),
        min(clear.shape[0], int((box[3] - bottom) / pitch) + 1),
    )


@kernel
def paint_edges(
    clear: Floats, left: float, bottom: float, pitch: float, edges: Floats, corners: Floats, offset: float, reach: float
) -> None:
    """Lower a grid of clearances to what the edges leave, cells outside (below 0) left alone.

    Each edge is painted as far as a reach; a cell that nothing has reached then gets what the nearest edge leaves.
    """
    for e in range(edges.shape[0] + corners.shape[0]):
        one, none = edges[e : e + 1], corners[:0]
        if e >= edges.shape[0]:
            one, none = edges[:0], corners[e - edges.shape[0] : e - edges.shape[0] + 1]
            ax, ay, bx, by = none[0, 0], none[0, 1], none[0, 0], none[0, 1]
        else:
            ax, ay = one[0, 0], one[0, 1]
            bx, by = ax + one[0, 2] * one[0, 4], ay + one[0, 3] * one[0, 4]
        far = reach + abs(offset)
        box = (min(ax, bx) - far, min(ay, by) - far, max(ax, bx) + far, max(ay, by) + far)
        c0, c1, r0, r1 = columns_and_rows(clear, left, bottom, pitch, box)
        for r in range(r0, r1):
            for c in range(c0, c1):
                px, py = left + pitch * (c + 0.5), bottom + pitch * (r + 0.5)
                if clear[r, c] > 0.0:
                    clear[r, c] = min(clear[r, c], edge_clearance(px, py, one, none, offset))
    for r in range(clear.shape[0]):
        for c in range(clear.shape[1]):
            if clear[r, c] == np.inf:
                px, py = left + pitch * (c + 0.5), bottom + pitch * (r + 0.5)
                clear[r, c] = edge_clearance(px, py, edges, corners, offset)


@kernel
def paint_discs(
    clear: Floats, left: float, bottom: float, pitch: float, x: Floats, y: Floats, radius: Floats, reach: float
) -> None:
    """Lower a grid of clearances around each disc, as far as a reach beyond its rim."""
    for k in range(x.size):
        far = radius[k] + reach
        for r in range(
            max(0, int((y[k] - far - bottom) / pitch)), min(clear.shape[0], int((y[k] + far - bottom) / pitch) + 1)
        ):
            dy = bottom + pitch * (r + 0.5) - y[k]
            for c in range(
                max(0, int((x[k] - far - left) / pitch)), min(clear.shape[1], int((x[k] + far - left) / pitch) + 1)
            ):
                dx = left + pitch * (c + 0.5) - x[k]
                clear[r, c] = min(clear[r, c], math.sqrt(dx * dx + dy * dy) - radius[k])


@kernel
def gather(px: float, py: float, x: Floats, y: Floats, radius: Floats, reach: float, near: Floats) -> int:
    """Copy the discs whose rim lies within a reach of a point into rows of x, y, radius; gives how many."""
    count = 0
    for k in range(x.size):
        dx, dy, far = px - x[k], py - y[k], reach + radius[k]
        if abs(dx) < far and abs(dy) < far and dx * dx + dy * dy < far * far:
            near[0, count], near[1, count], near[2, count] = x[k], y[k], radius[k]
            count += 1
    return count


@kernel
def near_edges(px: float, py: float, edges: Floats, reach: float) -> Floats:
    """Copy the edges that come within a reach of a point."""
    near, count = np.empty_like(edges), 0
    for e in range(edges.shape[0]):
        dx, dy = px - edges[e, 0], py - edges[e, 1]
        along = dx * edges[e, 2] + dy * edges[e, 3]
        if -reach < along < edges[e, 4] + reach and abs(dx * edges[e, 5] + dy * edges[e, 6]) < reach:
            near[count] = edges[e]
            count += 1
    return near[:count]


@kernel
def near_tips(px: float, py: float, corners: Floats, reach: float) -> Floats:
    """Copy the corners within a reach of a point."""
    near, count = np.empty_like(corners), 0
    for k in range(corners.shape[0]):
        if math.hypot(px - corners[k, 0], py - corners[k, 1]) < reach:
            near[count] = corners[k]
            count += 1
    return near[:count]


@kernel
def climb(
    found: Floats, pitch: float, x: Floats, y: Floats, radius: Floats, edges: Floats, corners: Floats, offset: float
) -> None:
    """Move each circle (columns of x, y, radius) uphill to the nearest place where it is largest, in place.

    Only discs near by are looked at; they are gathered anew when the circle has moved so far that others may count.
    """
    near = np.empty((3, x.size))
    for q in range(found.shape[1]):
        px, py, step = found[0, q], found[1, q], pitch
        gx, gy, count = np.inf, np.inf, 0
        sides, tips = edges, corners
        best = clearance(px, py, x, y, radius, edges, corners, offset)
        for _ in range(MOST_STEPS):
            if step <= 2e-5:
                break
            if not abs(px - gx) + abs(py - gy) <= 0.25 * AROUND:
                gx, gy = px, py
                reach = max(best, 0.0) + AROUND + 2.0 * pitch
                count = gather(px, py, x, y, radius, reach, near)
                sides, tips = near_edges(px, py, edges, reach + abs(offset)), near_tips(px, py, corners, reach + offset)
            better = False
            for k in range(8):
                tx = px + step * math.cos(k * math.pi / 4.0)
                ty = py + step * math.sin(k * math.pi / 4.0)
                value = clearance(tx, ty, near[0, :count], near[1, :count], near[2, :count], sides, tips, offset)
                if value > best + 1e-9:
                    px, py, best, better = tx, ty, value, True
            if not better:
                step *= 0.5
        found[0, q], found[1, q], found[2, q] = px, py, best


@kernel
def paint_inside(clear: Floats, left: float, bottom: float, pitch: float, edges: Floats) -> None:
    """Mark which cells of a grid have their middle inside closed rings of edges: infinite inside, -1 outside."""
    across = np.empty(edges.shape[0])
    for r in range(clear.shape[0]):
        py, count = bottom + pitch * (r + 0.5), 0
        for e in range(edges.shape[0]):
            y0, y1 = edges[e, 1], edges[e, 1] + edges[e, 3] * edges[e, 4]
            if (y0 <= py) != (y1 <= py):
                across[count] = edges[e, 0] + edges[e, 2] * (py - y0) / edges[e, 3]
                count += 1
        stops = np.sort(across[:count])
        clear[r, :] = -1.0
        for q in range(0, count - 1, 2):
            for c in range(
                max(0, math.ceil((stops[q] - left) / pitch - 0.5)),
                min(clear.shape[1], math.ceil((stops[q + 1] - left) / pitch - 0.5)),
            ):
                clear[r, c] = np.inf


@kernel
def keep_apart(found: Floats, least: float, kept: Floats) -> int:
    """Copy circles of some size, largest first, each once (within a third of a radius is the same); gives how many.

    Both arrays are columns of x, y, radius; `found` is sorted from large to small.
    """
    count = 0
    for q in range(found.shape[1]):
        if found[2, q] < least:
            break
        fresh = True
        for k in range(count):
            dx, dy, r = found[0, q] - kept[0, k], found[1, q] - kept[1, k], 0.3 * kept[2, k]
            if dx * dx + dy * dy <= r * r:
                fresh = False
                break
        if fresh:
            kept[:, count] = found[:, q]
            count += 1
    return count
