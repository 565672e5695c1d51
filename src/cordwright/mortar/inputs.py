"""What goes into the bucket, in the form it comes?

Volumes [m3], densities [kg/m3], shares as fractions.
"""

from dataclasses import dataclass
from datetime import date
from typing import Literal

from cordwright.mortar.sand_inputs import SandInput

Form = Literal["powder", "putty", "bag", "damp sand", "dry sand", "soaked fibre"]
Kind = Literal["cement", "lime", "sand", "fibre", "pre-blended"]
Fibre = Literal["sawdust", "shavings", "cellulose", "other"]
PatResult = Literal["hard", "crumbles", "crazed", "soft"]


@dataclass(frozen=True, slots=True, kw_only=True)
class MixPart:
    """One material of the mix, by parts of volume in the form it comes; None takes the table's value.

    `bulk_density` is mass of the delivered material per loose volume (damp sand: dry sand per damp loose volume; fibre:
    dry fibre per loose volume). `solid_density` is mass over the volume of the grains themselves (fibre: oven-dry mass
    over soaked volume). `moisture` is water as a share of dry sand; `bulking` damp over dry loose volume. `bag` is the
    mass of one bag [kg]. "bag" (pre-blended) needs `cement_share` of its mass, the rest being lime; "putty" needs
    `bulk_density` and `solids_share` (dry lime over putty mass). Of fibre: `material`, the `wood` it comes of, and
    whether it is treated with `borate`. Of sand: the name of one of the sands at hand (`sand`), which gave
    all that the part does not state.
    """

    name: str
    kind: Kind
    form: Form
    parts: float
    bulk_density: float | None = None
    solid_density: float | None = None
    moisture: float | None = None
    bulking: float | None = None
    cement_share: float | None = None
    solids_share: float | None = None
    bag: float | None = None
    material: Fibre | None = None
    wood: str = ""
    borate: bool | None = None
    sand: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Pat:
    """A test pat: a hand-sized cake of the mix, cast and looked at on two days.

    `mix` names the mix it was made of; blank, it speaks of the mix in hand. `scratch`: what a nail does to its face.
    `strength` only where a laboratory broke it [Pa].
    """

    cast: date
    looked_at: date
    result: PatResult
    mix: str = ""
    scratch: str = ""
    strength: float | None = None
    note: str = ""

    @property
    def age(self) -> int:
        """Days from casting to looking."""
        return (self.looked_at - self.cast).days


@dataclass(frozen=True, slots=True, kw_only=True)
class MortarInput:
    """The mix, the measure it is counted in, and the waste.

    `bucket`: volume of one part [m3]. `air`: share of fresh mortar. `measured_yield`: fresh mortar over loose parts,
    the owner's own measurement, which replaces the computed one. `container`: what the batch is turned in [m3].
    `pot_life`: time from wetting until it may no longer be used, by the bag [h]. `stop`: when laying stops [h of day].
    `sands`: the sands at hand, as measured.
    """

    name: str = ""
    parts: tuple[MixPart, ...] = ()
    pats: tuple[Pat, ...] = ()
    container: float | None = None
    pot_life: float | None = None
    stop: float | None = None
    bucket: float | None = None
    waste: float = 0.0
    air: float | None = None
    measured_yield: float | None = None
    sands: tuple[SandInput, ...] = ()
