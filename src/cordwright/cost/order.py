"""What must be ordered, in packs as they are sold, and what does it come to?"""

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Final

from cordwright.base import Check, Cite, Figure, Step
from cordwright.cost.faults import SAME
from cordwright.cost.inputs import CostInput, PriceRow
from cordwright.cost.results import OrderLine, OrderList
from cordwright.mortar import whole_up

PRICES: Final = Cite("owner", "prices")
ROUNDED: Final = Cite("order-rounding")

WALL_PARTS: Final = frozenset({"mortar", "fill"})
"""Groups of rows that are wall materials."""

NEEDS: Final = (
    ("mortar.cement", "mortar.preblended"),
    ("mortar.lime", "mortar.preblended"),
    ("mortar.damp_sand_volume",),
    ("mortar.fibre_volume",),
    ("wall.fill_volume",),
    ("plan.corner_block_volume",),
)
"""Needs that a price list should cover, each with what may be bought in its stead."""


def packs(need: float, unit_amount: float, step: float) -> float:
    """Priced units that cover a need, in whole steps, rounded up [1].

    Args:
        need: in the figure's SI unit.
        unit_amount: how much of it one priced unit holds, in the same unit.
        step: smallest share of a unit that is sold [1].

    Sources: common practice.
    """
    # Nine decimals: 34 steps of 0.1 are 3.4 to the seller, not 3.4000000000000004.
    return round(whole_up(need / (unit_amount * step)) * step, 9)


def reckon_cost(cost: CostInput, figures: Mapping[str, Figure]) -> OrderList:
    """Make the order list and its totals.

    Args:
        cost: the price list, without errors (see `find_faults`).
        figures: all figures of the building by key, for the rows that leave the quantity to the tool.

    Sources: the owner's prices; packs rounded up by common practice.
    """
    lines = tuple(order_line(row, figures) for row in cost.rows)
    wall = tuple(line for line in lines if line.row.part_of in WALL_PARTS)
    total = _sum_figure("cost.total", "everything on the price list", lines, figures, cost)
    wall_cost = _sum_figure("cost.wall_materials", "mortar, fill and their additives", wall, figures, cost)
    return OrderList(
        lines=lines,
        unpriced=tuple(_unpriced(cost.rows, figures)),
        figures=(total, _with_share(wall_cost, total)),
        checks=tuple(_purse_check(cost, total)),
    )


def order_line(row: PriceRow, figures: Mapping[str, Figure]) -> OrderLine:
    """Work out one line: the computed quantity counts where there is one, else the typed one.

    Args:
        row: a row of the price list.
        figures: all figures of the building by key.
    """
    figure = figures.get(row.covers)
    need = _number(figure.value) if figure else None
    computed = _packs(row, need)
    quantity = row.quantity if computed is None else computed
    cost = None if quantity is None or row.unit_price is None else quantity * row.unit_price
    return OrderLine(
        row=row,
        need=need,
        need_unit=figure.unit if figure else "",
        computed=computed,
        quantity=quantity,
        cost=cost,
        note="; ".join(_notes(row, computed, quantity)),
    )


def _number(value: object) -> float | None:
    return float(value) if isinstance(value, int | float) else None


def _packs(row: PriceRow, need: float | None) -> float | None:
    return None if need is None or row.unit_amount is None else packs(need, row.unit_amount, row.step)


def _notes(row: PriceRow, computed: float | None, quantity: float | None) -> Iterator[str]:
    if row.unit_price == 0:
        yield "own"
    if row.unit_price is None:
        yield "price unknown"
    if quantity is None:
        yield "quantity unknown"
    if row.quantity is not None and computed is not None and not math.isclose(row.quantity, computed):
        yield f"typed {row.quantity:g}, computed {computed:g}"


def _cost_at(line: OrderLine, figures: Mapping[str, Figure], end: str) -> float:
    """Cost of a priced line when its need is at its low or high, in packs again; else as it stands."""
    figure = figures.get(line.row.covers)
    packs_at_end = _packs(line.row, _number(getattr(figure, end))) if figure else None
    if line.cost is None or packs_at_end is None:
        return line.cost or 0.0
    return packs_at_end * (line.row.unit_price or 0.0)


def _sum_figure(
    key: str, label: str, lines: Sequence[OrderLine], figures: Mapping[str, Figure], cost: CostInput
) -> Figure:
    """Sum of the lines: a lower limit when any price, quantity or need is unknown, unknown when all are."""
    known = [line.cost for line in lines if line.cost is not None]
    unknown = tuple(line.row.item for line in lines if line.cost is None or _only_limit(line, figures))
    if not known:
        missing = unknown or ("rows of the price list",)
        unit, sources = cost.currency, (PRICES,)
        return Figure(key=key, label=label, value=None, unit=unit, bound="unknown", missing=missing, sources=sources)
    low, value, high = (
        math.fsum(_cost_at(line, figures, "low") for line in lines),
        math.fsum(known),
        math.fsum(_cost_at(line, figures, "high") for line in lines),
    )
    spread = low != high
    return Figure(
        key=key,
        label=label,
        value=value,
        unit=cost.currency,
        low=low if spread else None,
        high=high if spread and not unknown else None,
        bound="at_least" if unknown else "exact",
        missing=unknown,
        sources=_sources(lines, figures),
        steps=tuple(_step(line, cost.currency) for line in lines if line.cost is not None),
    )


def _only_limit(line: OrderLine, figures: Mapping[str, Figure]) -> bool:
    """Whether the computed quantity stands on a need of which only a limit is known."""
    return line.computed is not None and figures[line.row.covers].bound != "exact"


def _sources(lines: Iterable[OrderLine], figures: Mapping[str, Figure]) -> tuple[Cite, ...]:
    needs = (c for line in lines if line.computed is not None for c in figures[line.row.covers].sources)
    rounded = (ROUNDED,) if any(line.computed is not None for line in lines) else ()
    return tuple(dict.fromkeys((PRICES, *rounded, *needs)))


def _step(line: OrderLine, currency: str) -> Step:
    how = f"typed, {line.row.unit_text}".rstrip(", ") if line.computed is None else f"{line.row.covers}, rounded up"
    price = line.row.unit_price or 0.0
    formula = f"{line.quantity:g} x {price:g} ({how})"
    return Step(symbol=line.row.item, value=line.cost, unit=currency, formula=formula, source=PRICES)


def _with_share(wall: Figure, total: Figure) -> Figure:
    """Put the share of the wall's materials in the whole beside them, when both are known whole."""
    part, whole = _number(wall.value), _number(total.value)
    if part is None or not whole or total.bound != "exact":
        return wall
    share = Step(symbol="share of the total", value=part / whole, unit="1", formula="wall materials / total")
    return Figure(
        key=wall.key,
        label=wall.label,
        value=wall.value,
        unit=wall.unit,
        low=wall.low,
        high=wall.high,
        bound=wall.bound,
        missing=wall.missing,
        sources=wall.sources,
        steps=(*wall.steps, share),
    )


def _unpriced(rows: Iterable[PriceRow], figures: Mapping[str, Figure]) -> Iterator[tuple[str, str, float, str]]:
    """Computed needs that no row buys, in whatever measure or form."""
    covered = {row.covers for row in rows}
    for key, *instead in NEEDS:
        same = frozenset().union({key, *instead}, *(s for s in SAME if s & {key, *instead}))
        figure = figures.get(key)
        need = _number(figure.value) if figure else None
        if figure and need and not same & covered:
            yield key, figure.label, need, figure.unit


def _purse_check(cost: CostInput, total: Figure) -> Iterator[Check]:
    """Hold the total against the purse; a lower limit can show it short, never that it is enough."""
    if cost.purse is None:
        return
    value = _number(total.value)
    undecided = value is None or (total.bound == "at_least" and value <= cost.purse)
    reason = "no price or quantity known yet for: " + ", ".join(total.missing) if undecided else ""
    yield Check(
        key="cost.purse",
        label="everything on the price list, within the purse",
        demand=value,
        capacity=cost.purse,
        unit=cost.currency,
        low=_number(total.low),
        high=_number(total.high),
        sources=(Cite("owner", "cost.purse"), *total.sources),
        not_judged=reason,
    )
