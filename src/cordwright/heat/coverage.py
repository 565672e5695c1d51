"""How much of every cell of a panel is log, and which way does the edge between log and joint run there?

Discs are taken by closed form, so that the wood fraction is exact on any grid; splits, openings and odd outlines as
polygons, exact too.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from cordwright.heat import _kernels

Floats = NDArray[np.float64]
Point = tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Logs:
    """Round log ends: places and radii [m], conductivities along and across the grain [W/(m K)], all of shape (n,)."""

    x: Floats
    y: Floats
    radius: Floats
    along: Floats
    across: Floats


@dataclass(frozen=True, slots=True, kw_only=True)
class Split:
    """A half or quarter as a polygon [m], with its conductivities [W/(m K)]."""

    outline: tuple[Point, ...]
    along: float
    across: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Cover:
    """Share of every cell that is log [1], and summed over that share: conductivities along, across, and 1 / across.

    All of shape (rows, columns); along and across in [W/(m K)].
    """

    share: Floats
    along: Floats
    across: Floats
    inverse: Floats


def disc_area(x0: float, x1: float, y0: float, y1: float, radius: float) -> float:
    """Area that an upright rectangle shares with a disc about the origin [m2].

    Args:
        x0: left edge [m].
        x1: right edge [m].
        y0: lower edge [m].
        y1: upper edge [m].
        radius: of the disc [m].

    Sources: closed form.
    """
    return float(_kernels.disc_in_cell(x0, x1, y0, y1, radius))


def cover(logs: Logs, splits: Sequence[Split], xe: Floats, ye: Floats) -> Cover:
    """Lay log ends over a grid.

    Args:
        logs: the rounds.
        splits: halves and quarters.
        xe: edges of the columns [m], shape (columns + 1,).
        ye: edges of the rows [m], shape (rows + 1,).
    """
    share, along, across, inverse = (np.zeros((ye.size - 1, xe.size - 1)) for _ in range(4))
    _kernels.cover_discs(share, along, across, inverse, xe, ye, logs.x, logs.y, logs.radius, logs.along, logs.across)
    for part in splits:
        f = polygon_share(part.outline, xe, ye)
        share += f
        along += f * part.along
        across += f * part.across
        inverse += f / part.across
    return Cover(share=share, along=along, across=across, inverse=inverse)


def polygon_share(outline: Sequence[Point], xe: Floats, ye: Floats) -> Floats:
    """Share of every cell that lies inside a simple polygon [1], shape (rows, columns); closed form.

    Every edge adds what lies to its left within each row: upward edges add, downward ones take away.

    Args:
        outline: corners, either way round [m].
        xe: edges of the columns [m].
        ye: edges of the rows [m].
    """
    area = np.zeros((ye.size - 1, xe.size - 1))
    widths, total = np.diff(xe), 0.0
    for (x0, y0), (x1, y1) in zip(outline, (*outline[1:], outline[0]), strict=True):
        total += x0 * y1 - x1 * y0
        for (ax, ay), (bx, by) in _pieces((x0, y0), (x1, y1), xe, ye):
            row = int(np.searchsorted(ye, (ay + by) / 2, side="right")) - 1
            if not 0 <= row < area.shape[0]:
                continue
            middle, rise = (ax + bx) / 2, by - ay
            column = int(np.searchsorted(xe, middle, side="right")) - 1
            inside = min(max(column, 0), widths.size)
            area[row, :inside] += rise * widths[:inside]
            if 0 <= column < widths.size:
                area[row, column] += rise * (middle - xe[column])
    return area * math.copysign(1.0, total) / (widths * np.diff(ye)[:, None])


def _pieces(start: Point, end: Point, xe: Floats, ye: Floats) -> Iterator[tuple[Point, Point]]:
    """Cut an edge where it crosses a line of the grid."""
    (x0, y0), (x1, y1) = start, end
    if y0 == y1:
        return
    cuts = [0.0, 1.0]
    for a, b, lines in ((x0, x1, xe), (y0, y1, ye)):
        if a != b:
            inner = lines[(lines > min(a, b)) & (lines < max(a, b))]
            cuts.extend(((inner - a) / (b - a)).tolist())
    stops = sorted(cuts)
    points = [(x0 + t * (x1 - x0), y0 + t * (y1 - y0)) for t in stops]
    yield from pairwise(points)


def edge_direction(share: Floats, xe: Floats, ye: Floats) -> tuple[Floats, Floats]:
    """Squares of the direction across the edge between log and joint in every cell, (x, y); a half where none runs.

    Args:
        share: of every cell that is log [1].
        xe: edges of the columns [m].
        ye: edges of the rows [m].
    """
    x, y = (xe[:-1] + xe[1:]) / 2, (ye[:-1] + ye[1:]) / 2
    along_x = np.gradient(share, x, axis=1) if x.size > 1 else np.zeros_like(share)
    along_y = np.gradient(share, y, axis=0) if y.size > 1 else np.zeros_like(share)
    square = along_x**2 + along_y**2
    part = np.divide(along_x**2, square, out=np.full_like(share, 0.5), where=square > 0)
    return part, 1 - part
