"""What may stand under [season] in building.toml? Days of the week, hours, pace, helpers, the owner's own tasks."""

from typing import Annotated, Any, Final, Literal

from pydantic import PlainValidator

from cordwright.project.faults import FieldFault, nearest, shown
from cordwright.project.fields import Date, Name, Reader, Share, Text, Time, choice, number
from cordwright.project.quantity import parse_quantity
from cordwright.project.schema import Table
from cordwright.season.inputs import STRATEGIES, WEEK

PACE_FORMS: Final = 'write the face laid and the time it takes: "0.9 m2/day", "26 ft2/day" or "0.13 m2/h"'
DAY_FORMS: Final = 'name the days of the week in a list: ["Thu", "Fri", "Sat", "Sun"]'
TIMES: Final = {"day": "day", "d": "day", "h": "h", "hour": "h"}
"""How the time of a pace is written, and what it means: a working day or an hour."""


def read_pace(value: object) -> tuple[float, str]:
    """Face laid [m2], and whether in a working "day" or in an "h".

    Raises:
        FieldFault: it is no pace.
    """
    face, slash, time = value.rpartition("/") if isinstance(value, str) else ("", "", "")
    if not slash or time.strip() not in TIMES:
        raise FieldFault(f"{shown(value)} is no pace", PACE_FORMS)
    return parse_quantity(face.strip(), "area", "positive"), TIMES[time.strip()]


def _read_spread(value: object) -> tuple[float, str]:
    """A spread of the pace: it may be nothing."""
    face, slash, time = value.rpartition("/") if isinstance(value, str) else ("", "", "")
    if not slash or time.strip() not in TIMES:
        raise FieldFault(f"{shown(value)} is no spread of a pace", PACE_FORMS)
    return parse_quantity(face.strip(), "area"), TIMES[time.strip()]


def _read_days(value: object) -> tuple[int, ...]:
    if not isinstance(value, list):
        raise FieldFault(f"{shown(value)} is no list of days", DAY_FORMS)
    found: set[int] = set()
    for name in value:
        if not isinstance(name, str) or name.strip()[:3].title() not in WEEK or len(name.strip()) < 3:
            raise FieldFault(f"{shown(name)} is no day of the week", nearest(str(name), WEEK))
        found.add(WEEK.index(name.strip()[:3].title()))
    return tuple(sorted(found))


def _read_factor(value: object) -> float:
    forms = "write a number from 0 (nobody works) up, such as 1.8: what all do over what you do alone"
    if isinstance(value, bool) or not isinstance(value, int | float) or not 0 <= value <= 100:
        raise FieldFault(f"{shown(value)} is no factor that makes sense here", forms)
    return float(value)


Pace = Annotated[Any, PlainValidator(Reader(PACE_FORMS, read_pace))]
Spread = Annotated[Any, PlainValidator(Reader(PACE_FORMS, _read_spread))]
WeekDays = Annotated[tuple[int, ...], PlainValidator(Reader(DAY_FORMS, _read_days))]
Factor = Annotated[float, PlainValidator(Reader("write a number, such as 1.8", _read_factor))]


class HelpersTable(Table):
    """[[season.helpers]]: days on which other hands help; a factor of 0 means that nobody works."""

    start: Date
    end: Date
    factor: Factor


class TaskTable(Table):
    """[[season.tasks]]: own hours or days for a task of the plan, or a task of the owner's own."""

    task: Name
    least: Time | None = None
    likely: Time | None = None
    most: Time | None = None
    after: tuple[Name, ...] = ()
    before: tuple[Name, ...] = ()
    weather: Text = ""
    wait: Time | None = None
    earliest: Date | None = None
    done: Share = 0.0


class SeasonTable(Table):
    """[season]: when there is time for the work and how fast it goes."""

    start: Date | None = None
    stop: Date | None = None
    strategy: Annotated[Literal["roof first", "walls first, tarpaulin", "walls first, bare"], choice(*STRATEGIES)] = (
        "roof first"
    )
    days: WeekDays | None = None
    hours: Time | None = None
    people: Annotated[float, number(0.0, 20.0, "1 or 2")] = 1.0
    pace: Pace | None = None
    pace_spread: Spread | None = None
    learning: Share | None = None
    rain: Annotated[Literal["partial day", "whole day"], choice("partial day", "whole day")] = "partial day"
    helpers: tuple[HelpersTable, ...] = ()
    tasks: tuple[TaskTable, ...] = ()
