"""How does one season's weather come out of a seed, day by day, the same whoever asks and in whatever order?

Every day has its own bits, hashed from seed, season and date; nothing is drawn in sequence. What is remembered from day
to day (wet or dry, how far high and low lie off their means) starts anew at every anchor, `WARM_UP` days before it, so
that a piece is the same to the last bit whether the pieces before it were made or not; across an anchor both runs have
met again, since they share the days' bits.

Days are counted by their ordinal (1 = 1 January of the year 1), months by 12 x year + month - 1. Tables, in this order:
odds (366,) of a wet day; mean and spread (366, 2, 2) by dry or wet, then high or low [degC, K]; amounts (12, 1024) of a
wet day [m]; normals (4096,); numbers (13,): persistence, a00, a01, a10, a11, b00, b10, b11, wetness, wetness memory,
quick and slow share of the departures (their squares add up to one), slow memory.

Interpreted, the hash overflows by intent: call under `numpy.errstate(over="ignore")`.
"""

import math

import numpy as np
from numpy.typing import NDArray

from cordwright.base.kernel import kernel, lent_kernel
from cordwright.site.weather_calendar import ANCHOR, PIECE, WARM_UP

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Tables = tuple[Floats, Floats, Floats, Floats, Floats, Floats]

GOLDEN = np.uint64(0x9E3779B97F4A7C15)
FIRST = np.uint64(0xBF58476D1CE4E5B9)
SECOND = np.uint64(0x94D049BB133111EB)
OF_WET_MONTHS = np.uint64(0xD1B54A32D192ED03)
OF_WARM_MONTHS = np.uint64(0x8CB92BA72F3D8DD7)
U6, U12, U18, U30, U40 = np.uint64(6), np.uint64(12), np.uint64(18), np.uint64(30), np.uint64(40)
U27, U31, U52 = np.uint64(27), np.uint64(31), np.uint64(52)
WET_STEP = 2.0**-24
TEN_BITS, TWELVE_BITS = np.uint64(1023), np.uint64(4095)


@lent_kernel
def mixed(bits: np.uint64) -> np.uint64:
    """Scatter 64 bits so that neighbours have nothing in common (`splitmix64`)."""
    bits = (bits ^ (bits >> U30)) * FIRST
    bits = (bits ^ (bits >> U27)) * SECOND
    return bits ^ (bits >> U31)


@lent_kernel
def season_key(seed: int, season: int) -> np.uint64:
    """The key of one season: whole numbers not below zero in, 64 bits out."""
    return mixed(mixed(np.uint64(seed) + GOLDEN) + np.uint64(season) * GOLDEN)


@lent_kernel
def day_bits(key: np.uint64, day: int) -> np.uint64:
    """The bits of one day: 24 for wet or dry, 10 for the amount, twice 12 for high and low, 6 to spare."""
    return mixed(key + np.uint64(day) * GOLDEN)


@lent_kernel
def month_draw(key: np.uint64, month: int, normals: Floats, memory: float) -> float:
    """One normal draw of a calendar month that remembers the two before: a lag-one correlation of nearly `memory`."""
    total, weight, square = 0.0, 1.0, 0.0
    for back in range(3):
        total += weight * normals[np.int64(mixed(key + np.uint64(month - back) * GOLDEN) >> U52)]
        square += weight * weight
        weight *= memory
    return total / math.sqrt(square)


@lent_kernel
def walk_from(piece: int, state: Floats) -> int:
    """The day to walk from: the piece's own when the one before it has just been made, else its anchor's warm-up."""
    if piece % ANCHOR != 0 and int(state[0]) == piece:
        return piece * PIECE
    state[1], state[2], state[3] = 0.0, 0.0, 0.0
    return (piece // ANCHOR) * ANCHOR * PIECE - WARM_UP


@lent_kernel
def put_day(at: int, wet: int, warm: float, cool: float, tables: Tables, index: int, low: Floats, high: Floats) -> None:
    """Set high and low of a day; where they would cross they change places, so that the mean of the day stays."""
    mean, spread = tables[1], tables[2]
    top = mean[at, wet, 0] + spread[at, wet, 0] * warm
    bottom = mean[at, wet, 1] + spread[at, wet, 1] * cool
    low[index], high[index] = min(top, bottom), max(top, bottom)


@lent_kernel
def fill_piece(
    piece: int,
    key: np.uint64,
    first: int,
    lead: int,
    slot: Ints,
    month: Ints,
    tables: Tables,
    state: Floats,
    rain: Floats,
    low: Floats,
    high: Floats,
) -> None:
    """Make the days of one piece that lie within the horizon.

    Args:
        piece: its number, ordinal // PIECE.
        key: of the season, from `season_key`.
        first: ordinal of the day at index 0 of `rain`, `low` and `high`.
        lead: ordinal of the day at index 0 of `slot` and `month` (`weather_calendar`).
        slot: of each day since `lead`, the day of a leap year (0 to 365).
        month: of each day since `lead`, 12 x year + month - 1.
        tables: of a `WeatherModel`.
        state: (4,): the piece that may follow, wet or dry, departure of high and low; begin with -1 in `state[0]`.
        rain: of the horizon [m], filled here.
        low: coldest of the day [degC], filled here.
        high: warmest of the day [degC], filled here.
    """
    odds, _, _, amounts, normals, n = tables
    day, known, gain, warmth = walk_from(piece, state), -1, 1.0, 0.0
    wet, warm, cool = int(state[1]), state[2], state[3]
    while day < (piece + 1) * PIECE:
        at = slot[day - lead]
        if month[day - lead] != known:
            known = month[day - lead]
            gain = math.exp(n[8] * month_draw(key ^ OF_WET_MONTHS, known, normals, n[9]))
            warmth = n[11] * month_draw(key ^ OF_WARM_MONTHS, known, normals, n[12])
        bits, odd = day_bits(key, day), odds[at] * gain
        # Draw under share x (1 - keep) + keep x wet, share being odds / (1 + odds); multiplied out, for want of time.
        draw = np.float64(np.int64(bits >> U40)) * WET_STEP
        wet = int((draw - n[0] * wet) * (1.0 + odd) < odd * (1.0 - n[0]))
        one = normals[(bits >> U18) & TWELVE_BITS]
        other = normals[(bits >> U6) & TWELVE_BITS]
        warm, cool = n[1] * warm + n[2] * cool + n[5] * one, n[3] * warm + n[4] * cool + n[6] * one + n[7] * other
        index = day - first
        if day >= piece * PIECE and 0 <= index < rain.size:
            put_day(at, wet, n[10] * warm + warmth, n[10] * cool + warmth, tables, index, low, high)
            rain[index] = amounts[known % 12, (bits >> U30) & TEN_BITS] * wet
        day += 1
    state[0], state[1], state[2], state[3] = piece + 1, wet, warm, cool


@kernel
def fill_seasons(
    seed: int,
    seasons: Ints,
    first: int,
    lead: int,
    slot: Ints,
    month: Ints,
    tables: Tables,
    rain: Floats,
    low: Floats,
    high: Floats,
) -> None:
    """Make all days of a horizon for some seasons: arrays (seasons, days) [m, degC, degC]."""
    state = np.empty(4, np.float64)
    for i in range(seasons.size):
        key = season_key(seed, seasons[i])
        state[0] = -1.0
        for piece in range(first // PIECE, (first + rain.shape[1] - 1) // PIECE + 1):
            fill_piece(piece, key, first, lead, slot, month, tables, state, rain[i], low[i], high[i])
