"""How do the entries of the phone come home, each once?

The file is what the pocket page saves, or the same text pasted. One entry of the phone is a day: it becomes a record
for each thing it says, with ids made of its own, so that taking the same file again adds nothing. An entry that
corrects or takes back an earlier one of the phone does so here too. What cannot be taken is named, and taken once it
is mended.
"""

import hashlib
import json
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime
from typing import Any, Final, TypeGuard

from cordwright.base import Problem
from cordwright.base.records import Said
from cordwright.project.diary_book import Hand, draft
from cordwright.project.diary_lines import Draft, Line, read_said
from cordwright.project.diary_phone import told_in
from cordwright.project.diary_words import checked, read_day
from cordwright.project.faults import shown

KIND: Final = "cordwright-diary"
SCHEMA: Final = 1
LARGEST: Final = 20_000_000
MOST_ENTRIES: Final = 20_000
PHONE: Final = "phone"
LONGEST_ID: Final = 200
ENTRY: Final = slice(12, 24)
"""Where the letters that name the entry stand in a record's id; those of the slot come after."""
Slots = dict[str, tuple[str, Said]]
"""By slot of a phone's entry (`laid`, `moisture-2`): the kind and what is said."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Taken:
    """What a file of entries gives: lines to keep, faults, how many entries were here already, what else to say.

    `entries`: how many entries of the phone the lines come from.
    """

    drafts: tuple[Draft, ...]
    problems: tuple[Problem, ...]
    known: int
    entries: int
    words: tuple[str, ...]


def record_id(entry: str, slot: str = "") -> str:
    """The id of the record that one thing of a phone's entry becomes, the same every time.

    Its middle letters name the entry, its last ones the slot, its first ones both, so that short ids differ.
    """
    both, first, last = (hashlib.sha256(words.encode()).hexdigest() for words in (f"{entry}\n{slot}", entry, slot))
    return both[: ENTRY.start] + first[:12] + last[:8]


def take(
    text: str, lines: Sequence[Line], hand: Hand, *, where: str, project: str | None, renamed: bool = False
) -> Taken:
    """Read what a phone saved.

    Args:
        text: the file's or pasted text.
        lines: what stands in the diary.
        hand: who takes it home, and when.
        where: what messages name as the place.
        project: the name of the building at hand, None where it cannot be read.
        renamed: take entries of another name too.
    """
    content = _content(text, where)
    if isinstance(content, Problem):
        return _refused(content)
    stranger = _stranger(content, project, where) if project is not None and not renamed else None
    if stranger:
        return _refused(stranger)
    taker = _Taker(lines=lines, hand=hand, where=where)
    for n, entry in enumerate(content["entries"], start=1):
        taker.take(n, entry)
    return Taken(
        drafts=tuple(taker.drafts),
        problems=tuple(taker.problems),
        known=taker.known,
        entries=taker.entries,
        words=tuple(_words(content)),
    )


def _refused(problem: Problem) -> Taken:
    return Taken(drafts=(), problems=(problem,), known=0, entries=0, words=())


def _problem(where: str, field: str, message: str, hint: str) -> Problem:
    return Problem(field=field, message=message, hint=hint, where=where)


def _content(text: str, where: str) -> dict[str, Any] | Problem:
    """The file's content, once it is what a pocket page saves."""
    again = "save the entries on the phone again, or copy them as text, and take the whole of it"
    if len(text) > LARGEST:
        return _problem(where, "entries", f"the text has {len(text)} characters", again)
    try:
        content = json.loads(text.strip().removeprefix("\ufeff"))
    except (ValueError, RecursionError):
        return _problem(where, "entries", "this is not what the pocket page saves, or a part of it is missing", again)
    if not isinstance(content, dict) or content.get("kind") != KIND:
        return _problem(where, "kind", "these are no entries of a pocket page", again)
    if content.get("schema") != SCHEMA:
        words = f"the entries are of form {shown(content.get('schema'))}, this release knows {SCHEMA}"
        return _problem(where, "schema", words, "make the book anew, or install the release that made that page")
    if not isinstance(content.get("entries"), list) or len(content["entries"]) > MOST_ENTRIES:
        return _problem(where, "entries", "there is no list of entries", again)
    return content


def _stranger(content: Mapping[str, Any], project: str, where: str) -> Problem | None:
    theirs = content.get("project")
    if theirs == project:
        return None
    message = f"the entries are of {shown(theirs)}, this project is {shown(project)}"
    return _problem(where, "project", message, "take them into the other project, or say --renamed if it is this one")


def _words(content: Mapping[str, Any]) -> Iterator[str]:
    """Log ends that are marked as laid on the phone and belong to no day kept there yet."""
    laid = content.get("laid")
    told = {m for e in content["entries"] if isinstance(e, dict) for m in _list(e.get("logs")) if isinstance(m, str)}
    waiting = [mark for mark in laid if mark not in told] if isinstance(laid, dict) else []
    if waiting:
        yield f"{len(waiting)} log ends are marked as laid on the phone but in no day kept there: keep that day"


def _list(value: object) -> list[Any]:
    return value if isinstance(value, list) else []


class _Taker:
    """Takes entries one after another; what a later one corrects may have come just before it."""

    def __init__(self, *, lines: Sequence[Line], hand: Hand, where: str) -> None:
        self.hand, self.where = hand, where
        self.lines: dict[str, Draft] = {line.id: line for line in lines}
        self.begun = {line.id[ENTRY] for line in lines}
        self.drafts: list[Draft] = []
        self.problems: list[Problem] = []
        self.known = self.entries = 0

    def take(self, n: int, entry: object) -> None:
        """Take one entry whole, or note why not."""
        place = f"entries[{n}]"
        if not isinstance(entry, dict) or not _is_id(entry.get("id")):
            self._note(place, "this entry has no id", "save the entries on the phone again")
        elif record_id(entry["id"])[ENTRY] in self.begun:
            self.known += 1
        else:
            before = len(self.problems)
            drafts = tuple(self._drafts(place, entry))
            if len(self.problems) == before:
                self._keep(entry["id"], drafts)

    def _keep(self, entry: str, drafts: Sequence[Draft]) -> None:
        self.entries += 1
        self.begun.add(record_id(entry)[ENTRY])
        self.lines |= {each.id: each for each in drafts}
        self.drafts += drafts

    def _note(self, field: str, message: str, hint: str) -> None:
        self.problems.append(_problem(self.where, field, message, hint))

    def _drafts(self, place: str, entry: dict[str, Any]) -> Iterator[Draft]:
        """All lines of one entry; those of the entry it corrects or takes back are corrected or withdrawn."""
        day = read_day(str(entry.get("date")), self.where)
        if isinstance(day, tuple):
            self.problems += [replace(p, field=f"{place}.date") for p in day]
            return
        of = entry.get("withdraws") or entry.get("corrects")
        slots = {} if entry.get("withdraws") else self._slots(place, entry)
        hand = replace(self.hand, made=_made(entry, self.hand.made), source="pocket", device=PHONE)
        old = self._slots_of(of) if _is_id(of) else {}
        for slot, (kind, said) in slots.items():
            suffix = record_id(entry["id"], slot)[ENTRY.stop :]
            earlier = old.pop(suffix, "")
            made = draft(kind, said, day, hand, act="correction" if earlier else "record", of=earlier)
            yield replace(made, id=record_id(entry["id"], slot), who=_words_of(entry, "who") or hand.who)
        for suffix, earlier in old.items():
            if self.lines[earlier].act != "withdrawal":
                first = record_id(entry["id"], suffix)
                yield self._withdrawn(earlier, first[: ENTRY.stop] + suffix, hand)

    def _withdrawn(self, earlier: str, id_: str, hand: Hand) -> Draft:
        old = self.lines[earlier]
        day, said = date.fromisoformat(old.day), read_said(old.kind, old.said)
        made = draft(old.kind, said, day, hand, act="withdrawal", of=earlier)
        return replace(made, id=id_, who=old.who)

    def _slots_of(self, entry: str) -> dict[str, str]:
        """By the last letters of their ids, the lines of an earlier entry of the phone."""
        named = record_id(entry)[ENTRY]
        return {id_[ENTRY.stop :]: id_ for id_ in self.lines if id_[ENTRY] == named}

    def _slots(self, place: str, entry: dict[str, Any]) -> Slots:
        slots: Slots = {}
        for slot, kind, told in told_in(entry):
            said = checked(kind, told, self.where) if isinstance(told, Mapping) else told
            if isinstance(said, tuple):
                self.problems += [replace(p, field=f"{place}.{p.field}", where=self.where) for p in said]
            else:
                slots[slot] = (kind, said)
        return slots


def _is_id(value: object) -> TypeGuard[str]:
    return isinstance(value, str) and 0 < len(value) <= LONGEST_ID


def _made(entry: Mapping[str, Any], otherwise: datetime) -> datetime:
    """When the phone made the entry, by its own clock; the time of taking where that cannot be read."""
    try:
        moment = datetime.fromisoformat(str(entry.get("made")))
    except ValueError:
        return otherwise
    return moment if moment.tzinfo is not None else moment.replace(tzinfo=UTC)


def _words_of(entry: Mapping[str, Any], name: str) -> str:
    value = entry.get(name)
    return value if isinstance(value, str) else ""
