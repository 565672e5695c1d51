"""How does the book stand on a screen? One file that asks for nothing: no script, no font, no picture from outside."""

import base64
import hashlib
from importlib.resources import files
from typing import TYPE_CHECKING, Final

from markupsafe import Markup

from cordwright.book.content import Book
from cordwright.book.drawing import Drawing
from cordwright.book.svg import plain, to_svg

if TYPE_CHECKING:
    from jinja2 import Environment

STYLE: Final = "book.css"


def set_page(book: Book) -> str:
    """The book as one self-contained page."""
    style = (files("cordwright.book") / "templates" / STYLE).read_text(encoding="utf-8")
    template = page_environment().get_template("book.html.j2")
    return template.render(book=book, style=Markup(style), style_hash=_hash(style)) + "\n"  # noqa: S704 our own file


def page_environment() -> "Environment":
    """The one way words come into a page: escaped, and free of characters that no page can hold."""
    from jinja2 import Environment, PackageLoader, StrictUndefined

    environment = Environment(
        loader=PackageLoader("cordwright.book", "templates"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        finalize=_clean,
    )
    environment.filters["kind"] = lambda block: type(block).__name__
    environment.filters["drawn"] = _drawn
    return environment


def _hash(style: str) -> str:
    """The style's hash, so that the page may use this one style and no other."""
    return base64.b64encode(hashlib.sha256(style.encode()).digest()).decode()


def _clean(value: object) -> object:
    return plain(value) if isinstance(value, str) and not isinstance(value, Markup) else value


def _drawn(drawing: Drawing) -> Markup:
    """The drawing as SVG within the page; the one front end has escaped its words."""
    return Markup(to_svg(drawing, sized=False))  # noqa: S704 escaped by the drawing's own writer
