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

from cordwright.base import Cite, InputError
from cordwright.site.weather_calendar import ANCHOR, PIECE, WARM_UP, WeatherCalendar, weather_calendar

if TYPE_CHECKING:
    from cordwright.site.weather import WeatherModel

Floats = NDArray[np.float64]
Bits = NDArray[np.uint64]
Ints = NDArray[np.int64]

GOLDEN: Final = np.uint64(0x9E3779B97F4A7C15)
HASH: Final = Cite("splitmix64", "state plus golden gamma, then the finalizer")
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
        _walk(model, keys, calendar, (begin, min(end, calendar.first + days)), (rain, low, high, swing))
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


def _month_draws(keys: Bits, months: Ints, normals: Floats, memory: float) -> Floats:
    """One normal draw of each calendar month for each season (months, seasons); it remembers the two before."""
    weights = np.array([1.0, memory, memory * memory])
    total = np.zeros((months.size, keys.size))
    with np.errstate(over="ignore"):
        for back in range(3):
            bits = scattered(keys + (months - back).astype(np.uint64)[:, None] * GOLDEN)
            total += weights[back] * normals[(bits >> np.uint64(52)).astype(np.int64)]
    return np.asarray(total / np.sqrt(np.sum(weights**2)))


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Stretch:
    """Days on end, from a fresh start: slot and month of each (days,), its bits and its month's draws (days, seasons).

    `gain`: by how much the month raises the odds of a wet day [1]; `warmth`: what the month adds to all its days [1].
    """

    slot: Ints
    month: Ints
    bits: Bits
    gain: Floats
    warmth: Floats


def _stretch(model: "WeatherModel", keys: Bits, calendar: WeatherCalendar, begin: int, end: int) -> _Stretch:
    days = np.arange(begin, end)
    slot, month = calendar.slot[days - calendar.lead], calendar.month[days - calendar.lead]
    months, which = np.unique(month, return_inverse=True)
    normals = model.tables()[4]
    wet = _month_draws(keys ^ OF_WET_MONTHS, months, normals, model.wetness_memory)
    warm = _month_draws(keys ^ OF_WARM_MONTHS, months, normals, model.slow_memory)
    with np.errstate(over="ignore"):
        bits = scattered(keys + days.astype(np.uint64)[:, None] * GOLDEN)
    gain, warmth = np.exp(model.wetness * wet), np.sqrt(model.slow) * warm
    return _Stretch(slot=slot, month=month, bits=bits, gain=gain[which], warmth=warmth[which])


def _walk(
    model: "WeatherModel", keys: Bits, calendar: WeatherCalendar, span: tuple[int, int], into: tuple[Floats, ...]
) -> None:
    """Walk all seasons from the fresh start before the first day of a span, an anchor, to its end."""
    stretch = _stretch(model, keys, calendar, span[0] - WARM_UP, span[1])
    wet = _wet_days(model, stretch)
    swing = _swings(model, stretch)
    rain, low, high, swung = into
    asked = slice(max(span[0], calendar.first) - span[0] + WARM_UP, None)
    at = slice(max(span[0], calendar.first) - calendar.first, span[1] - calendar.first)
    slot, kind = stretch.slot[asked, None], wet[asked]
    top, bottom = (model.mean[slot, kind, i] + model.spread[slot, kind, i] * swing[i, asked] for i in (0, 1))
    low[at], high[at], swung[:, at] = np.minimum(top, bottom), np.maximum(top, bottom), swing[:, asked]
    steps = (stretch.bits[asked] >> np.uint64(30)).astype(np.int64) & 1023
    rain[at] = model.amounts[stretch.month[asked, None] % 12, steps] * kind


def _wet_days(model: "WeatherModel", stretch: _Stretch) -> Ints:
    """Wet (1) or dry (0), day by day (days, seasons)."""
    odd = model.odds[stretch.slot][:, None] * stretch.gain
    draw = (stretch.bits >> np.uint64(40)).astype(np.float64) * 2.0**-24
    whole, limit = 1.0 + odd, odd * (1.0 - model.persistence)
    wet = np.zeros(draw.shape, np.int64)
    before = np.zeros(draw.shape[1], np.int64)
    for day in range(len(draw)):
        wet[day] = before = ((draw[day] - model.persistence * before) * whole[day] < limit[day]).astype(np.int64)
    return wet


def _swings(model: "WeatherModel", stretch: _Stretch) -> Floats:
    """How far high and low lie off their means, over their spreads (2, days, seasons) [1]."""
    normals = model.tables()[4]
    one, other = (normals[(stretch.bits >> np.uint64(s)).astype(np.int64) & 4095] for s in (18, 6))
    (a00, a01), (a10, a11) = model.memory
    for_high, for_low, for_low_too = model.shocks[0, 0] * one, model.shocks[1, 0] * one, model.shocks[1, 1] * other
    swing = np.empty((2, *one.shape))
    warm, cool = np.zeros(one.shape[1]), np.zeros(one.shape[1])
    for day in range(len(one)):
        warm, cool = (
            a00 * warm + a01 * cool + for_high[day],
            a10 * warm + a11 * cool + for_low[day] + for_low_too[day],
        )
        swing[0, day], swing[1, day] = warm, cool
    return np.asarray(np.sqrt(1 - model.slow) * swing + stretch.warmth)
