"""What to order and what it comes to."""

from dataclasses import dataclass

from cordwright.base import Check, Figure
from cordwright.cost.inputs import PriceRow


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderLine:
    """One line of the order list.

    `need` is the computed figure (its unit in `need_unit`), None when the tool computes none; `computed` is the need in
    packs, rounded up; `quantity` the one that counts (computed where there is one, else typed; None unknown); `cost`
    None when price or quantity is unknown. `note` says own, unknown, or that typed and computed differ.
    """

    row: PriceRow
    need: float | None
    need_unit: str
    computed: float | None
    quantity: float | None
    cost: float | None
    note: str


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderList:
    """The order list with its totals.

    `unpriced`: computed needs that no row of the price list covers (key, label, amount, unit).
    """

    lines: tuple[OrderLine, ...]
    unpriced: tuple[tuple[str, str, float, str], ...]
    figures: tuple[Figure, ...]
    checks: tuple[Check, ...]

    def figure(self, key: str) -> Figure:
        """One figure by its key."""
        return next(f for f in self.figures if f.key == key)
