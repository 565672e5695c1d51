"""What weather may a season bring, drawn day by day as the site has it, and the same for every plan that is tried?

A day is wet or dry depending on the day before; a wet day has an amount; high and low swing about their means, which
differ between wet and dry days, and remember the day before. Richardson's form of a weather generator.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from functools import cache
from statistics import NormalDist
from typing import Final

import numpy as np
from numpy.typing import NDArray

from cordwright.base import Cite, InputError
from cordwright.site.weather_calendar import LEAP_SLOTS
from cordwright.site.weather_days import Days, make_days

Floats = NDArray[np.float64]
Tables = tuple[Floats, Floats, Floats, Floats, Floats, Floats]

NORMAL_STEPS: Final = 4096
AMOUNT_STEPS: Final = 1024
WINTERS: Final = 300
SEED: Final = 1
"""The winters by which a site's cold is judged."""
GENERATOR: Final = Cite("richardson-1981", "wet or dry by the day before; high and low by a lag-one process")


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class WeatherModel:
    """A weather generator fitted to one site. Slots are the days of a leap year, 0 to 365.

    `wet_share`: chance that a day is wet (366,) [1]; `odds`: the same as odds, lowered for the wet and dry months that
    `wetness` brings (366,) [1]. `persistence`: how much more likely a wet day is after a wet one [1].
    `amounts`: depth on a wet day, by month and rising chance (12, 1024) [m]. `wet_from`: depth that makes one [m].
    `mean`, `spread`: of single days (366, 2, 2) by dry or wet, then high or low [degC, K]. `memory` and `shocks`: the
    matrices A and B of the departures of high and low from their means, over their spread (2, 2) [1].
    `wetness`: spread of the logarithm of the odds from month to month [1], with `wetness_memory` [1].
    `slow`: share of the variance of high and low that whole months have in common [1], with `slow_memory` from month to
    month [1]: warm Marches and cold winters.
    `sources`: where each field comes from; `notes`: what the fit could not know.
    """

    wet_share: Floats
    odds: Floats
    persistence: float
    amounts: Floats
    wet_from: float
    mean: Floats
    spread: Floats
    memory: Floats
    shocks: Floats
    wetness: float
    wetness_memory: float
    slow: float = 0.0
    slow_memory: float = 0.3
    sources: Mapping[str, Cite] = field(default_factory=dict)
    notes: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        shapes = {
            "wet_share": (LEAP_SLOTS,),
            "odds": (LEAP_SLOTS,),
            "amounts": (12, AMOUNT_STEPS),
            "mean": (LEAP_SLOTS, 2, 2),
            "spread": (LEAP_SLOTS, 2, 2),
            "memory": (2, 2),
            "shocks": (2, 2),
        }
        for name, shape in shapes.items():
            values: Floats = getattr(self, name)
            if values.shape != shape or not np.isfinite(values).all():
                raise InputError(f"weather: {name} is not {shape} finite numbers")
            values.setflags(write=False)
        shares = (self.persistence, self.wetness_memory, self.slow, self.slow_memory)
        if not all(0 <= share < 1 for share in shares) or not 0 <= self.wetness <= 2:
            raise InputError("weather: persistence, slow and memories lie from 0 to 1, wetness from 0 to 2")

    def tables(self) -> Tables:
        """What the kernels read, in their order (`site._kernels`)."""
        a, b = self.memory, self.shocks
        months = (self.wetness, self.wetness_memory, (1 - self.slow) ** 0.5, self.slow**0.5, self.slow_memory)
        numbers = (self.persistence, *a.ravel(), b[0, 0], b[1, 0], b[1, 1], *months)
        return self.odds, self.mean, self.spread, self.amounts, normal_steps(), np.array(numbers, np.float64)

    def days(self, seed: int, seasons: Sequence[int], first: date, days: int) -> Days:
        """All days of some seasons, for charts and tests; a season's kernel makes them piece by piece instead.

        Args:
            seed: not below zero.
            seasons: numbers of the seasons, not below zero.
            first: first day.
            days: how many.
        """
        return make_days(self, seed, seasons, first, days)


@cache
def normal_steps() -> Floats:
    """The means of 4096 equally likely parts of the normal distribution, rising, scaled to a spread of exactly one."""
    normal = NormalDist()
    edges = [normal.inv_cdf(i / NORMAL_STEPS) for i in range(1, NORMAL_STEPS)]
    heights = np.array([0.0, *(normal.pdf(e) for e in edges), 0.0])
    means = NORMAL_STEPS * (heights[:-1] - heights[1:])
    return np.asarray(means / np.sqrt(np.mean(means**2)))
