"""What did the owner sieve, settle, weigh and pour of each sand?

Sizes [m], masses [kg], volumes [m3], shares as fractions; None is not measured.
"""

from dataclasses import dataclass
from typing import Literal

SandKind = Literal["natural", "manufactured"]
Organic = Literal["yes", "no", "unknown"]
Chloride = Literal["found", "none", "unknown"]


@dataclass(frozen=True, slots=True, kw_only=True)
class JarTest:
    """Heights settled in a jar of sand shaken with water [m]."""

    sand: float
    silt: float
    clay: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class SandInput:
    """One sand as measured.

    `openings` [m] from the widest sieve down. Either `retained` [kg], one for each sieve and the pan last, or `passing`
    [1], one for each sieve. `sieve_names` are the owner's own words for the sieves. `sample_mass` [kg] is what was
    weighed before sieving. `loose_density` is dry sand over loose volume [kg/m3]; `voids` the water poured into a
    measure of dry sand over the measure; `bulking` damp over dry loose volume at `moisture`. `beach`: taken from a
    sea shore, so that salt is to be tested for. `organic`: whether humus was found; `chloride`: what a strip held into
    water from it showed.
    """

    name: str
    slug: str
    kind: SandKind = "natural"
    openings: tuple[float, ...] = ()
    sieve_names: tuple[str, ...] = ()
    retained: tuple[float, ...] = ()
    passing: tuple[float, ...] = ()
    sample_mass: float | None = None
    loose_density: float | None = None
    voids: float | None = None
    moisture: float | None = None
    bulking: float | None = None
    jar: JarTest | None = None
    silt: float | None = None
    price: float | None = None
    price_per: Literal["t", "m3"] = "t"
    beach: bool = False
    organic: Organic = "unknown"
    chloride: Chloride = "unknown"
