"""How do the finished sheets come into the owner's folder? All at once: made beside it, then moved in."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import date
from pathlib import Path
from typing import Final

from cordwright.base import CordwrightError
from cordwright.book.assemble import assemble, slugs
from cordwright.book.calendar import to_calendar
from cordwright.book.companions import pictures_in, put_text, write_companions, write_drawings
from cordwright.book.content import Book
from cordwright.book.dxf import MARK as DXF_MARK
from cordwright.book.html_backend import set_page
from cordwright.book.lists import to_csv, write_workbook
from cordwright.book.moving import making, move_in
from cordwright.book.typst_backend import set_pdf
from cordwright.case import Project
from cordwright.reckon import Reckoning

Progress = Callable[[float, str], None]
HASH_SHOWN: Final = 12
MARKS: Final = {".svg": b'data-by="cordwright"', ".dxf": DXF_MARK.encode()}
"""How a drawing of ours is known from one that the owner put there."""
NAMES: Final = frozenset(
    (
        "book.pdf",
        "book.html",
        "order-list.xlsx",
        "order-list.csv",
        "season.ics",
        "building.glb",
        "labels.pdf",
        "pocket.html",
    )
)
"""Files of a book that are known by their names; single sheets begin with the word below."""
SINGLE: Final = "sheets-"
LAID: Final = "laid-"
"""Drawings that the layout was asked for by itself, and that no book makes again."""
LONGEST_NAME: Final = 50


def write_book(
    project: Project,
    reckoning: Reckoning,
    folder: Path,
    *,
    today: date,
    source_bytes_hash: str = "",
    progress: Progress | None = None,
) -> tuple[Path, ...]:
    """Write the build book and what goes beside it, all together or not at all.

    PDF, page, order lists, drawings as SVG and DXF, the building as GLB; of a laid wall labels and the pocket page.

    Raises:
        CordwrightError: the folder cannot be written, or a page could not be set; the folder is then as it was.
    """
    tell = progress or (lambda _share, _words: None)
    with _told(folder), making(folder) as beside:
        tell(0.05, "drawing the sheets")
        book = assemble(project, reckoning, today, source_bytes_hash[:HASH_SHOWN])
        made = tuple(_make(project, reckoning, book, beside, today=today, tell=tell))
        tell(0.95, "moving the book into place")
        move_in(made, folder, beside, is_ours)
    tell(1.0, "the book is written")
    return tuple(folder / path.name for path in made)


def write_sheets(book: Book, folder: Path, *, today: date, progress: Progress | None = None) -> Path:
    """Write the sheets of a book, chosen before, as one PDF named after them; nothing else in the folder is touched.

    Raises:
        CordwrightError: the folder cannot be written, or a page could not be set; the folder is then as it was.
    """
    tell = progress or (lambda _share, _words: None)
    named = "-".join(sheet.slug for sheet in book.sheets)
    with _told(folder), making(folder) as beside:
        tell(0.3, "setting the pages")
        made = _paper(book, beside, today)
        folder.mkdir(exist_ok=True)
        path = folder / f"{SINGLE}{named[:LONGEST_NAME].rstrip('-')}.pdf"
        made.replace(path)
    tell(1.0, "the sheets are written")
    return path


@contextmanager
def _told(folder: Path) -> Iterator[None]:
    """A disk that refuses, in the owner's words."""
    try:
        yield
    except OSError as fault:
        raise CordwrightError(f"the book could not be written to {folder}: {fault.strerror or fault}") from fault


def _make(
    project: Project, reckoning: Reckoning, book: Book, beside: Path, *, today: date, tell: Progress
) -> Iterator[Path]:
    """Every file of the book, made in a folder beside its own."""
    tell(0.15, "setting the pages")
    yield _paper(book, beside, today)
    tell(0.5, "writing lists and drawings")
    yield from _lists(project, reckoning, book, beside, today)
    yield from write_drawings(pictures_in(book), beside)
    tell(0.75, "the building in space, labels, the phone's page")
    names = slugs(p.name for p in reckoning.plan.panels)
    yield from write_companions(project, reckoning, book, beside, today=today, slugs=names)


def _paper(book: Book, beside: Path, today: date) -> Path:
    root = beside / "root"
    root.mkdir()
    path = beside / "book.pdf"
    path.write_bytes(set_pdf(book, root, today))
    return path


def _lists(project: Project, reckoning: Reckoning, book: Book, beside: Path, today: date) -> tuple[Path, ...]:
    workbook = beside / "order-list.xlsx"
    write_workbook(project, reckoning.order, workbook, today)
    return (
        put_text(beside / "book.html", set_page(book)),
        workbook,
        put_text(beside / "order-list.csv", to_csv(project, reckoning.order)),
        *_calendar(project, reckoning, beside, today),
    )


def is_ours(path: Path) -> bool:
    """Whether a file is of an earlier book: by its name, a drawing by the mark within it."""
    if path.suffix in MARKS and not path.name.startswith(LAID):
        with path.open("rb") as file:
            return MARKS[path.suffix] in file.read(2000)
    return path.name in NAMES or (path.name.startswith(SINGLE) and path.suffix == ".pdf")


def _calendar(project: Project, reckoning: Reckoning, beside: Path, today: date) -> Iterator[Path]:
    """The days of the plan for the owner's own calendar, where seasons were run."""
    if reckoning.season is not None:
        path = beside / "season.ics"
        path.write_bytes(to_calendar(project, reckoning.season, today))
        yield path
