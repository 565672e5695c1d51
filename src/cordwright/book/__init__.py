"""How does the owner read it? The build book on paper and screen, its drawings and its order lists."""

from cordwright.book.assemble import assemble
from cordwright.book.choosing import find_unknown, only_sheets
from cordwright.book.formats import show_check, show_figure, show_margin, show_value
from cordwright.book.write import write_book, write_sheets

__all__ = [
    "assemble",
    "find_unknown",
    "only_sheets",
    "show_check",
    "show_figure",
    "show_margin",
    "show_value",
    "write_book",
    "write_sheets",
]
