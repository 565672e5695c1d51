"""Which of what the owner has told of the weather makes the generator, and what is still wanting?

A daily record of two years and more comes first; else the months' normals, with the spread of nights from a frost date
or a count of frost nights the owner knows, else from the file's nights, else assumed.
"""

from collections.abc import Callable
from dataclasses import replace
from datetime import date
from typing import Final

import numpy as np

from cordwright.base import Cite
from cordwright.site.climate import MONTHS, MonthlyNormals
from cordwright.site.inputs import SiteInput, StationWeather
from cordwright.site.night_spread import BY_DATE, BY_NIGHTS, spread_by_date, spread_by_nights
from cordwright.site.weather import WeatherModel
from cordwright.site.weather_fit import Assumed, fit_normals, missing_for_days
from cordwright.site.weather_record_fit import fit_daily, too_short
from cordwright.site.weather_year import DailyRecord
from cordwright.site.year_curve import year_curve

TYPICAL_NIGHTS: Final = Cite("typical-year-nights")


def wanting_for_days(site: SiteInput) -> tuple[str, ...]:
    """What the owner must state before single days can be generated; empty when nothing is wanting."""
    if _fit_record(site.weather) is not None:
        return ()
    return missing_for_days(site.months)


def weather_model(site: SiteInput) -> WeatherModel | None:
    """The generator for this site; None where `wanting_for_days` names something.

    Args:
        site: the place.
    """
    record = _fit_record(site.weather)
    if record is not None:
        assert site.weather is not None
        return fit_daily(record, site.weather.wet_from)
    if site.months is None or missing_for_days(site.months):
        return None
    return fit_normals(site.months, assumed_for(site, site.months))


def _fit_record(weather: StationWeather | None) -> DailyRecord | None:
    """The record, when it is long enough to be fitted."""
    record = weather.record if weather else None
    return record if record is not None and not too_short(record) else None


def assumed_for(site: SiteInput, normals: MonthlyNormals) -> Assumed:
    """What the normals leave open, with the spread of nights as well known as the owner's words allow."""
    tries: list[tuple[Cite, Callable[[], float | None], str]] = []
    frost, near = site.first_hard_frost, site.laying_begins or date(2001, 7, 1)
    if frost is not None:
        words = f"no spread of nights brings the first hard frost by {frost[1]} {MONTHS[frost[0] - 1]}"
        tries.append((BY_DATE, lambda: spread_by_date(normals, frost, near), words))
    if normals.frost_nights is not None:
        nights = sum(normals.frost_nights)
        words = f"no spread of nights makes {nights:g} frost nights a year"
        tries.append((BY_NIGHTS, lambda: spread_by_nights(normals, nights), words))
    notes: list[str] = []
    for source, solve, words in tries:
        spread = solve()
        if spread is not None:
            return Assumed(night_spread=spread, night_source=source, notes=tuple(notes))
        notes.append(f"{words} with these lows: look whether station and site lie far apart")
    measured = _typical_spread(site.weather)
    taken = Assumed(notes=tuple(notes))
    return taken if measured is None else replace(taken, night_spread=measured, night_source=TYPICAL_NIGHTS)


def _typical_spread(weather: StationWeather | None) -> float | None:
    """Spread of the nights of a typical year about their usual low, over the year [K]; None without such a file.

    Sources: `typical-year-nights`; a typical year's months are near the middle of many, so that this is rather low.
    """
    record = weather.record if weather else None
    if record is None or np.isnan(record.low).any() or record.low.size < 365:
        return None
    months = [float(record.low[record.months == m].mean()) for m in range(12)]
    off = record.low - year_curve(months)[record.slots]
    return float(np.mean([off[record.months == m].std() for m in range(12)]))
