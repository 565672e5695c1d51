"""What did the owner say in one record? Typed words become SI, field by field; nothing is guessed.

An amount carries its unit; where the field's own name is the unit (hours, people, batches) a bare number stands.
"""

import re
from collections.abc import Callable, Mapping
from dataclasses import fields, replace
from datetime import date
from typing import Any, Final, get_args

from cordwright.base import Problem
from cordwright.base.records import KINDS, Covering, Said, Sky
from cordwright.diary.faults import day_faults, record_faults
from cordwright.project.faults import FieldFault, nearest, shown
from cordwright.project.fields import read_money
from cordwright.project.months import read_clock, read_temperature
from cordwright.project.quantity import parse_quantity, parse_share, read_number

Reader = Callable[[str], object]
WHERE: Final = "command line"
HOUR_FORMS: Final = 'write hours: "6", "6 h" or "5 h 30 min"'


def _quantity(dimension: str) -> Reader:
    return lambda words: parse_quantity(words, dimension)


def _hours(words: str) -> float:
    """Hours by number or with a unit; the field's name is the unit of a bare number."""
    try:
        return float(read_number(words.strip()))
    except FieldFault:
        return parse_quantity(words, "time")


def _count(words: str) -> float:
    number = read_number(words.strip())
    return float(number)


def _people(words: str) -> int:
    if not re.fullmatch(r"[0-9]{1,3}", words.strip()):
        raise FieldFault(f"{shown(words)} is no number of people", "write a whole number: 2")
    return int(words)


def _share(words: str) -> float:
    if "%" not in words:
        raise FieldFault(f"{shown(words)} has no per cent sign", 'write per cent: "16 %"')
    return parse_share(words, most=2.5)


def _marks(words: str) -> tuple[str, ...]:
    """Marks of log ends between spaces, commas or semicolons."""
    return tuple(word for word in re.split(r"[\s,;]+", words) if word)


def _text(words: str) -> str:
    if any("\ud800" <= sign <= "\udfff" for sign in words):
        raise FieldFault(f"{shown(words)} holds bytes that are no text", "write it in UTF-8")
    return words


def _one_of(words: tuple[str, ...]) -> Reader:
    def read(typed: str) -> str:
        if typed.strip() not in words:
            raise FieldFault(f"{shown(typed)} is none of the words known here", nearest(typed, words))
        return typed.strip()

    return read


READERS: Final[Mapping[tuple[str, str], Reader]] = {
    ("laid", "area"): _quantity("area"),
    ("laid", "logs"): _marks,
    ("laid", "hours"): _hours,
    ("laid", "people"): _people,
    ("batches", "count"): _count,
    ("weather", "low"): read_temperature,
    ("weather", "high"): read_temperature,
    ("weather", "rain"): _quantity("length"),
    ("weather", "sky"): _one_of(get_args(Sky)),
    ("weather", "lost"): _hours,
    ("moisture", "share"): _share,
    ("moisture", "temperature"): read_temperature,
    ("weighing", "mass"): _quantity("mass"),
    ("crack", "width"): _quantity("length"),
    ("hours", "hours"): _hours,
    ("hours", "people"): _people,
    ("cover", "covering"): _one_of(get_args(Covering)),
}
"""How a field is read; every other one is the owner's own text."""


def _money(words: str) -> dict[str, object]:
    amount, currency = read_money(words)
    return {"amount": float(amount), "currency": currency}


def read_fields(kind: str, typed: Mapping[str, str], where: str = WHERE) -> tuple[dict[str, Any], list[Problem]]:
    """Read the fields of one record from the owner's words.

    Args:
        kind: the word it is kept under.
        typed: words by field; empty ones are unknown. `amount` of what was spent holds its currency too.
        where: what messages name as the place.
    """
    told: dict[str, Any] = {}
    problems: list[Problem] = []
    for name, words in typed.items():
        if not words.strip():
            continue
        try:
            _text(words)
            if (kind, name) == ("spent", "amount"):
                told |= _money(words)
            else:
                told[name] = READERS.get((kind, name), _text)(words)
        except FieldFault as fault:
            problems.append(Problem(field=name, message=fault.message, hint=fault.hint, where=where))
    return told, problems


def make_record(kind: str, typed: Mapping[str, str], where: str = WHERE) -> Said | tuple[Problem, ...]:
    """Read one record, or say what is wrong with it.

    Args:
        kind: the word it is kept under.
        typed: words by field; empty ones are unknown.
        where: what messages name as the place.
    """
    told, problems = read_fields(kind, typed, where)
    return tuple(problems) if problems else checked(kind, told, where)


def checked(kind: str, told: Mapping[str, Any], where: str = WHERE) -> Said | tuple[Problem, ...]:
    """Make one record of values in SI, or say what is wrong with it."""
    needed = [f.name for f in fields(KINDS[kind]) if f.name not in told and not _has_default(kind, f.name)]
    if needed:
        return tuple(Problem(field=name, message="this is missing", hint="write it", where=where) for name in needed)
    said = KINDS[kind](**told)
    faults = tuple(replace(fault, where=where) for fault in record_faults(kind, said))
    return faults or said


def _has_default(kind: str, name: str) -> bool:
    from dataclasses import MISSING

    return next(f for f in fields(KINDS[kind]) if f.name == name).default is not MISSING


def changed(kind: str, said: Said, changes: Mapping[str, str], where: str = WHERE) -> Said | tuple[Problem, ...]:
    """Change some fields of a record; an empty one becomes unknown, all others stay.

    Args:
        kind: the word it is kept under.
        said: the record as it stands.
        changes: words by field.
        where: what messages name as the place.
    """
    known = [f.name for f in fields(said)]
    strange = [name for name in changes if name not in known]
    if strange:
        words = [nearest(name, [*known, "on"]) for name in strange]
        pairs = zip(strange, words, strict=True)
        return tuple(
            Problem(field=name, message=f"a record of {kind} has no {name}", hint=hint, where=where)
            for name, hint in pairs
        )
    told, problems = read_fields(kind, changes, where)
    if problems:
        return tuple(problems)
    kept = {name: getattr(said, name) for name in known if name not in changes}
    return checked(kind, {**kept, **told}, where)


def read_day(words: str, where: str = WHERE) -> date | tuple[Problem, ...]:
    """Read a day of work, `2028-05-11`."""
    try:
        day = date.fromisoformat(words.strip())
    except ValueError:
        hint = "write year-month-day: 2028-05-11"
        return (Problem(field="on", message=f"{shown(words)} is no day", hint=hint, where=where),)
    return tuple(replace(fault, where=where) for fault in day_faults(day)) or day


def read_helper_day(hours: str, until: str, cover_up: str) -> dict[str, float] | tuple[Problem, ...]:
    """Read a day with helpers: hours each works [h], when all go home [h of day], time to cover up [h]."""
    readers: dict[str, tuple[str, Reader]] = {
        "hours": (hours, _hours),
        "until": (until, read_clock),
        "cover_up": (cover_up, _quantity("time")),
    }
    told: dict[str, float] = {}
    problems: list[Problem] = []
    for name, (words, read) in readers.items():
        try:
            if words:
                told[name] = float(read(words))  # type: ignore[arg-type]
        except FieldFault as fault:
            field = f"--{name.replace('_', '-')}"
            problems.append(Problem(field=field, message=fault.message, hint=fault.hint, where=WHERE))
    return tuple(problems) or told
