"""What to order, with which delivery, and what it comes to."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from cordwright.base import Check, Figure
from cordwright.cost.inputs import Delivery, PriceRow
from cordwright.cost.money import Span


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderLine:
    """One line of the order list.

    `need` is this row's share of the computed figure with its waste (unit in `need_unit`), None when the tool computes
    none; `computed` is the need in packs, rounded up; `quantity` the one that counts, spares included (computed where
    there is one, else typed; None unknown), from `quantity_low` to `quantity_high`; `planned` what that costs, None
    when price or quantity is unknown. `only_limit`: of the need only a limit is known. `paid` so far, None when nothing
    is recorded; `mass` to carry [kg], None unknown. `note` says own, unknown, or that typed and computed differ.
    """

    row: PriceRow
    need: float | None
    need_unit: str
    computed: float | None
    quantity: float | None
    planned: Span | None
    note: str
    quantity_low: float | None = None
    quantity_high: float | None = None
    only_limit: bool = False
    paid: Decimal | None = None
    owed: Decimal | None = None
    mass: float | None = None

    @property
    def cost(self) -> Decimal | None:
        """What the line is planned to cost, to the smallest unit; None unknown."""
        return self.planned.value if self.planned else None

    @property
    def left(self) -> Span | None:
        """What is still to pay: the plan until something is paid, then what is owed; None unknown."""
        if self.paid is None:
            return self.planned
        return Span.of(self.owed if self.owed is not None else Decimal(0))

    @property
    def expected(self) -> Span | None:
        """What is paid and still to pay together; None unknown."""
        return self.left.plus(self.paid) if self.left is not None and self.paid is not None else self.left

    @property
    def unknown(self) -> bool:
        """Whether what is still to pay for it is not known, or only as a limit."""
        return self.left is None or (self.paid is None and self.only_limit)

    def price_age(self, day: date | None) -> int | None:
        """Days from the day the price was asked to another day [d]; None where one of them is not known."""
        return None if day is None or self.row.price_date is None else (day - self.row.price_date).days


@dataclass(frozen=True, slots=True, kw_only=True)
class Group:
    """Lines that belong together: one delivery, one part of the building or one trade.

    `planned`, `left` and `expected` are what they cost, what is still to pay, and both with what is paid; `paid` is
    None when nothing is recorded. Of a delivery `delivery` holds what is stated, `mass` what is to be carried, `trips`
    how often by mass alone.
    """

    name: str
    key: str
    lines: tuple[OrderLine, ...]
    planned: Figure
    left: Figure
    expected: Figure
    paid: Decimal | None
    delivery: Delivery | None = None
    mass: Figure | None = None
    trips: Figure | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderList:
    """The order list with its totals.

    `unpriced`: computed needs that no row of the price list covers (key, label, amount, unit). `deliveries` stand in
    the order in which they come, what has none last; empty when no row names a delivery. `whole` is everything.
    """

    lines: tuple[OrderLine, ...]
    unpriced: tuple[tuple[str, str, float, str], ...]
    figures: tuple[Figure, ...]
    checks: tuple[Check, ...]
    deliveries: tuple[Group, ...] = ()
    parts: tuple[Group, ...] = ()
    trades: tuple[Group, ...] = ()
    whole: Group | None = None

    @property
    def by_delivery(self) -> tuple[OrderLine, ...]:
        """All lines in the order in which they come."""
        return tuple(line for group in self.deliveries for line in group.lines) or self.lines

    def figure(self, key: str) -> Figure:
        """One figure by its key."""
        return next(f for f in self.figures if f.key == key)
