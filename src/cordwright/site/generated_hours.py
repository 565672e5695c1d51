"""What does a generated year look like hour by hour, for a house that has no weather file of its own?

Drawn from the highs and lows of its days: temperature along the day, sun by how far night and day lie apart, moisture
by the month's humidity. Coarser than a measured year; a weather file of the nearest station replaces it.
"""

from datetime import date
from typing import Final

import numpy as np
from numpy.typing import NDArray

from cordwright.base import Cite, InputError
from cordwright.site.climate import Months
from cordwright.site.moist_air import saturation_pressure
from cordwright.site.sun import daylight_hours, noon, sun_position
from cordwright.site.weather_days import Days
from cordwright.site.weather_year import COMMON_HOURS, WeatherYear

Floats = NDArray[np.float64]

DAY_CURVE: Final = Cite("day-curve")
CLEARNESS: Final = Cite("bristow-campbell-1984", "clearness by the range of the day")
SPLIT: Final = Cite("erbs-1982", "diffuse share by clearness")
SOLAR_CONSTANT: Final = 1361.0
WARMEST_AFTER_NOON: Final = 2.0
"""Hours after the sun's highest stand at which air is warmest [h]."""
CLEAREST: Final = 0.75
WET_RANGE: Final = 0.75
"""On wet days the range of the day counts only so much towards clearness [1]."""
LEAST_HEIGHT: Final = 0.05
"""Sine of the sun's height under which its beam is not told from the sky [1]."""


def generated_year(
    days: Days,
    season: int,
    place: tuple[float, float, float, float],
    *,
    humidity: Months | None = None,
    wind: Months | None = None,
) -> WeatherYear:
    """Make the hours of one generated calendar year.

    Args:
        days: generated days, 365 of them from 1 January of a common year.
        season: which of them.
        place: latitude [deg], longitude [deg], elevation [m], standard time over universal time [h].
        humidity: mean of each month [1]; None: dew forms at the day's lowest temperature.
        wind: mean of each month [m/s]; None is unknown, and every hour then too.

    Raises:
        InputError: not the days of a common year.

    Sources: `day-curve`, `bristow-campbell-1984`, `erbs-1982`; wind keeps its month's mean, its direction is unknown.
    """
    first = days.first
    if (first.month, first.day, days.low.shape[1]) != (1, 1, 365) or date(
        first.year, 12, 31
    ).timetuple().tm_yday != 365:
        raise InputError("hours are made of the 365 days of a common year")
    latitude, longitude, elevation, offset = place
    low, high, wet = days.low[season], days.high[season], days.rain[season] > 0
    month = np.array([date.fromordinal(first.toordinal() + n).month - 1 for n in range(365)])
    temperature = hours_of_day(low, high, first, place)
    pressure = _vapour_pressure(low, temperature, None if humidity is None else np.array(humidity)[month])
    direct, diffuse = sun_of_days(high - low, wet, first, place)
    speed = np.full(COMMON_HOURS, np.nan) if wind is None else np.repeat(np.array(wind)[month], 24)
    return WeatherYear(
        station="generated",
        latitude=latitude,
        longitude=longitude,
        elevation=elevation,
        utc_offset=offset,
        temperature=temperature,
        dew_point=_dew_point(np.repeat(pressure, 24)),
        humidity=np.minimum(np.repeat(pressure, 24) / _saturation(temperature), 1.0),
        direct_normal=direct,
        diffuse_horizontal=diffuse,
        wind_speed=speed,
        wind_direction=np.full(COMMON_HOURS, np.nan),
        rain=np.repeat(days.rain[season] / 24.0, 24),
        source=DAY_CURVE,
        notes=("generated; rain is spread evenly over its day",),
    )


def hours_of_day(low: Floats, high: Floats, first: date, place: tuple[float, float, float, float]) -> Floats:
    """Temperature of every hour, at its middle: from the low at sunrise along half a wave to the high, and down again.

    Args:
        low: of each day [degC].
        high: of each day [degC].
        first: the day at index 0.
        place: latitude, longitude [deg], elevation [m], standard time over universal time [h].

    Sources: assumption (`day-curve`).
    """
    half, knots, values = 12.0, [-24.0], [float(low[0])]
    for n, (bottom, top) in enumerate(zip(low, high, strict=True)):
        day = date.fromordinal(first.toordinal() + n)
        middle = 24.0 * n + noon(place[1], day, place[3])
        # Where the sun does not set, or does not rise, the coldest hour lies twelve hours from the highest stand.
        half = max(1.0, min(12.0, daylight_hours(place[0], day) / 2))
        knots += [middle - half, middle + WARMEST_AFTER_NOON]
        values += [float(bottom), float(top)]
    knots.append(24.0 * low.size + 12.0 - half)
    values.append(float(low[-1]))
    hour = np.arange(24 * low.size) + 0.5
    at = np.clip(np.searchsorted(knots, hour) - 1, 0, len(knots) - 2)
    start, end = np.array(knots)[at], np.array(knots)[at + 1]
    share = np.clip((hour - start) / (end - start), 0.0, 1.0)
    begin, aim = np.array(values)[at], np.array(values)[at + 1]
    return np.asarray(begin + (aim - begin) * (1 - np.cos(np.pi * share)) / 2)


def sun_of_days(
    swing: Floats, wet: NDArray[np.bool_], first: date, place: tuple[float, float, float, float]
) -> tuple[Floats, Floats]:
    """Sun on a plane facing it, and of the sky on the level, for every hour [W/m2].

    Args:
        swing: high less low of each day [K].
        wet: which days are wet.
        first: the day at index 0.
        place: latitude, longitude [deg], elevation [m], standard time over universal time [h].

    Sources: clearness by Bristow and Campbell (`bristow-campbell-1984`), split by Erbs (`erbs-1982`).
    """
    counted = np.where(wet, WET_RANGE, 1.0) * swing
    usual = np.array([swing[max(0, n - 15) : n + 15].mean() for n in range(swing.size)])
    clear = CLEAREST * (1 - np.exp(-0.036 * np.exp(-0.154 * usual) * counted**2.4))
    moment: Floats = np.asarray(first.toordinal() + (np.arange(24 * swing.size) + 0.5 - place[3]) / 24.0, np.float64)
    sine = np.sin(np.radians(sun_position(place[0], place[1], moment)[0]))
    up: Floats = np.maximum(sine, 0.0)
    kt = np.repeat(clear, 24)
    level = SOLAR_CONSTANT * up * kt
    diffuse = level * diffuse_share(kt)
    return np.where(up > LEAST_HEIGHT, (level - diffuse) / np.maximum(up, LEAST_HEIGHT), 0.0), diffuse


def diffuse_share(clearness: Floats) -> Floats:
    """Share of the sun on the level that comes from the whole sky [1].

    Args:
        clearness: sun on the level over what it would be without air [1].

    Sources: Erbs, Klein, Duffie 1982 (`erbs-1982`).
    """
    k = clearness
    between = 0.9511 - 0.1604 * k + 4.388 * k**2 - 16.638 * k**3 + 12.336 * k**4
    return np.asarray(np.where(k <= 0.22, 1 - 0.09 * k, np.where(k <= 0.8, between, 0.165)))


def _vapour_pressure(low: Floats, temperature: Floats, humidity: Floats | None) -> Floats:
    """Of each day, the same all day [Pa]: by the month's humidity, never more than the coldest hour can hold."""
    most = _saturation(low)
    if humidity is None:
        return most
    return np.asarray(np.minimum(most, humidity * _saturation(temperature).reshape(-1, 24).mean(axis=1)))


def _saturation(temperature: Floats) -> Floats:
    grid = np.linspace(-40.0, 60.0, 1001)
    return np.interp(temperature, grid, [saturation_pressure(float(t)) for t in grid])


def _dew_point(pressure: Floats) -> Floats:
    grid = np.linspace(-40.0, 60.0, 1001)
    return np.interp(pressure, [saturation_pressure(float(t)) for t in grid], grid)
