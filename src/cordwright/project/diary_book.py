"""How does a record come into the diary, get mended, and come out again? The diary of one project's folder.

Writing needs the folder alone: a fault in building.toml never stands between the owner and what they saw today.
"""

import uuid
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Final

from cordwright.base import CordwrightError, InputError, Problem, Records
from cordwright.base.records import Said
from cordwright.project.diary_lines import (
    SHORT,
    Act,
    Draft,
    Line,
    ids_beginning,
    read_said,
    records_of,
    roots,
    said_json,
    standing_lines,
)
from cordwright.project.diary_store import append, diary_file, read_lines

LEAST_LETTERS: Final = 4


@dataclass(frozen=True, slots=True, kw_only=True)
class Hand:
    """Who writes, at what, and when: the time of writing is the clock's, the day of work the owner's."""

    made: datetime
    who: str = ""
    source: str = "cli"
    device: str = ""


def folder_of(path: Path) -> Path:
    """The project's folder, from it or from its building.toml.

    Raises:
        CordwrightError: there is no such folder.
    """
    folder = path if path.is_dir() else path.parent
    if not folder.is_dir() or not (path.is_dir() or path.exists()):
        raise CordwrightError(f"there is no project at {path}; name its folder or its building.toml")
    return folder


def diary_lines(path: Path) -> tuple[Line, ...]:
    """All lines of a project's diary, oldest first.

    Raises:
        CordwrightError: the diary is damaged, of a newer release, or held by another process.
    """
    return read_lines(diary_file(folder_of(path)))


def diary_of(path: Path) -> Records:
    """The records of a project as they stand; none where nothing was written down yet.

    Raises:
        CordwrightError: the diary is damaged, of a newer release, or held by another process.
    """
    return records_of(diary_lines(path))


def draft(kind: str, said: Said, day: date, hand: Hand, *, typed: str = "", act: Act = "record", of: str = "") -> Draft:
    """A line ready to be kept, with an id of its own.

    Args:
        kind: the word it is kept under.
        said: what it says.
        day: the day of work.
        hand: who writes it.
        typed: the owner's own words.
        act: what the line does.
        of: the line it corrects or withdraws.
    """
    return Draft(
        id=uuid.uuid4().hex,
        act=act,
        of=of,
        kind=kind,
        day=day.isoformat(),
        made=stamp(hand.made),
        who=hand.who,
        source=hand.source,
        device=hand.device,
        said=said_json(said),
        typed=typed,
    )


def stamp(moment: datetime) -> str:
    """A moment as it is kept: in UTC, to the second."""
    return moment.astimezone(UTC).isoformat(timespec="seconds")


def keep(path: Path, drafts: Sequence[Draft]) -> tuple[Line, ...]:
    """Keep lines in a project's diary, all or none; when this returns they are on the disk.

    Raises:
        CordwrightError: the diary cannot be written; nothing was.
    """
    return append(diary_file(folder_of(path)), drafts)


def find_line(lines: Sequence[Line], start: str) -> tuple[str, Line]:
    """The record whose id begins with some letters: its id, and the line that tells it as it stands or last stood.

    Raises:
        InputError: none, or more than one, or too few letters.
    """
    if len(start) < LEAST_LETTERS:
        raise InputError(f"{start!r} is too short to tell records apart; write at least {LEAST_LETTERS} letters")
    root = roots(lines)
    found = sorted({root[id_] for id_ in ids_beginning(lines, start)})
    if not found:
        raise InputError(f"no record's id begins with {start!r}; `cordwright diary FILE show` lists them")
    if len(found) > 1:
        names = ", ".join(id_[: SHORT + 4] for id_ in found[:5])
        raise InputError(f"{len(found)} records begin with {start!r}: {names}; write more letters")
    standing = standing_lines(lines)
    if found[0] in standing:
        return found[0], standing[found[0]]
    last = [line for line in lines if root[line.id] == found[0] and line.act != "withdrawal"][-1]
    return found[0], last


def correction(line: Line, changes: Mapping[str, str], hand: Hand) -> Draft | tuple[Problem, ...]:
    """A line that corrects another: named fields change, all others stay; a withdrawn record stands again.

    Args:
        line: the record as it stands, or as it was when it was withdrawn.
        changes: words by field; `on` changes the day.
        hand: who writes it.
    """
    from cordwright.project.diary_words import changed, read_day

    told = dict(changes)
    day: date | tuple[Problem, ...] = date.fromisoformat(line.day)
    if "on" in told:
        day = read_day(told.pop("on"))
    said = changed(line.kind, read_said(line.kind, line.said), told)
    faults = tuple(p for part in (day, said) if isinstance(part, tuple) for p in part)
    if isinstance(day, tuple) or isinstance(said, tuple):
        return faults
    typed = " ".join(f"{name}={words}" for name, words in changes.items())
    return draft(line.kind, said, day, hand, typed=typed, act="correction", of=line.id)


def withdrawal(line: Line, because: str, hand: Hand) -> Draft:
    """A line that withdraws a record; it stays in the history.

    Args:
        line: the record as it stands.
        because: the owner's reason.
        hand: who writes it.
    """
    said, day = read_said(line.kind, line.said), date.fromisoformat(line.day)
    return draft(line.kind, said, day, hand, typed=because, act="withdrawal", of=line.id)
