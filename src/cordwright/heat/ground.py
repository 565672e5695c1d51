"""How much heat goes down through a floor that lies on the ground, month by month?

The ground keeps the winter out for weeks and gives it back in spring: a slab is reckoned with its own area and edge,
and with the year's slow wave beneath it.
"""

import math
from dataclasses import dataclass
from typing import Final, Literal

from cordwright.base import OutOfRangeError, table

INSIDE: Final = 0.17
"""Surface resistance over a floor, heat flowing down [m2K/W]."""
OUTSIDE: Final = 0.04
"""Surface resistance to the outside air [m2K/W]."""

EdgeKind = Literal["none", "vertical", "horizontal"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Ground:
    """The soil under the floor: conductivity [W/mK] and the depth a year's wave of warmth reaches [m]."""

    conductivity: float
    depth: float


def ground(kind: str) -> Ground:
    """Give the soil of a class.

    Args:
        kind: "clay", "sand" or "rock".

    Raises:
        OutOfRangeError: another class.

    Sources: ISO 13370 classes (`iso-13370-memory`).
    """
    rows = table("house")["ground"]
    if kind not in rows or kind == "sources":
        raise OutOfRangeError(f"no ground of the class {kind!r}; clay, sand or rock")
    return Ground(conductivity=rows[kind]["conductivity"], depth=rows[kind]["depth"])


@dataclass(frozen=True, slots=True, kw_only=True)
class Edge:
    """Insulation along the slab's edge: `width` it reaches in or down [m], `thickness` [m], `conductivity` [W/mK]."""

    kind: EdgeKind = "none"
    width: float = 0.0
    thickness: float = 0.0
    conductivity: float = 0.035


@dataclass(frozen=True, slots=True, kw_only=True)
class Slab:
    """A floor on the ground: `area` [m2], outer `perimeter` and `wall` thickness [m], its `resistance` [m2K/W]."""

    area: float
    perimeter: float
    wall: float
    resistance: float
    soil: Ground
    edge: Edge = Edge()

    @property
    def characteristic(self) -> float:
        """Area over half the perimeter, B' [m]."""
        return self.area / (self.perimeter / 2)

    @property
    def equivalent(self) -> float:
        """Thickness of soil that resists as much as wall, floor and surfaces, d [m]."""
        return self.wall + self.soil.conductivity * (INSIDE + self.resistance + OUTSIDE)


def plain_transmittance(slab: Slab) -> float:
    """Steady U-value of a slab without edge insulation [W/m2K].

    Args:
        slab: the floor.

    Sources: ISO 13370 (`iso-13370-memory`).
    """
    b, d, soil = slab.characteristic, slab.equivalent, slab.soil.conductivity
    if d < b:
        return 2 * soil / (math.pi * b + d) * math.log(math.pi * b / d + 1)
    return soil / (0.457 * b + d)


def edge_transmittance(slab: Slab) -> float:
    """What edge insulation takes off per metre of perimeter, never positive [W/mK].

    Args:
        slab: the floor with its edge.

    Sources: ISO 13370 (`iso-13370-memory`); a vertical edge counts twice its depth.
    """
    edge, d, soil = slab.edge, slab.equivalent, slab.soil.conductivity
    if edge.kind == "none":
        return 0.0
    reach = edge.width * (2 if edge.kind == "vertical" else 1)
    gained = _edge_gain(slab)
    return -soil / math.pi * (math.log(reach / d + 1) - math.log(reach / (d + gained) + 1))


def _edge_gain(slab: Slab) -> float:
    """Soil thickness that the edge insulation stands for, d' [m]: by its own thickness, less the soil it displaces."""
    edge = slab.edge
    extra = edge.thickness / edge.conductivity - edge.thickness / slab.soil.conductivity
    return extra * slab.soil.conductivity


def slab_transmittance(slab: Slab) -> float:
    """Steady U-value of a slab with its edge [W/m2K].

    Args:
        slab: the floor.

    Sources: ISO 13370 (`iso-13370-memory`).
    """
    return plain_transmittance(slab) + 2 * edge_transmittance(slab) / slab.characteristic


def inside_wave(slab: Slab) -> float:
    """Heat that a yearly swing of one kelvin indoors sends into the ground, Hpi [W/K].

    Args:
        slab: the floor, bare or insulated all over.

    Sources: ISO 13370 annex on periodic heat flow (`iso-13370-memory`).
    """
    d, depth = slab.equivalent, slab.soil.depth
    return slab.area * slab.soil.conductivity / d * math.sqrt(2 / ((1 + depth / d) ** 2 + 1))


def outside_wave(slab: Slab) -> float:
    """Heat that a yearly swing of one kelvin outdoors sends through the slab's edge, Hpe [W/K].

    Args:
        slab: the floor; with edge insulation the part within its reach counts less.

    Sources: ISO 13370 annex on periodic heat flow (`iso-13370-memory`).
    """
    d, depth, soil = slab.equivalent, slab.soil.depth, slab.soil.conductivity
    plain = math.log(depth / d + 1)
    if slab.edge.kind == "none":
        return 0.37 * slab.perimeter * soil * plain
    reach = slab.edge.width * (2 if slab.edge.kind == "vertical" else 1)
    share = math.exp(-reach / depth)
    return 0.37 * slab.perimeter * soil * ((1 - share) * math.log(depth / (d + _edge_gain(slab)) + 1) + share * plain)


def monthly_flow(slab: Slab, inside: tuple[float, ...], outside: tuple[float, ...]) -> tuple[float, ...]:
    """Mean heat flow down through the slab in each month [W], shape (12,).

    Args:
        slab: the floor.
        inside: mean temperature indoors of each month [degC], shape (12,).
        outside: the same outdoors.

    Sources: ISO 13370, monthly form (`iso-13370-memory`).
    """
    steady = slab.area * slab_transmittance(slab)
    hi, he = inside_wave(slab), outside_wave(slab)
    mean_in, mean_out = sum(inside) / 12, sum(outside) / 12
    return tuple(
        steady * (mean_in - mean_out) - hi * (mean_in - ti) + he * (mean_out - te)
        for ti, te in zip(inside, outside, strict=True)
    )
