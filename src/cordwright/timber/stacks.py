"""Since when do the log ends dry, how wet were they, and what was measured on them since?"""

import re
from dataclasses import dataclass
from datetime import date, timedelta

from cordwright.base import table
from cordwright.timber.inputs import MarkedEnd, Reading, SeasoningInput, Stem, TimberInput, Weighing
from cordwright.timber.masses import green_moisture
from cordwright.timber.shrinkage import fibre_saturation

STACKED = "the day the log ends were cut and stacked (stems' list or seasoning.stacked)"

_DAY = re.compile(r"(\d{4})-(\d{2})(?:-(\d{2}))?")


@dataclass(frozen=True, slots=True, kw_only=True)
class Stack:
    """Where a forecast begins: the day, and the low, middle and high moisture on it [1]; `anew` says why not earlier.

    `start` is None where nobody knows; `missing` then names it. `even` tells that the moisture is the same all through
    on that day; else the wood has been drying long before.
    """

    start: date | None
    first: tuple[float, float, float]
    anew: str = ""
    even: bool = True
    missing: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Point:
    """One measured mean moisture of a log end [1], its error [1], whose it is and since when that end dries.

    `length` is None for an end as long as the wall's.
    """

    day: date
    moisture: float
    error: float
    name: str
    diameter: float | None
    length: float | None
    since: date


def day_of(text: str) -> date | None:
    """Read a day as typed in the list of stems, `2027-05-15` or `2027-05`; a month counts from its last day.

    Args:
        text: the owner's words; anything else is no day.
    """
    match = _DAY.fullmatch(text.strip())
    if not match:
        return None
    try:
        first = date(int(match[1]), int(match[2]), int(match[3] or 1))
    except ValueError:
        return None
    if match[3]:
        return first
    return (first + timedelta(days=31)).replace(day=1) - timedelta(days=1)


def stacked_on(stem: Stem, seasoning: SeasoningInput) -> date | None:
    """The day from which the log ends of a stem dry: its own, made finer by the stack's day within the same month."""
    own, whole = day_of(stem.stacked), seasoning.stacked
    if not stem.stacked.strip():
        return whole
    monthly = own is not None and len(stem.stacked.strip()) == len("2027-05")
    if own and monthly and whole and (own.year, own.month) == (whole.year, whole.month):
        return whole
    return own


def stack_of(timber: TimberInput) -> Stack:
    """Give the day from which the last of the log ends dry, and their moisture on it.

    A stack of unknown age that a meter has found below fibre saturation is forecast from that reading.

    Args:
        timber: the stock as stated.

    Sources: fresh moisture is an assumption (`green-moisture`), and so is the even start (`fresh-start`).
    """
    starts = [stacked_on(stem, timber.seasoning) for stem in timber.stems]
    starts += [timber.seasoning.stacked] * (1 if timber.piles else 0)
    known = [day for day in starts if day is not None]
    if known and len(known) == len(starts):
        return Stack(start=max(known), first=green_moisture())
    dry = sorted(dry_readings(timber), key=lambda r: r.date)
    if dry:
        error, value = float(table("seasoning")["meter"]["inside"]), dry[-1].value
        anew = "the day of stacking is not known: the forecast begins at the last meter reading"
        first = (max(0.0, value - error), value, value + error)
        return Stack(start=dry[-1].date, first=first, anew=anew, even=False)
    return Stack(start=None, first=green_moisture(), missing=(STACKED,))


def dry_readings(timber: TimberInput) -> list[Reading]:
    """The meter readings that are numbers; at fibre saturation and above a meter says no more than wet."""
    return [r for r in timber.seasoning.readings if r.value < fibre_saturation(timber)]


def wet_readings(timber: TimberInput) -> list[Reading]:
    """The meter readings that say no more than wet."""
    return [r for r in timber.seasoning.readings if r.value >= fibre_saturation(timber)]


def points_of(timber: TimberInput, stack: Stack) -> tuple[Point, ...]:
    """Give what weighings and meter say of the mean moisture of single log ends.

    Args:
        timber: the stock as stated.
        stack: since when it dries.
    """
    named = {end.name: end for end in timber.seasoning.samples}
    weighed: list[Point] = []
    for end in named.values():
        weighed += _weighed(end, timber, stack)
    leaning = {p.name for p in weighed}
    loose = [r for r in dry_readings(timber) if r.where not in leaning]
    metered = [_metered(r, named.get(r.where), stack) for r in loose]
    return (*weighed, *(p for p in metered if p is not None))


def _weighed(end: MarkedEnd, timber: TimberInput, stack: Stack) -> list[Point]:
    rows = sorted((w for w in timber.seasoning.weighings if w.end == end.name), key=lambda w: w.date)
    dry, error = dry_mass_of(end, rows, dry_readings(timber))
    if dry is None or not rows:
        return []
    since = end.cut or stack.start or rows[0].date
    return [
        Point(
            day=row.date,
            moisture=row.mass / dry - 1,
            error=error,
            name=end.name,
            diameter=end.diameter,
            length=end.length,
            since=min(since, rows[0].date),
        )
        for row in rows
    ]


def dry_mass_of(end: MarkedEnd, rows: list[Weighing], readings: list[Reading]) -> tuple[float | None, float]:
    """Oven-dry mass of a marked end [kg] and the error of the moistures that stand on it [1]; None where unknown.

    Args:
        end: the marked end.
        rows: its weighings in order.
        readings: of the meter, below fibre saturation.
    """
    limits = table("seasoning")["weighing"]
    if end.oven_dry_mass is not None:
        return end.oven_dry_mass, limits["error"]
    for reading in (r for r in readings if r.where == end.name):
        for row in rows:
            if abs((row.date - reading.date).days) <= limits["together"]:
                return row.mass / (1 + reading.value), limits["by_meter"]
    return None, limits["error"]


def _metered(reading: Reading, end: MarkedEnd | None, stack: Stack) -> Point | None:
    since = (end.cut if end else None) or stack.start
    if since is None or reading.date <= since:
        return None
    return Point(
        day=reading.date,
        moisture=reading.value,
        error=float(table("seasoning")["meter"]["inside"]),
        name=end.name if end else "meter",
        diameter=end.diameter if end else None,
        length=end.length if end else None,
        since=since,
    )
