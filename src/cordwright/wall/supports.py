"""On what does each log end rest, and can one that rests on less than two be laid otherwise?

A log rests well when one contact leans left and one right of straight below (a flat bed is both), each from below, the
nearer no more than 75 degrees off, across a joint no more than 12 mm over the nominal.

Sources: assumption (`log-rest`).
"""

import numpy as np
from numpy.typing import NDArray

from cordwright.wall import _support_kernels as kernels
from cordwright.wall.packing import Packing
from cordwright.wall.patching import Patch, cut, paste

Floats = NDArray[np.float64]

SLACK = 0.012
"""A log rests on another across a joint this much wider than nominal [m]: the mortar is pressed in by hand."""

GRID = 0.004
"""Pitch of the places tried for a log that does not rest [m]."""


def bearing(packing: Packing) -> NDArray[np.bool_]:
    """Say for each disc whether a log may rest on it: all logs, never a pipe or bottle."""
    return np.concatenate((np.ones(packing.moving, bool), packing.bears))


def support_table(packing: Packing) -> Floats:
    """Give what holds each log: rows of left body, its angle, right body, its angle [rad]; -1 is none."""
    if not packing.moving:
        return np.zeros((0, 4))
    region = packing.region
    table: Floats = kernels.support_table(
        packing.x, packing.y, packing.radius, packing.moving, bearing(packing), region.edges, region.corners,
        packing.offset, SLACK,
    )  # fmt: skip
    return table


def unheld(packing: Packing) -> list[int]:
    """Number the logs that do not rest on two, from the lowest up."""
    left, at_left, right, at_right = support_table(packing).T
    held = (left >= 0) & (right >= 0) & (np.minimum(at_left, at_right) <= kernels.STEEPEST)
    loose = np.flatnonzero(~held).tolist()
    return sorted(loose, key=lambda i: (packing.y[i], packing.x[i]))


def repair(packing: Packing, passes: int = 3) -> None:
    """Move or exchange each log that does not rest on two, where nobody else loses rest."""
    for _ in range(passes):
        mended = [i for i in unheld(packing) if _mend_place(packing, i)]
        if not mended:
            break


def cut_around(packing: Packing, x: float, y: float, reach: float = 0.0) -> Patch:
    """Cut out a patch with all logs whose rest may change when those within a reach [m] of a point move."""
    return cut(packing, x, y, reach + 5.0 * float(packing.radius.max()) + 0.05)


def _mend_place(packing: Packing, i: int) -> bool:
    patch = cut_around(packing, float(packing.x[i]), float(packing.y[i]))
    mended = mend_one(patch.packing, int(np.searchsorted(patch.places, i)))
    paste(packing, patch)
    return mended


def mend_one(packing: Packing, i: int) -> bool:
    """Move or exchange one log so that it rests and nobody else loses rest; says if that was found."""
    return any(_try(packing, i, which) for which in _candidates(packing, i))


def _candidates(packing: Packing, i: int) -> list[int]:
    """The log itself, then spare logs, each size class once, from large to small."""
    mine = int(packing.which[i])
    size = packing.sizes[mine]
    spare = packing.spare
    near = spare[(packing.sizes[spare] >= 0.6 * size) & (packing.sizes[spare] <= 1.6 * size)]
    classes = np.unique(np.round(packing.sizes[near] / 0.001).astype(np.int64), return_index=True)[1]
    return [mine, *near[classes][::-1].tolist()]


def _try(packing: Packing, i: int, which: int) -> bool:
    region, size = packing.region, float(packing.sizes[which])
    found, x, y = kernels.find_rest(
        i, size, packing.x, packing.y, packing.radius, packing.moving, bearing(packing), region.edges, region.corners,
        packing.offset, SLACK, 1.2 * size, GRID,
    )  # fmt: skip
    if found:
        packing.x[i], packing.y[i], packing.which[i] = x, y, which
    return bool(found)
