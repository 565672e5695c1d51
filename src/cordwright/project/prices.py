"""Which prices did the owner gather, in which currency, for how much of what?"""

import re
from collections.abc import Iterator, Mapping
from datetime import date
from fractions import Fraction
from functools import partial
from pathlib import Path
from typing import Any, Final

from cordwright.cost.inputs import Given, PriceRow
from cordwright.project.faults import FieldFault, Findings, shown
from cordwright.project.quantity import parse_quantity, parse_share, read_figure
from cordwright.project.sheets import Cells, Layout, Row, Sheet, read_sheet

PRICES: Final = Layout(
    what="things to buy",
    words=(
        "item",
        "covers",
        "unit",
        "part_of",
        "share",
        "waste",
        "mass",
        "price_spread",
        "price_date",
        "price_source",
        "delivery",
        "paid_date",
        "trade",
    ),
    numbers=("quantity", "step", "pack", "spare"),
    money=("unit_price", "price_low", "price_high", "paid", "owed"),
)
MOST: Final = 10**12
GIVEN: Final[Mapping[str, Given]] = {"own": "own", "free": "free"}
"""What may stand in place of a price of 0."""


def read_prices(
    path: Path, where: str, currency: str, findings: Findings, echo: list[str]
) -> tuple[tuple[PriceRow, ...], tuple[str, ...]]:
    """Read prices.csv: the rows, and for each the SI unit its `unit` column was typed in.

    Args:
        path: the CSV.
        where: its name in messages.
        currency: the project's, which the heading of the prices must name; empty when that is faulty itself.
        findings: where faults go.
        echo: what is told to the owner about the file.
    """
    sheet = read_sheet(path, where, PRICES, findings, "prices")
    if sheet is None or not _has_columns(sheet, currency, findings):
        return (), ()
    echo.append(sheet.echo())
    read = [_row(sheet, row, findings, echo, currency) for row in sheet.rows]
    rows = [row for row in read if row is not None]
    return tuple(row for row, _ in rows), tuple(unit for _, unit in rows)


def _has_columns(sheet: Sheet, currency: str, findings: Findings) -> bool:
    faults: list[tuple[str, str]] = []
    if "item" not in sheet.columns:
        faults.append(("there is no column item", "add a column item to the headings"))
    if "unit_price" not in sheet.columns:
        faults.append(("there is no column of prices", f"add a column unit_price_{currency or 'EUR'} to the headings"))
    faults += _foreign(sheet, currency)
    findings.sheets["prices"] = (sheet.where, 1)
    for message, hint in faults:
        findings.add("prices", message, hint)
    return not faults


def _foreign(sheet: Sheet, currency: str) -> Iterator[tuple[str, str]]:
    """Columns of money in another currency than the project's."""
    for name in PRICES.money:
        found = sheet.columns.get(name, currency)
        if currency and found != currency:
            what = "the prices are" if name == "unit_price" else f"{name} is"
            yield f"{what} in {found}, the project in {currency}", f"write them in {currency} under {name}_{currency}"


def _row(sheet: Sheet, row: Row, findings: Findings, echo: list[str], currency: str) -> tuple[PriceRow, str] | None:
    cells = Cells(row, findings)
    nothing: tuple[float | None, str] = (None, "")
    amount, unit = cells.read("unit", lambda: _unit(row.text("unit")), nothing)
    price = PriceRow(
        item=cells.read("item", lambda: _item(row), ""),
        line=row.line,
        covers=row.text("covers"),
        unit_amount=amount,
        unit_text=row.text("unit"),
        part_of=row.text("part_of"),
        price_source=row.text("price_source"),
        delivery=row.text("delivery"),
        trade=row.text("trade"),
        given=GIVEN.get(row.text("unit_price").lower(), ""),
        unit_mass=cells.read("mass", lambda: _mass(row.text("mass")), None),
        **_amounts(sheet, row, cells),
        **_shares(row, cells),
        **_dates(row, cells),
    )
    if not cells.sound:
        return None
    _echo_comma(sheet, row, price.unit_price, currency, echo)
    return price, unit


def _amounts(sheet: Sheet, row: Row, cells: Cells) -> Mapping[str, Any]:
    """Counts and sums of money; a blank one is unknown, but for a step of whole units and no spares."""
    names = (*PRICES.numbers, *PRICES.money)
    read = {name: cells.read(name, partial(_amount, sheet, row, name), None) for name in names}
    usual = {"step": 1.0, "spare": 0.0}
    return read | {name: value for name, value in usual.items() if read[name] is None}


def _shares(row: Row, cells: Cells) -> Mapping[str, Any]:
    names = ("share", "waste", "price_spread")
    read = {name: cells.read(name, partial(_share, row.text(name)), None) for name in names}
    return read | ({"waste": 0.0} if read["waste"] is None else {})


def _dates(row: Row, cells: Cells) -> Mapping[str, Any]:
    return {name: cells.read(name, partial(_day, row.text(name)), None) for name in ("price_date", "paid_date")}


def _share(text: str) -> float | None:
    return parse_share(text) if text else None


def _day(text: str) -> date | None:
    if not text:
        return None
    if not re.fullmatch(r"\d{4}-\d\d-\d\d", text, re.ASCII):
        raise FieldFault(f"{shown(text)} is not a date", DAY_FORM)
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise FieldFault(f"there is no day {shown(text)}", DAY_FORM) from None


DAY_FORM: Final = "write year-month-day: 2027-11-03"


def _mass(text: str) -> float | None:
    """Read the mass of one priced unit."""
    return parse_quantity(text, "mass", "positive") if text else None


def _item(row: Row) -> str:
    if not row.text("item"):
        raise FieldFault("the cell is blank", "write what is bought")
    return row.text("item")


def _amount(sheet: Sheet, row: Row, column: str) -> float | None:
    """Read a count or a sum of money; a blank one is unknown."""
    cell = row.text(column)
    if not cell:
        return None
    if column == "unit_price" and cell.lower() in GIVEN:
        return 0.0
    value = sheet.number(cell)
    if value < 0:
        raise FieldFault(f"{shown(cell)} is negative", "write 0 for what is your own, leave blank what is not known")
    if value > MOST or (column in {"step", "pack"} and value == 0):
        raise FieldFault(f"{shown(cell)} is no amount that makes sense here", "look for a slipped digit")
    return float(value)


def _unit(text: str) -> tuple[float | None, str]:
    """Read how much one priced unit holds, `25 kg`, `1 m3`, or a count, `100`: its SI amount and unit."""
    if not text:
        return None, ""
    read = (float(Fraction(text)), "") if text.isascii() and text.isdigit() and len(text) < 12 else read_figure(text)
    if read is None or not read[0] > 0:
        raise FieldFault(f"{shown(text)} is no amount", 'write how much one unit holds: "25 kg", "1 m3", "94 lb"')
    return read


def _echo_comma(sheet: Sheet, row: Row, price: float | None, currency: str, echo: list[str]) -> None:
    """Tell the owner how a price with a decimal comma was read."""
    cell = row.text("unit_price")
    if "," in cell and price is not None:
        echo.append(f"{sheet.where}:{row.line}: {cell} -> {price:.2f} {currency}")
