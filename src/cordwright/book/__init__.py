"""How does the owner read it? The build book on paper and screen, its drawings and its order lists."""

from cordwright.book.formats import show_check, show_figure, show_margin, show_value
from cordwright.book.write import write_book

__all__ = ["show_check", "show_figure", "show_margin", "show_value", "write_book"]
