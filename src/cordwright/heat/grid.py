"""Into which cells is a panel cut, fine where materials meet and coarse between?"""

import math
from collections.abc import Sequence
from itertools import pairwise
from typing import Final

import numpy as np
from numpy.typing import NDArray

RATIO: Final = 1.4
"""How much a cell through the wall may be thicker than its neighbour nearer a face [1]."""
NEAR: Final = 0.6
"""Edges nearer than this share of a cell become one."""


def graded(
    thicknesses: Sequence[float], finest: float, largest: float = math.inf
) -> tuple[NDArray[np.float64], NDArray[np.int64]]:
    """Cut layers into cells that are thin at every face between layers and grow by `RATIO` away from it.

    Args:
        thicknesses: of the layers, outside first [m].
        finest: thickness of the cell at a face [m]; thinner where a layer asks for it.
        largest: thickness of no cell is more [m]; what comes and goes with time wants it, what lasts does not.

    Returns:
        thickness of every cell [m] and the layer it lies in, both of shape (cells,).
    """
    cells, layer = [], []
    for n, thickness in enumerate(thicknesses):
        parts = _graded_layer(thickness, finest, largest)
        cells.append(parts)
        layer.append(np.full(parts.size, n))
    return np.concatenate(cells), np.concatenate(layer)


def _graded_layer(thickness: float, finest: float, largest: float) -> NDArray[np.float64]:
    """One layer, alike from both of its faces; at least two cells."""
    sizes: list[float] = []
    total, size = 0.0, finest
    while total + size < thickness / 2:
        sizes.append(size)
        total += size
        size = min(size * RATIO, largest)
    half = np.array(sizes) if sizes else np.array([thickness / 2])
    half *= thickness / 2 / half.sum()
    return np.concatenate((half, half[::-1]))


def edges_through(length: float, pitch: float, lines: Sequence[float] = ()) -> NDArray[np.float64]:
    """Edges of cells along a length: no cell wider than the pitch, an edge at every line given.

    Lines nearer each other (or an end) than `NEAR` of the pitch share one edge midway, so that no sliver arises.

    Args:
        length: [m].
        pitch: [m].
        lines: where boxes begin and end [m]; those outside are left out.

    Returns:
        edges [m], shape (cells + 1,).
    """
    stops = [0.0]
    for group in _groups(sorted(x for x in lines if NEAR * pitch < x < length - NEAR * pitch), NEAR * pitch):
        stops.append(math.fsum(group) / len(group))
    stops.append(length)
    parts = [np.linspace(a, b, math.ceil((b - a) / pitch - 1e-9) + 1)[:-1] for a, b in pairwise(stops)]
    return np.append(np.concatenate(parts), length)


def _groups(lines: Sequence[float], near: float) -> list[list[float]]:
    groups: list[list[float]] = []
    for x in lines:
        if groups and x - groups[-1][0] < near:
            groups[-1].append(x)
        else:
            groups.append([x])
    return groups
