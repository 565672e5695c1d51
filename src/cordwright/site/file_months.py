"""What do the months look like at the station whose file the owner named, and does the file belong to this site?"""

import math
from collections.abc import Iterator
from itertools import pairwise
from typing import Final

import numpy as np
from numpy.typing import NDArray

from cordwright.base import Cite, Figure, Problem, Step
from cordwright.site.climate import DAYS, MonthlyNormals, Months
from cordwright.site.inputs import SiteInput, StationWeather
from cordwright.site.normals import hemisphere_told
from cordwright.site.rain_days import WET_FROM
from cordwright.site.weather_year import DailyRecord, WeatherYear

Floats = NDArray[np.float64]

KEPT: Final = 0.8
"""Share of a month's days that must be known before it has a mean [1]."""
EARTH: Final = 6_371_000.0
SPHERE: Final = Cite("great-circle", "mean radius 6371 km")
FAR: Final = 100_000.0
HIGH: Final = 250.0
APART: Final = 5.0
"""So much do typed months and the file's differ on the mean before it is told [K]."""


def months_of(weather: StationWeather) -> MonthlyNormals | None:
    """Monthly means of a weather file, of those columns that cover every month; None without the temperatures.

    Args:
        weather: the file as read.

    Sources: closed form; the rain of a month is its mean day's times its days.
    """
    record = weather.record
    if record is None:
        return None
    means = {name: _means(record, getattr(record, name)) for name in ("mean", "low", "high", "rain", "wind")}
    if means["mean"] is None:
        return None
    least = WET_FROM if weather.wet_from is None else weather.wet_from
    wet = None if record.rain is None else np.where(np.isnan(record.rain), np.nan, record.rain >= least - 1e-9)
    rain, rain_days = means["rain"], _means(record, wet)
    return MonthlyNormals(
        station=record.station,
        distance=weather.distance,
        height_difference=weather.height_difference,
        temperature=means["mean"],
        low=means["low"],
        high=means["high"],
        humidity=_humidity(weather.year),
        rain=None if rain is None else tuple(r * n for r, n in zip(rain, DAYS, strict=True)),
        rain_days=None if rain_days is None else tuple(r * n for r, n in zip(rain_days, DAYS, strict=True)),
        wind=means["wind"],
        wet_from=weather.wet_from,
    )


def _means(record: DailyRecord, values: Floats | None) -> Months | None:
    """The mean of each month; None when one of them is not well enough known."""
    if values is None:
        return None
    by_month = [values[record.months == m] for m in range(12)]
    if any(v.size < KEPT * n or np.isnan(v).mean() > 1 - KEPT for v, n in zip(by_month, DAYS, strict=True)):
        return None
    return tuple(float(np.nanmean(v)) for v in by_month)


def _humidity(year: WeatherYear | None) -> Months | None:
    if year is None or np.isnan(year.humidity).any() or year.hours != 8760:
        return None
    ends = pairwise(24 * np.cumsum((0, *DAYS)))
    return tuple(float(min(1.0, year.humidity[a:b].mean())) for a, b in ends)


def find_weather_faults(site: SiteInput) -> tuple[Problem, ...]:
    """Name what speaks against a weather file: the other hemisphere, a far station, months that contradict it.

    Args:
        site: the place.

    Sources: distances from which on it is said are assumptions (`station-apart`).
    """
    weather = site.weather
    if weather is None:
        return ()
    months = months_of(weather)
    return tuple(_faults(site, weather, months))


APART_SOURCE: Final = Cite("station-apart")


def _faults(site: SiteInput, weather: StationWeather, months: MonthlyNormals | None) -> Iterator[Problem]:
    look = hemisphere_told(months.temperature, site.latitude) if months else None
    if look is not None:
        yield _warning(f"the days of this file look {look[0]}: {look[1]}", "look for the file of the right station")
    distance, rise = station_distance(site, weather), station_rise(site, weather)
    if distance is not None and distance > FAR:
        yield _warning(f"the station lies {distance / 1000:.0f} km from the site", "look for a nearer station")
    if rise is not None and abs(rise) > HIGH:
        where = "over" if rise > 0 else "under"
        hint = "air is some 6 K colder for every 1000 m up; look for a station as high as the site"
        yield _warning(f"the station lies {abs(rise):.0f} m {where} the site", hint)
    if months is not None and site.months is not None:
        apart = float(np.mean(np.abs(np.subtract(months.temperature, site.months.temperature))))
        if apart > APART:
            message = f"the months of [site.months] and of this file differ by {apart:.0f} K on the mean"
            yield _warning(message, "look at the units and at which station each is of; the months as typed are used")


def _warning(message: str, hint: str) -> Problem:
    return Problem(field="site.weather.file", message=message, hint=hint, severity="warning")


def station_distance(site: SiteInput, weather: StationWeather) -> float | None:
    """How far the station lies from the site [m]: as stated, else along the great circle; None when unknown.

    Args:
        site: the place.
        weather: the file as read.

    Sources: closed form on a sphere (`great-circle`).
    """
    known = (site.latitude, site.longitude, weather.latitude, weather.longitude)
    if weather.distance is not None or None in known:
        return weather.distance
    a, b, c, d = (math.radians(v) for v in known if v is not None)
    square = math.sin((c - a) / 2) ** 2 + math.cos(a) * math.cos(c) * math.sin((d - b) / 2) ** 2
    return 2 * EARTH * math.asin(min(1.0, math.sqrt(square)))


def station_rise(site: SiteInput, weather: StationWeather) -> float | None:
    """How much higher than the site the station lies [m]; None when unknown."""
    if weather.height_difference is not None or site.elevation is None or weather.elevation is None:
        return weather.height_difference
    return weather.elevation - site.elevation


def station_figures(site: SiteInput) -> tuple[Figure, ...]:
    """How far and how much higher the station of the weather file lies; none without a file.

    Args:
        site: the place.
    """
    weather = site.weather
    if weather is None:
        return ()
    return (
        _station_figure(
            "site.station_distance",
            "distance of the weather file's station",
            station_distance(site, weather),
            (Cite("owner", "site.weather.distance"),) if weather.distance is not None else (SPHERE,),
            "site.weather.distance",
        ),
        _station_figure(
            "site.station_height_difference",
            "height of the weather file's station over the site",
            station_rise(site, weather),
            (Cite("owner", "site.elevation"),),
            "site.weather.height_difference",
        ),
    )


def _station_figure(key: str, label: str, value: float | None, sources: tuple[Cite, ...], missing: str) -> Figure:
    if value is None:
        return Figure(key=key, label=label, value=None, unit="m", bound="unknown", missing=(missing,), sources=sources)
    steps = (Step(symbol="station and site", value=value, unit="m", source=sources[0]),)
    return Figure(key=key, label=label, value=value, unit="m", sources=sources, steps=steps)
