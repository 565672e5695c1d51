"""Which hours of weather does the house's year stand on, and on which days is it in use?"""

from dataclasses import dataclass
from typing import Final

import numpy as np

from cordwright.base import OutOfRangeError
from cordwright.heat.sunlight import Floats, Sun, sun_at
from cordwright.heat.year_generated import drawn_year
from cordwright.site.climate import DAYS
from cordwright.site.inputs import SiteInput
from cordwright.site.weather_year import WeatherYear

MOST_BRIDGED: Final = 0.02
"""Share of hours not measured beyond which a year is not run."""


UNKNOWN_WIND: Final = 3.0
"""Wind of an hour whose wind nobody measured [m/s] (`unknown-wind`)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Weather:
    """The hours as they are used: gaps bridged, with day, clock and month of each, and where the sun stands."""

    year: WeatherYear
    temperature: Floats
    direct: Floats
    diffuse: Floats
    wind: Floats
    day: Floats
    month: Floats
    sun: Sun
    bridged: int


def weather_of(year: WeatherYear) -> Weather:
    """Ready a year of weather.

    Args:
        year: hours of a station.

    Raises:
        OutOfRangeError: more hours were not measured than may be filled between their neighbours.
    """
    names = ("temperature", "direct_normal", "diffuse_horizontal")
    columns = [getattr(year, name) for name in names]
    gaps = int(np.any([np.isnan(c) for c in columns], axis=0).sum())
    if gaps > MOST_BRIDGED * year.hours:
        raise OutOfRangeError(f"{gaps} hours of the year were not measured; a year is run with up to 2 % of them")
    temperature, direct, diffuse = (_bridged(c) for c in columns)
    wind = np.where(np.isnan(year.wind_speed), UNKNOWN_WIND, year.wind_speed)
    hours = np.arange(year.hours)
    day = np.asarray(hours // 24 + 1.0, np.float64)
    lengths = np.array(DAYS) + (np.array([0, 1, *[0] * 10]) if year.hours > 8760 else 0)
    return Weather(
        year=year,
        temperature=temperature,
        direct=direct,
        diffuse=diffuse,
        wind=wind,
        day=day,
        month=np.repeat(np.arange(12), lengths * 24).astype(np.float64),
        sun=sun_at(year.hours, year.latitude, year.longitude, year.utc_offset),
        bridged=gaps,
    )


def _bridged(column: Floats) -> Floats:
    known = np.flatnonzero(~np.isnan(column))
    return np.interp(np.arange(column.size), known, column[known]) if known.size < column.size else column


def by_month(values: Floats, weather: Weather) -> tuple[float, ...]:
    """Sum of hourly values in each month, shape (12,)."""
    return tuple(float(values[weather.month == m].sum()) for m in range(12))


def usual_weather(site: SiteInput) -> WeatherYear | None:
    """The year of the file that the owner named, else one drawn from the months; None where neither can be.

    Args:
        site: the place.
    """
    if site.weather is not None and site.weather.year is not None:
        return site.weather.year
    return drawn_year(site)


def days_in_use(share: float, days: int) -> Floats:
    """Which days the house is in use (1) or not (0): as many whole days in each week as the share asks for, in a row.

    Args:
        share: of the days [1].
        days: of the year.

    Sources: assumption (`days-in-a-row`).
    """
    week = np.arange(days) // 7
    so_far = np.floor((week + 1) * 7 * share + 1e-9) - np.floor(week * 7 * share + 1e-9)
    return np.asarray((np.arange(days) % 7 >= 7 - so_far).astype(np.float64))
