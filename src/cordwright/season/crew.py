"""On which days is there how much time?"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from functools import lru_cache
from math import expm1, log, pi, sqrt
from typing import Final

import numpy as np
from numpy.typing import NDArray

from cordwright.base import Cite
from cordwright.season.habits import habits
from cordwright.season.inputs import SeasonInput
from cordwright.site.climate import Months, on_day
from cordwright.site.inputs import SiteInput
from cordwright.site.sun import daylight_hours

Floats = NDArray[np.float64]
OWN_DAYS: Final = Cite("diary", "own days of laying")


@dataclass(frozen=True, slots=True, kw_only=True)
class Pace:
    """What the builder believes to lay in an hour, as a log-normal: mean and spread of its logarithm, pace in m2/h."""

    log_mean: float
    log_spread: float
    sources: tuple[Cite, ...]

    @property
    def mean(self) -> float:
        """Mean pace [m2/h]."""
        return float(np.exp(self.log_mean + self.log_spread**2 / 2))

    @property
    def sd(self) -> float:
        """Its standard deviation [m2/h]."""
        return self.mean * sqrt(expm1(self.log_spread**2))


def pace_of(season: SeasonInput) -> Pace:
    """The pace as stated, or of habit.

    Args:
        season: the owner's calendar.

    Sources: the owner, else `laying-rate-memory`; log-normal by `pace-prior`.
    """
    rules = habits()["defaults"]
    if season.pace is None:
        mean = float(rules["pace_m2_day"][1]) / float(rules["hours"]) * season.people
        spread, source = float(rules["pace_cv"]) * mean, Cite("laying-rate-memory", "0.6 to 1.1 m2 a day")
    else:
        mean, source = season.pace, Cite("owner", "season.pace") if season.recorded_to is None else OWN_DAYS
        spread = float(rules["pace_cv"]) * mean if season.pace_spread is None else season.pace_spread
    variance = log(1 + (spread / mean) ** 2)
    return Pace(
        log_mean=log(mean) - variance / 2,
        log_spread=sqrt(variance),
        sources=(source, Cite("pace-prior", "log-normal, one draw a season")),
    )


def hours_of(season: SeasonInput) -> float:
    """Hours of a working day by the clock, as stated or of habit [h]."""
    return float(habits()["defaults"]["hours"]) if season.hours is None else season.hours


def clock_and_hands(season: SeasonInput, site: SiteInput, first: date, days: int) -> tuple[Floats, Floats]:
    """Hours worked by the clock on each day, and how many hands count.

    Args:
        season: the owner's calendar.
        site: the place; without its latitude daylight is no limit.
        first: the day that counts as 0.
        days: how many.
    """
    rules = habits()["defaults"]
    week = tuple(rules["days"]) if season.days is None else season.days
    hours = hours_of(season)
    walked = [first + timedelta(days=n) for n in range(days)]
    hands = [_hands(season, day) for day in walked]
    clock = [
        _daylit(hours, site.latitude, day) if day.weekday() in week and hand > 0 else 0.0
        for day, hand in zip(walked, hands, strict=True)
    ]
    return np.array(clock), np.array(hands)


def next_working(clock: Floats) -> NDArray[np.int64]:
    """The first day with working hours from each day on (days + 1,); their number where there is none."""
    found = np.full(clock.size + 1, clock.size, np.int64)
    nearest = clock.size
    for n in range(clock.size - 1, -1, -1):
        nearest = n if clock[n] > 0 else nearest
        found[n] = nearest
    return found


def _daylit(hours: float, latitude: float | None, day: date) -> float:
    return hours if latitude is None else min(hours, _light(latitude, day))


@lru_cache(maxsize=4096)
def _light(latitude: float, day: date) -> float:
    """Hours of daylight, asked for the same days by every plan that is tried [h]."""
    return daylight_hours(latitude, day)


def _hands(season: SeasonInput, day: date) -> float:
    """The factor of the helpers there that day; of two groups at once the larger, of nobody at work none."""
    there = [h.factor for h in season.helpers if h.start <= day <= h.end]
    return 0.0 if 0.0 in there else max(there, default=1.0)


def calm_chances(classes: Floats, months: Months | None, first: date, days: int) -> Floats:
    """Chance that each class's limit of wind holds on each day (classes, days) [1]; 1 where the wind is unknown.

    Args:
        classes: as `class_rows` has them, their limits in column 4 [m/s].
        months: mean wind of each month [m/s].
        first: the day that counts as 0.
        days: how many.

    Sources: assumption (`day-winds`): the wind of a day's working hours about its monthly mean as Rayleigh has it.
    """
    chances = np.ones((len(classes), days))
    if months is not None:
        mean = np.array([on_day(months, first + timedelta(days=n)) for n in range(days)])
        known = mean > 0
        ratio = np.minimum(classes[:, 4:5], 1e4) / mean[known]
        chances[:, known] = 1.0 - np.exp(-pi / 4 * np.minimum(ratio, 20.0) ** 2)
    return chances


def class_rows(names: Sequence[str]) -> Floats:
    """The weather classes as the kernel reads them, a row each (see `_kernels`)."""
    far = 1e9
    rows = [
        (
            w["exposure"],
            w.get("least_high_C", -far),
            float(w.get("frost", False)),
            w.get("heat_C", far),
            w.get("wind_m_s", far),
            w.get("soaked_mm", far) / 1000,
            w.get("soaked_h", 0.0),
            w.get("cover_h", 0.0),
            w.get("wet_mm", far) / 1000,
        )
        for w in (habits()["weather"][name] for name in names)
    ]
    return np.array(rows, np.float64)


def rule_row(season: SeasonInput) -> Floats:
    """The rules of rain and frost as the kernel reads them (see `_kernels`)."""
    rain, frost = habits()["rain"], habits()["frost"]
    whole = 1.0 if season.rain == "whole day" else 0.0
    return np.array(
        [
            rain["a_h"],
            rain["b"],
            rain["scatter"],
            rain["restart_h"],
            rain["give_up_h"],
            rain["begin_h"],
            whole,
            frost["night_C"],
            frost["hard_C"],
            frost["nights"],
            frost["error_K"],
            frost["error_growth_K"],
        ],
        np.float64,
    )
