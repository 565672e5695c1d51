"""How far do single nights swing about their usual low, if the owner knows when the frost comes?

The mean of the lows says nothing of it, and it decides on frost: the same means give eighteen frost nights a year or
thirty-eight. A date by which, in one year of two, a night has been colder than -3 degC settles it.
"""

import math
from collections.abc import Callable
from datetime import date
from typing import Final

import numpy as np
from numpy.typing import NDArray

from cordwright.base import Cite
from cordwright.site.climate import MonthlyNormals
from cordwright.site.first_frost import HARD_FROST, leap_day
from cordwright.site.weather import SEED, WINTERS, WeatherModel
from cordwright.site.weather_calendar import leap_slot
from cordwright.site.weather_days import Days
from cordwright.site.weather_fit import fit_normals, temperatures

Floats = NDArray[np.float64]

LEAST: Final = 1.0
MOST: Final = 8.0
HALVINGS: Final = 10
"""To a hundredth of a kelvin."""
BY_DATE: Final = Cite("night-spread-solved", "first hard frost")
BY_NIGHTS: Final = Cite("night-spread-solved", "frost nights")


def spread_by_date(normals: MonthlyNormals, frost: tuple[int, int], near: date) -> float | None:
    """The spread of nights [K] with which half the years have had a hard frost by a day; None if none does.

    Args:
        normals: with low, high, rain and rain_days.
        frost: month and day by which, in one year of two, a night has been colder than -3 degC.
        near: the autumn looked at follows the summer nearest to this day; the generated winters are the same then.
    """
    model = fit_normals(normals)
    begin = _summer(normals, near)
    last = leap_day(begin.year, *frost)
    until = (last if last > begin else leap_day(begin.year + 1, *frost)).toordinal() - begin.toordinal() + 1
    made = model.days(SEED, range(WINTERS), begin, until)

    def share(spread: float) -> float:
        return float((_lows(normals, model, made, spread) < HARD_FROST).any(axis=1).mean())

    return _solve(share, 0.5)


def spread_by_nights(normals: MonthlyNormals, nights: float) -> float | None:
    """The spread of nights [K] with which a usual year has so many nights under 0 degC; None if none does.

    Args:
        normals: with low, high, rain and rain_days.
        nights: in a usual year.
    """
    model = fit_normals(normals)

    def count(spread: float) -> float:
        return float(_frost_chance(_temperatures(normals, model, spread), model.wet_share).sum()) * 365 / 366

    # More spread means more frost nights only where lows lie over 0 degC; look where the count crosses.
    return _solve(count, nights)


def _solve(of: Callable[[float], float], wanted: float) -> float | None:
    """Halve the range of spreads until the wanted value is met; None when the ends do not hold it between them."""
    low, high = LEAST, MOST
    at_low, at_high = of(low), of(high)
    if not min(at_low, at_high) <= wanted <= max(at_low, at_high):
        return None
    for _ in range(HALVINGS):
        middle = (low + high) / 2
        if (of(middle) < wanted) == (at_high > at_low):
            low = middle
        else:
            high = middle
    return (low + high) / 2


def _temperatures(normals: MonthlyNormals, model: WeatherModel, spread: float) -> tuple[Floats, Floats]:
    assert normals.low is not None
    assert normals.high is not None
    return temperatures(normals.low, normals.high, model.wet_share, spread)


def _lows(normals: MonthlyNormals, model: WeatherModel, made: Days, spread: float) -> Floats:
    """The nights of seasons already made, had their spread been another (seasons, days) [degC]."""
    mean, deviation = _temperatures(normals, model, spread)
    first = made.first.toordinal()
    slots = np.array([leap_slot(date.fromordinal(first + n)) for n in range(made.rain.shape[1])])
    wet = (made.rain > 0).astype(np.int64)
    top, bottom = (mean[slots, wet, i] + deviation[slots, wet, i] * made.swing[i] for i in (0, 1))
    return np.asarray(np.minimum(top, bottom))


def _frost_chance(parts: tuple[Floats, Floats], share: Floats) -> Floats:
    """Chance that the night of each day of the year is colder than 0 degC (366,) [1]."""
    mean, deviation = parts
    tail = np.vectorize(lambda z: 0.5 * math.erfc(z / math.sqrt(2)))(mean[:, :, 1] / deviation[:, :, 1])
    return np.asarray((1 - share) * tail[:, 0] + share * tail[:, 1])


def _summer(normals: MonthlyNormals, near: date) -> date:
    """The middle of the month of the mildest nights that lies nearest to a day."""
    assert normals.low is not None
    month = max(range(12), key=normals.low.__getitem__) + 1
    return min((date(near.year + n, month, 15) for n in (-1, 0, 1)), key=lambda d: abs(d - near))
