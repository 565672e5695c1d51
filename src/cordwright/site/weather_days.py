"""What do many seasons look like beside one another, day by day?

The same days as the kernel makes, to the bit, walked for all seasons at once: for charts and for the figures of the
site, which shall not wait for a compiler. A season that stops when the wall is closed takes the kernel instead.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from itertools import pairwise
from typing import TYPE_CHECKING, Final

import numpy as np
from numpy.typing import NDArray

from cordwright.base import InputError
from cordwright.site.weather_calendar import ANCHOR, PIECE, WARM_UP, WeatherCalendar, weather_calendar

if TYPE_CHECKING:
    from cordwright.site.weather import WeatherModel

Floats = NDArray[np.float64]
Bits = NDArray[np.uint64]

GOLDEN: Final = np.uint64(0x9E3779B97F4A7C15)
OF_WET_MONTHS: Final = np.uint64(0xD1B54A32D192ED03)
OF_WARM_MONTHS: Final = np.uint64(0x8CB92BA72F3D8DD7)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Days:
    """Days of generated seasons, arrays (seasons, days): rain [m], low and high of the air [degC].

    `swing`: how far high and low of each day lie off their means, over their spreads (2, seasons, days) [1].
    """

    first: date
    rain: Floats
    low: Floats
    high: Floats
    swing: Floats


def make_days(model: "WeatherModel", seed: int, seasons: Sequence[int], first: date, days: int) -> Days:
    """Make all days of some seasons.

    Args:
        model: the generator.
        seed: not swing zero.
        seasons: their numbers, not swing zero.
        first: first day.
        days: how many.

    Raises:
        InputError: a number swing zero, or a horizon no calendar has.
    """
    if seed < 0 or min(seasons, default=0) < 0:
        raise InputError("seeds and seasons are numbered from zero")
    calendar = weather_calendar(first, days)
    shape = (days, len(seasons))
    rain, low, high = (np.empty(shape) for _ in range(3))
    swing = np.empty((2, *shape))
    keys = season_keys(seed, np.asarray(seasons, np.uint64))
    span = ANCHOR * PIECE
    anchors = range(calendar.first // span * span, calendar.first + days, span)
    for begin, end in pairwise((*anchors, anchors[-1] + span)):
        _walk(model, keys, calendar, begin, min(end, calendar.first + days), (rain, low, high, swing))
    return Days(first=first, rain=rain.T, low=low.T, high=high.T, swing=swing.transpose(0, 2, 1))


def scattered(bits: Bits) -> Bits:
    """Scatter 64 bits so that neighbours have nothing in common (`splitmix64`)."""
    with np.errstate(over="ignore"):
        bits = (bits ^ (bits >> np.uint64(30))) * np.uint64(0xBF58476D1CE4E5B9)
        bits = (bits ^ (bits >> np.uint64(27))) * np.uint64(0x94D049BB133111EB)
    return bits ^ (bits >> np.uint64(31))


def season_keys(seed: int, seasons: Bits) -> Bits:
    """The keys of some seasons."""
    with np.errstate(over="ignore"):
        return scattered(scattered(np.array([seed], np.uint64) + GOLDEN) + seasons * GOLDEN)


def _month_draws(keys: Bits, month: int, normals: Floats, memory: float) -> Floats:
    """One normal draw of a calendar month for each season; it remembers the two months before."""
    weights = np.array([1.0, memory, memory * memory])
    total = np.zeros(keys.size)
    with np.errstate(over="ignore"):
        for back in range(3):
            bits = scattered(keys + np.uint64(month - back) * GOLDEN)
            total += weights[back] * normals[(bits >> np.uint64(52)).astype(np.int64)]
    return np.asarray(total / np.sqrt(np.sum(weights**2)))


def _walk(
    model: "WeatherModel", keys: Bits, calendar: WeatherCalendar, begin: int, end: int, into: tuple[Floats, ...]
) -> None:
    """Walk all seasons from the fresh start before an anchor to the day before `end`."""
    rain, low, high, swing = into
    _, mean, spread, amounts, normals, _ = model.tables()
    (a00, a01), (a10, a11) = model.memory
    b00, b10, b11 = model.shocks[0, 0], model.shocks[1, 0], model.shocks[1, 1]
    wet, warm, cool = np.zeros(keys.size, np.int64), np.zeros(keys.size), np.zeros(keys.size)
    known, gain, warmth = -1, np.ones(keys.size), np.zeros(keys.size)
    quick, slow = np.sqrt(1 - model.slow), np.sqrt(model.slow)
    for day in range(begin - WARM_UP, end):
        at, month = calendar.slot[day - calendar.lead], int(calendar.month[day - calendar.lead])
        if month != known:
            known = month
            gain = np.exp(model.wetness * _month_draws(keys ^ OF_WET_MONTHS, month, normals, model.wetness_memory))
            warmth = slow * _month_draws(keys ^ OF_WARM_MONTHS, month, normals, model.slow_memory)
        with np.errstate(over="ignore"):
            bits = scattered(keys + np.uint64(day) * GOLDEN)
        odd = model.odds[at] * gain
        draw = (bits >> np.uint64(40)).astype(np.float64) * 2.0**-24
        wet = ((draw - model.persistence * wet) * (1.0 + odd) < odd * (1.0 - model.persistence)).astype(np.int64)
        one, other = (normals[(bits >> np.uint64(s)).astype(np.int64) & 4095] for s in (18, 6))
        warm, cool = a00 * warm + a01 * cool + b00 * one, a10 * warm + a11 * cool + b10 * one + b11 * other
        index = day - calendar.first
        if index < 0 or day < begin:
            continue
        swing[0, index], swing[1, index] = quick * warm + warmth, quick * cool + warmth
        top, bottom = (mean[at, wet, i] + spread[at, wet, i] * swing[i, index] for i in (0, 1))
        low[index], high[index] = np.minimum(top, bottom), np.maximum(top, bottom)
        rain[index] = amounts[month % 12, (bits >> np.uint64(30)).astype(np.int64) & 1023] * wet
