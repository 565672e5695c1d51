"""What might a usual year look like hour by hour where no weather file is at hand?

Days are drawn as the months have them; of twenty such years the middle one by its cold is taken. Between the lows and
the highs runs a smooth curve, and the sun follows from how far apart they lie: clear days are warm by day and cold by
night.
"""

from datetime import date
from typing import Final

import numpy as np
from numpy.typing import NDArray

from cordwright.base import Cite
from cordwright.heat.sunlight import extraterrestrial
from cordwright.site.inputs import SiteInput
from cordwright.site.site_weather import weather_model
from cordwright.site.sun import sun_position
from cordwright.site.weather_days import Days
from cordwright.site.weather_year import WeatherYear
from cordwright.site.year_curve import year_curve

Floats = NDArray[np.float64]
FIRST: Final = date(2001, 1, 1)
SEASONS: Final = 20
SEED: Final = 1
COLDEST_HOUR, WARMEST_HOUR = 6.0, 15.0
"""Clock hours of low and high (`day-curve`)."""
BY_RANGE: Final = 0.16
"""Sun on level ground over that outside the atmosphere, per root of the day's range [K^-0.5] (`hargreaves-fao56`)."""
HEATING_LIMIT: Final = 12.0


def wanting_for_hours(site: SiteInput) -> tuple[str, ...]:
    """What must be stated before a year of hours can be made of the months; empty when nothing is wanting."""
    from cordwright.site.site_weather import wanting_for_days

    place = () if site.latitude is not None else ("the latitude (site.latitude)",)
    return (*place, *wanting_for_days(site))


def generated_year(site: SiteInput) -> WeatherYear | None:
    """Make a usual year of hours; None where `wanting_for_hours` names something.

    Args:
        site: the place.

    Sources: days by the generator of the site; sun by `hargreaves-fao56` and `erbs-1982`; hours by `day-curve`.
    """
    model = weather_model(site)
    if model is None or site.latitude is None:
        return None
    days = model.days(SEED, range(SEASONS), FIRST, 365)
    n = middle_year(days)
    low, high = days.low[n], days.high[n]
    offset = 0.0 if site.longitude is None else round(site.longitude / 15)
    longitude = 0.0 if site.longitude is None else site.longitude
    direct, diffuse = sun_of(low, high, site.latitude, longitude, offset)
    temperature = between(low, high)
    wind = site.months.wind if site.months is not None else None
    blowing = np.full(8760, 3.0) if wind is None else np.repeat(year_curve(list(wind))[_slots()], 24)
    unknown = np.full(8760, np.nan)
    return WeatherYear(
        station="a usual year drawn from the months",
        latitude=site.latitude,
        longitude=longitude,
        elevation=site.elevation or 0.0,
        utc_offset=float(offset),
        temperature=temperature,
        dew_point=unknown.copy(),
        humidity=unknown.copy(),
        direct_normal=direct,
        diffuse_horizontal=diffuse,
        wind_speed=blowing,
        wind_direction=unknown.copy(),
        source=Cite("day-curve"),
        notes=() if wind is not None else ("the months name no wind: 3 m/s is taken",),
    )


def _slots() -> NDArray[np.int64]:
    """Places of a common year's days in a leap year."""
    return np.array([k for k in range(366) if k != 59], np.int64)


def middle_year(days: Days) -> int:
    """Which of some years is the middle one by its degree days [index].

    Args:
        days: of some years.
    """
    cold = np.maximum(0.0, HEATING_LIMIT - (days.low + days.high) / 2).sum(axis=1)
    return int(np.argsort(cold)[cold.size // 2])


def between(low: Floats, high: Floats) -> Floats:
    """Temperature in the middle of each hour, between the days' lows and highs along half waves, shape (24 days,).

    Args:
        low: of each day [degC], shape (days,).
        high: of each day [degC], shape (days,).

    Sources: assumption (`day-curve`).
    """
    n = low.size
    at = np.empty(2 * n)
    at[0::2], at[1::2] = 24.0 * np.arange(n) + COLDEST_HOUR, 24.0 * np.arange(n) + WARMEST_HOUR
    value = np.empty(2 * n)
    value[0::2], value[1::2] = low, high
    at = np.concatenate([[at[-1] - 24.0 * n], at, [at[0] + 24.0 * n]])
    value = np.concatenate([[value[-1]], value, [value[0]]])
    hour = np.arange(24 * n) + 0.5
    left = np.searchsorted(at, hour, side="right") - 1
    share = (hour - at[left]) / (at[left + 1] - at[left])
    return np.asarray(value[left] + (value[left + 1] - value[left]) * (1 - np.cos(np.pi * share)) / 2)


def sun_of(low: Floats, high: Floats, latitude: float, longitude: float, offset: float) -> tuple[Floats, Floats]:
    """Direct and diffuse sun in each hour [W/m2] of days by how far apart low and high lie.

    Args:
        low: of each day [degC], shape (days,).
        high: of each day [degC], shape (days,).
        latitude: north positive [deg].
        longitude: east positive [deg].
        offset: of the clock from universal time [h].

    Returns:
        sun square to the beam and light of the sky on level ground, shape (24 days,).

    Sources: `hargreaves-fao56` for the day, `erbs-1982` for the sky's share.
    """
    n = low.size
    hour = np.arange(24 * n) + 0.5
    height, _ = sun_position(latitude, longitude, FIRST.toordinal() + (hour - offset) / 24)
    up = np.maximum(np.sin(np.radians(height)), 0.0)
    outside = np.repeat(extraterrestrial(np.arange(1.0, n + 1)), 24) * up
    clear = np.minimum(BY_RANGE * np.sqrt(np.maximum(high - low, 0.0)), 0.75)
    level = outside * np.repeat(clear, 24)
    share = sky_share(np.repeat(clear, 24))
    diffuse = level * share
    beam = np.divide(level - diffuse, up, out=np.zeros_like(up), where=up > 0.05)
    return np.minimum(beam, 1000.0), np.where(up > 0.05, diffuse, level)


def sky_share(clear: Floats) -> Floats:
    """Share of the sun on level ground that comes from the sky, shape of `clear` [1].

    Args:
        clear: sun on level ground over that outside the atmosphere [1].

    Sources: `erbs-1982`.
    """
    middle = 0.9511 - 0.1604 * clear + 4.388 * clear**2 - 16.638 * clear**3 + 12.336 * clear**4
    return np.where(clear <= 0.22, 1.0 - 0.09 * clear, np.where(clear > 0.80, 0.165, middle))
