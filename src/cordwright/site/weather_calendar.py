"""Where in the year does each day of a season stand, leap years and all?"""

from dataclasses import dataclass
from datetime import date
from typing import Final

import numpy as np
from numpy.typing import NDArray

from cordwright.base import InputError

Ints = NDArray[np.int64]

# The compiled loops hold these three as they were when compiled: remove __pycache__ after changing one.
PIECE: Final = 32
"""Days of generated weather made at a time; a piece is numbered by the ordinal of its first day over this."""
ANCHOR: Final = 4
"""Pieces from one fresh start to the next."""
WARM_UP: Final = 30
"""Days run before an anchor, so that nothing is left of where they started."""
LEAP_SLOTS: Final = 366
MOST_DAYS: Final = 2000


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class WeatherCalendar:
    """The days a generator walks through: where each stands in the year.

    `first`, `lead`: ordinals of the horizon's first day and of index 0 of `slot` and `month`, which reach from before
    the horizon's first anchor to the end of its last piece.
    """

    first: int
    days: int
    lead: int
    slot: Ints
    month: Ints


def weather_calendar(first: date, days: int) -> WeatherCalendar:
    """Lay out a horizon for the kernels.

    Args:
        first: its first day.
        days: how many, at least one.

    Raises:
        InputError: no day at all, or years outside 2 to 9998.
    """
    if days < 1 or not 2 <= first.year <= 9990 or days > MOST_DAYS:
        raise InputError(f"no weather is made for {days} days from {first}")
    begin = first.toordinal()
    lead = begin // (ANCHOR * PIECE) * ANCHOR * PIECE - WARM_UP
    end = ((begin + days - 1) // PIECE + 1) * PIECE
    walked = [date.fromordinal(n) for n in range(lead, end)]
    slot = np.array([leap_slot(day) for day in walked], np.int64)
    month = np.array([12 * day.year + day.month - 1 for day in walked], np.int64)
    return WeatherCalendar(first=begin, days=days, lead=lead, slot=slot, month=month)


def leap_slot(day: date) -> int:
    """A day's place in a leap year, 0 to 365: 1 March is 60 in every year."""
    return (date(2000, day.month, day.day) - date(2000, 1, 1)).days
