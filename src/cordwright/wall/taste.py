"""Where does the owner want large and small log ends: mixed, large at the bottom, or a band of one kind?

A taste is a lean by height: at every exchange of sizes a place's wish for a larger log grows by it. It is weak beside
the press of the neighbours, so that it shows in the wall and hardly costs wood.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from cordwright.wall.inputs import Band, Wishes
from cordwright.wall.layout import Face

RISE = 6e-4
"""Lean at the bed, where large ones are wanted at the bottom; as much the other way at the head [m]."""

BAND = 8e-4
"""Lean within a band [m]."""

EDGE_OF_BAND = 1e-3
"""Height over which a band's lean sets in [m]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Taste:
    """A lean toward large logs (small ones where below 0) by height: both [m], straight between the heights named."""

    heights: tuple[float, ...] = ()
    lean: tuple[float, ...] = ()


PLAIN = Taste()
"""No wish: sizes mixed."""


def taste_of(wishes: Wishes, face: Face) -> Taste:
    """Read the owner's wishes as a lean by height in one panel; PLAIN when nothing is wanted there.

    Args:
        wishes: pattern and bands as stated.
        face: the panel.
    """
    bands = [band for band in wishes.bands if band.panel in ("", face.name)]
    rise = RISE if wishes.pattern == "large at the bottom" else 0.0
    if not (bands or rise):
        return PLAIN
    ys = [y for _, y in face.outline]
    bed, head = min(ys), max(ys)
    heights = sorted({bed, head, *(bed + y for band in bands for y in _knots(band))})
    lean = [rise * (1 - 2 * (y - bed) / (head - bed)) + _band_lean(y - bed, bands) for y in heights]
    return Taste(heights=tuple(heights), lean=tuple(lean))


def _knots(band: Band) -> tuple[float, float, float, float]:
    return band.low - EDGE_OF_BAND, band.low, band.high, band.high + EDGE_OF_BAND


def _band_lean(height: float, bands: Sequence[Band]) -> float:
    return sum(BAND if b.sizes == "large" else -BAND for b in bands if b.low <= height <= b.high)
