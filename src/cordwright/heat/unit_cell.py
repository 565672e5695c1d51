"""What does one log end with its ring of joint lose, when heat may spread between log, beads and fill?

Each size of log stands in a round cell: the log in the middle, half a joint about it. The cell is round, so that it is
reckoned in radius and depth alone, in a few milliseconds. It holds what the hand's method leaves out: a bead leads heat
sideways into the log beneath it.
"""

import math
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from cordwright.base import InputError
from cordwright.heat.conductivity import WallMaterials
from cordwright.heat.grid import graded
from cordwright.heat.section import INSIDE, OUTSIDE, layers_of
from cordwright.plan.inputs import WallSection

SIZES: Final = 5
"""Log sizes by which the whole stock is represented."""
FINEST: Final = 0.004
"""Depth of the cells at the faces of beads and cavity [m]."""
RINGS: Final = (8, 6)
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

    Sources: closed form (conduction by finite volumes); the 3-D panel is its check.
    """
    if not diameters.size:
        raise InputError("a unit cell needs the diameter of at least one log end")
    sizes, shares = size_classes(diameters)
    joint = half_joint(sizes, shares, wood_fraction)
    films = (outside, inside)
    losses = [cell_u(section, materials, float(d) / 2, joint, films) for d in sizes]
    faces = shares * (sizes / 2 + joint) ** 2
    weights = faces / faces.sum()
    return UnitCell(
        u_value=float(weights @ np.array(losses)),
        diameters=tuple(sizes.tolist()),
        weights=tuple(weights.tolist()),
        cell_u=tuple(losses),
    )


def cell_u(
    section: WallSection, materials: WallMaterials, radius: float, joint: float, films: tuple[float, float]
) -> float:
    """U of one round cell [W/(m2 K)]: steady conduction in radius and depth.

    Args:
        section: the wall's section.
        materials: what the wall is made of.
        radius: of the log [m].
        joint: breadth of joint about it [m].
        films: surface resistance outside and inside [m2 K/W].

    Sources: closed form, finite volumes with the exact resistance of a ring.
    """
    from scipy.linalg import solveh_banded

    layers = layers_of(section)
    depth, layer = graded([d for d, _ in layers], FINEST)
    rings = _rings(radius, joint)
    log = rings[:-1] < radius * (1 - 1e-9)
    face = math.pi * np.diff(rings**2)
    k = materials
    bead = [k.mortar.value if mortar or k.fill is None else k.fill.value for _, mortar in layers]
    through = np.where(log[None, :], k.along.value, np.array(bead)[layer][:, None])
    sideways = np.where(log[None, :], k.across.value, np.array(bead)[layer][:, None])
    radial = _radial(rings, sideways) * depth[:, None]
    half = depth[:, None] / (2 * through)
    axial = face / (half[:-1] + half[1:])
    ends = face / (films[0] + half[0]), face / (films[1] + half[-1])
    matrix = _banded(radial, axial, ends)
    source = np.zeros(through.shape)
    source[-1] = ends[1]
    found = solveh_banded(matrix, source.ravel(), lower=True, overwrite_ab=True, check_finite=False)
    outer = found.reshape(through.shape)[0]
    return float((ends[0] * outer).sum() / face.sum())


def _rings(radius: float, joint: float) -> NDArray[np.float64]:
    """Edges of the rings, evenly within the log and within the joint; of the log, rings of equal face."""
    inner = radius * np.sqrt(np.linspace(0, 1, RINGS[0] + 1))
    return np.concatenate((inner, radius + joint * np.linspace(0, 1, RINGS[1] + 1)[1:]))


def _radial(rings: NDArray[np.float64], k: NDArray[np.float64]) -> NDArray[np.float64]:
    """Conductance between neighbouring rings for each depth [W/(m K)], shape (depths, rings - 1)."""
    middle = np.sqrt((rings[:-1] ** 2 + rings[1:] ** 2) / 2)
    outward = np.log(rings[1:-1] / middle[:-1]) / k[:, :-1]
    inward = np.log(middle[1:] / rings[1:-1]) / k[:, 1:]
    return 2 * math.pi / (outward + inward)


def _banded(
    radial: NDArray[np.float64], axial: NDArray[np.float64], ends: tuple[NDArray[np.float64], NDArray[np.float64]]
) -> NDArray[np.float64]:
    """The symmetric system by its lower bands, rings running fastest; shape (rings + 1, depths x rings)."""
    depths, count = radial.shape[0], radial.shape[1] + 1
    diagonal = np.zeros((depths, count))
    diagonal[:, :-1] += radial
    diagonal[:, 1:] += radial
    diagonal[:-1] += axial
    diagonal[1:] += axial
    diagonal[0] += ends[0]
    diagonal[-1] += ends[1]
    matrix = np.zeros((count + 1, depths * count))
    matrix[0] = diagonal.ravel()
    beside = np.zeros((depths, count))
    beside[:, :-1] = -radial
    matrix[1] = beside.ravel()
    below = np.zeros((depths, count))
    below[:-1] = -axial
    matrix[count] = below.ravel()
    return matrix
