"""What would a mason say of this sand?"""

from collections.abc import Iterator
from typing import Final

from cordwright.base import Cite
from cordwright.mortar.advice import Advice
from cordwright.mortar.en_13139 import en_remarks
from cordwright.mortar.grading import Grading, loss, uniformity
from cordwright.mortar.grading_bands import Judgement
from cordwright.mortar.grain_statistics import size_class
from cordwright.mortar.sand_figures import MOST_SILT, silt_share
from cordwright.mortar.sand_inputs import SandInput

ORGANIC_SOURCE: Final = Cite("organic-matter-practice")
UNIFORM_SOURCE: Final = Cite("uniform-sand")
UNIFORM: Final = 3.0
"""D60 / D10 below which a sand counts as of one size (assumption, `uniform-sand`) [1]."""
FINE: Final = 0.5e-3
"""Half a millimetre, a pen's line: a sand with a finer middle is fine to the eye (common practice) [m]."""


PEN: Final = "than a pen's half-millimetre line"
MAY_SERVE: Final = Advice(
    words="a sand outside the band may still serve if the mortar made with it performs: lay and break a test pat"
)


def remarks(sand: SandInput, curve: Grading | None, judgements: tuple[Judgement, ...]) -> tuple[Advice, ...]:
    """Sentences for the mason, worst first."""
    return (
        *(_uniform(curve) if curve else ()),
        *_organic(sand),
        *_jar(sand),
        *_salt(sand),
        *_mass(sand),
        *(_size(curve) if curve else ()),
        *(en_remarks(curve) if curve else ()),
        *_outside(judgements),
    )


def _uniform(curve: Grading) -> Iterator[Advice]:
    ratio, middle = uniformity(curve), curve.size(0.5)
    if ratio is not None and middle is not None and ratio < UNIFORM and middle < FINE:
        yield Advice(words="uniform fine sand: needs more water for the same placing, weak and shrinkage-prone")


def _jar(sand: SandInput) -> Iterator[Advice]:
    silt = silt_share(sand)
    if silt is not None and silt > MOST_SILT:
        words = "silt and clay {} by settled height, more than {}: wash it or leave it"
        yield Advice(words=words, amounts=((silt, "1"), (MOST_SILT, "1")))


def _organic(sand: SandInput) -> Iterator[Advice]:
    if sand.organic == "yes":
        words = "humus was found in it and hinders the set: leave it, or wash it and try a pat beside clean sand"
        yield Advice(words=words)


def _salt(sand: SandInput) -> Iterator[Advice]:
    if sand.chloride == "found":
        yield Advice(words="the strip shows chloride: salt rusts ties and fixings; wash it until the strip shows none")
    elif sand.beach and sand.chloride == "none":
        yield Advice(words="beach sand: the strip shows no chloride; try one more from another place in the pile")
    elif sand.beach:
        yield Advice(words="beach sand: sea salt rusts ties and fixings; hold a chloride strip into water from it")


def _mass(sand: SandInput) -> Iterator[Advice]:
    lost = loss(sand)
    if lost:
        words = f"{{}} {'lost' if lost > 0 else 'gained'} in sieving; passing is reckoned on what lay on the sieves"
        yield Advice(words=words, amounts=((abs(lost), "1"),))


def _size(curve: Grading) -> Iterator[Advice]:
    middle = curve.size(0.5)
    if middle is not None:
        side = "coarser" if middle > FINE else "finer"
        yield Advice(words=f"{size_class(middle)}: half of it is {side} {PEN}")


def _outside(judgements: tuple[Judgement, ...]) -> Iterator[Advice]:
    if judgements and judgements[0].verdict == "outside":
        yield MAY_SERVE
