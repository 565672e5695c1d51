"""What must be ordered, in packs as they are sold, and what does it come to?"""

import math
from collections.abc import Iterable, Iterator, Mapping
from decimal import Decimal
from typing import Final

from cordwright.base import Check, Cite, Figure
from cordwright.cost.budget import Accounts, paid_of
from cordwright.cost.faults import SAME
from cordwright.cost.grouping import deliveries_of, parts_of, trades_of
from cordwright.cost.inputs import CostInput, PriceRow
from cordwright.cost.loads import load_check
from cordwright.cost.money import Span, cost_of, money
from cordwright.cost.quantities import Quantity, number, quantities
from cordwright.cost.results import Group, OrderLine, OrderList
from cordwright.cost.totals import hour_figures, total_figures

NEEDS: Final = (
    ("mortar.cement", "mortar.preblended"),
    ("mortar.lime", "mortar.preblended"),
    ("mortar.damp_sand_volume",),
    ("mortar.fibre_volume",),
    ("wall.fill_volume",),
    ("plan.corner_block_volume",),
)
"""Needs that a price list should cover, each with what may be bought in its stead."""


def reckon_cost(cost: CostInput, figures: Mapping[str, Figure], hours: Mapping[str, Figure] | None = None) -> OrderList:
    """Make the order list by delivery and its totals.

    Args:
        cost: the price list, without errors (see `find_faults`).
        figures: all figures of the building by key, for the rows that leave the quantity to the tool.
        hours: hours of work by trade [h], when the season has reckoned them.

    Sources: the owner's prices; packs rounded up and money rounded by common practice.
    """
    lines = order_lines(cost, figures)
    accounts = Accounts(cost=cost, figures=figures)
    groups = (deliveries_of(lines, accounts), parts_of(lines, accounts), trades_of(lines, accounts))
    totals = total_figures(lines, accounts)
    whole = _whole(lines, totals)
    told = (*totals, *(f for group in groups for g in group for f in _figures_of(g)))
    return OrderList(
        lines=lines,
        unpriced=tuple(_unpriced(cost.rows, figures)),
        figures=(*told, *hour_figures(hours or {})),
        checks=(*_purse_check(cost, whole.expected), *(c for g in groups[0] for c in load_check(g))),
        deliveries=groups[0],
        parts=groups[1],
        trades=groups[2],
        whole=whole,
    )


def _whole(lines: tuple[OrderLine, ...], totals: tuple[Figure, ...]) -> Group:
    """Everything on the price list as one group, with the figures of the totals."""
    by_key = {f.key: f for f in totals}
    return Group(
        name="everything",
        key="cost.total",
        lines=lines,
        planned=by_key["cost.total"],
        left=by_key["cost.left_to_spend"],
        expected=by_key["cost.expected"],
        paid=paid_of(lines),
    )


def order_lines(cost: CostInput, figures: Mapping[str, Figure]) -> tuple[OrderLine, ...]:
    """Work out every line: the computed quantity counts where there is one, else the typed one.

    Args:
        cost: the price list, without errors.
        figures: all figures of the building by key.
    """
    low, middle, high = (quantities(cost.rows, figures, end) for end in ("low", "value", "high"))
    return tuple(
        _line(cost, row, figures.get(row.covers), several)
        for row, *several in zip(cost.rows, low, middle, high, strict=True)
    )


def _line(cost: CostInput, row: PriceRow, figure: Figure | None, several: list[Quantity]) -> OrderLine:
    low, middle, high = several
    mass = _unit_mass(row, figure)
    return OrderLine(
        row=row,
        need=middle.need,
        need_unit=figure.unit if figure else "",
        computed=middle.computed,
        quantity=middle.ordered,
        quantity_low=low.ordered,
        quantity_high=high.ordered,
        planned=_planned(row, several, cost.decimals),
        only_limit=middle.computed is not None and figure is not None and figure.bound != "exact",
        paid=_amount(row.paid, cost.decimals),
        owed=_amount(row.owed, cost.decimals),
        mass=None if middle.ordered is None or mass is None else middle.ordered * mass,
        note="; ".join(_notes(row, middle)),
    )


def _amount(value: float | None, decimals: int) -> Decimal | None:
    return None if value is None else money(value, decimals)


def _unit_mass(row: PriceRow, figure: Figure | None) -> float | None:
    """Mass of one priced unit [kg]: as stated, else what it holds where that is bought by mass."""
    by_mass = figure is not None and figure.unit == "kg"
    return row.unit_amount if row.unit_mass is None and by_mass else row.unit_mass


def _planned(row: PriceRow, several: list[Quantity], decimals: int) -> Span | None:
    if row.unit_price is None or any(q.ordered is None for q in several):
        return None
    prices = price_range(row, row.unit_price)
    low, value, high = (cost_of(q.ordered or 0.0, price, decimals) for q, price in zip(several, prices, strict=True))
    return Span(low=low, value=value, high=high)


def price_range(row: PriceRow, price: float) -> tuple[float, float, float]:
    """The least, the middle and the most that a unit may cost, as the owner states it."""
    spread = 0.0 if row.price_spread is None else row.price_spread * price
    low = price - spread if row.price_low is None else row.price_low
    high = price + spread if row.price_high is None else row.price_high
    return low, price, high


def _notes(row: PriceRow, bought: Quantity) -> Iterator[str]:
    if row.unit_price == 0:
        yield row.given or "own"
    if row.unit_price is None:
        yield "price unknown"
    if bought.ordered is None:
        yield "quantity unknown"
    if row.quantity is not None and bought.computed is not None and not math.isclose(row.quantity, bought.computed):
        yield f"typed {row.quantity:g}, computed {bought.computed:g}"
    if row.spare and bought.ordered is not None:
        yield f"{row.spare:g} of them to spare"
    if row.pack and bought.ordered is not None:
        yield f"in packs of {row.pack:g}"


def _figures_of(group: Group) -> Iterator[Figure]:
    yield group.planned
    if group.mass is not None:
        yield group.mass
    if group.trips is not None:
        yield group.trips


def _unpriced(rows: Iterable[PriceRow], figures: Mapping[str, Figure]) -> Iterator[tuple[str, str, float, str]]:
    """Computed needs that no row buys, in whatever measure or form."""
    covered = {row.covers for row in rows}
    for key, *instead in NEEDS:
        same = frozenset().union({key, *instead}, *(s for s in SAME if s & {key, *instead}))
        figure = figures.get(key)
        need = number(figure.value) if figure else None
        if figure and need and not same & covered:
            yield key, figure.label, need, figure.unit


def _purse_check(cost: CostInput, expected: Figure) -> Iterator[Check]:
    """Hold what is paid and to pay against the purse; a lower limit can show it short, never that it is enough."""
    if cost.purse is None:
        return
    value = number(expected.value)
    undecided = value is None or (expected.bound == "at_least" and value <= cost.purse)
    reason = "no price or quantity known yet for: " + ", ".join(expected.missing) if undecided else ""
    yield Check(
        key="cost.purse",
        label="everything on the price list, within the purse",
        demand=value,
        capacity=cost.purse,
        unit=cost.currency,
        low=number(expected.low),
        high=number(expected.high),
        sources=(Cite("owner", "cost.purse"), *expected.sources),
        not_judged=reason,
    )
