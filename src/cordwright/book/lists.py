"""How does the order list leave the book? As a workbook and as plain text, with the owner's words as words.

The plain list carries machine numbers (a point, no grouping) and full SI needs. A spreadsheet takes a cell that begins
with = + - @, a tab or a line break for a formula; following the usual guidance against formula injection such a text
gets a single quote before it. Numbers are written by us and never quoted.
"""

import csv
import io
from collections.abc import Sequence
from datetime import UTC, date, datetime, time
from pathlib import Path
from typing import Final

from cordwright.book.svg import plain
from cordwright.case import Project
from cordwright.cost.results import OrderLine, OrderList

DANGEROUS: Final = ("=", "+", "-", "@", "\t", "\r", "\n")
HEADS: Final = (
    "part",
    "item",
    "unit",
    "typed",
    "computed",
    "quantity",
    "need",
    "need_unit",
    "unit_price",
    "cost",
    "note",
)
NUMBERS: Final = frozenset({"typed", "computed", "quantity", "need", "unit_price", "cost"})
Cell = str | float | None


def harmless(text: str) -> str:
    """The owner's words so that no spreadsheet takes them for a formula."""
    return "'" + text if text.startswith(DANGEROUS) else text


def cells_of(line: OrderLine) -> tuple[Cell, ...]:
    """One line of the order list under the heads of the lists; None where nothing is known."""
    row = line.row
    return (
        row.part_of,
        row.item,
        row.unit_text,
        row.quantity,
        line.computed,
        line.quantity,
        line.need,
        line.need_unit,
        row.unit_price,
        line.cost,
        line.note,
    )


def heads(currency: str) -> tuple[str, ...]:
    """The heads of both lists; money columns name the currency."""
    return tuple(f"{h}_{currency}" if h in ("unit_price", "cost") else h for h in HEADS)


def to_csv(project: Project, order: OrderList) -> str:
    """The order list as plain text with commas; blank is unknown, 0 is the owner's own."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(heads(project.cost.currency))
    for line in order.lines:
        writer.writerow([_text(cell) for cell in cells_of(line)])
    return out.getvalue()


def _text(cell: Cell) -> str:
    if cell is None:
        return ""
    return harmless(plain(cell)) if isinstance(cell, str) else f"{cell:.12g}"


def write_workbook(project: Project, order: OrderList, path: Path, today: date) -> None:
    """The order list as a workbook: words as words, numbers as numbers, one sum of our own."""
    import xlsxwriter

    options = {"strings_to_formulas": False, "strings_to_urls": False, "strings_to_numbers": False, "in_memory": True}
    with xlsxwriter.Workbook(str(path), options) as workbook:
        workbook.set_properties(
            {"title": "Order list", "created": datetime.combine(today, time(), UTC).replace(tzinfo=None)}
        )
        bold, money = (
            workbook.add_format({"bold": True}),
            workbook.add_format({"num_format": _money_format(project.cost.decimals)}),
        )
        sheet = workbook.add_worksheet("Order list")
        for column, head in enumerate(heads(project.cost.currency)):
            sheet.write_string(0, column, head, bold)
        for n, line in enumerate(order.lines, start=1):
            _write_row(sheet, n, cells_of(line), money)
        _write_total(sheet, order, bold, money)
        sheet.set_column(1, 1, 34)
        sheet.freeze_panes(1, 0)


def _money_format(decimals: int) -> str:
    return "#,##0" + ("." + "0" * decimals if decimals else "")


def _write_row(sheet: object, row: int, cells: Sequence[Cell], money: object) -> None:
    for column, (head, cell) in enumerate(zip(HEADS, cells, strict=True)):
        if cell is None or cell == "":
            continue
        if isinstance(cell, str):
            sheet.write_string(row, column, plain(cell)[:32767])  # type: ignore[attr-defined]
        else:
            sheet.write_number(row, column, cell, money if head in ("unit_price", "cost") else None)  # type: ignore[attr-defined]


def _write_total(sheet: object, order: OrderList, bold: object, money: object) -> None:
    last, column = len(order.lines), HEADS.index("cost")
    if not last:
        return
    known = [line.cost for line in order.lines if line.cost is not None]
    word = "Total" if len(known) == last else "Total, at least: some prices or quantities are unknown"
    sheet.write_string(last + 1, 1, word, bold)  # type: ignore[attr-defined]
    letter = chr(ord("A") + column)
    sheet.write_formula(last + 1, column, f"=SUM({letter}2:{letter}{last + 1})", money, sum(known))  # type: ignore[attr-defined]
