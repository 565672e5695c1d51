"""How do the order list and the budget read at a command line?"""

from collections.abc import Iterable, Iterator, Sequence
from datetime import date
from typing import Any

from cordwright.book.content import Heading, Items, Paragraph, Sheet, Table
from cordwright.book.formats import NB
from cordwright.case import Project
from cordwright.cost.results import Group, OrderLine, OrderList
from cordwright.reckon import figure_json

GAP = "  "


def sheet_lines(project: Project, sheet: Sheet) -> Iterator[str]:
    """Give a sheet of money line by line: the same words as in the book, in columns.

    Args:
        project: the owner's case.
        sheet: the order list or the budget.
    """
    yield f"{project.name}: {sheet.title.lower()}"
    for block in sheet.blocks:
        if isinstance(block, Heading):
            yield from ("", block.text)
        elif isinstance(block, Paragraph):
            yield f"{GAP}{block.text}".replace(NB, " ")
        elif isinstance(block, Items):
            yield from (f"{GAP}- {item}".replace(NB, " ") for item in block.items)
        elif isinstance(block, Table):
            yield from _table(block)


def _table(table: Table) -> Iterator[str]:
    """Rows in columns as wide as their widest cell; measures to the right."""
    heads = tuple(column.title for column in table.columns)
    rows = [heads, *(row.cells for row in table.rows if row.manner != "group")]
    plain = [[cell.replace(NB, " ") for cell in row] for row in rows]
    widths = [max(map(len, column)) for column in zip(*plain, strict=True)]
    measures = [column.measure for column in table.columns]
    yield GAP + _line(heads, widths, measures)
    for row in table.rows:
        yield f"{GAP}{row.cells[0]}:" if row.manner == "group" else GAP + _line(row.cells, widths, measures)


def _line(cells: Iterable[str], widths: Sequence[int], measures: Sequence[bool]) -> str:
    set_cells = (
        text.rjust(width) if measure else text.ljust(width)
        for text, width, measure in zip((c.replace(NB, " ") for c in cells), widths, measures, strict=True)
    )
    return GAP.join(set_cells).rstrip()


def order_json(project: Project, order: OrderList) -> dict[str, Any]:
    """Give the order list by delivery as plain values; money as text, exact to the smallest unit, None unknown."""
    groups = order.deliveries or ((order.whole,) if order.whole else ())
    return {
        "schema": 1,
        "currency": project.cost.currency,
        "deliveries": [_group_json(group, with_lines=True) for group in groups],
        "in_no_row": [
            {"key": key, "label": label, "need": need, "unit": unit} for key, label, need, unit in order.unpriced
        ],
    }


def budget_json(project: Project, order: OrderList) -> dict[str, Any]:
    """Give the sums by delivery, part and trade, and the cost figures, as plain values."""
    return {
        "schema": 1,
        "currency": project.cost.currency,
        "deliveries": [_group_json(group) for group in order.deliveries],
        "parts": [_group_json(group) for group in order.parts],
        "trades": [_group_json(group) for group in order.trades],
        "figures": {f.key: figure_json(f) for f in order.figures},
    }


def _group_json(group: Group, *, with_lines: bool = False) -> dict[str, Any]:
    stated = group.delivery
    content: dict[str, Any] = {
        "name": group.name,
        "key": group.key,
        "date": _day(stated.day if stated else None),
        "stage": stated.stage if stated else "",
        "planned": figure_json(group.planned),
        "paid": None if group.paid is None else f"{group.paid:f}",
        "to_pay": figure_json(group.left),
        "mass": figure_json(group.mass) if group.mass else None,
    }
    return content | ({"rows": [_line_json(line) for line in group.lines]} if with_lines else {})


def _line_json(line: OrderLine) -> dict[str, Any]:
    return {
        "item": line.row.item,
        "order": line.quantity,
        "unit": line.row.unit_text,
        "unit_price": line.row.unit_price,
        "cost": None if line.cost is None else f"{line.cost:f}",
        "paid": None if line.paid is None else f"{line.paid:f}",
        "price_date": _day(line.row.price_date),
        "price_source": line.row.price_source,
        "note": line.note,
    }


def _day(day: date | None) -> str | None:
    return None if day is None else day.isoformat()
