"""How cold was it at the station, by the file the owner named?"""

from dataclasses import replace
from datetime import date
from typing import Final

import numpy as np
from numpy.typing import NDArray

from cordwright.base import Cite, Figure, Step
from cordwright.site.inputs import SiteInput
from cordwright.site.normals import HEATING_BASE
from cordwright.site.weather_year import DailyRecord, WeatherYear

Floats = NDArray[np.float64]

LEAST_DAYS_OF_YEAR: Final = 360
"""Known days from which on a year of a record counts as whole."""
COLD_HOURS: Final = 0.004
"""Share of the hours of a year that are colder than the design hour [1]."""
INDEX: Final = Cite("freezing-index", "highest less lowest point of the sum of daily means over a winter")
DEGREE_DAYS: Final = Cite("degree-days", "18 degC, mean of the day")
PERCENTILE: Final = Cite("cold-hours", "99.6 % of the hours are warmer")


def measured_figures(site: SiteInput) -> tuple[Figure, ...]:
    """Figures of the weather file; none where the owner named none.

    Args:
        site: the place.
    """
    weather = site.weather
    if weather is None:
        return ()
    figures: list[Figure] = []
    if weather.record is not None:
        figures += [_daily_degree_days(weather.record), _daily_freezing_index(weather.record)]
    if weather.year is not None:
        figures.append(_cold_hours(weather.year))
    return tuple(figures)


def whole_years(record: DailyRecord, first_month: int = 1) -> tuple[Floats, ...]:
    """The daily means of each year of a record that has nearly all its days; a gap lies at its neighbours' mean.

    Args:
        record: days as measured.
        first_month: of these years, 1 to 12.
    """
    days = [date.fromordinal(int(n)) for n in record.ordinal]
    years = np.array([d.year + (d.month >= first_month) for d in days])
    if record.typical:
        # One year, cut at the new year: January follows December.
        turn = next(i for i, d in enumerate(days) if d.month == first_month)
        means = np.roll(record.mean, -turn)
        return () if np.isnan(means).sum() > means.size - LEAST_DAYS_OF_YEAR else (_bridged(means),)
    found = (record.mean[years == year] for year in np.unique(years))
    return tuple(_bridged(means) for means in found if np.sum(~np.isnan(means)) >= LEAST_DAYS_OF_YEAR)


def _bridged(means: Floats) -> Floats:
    known = ~np.isnan(means)
    return np.interp(np.arange(means.size), np.flatnonzero(known), means[known])


def _over_years(key: str, label: str, sums: list[float], record: DailyRecord, rule: Step) -> Figure:
    """A figure of a record: the mean of its years, between the least and the greatest of them."""
    assert rule.source is not None
    if not sums:
        missing = (f"a year with at least {LEAST_DAYS_OF_YEAR} known days in the weather file",)
        return Figure(
            key=key, label=label, value=None, unit="K.d", bound="unknown", missing=missing, sources=(rule.source,)
        )
    several = len(sums) > 1
    steps = (
        Step(symbol="years", value=float(len(sums)), unit=""),
        replace(rule, value=float(np.mean(sums))),
    )
    return Figure(
        key=key,
        label=label,
        value=float(np.mean(sums)),
        unit="K.d",
        low=min(sums) if several else None,
        high=max(sums) if several else None,
        sources=(record.source, rule.source),
        steps=steps,
    )


def _rule(symbol: str, formula: str, source: Cite) -> Step:
    return Step(symbol=symbol, value=None, unit="K.d", formula=formula, source=source)


def degree_days(means: Floats, base: float = HEATING_BASE) -> float:
    """Degrees under a temperature times days [K.d].

    Args:
        means: of single days [degC].
        base: counted from [degC].
    """
    return float(np.maximum(base - means, 0.0).sum())


def freezing_index(means: Floats) -> Floats:
    """Freezing index of one winter, or of each of many (..., days) [K.d].

    Args:
        means: of single days from summer to summer, days along the last axis [degC].

    Sources: `freezing-index`: how far the running sum of daily means falls from a highest to a later lowest point.
    """
    start = np.zeros((*means.shape[:-1], 1))
    running = np.concatenate([start, np.cumsum(means, axis=-1)], axis=-1)
    fall: Floats = (np.maximum.accumulate(running, axis=-1) - running).max(axis=-1)
    return fall


def _daily_degree_days(record: DailyRecord) -> Figure:
    return _over_years(
        "site.heating_degree_days_18_daily",
        "heating degree days under 18 °C by single days of the weather file",
        [degree_days(year) for year in whole_years(record)],
        record,
        _rule("mean of the years", "sum of 18 degC less the mean of each colder day", DEGREE_DAYS),
    )


def _daily_freezing_index(record: DailyRecord) -> Figure:
    return _over_years(
        "site.freezing_index_daily",
        "freezing index of the winters of the weather file",
        [float(freezing_index(year)) for year in whole_years(record, first_month=_summer_month(record))],
        record,
        _rule("mean of the winters", "highest less lowest point of the running sum of daily means", INDEX),
    )


def _summer_month(record: DailyRecord) -> int:
    """The month in which winters part: the warmest, 1 to 12."""
    known = ~np.isnan(record.mean)
    by_month = [record.mean[known & (record.months == m)] for m in range(12)]
    return int(np.argmax([v.mean() if v.size else -np.inf for v in by_month])) + 1


def _cold_hours(year: WeatherYear) -> Figure:
    label = "outside air in the design hour: 99.6 % of the hours of the weather file are warmer"
    known = year.temperature[~np.isnan(year.temperature)]
    if known.size < year.hours - 100:
        missing = (f"{year.hours - known.size} hours of temperature in the weather file",)
        return Figure(
            key="site.design_cold_hours", label=label, value=None, unit="degC", bound="unknown", missing=missing,
            sources=(PERCENTILE,),
        )  # fmt: skip
    coldest = Step(symbol="coldest hour", value=float(known.min()), unit="degC")
    rank = Step(
        symbol="colder hours",
        value=float(round(known.size * COLD_HOURS)),
        unit="h",
        formula=f"{known.size} h x {COLD_HOURS:g}",
        source=PERCENTILE,
    )
    return Figure(
        key="site.design_cold_hours",
        label=label,
        value=float(np.quantile(known, COLD_HOURS)),
        unit="degC",
        sources=(year.source, PERCENTILE),
        steps=(coldest, rank),
    )
