"""What is usual on a single day, when only the means of the months are known?

Straight lines between the months' middles flatten every peak: the mean of the line over July lies under July's own
mean. Here the knots are solved for, so that the mean over each month is the month's, exactly.
"""

from collections.abc import Sequence
from functools import cache
from itertools import pairwise
from typing import Final

import numpy as np
from numpy.typing import NDArray

from cordwright.base import Cite, InputError
from cordwright.site.climate import DAYS

Floats = NDArray[np.float64]

SMOOTH: Final = Cite("mean-preserving-curve")
_ENDS: Final = np.cumsum((0, *DAYS))
LEAP_DAY: Final = 59
"""Slot of 29 February in a leap year."""


@cache
def _hats() -> Floats:
    """Weight of each month's knot on each day of a common year (365, 12): straight lines between middles."""
    middles = (_ENDS[:-1] + _ENDS[1:]) / 2
    knots = np.concatenate([middles - 365, middles, middles + 365])
    day = np.arange(365) + 0.5
    return np.column_stack([
        np.interp(day, knots, np.tile(np.arange(12) == month, 3).astype(np.float64)) for month in range(12)
    ])  # fmt: skip


@cache
def _knots_from_means() -> Floats:
    """The inverse of what a month's mean is made of (12, 12)."""
    means = np.array([_hats()[a:b].mean(axis=0) for a, b in pairwise(_ENDS)])
    return np.linalg.inv(means)


def year_curve(months: Sequence[float] | Floats, least: float = -np.inf, most: float = np.inf) -> Floats:
    """The value of each day of a leap year (366,), in the months' unit; each month's mean is kept exactly.

    Where a bound is crossed the month is drawn towards its own mean until it just touches the bound. 29 February lies
    between its neighbours, so that the mean of a leap February is kept only nearly.

    Args:
        months: mean of each month (12,), January first.
        least: no day lies under this.
        most: no day lies over this.

    Raises:
        InputError: not twelve, or a month's own mean out of bounds.

    Sources: closed form (`mean-preserving-curve`).
    """
    means = np.asarray(months, np.float64)
    if means.shape != (12,) or not np.isfinite(means).all() or (means < least).any() or (means > most).any():
        raise InputError(f"a year's curve needs twelve values from {least:g} to {most:g}")
    curve = _hats() @ (_knots_from_means() @ means)
    for mean, a, b in zip(means, _ENDS[:-1], _ENDS[1:], strict=True):
        curve[a:b] = mean + (curve[a:b] - mean) * _room(curve[a:b] - mean, least - mean, most - mean)
    return leap_year(curve)


def _room(swing: Floats, least: float, most: float) -> float:
    """By how much a month's swing about its mean must shrink to stay within bounds [1]."""
    down = least / swing.min() if swing.min() < least else 1.0
    up = most / swing.max() if swing.max() > most else 1.0
    return float(min(down, up))


def leap_year(common: Floats) -> Floats:
    """Put 29 February between its neighbours: (365, ...) becomes (366, ...)."""
    between = (common[LEAP_DAY - 1] + common[LEAP_DAY]) / 2
    return np.insert(common, LEAP_DAY, between, axis=0)
