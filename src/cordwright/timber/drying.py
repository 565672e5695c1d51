"""How does a log end dry, or grow damp again, through the months of this site?

The air asks for another moisture each month. The wood answers to each change in the same way, only faster when it is
warm; so its moisture is the sum of its answers. Nothing here is stepped in time: the sum is exact for air that is
constant within each month.
"""

import math
from dataclasses import dataclass
from datetime import date
from typing import Final

import numpy as np

from cordwright.base import table
from cordwright.timber.diffusion import Floats, left_in_log_end

DAY: Final = 86400.0
KELVIN: Final = 273.15
FIRST_ZERO: Final = 2.404825557695773
"""Of the Bessel function J0."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Air:
    """The air month after month: day on which each begins (and the last ends), shape (n + 1,), as ordinal days.

    `moisture` that the air asks for [1] and `warmth`, the speed of drying over that at 20 degC [1], shape (n,).
    """

    begins: Floats
    moisture: Floats
    warmth: Floats

    def stretched(self, days: Floats) -> Floats:
        """Time at 20 degC that dries as much as the time from the first day to these, shape of `days` [s]."""
        passed = np.concatenate([[0.0], np.cumsum(np.diff(self.begins) * self.warmth)])
        return np.asarray(np.interp(days, self.begins, passed) * DAY)


@dataclass(frozen=True, slots=True, kw_only=True)
class LogEnd:
    """A log end that dries: diameter and length [m], and whether its bark is on."""

    diameter: float
    length: float
    bark: bool = False


def warmth(temperature: Floats) -> Floats:
    """Speed of drying over that at 20 degC, shape of `temperature` [1].

    Args:
        temperature: of the air [degC].

    Sources: memory (`drying-warmth`).
    """
    row = table("seasoning")["warmth"]
    return np.asarray(np.exp(row["activation"] * (1 / (row["reference"] + KELVIN) - 1 / (temperature + KELVIN))))


def air_from(start: date, years: int, temperature: tuple[float, ...], moisture: tuple[float, ...]) -> Air:
    """Give the months from a day on, the first cut at that day.

    Args:
        start: the first day.
        years: how many years of months follow.
        temperature: of each month, January first [degC].
        moisture: that each month's air asks for [1].
    """
    months = [divmod(start.year * 12 + start.month - 1 + n, 12) for n in range(12 * years + 1)]
    first = [date(y, m + 1, 1).toordinal() for y, m in months]
    after = divmod(months[-1][0] * 12 + months[-1][1] + 1, 12)
    begins = np.array([start.toordinal(), *first[1:], date(after[0], after[1] + 1, 1).toordinal()], dtype=np.float64)
    of_month = [m for _, m in months]
    return Air(
        begins=begins,
        moisture=np.array(moisture)[of_month],
        warmth=warmth(np.array(temperature))[of_month],
    )


def answers(end: LogEnd, air: Air, days: Floats, rate: float = 1.0) -> tuple[Floats, Floats]:
    """How a log end answers to the air: share of its first moisture left, and the moisture the air has given it.

    The moisture on a day is first moisture x share + given. Both have the shape of `days`.

    Args:
        end: what dries.
        air: the months from the first day on.
        days: ordinal days, none before the first.
        rate: factor on the table's diffusion [1].

    Sources: Crank; superposition (`duhamel`); diffusion is an assumption (`wood-diffusion`).
    """
    row = table("seasoning")["diffusion"]
    across = row["transverse"] * rate
    since = np.subtract.outer(air.stretched(days), air.stretched(air.begins))
    begun, left = since > 0, np.ones(since.shape)
    along = across * row["along"]
    left[begun] = left_in_log_end(since[begun], end.diameter, end.length, across=across, along=along, bark=end.bark)
    given = (left[..., 1:] - left[..., :-1]) @ air.moisture
    return left[..., 0], given


def moisture_on(end: LogEnd, air: Air, days: Floats, first: float, rate: float = 1.0, *, even: bool = True) -> Floats:
    """Mean moisture of a log end on some days, shape of `days` [1].

    Args:
        end: what dries.
        air: the months from the first day on.
        days: ordinal days, none before the first.
        first: mean moisture on the first day [1].
        rate: factor on the table's diffusion [1].
        even: whether the first moisture is the same all through; else the wood has long been drying, wet in the core
            and at its surface as dry as the air.

    Sources: those of `answers`; long drying leaves the slowest term of the series (`crank-diffusion`).
    """
    left, given = answers(end, air, days, rate)
    if even:
        return first * left + given
    start = float(air.moisture[0])
    settled = np.exp(-slowest(end, rate) * air.stretched(days))
    return start * left + given + (first - start) * settled


def slowest(end: LogEnd, rate: float = 1.0) -> float:
    """How fast the slowest term of a log end's drying dies away at 20 degC [1/s].

    Args:
        end: what dries.
        rate: factor on the table's diffusion [1].

    Sources: Crank, first terms of slab and cylinder.
    """
    row = table("seasoning")["diffusion"]
    across = float(row["transverse"]) * rate
    ends = across * float(row["along"]) * (math.pi / end.length) ** 2
    return ends if end.bark else ends + across * (FIRST_ZERO / (end.diameter / 2)) ** 2


def first_day_at(days: Floats, moisture: Floats, mark: float) -> float | None:
    """The first day on which the moisture is at a mark or below, between two days by a straight line; None for never.

    Args:
        days: ordinal days in rising order, shape (n,).
        moisture: on those days [1], shape (n,).
        mark: moisture [1].
    """
    below = np.flatnonzero(moisture <= mark)
    if not below.size:
        return None
    i = int(below[0])
    if i == 0:
        return float(days[0])
    share = (moisture[i - 1] - mark) / (moisture[i - 1] - moisture[i])
    return float(days[i - 1] + share * (days[i] - days[i - 1]))
