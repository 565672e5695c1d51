"""How does the book come onto paper? One Typst template, fed with data: the owner's words never become markup.

The template reads the tree as JSON from `sys.inputs`; its root is a folder that holds the template and the drawings and
nothing else, and only the faces that Typst itself carries are used, so that every machine sets the same page.
"""

import json
import re
from collections.abc import Iterable, Sequence
from datetime import UTC, date, datetime, time
from importlib.resources import files
from pathlib import Path
from typing import Any, Final

from cordwright.base import CordwrightError
from cordwright.book.content import Book, as_data, drawings_in
from cordwright.book.drawing import Drawing
from cordwright.book.svg import plain, to_svg

TEMPLATE: Final = "book.typ"
PLAIN: Final = "plain.typ"
LONG_RUN: Final = re.compile(r"[^\s\u200b]{15,}")
SOFT: Final = "\u200b"
PIECE: Final = 5


def set_pdf(book: Book, root: Path, today: date) -> bytes:
    """The book as PDF bytes, dated by the day it is given and by no clock; `root` is an empty folder to work in.

    Raises:
        CordwrightError: the page could not be set.
    """
    return _compile(TEMPLATE, {"book": as_data(book)}, drawings_in(book), root, today)


def set_drawings(drawings: Sequence[Drawing], title: str, root: Path, today: date) -> bytes:
    """Drawings of a whole A4 sheet as PDF bytes, one a page.

    Raises:
        CordwrightError: the page could not be set.
    """
    pages = [{"file": f"{d.name}.svg", "label": d.label} for d in drawings]
    return _compile(PLAIN, {"pages": {"title": title, "drawings": pages}}, drawings, root, today)


def _compile(template: str, data: dict[str, Any], drawings: Iterable[Drawing], root: Path, today: date) -> bytes:
    import typst

    inputs = lay_ready(template, data, drawings, root)
    try:
        pdf = typst.compile(
            str(root / template),
            root=str(root),
            sys_inputs=inputs,
            ignore_system_fonts=True,
            package_path=str(root / "none"),
            package_cache_path=str(root / "none"),
            timestamp=int(datetime.combine(today, time(), UTC).timestamp()),
        )
    except RuntimeError as fault:
        raise CordwrightError(f"the book could not be set: {fault}") from fault
    return bytes(pdf)


def lay_ready(template: str, data: dict[str, Any], drawings: Iterable[Drawing], root: Path) -> dict[str, str]:
    """Put the template and the drawings in an empty folder; gives what else the setter is handed, as JSON by name."""
    words = (files("cordwright.book") / "templates" / template).read_text(encoding="utf-8")
    (root / template).write_text(words, encoding="utf-8")
    for drawing in drawings:
        (root / f"{drawing.name}.svg").write_text(to_svg(drawing), encoding="utf-8")
    return {name: json.dumps(printable(value)) for name, value in data.items()}


def printable(value: Any) -> Any:
    """The tree with every text on one line, free of characters no page can hold, and long runs free to break."""
    if isinstance(value, str):
        return LONG_RUN.sub(
            _loosen, " ".join(plain(value).split(" ")).replace("\n", " ").replace("\t", " ").replace("\r", " ")
        )
    if isinstance(value, dict):
        return {key: item if key in ("file", "kind", "slug") else printable(item) for key, item in value.items()}
    if isinstance(value, list):
        return [printable(item) for item in value]
    return value


def _loosen(run: re.Match[str]) -> str:
    text = run.group()
    return SOFT.join(text[n : n + PIECE] for n in range(0, len(text), PIECE))
