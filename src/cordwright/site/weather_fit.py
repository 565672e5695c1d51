"""What do the twelve values of the nearest station say about single days?

Means of high, low and rain are kept exactly. What normals do not hold, they cannot give: how long wet weather lasts,
how far nights swing, how a wet day differs from a dry one. Those are assumptions with their range, or solved from a
frost date the owner knows.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from cordwright.base import Cite, InputError
from cordwright.site.climate import DAYS, MonthlyNormals
from cordwright.site.rain_amounts import SHAPE_SOURCE, amounts_from_normals
from cordwright.site.rain_days import WET_FROM, WET_FROM_SOURCE, thin_months
from cordwright.site.weather import WeatherModel
from cordwright.site.year_curve import SMOOTH, year_curve

Floats = NDArray[np.float64]

PERSISTENCE: Final = (0.25, 0.30, 0.38)
"""How much likelier rain is after a wet day: low, default, high [1]."""
PERSISTENCE_SOURCE: Final = Cite("wet-persistence")
WETNESS: Final = 0.35
WETNESS_MEMORY: Final = 0.2
WETNESS_SOURCE: Final = Cite("wetness-by-month")
MOST_WET: Final = 0.98
"""Wet days are never quite certain, else their odds have no end [1]."""

SLOW: Final = (0.0, 0.15, 0.30)
"""Share of the variance of high and low that whole months have in common: low, default, high [1]."""
SLOW_SOURCE: Final = Cite("slow-warmth")

NIGHT_SPREAD: Final = (2.5, 3.3, 4.5)
"""Spread of single nightly lows about their usual value, over the year: low, default, high [K]."""
NIGHT_SEASON: Final = 0.4
"""By how much of itself that spread is more in the coldest time and less in the warmest [1]."""
DAY_OVER_NIGHT: Final = 1.2
"""Spread of daily highs over that of nightly lows, the year round [1]."""
SPREAD_SOURCE: Final = Cite("day-spread")

WET_HIGH: Final = (-2.0, -4.0)
WET_LOW: Final = (0.9, -1.8)
"""What a wet day is warmer than a dry one: in spring and autumn, and how much more in the warmest time [K]."""
OFFSET_SOURCE: Final = Cite("wet-dry-offsets")
FULL_SEASONS: Final = 10.0
"""Range of the monthly means from which on a year counts as having whole seasons [K]."""

MEMORY: Final = ((0.567, 0.086), (0.253, 0.504))
SHOCKS: Final = ((0.781, 0.0), (0.328, 0.637))
MEMORY_SOURCE: Final = Cite("wgen-1984", "A and B of high and low")


@dataclass(frozen=True, slots=True, kw_only=True)
class Assumed:
    """What normals leave open, each with its default; `night_source` tells where the spread of nights comes from.

    `persistence` of wet days, `wetness` and `slow` of months [1]; `night_spread` over the year [K].
    """

    persistence: float = PERSISTENCE[1]
    night_spread: float = NIGHT_SPREAD[1]
    wetness: float = WETNESS
    slow: float = SLOW[1]
    notes: tuple[str, ...] = ()
    night_source: Cite = SPREAD_SOURCE


def missing_for_days(normals: MonthlyNormals | None) -> tuple[str, ...]:
    """The keys of [site.months] that are wanting before single days can be generated; empty when none is."""
    wanted = ("low", "high", "rain", "rain_days")
    if normals is None:
        return tuple(f"site.months.{name}" for name in wanted)
    wanting = tuple(f"site.months.{name}" for name in wanted if getattr(normals, name) is None)
    return wanting or (("site.months.wet_from",) if thin_months(normals) else ())


def fit_normals(normals: MonthlyNormals, assumed: Assumed | None = None) -> WeatherModel:
    """Fit the generator to monthly normals.

    Args:
        normals: with low, high, rain and rain_days.
        assumed: what they leave open; the defaults when None.

    Raises:
        InputError: `missing_for_days` names something.

    Sources: `richardson-1981` for the form; each field's own in `WeatherModel.sources`.
    """
    if missing_for_days(normals):
        raise InputError(f"no days can be generated without {', '.join(missing_for_days(normals))}")
    assert normals.low is not None
    assert normals.high is not None
    assert normals.rain is not None
    assert normals.rain_days is not None
    taken = assumed or Assumed()
    wet_from = WET_FROM if normals.wet_from is None else normals.wet_from
    share = wet_share(normals.rain_days)
    mean, spread = temperatures(normals.low, normals.high, share, taken.night_spread)
    memory, shocks = standardised(np.array(MEMORY), np.array(SHOCKS))
    return WeatherModel(
        wet_share=share,
        odds=corrected_odds(share, taken.wetness),
        persistence=taken.persistence,
        amounts=amounts_from_normals(mean_amounts(normals.rain, normals.rain_days, wet_from), wet_from),
        wet_from=wet_from,
        mean=mean,
        spread=spread,
        memory=memory,
        shocks=shocks,
        wetness=taken.wetness,
        wetness_memory=WETNESS_MEMORY,
        slow=taken.slow,
        sources=_sources(taken, normals),
        notes=taken.notes,
    )


def _sources(taken: Assumed, normals: MonthlyNormals) -> Mapping[str, Cite]:
    return {
        "wet_share": Cite("owner", "site.months.rain_days"),
        "odds": WETNESS_SOURCE,
        "persistence": PERSISTENCE_SOURCE,
        "amounts": SHAPE_SOURCE,
        "wet_from": WET_FROM_SOURCE if normals.wet_from is None else Cite("owner", "site.months.wet_from"),
        "mean": SMOOTH,
        "offsets": OFFSET_SOURCE,
        "spread": taken.night_source,
        "memory": MEMORY_SOURCE,
        "shocks": MEMORY_SOURCE,
        "wetness": WETNESS_SOURCE,
        "slow": SLOW_SOURCE,
    }


def wet_share(rain_days: tuple[float, ...]) -> Floats:
    """Chance that a day of the year is wet (366,) [1], each month's mean as stated."""
    return year_curve([min(n / d, MOST_WET) for n, d in zip(rain_days, DAYS, strict=True)], 0.0, MOST_WET)


def mean_amounts(rain: tuple[float, ...], rain_days: tuple[float, ...], wet_from: float) -> Floats:
    """Mean depth of a wet day, month by month (12,) [m]; months without one have the least, which nobody draws."""
    return np.array([r / n if n > 0 else wet_from for r, n in zip(rain, rain_days, strict=True)])


def corrected_odds(share: Floats, wetness: float) -> Floats:
    """Odds of a wet day in a month of usual wetness, so that over wet and dry months the share comes out [1].

    Args:
        share: chance of a wet day (366,) [1].
        wetness: spread of the logarithm of the odds from month to month [1].

    Sources: closed form; the normal law over months in nine points (Gauss and Hermite), Newton in the logarithm.
    """
    points, weights = np.polynomial.hermite_e.hermegauss(9)
    weights /= weights.sum()
    inside = np.clip(share, 1e-12, MOST_WET)
    log_odds = np.log(inside / (1 - inside))
    target = log_odds.copy()
    for _ in range(12):
        chance = 1 / (1 + np.exp(-(target[:, None] + wetness * points)))
        slope = np.maximum((chance * (1 - chance)) @ weights, 1e-300)
        target = target - np.clip((chance @ weights - inside) / slope, -1.0, 1.0)
    return np.where(share > 0, np.exp(target), 0.0)


def seasons_of(low: Floats, high: Floats) -> Floats:
    """Where the year stands between its coldest (-1) and its warmest time (1) [1]; less where it hardly changes."""
    middle = (low + high) / 2
    span = float(np.ptp(middle))
    if span <= 0:
        return np.zeros_like(middle)
    return np.asarray((2 * (middle - middle.min()) / span - 1) * min(1.0, span / FULL_SEASONS))


def temperatures(
    low: tuple[float, ...], high: tuple[float, ...], share: Floats, night_spread: float
) -> tuple[Floats, Floats]:
    """Mean and spread of high and low on dry and wet days: two of (366, 2, 2) by dry or wet, then high or low.

    Dry and wet days together have the stated mean, and the spread of all days together.

    Args:
        low: mean of each month [degC].
        high: mean of each month [degC].
        share: chance of a wet day (366,) [1].
        night_spread: spread of single lows over the year [K].
    """
    usual = np.column_stack([year_curve(high), year_curve(low)])
    season = seasons_of(usual[:, 1], usual[:, 0])
    whole = night_spread * np.column_stack([np.full(season.size, DAY_OVER_NIGHT), 1 - NIGHT_SEASON * season])
    offset = np.column_stack([a + b * season for a, b in (WET_HIGH, WET_LOW)])
    return mixture(usual, whole, offset, share)


def mixture(usual: Floats, whole: Floats, offset: Floats, share: Floats) -> tuple[Floats, Floats]:
    """Part means and spreads of all days into those of dry and of wet days; both parts have one spread.

    Args:
        usual: mean of all days (366, 2) [degC].
        whole: spread of all days (366, 2) [K].
        offset: wet less dry (366, 2) [K].
        share: chance of a wet day (366,) [1].
    """
    f = share[:, None]
    # What the offset alone spreads may not be more than there is: it leaves at least a quarter of the variance.
    limit = whole * np.sqrt(0.75 / np.maximum(f * (1 - f), 1e-9))
    apart = np.clip(offset, -limit, limit)
    dry = usual - f * apart
    within = np.sqrt(whole**2 - f * (1 - f) * apart**2)
    return np.stack([dry, dry + apart], axis=1), np.stack([within, within], axis=1)


def standardised(memory: Floats, shocks: Floats) -> tuple[Floats, Floats]:
    """The same process with spreads of exactly one: A and B rescaled by their own stationary covariance.

    Args:
        memory: A (2, 2), of a process that dies away.
        shocks: B (2, 2).

    Raises:
        InputError: a process that does not die away.
    """
    if np.abs(np.linalg.eigvals(memory)).max() >= 1:
        raise InputError("departures of temperature that grow from day to day")
    covariance = np.linalg.solve(np.eye(4) - np.kron(memory, memory), (shocks @ shocks.T).ravel()).reshape(2, 2)
    scale = np.sqrt(np.diag(covariance))
    return memory / scale[:, None] * scale[None, :], shocks / scale[:, None]
