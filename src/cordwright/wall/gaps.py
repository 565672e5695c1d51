"""Where is room left between log ends, and how much?"""

import math
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from cordwright.wall import _gap_kernels as kernels
from cordwright.wall import region as regions
from cordwright.wall.region import Floats, Region


def empty_circles(
    region: Region, offset: float, discs: tuple[Floats, Floats, Floats], least: float
) -> Sequence[tuple[float, float, float]]:
    """Give the circles that fit between discs and edges: centre and radius [m], the largest first.

    Args:
        region: where to look.
        offset: what an edge keeps beyond a disc's radius [m].
        discs: centres x, centres y and radii, shape (n,) each [m].
        least: smallest radius looked for [m].
    """
    x, y, radius = discs
    pitch = max(0.008, min(0.02, least / 2))
    left, bottom, right, top = region.shape.bounds
    columns, rows = int((right - left) / pitch) + 1, int((top - bottom) / pitch) + 1
    gx = left + pitch * (np.arange(columns) + 0.5)
    gy = bottom + pitch * (np.arange(rows) + 0.5)
    clear = np.where(regions.contains(region, *np.meshgrid(gx, gy)), np.inf, -1.0)
    kernels.paint_edges(clear, left, bottom, pitch, region.edges, region.corners, offset)
    kernels.paint_discs(clear, left, bottom, pitch, x, y, radius, least + 2 * pitch)
    rows_at, columns_at = _peaks(clear, least - pitch)
    found = np.array([gx[columns_at], gy[rows_at], clear[rows_at, columns_at]])
    order = np.argsort(-found[2], kind="stable")
    found = np.ascontiguousarray(found[:, order])
    kernels.climb(found, pitch, x, y, radius, region.edges, region.corners, offset)
    inside = regions.contains(region, found[0], found[1])
    return _apart(found[:, inside], least)


def _peaks(clear: Floats, least: float) -> tuple[NDArray[np.intp], NDArray[np.intp]]:
    padded = np.pad(clear, 1, constant_values=-1.0)
    rows, columns = clear.shape
    around = [padded[a : a + rows, b : b + columns] for a in range(3) for b in range(3) if (a, b) != (1, 1)]
    top = np.logical_and.reduce([clear >= other for other in around])
    found = np.nonzero(top & (clear > least))
    return found[0], found[1]


def _apart(found: Floats, least: float) -> list[tuple[float, float, float]]:
    """Keep circles of some size, each once, largest first."""
    circles: list[tuple[float, float, float]] = []
    order = np.argsort(-found[2], kind="stable")
    for x, y, radius in found[:, order].T.tolist():
        if radius < least:
            break
        if all(math.hypot(x - a, y - b) > 0.3 * r for a, b, r in circles):
            circles.append((x, y, radius))
    return circles
