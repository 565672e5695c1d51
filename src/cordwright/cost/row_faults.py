"""What in one row of the price list contradicts itself, or says less than the owner may think?"""

from collections.abc import Iterator
from datetime import date
from typing import Final

from cordwright.base import Problem
from cordwright.cost.inputs import PriceRow
from cordwright.mortar import outside

HOLDS_WASTE: Final = ("mortar.", "wall.fill_volume")
"""Figures that hold the waste of the mix or of the fill already."""


def price_faults(field: str, row: PriceRow, currency: str) -> Iterator[Problem]:
    """Name what is wrong with a row's price, its range and what is paid.

    Args:
        field: key path of the row.
        row: of the price list.
        currency: in which the messages speak.
    """
    sums = {
        "unit_price": (row.unit_price, "the price of"),
        "price_low": (row.price_low, "the low price of"),
        "price_high": (row.price_high, "the high price of"),
        "paid": (row.paid, "what was paid for"),
        "owed": (row.owed, "what is owed for"),
    }
    own = "0 or more; 0 is your own, blank is unknown"
    for name, (value, words) in sums.items():
        yield from outside(f"{field}.{name}", f"{words} {row.item}", value, "price", unit=currency, hint=own)
    yield from _range(field, row)
    yield from _paid(field, row)


def _range(field: str, row: PriceRow) -> Iterator[Problem]:
    """A range lies about its price; a range without a price is no price."""
    low, high, spread = row.price_low, row.price_high, row.price_spread
    if spread is not None and (low is not None or high is not None):
        hint = "keep price_low and price_high, or price_spread"
        yield Problem(field=f"{field}.price_spread", message=f"the range of {row.item} is stated twice", hint=hint)
    if row.unit_price is None:
        if low is not None or high is not None or spread is not None:
            yield Problem(
                field=f"{field}.unit_price",
                message=f"{row.item} has a range and no price: it counts as unknown",
                hint="write the price you reckon with",
                severity="warning",
            )
        return
    wrong = [v for v in (low, high) if v is not None and (v > row.unit_price if v is low else v < row.unit_price)]
    if wrong:
        message = f"the range of {row.item} does not hold its price {row.unit_price:g}"
        yield Problem(field=f"{field}.price_{'low' if wrong[0] is low else 'high'}", message=message, hint=_LOW_HIGH)


_LOW_HIGH: Final = "price_low is at most the price, price_high at least"


def _paid(field: str, row: PriceRow) -> Iterator[Problem]:
    if row.paid is not None:
        return
    for name, value in (("owed", row.owed), ("paid_date", row.paid_date)):
        if value is not None:
            message = f"{name} is stated for {row.item}, and paid is blank"
            yield Problem(field=f"{field}.{name}", message=message, hint="write what was paid so far, 0 for nothing")


def quantity_faults(field: str, row: PriceRow) -> Iterator[Problem]:
    """Name what is wrong with how much of a row is bought.

    Args:
        field: key path of the row.
        row: of the price list.
    """
    hint = "0 or more; blank is unknown"
    yield from outside(f"{field}.quantity", f"the quantity of {row.item}", row.quantity, "quantity", hint=hint)
    yield from outside(f"{field}.step", f"the smallest share of {row.item} that is sold", row.step, "step")
    yield from outside(f"{field}.pack", f"the units in a pack of {row.item}", row.pack, "unit_amount")
    yield from outside(f"{field}.spare", f"the spares of {row.item}", row.spare, "quantity", hint="0 or more")
    yield from outside(f"{field}.mass", f"the mass of one {row.item}", row.unit_mass, "unit_amount", unit="kg")
    if row.pack is not None and row.step != 1.0:
        message = f"{row.item} is sold by the pack of {row.pack:g} and by the share of {row.step:g}"
        yield Problem(field=f"{field}.pack", message=message, hint="state pack or step, not both")
    yield from _waste(field, row)


def _waste(field: str, row: PriceRow) -> Iterator[Problem]:
    if row.waste and not row.covers:
        yield Problem(
            field=f"{field}.waste",
            message=f"the quantity of {row.item} is typed and counts as it stands: its waste changes nothing",
            hint="put the waste into the quantity, or name in covers the figure it buys",
            severity="warning",
        )
    if row.waste and row.covers.startswith(HOLDS_WASTE):
        yield Problem(
            field=f"{field}.waste",
            message=f"{row.covers} holds the waste that the mix or the fill states; here {row.waste:.0%} more is added",
            hint="leave waste blank unless more is lost between shop and site",
            severity="warning",
        )
    if row.share is not None and not row.covers:
        message = f"{row.item} states a share and covers no figure"
        yield Problem(field=f"{field}.share", message=message, hint="name in covers the figure it buys a share of")


def date_faults(field: str, row: PriceRow, as_of: date | None) -> Iterator[Problem]:
    """Name days of a row that lie behind the day on which the list is looked at.

    Args:
        field: key path of the row.
        row: of the price list.
        as_of: that day, None unknown.
    """
    for name, day in (("price_date", row.price_date), ("paid_date", row.paid_date)):
        if as_of is not None and day is not None and day > as_of:
            yield Problem(
                field=f"{field}.{name}",
                message=f"{day.isoformat()} lies behind the day of the list, {as_of.isoformat()}",
                hint="look at both; cost.as_of is the day on which you look at the prices",
                severity="warning",
            )
