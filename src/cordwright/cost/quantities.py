"""How much of each thing is to be ordered, in packs as they are sold?

Packs are rounded up once for the whole need, not once for each delivery: what is left of the first delivery's last bag
is used up with the second. Rows that share a need are filled in the order of the list, each up to the need of all rows
so far less what is bought already; so no delivery runs short of its share, and all together buy no pack too many.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Final, Literal

from cordwright.base import Cite, Figure
from cordwright.cost.inputs import PriceRow
from cordwright.mortar import whole_up

ROUNDED: Final = Cite("order-rounding", "once for the whole need")
End = Literal["low", "value", "high"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Quantity:
    """What one row buys: its need with waste, the priced units that cover it, and what is ordered, spares included."""

    need: float | None
    computed: float | None
    ordered: float | None


def packs(need: float, unit_amount: float, step: float) -> float:
    """Priced units that cover a need, in whole steps, rounded up [1].

    Args:
        need: in the figure's SI unit.
        unit_amount: how much of it one priced unit holds, in the same unit.
        step: smallest share of a unit that is sold, or the units in a pack [1].

    Sources: common practice.
    """
    # Nine decimals: 34 steps of 0.1 are 3.4 to the seller, not 3.4000000000000004.
    return round(whole_up(need / (unit_amount * step)) * step, 9)


def number(value: object) -> float | None:
    """The value of a figure where it is a number."""
    return float(value) if isinstance(value, int | float) else None


def need_at(figure: Figure | None, end: End) -> float | None:
    """The need at its low, middle or high; where it has no such end, its middle."""
    if figure is None:
        return None
    found = number(getattr(figure, end))
    return number(figure.value) if found is None else found


def quantities(rows: Iterable[PriceRow], figures: Mapping[str, Figure], end: End = "value") -> list[Quantity]:
    """What each row buys when every need stands at its low, middle or high.

    Args:
        rows: of the price list, in its order.
        figures: all figures of the building by key.
        end: where the needs stand.
    """
    filling: dict[str, _Filling] = {}
    return [_quantity(row, need_at(figures.get(row.covers), end), filling) for row in rows]


class _Filling:
    """How far a need that several rows share is bought already."""

    def __init__(self) -> None:
        self.wanted = 0.0
        self.bought = 0.0

    def buy(self, row: PriceRow, need: float, unit_amount: float) -> float:
        """Priced units of a row that are lacking, spares included."""
        self.wanted += need
        lacking = max(0.0, self.wanted - self.bought)
        units = packs(lacking + row.spare * unit_amount, unit_amount, row.pack or row.step)
        self.bought += (units - row.spare) * unit_amount
        return units


def _quantity(row: PriceRow, whole: float | None, filling: dict[str, _Filling]) -> Quantity:
    if whole is None or row.unit_amount is None:
        return Quantity(need=whole, computed=None, ordered=_typed(row))
    need = whole * (1.0 if row.share is None else row.share) * (1.0 + row.waste)
    units = filling.setdefault(row.covers, _Filling()).buy(row, need, row.unit_amount)
    return Quantity(need=need, computed=units, ordered=units)


def _typed(row: PriceRow) -> float | None:
    """The owner's own count with its spares, in whole packs where packs are stated."""
    if row.quantity is None:
        return None
    count = row.quantity + row.spare
    return packs(count, 1.0, row.pack) if row.pack else count


def sharing(rows: Sequence[PriceRow]) -> Mapping[str, list[int]]:
    """Which rows buy the same figure: its key, and their places in the list."""
    found: dict[str, list[int]] = {}
    for i, row in enumerate(rows):
        if row.covers:
            found.setdefault(row.covers, []).append(i)
    return found
