"""How does the owner write down a sand: its sieves, its jar, its bucket, its price?"""

import re
from typing import Annotated, Any, Final, Literal

from pydantic import PlainValidator

from cordwright.base import Cite
from cordwright.base.units import CUBIC_YARD
from cordwright.mortar.sand_inputs import JarTest, SandInput
from cordwright.project.faults import FieldFault, Findings, shown
from cordwright.project.fields import (
    Bulking,
    Density,
    Length,
    Mass,
    Moisture,
    Money,
    Name,
    PartShare,
    Reader,
    Share,
    Size,
    Volume,
    Weighed,
    choice,
)
from cordwright.project.quantity import parse_quantity
from cordwright.project.schema import Table

NUMBERED_SOURCE: Final = Cite("astm-e11-memory")
NUMBERED: Final = {
    "4": 4.75,
    "5": 4.0,
    "6": 3.35,
    "7": 2.8,
    "8": 2.36,
    "10": 2.0,
    "12": 1.7,
    "14": 1.4,
    "16": 1.18,
    "18": 1.0,
    "20": 0.85,
    "25": 0.71,
    "30": 0.6,
    "35": 0.5,
    "40": 0.425,
    "45": 0.355,
    "50": 0.3,
    "60": 0.25,
    "70": 0.212,
    "80": 0.18,
    "100": 0.15,
    "120": 0.125,
    "140": 0.106,
    "170": 0.09,
    "200": 0.075,
    "230": 0.063,
    "270": 0.053,
    "325": 0.045,
    "400": 0.038,
}
"""Openings of the numbered sieves [mm] (`astm-e11-memory`)."""
FORMS: Final = 'write its opening or its number: "4 mm", "3/8 in", "No.16"'


def sieve_opening(value: object) -> float:
    """Opening of a sieve by its number or by the size written [m].

    Raises:
        FieldFault: neither.

    Sources: ASTM E11 as remembered (`astm-e11-memory`).
    """
    match = re.fullmatch(r"\s*(?:no\.?|#|nr\.?)\s*(\d+)\s*", value, re.IGNORECASE) if isinstance(value, str) else None
    if match is None:
        return parse_quantity(value, "length", "positive")
    if match[1] not in NUMBERED:
        raise FieldFault(f"there is no sieve {shown(value)}", f"the numbers are {', '.join(NUMBERED)}")
    return NUMBERED[match[1]] / 1000


def _sieve(value: object) -> tuple[str, float]:
    opening = sieve_opening(value)
    return str(value).strip(), opening


Sieve = Annotated[tuple[str, float], PlainValidator(Reader(FORMS, _sieve))]


class SandTable(Table):
    """[[sands]]: a sand as measured."""

    name: Name
    kind: Annotated[Literal["natural", "manufactured"], choice("natural", "manufactured")] = "natural"
    origin: Annotated[Literal["pit", "river", "lake", "sea", "quarry"], choice("pit", "river", "lake", "sea", "quarry")]
    sieves: tuple[Sieve, ...] = ()
    retained: tuple[Weighed, ...] = ()
    passing: tuple[Share, ...] = ()
    sample_mass: Mass | None = None
    loose_density: Density | None = None
    bucket: Volume | None = None
    bucket_mass: Mass | None = None
    voids: PartShare | None = None
    measure: Volume | None = None
    water_poured: Volume | None = None
    moisture: Moisture | None = None
    bulking: Bulking | None = None
    jar_sand: Size | None = None
    jar_silt: Length | None = None
    jar_clay: Length = 0.0
    silt: Share | None = None
    organic: Annotated[Literal["yes", "no", "unknown"], choice("yes", "no", "unknown")] = "unknown"
    chloride: Annotated[Literal["found", "none", "unknown"], choice("found", "none", "unknown")] = "unknown"
    price: Money | None = None
    price_per: Annotated[Literal["t", "m3", "yd3"], choice("t", "m3", "yd3")] = "t"


def sand_inputs(tables: tuple[SandTable, ...], currency: str, findings: Findings) -> tuple[SandInput, ...]:
    """Give the sands, noting what is stated twice, by halves or in another currency."""
    taken: set[str] = set()
    for i, table in enumerate(tables):
        _note_halves(f"sands[{i}]", table, currency, findings)
    return tuple(_sand(table, taken) for table in tables)


def _note_halves(field: str, table: SandTable, currency: str, findings: Findings) -> None:
    pairs = (("bucket", "bucket_mass"), ("measure", "water_poured"), ("jar_sand", "jar_silt"))
    for one, other in pairs:
        if (getattr(table, one) is None) != (getattr(table, other) is None):
            there, missing = (one, other) if getattr(table, other) is None else (other, one)
            findings.add(f"{field}.{there}", f"{there} is stated without {missing}", f"state {missing} too")
    doubles = (("loose_density", "bucket"), ("voids", "measure"), ("silt", "jar_sand"))
    for one, other in doubles:
        if getattr(table, one) is not None and getattr(table, other) is not None:
            findings.add(f"{field}.{one}", f"{one} is stated, and {other} gives it too", "keep the one you measured")
    if table.measure is not None and table.water_poured is not None and table.water_poured >= table.measure:
        findings.add(f"{field}.water_poured", "more water than the empty measure holds", "measure it again")
    if table.price is not None and currency and table.price[1] != currency:
        findings.add(f"{field}.price", f"the price is in {table.price[1]}", f"write it in {currency}")


def _sand(table: SandTable, taken: set[str]) -> SandInput:
    per_yard = table.price_per == "yd3"
    price = None if table.price is None else float(table.price[0]) / (CUBIC_YARD if per_yard else 1)
    return SandInput(
        name=table.name,
        slug=_slug(table.name, taken),
        kind=table.kind,
        openings=tuple(opening for _, opening in table.sieves),
        sieve_names=tuple(name for name, _ in table.sieves),
        retained=table.retained,
        passing=table.passing,
        sample_mass=table.sample_mass,
        loose_density=_ratio(table.bucket_mass, table.bucket, table.loose_density),
        voids=_ratio(table.water_poured, table.measure, table.voids),
        moisture=table.moisture,
        bulking=table.bulking,
        jar=_jar(table),
        silt=table.silt,
        price=price,
        price_per="t" if table.price_per == "t" else "m3",
        beach=table.origin == "sea",
        organic=table.organic,
        chloride=table.chloride,
    )


def _ratio(part: float | None, whole: float | None, stated: float | None) -> float | None:
    return stated if part is None or whole is None else part / whole


def _jar(table: SandTable) -> JarTest | None:
    if table.jar_sand is None or table.jar_silt is None:
        return None
    return JarTest(sand=table.jar_sand, silt=table.jar_silt, clay=table.jar_clay)


def _slug(name: Any, taken: set[str]) -> str:
    slug = re.sub(r"[\W_]+", "_", name.lower()).strip("_") or "sand"
    while slug in taken or slug.startswith("blend_"):
        slug += "_"
    taken.add(slug)
    return slug
