"""Lines of a diary made by hand, for the tests of its file, its taking home and its giving out."""

from dataclasses import fields
from datetime import UTC, date, datetime

from cordwright.base.records import Laid, Note
from cordwright.project.diary_book import Hand, draft
from cordwright.project.diary_lines import FIRST, Draft, Line, mark_of

MADE = datetime(2028, 5, 11, 18, tzinfo=UTC)
HAND = Hand(made=MADE, who="Aita")


def laid(area=0.62, day=date(2028, 5, 11), **more):
    return draft("laid", Laid(area=area, **more), day, HAND, typed=f"area={area} m2")


def note(words, day=date(2028, 5, 11)):
    return draft("note", Note(words=words), day, HAND)


def chained(drafts, before=()):
    """Drafts as lines after those that stand, as the file would keep them."""
    lines = list(before)
    for each in drafts:
        last = lines[-1].mark if lines else FIRST
        told = {f.name: getattr(each, f.name) for f in fields(Draft)}
        lines.append(Line(**told, n=len(lines) + 1, before=last, mark=mark_of(each, last)))
    return tuple(lines)
