"""What does a daily record say about single days, if somebody has kept one long enough?

Everything the generator needs is measured then: how long wet weather lasts, how much falls, how far days swing and how
long they remember it.
"""

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from cordwright.base import Cite, InputError
from cordwright.site.climate import DAYS
from cordwright.site.rain_amounts import gamma_steps, mixed_steps
from cordwright.site.rain_days import WET_FROM, WET_FROM_SOURCE
from cordwright.site.rain_laws import RainLaw, likeliest_law
from cordwright.site.weather import AMOUNT_STEPS, WeatherModel
from cordwright.site.weather_fit import (
    MOST_WET,
    WETNESS_MEMORY,
    WETNESS_SOURCE,
    corrected_odds,
    standardised,
)
from cordwright.site.weather_year import DailyRecord
from cordwright.site.wet_chain import wet_day_variance
from cordwright.site.year_curve import year_curve

Floats = NDArray[np.float64]
Flags = NDArray[np.bool_]
Ints = NDArray[np.int64]

LEAST_DAYS: Final = 730
"""Known days from which on a record is fitted at all."""
LEAST_IN_MONTH: Final = 40
LEAST_OF_A_KIND: Final = 8
"""Wet or dry days of a month from which on they have means of their own."""
LEAST_YEARS: Final = 4
"""Years from which on the spread of wet and dry months can be told."""
SLOW_LAGS: Final = range(8, 16)
MOST_SLOW: Final = 0.4
HALVES: Final = (frozenset(range(3, 9)), frozenset((9, 10, 11, 0, 1, 2)))
"""April to September and October to March, as months from 0."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Measured:
    """The days of a record on which rain, low and high are all known, rising."""

    ordinal: Ints
    slot: Ints
    month: Ints
    rain: Floats
    wet: Flags
    values: Floats
    """High and low (days, 2) [degC]."""


def too_short(record: DailyRecord) -> str:
    """Why a record cannot be fitted; "" when it can."""
    if record.rain is None:
        return "the record has no rain"
    known = _known(record)
    if record.typical:
        return "a typical year is put together of months and does not hold what changes between years"
    if known.sum() < LEAST_DAYS:
        return f"the record has {int(known.sum())} days with rain, low and high, and {LEAST_DAYS} are needed"
    counts = np.bincount(record.months[known], minlength=12)
    return (
        "" if counts.min() >= LEAST_IN_MONTH else f"a month has {int(counts.min())} days, {LEAST_IN_MONTH} are needed"
    )


def _known(record: DailyRecord) -> Flags:
    assert record.rain is not None
    return ~(np.isnan(record.rain) | np.isnan(record.low) | np.isnan(record.high))


def fit_daily(record: DailyRecord, wet_from: float | None = None) -> WeatherModel:
    """Fit the generator to a daily record.

    Args:
        record: of two years or more, with rain, low and high.
        wet_from: depth that makes a day wet [m]; 1 mm when None.

    Raises:
        InputError: the record is too short or has no rain.

    Sources: `richardson-1981`; the better of a gamma and a mixed exponential law of depths by Akaike's criterion.
    """
    reason = too_short(record)
    if reason:
        raise InputError(reason)
    threshold = WET_FROM if wet_from is None else wet_from
    days = _measured(record, threshold)
    share = year_curve([min(days.wet[days.month == m].mean(), MOST_WET) for m in range(12)], 0.0, MOST_WET)
    persistence = _persistence(days, share)
    years = np.unique(days.ordinal // 365.2425).size
    wetness = _wetness(days, persistence) if years >= LEAST_YEARS else None
    mean, spread = _means(days, share), _spreads(days, share)
    usual, whole, apart = _together(share, mean, spread)
    off = (days.values - usual[days.slot]) / whole[days.slot]
    by_wet = np.einsum("s,si,sj->ij", share * (1 - share), apart, apart) / share.size
    slow = _slow(days, off)
    memory, shocks = _memory(days, off, slow, by_wet, persistence)
    amounts, laws = _amounts(days, threshold)
    return WeatherModel(
        wet_share=share,
        odds=corrected_odds(share, 0.35 if wetness is None else wetness),
        persistence=persistence,
        amounts=amounts,
        wet_from=threshold,
        mean=mean,
        spread=spread,
        memory=memory,
        shocks=shocks,
        wetness=0.35 if wetness is None else wetness,
        wetness_memory=WETNESS_MEMORY,
        slow=slow,
        sources={
            **dict.fromkeys(
                ("wet_share", "persistence", "amounts", "mean", "spread", "memory", "shocks", "slow"), record.source
            ),
            "wet_from": WET_FROM_SOURCE if wet_from is None else Cite("owner", "site.weather.wet_from"),
            "wetness": WETNESS_SOURCE if wetness is None else record.source,
        },
        notes=laws,
    )


def _measured(record: DailyRecord, wet_from: float) -> Measured:
    assert record.rain is not None
    known = _known(record)
    rain = record.rain[known]
    return Measured(
        ordinal=record.ordinal[known],
        slot=record.slots[known],
        month=record.months[known],
        rain=rain,
        # Depths are typed in tenths of a millimetre: 1.0 mm is wet however it rounds in metres.
        wet=rain >= wet_from - 1e-9,
        values=np.column_stack([record.high[known], record.low[known]]),
    )


def _followed(days: Measured) -> Flags:
    """Which days have their next day in the record too."""
    return np.asarray(np.diff(days.ordinal) == 1)


def _persistence(days: Measured, share: Floats) -> float:
    """How much likelier a wet day is after a wet one [1], pooled over the year: single months scatter too much."""
    off = days.wet - share[days.slot]
    pair = _followed(days)
    before, after = off[:-1][pair], off[1:][pair]
    return float(np.clip((before * after).sum() / (before**2).sum(), 0.0, 0.9))


def _wetness(days: Measured, persistence: float) -> float:
    """Spread of the months' odds [1]: what the wet days of whole months scatter more than the chain explains."""
    number = np.zeros_like(days.ordinal)
    number[1:] = np.cumsum(np.diff(days.month) != 0)
    counts = np.bincount(number)
    month = days.month[np.concatenate([[0], np.flatnonzero(np.diff(number)) + 1])]
    wet = np.bincount(number, weights=days.wet)
    extra, scale = 0.0, 0.0
    for m in range(12):
        whole = (month == m) & (counts >= DAYS[m] - 1)
        if whole.sum() < 2:
            continue
        n, f = DAYS[m], float(wet[whole].sum() / counts[whole].sum())
        extra += float(wet[whole].var(ddof=1)) - wet_day_variance(f, persistence, n)
        scale += (n * f * (1 - f)) ** 2
    return float(np.sqrt(np.clip(extra / scale, 0.0, 1.0))) if scale else 0.0


def _by_month(days: Measured, of: Flags) -> Floats:
    """Mean high and low of some days of each month (12, 2); NaN where they are too few."""
    chosen = [days.values[of & (days.month == m)] for m in range(12)]
    return np.array([v.mean(axis=0) if len(v) >= LEAST_OF_A_KIND else (np.nan, np.nan) for v in chosen])


def _means(days: Measured, share: Floats) -> Floats:
    """Means of high and low on dry and wet days (366, 2, 2) [degC]; together they keep each month's mean."""
    usual = _by_month(days, np.ones_like(days.wet))
    apart = _by_month(days, days.wet) - _by_month(days, ~days.wet)
    pooled = np.nanmean(apart, axis=0) if not np.isnan(apart).all() else np.zeros(2)
    apart = np.where(np.isnan(apart), pooled, apart)
    curves = np.column_stack([year_curve(usual[:, i]) for i in (0, 1)])
    offsets = np.column_stack([year_curve(apart[:, i]) for i in (0, 1)])
    dry = curves - share[:, None] * offsets
    return np.stack([dry, dry + offsets], axis=1)


def _spreads(days: Measured, share: Floats) -> Floats:
    """Spreads of high and low about those means on dry and wet days (366, 2, 2) [K]."""
    mean = _means(days, share)
    off = days.values - mean[days.slot, days.wet.astype(np.int64)]
    spread = np.empty((12, 2, 2))
    for m in range(12):
        here = days.month == m
        for kind in (0, 1):
            chosen = off[here & (days.wet == bool(kind))]
            spread[m, kind] = np.sqrt(((chosen if len(chosen) >= LEAST_OF_A_KIND else off[here]) ** 2).mean(axis=0))
    curves = [[year_curve(spread[:, k, i], 0.1) for i in (0, 1)] for k in (0, 1)]
    return np.moveaxis(np.array(curves), 2, 0)


def _together(share: Floats, mean: Floats, spread: Floats) -> tuple[Floats, Floats, Floats]:
    """Of dry and wet days together: means and spreads (366, 2) [degC, K], and what wet is over dry, in spreads [1]."""
    wet = share[:, None]
    apart = mean[:, 1] - mean[:, 0]
    whole = np.sqrt(wet * (1 - wet) * apart**2 + (1 - wet) * spread[:, 0] ** 2 + wet * spread[:, 1] ** 2)
    return mean[:, 0] + wet * apart, whole, apart / whole


def _slow(days: Measured, off: Floats) -> float:
    """What days a week and more apart still have in common [1]: by then no day remembers another."""
    common = []
    for apart in SLOW_LAGS:
        pair = days.ordinal[apart:] - days.ordinal[:-apart] == apart
        common.append((off[apart:][pair] * off[:-apart][pair]).mean() / (off**2).mean())
    return float(np.clip(np.mean(common), 0.0, MOST_SLOW))


def _memory(days: Measured, off: Floats, slow: float, by_wet: Floats, persistence: float) -> tuple[Floats, Floats]:
    """A = M1 M0^-1 and B with B B' = M0 - A M1', of what months and wet days leave of the departures.

    Fitted to departures from the usual day, wet or dry, so that the nights remember as long as they do in the record:
    about their wet and dry means they seem to forget sooner, because yesterday's rain still tells something today.

    Args:
        days: of the record.
        off: departures of high and low from the usual day, over their spread (days, 2) [1].
        slow: what whole months have in common [1].
        by_wet: covariance that wet and dry days bring on one day (2, 2) [1].
        persistence: of wet days [1].
    """
    pair = _followed(days)
    before, after = off[:-1][pair], off[1:][pair]
    same = off.T @ off / len(off) - slow - by_wet
    lagged = after.T @ before / len(before) - slow - persistence * by_wet
    memory = lagged @ np.linalg.inv(same)
    return standardised(memory, np.asarray(np.linalg.cholesky(same - memory @ lagged.T), np.float64))


def _amounts(days: Measured, wet_from: float) -> tuple[Floats, tuple[str, ...]]:
    """Depths of a wet day (12, 1024) [m]: the law of its half-year, the mean of its month; and what was chosen."""
    table, notes = np.empty((12, AMOUNT_STEPS)), []
    for half, name in zip(HALVES, ("April to September", "October to March"), strict=True):
        inside = days.wet & np.isin(days.month, list(half))
        law = likeliest_law(days.rain[inside] - wet_from)
        notes.append(f"{name}: {law.name} law of depths over {wet_from * 1000:g} mm")
        steps = _unit_steps(law)
        for m in half:
            own = days.rain[days.wet & (days.month == m)]
            depth = own if own.size >= LEAST_OF_A_KIND else days.rain[inside]
            mean = depth.mean() if depth.size else wet_from
            table[m] = wet_from + (mean - wet_from) * steps
    return table, tuple(notes)


def _unit_steps(law: RainLaw) -> Floats:
    steps = gamma_steps(law.shape) if law.name == "gamma" else mixed_steps(law.share, law.first, law.second)
    return np.asarray(steps / steps.mean())
