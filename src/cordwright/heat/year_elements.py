"""How does one part of the shell answer, hour after hour, to the room on one side and the weather on the other?

Each part is cut into thin slices, and the slices are gathered into eight slow shapes that keep its steady loss exactly
and its daily swing closely. Each shape then fades or grows on its own, which makes a year of hours a matter of
milliseconds.
"""

import math
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from cordwright.base import InputError

Floats = NDArray[np.float64]
DAY: Final = 86400.0
SHAPES: Final = 8
SLICE: Final = 0.004
"""Thickest slice of a layer [m]."""
INDOORS, OUTDOORS = 0.13, 0.04
"""Surface resistances of a wall [m2K/W]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Layer:
    """A layer from inside to outside: thickness [m], conductivity [W/mK], density [kg/m3], specific heat [J/kgK]."""

    thickness: float
    conductivity: float
    density: float
    specific_heat: float

    @property
    def resistance(self) -> float:
        """To heat [m2K/W]."""
        return self.thickness / self.conductivity

    @property
    def capacity(self) -> float:
        """Heat it holds per kelvin [J/m2K]."""
        return self.thickness * self.density * self.specific_heat


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """One part of the shell between two temperatures, as heat nodes in a chain or any other network.

    `capacity` C [J/m2K], shape (n,); `conductance` K [W/m2K], symmetric, shape (n, n), the ties to both sides
    included; `inside`, `outside`: those ties [W/m2K], shape (n,).
    """

    capacity: Floats
    conductance: Floats
    inside: Floats
    outside: Floats


@dataclass(frozen=True, slots=True, kw_only=True)
class Modes:
    """A part as shapes that fade each on its own, per square metre.

    `fading` [1/s], shape (m,); `inside`, `outside`: how strongly a side drives each shape, shape (m,); flow from the
    room into the part is `tie` x room - inside . shapes, and from the outside alike with `outer_tie` [W/m2K].
    """

    fading: Floats
    inside: Floats
    outside: Floats
    tie: float
    outer_tie: float

    @property
    def transmittance(self) -> float:
        """Steady U-value [W/m2K]."""
        return float((self.inside * self.outside / self.fading).sum())


def layered(layers: tuple[Layer, ...], inside: float = INDOORS, outside: float = OUTDOORS) -> Part:
    """Cut plane layers into slices.

    Args:
        layers: from inside to outside, one at least.
        inside: surface resistance [m2K/W].
        outside: surface resistance, or infinity for a part that gives nothing to its other side [m2K/W].

    Raises:
        InputError: no layer.
    """
    if not layers:
        raise InputError("a part of the shell has one layer at least")
    half, capacity = [], []
    for layer in layers:
        count = max(4, math.ceil(layer.thickness / SLICE))
        half += [layer.resistance / count / 2] * count
        capacity += [layer.capacity / count] * count
    between = 1 / (np.array(half[:-1]) + np.array(half[1:]))
    ends = 1 / (inside + half[0]), (0.0 if math.isinf(outside) else 1 / (outside + half[-1]))
    return _chain(np.array(capacity), between, ends)


def _chain(capacity: Floats, between: Floats, ends: tuple[float, float]) -> Part:
    n = capacity.size
    tied_in, tied_out = np.zeros(n), np.zeros(n)
    tied_in[0], tied_out[-1] = ends
    diagonal = tied_in + tied_out
    diagonal[:-1] += between
    diagonal[1:] += between
    conductance = np.diag(diagonal) - np.diag(between, 1) - np.diag(between, -1)
    return Part(capacity=capacity, conductance=conductance, inside=tied_in, outside=tied_out)


def gathered(part: Part, shapes: int = SHAPES) -> Modes:
    """Gather a part's nodes into a few shapes: the steady ones, their first moment, and two at the day's pace.

    Args:
        part: the part.
        shapes: how many are kept, from both sides together.

    Sources: Galerkin projection on the answers of both sides (`two-port-galerkin`); steady flow stays exact.
    """
    w = 2 * math.pi / DAY
    sides = np.stack([b for b in (part.inside, part.outside) if b.any()], axis=1)
    K, C = part.conductance, part.capacity
    steady = np.linalg.solve(K, sides)
    moment = np.linalg.solve(K, C[:, None] * steady)
    paced = [np.linalg.solve(K + np.diag(s * C), sides) for s in (w, 6 * w)]
    basis = np.concatenate([steady, moment, *paced], axis=1)[:, :shapes]
    root = np.sqrt(C)[:, None]
    found, weight, _ = np.linalg.svd(root * basis / np.linalg.norm(root * basis, axis=0), full_matrices=False)
    kept = found[:, weight > 1e-9 * weight[0]] / root
    fading, turn = np.linalg.eigh(kept.T @ K @ kept)
    modes = kept @ turn
    return Modes(
        fading=fading,
        inside=modes.T @ part.inside,
        outside=modes.T @ part.outside,
        tie=float(part.inside.sum()),
        outer_tie=float(part.outside.sum()),
    )


def wave(modes: Modes, period: float = DAY) -> tuple[complex, complex, complex]:
    """Answers of a part to a wave of one kelvin [W/m2K]: inside to inside, inside to outside, outside to outside.

    Args:
        modes: the part.
        period: of the wave [s].

    Sources: ISO 13786 (`iso-13786-memory`): thermal admittances and periodic transmittance.
    """
    answer = 1 / (modes.fading + 2j * math.pi / period)
    inside = modes.tie - (modes.inside**2 * answer).sum()
    outside = modes.outer_tie - (modes.outside**2 * answer).sum()
    return complex(inside), complex((modes.inside * modes.outside * answer).sum()), complex(outside)


def areal_capacity(modes: Modes, period: float = DAY) -> float:
    """Heat that a part stores and gives back per kelvin of a wave in the room [J/m2K].

    Args:
        modes: the part.
        period: of the wave [s].

    Sources: ISO 13786 (`iso-13786-memory`).
    """
    y11, y12, _ = wave(modes, period)
    return period / (2 * math.pi) * abs(y11 - y12)


def layered_wall(
    thicknesses: tuple[float, ...], conductivities: tuple[float, ...], capacities: tuple[float, ...], u: float
) -> Modes:
    """A wall as plane layers of mean stuff, leading as a whole as its U-value says.

    Args:
        thicknesses: from inside to outside [m].
        conductivities: mean over log ends and joints [W/mK].
        capacities: mean of the same [J/m3K].
        u: of the wall [W/m2K].

    Sources: area means (`mean-layers`); the swing comes out larger than that of the wall as laid.
    """
    plain = math.fsum(d / k for d, k in zip(thicknesses, conductivities, strict=True))
    scale = plain / (1 / u - INDOORS - 0.04)
    layers = tuple(
        Layer(thickness=d, conductivity=k * scale, density=c / 1000.0, specific_heat=1000.0)
        for d, k, c in zip(thicknesses, conductivities, capacities, strict=True)
    )
    return gathered(layered(layers))
