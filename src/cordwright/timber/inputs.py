"""What wood does the owner have, and how will it be cut?

Lengths [m], moisture and shares as fractions, shrinkage green to oven-dry as a fraction of the green diameter.
"""

from dataclasses import dataclass
from datetime import date
from typing import Literal

EndShape = Literal["round", "half", "quarter"]
"""What a log end is: whole, or the half or quarter of a cleft round."""

SHARES: dict[str, float] = {"round": 1.0, "half": 0.5, "quarter": 0.25}
"""Share of its parent's face and volume that a log end is."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Species:
    """A wood as its table row or the owner states it; None is unknown.

    `shrinkage` is the mean diametral one (mean of radial and tangential unless the owner states it), `basic_density`
    oven-dry mass over green volume [kg/m3]. `sources` are short cites, `key: where`.
    """

    name: str
    label: str
    shrinkage: float | None = None
    radial: float | None = None
    tangential: float | None = None
    volumetric: float | None = None
    basic_density: float | None = None
    sources: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Defect:
    """A stretch of stem to cut out, from the butt end."""

    start: float
    end: float
    what: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Stem:
    """One stem or stick, or `count` alike: diameters at the butt and top ends, tapering evenly between.

    `bark` tells whether the diameters were taken over bark. Dates are kept as typed.
    """

    name: str
    species: str
    butt_diameter: float
    top_diameter: float
    length: float
    bark: bool = False
    defects: tuple[Defect, ...] = ()
    count: int = 1
    felled: str = ""
    peeled: str = ""
    stacked: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Pile:
    """A stack of pieces already cut to length, bark off: stacked volume x solid factor, and a sample of diameters.

    Of halves and quarters (`shape`) the diameters are those of the rounds they were cleft from: a half's flat, twice a
    quarter's.
    """

    species: str
    stacked_volume: float
    solid_factor: float
    diameters: tuple[float, ...]
    solid_factor_low: float | None = None
    solid_factor_high: float | None = None
    shape: EndShape = "round"


@dataclass(frozen=True, slots=True, kw_only=True)
class MarkedEnd:
    """A log end marked for weighing: its size [m], its oven-dry mass [kg] if it was baked, the day it was cut."""

    name: str
    diameter: float
    length: float | None = None
    oven_dry_mass: float | None = None
    cut: date | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Weighing:
    """One weighing of a marked end [kg]."""

    end: str
    date: date
    mass: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """One meter reading [1 of oven-dry mass], of a marked end (`where` is its name) or somewhere in the stack."""

    date: date
    value: float
    where: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class SeasoningInput:
    """How the wood is stacked, when, and what was measured; a blank is unknown.

    `felled`, `peeled`, `stacked` hold for the whole stack where the list of stems names no day of its own. `bark` is
    "off" or "on" while stacked. `laying` is the day laying begins, as the site states it. `lay_anyway` is the owner's
    reason to lay wood that is not dry. `checked_share` is the share of log ends with a main check [1].
    """

    felled: date | None = None
    peeled: date | None = None
    stacked: date | None = None
    laying: date | None = None
    bark: str = ""
    cover: str = ""
    ends: str = ""
    on_bearers: bool | None = None
    stickers: bool | None = None
    lay_anyway: str = ""
    checked_share: float | None = None
    samples: tuple[MarkedEnd, ...] = ()
    weighings: tuple[Weighing, ...] = ()
    readings: tuple[Reading, ...] = ()

    @property
    def stated(self) -> bool:
        """Whether anything at all is said of the stack."""
        return self != SeasoningInput()


@dataclass(frozen=True, slots=True, kw_only=True)
class Treatment:
    """What the log ends are treated with, as the product's label says; None is unknown and gives no dose.

    `active` is the borate named on the label. Its strength is a share of the liquid's mass or a mass in its volume
    [kg/m3], of the liquid as it is put on. `coverage`: face wetted by a volume in one application [m2/m3]. `density`
    [kg/m3] and `temperature` [degC] of the liquid. `uptake_depth`: how deep it went, seen on a split end [m].
    """

    product: str
    registration: str = ""
    active: str = ""
    strength: float | None = None
    strength_by_volume: float | None = None
    density: float | None = None
    coverage: float | None = None
    applications: int | None = None
    faces: str = "both"
    temperature: float | None = None
    uptake_depth: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class TimberInput:
    """The stock and the way it is cut. `moisture` values are fractions of oven-dry mass.

    `end_trim` comes off each stick end, its saw cut included. Of all pieces `cull_share` is expected to be rejected and
    `spare_share` is kept back. `least_diameter` is the least one worth laying, bark off and as measured.
    `measured_moisture` is the moisture at which diameters were taken (None: green, above fibre saturation).
    """

    stems: tuple[Stem, ...] = ()
    piles: tuple[Pile, ...] = ()
    species: tuple[Species, ...] = ()
    kerf: float = 0.0
    end_trim: float = 0.0
    least_diameter: float = 0.0
    cull_share: float | None = None
    spare_share: float | None = None
    bark_factor: float | None = None
    laying_moisture: float | None = None
    service_moisture: float | None = None
    measured_moisture: float | None = None
    fibre_saturation: float | None = None
    seasoning: SeasoningInput = SeasoningInput()
    treatment: Treatment | None = None
