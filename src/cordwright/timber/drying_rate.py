"""How fast does this stack dry, going by its own weighings?

Before anything is weighed the rate is an assumption with a wide spread. Each weighing is held against the model by
least squares, with the assumption as one observation more; what the weighings say soon outweighs it.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import Final

import numpy as np

from cordwright.base import table
from cordwright.timber.diffusion import Floats
from cordwright.timber.drying import LogEnd, air_from, answers
from cordwright.timber.masses import green_moisture
from cordwright.timber.stacks import Point

ONE_IN_TEN: Final = 1.2815515655446004
"""Standard deviations from the middle to the tenth and the ninetieth of a hundred."""
_RATES: Final = np.exp(np.linspace(math.log(0.02), math.log(50.0), 157))
_FIRST: Final = np.linspace(0.25, 2.0, 36)


@dataclass(frozen=True, slots=True, kw_only=True)
class Rate:
    """Speed of drying over the assumed one [1]: one stack in ten is below `low`, one in ten above `high`.

    `points` is the number of own measurements it stands on.
    """

    low: float
    middle: float
    high: float
    points: int = 0


def assumed_rate() -> Rate:
    """The rate before anything is weighed.

    Sources: assumption (`wood-diffusion`).
    """
    row = table("seasoning")["diffusion"]
    return Rate(low=row["slow"], middle=math.sqrt(row["slow"] * row["fast"]), high=row["fast"])


def fitted_rate(
    points: Sequence[Point],
    mean_end: LogEnd,
    temperature: tuple[float, ...],
    moisture: tuple[float, ...],
) -> Rate:
    """Give the rate that fits the measured moistures best, with what spread they leave.

    Args:
        points: measured moistures; none give the assumed rate.
        mean_end: of the stack: a reading of no marked end is taken as of this one, and lengths not given are its.
        temperature: of each month, January first [degC].
        moisture: that each month's air asks for [1].

    Sources: weighted least squares with the assumption as prior; other ends differ (`ends-differ`).
    """
    if not points:
        return assumed_rate()
    misfits = [
        _misfit(tuple(group), mean_end, temperature, moisture)
        for _, group in groupby(sorted(points, key=lambda p: (p.name, p.day)), key=lambda p: p.name)
    ]
    worse = _excess(misfits, len(points))
    likely = sum((_over_first(m / worse) for m in misfits), _log_prior())
    weight = np.exp(likely - likely.max())
    low, middle, high = np.exp(np.interp((0.1, 0.5, 0.9), _cumulative(weight), np.log(_RATES)))
    share = float(table("seasoning")["ends_differ"]["share"])
    return Rate(
        low=float(min(low, middle * (1 - share))),
        middle=float(middle),
        high=float(max(high, middle * (1 + share))),
        points=len(points),
    )


def _cumulative(weight: Floats) -> Floats:
    total = np.cumsum(weight) - weight / 2
    return np.asarray(total / weight.sum())


def _log_prior() -> Floats:
    rate = assumed_rate()
    deviation = math.log(rate.high / rate.low) / (2 * ONE_IN_TEN)
    return -0.5 * ((np.log(_RATES) - math.log(rate.middle)) / deviation) ** 2


def _misfit(
    points: tuple[Point, ...], mean_end: LogEnd, temperature: tuple[float, ...], moisture: tuple[float, ...]
) -> Floats:
    """Sum of squared misfits of one end over its errors, for each rate and first moisture, shape (rates, firsts)."""
    since = points[0].since
    years = max(1, points[-1].day.year - since.year + 1)
    air = air_from(since, years, temperature, moisture)
    head = points[0]
    end = LogEnd(diameter=head.diameter or mean_end.diameter, length=head.length or mean_end.length, bark=mean_end.bark)
    days = np.array([p.day.toordinal() for p in points], dtype=np.float64)
    seen, error = (np.array([getattr(p, name) for p in points]) for name in ("moisture", "error"))
    rows = []
    for rate in _RATES:
        left, given = answers(end, air, days, float(rate))
        foretold = np.multiply.outer(_FIRST, left) + given
        rows.append((((foretold - seen) / error) ** 2).sum(axis=1))
    return np.array(rows)


def _excess(misfits: list[Floats], points: int) -> float:
    """How much worse the best fit is than the errors allow [1]: poor fits must not look sharp."""
    free = points - len(misfits) - 1
    least = sum(m.min(axis=1) for m in misfits).min()
    return max(1.0, float(least) / free) if free > 0 else 1.0


def _over_first(misfit: Floats) -> Floats:
    """Log likelihood of each rate, summed over what the first moisture may have been."""
    low, middle, high = green_moisture()
    prior = ((_FIRST - middle) / ((high - low) / (2 * ONE_IN_TEN))) ** 2
    logs = -0.5 * (misfit + prior)
    top = logs.max(axis=1, keepdims=True)
    return np.asarray(top[:, 0] + np.log(np.exp(logs - top).sum(axis=1)))
