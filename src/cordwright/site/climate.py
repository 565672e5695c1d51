"""What is the weather like at the site, month by month, as the nearest station tells it?"""

from dataclasses import dataclass
from datetime import date
from typing import Final

Months = tuple[float, ...]
"""Twelve values, January first."""

DAYS: Final[Months] = (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)
"""Days of each month of a common year."""
MONTHS: Final = (
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class MonthlyNormals:
    """Mean weather of each month, January to December; None is unknown.

    Temperatures [degC]: mean of the day, mean of the nightly lows, mean of the daily highs. `humidity`: mean relative
    humidity as a fraction. `rain`: depth in the month [m]. `rain_days`: days with rain, of at least `wet_from` [m].
    `frost_nights`: nights under 0 degC. `wind`: mean speed [m/s]. `distance` of the station, and its
    `height_difference` over the site [m].
    """

    station: str = ""
    distance: float | None = None
    height_difference: float | None = None
    temperature: Months
    low: Months | None = None
    high: Months | None = None
    humidity: Months | None = None
    rain: Months | None = None
    rain_days: Months | None = None
    wind: Months | None = None
    frost_nights: Months | None = None
    wet_from: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class DayWeather:
    """One day as forecast or as read on the site's own thermometer; None is unknown.

    Lowest and highest air temperature [degC], relative humidity [1], wind speed [m/s], rain [m].
    """

    date: date
    low: float
    high: float
    humidity: float | None = None
    wind: float | None = None
    rain: float | None = None

    @property
    def mean(self) -> float:
        """Mean of the day as the masonry rules take it: halfway between low and high [degC]."""
        return (self.low + self.high) / 2


def on_day(months: Months, day: date) -> float:
    """A monthly value on one day, along straight lines between the middles of the months, in the months' unit.

    Args:
        months: shape (12,), January first.
        day: any day; December joins January.

    Sources: assumption (`months-between`); the mean of each month is kept only nearly.
    """
    middle = DAYS[day.month - 1] / 2
    past = day.day - 0.5 - middle
    here = day.month - 1
    other = (here + (1 if past >= 0 else -1)) % 12
    share = abs(past) / (middle + DAYS[other] / 2)
    return months[here] + (months[other] - months[here]) * min(share, 1.0)
