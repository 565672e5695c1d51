"""How much heat is in a stacked cubic metre of this wood, as dry as it is?

Moisture is told on the oven-dry wood everywhere in this project; a stove maker's table tells it on the wet mass. The
one trap of every firewood sum is to mix the two.
"""

from dataclasses import dataclass

from cordwright.base import OutOfRangeError, table

EVAPORATING = 2.443
"""Heat to evaporate a kilogram of water [MJ/kg]."""
MEGAJOULE = 1 / 3.6
"""One megajoule [kWh]."""
DRIEST, WETTEST = 0.0, 1.5
"""Moisture of the oven-dry mass for which the formula is used [1]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Fuel:
    """A wood as fuel: oven-dry heating value [MJ/kg], oven-dry mass over its air-dry volume [kg/m3].

    `heating_high`: the value most books give for any wood. `solid_share`: solid wood in a stacked volume of split logs
    [1], with its spread. `sources` are short cites.
    """

    name: str
    heating_value: float
    heating_high: float
    dry_density: float
    solid_share: float
    solid_low: float
    solid_high: float
    sources: tuple[str, ...]


def fuel(name: str) -> Fuel:
    """Give a wood of the table.

    Args:
        name: as in `data/firewood.toml`.

    Raises:
        OutOfRangeError: no such wood; the message lists them.
    """
    rows = table("firewood")
    woods = [key for key in rows if "kind" in rows[key]]
    if name not in woods:
        raise OutOfRangeError(f"no firewood {name!r} in the table: {', '.join(woods)}")
    row = rows[name]
    kind = rows[row["kind"]]
    return Fuel(
        name=name,
        heating_value=row["heating_value"],
        heating_high=max(row["heating_value"], kind["heating_high"]),
        dry_density=row["dry_density"],
        solid_share=kind["solid_share"],
        solid_low=kind["solid_low"],
        solid_high=kind["solid_high"],
        sources=(*row["sources"], *kind["sources"]),
    )


def wet_share(moisture: float) -> float:
    """Water over the wet mass, of a moisture on the oven-dry mass [1]."""
    return moisture / (1 + moisture)


def heating_value(oven_dry: float, wet_basis: float) -> float:
    """Lower heating value of a kilogram of moist wood [MJ/kg].

    Args:
        oven_dry: lower heating value of the oven-dry wood [MJ/kg].
        wet_basis: water as a share of the WET mass [1].

    Raises:
        OutOfRangeError: no share of a mass.

    Sources: `firewood-heating-value`.
    """
    if not 0 <= wet_basis < 1:
        raise OutOfRangeError(f"water is {wet_basis:g} of the wet mass; from 0 to below 1")
    return oven_dry * (1 - wet_basis) - EVAPORATING * wet_basis


def solid_energy(wood: Fuel, moisture: float) -> float:
    """Heat in a cubic metre of solid air-dry wood [kWh/m3].

    Args:
        wood: what is burnt.
        moisture: water over the OVEN-DRY mass [1].

    Raises:
        OutOfRangeError: a moisture no wood has.

    Sources: `firewood-heating-value`; per oven-dry kilogram the water it carries is evaporated.
    """
    if not DRIEST <= moisture <= WETTEST:
        raise OutOfRangeError(f"firewood at {moisture:.0%} of its dry mass is no wood; up to {WETTEST:.0%}")
    return wood.dry_density * (wood.heating_value - EVAPORATING * moisture) * MEGAJOULE


def stacked_energy(wood: Fuel, moisture: float) -> float:
    """Heat in a stacked cubic metre [kWh/m3].

    Args:
        wood: what is burnt.
        moisture: water over the oven-dry mass [1].

    Sources: those of `solid_energy`; solid share of the stack.
    """
    return solid_energy(wood, moisture) * wood.solid_share
