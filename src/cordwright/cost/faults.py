"""What in the price list cannot be, and what stays unknown?"""

import math
from collections.abc import Collection, Iterator
from difflib import get_close_matches
from typing import Final

from cordwright.base import Problem
from cordwright.cost.delivery_faults import delivery_faults
from cordwright.cost.inputs import CostInput, PriceRow
from cordwright.cost.quantities import sharing
from cordwright.cost.row_faults import date_faults, price_faults, quantity_faults
from cordwright.mortar import outside

BLENDED: Final = frozenset({"mortar.preblended", "mortar.preblended_bags"})
"""Blended bags in their two measures."""

SLACK: Final = 1e-5
"""Three thirds typed as 33.3333 % are the whole."""
OLD_AFTER: Final = 365
"""Days after which a price is told to be old: an assumption (`old-price`)."""

LOOSE_BINDER: Final = frozenset({"mortar.cement", "mortar.lime"})
"""What blended bags hold, counted with all other cement and lime."""

SAME: Final = (
    frozenset({"mortar.cement", "mortar.cement_bags"}),
    frozenset({"mortar.lime", "mortar.lime_bags"}),
    BLENDED,
    frozenset(
        {"mortar.dry_sand", "mortar.damp_sand_mass", "mortar.damp_sand_volume", "mortar.dry_sand_volume"},
    ),
)
"""Figures that are one material in different measures: to buy two of them is to buy it twice."""


def find_faults(cost: CostInput, figure_keys: Collection[str]) -> tuple[Problem, ...]:
    """Name every fault of the price list. A blank price is unknown and no fault; 0 is the owner's own.

    Args:
        cost: the price list as read.
        figure_keys: keys of all figures the building has.
    """
    keys = sorted(k for k in figure_keys if not k.startswith("cost."))
    rows = (p for i, row in enumerate(cost.rows) for p in _row_faults(f"prices[{i}]", row, cost, keys))
    purse = outside("cost.purse", "the purse", cost.purse, "price", unit=cost.currency, hint="0 or more")
    return (*purse, *rows, *_twice(cost), *_shares(cost), *_blended(cost), *delivery_faults(cost), *_old(cost))


def _row_faults(field: str, row: PriceRow, cost: CostInput, keys: list[str]) -> Iterator[Problem]:
    yield from price_faults(field, row, cost.currency)
    yield from quantity_faults(field, row)
    yield from date_faults(field, row, cost.as_of)
    if row.covers:
        yield from _covers(field, row, keys)
    elif row.quantity is None:
        yield Problem(
            field=f"{field}.quantity",
            message=f"{row.item} has neither a quantity nor a figure it covers: it counts as unknown",
            hint="type a quantity, or name in covers the figure it buys, for example mortar.cement",
            severity="warning",
        )


def _covers(field: str, row: PriceRow, keys: list[str]) -> Iterator[Problem]:
    if row.covers not in keys:
        near = get_close_matches(row.covers, keys, n=1)
        hint = f"the nearest is {near[0]}" if near else "see docs/nomenclature.md for the figures there are"
        yield Problem(field=f"{field}.covers", message=f"there is no figure {row.covers!r} to buy", hint=hint)
    what = f"how much of {row.covers} one unit of {row.item} holds"
    yield from outside(f"{field}.unit", what, row.unit_amount, "unit_amount")
    if row.unit_amount is None:
        hint = 'state it with its unit, for example "25 kg" or "1 m3"'
        yield Problem(field=f"{field}.unit", message=f"{what} is not stated", hint=hint)


def _twice(cost: CostInput) -> Iterator[Problem]:
    """A row without a share would buy the whole need, so a need covered twice is bought twice."""
    first: dict[frozenset[str], PriceRow] = {}
    for i, row in enumerate(cost.rows):
        thing = _thing(row.covers)
        if not row.covers or first.setdefault(thing, row) is row:
            continue
        other = first[thing]
        if row.covers == other.covers and row.share is not None and other.share is not None:
            continue
        yield Problem(
            field=f"prices[{i}].covers",
            message=f"{row.item} covers {row.covers}, but {other.item} buys all of it already ({other.covers})",
            hint="let one row cover it, or give each row of it a share; or a typed quantity and no covers",
        )


def _shares(cost: CostInput) -> Iterator[Problem]:
    """Shares of a need that are more than all of it, or leave a part of it unbought."""
    for covers, places in sharing(cost.rows).items():
        stated = [cost.rows[i].share for i in places]
        shares = [share for share in stated if share is not None]
        whole = math.fsum(shares)
        if len(shares) < len(places) or math.isclose(whole, 1.0, abs_tol=SLACK):
            continue
        yield Problem(
            field=f"prices[{places[-1]}].share",
            message=f"the rows that cover {covers} buy {whole:.4g} times what is needed",
            hint="let their shares come to 100 %",
            severity="error" if whole > 1.0 else "warning",
        )


def _old(cost: CostInput) -> Iterator[Problem]:
    """One word for all prices that are older than a year on the day of the list."""
    if cost.as_of is None:
        return
    dated = [(row.price_date, i) for i, row in enumerate(cost.rows) if row.price_date and row.paid is None]
    old = [(day, i) for day, i in dated if (cost.as_of - day).days > OLD_AFTER]
    if old:
        day, place = min(old)
        several = "price is" if len(old) == 1 else "prices are"
        yield Problem(
            field=f"prices[{place}].price_date",
            message=f"{len(old)} {several} more than a year old; the oldest, {cost.rows[place].item}, of "
            f"{day.isoformat()}, {(cost.as_of - day).days} days",
            hint="ask again before you order",
            severity="warning",
        )


def _blended(cost: CostInput) -> Iterator[Problem]:
    """Cement and lime that come in blended bags are part of the mortar's cement and lime, and would be bought again."""
    covered = {row.covers for row in cost.rows}
    if not covered & BLENDED:
        return
    for i, row in enumerate(cost.rows):
        if row.covers in LOOSE_BINDER:
            yield Problem(
                field=f"prices[{i}].covers",
                message=f"{row.covers} counts what the blended bags hold too, and another row buys those bags",
                hint="type the quantity of this row and leave its covers blank",
                severity="warning",
            )


def _thing(key: str) -> frozenset[str]:
    return next((same for same in SAME if key in same), frozenset({key}))
