"""Where is room left between log ends, and how much?"""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from cordwright.wall import _gap_kernels as kernels
from cordwright.wall import region as regions
from cordwright.wall.region import Floats, Region

ALL = 10**9
"""More gaps than any panel has."""


def empty_circles(
    region: Region, offset: float, discs: tuple[Floats, Floats, Floats], least: float, most: int = ALL
) -> Sequence[tuple[float, float, float]]:
    """Give the circles that fit between discs and edges: centre and radius [m], the largest first.

    Args:
        region: where to look.
        offset: what an edge keeps beyond a disc's radius [m].
        discs: centres x, centres y and radii, shape (n,) each [m].
        least: smallest radius looked for [m].
        most: how many of the widest are wanted.
    """
    x, y, radius = discs
    pitch = max(0.008, min(0.02, least / 2))
    left, bottom, right, top = region.shape.bounds
    columns, rows = int((right - left) / pitch) + 1, int((top - bottom) / pitch) + 1
    gx = left + pitch * (np.arange(columns) + 0.5)
    gy = bottom + pitch * (np.arange(rows) + 0.5)
    clear = np.empty((rows, columns))
    kernels.paint_inside(clear, left, bottom, pitch, region.edges)
    kernels.paint_discs(clear, left, bottom, pitch, x, y, radius, least + 2 * pitch)
    kernels.paint_edges(clear, left, bottom, pitch, region.edges, region.corners, offset, least + 2 * pitch)
    rows_at, columns_at = _peaks(clear, least - pitch)
    found = np.array([gx[columns_at], gy[rows_at], clear[rows_at, columns_at]])
    order = np.argsort(-found[2], kind="stable")[: 4 * most]
    found = np.ascontiguousarray(found[:, order])
    kernels.climb(found, pitch, x, y, radius, region.edges, region.corners, offset)
    inside = regions.contains(region, found[0], found[1])
    return _apart(found[:, inside], least)[:most]


def _peaks(clear: Floats, least: float) -> tuple[NDArray[np.intp], NDArray[np.intp]]:
    padded = np.pad(clear, 1, constant_values=-1.0)
    rows, columns = clear.shape
    around = [padded[a : a + rows, b : b + columns] for a in range(3) for b in range(3) if (a, b) != (1, 1)]
    top = np.logical_and.reduce([clear >= other for other in around])
    found = np.nonzero(top & (clear > least))
    return found[0], found[1]


def _apart(found: Floats, least: float) -> list[tuple[float, float, float]]:
    """Keep circles of some size, each once, largest first."""
    ordered = np.ascontiguousarray(found[:, np.argsort(-found[2], kind="stable")])
    kept = np.empty_like(ordered)
    count = kernels.keep_apart(ordered, least, kept)
    return [(x, y, radius) for x, y, radius in kept[:, :count].T.tolist()]
