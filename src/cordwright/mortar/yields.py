"""How much fresh mortar do loose buckets of binder, sand and fibre make, and how much water do they want?

Grains, water and fibre fill the mortar between them; air is the rest. A bucket of sand is a third air, so the mortar is
always less than the sum of the buckets.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache

from cordwright.base import Cite, table
from cordwright.mortar.inputs import MortarInput
from cordwright.mortar.materials import LooseMaterial, loose_material, water_density
from cordwright.mortar.spread import Spread


@dataclass(frozen=True, slots=True, kw_only=True)
class LooseMix:
    """All loose parts of a mix together, one cubic metre to a part.

    `volume`: their loose volumes [m3]; `grains`, `fibre_room`: what they fill [m3]; `binder`, `sand`: dry masses [kg];
    `carried`: water that damp sand and putty bring [kg]; `demand`: all the water the mix wants [kg].
    """

    materials: tuple[LooseMaterial, ...]
    volume: float
    grains: float
    fibre_room: Spread
    binder: float
    sand: float
    carried: float
    demand: Spread

    @property
    def water(self) -> Spread:
        """All water in the fresh mix [kg]; what the sand brings beyond the demand cannot be wrung out."""
        return self.demand.at_least(self.carried)

    @property
    def added(self) -> Spread:
        """Water to add at the mixer [kg]."""
        return self.water + Spread.exact(-self.carried)


def fresh_volume(solids: float, water: float, air: float) -> float:
    """Volume of fresh mortar by absolute volumes [m3].

    Args:
        solids: volume of the grains and of what soaked fibre displaces [m3].
        water: all water in the mix [kg].
        air: air as a share of the fresh mortar [1].

    Sources: closed form; any mix whose parts do not dissolve.
    """
    return (solids + water / water_density()) / (1.0 - air)


@cache
def water_coefficients() -> tuple[float, float]:
    """Water per mass of dry binder and per mass of dry sand [1]: the plane through the two worked mixes.

    Sources: assumption, from the water of 1:1:6 and 1:1/2:4 1/2 cement-lime mortars.
    """
    first, second = table("materials")["water"]["mixes"]
    (b1, s1, w1), (b2, s2, w2) = ((m["cement_lb"] + m["lime_lb"], m["sand_lb"], m["water_lb"]) for m in (first, second))
    determinant = b1 * s2 - b2 * s1
    return (w1 * s2 - w2 * s1) / determinant, (b1 * w2 - b2 * w1) / determinant


def water_demand(binder: float, sand: float) -> Spread:
    """Water that a cement-lime mortar wants for placing with the trowel [kg], with its spread.

    Args:
        binder: dry mass of cement and lime [kg].
        sand: dry mass of sand [kg].

    Sources: assumption, see `water_coefficients`; 10 % either way. Soaked fibre is taken to bring its own.
    """
    per_binder, per_sand = water_coefficients()
    middle = per_binder * binder + per_sand * sand
    spread = float(table("materials")["water"]["spread"])
    return Spread(middle * (1 - spread), middle, middle * (1 + spread))


def loose_mix(mortar: MortarInput) -> LooseMix:
    """Put the loose parts of a mix together."""
    materials = tuple(loose_material(p) for p in mortar.parts)
    binder = sum(m.part.parts * (m.cement + m.lime) for m in materials)
    sand = sum(m.part.parts * m.sand for m in materials)
    return LooseMix(
        materials=materials,
        volume=sum(p.parts for p in mortar.parts),
        grains=sum(m.part.parts * m.grains for m in materials),
        fibre_room=_fibre_room(materials),
        binder=binder,
        sand=sand,
        carried=sum(m.part.parts * m.water for m in materials),
        demand=water_demand(binder, sand),
    )


def _fibre_room(materials: Sequence[LooseMaterial]) -> Spread:
    """Room of the soaked fibre [m3]: between its particles alone and its whole loose volume, middle halfway."""
    low = sum(m.part.parts * m.fibre_room for m in materials)
    high = sum(m.part.parts for m in materials if m.fibre)
    return Spread(low, (low + high) / 2, high)


def yield_ratio(mortar: MortarInput, mix: LooseMix) -> Spread:
    """Fresh mortar over the sum of loose parts [1]: the owner's own measurement, else by absolute volumes."""
    if mortar.measured_yield is not None:
        return Spread.exact(mortar.measured_yield)
    air, water, solids = air_share(mortar), mix.water, Spread.exact(mix.grains) + mix.fibre_room
    return Spread(
        fresh_volume(solids.low, water.low, air.low) / mix.volume,
        fresh_volume(solids.middle, water.middle, air.middle) / mix.volume,
        fresh_volume(solids.high, water.high, air.high) / mix.volume,
    )


def air_share(mortar: MortarInput) -> Spread:
    """Air as a share of fresh mortar [1]: the owner's value without spread, else 8 % (6 to 12 %)."""
    if mortar.air is not None:
        return Spread.exact(mortar.air)
    row = table("materials")["air"]
    return Spread(row["low"], row["middle"], row["high"])


def yield_sources(mortar: MortarInput, mix: LooseMix) -> tuple[Cite, ...]:
    """Who says how much mortar the buckets make."""
    if mortar.measured_yield is not None:
        return (Cite("owner", "mix.measured_yield"),)
    air = Cite("owner", "mix.air") if mortar.air is not None else Cite("mortar-air", "8 %, 6 to 12 %")
    fibre = (Cite("soaked-fibre-room", "between particles and loose volume"),) if mix.fibre_room.high else ()
    return (Cite("absolute-volumes", ""), Cite("mortar-water-plane", "two worked mixes"), air, *fibre)
