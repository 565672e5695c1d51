"""How does the owner say what is to be otherwise, and which case comes of it?

Nothing is written: a change is made in the bytes of building.toml as they were read, and those are read again by the
same reader, so that every fault of a variant is a problem like any other.
"""

import re
import tomllib
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal, InvalidOperation
from pathlib import Path
from typing import Any, Final

from cordwright.base import InputError, Problem
from cordwright.case import Project
from cordwright.project.changing import BOM, changed_content, steps
from cordwright.project.faults import FieldFault, shown
from cordwright.project.lines import lines_of
from cordwright.project.reading import Reading, building_file, read_content
from cordwright.project.texts import read_bytes

MOST_POINTS: Final = 500
"""Of one axis of a sweep."""
OWNERS_NAMES: Final = {
    "plan.section.": "wall.",
    "plan.openings[": "openings[",
    "plan.sleeves[": "sleeves[",
    "plan.posts[": "posts[",
    "plan.roof.": "roof.",
    "plan.plinth_": "plinth.",
    "plan.frame.": "frame.",
    "timber.species[": "species[",
    "timber.seasoning.": "seasoning.",
    "timber.treatment.": "treatment.",
    "mortar.sands[": "sands[",
    "mortar.": "mix.",
    "cost.rows[": "prices.csv [",
    "timber.stems[": "stems.csv [",
    "timber.": "stock.",
}
"""How the owner's file names what the case holds elsewhere."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """One key of building.toml and the value it is to have, as typed."""

    key: str
    text: str

    def __str__(self) -> str:
        return f"{self.key}={self.text}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Variant:
    """A building made otherwise: its name, what is changed, and its case; None when the problems hold an error."""

    name: str
    changes: tuple[Change, ...]
    project: Project | None
    problems: tuple[Problem, ...]


def parse_change(text: str) -> Change:
    """Read `KEY=VALUE`.

    Raises:
        InputError: it is none.
    """
    key, equals, value = text.partition("=")
    if not equals or not key.strip() or not value.strip():
        raise InputError(f'{text.strip()!r} is not KEY=VALUE; write for example wall.bead="90 mm"')
    return Change(key=key.strip(), text=value.strip().strip("\"'"))


def parse_with(text: str) -> tuple[str, tuple[Change, ...]]:
    """Read `[NAME:] KEY=VALUE [; KEY=VALUE]`: a variant's name, its changes if none is given, and what it changes.

    Raises:
        InputError: something in it is no KEY=VALUE.
    """
    named = re.match(r"\s*([^=;]+?)\s*:\s+(?=\S)", text)
    rest = text[named.end() :] if named else text
    changes = tuple(parse_change(part) for part in rest.split(";") if part.strip())
    if not changes:
        raise InputError(f'{text!r} changes nothing; write for example --with "wall.bead=90 mm"')
    return (named[1] if named else "; ".join(map(str, changes))), changes


def parse_axis(text: str) -> tuple[str, tuple[str, ...]]:
    """Read `KEY=FIRST..LAST UNIT by STEP UNIT`, or `KEY=VALUE | VALUE | ...`: an axis of a sweep and its values.

    Raises:
        InputError: neither, a step that leads nowhere, or more values than anybody wants.
    """
    change = parse_change(text)
    span = re.fullmatch(r"(\S+?)\.\.(\S+)\s*(.*?)\s+by\s+(\S+)\s*(.*)", change.text)
    if not span:
        values = tuple(part.strip() for part in change.text.split("|") if part.strip())
        if not values:
            raise InputError(f'{text!r} names no value; write for example "wall.bead=80 mm | 100 mm"')
        return change.key, values
    first, last, unit, step, step_unit = span.groups()
    if step_unit.strip() not in ("", unit):
        raise InputError(
            f"{change.text!r}: the step is in {step_unit.strip()!r} and the span in {unit!r}; write one unit"
        )
    return change.key, tuple(f"{value:f} {unit}".strip() for value in _span(change.text, first, last, step))


def _span(text: str, first: str, last: str, step: str) -> Iterator[Decimal]:
    try:
        at, end, by = (Decimal(part.replace(",", ".")) for part in (first, last, step))
    except InvalidOperation:
        raise InputError(f'{text!r} is no span; write for example "80..120 mm by 10 mm"') from None
    if not by or not all(map(Decimal.is_finite, (at, end, by))) or (end - at) / by < 0:
        raise InputError(f"{text!r}: the step {step} does not lead from {first} to {last}")
    if (end - at) / by >= MOST_POINTS:
        raise InputError(f"{text!r} has more than {MOST_POINTS} values; take a larger step")
    while (end - at) / by >= 0:
        yield at
        at += by


class VariantReader:
    """Reads variants of one project; building.toml itself is read once and never written.

    Args:
        path: the project's folder, or its building.toml.
    """

    def __init__(self, path: Path) -> None:
        self._file = building_file(path)
        content = read_bytes(self._file)
        if isinstance(content, tuple):
            raise InputError(f"{self._file}: {content[0]}; {content[1]}")
        self._content = content
        self.reading: Reading = read_content(self._file, content)

    def read(self, name: str, changes: Sequence[Change]) -> Variant:
        """Give the building with these changes; problems that it shares with the building as it stands are left out."""
        try:
            content = self.content_with(changes)
        except FieldFault as fault:
            problem = Problem(field=name, message=fault.message, hint=fault.hint, where=str(self._file))
            return Variant(name=name, changes=tuple(changes), project=None, problems=(problem,))
        reading = read_content(self._file, content)
        known = {(p.field, p.message) for p in self.reading.problems}
        new = (p for p in reading.problems if (p.field, p.message) not in known)
        return Variant(
            name=name,
            changes=tuple(changes),
            project=reading.project,
            problems=tuple(replace(p, message=f"in {shown(name)}: {p.message}") for p in new),
        )

    def content_with(self, changes: Sequence[Change]) -> bytes:
        """The bytes of building.toml with these changes; comments and all other lines as they are.

        Raises:
            FieldFault: a key that can stand nowhere in it, or a value that cannot be read.
        """
        content, lines = self._content, self.reading.lines
        for change in changes:
            stands = change.key in lines
            content = changed_content(content, change.key, change.text, lines) if stands else _added(content, change)
            lines = lines_of(content.removeprefix(BOM).decode("utf-8"))
        return content


def _added(content: bytes, change: Change) -> bytes:
    """The bytes with a key that was left out so far, written at the end of its table.

    Raises:
        FieldFault: no key path, or the table does not stand in the file.
    """
    import tomlkit

    mark = BOM if content.startswith(BOM) else b""
    document = tomlkit.parse(content.removeprefix(BOM).decode("utf-8"))
    *above, last = steps(change.key)
    holder: Any = document
    try:
        for step in above:
            holder = holder[step]
    except (KeyError, IndexError, TypeError):
        holder = None
    if not above or not isinstance(holder, dict) or not isinstance(last, str):
        raise FieldFault(
            f"there is no key {shown(change.key)} in the file and no table to write it in",
            "name a key as it stands in building.toml, or begin its table there",
        )
    holder[last] = _typed(change.text)
    return mark + document.as_string().encode("utf-8")


def _typed(text: str) -> Any:
    """A truth, a date or a list as TOML has them; anything else is text, as lengths and names are."""
    try:
        value = tomllib.loads(f"value = {text}")["value"]
    except (tomllib.TOMLDecodeError, ValueError, RecursionError):
        return text
    return text if isinstance(value, str) else value


def owners_name(path: str) -> str:
    """A number of the case by the key of the owner's file.

    Args:
        path: as `drivers.Lever` has it.
    """
    for prefix, named in OWNERS_NAMES.items():
        if path.startswith(prefix):
            return named + path.removeprefix(prefix)
    return path
