"""What does a sum of lines come to, with its range, and what of it is not known?"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Final, Literal

from cordwright.base import Cite, Figure, Step
from cordwright.cost.inputs import CostInput
from cordwright.cost.money import ROUNDING, Span, span_total, total
from cordwright.cost.quantities import ROUNDED
from cordwright.cost.results import OrderLine

PRICES: Final = Cite("owner", "prices")
Side = Literal["planned", "left", "expected"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Accounts:
    """What sums stand on: the price list and all figures of the building by key."""

    cost: CostInput
    figures: Mapping[str, Figure]


def span_of(line: OrderLine, side: Side) -> Span | None:
    """What a line is planned to cost, what is still to pay for it, or both with what is paid; None unknown."""
    return {"planned": line.planned, "left": line.left, "expected": line.expected}[side]


def is_unknown(line: OrderLine, side: Side) -> bool:
    """Whether a side of a line is not known, or known only as a limit."""
    return (line.planned is None or line.only_limit) if side == "planned" else line.unknown


def sum_figure(key: str, label: str, side: Side, lines: Sequence[OrderLine], accounts: Accounts) -> Figure:
    """Sum of the lines: a lower limit when any price, quantity or need is unknown, unknown when all are."""
    known = [(line, span) for line in lines if (span := span_of(line, side)) is not None]
    unknown = tuple(line.row.item for line in lines if is_unknown(line, side))
    unit = accounts.cost.currency
    if not known:
        missing = unknown or ("rows of the price list",)
        return Figure(key=key, label=label, value=None, unit=unit, bound="unknown", missing=missing, sources=(PRICES,))
    summed = span_total(span for _, span in known)
    spread = summed.low != summed.high
    return Figure(
        key=key,
        label=label,
        value=float(summed.value),
        unit=unit,
        low=float(summed.low) if spread else None,
        high=float(summed.high) if spread and not unknown else None,
        bound="at_least" if unknown else "exact",
        missing=unknown,
        sources=sources_of([line for line, _ in known], accounts.figures),
        steps=tuple(_step(line, span, unit, side) for line, span in known),
    )


def paid_of(lines: Iterable[OrderLine]) -> Decimal | None:
    """What is recorded as paid for some lines; None where nothing is recorded."""
    recorded = [line.paid for line in lines if line.paid is not None]
    return total(recorded) if recorded else None


def sources_of(lines: Iterable[OrderLine], figures: Mapping[str, Figure]) -> tuple[Cite, ...]:
    """The owner's prices, the rounding, and what the computed needs stand on."""
    computed = [figures[line.row.covers] for line in lines if line.computed is not None]
    needs = (cite for figure in computed for cite in figure.sources)
    return tuple(dict.fromkeys((PRICES, ROUNDING, *((ROUNDED,) if computed else ()), *needs)))


def _step(line: OrderLine, span: Span, unit: str, side: Side) -> Step:
    formula = _planned_formula(line) if side == "planned" or line.paid is None else f"paid {line.paid}"
    return Step(symbol=line.row.item, value=float(span.value), unit=unit, formula=formula, source=PRICES)


def _planned_formula(line: OrderLine) -> str:
    row = line.row
    how = f"typed, {row.unit_text}".rstrip(", ") if line.computed is None else f"{row.covers}, rounded up"
    return f"{line.quantity:g} x {row.unit_price or 0.0:g} ({how})"
