"""What share of its water does a short round log still hold after drying for a while in steady air?

Water leaves along the grain through the two cut faces and across it through the peeled side. Both go on at once, and
what is left is the product of the two. Time is told as diffusion times time over size squared.
"""

from math import pi
from typing import Final

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

_SLAB_TERMS, _CYLINDER_TERMS = 12, 24
_SHORT: Final = 0.004
"""Below this dimensionless time the series needs many terms, and the form for short times is good to 1e-6."""
_FIRST_ZEROS: Final = (
    2.404825557695773, 5.520078110286311, 8.653727912911013, 11.79153443901428, 14.93091770848779,
    18.07106396791092, 21.21163662987926, 24.35247153074930, 27.49347913204025, 30.63460646843198,
)  # fmt: skip


def bessel_zeros(count: int) -> Floats:
    """Zeros of the Bessel function J0 in rising order, shape (count,).

    Sources: closed form (`crank-diffusion`); the first ten as numbers, the rest by McMahon's expansion.
    """
    b = (np.arange(1, count + 1) - 0.25) * pi
    e = 8 * b
    zeros = b + 1 / e - 124 / (3 * e**3) + 120928 / (15 * e**5) - 401743168 / (105 * e**7)
    known = min(count, len(_FIRST_ZEROS))
    zeros[:known] = _FIRST_ZEROS[:known]
    return zeros


_ODD: Final = np.arange(1, 2 * _SLAB_TERMS, 2, dtype=np.float64)
_SLAB_RATES: Final = (pi * _ODD) ** 2
_SLAB_SHARES: Final = 8 / _SLAB_RATES
_CYLINDER_RATES: Final = bessel_zeros(_CYLINDER_TERMS) ** 2
_CYLINDER_SHARES: Final = 4 / _CYLINDER_RATES


def _left(time: Floats, rates: Floats, shares: Floats, short: Floats) -> Floats:
    series = np.exp(-np.multiply.outer(np.maximum(time, _SHORT), rates)) @ shares
    return np.where(time < _SHORT, short, series)


def left_in_slab(time: Floats) -> Floats:
    """Share of the removable water left in a slab that dries from both faces, shape of `time` [1].

    Args:
        time: diffusion x time / thickness squared, not negative [1], any shape.

    Sources: Crank, series of a slab and its form for short times.
    """
    return _left(time, _SLAB_RATES, _SLAB_SHARES, 1 - 4 * np.sqrt(time / pi))


def left_in_cylinder(time: Floats) -> Floats:
    """Share of the removable water left in a long round log that dries through its side, shape of `time` [1].

    Args:
        time: diffusion x time / radius squared, not negative [1], any shape.

    Sources: Crank, series of a cylinder and its form for short times.
    """
    short = 1 - 4 * np.sqrt(time / pi) + time + time**1.5 / (3 * np.sqrt(pi))
    return _left(time, _CYLINDER_RATES, _CYLINDER_SHARES, short)


def left_in_log_end(
    time: Floats, diameter: float, length: float, *, across: float, along: float, bark: bool = False
) -> Floats:
    """Share of the removable water left in a log end, shape of `time` [1].

    Args:
        time: since the air changed [s], not negative, any shape.
        diameter: of the log end [m].
        length: of the log end along the grain [m].
        across: diffusion across the grain [m2/s].
        along: diffusion along the grain [m2/s].
        bark: whether the bark is on; it then closes the side.

    Sources: Crank, product of slab and cylinder; the surface is taken to follow the air at once.
    """
    ends = left_in_slab(along * time / length**2)
    return ends if bark else ends * left_in_cylinder(across * time / (diameter / 2) ** 2)


def share_through_ends(diameter: float, length: float, *, across: float, along: float, terms: int = 400) -> float:
    """Share of all the water that leaves through the two cut faces in the end, the rest through the side [1].

    Args:
        diameter: of the log end, bark off [m].
        length: of the log end along the grain [m].
        across: diffusion across the grain [m2/s].
        along: diffusion along the grain [m2/s].
        terms: of each series.

    Sources: Crank; flow through the faces of the product solution, summed over time.
    """
    odd = np.arange(1, 2 * terms, 2, dtype=np.float64)
    ends, roots = (pi * odd) ** 2, bessel_zeros(terms) ** 2
    fall = np.add.outer(along / length**2 * ends, across / (diameter / 2) ** 2 * roots)
    parts = np.multiply.outer(8 / ends * (along / length**2 * ends), 4 / roots) / fall
    sides = np.multiply.outer(8 / ends, 4 / roots * (across / (diameter / 2) ** 2 * roots)) / fall
    return float(parts.sum() / (parts.sum() + sides.sum()))
