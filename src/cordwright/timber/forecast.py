"""How dry will the small, the mean and the largest log end be, from stacking on?"""

from dataclasses import dataclass, replace
from datetime import date
from typing import Final

import numpy as np

from cordwright.base import table
from cordwright.site import MonthlyNormals
from cordwright.timber.diffusion import Floats
from cordwright.timber.drying import Air, LogEnd, air_from, first_day_at, moisture_on
from cordwright.timber.drying_rate import Rate, assumed_rate, fitted_rate
from cordwright.timber.inputs import TimberInput
from cordwright.timber.masses import green_moisture
from cordwright.timber.moisture import site_moisture
from cordwright.timber.results import Stock
from cordwright.timber.shrinkage import fibre_saturation
from cordwright.timber.stacks import Point, Stack, points_of, stack_of, wet_readings

AIR: Final = "temperature and humidity of the months (site.months)"
SMALL: Final = 10.0
"""Percent of the log ends that are thinner than the one called small."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Curve:
    """Moisture of one size of log end over time: `days` as ordinals and the three runs, shape (n,) each [1].

    `fast` and `slow` are the runs of one stack in ten each; in a damp season the fast one may be the wetter.
    """

    name: str
    diameter: float
    days: Floats
    fast: Floats
    middle: Floats
    slow: Floats

    def at(self, day: date) -> tuple[float, float, float]:
        """Low, middle and high moisture on a day [1]."""
        values = [float(np.interp(day.toordinal(), self.days, run)) for run in (self.fast, self.middle, self.slow)]
        return min(values), values[1], max(values)

    def first_below(self, mark: float) -> tuple[date | None, date | None, date | None]:
        """The day on which the fast, the middle and the slow run are first at a moisture or below; None for never."""
        found = [first_day_at(self.days, run, mark) for run in (self.fast, self.middle, self.slow)]
        fast, middle, slow = (None if day is None else date.fromordinal(int(np.ceil(day))) for day in found)
        return fast, middle, slow

    def damp_again(self, mark: float) -> date | None:
        """The day on which the middle run rises over a moisture after it was below; None for never."""
        first = first_day_at(self.days, self.middle, mark)
        later = np.flatnonzero((self.days > (np.inf if first is None else first)) & (self.middle > mark))
        return date.fromordinal(int(self.days[later[0]])) if later.size else None


@dataclass(frozen=True, slots=True, kw_only=True)
class Forecast:
    """The stack's drying: `air` and `curves` are empty and None where `missing` says what is not known."""

    stack: Stack
    rate: Rate
    points: tuple[Point, ...]
    air: Air | None = None
    curves: tuple[Curve, ...] = ()
    missing: tuple[str, ...] = ()

    def curve(self, name: str) -> Curve:
        """The curve of the small, the mean or the largest log end."""
        return next(c for c in self.curves if c.name == name)


def forecast_drying(
    timber: TimberInput, stock: Stock, normals: MonthlyNormals | None, log_end_length: float
) -> Forecast:
    """Forecast the drying of the stack from the day it was stacked, or from where the meter overrules the model.

    Args:
        timber: the stock as stated.
        stock: its log ends.
        normals: the site's months.
        log_end_length: the wall's [m].

    Sources: those of `drying` and `drying_rate`; where the meter overrules it is an assumption (`meter-overrules`).
    """
    stack, site, ends = stack_of(timber), site_moisture(normals), sizes_of(timber, stock, log_end_length)
    missing = (*(() if site else (AIR,)), *stack.missing, *(() if ends else ("the diameters of the log ends",)))
    points = points_of(timber, stack)
    if missing or site is None or normals is None or stack.start is None:
        return Forecast(stack=stack, rate=assumed_rate(), points=points, missing=missing)
    rate = fitted_rate(points, ends["mean"], normals.temperature, site.months)
    made = _run(stack, ends, rate, normals.temperature, site.months)
    wet = _overruling(timber, made[1])
    if wet is not None:
        anew = "the meter says wet where the model says dry: drying counts anew from that reading, from fresh wood"
        stack = replace(stack, start=wet, first=green_moisture(), anew=anew)
        made = _run(stack, ends, rate, normals.temperature, site.months)
    return Forecast(stack=stack, rate=rate, points=points, air=made[0], curves=made[1])


def sizes_of(timber: TimberInput, stock: Stock, length: float) -> dict[str, LogEnd]:
    """Give the small, the mean and the largest log end in fresh wood; nothing where no diameter is known.

    Args:
        timber: the stock as stated.
        stock: its log ends.
        length: of the log ends [m].
    """
    known = stock.green_diameter[np.isfinite(stock.green_diameter)]
    if not known.size:
        return {}
    bark = timber.seasoning.bark == "on"
    sizes = {"small": np.percentile(known, SMALL), "mean": known.mean(), "largest": known.max()}
    return {name: LogEnd(diameter=float(size), length=length, bark=bark) for name, size in sizes.items()}


def _run(
    stack: Stack, ends: dict[str, LogEnd], rate: Rate, temperature: tuple[float, ...], moisture: tuple[float, ...]
) -> tuple[Air, tuple[Curve, ...]]:
    assert stack.start is not None
    row = table("seasoning")["horizon"]
    air = air_from(stack.start, row["years"], temperature, moisture)
    days = np.arange(air.begins[0], air.begins[0] + row["years"] * 365, row["step"], dtype=np.float64)
    low, middle, high = stack.first
    return air, tuple(
        Curve(
            name=name,
            diameter=end.diameter,
            days=days,
            fast=moisture_on(end, air, days, low, rate.high, even=stack.even),
            middle=moisture_on(end, air, days, middle, rate.middle, even=stack.even),
            slow=moisture_on(end, air, days, high, rate.low, even=stack.even),
        )
        for name, end in ends.items()
    )


def _overruling(timber: TimberInput, curves: tuple[Curve, ...]) -> date | None:
    """The last day on which the meter said wet while the mean log end should have been dry; None for none."""
    mean = next(c for c in curves if c.name == "mean")
    days = [r.date for r in wet_readings(timber) if mean.at(r.date)[1] < fibre_saturation(timber)]
    later = {r.date for r in timber.seasoning.readings if r.value < fibre_saturation(timber)}
    last = max(days, default=None)
    return None if last is None or any(day > last for day in later) else last
