"""Which sheets does the builder want alone? By the mark in the big box, or the sheet's name in the address."""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from difflib import get_close_matches

from cordwright.base import Problem
from cordwright.book.content import Book, Sheet


def find_unknown(book: Book, names: Sequence[str]) -> tuple[Problem, ...]:
    """A problem for every name that no sheet of this book answers to; `field` is the name's place among those asked."""
    return tuple(
        Problem(
            where="--only",
            line=1,
            field=f"sheets[{n}]",
            message=f"this book has no sheet {name!r}{_nearest(book, name)}",
            hint=f"the sheets are {', '.join(dict.fromkeys(sheet.mark for sheet in book.sheets))}",
        )
        for n, name in enumerate(names)
        if not any(_answers(sheet, name) for sheet in book.sheets)
    )


def only_sheets(book: Book, names: Iterable[str]) -> Book:
    """The same book with the named sheets alone, in the order of the job."""
    wanted = tuple(names)
    return replace(book, sheets=tuple(s for s in book.sheets if any(_answers(s, name) for name in wanted)))


def _answers(sheet: Sheet, name: str) -> bool:
    return name.strip().casefold() in (sheet.mark.casefold(), sheet.slug.casefold())


def _nearest(book: Book, name: str) -> str:
    known = {word.casefold(): sheet.mark for sheet in book.sheets for word in (sheet.mark, sheet.slug, sheet.title)}
    near = get_close_matches(name.strip().casefold(), known, n=1)
    return f"; the nearest is {known[near[0]]}" if near else ""
