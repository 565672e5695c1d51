"""What the sieves, the jar and the bucket say of each sand, and which blend helps."""

from dataclasses import dataclass
from typing import Final

from cordwright.base import Caution, Check, Cite, Figure
from cordwright.mortar.advice import Advice
from cordwright.mortar.blending import Blend
from cordwright.mortar.grading import Grading
from cordwright.mortar.grading_bands import Judgement
from cordwright.mortar.sand_inputs import SandInput

NEARLY: Final = 0.05
"""Most that a sand may lie outside, at one sieve alone, and still be said to fit nearly (assumption) [1]."""
NEARLY_SOURCE: Final = Cite("nearly-fits")


@dataclass(frozen=True, slots=True, kw_only=True)
class SandReport:
    """One sand judged. `judgements` hold the masonry band of its kind first; none without a sieving.

    `off` is the sum of what lies outside that band [1]; `remarks` are for the mason, worst first. `parts` names the
    sands of a blend.
    """

    sand: SandInput
    curve: Grading | None
    judgements: tuple[Judgement, ...]
    off: float | None
    remarks: tuple[Advice, ...]
    figures: tuple[Figure, ...]
    checks: tuple[Check, ...]
    blend: Blend | None = None
    buckets: tuple[int, ...] | None = None

    @property
    def verdict(self) -> str:
        """Whether it lies in the masonry band of its kind: fits, nearly fits, outside or not judged."""
        if not self.judgements:
            return "not judged"
        first = self.judgements[0]
        alone = len(first.excursions) == 1 and not first.steps
        return "nearly fits" if alone and abs(first.excursions[0].by) <= NEARLY else first.verdict


@dataclass(frozen=True, slots=True, kw_only=True)
class Sands:
    """All sands at hand, the blends worth a thought, and all of them from the least to the most outside the band."""

    reports: tuple[SandReport, ...]
    blends: tuple[SandReport, ...]
    densest: Blend | None
    ranking: tuple[SandReport, ...]
    figures: tuple[Figure, ...]
    checks: tuple[Check, ...]
    cautions: tuple[Caution, ...]
