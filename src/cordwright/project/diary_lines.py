"""What stands in the diary, and was anything changed behind its back? Lines, their chain of hashes, what stands.

A line is never changed: a correction or a withdrawal is a new line that points at the old one. Each line carries the
hash of all it says and of the line before, so that a line changed, taken out or put in between shows. Only what a line
needs is imported here, so that a record is kept within the blink of an eye.
"""

import hashlib
import json
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import asdict, dataclass, fields
from datetime import date, datetime
from typing import Any, Final, Literal, cast

from cordwright.base.errors import DataError
from cordwright.base.records import KINDS, Entry, Records, Said, Source

Act = Literal["record", "correction", "withdrawal"]
FIRST: Final = "0" * 64
"""What the first line names as the line before."""
SHORT: Final = 8
"""Letters of an id that are shown."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Draft:
    """A line before it is kept.

    `of`: the id of the line that is corrected or withdrawn, empty for a record. `said`: what it says as JSON, SI;
    `typed`: the owner's own words.
    """

    id: str
    act: Act
    of: str
    kind: str
    day: str
    made: str
    who: str
    source: str
    device: str
    said: str
    typed: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Line(Draft):
    """A line as it is kept: its number from 1, the hash of the line before, and its own."""

    n: int
    before: str
    mark: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Broken:
    """Where the chain of hashes breaks: the number of the line, and in what way."""

    n: int
    words: str


def mark_of(draft: Draft, before: str) -> str:
    """The SHA-256 of a line and of the line before it.

    Args:
        draft: the line.
        before: the hash of the line before.
    """
    content = [before, *(getattr(draft, field.name) for field in fields(Draft))]
    return hashlib.sha256(json.dumps(content, ensure_ascii=True, separators=(",", ":")).encode()).hexdigest()


def chain_fault(lines: Sequence[Line]) -> Broken | None:
    """The first place where the chain breaks, None where it holds."""
    before = FIRST
    for expected, line in enumerate(lines, start=1):
        if line.n != expected:
            return Broken(n=expected, words="this line is missing")
        if line.before != before:
            return Broken(n=line.n, words="the line before it was changed, taken out or put in")
        if line.mark != mark_of(line, before):
            return Broken(n=line.n, words="this line was changed after it was kept")
        before = line.mark
    return None


def head_of(lines: Sequence[Line]) -> str:
    """The hash that stands for the whole diary."""
    return lines[-1].mark if lines else FIRST


def said_json(said: Said) -> str:
    """What a record says as JSON, blanks left out."""
    told = {name: value for name, value in asdict(said).items() if value not in (None, "", ())}
    return json.dumps(told, ensure_ascii=False, sort_keys=True, allow_nan=False)


def read_said(kind: str, text: str) -> Said:
    """What a kept line says.

    Raises:
        DataError: a kind or a field that this release does not know, or no JSON.
    """
    if kind not in KINDS:
        raise DataError(f"a line of the diary is of the kind {kind!r}, which this release does not know")
    try:
        told: Any = json.loads(text)
        if "logs" in told:
            told["logs"] = tuple(told["logs"])
        return KINDS[kind](**told)
    except (ValueError, TypeError, KeyError) as fault:
        raise DataError(f"a line of the diary cannot be read ({fault})") from None


def roots(lines: Iterable[Line]) -> Mapping[str, str]:
    """By the id of every line, the id of the record that it is about."""
    found: dict[str, str] = {}
    for line in lines:
        found[line.id] = found.get(line.of, line.of) if line.of else line.id
    return found


def standing_lines(lines: Sequence[Line]) -> Mapping[str, Line]:
    """By the id of each record, the line that tells it as it stands; what is withdrawn is left out."""
    root = roots(lines)
    standing: dict[str, Line] = {}
    for line in lines:
        if line.act == "withdrawal":
            standing.pop(root[line.id], None)
        else:
            standing[root[line.id]] = line
    return standing


def records_of(lines: Sequence[Line]) -> Records:
    """The records as they stand, by day of work and then as they were first made.

    Raises:
        DataError: a line that this release does not know.
    """
    order = {line.id: line.n for line in lines}
    entries = [(line.day, order[root], entry_of(line, root)) for root, line in standing_lines(lines).items()]
    return Records(entries=tuple(entry for _, _, entry in sorted(entries, key=lambda row: row[:2])))


def entry_of(line: Line, root: str) -> Entry:
    """One record as a line tells it, under the id of the record.

    Raises:
        DataError: a line that this release does not know.
    """
    try:
        day, made = date.fromisoformat(line.day), datetime.fromisoformat(line.made)
    except ValueError as fault:
        raise DataError(f"line {line.n} of the diary has no day that can be read ({fault})") from None
    return Entry(
        id=root,
        day=day,
        made=made,
        said=read_said(line.kind, line.said),
        who=line.who,
        source=cast(Source, line.source),
        device=line.device,
    )


def history_of(lines: Sequence[Line], id_: str) -> tuple[Line, ...]:
    """Every line about one record, oldest first."""
    root = roots(lines)
    return tuple(line for line in lines if root[line.id] == root.get(id_, id_))


def ids_beginning(lines: Iterable[Line], start: str) -> Iterator[str]:
    """Ids of lines that begin with some letters."""
    return (line.id for line in lines if line.id.startswith(start))
