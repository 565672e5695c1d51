"""What is in one loose cubic metre of each material as it comes: binder, sand, fibre, grains and water?"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from typing import Any, Final

from cordwright.base import Cite, cite, table
from cordwright.base.units import POUND_PER_CUBIC_FOOT
from cordwright.mortar.inputs import Form, Kind, MixPart
from cordwright.mortar.sand_inputs import SandInput

FORMS: Final[Mapping[Kind, tuple[Form, ...]]] = {
    "cement": ("powder",),
    "lime": ("powder", "putty"),
    "sand": ("damp sand", "dry sand"),
    "fibre": ("soaked fibre",),
    "pre-blended": ("bag",),
}
"""The forms each kind of material may come in."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LooseMaterial:
    """One loose cubic metre of a material as it comes.

    Dry masses [kg] of cement, lime, sand and fibre; `water` it brings [kg]; `grains`: volume of its solid grains [m3],
    fibre apart; `fibre_room`: least room its soaked fibre takes [m3]. `binder_*`: powder-equivalent loose volume,
    `damp_sand`: damp loose volume of its sand [m3].
    """

    part: MixPart
    cement: float = 0.0
    lime: float = 0.0
    sand: float = 0.0
    fibre: float = 0.0
    water: float = 0.0
    grains: float = 0.0
    fibre_room: float = 0.0
    binder_cement: float = 0.0
    binder_lime: float = 0.0
    damp_sand: float = 0.0

    @property
    def dry(self) -> float:
        """Dry mass of one loose cubic metre [kg]."""
        return self.cement + self.lime + self.sand + self.fibre


def table_density(material: str) -> float:
    """Loose bulk density of a material by the table [kg/m3].

    Sources: ASTM C270 as remembered (cement 94, lime 40, dry sand in damp loose sand 80 lb/ft3); sawdust assumed.
    """
    row = table("materials")[material]
    if "loose_kg_per_m3" in row:
        return float(row["loose_kg_per_m3"])
    return float(row["loose_lb_per_ft3"]) * POUND_PER_CUBIC_FOOT


def water_density() -> float:
    """Density of mixing water as the worked mixes take it, 62.4 lb/ft3 [kg/m3]."""
    return float(table("materials")["water"]["lb_per_ft3"]) * POUND_PER_CUBIC_FOOT


def grain_density(part: MixPart, material: str) -> float:
    """Mass over the volume of the grains themselves [kg/m3]: the owner's value or the table's."""
    return table_grain_density(material) if part.solid_density is None else part.solid_density


def table_grain_density(material: str) -> float:
    """Mass over the volume of the grains themselves by the table [kg/m3]."""
    row = table("materials")[material]
    if "basic_kg_per_m3" in row:
        return float(row["basic_kg_per_m3"])
    return float(row["specific_gravity"]) * water_density()


def bulking_of(part: MixPart) -> float:
    """Damp over dry loose volume of a sand [1]; table: 1.22, the middle of 1.15 to 1.30."""
    return part.bulking if part.bulking is not None else float(table("materials")["sand"]["bulking"])


def moisture_of(part: MixPart) -> float:
    """Water as a share of dry sand [1] when the sand is damp; table: 5 %."""
    return part.moisture if part.moisture is not None else float(table("materials")["sand"]["moisture"])


def as_measured(part: MixPart, sand: SandInput) -> MixPart:
    """A part of a mix with what was measured of its sand, wherever the part itself states nothing.

    The bucket weighed dry sand: damp, the same sand takes more room by its bulking, so a damp measure holds less of it.

    Args:
        part: of kind sand.
        sand: the one it is made of.
    """
    bulking = part.bulking if part.bulking is not None else sand.bulking
    damp = replace(
        part,
        sand=sand.name,
        bulking=bulking,
        moisture=part.moisture if part.moisture is not None else sand.moisture,
    )
    if part.bulk_density is not None or sand.loose_density is None:
        return damp
    swell = bulking_of(damp) if part.form == "damp sand" else 1.0
    return replace(damp, bulk_density=sand.loose_density / swell)


def part_sources(part: MixPart) -> tuple[Cite, ...]:
    """Who says what a part weighs: the owner where they state it, the table for the rest."""
    typed: tuple[Any, ...] = (part.bulk_density, part.solid_density, part.moisture, part.bulking, part.cement_share)
    owner = (Cite("owner", f"mix: {part.name}"),) if any(v is not None for v in typed) else ()
    measured = (Cite("owner", f"sands: {part.sand}"),) if part.sand else ()
    rows = ("cement", "lime") if part.kind == "pre-blended" else (part.kind,)
    return (*owner, *measured, *(cite(s) for row in rows for s in table("materials")[row]["sources"]))


def loose_material(part: MixPart) -> LooseMaterial:
    """What one loose cubic metre of a part holds.

    Args:
        part: a part without faults (see `find_faults`).
    """
    return _BY_FORM[part.form](part)


def _bulk(part: MixPart, by_table: float) -> float:
    return by_table if part.bulk_density is None else part.bulk_density


def _powder(part: MixPart) -> LooseMaterial:
    bulk = _bulk(part, table_density(part.kind))
    grains = bulk / grain_density(part, part.kind)
    if part.kind == "cement":
        return LooseMaterial(part=part, cement=bulk, grains=grains, binder_cement=1.0)
    return LooseMaterial(part=part, lime=bulk, grains=grains, binder_lime=1.0)


def _putty(part: MixPart) -> LooseMaterial:
    """Lime putty is part water: its dry lime counts as the powder that would hold as much."""
    assert part.bulk_density is not None
    assert part.solids_share is not None
    lime = part.bulk_density * part.solids_share
    return LooseMaterial(
        part=part,
        lime=lime,
        water=part.bulk_density - lime,
        grains=lime / grain_density(part, "lime"),
        binder_lime=lime / table_density("lime"),
    )


def _bag(part: MixPart) -> LooseMaterial:
    assert part.bulk_density is not None
    assert part.cement_share is not None
    cement = part.bulk_density * part.cement_share
    lime = part.bulk_density - cement
    return LooseMaterial(
        part=part,
        cement=cement,
        lime=lime,
        grains=cement / grain_density(part, "cement") + lime / grain_density(part, "lime"),
        binder_cement=cement / table_density("cement"),
        binder_lime=lime / table_density("lime"),
    )


def _damp_sand(part: MixPart) -> LooseMaterial:
    dry = _bulk(part, table_density("sand"))
    grains = dry / grain_density(part, "sand")
    return LooseMaterial(part=part, sand=dry, water=dry * moisture_of(part), grains=grains, damp_sand=1.0)


def _dry_sand(part: MixPart) -> LooseMaterial:
    """Dry sand lies closer than damp: the same cubic metre holds more by the bulking."""
    dry = _bulk(part, table_density("sand") * bulking_of(part))
    return LooseMaterial(part=part, sand=dry, grains=dry / grain_density(part, "sand"), damp_sand=bulking_of(part))


def _soaked_fibre(part: MixPart) -> LooseMaterial:
    dry = _bulk(part, table_density("fibre"))
    return LooseMaterial(part=part, fibre=dry, fibre_room=dry / grain_density(part, "fibre"))


_BY_FORM: Final[Mapping[Form, Callable[[MixPart], LooseMaterial]]] = {
    "powder": _powder,
    "putty": _putty,
    "bag": _bag,
    "damp sand": _damp_sand,
    "dry sand": _dry_sand,
    "soaked fibre": _soaked_fibre,
}
