"""What does one entry of the phone say? Its documented form, field by field, in SI (docs/guide.md tells the form)."""

import math
from collections.abc import Iterator, Mapping
from typing import Any, Final, get_args

from cordwright.base import Problem
from cordwright.base.records import Covering, Sky
from cordwright.diary.days import LAYING
from cordwright.project.faults import nearest, shown

Told = tuple[str, str, Mapping[str, Any] | tuple[Problem, ...]]
"""Slot, kind, and the values in SI or what is wrong with them."""
NUMBERS: Final[Mapping[str, float]] = {
    "area_m2": 1.0,
    "batches": 1.0,
    "hours": 1.0,
    "people": 1.0,
    "low_degC": 1.0,
    "high_degC": 1.0,
    "rain_mm": 1e-3,
    "lost_h": 1.0,
    "wood_degC": 1.0,
    "crack_mm": 1e-3,
    "mass_kg": 1.0,
    "spent": 1.0,
}
"""Numbers of an entry and what one of them is in SI."""
TEXTS: Final = ("panel", "note", "trade", "crack_at", "end", "spent_on", "currency", "who")
CHOICES: Final[Mapping[str, tuple[str, ...]]] = {"sky": get_args(Sky), "cover": get_args(Covering)}


def told_in(entry: Mapping[str, Any]) -> Iterator[Told]:
    """Each thing that an entry says: its slot, the kind of record it becomes, its values.

    Args:
        entry: one entry as the phone saved it; what is null, empty or absent is unknown.
    """
    values, problems = _values(entry)
    if problems:
        yield "", "note", tuple(problems)
        return
    yield from _work(values)
    yield from _weather(values)
    yield from _measures(values)
    for n, reading in enumerate(values["moisture"], start=1):
        yield f"moisture-{n}", "moisture", {**reading, **_known(temperature=values.get("wood_degC"))}
    if "note" in values:
        yield "note", "note", {"words": values["note"]}


def _work(values: Mapping[str, Any]) -> Iterator[Told]:
    """Wall laid, hours, batches and cover; hours belong to the wall laid unless another trade is named."""
    place, people = _known(panel=values.get("panel")), _people(values)
    hours, trade = values.get("hours"), values.get("trade", LAYING)
    laid = "area_m2" in values or values["logs"]
    if laid:
        told = _known(area=values.get("area_m2"), logs=values["logs"] or None)
        worked = _known(hours=hours) if trade == LAYING else {}
        yield "laid", "laid", {**told, **place, **worked, **(people if trade == LAYING else {})}
    if hours is not None and not (laid and trade == LAYING):
        yield "hours", "hours", {"trade": trade, "hours": hours, **people}
    if values.get("batches"):
        yield "batches", "batches", {"count": values["batches"], **place}
    if "cover" in values:
        yield "cover", "cover", {"covering": values["cover"], **place}


def _people(values: Mapping[str, Any]) -> dict[str, int]:
    return {"people": int(values["people"])} if "people" in values else {}


def _weather(values: Mapping[str, Any]) -> Iterator[Told]:
    told = _known(
        low=values.get("low_degC"),
        high=values.get("high_degC"),
        rain=values.get("rain_mm"),
        sky=values.get("sky"),
        lost=values.get("lost_h"),
    )
    if told:
        yield "weather", "weather", told


def _measures(values: Mapping[str, Any]) -> Iterator[Told]:
    """A crack, a test end, money: each with the name it needs."""
    if "crack_mm" in values or "crack_at" in values:
        yield "crack", "crack", _known(place=values.get("crack_at"), width=values.get("crack_mm"))
    if "mass_kg" in values or "end" in values:
        yield "weighing", "weighing", _known(end=values.get("end"), mass=values.get("mass_kg"))
    if "spent" in values:
        told = _known(amount=values["spent"], currency=values.get("currency"), what=values.get("spent_on"))
        yield "spent", "spent", told


def _known(**values: object) -> dict[str, Any]:
    return {name: value for name, value in values.items() if value is not None}


def _values(entry: Mapping[str, Any]) -> tuple[dict[str, Any], list[Problem]]:
    """The entry's fields in SI, blanks left out, and what is wrong with the others."""
    values: dict[str, Any] = {}
    problems: list[Problem] = []
    for name, value in entry.items():
        if value is None or value in ("", []):
            continue
        fault = _fault(name, value)
        if fault:
            problems.append(Problem(field=name, message=fault[0], hint=fault[1]))
        elif name in NUMBERS:
            values[name] = value * NUMBERS[name]
        elif name in CHOICES or name in TEXTS:
            values[name] = value
    values["logs"] = tuple(_strings(entry.get("logs")))
    values["moisture"], moisture_problems = _moisture(entry)
    return values, [*problems, *moisture_problems]


def _fault(name: str, value: object) -> tuple[str, str] | None:
    if name in NUMBERS and not _is_number(value):
        return f"{shown(value)} is no number", "mend it on the phone and save again"
    if name == "people" and value != int(value):  # type: ignore[call-overload]
        return f"{shown(value)} is no number of people", "write a whole number"
    if name in TEXTS and not isinstance(value, str):
        return f"{shown(value)} is no text", "mend it on the phone and save again"
    if name in CHOICES and value not in CHOICES[name]:
        return f"{shown(value)} is none of the words known here", nearest(str(value), CHOICES[name])
    if name == "logs" and (not isinstance(value, list) or not all(isinstance(m, str) for m in value)):
        return "this is no list of marks", "save the entries on the phone again"
    return None


def _is_number(value: object) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool) and math.isfinite(value)


def _strings(value: object) -> list[str]:
    return [item for item in value if isinstance(item, str)] if isinstance(value, list) else []


def _moisture(entry: Mapping[str, Any]) -> tuple[list[dict[str, Any]], list[Problem]]:
    """Readings in per cent, each with its mark where one was named."""
    shares, marks = entry.get("moisture_percent") or [], entry.get("moisture_logs") or []
    if not isinstance(shares, list) or not all(_is_number(share) for share in shares) or not isinstance(marks, list):
        hint = "mend it on the phone and save again"
        return [], [Problem(field="moisture_percent", message="this is no list of numbers", hint=hint)]
    named = [mark if isinstance(mark, str) else "" for mark in marks]
    named += [""] * (len(shares) - len(named))
    pairs = zip(shares, named, strict=False)
    return [{"share": share / 100, **_known(log=mark or None)} for share, mark in pairs], []
