"""What would a mason say of this sand?"""

from collections.abc import Iterator
from typing import Final

from cordwright.base import Cite
from cordwright.mortar.grading import Grading, loss, uniformity
from cordwright.mortar.grading_bands import Excursion, Judgement
from cordwright.mortar.grain_statistics import size_class
from cordwright.mortar.sand_figures import MOST_SILT, silt_share
from cordwright.mortar.sand_inputs import SandInput

UNIFORM_SOURCE: Final = Cite("uniform-sand")
UNIFORM: Final = 3.0
"""D60 / D10 below which a sand counts as of one size (assumption, `uniform-sand`) [1]."""
FINE: Final = 0.5e-3
"""Half a millimetre, a pen's line: a sand with a finer middle is fine to the eye (common practice) [m]."""


def remarks(sand: SandInput, curve: Grading | None, judgements: tuple[Judgement, ...]) -> tuple[str, ...]:
    """Sentences for the mason, worst first."""
    return (
        *(_uniform(curve) if curve else ()),
        *_jar(sand),
        *_salt(sand),
        *_mass(sand),
        *(_size(curve) if curve else ()),
        *_outside(judgements),
    )


def _uniform(curve: Grading) -> Iterator[str]:
    ratio, middle = uniformity(curve), curve.size(0.5)
    if ratio is not None and middle is not None and ratio < UNIFORM and middle < FINE:
        yield "uniform fine sand: needs more water for the same placing, weak and shrinkage-prone"


def _jar(sand: SandInput) -> Iterator[str]:
    silt = silt_share(sand)
    if silt is not None and silt > MOST_SILT:
        has, most = silt * 100, MOST_SILT * 100
        yield f"silt and clay {has:.1f} % by settled height, more than {most:g} %: wash it or leave it"


def _salt(sand: SandInput) -> Iterator[str]:
    if sand.beach:
        yield "beach sand: sea salt rusts ties and fixings; hold a chloride strip into water from it"


def _mass(sand: SandInput) -> Iterator[str]:
    lost = loss(sand)
    if lost:
        word = "lost" if lost > 0 else "gained"
        yield f"{abs(lost) * 100:.1f} % {word} in sieving; passing is reckoned on what lay on the sieves"


def _size(curve: Grading) -> Iterator[str]:
    middle = curve.size(0.5)
    if middle is not None:
        side = "coarser" if middle > FINE else "finer"
        yield f"{size_class(middle)}: half of it is {side} than a pen's half-millimetre line"


def _outside(judgements: tuple[Judgement, ...]) -> Iterator[str]:
    if judgements and judgements[0].verdict == "outside":
        yield "a sand outside the band may still serve if the mortar made with it performs: lay and break a test pat"


def wants(excursion: Excursion) -> str:
    """What a sand has at a sieve, what is wanted there and how far it is off, in points of percentage."""
    return (
        f"{excursion.has * 100:.0f} % against {excursion.low * 100:.0f}-{excursion.high * 100:.0f}, "
        f"off by {abs(excursion.by) * 100:.1f} points"
    )
