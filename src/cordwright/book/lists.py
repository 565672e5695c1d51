"""How does the order list leave the book? As a workbook and as plain text, with the owner's words as words.

Rows stand in the order in which they are delivered. The plain list carries machine numbers (a point, no grouping) and
full SI needs. A spreadsheet takes a cell that begins with = + - @, a tab or a line break for a formula; following the
usual guidance against formula injection such a text gets a single quote before it. Numbers are written by us and never
quoted.
"""

import csv
import io
from collections.abc import Callable, Mapping, Sequence
from datetime import UTC, date, datetime, time
from decimal import Decimal
from pathlib import Path
from typing import TYPE_CHECKING, Final

from cordwright.book.svg import plain
from cordwright.case import Project
from cordwright.cost.results import Group, OrderLine, OrderList

if TYPE_CHECKING:
    from xlsxwriter.format import Format
    from xlsxwriter.workbook import Workbook
    from xlsxwriter.worksheet import Worksheet

DANGEROUS: Final = ("=", "+", "-", "@", "\t", "\r", "\n")
Cell = str | float | Decimal | None

COLUMNS: Final[Mapping[str, Callable[[OrderLine], Cell]]] = {
    "delivery": lambda line: line.row.delivery,
    "part": lambda line: line.row.part_of,
    "item": lambda line: line.row.item,
    "unit": lambda line: line.row.unit_text,
    "typed": lambda line: line.row.quantity,
    "computed": lambda line: line.computed,
    "quantity": lambda line: line.quantity,
    "need": lambda line: line.need,
    "need_unit": lambda line: line.need_unit,
    "unit_price": lambda line: line.row.unit_price,
    "cost": lambda line: line.cost,
    "cost_low": lambda line: line.planned.low if line.planned else None,
    "cost_high": lambda line: line.planned.high if line.planned else None,
    "paid": lambda line: line.paid,
    "to_pay": lambda line: line.left.value if line.left else None,
    "mass_kg": lambda line: line.mass,
    "price_date": lambda line: line.row.price_date.isoformat() if line.row.price_date else "",
    "price_source": lambda line: line.row.price_source,
    "trade": lambda line: line.row.trade,
    "note": lambda line: line.note,
}
"""What stands in each column of both lists; None where nothing is known."""
HEADS: Final = tuple(COLUMNS)
AMOUNTS: Final = ("planned", "planned_low", "planned_high", "paid", "to_pay", "in_all")
"""What the workbook's budget says of each delivery, part and trade."""
MONEY: Final = frozenset({"unit_price", "cost", "cost_low", "cost_high", *AMOUNTS})
SUMMED: Final = ("cost", "paid", "to_pay")
"""Columns with a sum below them."""


def harmless(text: str) -> str:
    """The owner's words so that no spreadsheet takes them for a formula."""
    return "'" + text if text.startswith(DANGEROUS) else text


def cells_of(line: OrderLine) -> tuple[Cell, ...]:
    """One line of the order list under the heads of the lists."""
    return tuple(of(line) for of in COLUMNS.values())


def heads(currency: str) -> tuple[str, ...]:
    """The heads of both lists; money columns name the currency."""
    return tuple(f"{h}_{currency}" if h in MONEY else h for h in HEADS)


def to_csv(project: Project, order: OrderList) -> str:
    """The order list as plain text with commas; blank is unknown, 0 is the owner's own."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(heads(project.cost.currency))
    for line in order.by_delivery:
        writer.writerow([_text(cell) for cell in cells_of(line)])
    return out.getvalue()


def _text(cell: Cell) -> str:
    if cell is None:
        return ""
    if isinstance(cell, Decimal):
        return f"{cell:f}"
    return harmless(plain(cell)) if isinstance(cell, str) else f"{cell:.12g}"


def write_workbook(project: Project, order: OrderList, path: Path, today: date) -> None:
    """The order list as a workbook: words as words, numbers as numbers, sums of our own; a second sheet the budget."""
    import xlsxwriter

    options = {"strings_to_formulas": False, "strings_to_urls": False, "strings_to_numbers": False, "in_memory": True}
    with xlsxwriter.Workbook(str(path), options) as workbook:
        workbook.set_properties(
            {"title": "Order list", "created": datetime.combine(today, time(), UTC).replace(tzinfo=None)}
        )
        _write_order(workbook, project, order)
        if order.whole is not None and order.lines:
            _write_budget(workbook, project, order)


def _write_order(workbook: "Workbook", project: Project, order: OrderList) -> None:
    bold = workbook.add_format({"bold": True})
    money = workbook.add_format({"num_format": _money_format(project.cost.decimals)})
    sheet = workbook.add_worksheet("Order list")
    _write_heads(sheet, heads(project.cost.currency), bold)
    for n, line in enumerate(order.by_delivery, start=1):
        _write_row(sheet, n, HEADS, cells_of(line), money)
    _write_total(sheet, order, bold, money)
    sheet.set_column(HEADS.index("item"), HEADS.index("item"), 34)


def _write_budget(workbook: "Workbook", project: Project, order: OrderList) -> None:
    """The sums of the groups as values: what they stand on is the first sheet."""
    bold = workbook.add_format({"bold": True})
    money = workbook.add_format({"num_format": _money_format(project.cost.decimals)})
    sheet = workbook.add_worksheet("Budget")
    _write_heads(sheet, ("by", "name", *(f"{a}_{project.cost.currency}" for a in AMOUNTS), "not_known"), bold)
    kinds = (("delivery", order.deliveries), ("part", order.parts), ("trade", order.trades))
    groups = [(kind, group) for kind, several in kinds for group in several]
    groups += [("", order.whole)] if order.whole else []
    for n, (kind, group) in enumerate(groups, start=1):
        _write_row(sheet, n, ("by", "name", *AMOUNTS, "not_known"), _sums(kind, group), money)
    sheet.set_column(1, 1, 28)


def _sums(kind: str, group: Group) -> tuple[Cell, ...]:
    planned, left, expected = group.planned, group.left, group.expected
    numbers = (planned.value, planned.low, planned.high, group.paid, left.value, expected.value)
    known = (None if isinstance(v, date) else v for v in numbers)
    return (kind, group.name or "none named", *known, "; ".join(expected.missing))


def _money_format(decimals: int) -> str:
    return "#,##0" + ("." + "0" * decimals if decimals else "")


def _write_heads(sheet: "Worksheet", names: Sequence[str], bold: "Format") -> None:
    for column, head in enumerate(names):
        sheet.write_string(0, column, head, bold)
    sheet.freeze_panes(1, 0)


def _write_row(sheet: "Worksheet", row: int, names: Sequence[str], cells: Sequence[Cell], money: "Format") -> None:
    for column, (head, cell) in enumerate(zip(names, cells, strict=True)):
        if cell is None or cell == "":
            continue
        if isinstance(cell, str):
            sheet.write_string(row, column, plain(cell)[:32767])
        else:
            sheet.write_number(row, column, float(cell), money if head in MONEY else None)


def _write_total(sheet: "Worksheet", order: OrderList, bold: "Format", money: "Format") -> None:
    last = len(order.lines)
    if not last:
        return
    sure = all(line.cost is not None for line in order.lines)
    word = "Total" if sure else "Total, at least: some prices or quantities are unknown"
    sheet.write_string(last + 1, HEADS.index("item"), word, bold)
    for head in SUMMED:
        column = HEADS.index(head)
        letter = chr(ord("A") + column)
        known = [c for line in order.lines if isinstance(c := COLUMNS[head](line), Decimal)]
        sheet.write_formula(
            last + 1, column, f"=SUM({letter}2:{letter}{last + 1})", money, float(sum(known, start=Decimal(0)))
        )
