"""How does a sand behave in the bucket and under the trowel: water, swelling when damp, and what a gravel gives of it?

Nothing here is measured: each number is an assumption with its range, for as long as the owner has not measured it.
"""

import math
from itertools import pairwise
from typing import Final

from cordwright.base import Cite
from cordwright.mortar.grading import ASTM_SERIES, Grading
from cordwright.mortar.grading_bands import band
from cordwright.mortar.spread import Spread

WATER_SOURCE: Final = Cite("sand-water-demand")
BULKING_SOURCE: Final = Cite("bulking-by-fineness")
BULKING_RANGE: Final = Cite("sand-bulking", "15 to 30 % at 2 to 5 % moisture")
READING_SOURCE: Final = Cite("bucket-reading")

WATER_EXPONENTS: Final = (0.2, 0.35, 0.5)
"""Power of the grains' surface with which the water goes: least, middle and most (assumption, `sand-water-demand`)."""
LEAST_SWELL, MOST_SWELL = 1.15, 1.30
"""Damp over dry loose volume at 2 to 5 % moisture (`sand-bulking`) [1]."""
COARSE, FINE = 1.0e-3, 0.25e-3
"""Middle sizes from which on a sand swells least, and most (assumption, `bulking-by-fineness`) [m]."""
BUCKET_READING: Final = 0.03
"""How far two bucketfuls of one sand, struck off by hand, differ in mass (assumption, `bucket-reading`) [1]."""


def grain_surface(curve: Grading) -> float | None:
    """Surface over volume of the grains as balls, without the factor 6 [1/m]; None when the series does not reach.

    All sands are read at the same six sieves, so that a finer one always has more. Grains between two sieves are of the
    middle size by logarithm; those through the finest lie between it and half of it. What lies on the widest sieve used
    is taken as just as wide as the next.

    Args:
        curve: the passing curve.
    """
    shares = [1.0 if size > curve.openings[0] else curve.at(size) for size in (2 * ASTM_SERIES[0], *ASTM_SERIES)]
    known = [1.0, *(share for share in shares[1:] if share is not None), 0.0]
    if None in shares:
        return None
    sizes = (2 * ASTM_SERIES[0], *ASTM_SERIES, ASTM_SERIES[-1] / 2)
    bins = zip(pairwise(known), pairwise(sizes), strict=True)
    return math.fsum((above - below) / math.sqrt(wide * tight) for (above, below), (wide, tight) in bins)


def water_demand(curve: Grading) -> Spread | None:
    """Water for equal placing, over that of a sand in the middle of the masonry band [1]; None without the sieves.

    More surface wants more water, by a power between the least and the most that is assumed: finer sand never wants
    less.

    Args:
        curve: the passing curve.

    Sources: assumption (`sand-water-demand`).
    """
    own = grain_surface(curve)
    if own is None:
        return None
    limits = band("c144-natural").limits
    middle = Grading(
        openings=tuple(limit.opening for limit in limits),
        passing=tuple((limit.low + limit.high) / 2 for limit in limits),
    )
    usual = grain_surface(middle)
    assert usual is not None
    least, mid, most = ((own / usual) ** power for power in WATER_EXPONENTS)
    return Spread(middle=mid, low=min(least, most), high=max(least, most))


def bulking_by_fineness(middle_size: float) -> Spread:
    """Damp over dry loose volume at 2 to 5 % moisture [1]: finer sand swells more.

    Args:
        middle_size: the size half of the sand is finer than [m].

    Sources: range `sand-bulking`; where within it a sand lies is an assumption (`bulking-by-fineness`).
    """
    part = math.log(COARSE / middle_size) / math.log(COARSE / FINE)
    swell = LEAST_SWELL + (MOST_SWELL - LEAST_SWELL) * min(1.0, max(0.0, part))
    return Spread(middle=swell, low=LEAST_SWELL, high=MOST_SWELL)


def screened_share(gravel: Grading, opening: float) -> float | None:
    """Share of a gravel that a screen lets through as sand [1]; None where no wider sieve was used or none reaches.

    Args:
        gravel: its passing curve.
        opening: of the screen [m].
    """
    return gravel.at(opening) if gravel.openings[0] > opening else None
