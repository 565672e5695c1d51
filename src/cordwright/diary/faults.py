"""What can no record say? Faults of one record by field, before it is kept; nothing is clipped or turned round."""

import math
from collections.abc import Iterator
from dataclasses import fields
from datetime import date
from typing import Final

from cordwright.base import Problem
from cordwright.base.records import Laid, Said, Weather

EARLIEST: Final = date(1950, 1, 1)
LATEST: Final = date(2200, 1, 1)
LIMITS: Final[dict[tuple[str, str], tuple[float, float, str]]] = {
    ("laid", "area"): (0.0, 50.0, "m2"),
    ("laid", "hours"): (0.0, 24.0, "h"),
    ("laid", "people"): (1.0, 50.0, "people"),
    ("batches", "count"): (0.0, 500.0, "batches"),
    ("weather", "low"): (-60.0, 60.0, "degC"),
    ("weather", "high"): (-60.0, 60.0, "degC"),
    ("weather", "rain"): (0.0, 1.0, "m"),
    ("weather", "lost"): (0.0, 24.0, "h"),
    ("moisture", "share"): (0.0, 2.5, "of its dry weight"),
    ("moisture", "temperature"): (-60.0, 60.0, "degC"),
    ("weighing", "mass"): (0.0, 500.0, "kg"),
    ("crack", "width"): (0.0, 0.1, "m"),
    ("spent", "amount"): (0.0, 1e9, ""),
    ("hours", "hours"): (0.0, 24.0, "h"),
    ("hours", "people"): (1.0, 50.0, "people"),
}
"""What a record of one day can hold, least and most: beyond it a finger slipped."""
NEEDED: Final[dict[str, tuple[str, ...]]] = {
    "weighing": ("end",),
    "crack": ("place",),
    "hours": ("trade",),
    "note": ("words",),
    "photo": ("path", "digest"),
}
LONGEST: Final = 4000
MOST_MARKS: Final = 2000


def record_faults(kind: str, said: Said) -> Iterator[Problem]:
    """Faults of what one record says.

    Args:
        kind: the word it is kept under.
        said: the record.
    """
    for field in fields(said):
        value = getattr(said, field.name)
        if isinstance(value, float | int):
            yield from _number_faults(kind, field.name, float(value))
        elif isinstance(value, str):
            yield from _word_faults(kind, field.name, value)
    if isinstance(said, Laid):
        yield from _laid_faults(said)
    elif isinstance(said, Weather):
        yield from _weather_faults(said)


def _number_faults(kind: str, name: str, value: float) -> Iterator[Problem]:
    least, most, unit = LIMITS[kind, name]
    if not math.isfinite(value) or not least <= value <= most:
        message = f"{value:g} {unit}".strip() + " is nothing a day brings"
        yield Problem(field=name, message=message, hint=f"from {least:g} to {most:g} {unit}".strip())


def _word_faults(kind: str, name: str, value: str) -> Iterator[Problem]:
    if len(value) > LONGEST:
        yield Problem(field=name, message=f"{len(value)} characters", hint=f"at most {LONGEST} are kept")
    if not value.strip() and name in NEEDED.get(kind, ()):
        yield Problem(field=name, message="this is empty", hint="write it")


def _laid_faults(said: Laid) -> Iterator[Problem]:
    if said.area is None and not said.logs:
        hint = 'write the face, "0.62 m2", or name the log ends with --logs'
        yield Problem(field="area", message="neither an area nor log ends are said", hint=hint)
    if len(said.logs) > MOST_MARKS:
        yield Problem(field="logs", message=f"{len(said.logs)} marks", hint=f"at most {MOST_MARKS} in one record")
    twice = sorted({mark for mark in said.logs if said.logs.count(mark) > 1})[:5]
    if twice:
        yield Problem(field="logs", message=f"{', '.join(twice)} stand there twice", hint="name each once")
    if said.hours == 0:
        yield Problem(field="hours", message="nothing is laid in no time", hint="leave it out when you do not know")


def _weather_faults(said: Weather) -> Iterator[Problem]:
    if (said.low, said.high, said.rain, said.sky, said.lost) == (None, None, None, None, None):
        hint = 'write some of --low "2 degC" --high "11 degC" --rain "4 mm" --sky dry --lost "2 h"'
        yield Problem(field="weather", message="nothing is said", hint=hint)
    if said.low is not None and said.high is not None and said.low > said.high:
        message = f"low {said.low:g} degC is over high {said.high:g} degC"
        yield Problem(field="low", message=message, hint="exchange them")


def day_faults(day: date) -> Iterator[Problem]:
    """Faults of the day of work."""
    if not EARLIEST <= day <= LATEST:
        yield Problem(field="on", message=f"{day.isoformat()} is no day of this building", hint="look at the year")
