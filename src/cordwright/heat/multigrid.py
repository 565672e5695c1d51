"""How are the millions of temperatures in a laid panel found in a breath?

Conjugate gradients, each step helped by one V-cycle: columns are solved exactly in depth, red and black in turn, and
the grid is coarsened along the wall only. What a fine cell takes from two coarse ones goes by what leads better, so
that steel, lintels and holes do not spoil it. Nothing but two-dimensional maps and a handful of vectors is kept.
"""

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from cordwright.base import InputError, StoppedError
from cordwright.base.lanes import LANES
from cordwright.heat import _kernels

Maps = NDArray[np.float64]
"""One map for each kind of layer, shape (kinds, rows, columns)."""
Single = NDArray[np.float32]

COARSEST: Final = 8
"""Columns either way at which no coarser grid is made."""
SWEEPS: Final = 1
MOST_ITERATIONS: Final = 60

Told = Callable[[int, float], None]
"""Told the iteration and what is still lacking, as a share [1]."""
Cancelled = Callable[[], bool]


@dataclass(frozen=True, slots=True, kw_only=True)
class Conductances:
    """A panel as the solver sees it: conductances along the wall and in depth.

    `across_x`, `across_y`, for each kind of layer: of a whole cell from edge to edge, for unit thickness [W/(m K)],
    shape (kinds, rows, columns). `faces`: in depth [W/K], or for unit inverse distance where `scale` is not 1, shape
    (patterns, rows, columns). `own`: what a cell gives to a temperature of 0 by itself, for unit thickness (a shift in
    time, say), None for nothing. `lay`, `thick` [m]: kind and thickness of every cell in depth, outside first;
    `pattern`, `scale`: of the faces from the outside air to the inside air, one more than cells.
    """

    across_x: Maps
    across_y: Maps
    faces: Maps
    own: Maps | None
    lay: NDArray[np.int64]
    thick: NDArray[np.float64]
    pattern: NDArray[np.int64]
    scale: NDArray[np.float64]

    @property
    def shape(self) -> tuple[int, int, int]:
        """Depths, rows, columns."""
        return self.thick.size, self.across_x.shape[1], self.across_x.shape[2]


@dataclass(frozen=True, slots=True, kw_only=True)
class Level:
    """One grid of the cycle, laid out for the kernels."""

    gx: Single
    gy: Single
    cz: Single
    wx: Single
    wy: Single
    own: Single
    pivot: Single
    v: Single
    b: Single


@dataclass(frozen=True, slots=True, kw_only=True)
class Solved:
    """Temperatures [1] of every cell, (depths, rows, columns), and how they were reached."""

    temperature: Single
    iterations: int
    residual: float


def _whole(halves: int) -> int:
    """Room for so many cells in whole vectors of the machine, dead cells at the end."""
    return -(-halves // LANES) * LANES


def split(maps: NDArray[np.float64] | Single) -> Single:
    """Lay maps (..., rows, columns) out as (rows + 2, 2, ..., halves + 2) with a ghost rim of zeros."""
    *kinds, rows, columns = maps.shape
    halves = (columns + 1) // 2
    out = np.zeros((rows + 2, 2, *kinds, _whole(halves) + 2), np.float32)
    by_row = np.moveaxis(maps, -2, 0)
    out[1:-1, 0, ..., 1 : 1 + halves] = by_row[..., 0::2]
    out[1:-1, 1, ..., 1 : 1 + columns // 2] = by_row[..., 1::2]
    return out


def joined(parts: Single, columns: int) -> Single:
    """Undo `split` for one vector: (depths, rows, columns)."""
    rows, halves = parts.shape[0] - 2, (columns + 1) // 2
    out = np.empty((parts.shape[2], rows, columns), np.float32)
    out[..., 0::2] = np.moveaxis(parts[1:-1, 0, :, 1 : 1 + halves], 0, 1)
    out[..., 1::2] = np.moveaxis(parts[1:-1, 1, :, 1 : 1 + columns // 2], 0, 1)
    return out


def _series(a: Maps, b: Maps) -> Maps:
    """Two conductances one after the other; nothing where either leads nothing."""
    total = a + b
    return np.divide(a * b, total, out=np.zeros_like(total), where=total > 0)


def _live_series(a: Maps, b: Maps) -> Maps:
    """As `_series`, but a cell half of which is missing leads what its other half leads."""
    return np.where(a * b > 0, _series(a, b), np.maximum(a, b))


def _share(own: Maps, other: Maps) -> Maps:
    """Weight of the coarse cell beyond the neighbour in a fine cell's temperature [1]."""
    total = own + other
    return np.divide(other, 2 * total, out=np.zeros_like(total), where=(total > 0) & (own > 0) & (other > 0))


def _even(maps: Maps) -> Maps:
    """Maps with an even number of rows and columns, dead cells added."""
    rows, columns = maps.shape[-2:]
    return np.pad(maps, ((0, 0), (0, rows % 2), (0, columns % 2))) if rows % 2 or columns % 2 else maps


def _fine_faces(across: Maps, axis: int) -> Maps:
    """Conductance to the next cell along an axis from that of whole cells; 0 at the far edge."""
    out = np.zeros_like(across)
    own, after = _pair(across, axis)
    _pair(out, axis)[0][...] = 2 * _series(own, after)
    return out


def _pair(maps: Maps, axis: int) -> tuple[Maps, Maps]:
    if axis == -1:
        return maps[..., :-1], maps[..., 1:]
    return maps[..., :-1, :], maps[..., 1:, :]


def _weights(across: Maps, axis: int) -> Maps:
    """For each cell, the share of the coarse neighbour on its side along an axis."""
    w = np.zeros_like(across)
    a = np.moveaxis(across, axis, -1)
    out = np.moveaxis(w, axis, -1)
    out[..., 2::2] = _share(a[..., 2::2], a[..., 1:-1:2])
    inner = a[..., 1::2]
    after = a[..., 2::2]
    n = after.shape[-1]
    out[..., 1::2][..., :n] = _share(inner[..., :n], after)
    return w


def _red(maps: Maps) -> Single:
    """Of each row only the cells of the first colour: (rows + 2, kinds, halves)."""
    kinds, rows, columns = maps.shape
    halves = (columns + 1) // 2
    out = np.zeros((rows + 2, kinds, _whole(halves)), np.float32)
    out[1:-1:2, :, :halves] = np.moveaxis(maps[:, 0::2, 0::2], 1, 0)
    out[2:-1:2, :, : columns // 2] = np.moveaxis(maps[:, 1::2, 1::2], 1, 0)
    return out


@dataclass(frozen=True, slots=True, kw_only=True)
class _Maps:
    """Maps of one grid: whole cells, faces between neighbours, faces in depth, own."""

    x: Maps
    y: Maps
    gx: Maps
    gy: Maps
    cz: Maps
    own: Maps


def _grids(panel: Conductances) -> Iterator[_Maps]:
    own = np.zeros_like(panel.across_x) if panel.own is None else panel.own
    grid = _Maps(
        x=panel.across_x,
        y=panel.across_y,
        gx=_fine_faces(panel.across_x, -1),
        gy=_fine_faces(panel.across_y, -2),
        cz=panel.faces,
        own=own,
    )
    yield grid
    while max(grid.x.shape[1:]) > COARSEST:
        grid = _coarser(grid)
        yield grid


def _coarser(grid: _Maps) -> _Maps:
    """Two by two cells in one: one after the other along the way, side by side across it."""
    x, y = _even(grid.x), _even(grid.y)
    gx, gy = np.zeros(_half(x)), np.zeros(_half(y))
    inner = _series(x[..., 1:-1:2], x[..., 2::2])
    gx[..., :-1] = inner[:, 0::2] + inner[:, 1::2]
    inner = _series(y[:, 1:-1:2], y[:, 2::2])
    gy[:, :-1] = inner[..., 0::2] + inner[..., 1::2]
    whole_x = _live_series(x[..., 0::2], x[..., 1::2])
    whole_y = _live_series(y[:, 0::2], y[:, 1::2])
    return _Maps(
        x=whole_x[:, 0::2] + whole_x[:, 1::2],
        y=whole_y[..., 0::2] + whole_y[..., 1::2],
        gx=gx,
        gy=gy,
        cz=_fours(_even(grid.cz)),
        own=_fours(_even(grid.own)),
    )


def _half(maps: Maps) -> tuple[int, int, int]:
    return maps.shape[0], maps.shape[1] // 2, maps.shape[2] // 2


def _fours(maps: Maps) -> Maps:
    rows = maps[:, 0::2] + maps[:, 1::2]
    return np.asarray(rows[..., 0::2] + rows[..., 1::2])


class Cycle:
    """The grids of one panel, ready to solve for any heat put in."""

    def __init__(self, panel: Conductances) -> None:
        self.shape = panel.shape
        self.lay, self.pattern = panel.lay, panel.pattern
        self.thick, self.scale = panel.thick.astype(np.float32), panel.scale.astype(np.float32)
        self.held = panel.own is not None
        self.levels = tuple(self._level(grid, finest=n == 0) for n, grid in enumerate(_grids(panel)))

    def _level(self, grid: _Maps, *, finest: bool) -> Level:
        depth = self.shape[0]
        gx, gy, cz, own = split(grid.gx), split(grid.gy), split(grid.cz), split(grid.own)
        rows, _, _, halves = gx.shape
        pivot = np.zeros((rows, 2, depth, halves), np.float32)
        _kernels.make_pivots(pivot, gx, gy, cz, own, self.lay, self.thick, self.pattern, self.scale, depth)
        return Level(
            gx=gx,
            gy=gy,
            cz=cz,
            wx=_red(_weights(grid.x, -1)),
            wy=_red(_weights(grid.y, -2)),
            own=own,
            pivot=pivot,
            v=np.zeros_like(pivot),
            b=np.zeros((0, 0, 0, 0), np.float32) if finest else np.zeros_like(pivot),
        )

    def leaving(self, temperature: NDArray[np.float64]) -> NDArray[np.float64]:
        """Heat that leaves every cell for the temperatures given [W], (depths, rows, columns).

        Args:
            temperature: of every cell, same shape.
        """
        finest = self.levels[0]
        finest.v[...] = split(temperature)
        p = np.zeros_like(finest.v)
        common = (self.lay, self.thick, self.pattern, self.scale, self.held)
        _kernels.direction(p, finest.v, 0.0, finest.gx, finest.gy, finest.cz, finest.own, *common)
        return joined(finest.v, self.shape[2]).astype(np.float64)

    def _precondition(self, r: Single) -> float:
        """One V-cycle on what is lacking; the answer stands in the finest level's v. Gives its product with r."""
        product = 0.0
        last = len(self.levels) - 1
        common = (self.lay, self.thick, self.pattern, self.scale)
        for n, level in enumerate(self.levels[:-1]):
            b, below = (r if n == 0 else level.b), self.levels[n + 1]
            maps = (level.pivot, level.gx, level.gy, level.cz, level.wx, level.wy)
            _kernels.descend(level.v, b, *maps, *common, below.b)
        end = self.levels[last]
        b = r if last == 0 else end.b
        _kernels.bottom(end.v, b, end.pivot, end.gx, end.gy, end.cz, *common, SWEEPS)
        for n in range(last - 1, -1, -1):
            level, below = self.levels[n], self.levels[n + 1]
            b = r if n == 0 else level.b
            maps = (level.pivot, level.gx, level.gy, level.cz, level.wx, level.wy)
            product = _kernels.ascend(level.v, b, *maps, *common, below.v)
        return product if last else float(np.multiply(end.v, r, dtype=np.float64).sum())

    def solve(
        self,
        heat: NDArray[np.float64],
        *,
        tolerance: float = 1e-6,
        start: Single | None = None,
        told: Told | None = None,
        cancelled: Cancelled | None = None,
    ) -> Solved:
        """Find the temperatures that carry off the heat put into each cell.

        Args:
            heat: put in [W], shape (depths, rows, columns).
            tolerance: of what may be lacking, as a share of the heat put in [1].
            start: temperatures to begin with; None begins with zero.
            told: told every step.
            cancelled: asked at every step.

        Raises:
            StoppedError: cancelled.
            InputError: not found within `MOST_ITERATIONS`.
        """
        r = split(heat)
        norm = math.sqrt(_square(r))
        x = np.zeros_like(r)
        p = np.zeros_like(r)
        if start is not None:
            self._begin(x, r, p, start)
        lacking, before, steps = norm if start is None else math.sqrt(_square(r)), 1.0, 0
        while norm > 0 and lacking > tolerance * norm:
            if cancelled is not None and cancelled():
                raise StoppedError("the heat of the panel was stopped")
            if steps >= MOST_ITERATIONS:
                raise InputError(f"the temperatures were not found in {steps} steps ({lacking / norm:.1e} is lacking)")
            product = self._precondition(r)
            beta = product / before if steps else 0.0
            z = self.levels[0].v
            finest = self.levels[0]
            common = (self.lay, self.thick, self.pattern, self.scale, self.held)
            work = _kernels.direction(p, z, beta, finest.gx, finest.gy, finest.cz, finest.own, *common)
            lacking = math.sqrt(_kernels.advance(x, r, p, z, product / work))
            before = product
            steps += 1
            if told is not None:
                told(steps, lacking / norm)
        return Solved(temperature=joined(x, self.shape[2]), iterations=steps, residual=lacking / norm if norm else 0.0)

    def _begin(self, x: Single, r: Single, p: Single, start: Single) -> None:
        """Take temperatures to begin with and what they leave lacking."""
        finest = self.levels[0]
        x[...] = split(start)
        finest.v[...] = x
        common = (self.lay, self.thick, self.pattern, self.scale, self.held)
        _kernels.direction(p, finest.v, 0.0, finest.gx, finest.gy, finest.cz, finest.own, *common)
        r -= finest.v
        p[...] = 0.0


def _square(r: Single) -> float:
    """Sum of squares in double precision, and not by a library that would wake other threads for it."""
    return float(np.einsum("yskx,yskx->", r, r, dtype=np.float64))
