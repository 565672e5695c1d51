"""When does the first hard frost come to the site, in one year of two?

A night colder than -3 degC: mortar still soaked freezes through.
"""

import math
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Final

from cordwright.base import Cite, Step
from cordwright.site.climate import Months, on_day
from cordwright.site.inputs import SiteInput

HARD_FROST: Final = -3.0
NIGHT_SPREAD: Final = 4.0
"""Standard deviation of single nightly lows about their mean, each night for itself (assumption `night-spread`) [K]."""
CHANCES: Final = (0.1, 0.5, 0.9)


@dataclass(frozen=True, slots=True, kw_only=True)
class FirstFrost:
    """The first night of hard frost: in one year of ten by `early`, of two by `middle`, in nine of ten by `late`."""

    middle: date
    early: date | None
    late: date | None
    source: Cite
    steps: tuple[Step, ...]


def first_frost(site: SiteInput, after: date) -> FirstFrost | None:
    """The first hard frost after a summer day; None where neither the owner nor the nightly lows tell it.

    Args:
        site: the place.
        after: a day of the laying season; the frost looked for is the first one after it.

    Sources: the owner's word, else the months' lows with an assumed spread of single nights (`night-spread`).
    """
    if site.first_hard_frost is not None:
        return _stated(site.first_hard_frost, after)
    if site.months is None or site.months.low is None:
        return None
    return _by_lows(site.months.low, after)


def _stated(day: tuple[int, int], after: date) -> FirstFrost:
    # A frost on 29 February is kept: `leap_day` falls back on the last day the year has.
    found = next(d for year in (after.year, after.year + 1) if (d := leap_day(year, *day)) > after)
    source = Cite("owner", "site.first_hard_frost")
    step = Step(
        symbol="first hard frost, day of the year", value=float(found.timetuple().tm_yday), unit="", source=source
    )
    return FirstFrost(middle=found, early=None, late=None, source=source, steps=(step,))


def leap_day(year: int, month: int, day: int) -> date:
    """A day of a year; 29 February is the 28th in a common year."""
    return date(year, month, min(day, 28) if month == 2 and not _leap(year) else day)


def _leap(year: int) -> bool:
    return year % 4 == 0 and (year % 100 != 0 or year % 400 == 0)


def frost_chance(mean_low: float) -> float:
    """Chance that one night is colder than -3 degC [1].

    Args:
        mean_low: mean of the nightly lows at that time of year [degC].

    Sources: assumption (`night-spread`): normal about the mean, standard deviation 4 K.
    """
    return 0.5 * math.erfc((mean_low - HARD_FROST) / (NIGHT_SPREAD * math.sqrt(2)))


def _by_lows(lows: Months, after: date) -> FirstFrost | None:
    """Walk from the year's mildest time on until the chance of no frost yet has fallen to one half."""
    start = _mildest(lows, after)
    none_yet, dates = 1.0, list[date]()
    for n in range(366):
        day = start + timedelta(days=n)
        none_yet *= 1.0 - frost_chance(on_day(lows, day))
        while len(dates) < len(CHANCES) and 1.0 - none_yet >= CHANCES[len(dates)]:
            dates.append(day)
    if len(dates) < len(CHANCES):
        return None
    source = Cite("night-spread", "4 K, each night for itself")
    steps = (
        Step(
            symbol="mean low of that night",
            value=on_day(lows, dates[1]),
            unit="degC",
            formula="between the months' middles",
        ),
        Step(
            symbol="spread of nights", value=NIGHT_SPREAD, unit="K", formula="normal about the mean low", source=source
        ),
        Step(symbol="chance by that night", value=0.5, unit="1", formula="1 - product of (1 - chance of each night)"),
    )
    return FirstFrost(middle=dates[1], early=dates[0], late=dates[2], source=source, steps=steps)


def _mildest(lows: Months, after: date) -> date:
    """The middle of the month of the mildest nights, the last one that lies at most half a year after a day."""
    month = max(range(12), key=lambda m: lows[m]) + 1
    near = (date(after.year + shift, month, 15) for shift in (1, 0, -1))
    return next(d for d in near if d <= after + timedelta(days=183))
