"""How does a wall of log ends swing with the day? A log end in its round share of joint, cut into rings and depths.

Heat runs along the log, across it into the beads, and through the fill: one round cell of the mean log end answers for
the wall. Its conductances are scaled together until it loses what the wall is known to lose.
"""

import math
from typing import Final

import numpy as np
from numpy.typing import NDArray

from cordwright.heat.conductivity import WallMaterials
from cordwright.heat.section import layers_of
from cordwright.heat.year_elements import INDOORS, OUTDOORS, Modes, Part, gathered
from cordwright.plan.inputs import WallSection

Floats = NDArray[np.float64]
LOG_RINGS, JOINT_RINGS = 6, 3
DEPTH: Final = 0.0125
"""Deepest slice of a layer [m]."""
ROUNDS: Final = 4


def cell_modes(
    section: WallSection, materials: WallMaterials, wood_fraction: float, diameter: float, u: float
) -> Modes:
    """How the wall answers hour by hour, for one square metre, by the cell of its mean log end.

    Args:
        section: of the wall.
        materials: what it is made of.
        wood_fraction: log end over face [1].
        diameter: of the mean log end by face [m].
        u: what the wall loses [W/m2K].

    Sources: closed form (`round-cell`), conductances scaled to the wall's U.
    """
    scale = 1.0
    part = cell_part(section, materials, wood_fraction, diameter, scale)
    for _ in range(ROUNDS):
        films = INDOORS + OUTDOORS
        scale *= (1 / steady_of(part) - films) / (1 / u - films)
        part = cell_part(section, materials, wood_fraction, diameter, scale)
    return gathered(part)


def steady_of(part: Part) -> float:
    """Steady loss of a part between its two sides [W/m2K]."""
    return float(part.outside @ np.linalg.solve(part.conductance, part.inside))


def cell_part(
    section: WallSection, materials: WallMaterials, wood_fraction: float, diameter: float, scale: float
) -> Part:
    """The round cell as a network, inside first, its face one square metre.

    Args:
        section: of the wall.
        materials: what it is made of.
        wood_fraction: log end over face [1].
        diameter: of the log end [m].
        scale: of all conductivities [1].

    Sources: closed form: rings and depths by finite volumes.
    """
    radius = diameter / 2
    outer = radius / math.sqrt(wood_fraction)
    edges = np.concatenate([
        np.linspace(0, radius, LOG_RINGS + 1), np.linspace(radius, outer, JOINT_RINGS + 1)[1:]
    ])  # fmt: skip
    face = (edges[1:] ** 2 - edges[:-1] ** 2) / outer**2
    depth, kind = _depths(section)
    k = materials
    fill = k.fill if k.fill is not None else k.mortar
    stuff = [k.mortar if mortar else fill for mortar in kind]
    rings = np.arange(face.size) < LOG_RINGS
    along = scale * np.where(rings, k.along.value, np.array([[s.value] for s in stuff]))
    across = scale * np.where(rings, k.across.value, np.array([[s.value] for s in stuff]))
    held = np.where(rings, k.along.heat_capacity, np.array([[s.heat_capacity] for s in stuff]))
    return _network(depth, edges, face, along, across, held, math.pi * outer**2)


def _depths(section: WallSection) -> tuple[Floats, tuple[bool, ...]]:
    """Depth of each slice from inside out, and whether its joint is mortar."""
    depth: list[float] = []
    kind: list[bool] = []
    for d, mortar in reversed(layers_of(section)):
        count = max(4, math.ceil(d / DEPTH))
        depth += [d / count] * count
        kind += [mortar] * count
    return np.array(depth), tuple(kind)


def _network(  # noqa: PLR0917 (maps of the cell, one after another)
    depth: Floats, edges: Floats, face: Floats, along: Floats, across: Floats, held: Floats, whole: float
) -> Part:
    """Tie the slices: `along`, `across`, `held` of shape (slices, rings); `face` shares of the ring's faces."""
    half = depth[:, None] / 2 / along
    inward = face / (half[:-1] + half[1:])
    middle = (edges[1:] + edges[:-1]) / 2
    to_edge = np.log(edges[1:-1] / middle[:-1]) / across[:, :-1] + np.log(middle[1:] / edges[1:-1]) / across[:, 1:]
    sideways = 2 * math.pi * depth[:, None] / to_edge / whole
    n, m = held.shape
    index = np.arange(n * m).reshape(n, m)
    tied_in, tied_out = np.zeros(n * m), np.zeros(n * m)
    tied_in[index[0]] = face / (INDOORS + half[0])
    tied_out[index[-1]] = face / (OUTDOORS + half[-1])
    conductance = np.diag(tied_in + tied_out)
    for a, b, g in ((index[:-1], index[1:], inward), (index[:, :-1], index[:, 1:], sideways)):
        conductance[a, b] -= g
        conductance[b, a] -= g
        np.add.at(conductance, (a, a), g)
        np.add.at(conductance, (b, b), g)
    capacity = (held * depth[:, None] * face).ravel()
    return Part(capacity=capacity, conductance=conductance, inside=tied_in, outside=tied_out)


def mean_diameter(diameters: Floats) -> float:
    """The diameter of the log end whose face is the mean of all [m].

    Args:
        diameters: of the log ends [m], shape (n,), one at least.
    """
    return float(np.sqrt((diameters**2).mean()))
