"""Along which lines does a map have one value? Level lines over a grid of points, as runs to be drawn."""

from collections.abc import Callable, Iterator, Sequence

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Point = tuple[float, float]
Key = tuple[int, int, bool]
"""An edge of the grid: row, column, and whether it runs along x."""

CROSSED: tuple[tuple[tuple[int, int], ...], ...] = (
    (), ((3, 0),), ((0, 1),), ((3, 1),), ((1, 2),), ((3, 2), (1, 0)), ((0, 2),), ((3, 2),),
    ((2, 3),), ((2, 0),), ((0, 1), (2, 3)), ((2, 1),), ((1, 3),), ((1, 0),), ((0, 3),), (),
)  # fmt: skip
"""Which sides of a square a level line joins, by which corners lie over it; sides counted from the lower one."""


def level_lines(x: Floats, y: Floats, values: Floats, level: float) -> tuple[tuple[Point, ...], ...]:
    """Runs of points along which a map has one value; closed runs end where they begin.

    Args:
        x: places of the columns, rising.
        y: places of the rows, rising.
        values: shape (rows, columns); squares with a corner that is not known are passed over.
        level: the value.
    """
    return tuple(_runs(list(_pieces(values, level)), lambda key: _place(key, x, y, values, level)))


def _pieces(values: Floats, level: float) -> Iterator[tuple[Key, Key]]:
    """One short line for each way a level line passes a square, as the two edges it crosses."""
    over = values > level
    known = np.isfinite(values)
    square = known[:-1, :-1] & known[:-1, 1:] & known[1:, :-1] & known[1:, 1:]
    case = over[:-1, :-1] + 2 * over[:-1, 1:] + 4 * over[1:, 1:] + 8 * over[1:, :-1]
    rows, columns = np.nonzero(square & (case > 0) & (case < 15))
    for j, i in zip(rows.tolist(), columns.tolist(), strict=True):
        sides: tuple[Key, Key, Key, Key] = ((j, i, True), (j, i + 1, False), (j + 1, i, True), (j, i, False))
        for a, b in CROSSED[int(case[j, i])]:
            yield sides[a], sides[b]


def _place(key: Key, x: Floats, y: Floats, values: Floats, level: float) -> Point:
    """Where a level line crosses an edge of the grid."""
    j, i, level_edge = key
    other = (j, i + 1) if level_edge else (j + 1, i)
    a, b = float(values[j, i]), float(values[other])
    t = (level - a) / (b - a)
    x0, y0, x1, y1 = float(x[i]), float(y[j]), float(x[other[1]]), float(y[other[0]])
    return x0 + t * (x1 - x0), y0 + t * (y1 - y0)


def _runs(pieces: Sequence[tuple[Key, Key]], place: Callable[[Key], Point]) -> Iterator[tuple[Point, ...]]:
    """Join pieces that meet on an edge into runs."""
    at: dict[Key, list[int]] = {}
    for n, piece in enumerate(pieces):
        for key in piece:
            at.setdefault(key, []).append(n)
    left = set(range(len(pieces)))
    ends = [n for n, piece in enumerate(pieces) if any(len(at[key]) == 1 for key in piece)]
    for n in (*ends, *range(len(pieces))):
        if n not in left:
            continue
        start, end = pieces[n]
        if len(at[end]) == 1 and len(at[start]) > 1:
            start, end = end, start
        left.discard(n)
        run = [start, end]
        while following := [m for m in at[run[-1]] if m in left]:
            left.discard(following[0])
            a, b = pieces[following[0]]
            run.append(b if a == run[-1] else a)
        yield tuple(place(key) for key in run)
