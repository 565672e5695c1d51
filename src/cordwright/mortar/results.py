"""What one cubic metre and one batch of the mix come to."""

from dataclasses import dataclass

from cordwright.base import Caution, Check, Figure
from cordwright.mortar.inputs import MixPart


@dataclass(frozen=True, slots=True, kw_only=True)
class PartAmount:
    """One material in one cubic metre of fresh mortar: dry mass [kg], mass as delivered [kg], loose volume [m3]."""

    part: MixPart
    dry_mass: float
    delivered_mass: float
    loose_volume: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Mix:
    """The mix worked out. `yield_ratio` is fresh mortar over the sum of loose parts, with its spread.

    `amounts` per cubic metre of fresh mortar at the middle yield. `batch_volume`: fresh mortar from one batch of
    `parts` buckets [m3], None when the bucket is not stated. `proportion_class`: "near N, untested" or "".
    """

    yield_ratio: float
    yield_low: float
    yield_high: float
    amounts: tuple[PartAmount, ...]
    water: float
    batch_volume: float | None
    binder_to_sand: float
    proportion_class: str
    figures: tuple[Figure, ...]
    checks: tuple[Check, ...]
    cautions: tuple[Caution, ...]
