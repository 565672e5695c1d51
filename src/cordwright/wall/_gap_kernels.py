"""How far is a point from the nearest log end or edge? Compiled."""

import math

import numpy as np

from cordwright.base.kernel import kernel
from cordwright.wall._kernels import DEPTH, Floats

MOST_STEPS = 200
"""A climb ends after so many steps, wherever it is."""


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
        best = min(best, math.hypot(px - corners[c, 0], py - corners[c, 1]))
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
def paint_edges(
    clear: Floats, left: float, bottom: float, pitch: float, edges: Floats, corners: Floats, offset: float
) -> None:
    """Lower a grid of clearances to what the edges leave, where it is not outside already."""
    for r in range(clear.shape[0]):
        for c in range(clear.shape[1]):
            if clear[r, c] > 0.0:
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
def climb(
    found: Floats, pitch: float, x: Floats, y: Floats, radius: Floats, edges: Floats, corners: Floats, offset: float
) -> None:
    """Move each circle (columns of x, y, radius) uphill to the nearest place where it is largest, in place."""
    for q in range(found.shape[1]):
        px, py = found[0, q], found[1, q]
        best = clearance(px, py, x, y, radius, edges, corners, offset)
        step = pitch
        for _ in range(MOST_STEPS):
            if step <= 2e-5:
                break
            better = False
            for k in range(8):
                tx = px + step * math.cos(k * math.pi / 4.0)
                ty = py + step * math.sin(k * math.pi / 4.0)
                value = clearance(tx, ty, x, y, radius, edges, corners, offset)
                if value > best + 1e-9:
                    px, py, best, better = tx, ty, value, True
            if not better:
                step *= 0.5
        found[0, q], found[1, q], found[2, q] = px, py, best
