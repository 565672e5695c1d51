"""What does heat do where parts of a building meet: at a corner, a slab, a bar that sticks out of the wall?

Any body of upright blocks between any number of airs, cut into cells and solved by a matrix: slower than the panel's
own solver and bound to no layers. It is the second opinion on that solver too.
"""

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

import numpy as np
from numpy.typing import NDArray

from cordwright.base import InputError

if TYPE_CHECKING:
    from scipy.sparse import csr_matrix

Floats = NDArray[np.float64]
Edges = tuple[Floats, Floats, Floats]
TOUCHING: Final = 1e-9
"""Surface resistance that stands for none [m2 K/W]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Block:
    """A block from `low` to `high` (x, y, z) [m]: of a material [W/(m K)], or filled by an air named `air`."""

    low: tuple[float, float, float]
    high: tuple[float, float, float]
    conductivity: float = 0.0
    air: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Air:
    """An air (or a face held at a temperature): its temperature [degC] and surface resistance [m2 K/W]."""

    temperature: float
    resistance: float = TOUCHING


@dataclass(frozen=True, slots=True, kw_only=True)
class Junction:
    """A body solved: temperatures of its cells [degC], NaN in air, and the heat that each air gives it [W].

    `edges`: of the cells in x, y and z [m]; `conductivity` [W/(m K)] and `temperature` of shape (x, y, z).
    """

    edges: Edges
    conductivity: Floats
    temperature: Floats
    surface: tuple[tuple[str, Floats], ...]
    heat: dict[str, float]

    def at(self, x: float, y: float, z: float) -> float:
        """Temperature at a point [degC]: of the cells about it, by how well each leads to it."""
        near = [_cells_at(edge, value) for edge, value in zip(self.edges, (x, y, z), strict=True)]
        total, weight = 0.0, 0.0
        for cell in itertools.product(*near):
            k = float(self.conductivity[cell])
            if k > 0:
                total += k * float(self.temperature[cell])
                weight += k
        if weight == 0:
            raise InputError("there is no material about this point")
        return total / weight

    def coldest(self, air: str) -> float:
        """Lowest temperature of the surface that an air touches [degC]."""
        return min(float(found.min()) for name, found in self.surface if name == air)

    def warmest(self, air: str) -> float:
        """Highest temperature of the surface that an air touches [degC]."""
        return max(float(found.max()) for name, found in self.surface if name == air)


def _cells_at(edges: Floats, value: float) -> list[int]:
    """The one or two cells that a place lies in or between."""
    n = int(np.argmin(np.abs(edges - value)))
    if abs(float(edges[n]) - value) < 1e-9:
        return [m for m in (n - 1, n) if 0 <= m < edges.size - 1]
    return [int(np.searchsorted(edges, value)) - 1]


def solve_junction(blocks: Sequence[Block], airs: dict[str, Air], edges: Edges, *, tolerance: float = 1e-9) -> Junction:
    """Solve a body of blocks; a later block takes the place of an earlier one, the outermost faces are closed to heat.

    Args:
        blocks: materials and airs; the edges follow them.
        airs: by name.
        edges: of the cells in x, y and z [m].
        tolerance: of what may be lacking, as a share [1].

    Raises:
        InputError: cells that neither a material nor an air fills, or a system that was not solved.

    Sources: closed form, finite volumes.
    """
    conductivity, owner = _fill(blocks, tuple(airs), edges)
    number = np.full(conductivity.shape, -1)
    solid = conductivity > 0
    number[solid] = np.arange(int(solid.sum()))
    matrix, source, contacts = _system(conductivity, owner, number, airs, edges)
    unknown = _solved(matrix, source, tolerance)
    temperature = np.full(conductivity.shape, math.nan)
    temperature[solid] = unknown
    heat = dict.fromkeys(airs, 0.0)
    surface = []
    for name, cells, conductance, area in contacts:
        air = airs[name]
        flow = conductance * (air.temperature - unknown[cells])
        heat[name] += float(flow.sum())
        surface.append((name, air.temperature - flow / area * air.resistance))
    return Junction(edges=edges, conductivity=conductivity, temperature=temperature, surface=tuple(surface), heat=heat)


def _fill(blocks: Sequence[Block], airs: tuple[str, ...], edges: Edges) -> tuple[Floats, NDArray[np.int64]]:
    shape = tuple(e.size - 1 for e in edges)
    conductivity, owner = np.zeros(shape), np.full(shape, -1)
    middles = [(e[:-1] + e[1:]) / 2 for e in edges]
    for block in blocks:
        inside = [(m > a) & (m < b) for m, a, b in zip(middles, block.low, block.high, strict=True)]
        where = np.ix_(*inside)
        conductivity[where] = 0.0 if block.air else block.conductivity
        owner[where] = airs.index(block.air) if block.air else -1
    if ((conductivity <= 0) & (owner < 0)).any():
        raise InputError("some cells hold neither a material nor an air")
    return conductivity, owner


Contact = tuple[str, NDArray[np.int64], Floats, Floats]


def _system(
    k: Floats, owner: NDArray[np.int64], number: NDArray[np.int64], airs: dict[str, Air], edges: Edges
) -> "tuple[csr_matrix, Floats, list[Contact]]":
    """The matrix, what the airs put in, and where each air touches: cells, conductance [W/K] and area [m2]."""
    from scipy.sparse import coo_matrix

    count = int((number >= 0).sum())
    diagonal, source = np.zeros(count), np.zeros(count)
    rows, columns, values = [], [], []
    contacts: list[Contact] = []
    names = tuple(airs)
    for axis in range(3):
        near, far, half_near, half_far, area = _faces(k, edges, axis)
        a, b = number.ravel()[near], number.ravel()[far]
        both = (a >= 0) & (b >= 0)
        g = area[both] / (half_near[both] + half_far[both])
        np.add.at(diagonal, a[both], g)
        np.add.at(diagonal, b[both], g)
        rows += [a[both], b[both]]
        columns += [b[both], a[both]]
        values += [-g, -g]
        for cells, others, half in ((a, far, half_near), (b, near, half_far)):
            touch = (cells >= 0) & (owner.ravel()[others] >= 0)
            for n, name in enumerate(names):
                here = touch & (owner.ravel()[others] == n)
                if not here.any():
                    continue
                g = area[here] / (half[here] + airs[name].resistance)
                np.add.at(diagonal, cells[here], g)
                np.add.at(source, cells[here], g * airs[name].temperature)
                contacts.append((name, cells[here], g, area[here]))
    rows.append(np.arange(count))
    columns.append(np.arange(count))
    values.append(diagonal)
    parts = (np.concatenate(values), (np.concatenate(rows), np.concatenate(columns)))
    return coo_matrix(parts, shape=(count, count)).tocsr(), source, contacts


def _faces(k: Floats, edges: Edges, axis: int) -> tuple[NDArray[np.int64], NDArray[np.int64], Floats, Floats, Floats]:
    """All faces across an axis: the cells on both sides, the resistance of half of each [m2 K/W], and areas [m2]."""
    index = np.arange(k.size).reshape(k.shape)
    near = np.take(index, range(k.shape[axis] - 1), axis=axis)
    far = np.take(index, range(1, k.shape[axis]), axis=axis)
    widths = [np.diff(e) for e in edges]
    shaped = [w.reshape([-1 if n == m else 1 for m in range(3)]) for n, w in enumerate(widths)]
    area = np.ones(k.shape)
    for n in range(3):
        if n != axis:
            area = area * shaped[n]
    half = np.divide(np.broadcast_to(shaped[axis], k.shape), 2 * k, out=np.zeros(k.shape), where=k > 0)
    flat = area.ravel()[near.ravel()]
    return near.ravel(), far.ravel(), half.ravel()[near.ravel()], half.ravel()[far.ravel()], flat


MOST_DIRECT: Final = 60_000
"""Flat bodies up to so many cells are solved directly; others step by step."""


def _solved(matrix: "csr_matrix", source: Floats, tolerance: float) -> Floats:
    from scipy.sparse import diags
    from scipy.sparse.linalg import cg, spsolve

    if matrix.nnz <= 5.05 * source.size and source.size <= MOST_DIRECT:
        return np.asarray(spsolve(matrix.tocsc(), source))
    found, state = cg(matrix, source, rtol=tolerance, maxiter=20_000, M=diags(1 / matrix.diagonal()))
    if state != 0:
        raise InputError("the temperatures of the junction were not found")
    return np.asarray(found)


def graded_edges(stops: Sequence[float], finest: float, ratio: float = 1.4) -> Floats:
    """Edges through given stops, fine at each stop and coarser between [m].

    Args:
        stops: where something begins or ends, rising [m].
        finest: breadth of the cell at a stop [m].
        ratio: of a cell to its neighbour nearer a stop [1].
    """
    edges = [stops[0]]
    for a, b in itertools.pairwise(stops):
        sizes: list[float] = []
        size, total = finest, 0.0
        while total + size < (b - a) / 2:
            sizes.append(size)
            total += size
            size *= ratio
        half = np.array(sizes) if sizes else np.array([(b - a) / 2])
        half *= (b - a) / 2 / half.sum()
        edges.extend((edges[-1] + np.cumsum(np.concatenate((half, half[::-1])))).tolist())
        edges[-1] = b
    return np.array(edges)
