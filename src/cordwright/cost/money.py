"""What is a sum of money, to the smallest coin?

A row of the list is one line of an invoice: quantity times price, rounded once to the currency's smallest unit, halves
up. Totals are sums of such lines and are never rounded again: deliveries, parts and the whole agree to the coin.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Context, Decimal
from typing import Final, Self

from cordwright.base import Cite

ROUNDING: Final = Cite("money-rounding", "each row to the smallest unit, halves up")
EXACT: Final = Context(prec=80, rounding=ROUND_HALF_UP)
"""Digits enough for any list that is read: no sum of it is ever rounded."""
NOTHING: Final = Decimal(0)


def money(amount: float, decimals: int) -> Decimal:
    """An amount as typed, rounded to the smallest unit of a currency with so many decimals, halves up."""
    return cost_of(1.0, amount, decimals)


def cost_of(quantity: float, price: float, decimals: int) -> Decimal:
    """Quantity times price as they were typed, rounded once to the smallest unit, halves up.

    Args:
        quantity: of priced units.
        price: of one unit, in the currency.
        decimals: of the currency (2 for EUR, 0 for CLP).

    Sources: common practice (`ROUNDING`).
    """
    # repr gives the digits that were typed: 6.9 is 6.9 to the seller, not 6.9000000000000004.
    exact = EXACT.multiply(Decimal(repr(float(quantity))), Decimal(repr(float(price))))
    return EXACT.quantize(exact, Decimal(1).scaleb(-decimals))


def total(amounts: Iterable[Decimal]) -> Decimal:
    """Sum of amounts, to the smallest unit."""
    result = NOTHING
    for amount in amounts:
        result = EXACT.add(result, amount)
    return result


@dataclass(frozen=True, slots=True, kw_only=True)
class Span:
    """An amount of money with its range."""

    low: Decimal
    value: Decimal
    high: Decimal

    @classmethod
    def of(cls, amount: Decimal) -> Self:
        """An amount that is known."""
        return cls(low=amount, value=amount, high=amount)

    def plus(self, amount: Decimal) -> "Span":
        """The same with a known amount more."""
        return Span(**{name: EXACT.add(getattr(self, name), amount) for name in ("low", "value", "high")})


def span_total(spans: Iterable[Span]) -> Span:
    """Sum of amounts; all stand at their low or at their high at once, which no list will do: an outer range."""
    several = list(spans)
    return Span(
        low=total(s.low for s in several), value=total(s.value for s in several), high=total(s.high for s in several)
    )
