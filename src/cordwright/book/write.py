"""How do the finished sheets come into the owner's folder? All at once: made beside it, then moved in."""

import tempfile
from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import Final

from cordwright.base import CordwrightError
from cordwright.book.assemble import assemble
from cordwright.book.content import Book, Picture, drawings_in
from cordwright.book.drawing import Drawing
from cordwright.book.html_backend import set_page
from cordwright.book.lists import to_csv, write_workbook
from cordwright.book.moving import move_in
from cordwright.book.svg import to_svg
from cordwright.book.typst_backend import set_pdf
from cordwright.case import Project
from cordwright.reckon import Reckoning

Progress = Callable[[float, str], None]
HASH_SHOWN: Final = 12
OURS: Final = b'data-by="cordwright"'


def write_book(
    project: Project,
    reckoning: Reckoning,
    folder: Path,
    *,
    today: date,
    source_bytes_hash: str = "",
    progress: Progress | None = None,
) -> tuple[Path, ...]:
    """Write the build book: PDF, page, order lists and drawings, all together or not at all.

    Raises:
        CordwrightError: the folder cannot be written, or a page could not be set; the folder is then as it was.
    """
    tell = progress or (lambda _share, _words: None)
    try:
        folder.mkdir(parents=True, exist_ok=True)
        with tempfile.TemporaryDirectory(prefix=".book-", dir=folder.parent) as beside:
            tell(0.05, "drawing the sheets")
            book = assemble(project, reckoning, today, source_bytes_hash[:HASH_SHOWN])
            tell(0.2, "setting the pages")
            made = (
                _paper(book, Path(beside), today),
                *_lists_and_drawings(project, reckoning, book, Path(beside), today),
            )
            tell(0.95, "moving the book into place")
            move_in(made, folder, Path(beside), _stale(folder, {p.name for p in made}))
    except OSError as fault:
        raise CordwrightError(f"the book could not be written to {folder}: {fault.strerror or fault}") from fault
    tell(1.0, "the book is written")
    return tuple(folder / path.name for path in made)


def _paper(book: Book, beside: Path, today: date) -> Path:
    root = beside / "root"
    root.mkdir()
    path = beside / "book.pdf"
    path.write_bytes(set_pdf(book, root, today))
    return path


def _lists_and_drawings(
    project: Project, reckoning: Reckoning, book: Book, beside: Path, today: date
) -> tuple[Path, ...]:
    workbook = beside / "order-list.xlsx"
    write_workbook(project, reckoning.order, workbook, today)
    return (
        _put(beside / "book.html", set_page(book)),
        workbook,
        _put(beside / "order-list.csv", to_csv(project, reckoning.order)),
        *(_put(beside / f"{d.name}.svg", to_svg(d)) for d in _pictures(book) if d.denominator),
    )


def _put(path: Path, text: str) -> Path:
    path.write_bytes(text.encode("utf-8"))
    return path


def _pictures(book: Book) -> list[Drawing]:
    return [
        d for sheet in book.sheets for block in sheet.blocks if isinstance(block, Picture) for d in drawings_in(block)
    ]


def _stale(folder: Path, kept: set[str]) -> list[Path]:
    """Panel drawings of an earlier book whose panel is gone; only files that we drew."""
    return [p for p in sorted(folder.glob("panel-*.svg")) if p.name not in kept and OURS in p.read_bytes()[:2000]]
