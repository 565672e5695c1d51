"""How do cracks, moisture and test ends go over the months? Trend before opinion.

A line through the readings with the spread of its slope. Cracks breathe with the seasons: a slope over less than a year
may be the season's and says so.
"""

import math
from collections import defaultdict
from collections.abc import Iterable
from datetime import date
from typing import Final

from cordwright.base import Records
from cordwright.base.records import Crack, Moisture, Weighing
from cordwright.diary.posterior import HIGH
from cordwright.diary.results import Reading, Series, Trend

YEAR: Final = 365.25
LEAST_READINGS: Final = 3
NO_LOG: Final = "log end not named"


def moisture_series(records: Records) -> tuple[Series, ...]:
    """Meter readings by the log end's mark [kg/kg], those without a mark together."""
    return _series((day, m.log or NO_LOG, m.share) for day, m in records.of(Moisture))


def weighing_series(records: Records) -> tuple[Series, ...]:
    """Masses of the test ends by their mark [kg]."""
    return _series((day, w.end, w.mass) for day, w in records.of(Weighing))


def crack_trends(records: Records) -> tuple[Trend, ...]:
    """Each crack's width over time."""
    return tuple(trend(s) for s in _series((day, c.place, c.width) for day, c in records.of(Crack)))


def _series(told: Iterable[tuple[date, str, float]]) -> tuple[Series, ...]:
    found: dict[str, list[Reading]] = defaultdict(list)
    for day, place, value in told:
        found[place].append(Reading(day=day, value=value))
    return tuple(Series(place=place, readings=tuple(readings)) for place, readings in found.items())


def trend(series: Series) -> Trend:
    """The slope of a line through the readings of one crack [m/year] with four chances in five.

    Args:
        series: its widths [m].

    Sources: ordinary least squares (`least-squares`), standard error of the slope with n - 2 degrees of freedom.
    """
    days = [r.day.toordinal() / YEAR for r in series.readings]
    if len(days) < LEAST_READINGS or len(set(days)) < LEAST_READINGS:
        return Trend(series=series, slope=None, low=None, high=None, word="too few readings")
    slope, error = slope_of(days, [r.value for r in series.readings])
    from scipy.special import stdtrit

    reach = error * float(stdtrit(len(days) - 2, HIGH))
    return Trend(series=series, slope=slope, low=slope - reach, high=slope + reach, word=_word(slope, reach))


def slope_of(at: list[float], values: list[float]) -> tuple[float, float]:
    """Slope of the line of least squares, and its standard error.

    Args:
        at: where each value stands, shape (n,) with n at least 3 and not all alike.
        values: shape (n,).

    Sources: `least-squares`.
    """
    n = len(at)
    middle, mean = math.fsum(at) / n, math.fsum(values) / n
    square = math.fsum((x - middle) ** 2 for x in at)
    slope = math.fsum((x - middle) * (y - mean) for x, y in zip(at, values, strict=True)) / square
    rest = math.fsum((y - mean - slope * (x - middle)) ** 2 for x, y in zip(at, values, strict=True))
    return slope, math.sqrt(rest / (n - 2) / square)


def _word(slope: float, reach: float) -> str:
    if abs(slope) <= reach:
        return "no trend shown"
    return "opening" if slope > 0 else "closing"


def spans_a_year(series: Series) -> bool:
    """Whether the readings cover all four seasons."""
    days = [r.day for r in series.readings]
    return (max(days) - min(days)).days >= int(YEAR)
