"""What does one log end with its ring of joint lose, when heat may spread between log, beads and fill?

Each size of log stands in a round cell: the log in the middle, half a joint about it. The cell is round, so that it is
cut into rings alone; through the depth of a layer the answer is exact. It holds what the hand's method leaves out: a
bead leads heat sideways into the log beneath it.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from cordwright.base import InputError
from cordwright.heat.conductivity import WallMaterials
from cordwright.heat.section import INSIDE, OUTSIDE, layers_of
from cordwright.plan.inputs import WallSection

Floats = NDArray[np.float64]
SIZES: Final = 5
"""Log sizes by which the whole stock is represented."""
RINGS: Final = (7, 5)
"""Rings of cells across the radius of the log and across the half joint."""


@dataclass(frozen=True, slots=True, kw_only=True)
class UnitCell:
    """What a wall of round cells loses: U over the whole and over one cell of each size [W/(m2 K)].

    `diameters` of the logs [m] and `weights`, the share of the face their cells take [1].
    """

    u_value: float
    diameters: tuple[float, ...]
    weights: tuple[float, ...]
    cell_u: tuple[float, ...]


def size_classes(diameters: NDArray[np.float64], count: int = SIZES) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Represent a stock by a few sizes and the share of pieces each stands for, by Gauss quadrature over its quantiles.

    Args:
        diameters: of the log ends [m], shape (n,), at least one.
        count: sizes wanted.

    Returns:
        diameters [m] and shares [1], shape (count,); one size alone where all are alike.

    Sources: closed form (Gauss and Legendre).
    """
    if float(np.ptp(diameters)) < 1e-6:
        return diameters[:1].copy(), np.ones(1)
    nodes, weights = np.polynomial.legendre.leggauss(count)
    return np.quantile(diameters, (nodes + 1) / 2), weights / 2


def half_joint(diameters: NDArray[np.float64], shares: NDArray[np.float64], wood_fraction: float) -> float:
    """Breadth of joint about every log that makes the wood the stated share of the face [m].

    Args:
        diameters: of the logs [m], shape (n,).
        shares: of the pieces [1], shape (n,).
        wood_fraction: log end over face [1].

    Raises:
        InputError: a wood fraction not between 0 and 1.

    Sources: closed form: (r + c)^2 summed = r^2 summed / fraction.
    """
    if not 0 < wood_fraction < 1:
        raise InputError(f"a wood fraction lies between 0 and 1, not {wood_fraction:g}")
    radius = diameters / 2
    mean, square = float(shares @ radius), float(shares @ radius**2)
    return -mean + math.sqrt(mean**2 + square * (1 / wood_fraction - 1))


def unit_cell(
    section: WallSection,
    wood_fraction: float,
    materials: WallMaterials,
    diameters: NDArray[np.float64],
    *,
    inside: float = INSIDE,
    outside: float = OUTSIDE,
) -> UnitCell:
    """Give U of the wall by round cells, one for each size of log.

    Args:
        section: the wall's section; proud ends are left out.
        wood_fraction: log end over face [1].
        materials: what the wall is made of.
        diameters: of the log ends [m], shape (n,).
        inside: surface resistance inside [m2 K/W].
        outside: surface resistance outside [m2 K/W].

    Raises:
        InputError: no log, or a wood fraction not between 0 and 1.

    Sources: closed form (rings by finite volumes, depth exactly); the 3-D panel is its check.
    """
    return unit_cells(section, [(wood_fraction, materials)], diameters, inside=inside, outside=outside)[0]


def unit_cells(
    section: WallSection,
    walls: Sequence[tuple[float, WallMaterials]],
    diameters: Floats,
    *,
    inside: float = INSIDE,
    outside: float = OUTSIDE,
) -> tuple[UnitCell, ...]:
    """As `unit_cell`, for several walls of one section at once: (wood fraction, materials) each."""
    if not diameters.size:
        raise InputError("a unit cell needs the diameter of at least one log end")
    sizes, shares = size_classes(diameters)
    joints = np.array([half_joint(sizes, shares, fraction) for fraction, _ in walls])
    count = sizes.size
    cells = _Cells(
        radius=np.tile(sizes / 2, len(walls)),
        joint=np.repeat(joints, count),
        along=np.repeat([m.along.value for _, m in walls], count),
        across=np.repeat([m.across.value for _, m in walls], count),
        mortar=np.repeat([m.mortar.value for _, m in walls], count),
        fill=np.repeat([(m.fill or m.mortar).value for _, m in walls], count),
    )
    losses = _losses(section, cells, (outside, inside)).reshape(-1, count)
    faces = shares * (sizes / 2 + joints[:, None]) ** 2
    weights = faces / faces.sum(axis=1, keepdims=True)
    return tuple(_cell(sizes, *each) for each in zip(weights, losses, strict=True))


def _cell(sizes: Floats, weights: Floats, losses: Floats) -> UnitCell:
    return UnitCell(
        u_value=float(weights @ losses),
        diameters=tuple(sizes.tolist()),
        weights=tuple(weights.tolist()),
        cell_u=tuple(losses.tolist()),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Cells:
    """Round cells, n at once: sizes [m] and conductivities [W/(m K)], each of shape (n,)."""

    radius: Floats
    joint: Floats
    along: Floats
    across: Floats
    mortar: Floats
    fill: Floats


def _losses(section: WallSection, cells: _Cells, films: tuple[float, float]) -> Floats:
    """U of round cells [W/(m2 K)], shape (n,).

    From the outside air in, all that lies before a face is one matrix: the heat that enters there for the temperatures
    of its rings. Each layer is joined to it by its own modes.
    """
    rings = _rings(cells.radius, cells.joint)
    face = math.pi * np.diff(rings**2, axis=1)
    before = face[:, :, None] / films[0] * np.eye(face.shape[1])
    made: dict[bool, tuple[Floats, Floats]] = {}
    for depth, bead in layers_of(section):
        if bead not in made:
            made[bead] = _modes(rings, face, cells, cells.mortar if bead else cells.fill)
        before = _behind(before, *made[bead], depth)
    films_in = face[:, :, None] / films[1] * np.eye(face.shape[1])
    surface = np.linalg.solve(before + films_in, face[:, :, None] / films[1])
    return np.asarray(((1 - surface[:, :, 0]) * face / films[1]).sum(axis=1) / face.sum(axis=1))


def _rings(radius: Floats, joint: Floats) -> Floats:
    """Edges of the rings, shape (n, rings + 1): of the log rings of equal face, of the joint of equal breadth."""
    inner = np.sqrt(np.linspace(0, 1, RINGS[0] + 1))
    outer = np.linspace(0, 1, RINGS[1] + 1)[1:]
    return np.concatenate((radius[:, None] * inner, radius[:, None] + joint[:, None] * outer), axis=1)


def _modes(rings: Floats, face: Floats, cells: _Cells, filling: Floats) -> tuple[Floats, Floats]:
    """Modes of a layer: how fast each dies out with depth [1/m], (n, rings), and its shape, (n, rings, rings).

    Shapes are scaled so that a mode's heat is its temperature by the face times the conductivity through the wall.
    """
    log = np.arange(face.shape[1]) < RINGS[0]
    through = face * np.where(log, cells.along[:, None], filling[:, None])
    aside = np.where(log, cells.across[:, None], filling[:, None])
    radial = _radial(rings, aside)
    matrix = np.zeros((*face.shape, face.shape[1]))
    n = np.arange(face.shape[1] - 1)
    matrix[:, n, n] += radial
    matrix[:, n + 1, n + 1] += radial
    matrix[:, n, n + 1] -= radial
    matrix[:, n + 1, n] -= radial
    root = np.sqrt(through)
    values, vectors = np.linalg.eigh(matrix / (root[:, :, None] * root[:, None, :]))
    return np.sqrt(np.maximum(values, 0.0)), vectors * root[:, :, None]


def _radial(rings: Floats, k: Floats) -> Floats:
    """Conductance between neighbouring rings for a metre of depth [W/(m K)], shape (n, rings - 1)."""
    middle = np.sqrt((rings[:, :-1] ** 2 + rings[:, 1:] ** 2) / 2)
    outward = np.log(rings[:, 1:-1] / middle[:, :-1]) / k[:, :-1]
    inward = np.log(middle[:, 1:] / rings[:, 1:-1]) / k[:, 1:]
    return 2 * math.pi / (outward + inward)


def _behind(before: Floats, rate: Floats, shape: Floats, depth: float) -> Floats:
    """What lies before the inner face of a layer, from what lies before its outer one; both in [W/K].

    Sources: closed form (a slab as two-port: rate x coth at a face, rate / sinh across).
    """
    x = np.maximum(rate * depth, 1e-9)
    own = np.where(x > 1e-6, x / np.tanh(np.minimum(x, 300.0)), 1.0) / depth
    across = np.where(x > 1e-6, x / np.sinh(np.minimum(x, 300.0)), 1.0) / depth
    turned = np.swapaxes(shape, 1, 2)
    faces = (shape * own[:, None, :]) @ turned
    between = (shape * across[:, None, :]) @ turned
    return np.asarray(faces - between @ np.linalg.solve(before + faces, between))
