"""How do the finished sheets come into the owner's folder? All at once: made beside it, then moved in."""

import tempfile
from collections.abc import Callable, Iterator
from datetime import date
from pathlib import Path
from typing import Final

from cordwright.base import CordwrightError
from cordwright.book.assemble import assemble, slugs
from cordwright.book.companions import pictures_in, put_text, write_companions, write_drawings
from cordwright.book.content import Book
from cordwright.book.dxf import MARK as DXF_MARK
from cordwright.book.html_backend import set_page
from cordwright.book.lists import to_csv, write_workbook
from cordwright.book.moving import move_in
from cordwright.book.typst_backend import set_pdf
from cordwright.case import Project
from cordwright.reckon import Reckoning

Progress = Callable[[float, str], None]
HASH_SHOWN: Final = 12
OURS: Final = {".svg": b'data-by="cordwright"', ".dxf": DXF_MARK.encode()}
"""How a drawing of ours is known from one that the owner put there."""


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
    try:
        folder.mkdir(parents=True, exist_ok=True)
        with tempfile.TemporaryDirectory(prefix=".book-", dir=folder.parent) as beside:
            tell(0.05, "drawing the sheets")
            book = assemble(project, reckoning, today, source_bytes_hash[:HASH_SHOWN])
            made = tuple(_make(project, reckoning, book, Path(beside), today=today, tell=tell))
            tell(0.95, "moving the book into place")
            move_in(made, folder, Path(beside), _stale(folder, {p.name for p in made}))
    except OSError as fault:
        raise CordwrightError(f"the book could not be written to {folder}: {fault.strerror or fault}") from fault
    tell(1.0, "the book is written")
    return tuple(folder / path.name for path in made)


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
    )


def _stale(folder: Path, kept: set[str]) -> list[Path]:
    """Panel drawings of an earlier book whose panel is gone; only files that we drew."""
    drawn = [*sorted(folder.glob("panel-*.svg")), *sorted(folder.glob("panel-*.dxf"))]
    return [p for p in drawn if p.name not in kept and p.read_bytes()[:2000].find(OURS[p.suffix]) >= 0]
