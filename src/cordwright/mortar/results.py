"""What one cubic metre and one batch of the mix come to."""

from dataclasses import dataclass

from cordwright.base import Caution, Check, Figure
from cordwright.mortar.inputs import MixPart


@dataclass(frozen=True, slots=True, kw_only=True)
class PartAmount:
    """One material in one cubic metre of fresh mortar.

    `dry_mass` and its share of cement and lime [kg], `delivered_mass` as it comes [kg] (damp sand with its water, putty
    with its water, fibre dry: it is soaked on site), `loose_volume` in the form it comes [m3].
    """

    part: MixPart
    dry_mass: float
    delivered_mass: float
    loose_volume: float
    cement_mass: float = 0.0
    lime_mass: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Mix:
    """The mix worked out. `yield_ratio` is fresh mortar over the sum of loose parts, with its spread.

    `amounts` per cubic metre of fresh mortar at the middle yield. `water` [kg] is what is added at the mixer to one
    cubic metre, beyond what damp sand and putty bring. `batch_volume`: fresh mortar from one batch of `parts` buckets
    [m3], None when the bucket is not stated. `binder_to_sand`: binder over damp loose sand by volume.
    `proportion_class`: "near N by proportion, untested", or why it is not judged.
    """

    yield_ratio: float
    yield_low: float
    yield_high: float
    amounts: tuple[PartAmount, ...]
    water: float
    water_low: float
    water_high: float
    batch_volume: float | None
    binder_to_sand: float
    proportion_class: str
    figures: tuple[Figure, ...]
    checks: tuple[Check, ...]
    cautions: tuple[Caution, ...]

    def figure(self, key: str) -> Figure:
        """One figure by its key."""
        return next(f for f in self.figures if f.key == key)
