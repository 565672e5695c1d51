"""Which prices did the owner gather, in which currency, for how much of what?"""

from fractions import Fraction
from pathlib import Path
from typing import Final

from cordwright.cost.inputs import PriceRow
from cordwright.project.faults import FieldFault, Findings, shown
from cordwright.project.quantity import read_figure
from cordwright.project.sheets import Cells, Layout, Row, Sheet, read_sheet

PRICES: Final = Layout(
    what="things to buy",
    words=("item", "covers", "unit", "part_of"),
    numbers=("quantity", "step"),
    money=("unit_price",),
)
MOST: Final = 10**12


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
    found = sheet.columns.get("unit_price")
    if found is None:
        faults.append(("there is no column of prices", f"add a column unit_price_{currency or 'EUR'} to the headings"))
    elif currency and found != currency:
        message = f"the prices are in {found}, the project in {currency}"
        faults.append((message, f"write the prices in {currency} under unit_price_{currency}"))
    findings.sheets["prices"] = (sheet.where, 1)
    for message, hint in faults:
        findings.add("prices", message, hint)
    return not faults


def _row(sheet: Sheet, row: Row, findings: Findings, echo: list[str], currency: str) -> tuple[PriceRow, str] | None:
    cells = Cells(row, findings)
    nothing: tuple[float | None, str] = (None, "")
    amount, unit = cells.read("unit", lambda: _unit(row.text("unit")), nothing)
    step = cells.read("step", lambda: _amount(sheet, row, "step"), None)
    price = PriceRow(
        item=cells.read("item", lambda: _item(row), ""),
        line=row.line,
        quantity=cells.read("quantity", lambda: _amount(sheet, row, "quantity"), None),
        unit_price=cells.read("unit_price", lambda: _amount(sheet, row, "unit_price"), None),
        covers=row.text("covers"),
        unit_amount=amount,
        unit_text=row.text("unit"),
        step=1.0 if step is None else step,
        part_of=row.text("part_of"),
    )
    if not cells.sound:
        return None
    _echo_comma(sheet, row, price.unit_price, currency, echo)
    return price, unit


def _item(row: Row) -> str:
    if not row.text("item"):
        raise FieldFault("the cell is blank", "write what is bought")
    return row.text("item")


def _amount(sheet: Sheet, row: Row, column: str) -> float | None:
    """Read a quantity, price or step; a blank one is unknown."""
    cell = row.text(column)
    if not cell:
        return None
    value = sheet.number(cell)
    if value < 0:
        raise FieldFault(f"{shown(cell)} is negative", "write 0 for what is your own, leave blank what is not known")
    if value > MOST or (column == "step" and value == 0):
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
