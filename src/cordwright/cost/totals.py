"""What does the whole come to, what of it is the wall, what is spent, and how many hours does it take?"""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Final

from cordwright.base import Cite, Figure, Step
from cordwright.base.slugs import free_slug
from cordwright.cost.budget import PRICES, Accounts, paid_of, sum_figure
from cordwright.cost.money import ROUNDING
from cordwright.cost.quantities import number
from cordwright.cost.results import OrderLine

WALL_PARTS: Final = frozenset({"mortar", "fill"})
"""Groups of rows that are wall materials."""
OLD: Final = Cite("old-price", "a year")
SEASON: Final = Cite("owner", "season")
AREAS: Final = (
    ("cost.per_floor_area", "everything on the price list, to a square of inner floor", "plan.inner_area"),
    ("cost.per_wall_area", "wall materials, to a square of wall without its openings", "plan.net_wall_area"),
)


def total_figures(lines: Sequence[OrderLine], accounts: Accounts) -> tuple[Figure, ...]:
    """Give the totals of the price list: whole and wall, by area, unknown rows, spent and left, the oldest price.

    Args:
        lines: of the order list.
        accounts: what the sums stand on.
    """
    wall_lines = [line for line in lines if line.row.part_of in WALL_PARTS]
    total = sum_figure("cost.total", "everything on the price list", "planned", lines, accounts)
    wall = sum_figure("cost.wall_materials", "mortar, fill and their additives", "planned", wall_lines, accounts)
    share = _share(wall, total)
    areas = (_by_area(*area, figure, accounts) for area, figure in zip(AREAS, (total, wall), strict=True))
    return (
        total,
        replace(wall, steps=(*wall.steps, *_share_step(share))),
        share,
        *areas,
        *_spending(lines, accounts),
        _unknown_items(lines),
        *_oldest(lines, accounts),
    )


def _share(wall: Figure, total: Figure) -> Figure:
    """The wall's share of the whole; at most so much where the whole is known only as a lower limit."""
    key, label = "cost.wall_share", "share of the wall's materials in everything on the price list"
    part, whole = number(wall.value), number(total.value)
    if part is None or not whole or wall.bound != "exact":
        missing = wall.missing or total.missing or ("a price of anything",)
        sources = wall.sources or total.sources
        return Figure(key=key, label=label, value=None, unit="1", bound="unknown", missing=missing, sources=sources)
    return Figure(
        key=key,
        label=label,
        value=part / whole,
        unit="1",
        bound="exact" if total.bound == "exact" else "at_most",
        missing=total.missing,
        sources=tuple(dict.fromkeys((*wall.sources, *total.sources))),
        steps=(
            Step(symbol="wall materials", value=part, unit=wall.unit, source=PRICES),
            Step(symbol="everything", value=whole, unit=total.unit, formula="wall materials / everything"),
        ),
    )


def _share_step(share: Figure) -> Iterator[Step]:
    if share.bound == "exact":
        value = number(share.value)
        yield Step(symbol="share of the total", value=value, unit="1", formula="wall materials / total")


def _by_area(key: str, label: str, area_key: str, figure: Figure, accounts: Accounts) -> Figure:
    """A sum to a square metre of some area of the plan."""
    unit, held = f"{accounts.cost.currency}/m2", accounts.figures.get(area_key)
    area, value = number(held.value) if held else None, number(figure.value)
    if held is None or not area or value is None:
        missing = figure.missing or (area_key,)
        sources = figure.sources
        return Figure(key=key, label=label, value=None, unit=unit, bound="unknown", missing=missing, sources=sources)
    low, high = number(figure.low), number(figure.high)
    return Figure(
        key=key,
        label=label,
        value=value / area,
        unit=unit,
        low=None if low is None else low / area,
        high=None if high is None else high / area,
        bound=figure.bound,
        missing=figure.missing,
        sources=tuple(dict.fromkeys((*figure.sources, *held.sources))),
        steps=(
            Step(symbol=figure.label, value=value, unit=accounts.cost.currency, source=ROUNDING),
            Step(symbol=held.label, value=area, unit=held.unit, formula="money / area"),
        ),
    )


def _spending(lines: Sequence[OrderLine], accounts: Accounts) -> Iterator[Figure]:
    """What is recorded as paid, what is still to pay, and both together."""
    yield _spent(lines, accounts)
    yield sum_figure("cost.left_to_spend", "planned or owed, and not yet recorded as paid", "left", lines, accounts)
    yield sum_figure("cost.expected", "recorded as paid and still to pay", "expected", lines, accounts)


def _spent(lines: Sequence[OrderLine], accounts: Accounts) -> Figure:
    key, label, unit = "cost.spent", "recorded as paid", accounts.cost.currency
    paid = paid_of(lines)
    if paid is None:
        missing = ("a sum in the column paid of the price list",)
        return Figure(key=key, label=label, value=None, unit=unit, bound="unknown", missing=missing, sources=(PRICES,))
    steps = tuple(
        Step(symbol=line.row.item, value=float(line.paid), unit=unit, formula=_when(line), source=PRICES)
        for line in lines
        if line.paid is not None
    )
    return Figure(key=key, label=label, value=float(paid), unit=unit, sources=(PRICES, ROUNDING), steps=steps)


def _when(line: OrderLine) -> str:
    return f"on {line.row.paid_date.isoformat()}" if line.row.paid_date else "day not stated"


def _unknown_items(lines: Sequence[OrderLine]) -> Figure:
    """Rows whose price or quantity is not known and that are not paid either."""
    unknown = [line for line in lines if line.unknown]
    rows = Step(symbol="rows of the price list", value=float(len(lines)), unit="", source=PRICES)
    steps = (rows, *(Step(symbol=line.row.item, value=None, unit="", formula=line.note) for line in unknown))
    label = "rows with a price, quantity or need not known"
    return Figure(
        key="cost.unknown_items", label=label, value=float(len(unknown)), unit="", sources=(PRICES,), steps=steps
    )


def _oldest(lines: Sequence[OrderLine], accounts: Accounts) -> Iterator[Figure]:
    """The age of the oldest price that has a day and is not paid yet, where the file states as of when."""
    day = accounts.cost.as_of
    open_lines = [line for line in lines if line.paid is None and line.row.price_date is not None]
    if day is None or not open_lines:
        return
    ages = {line.row.item: float(line.price_age(day) or 0) for line in open_lines}
    steps = tuple(
        Step(symbol=item, value=age, unit="d", formula=f"on {day.isoformat()}", source=PRICES)
        for item, age in sorted(ages.items(), key=lambda pair: -pair[1])
    )
    label = "age of the oldest price not yet paid"
    yield Figure(
        key="cost.oldest_price", label=label, value=max(ages.values()), unit="d", sources=(PRICES, OLD), steps=steps
    )


def hour_figures(hours: Mapping[str, Figure]) -> tuple[Figure, ...]:
    """Hours of work, all and by trade; unknown until the season has reckoned them.

    Args:
        hours: hours by trade [h].
    """
    known = {trade: f for trade, f in hours.items() if f.value is not None}
    if not known:
        missing = ("hours of each task, from the plan of the season",)
        whole = Figure(
            key="cost.hours",
            label="hours of work",
            value=None,
            unit="h",
            bound="unknown",
            missing=missing,
            sources=(SEASON,),
        )
        return (whole,)
    return (_all_hours(hours, known), *_hours_by_trade(known))


def _all_hours(hours: Mapping[str, Figure], known: Mapping[str, Figure]) -> Figure:
    lacking = tuple(f"hours of {trade}" for trade in hours if trade not in known)
    limits = tuple(m for f in known.values() if f.bound != "exact" for m in f.missing)
    low, value, high = (math.fsum(_end(f, end) for f in known.values()) for end in ("low", "value", "high"))
    limited = bool(lacking or limits)
    return Figure(
        key="cost.hours",
        label="hours of work",
        value=value,
        unit="h",
        low=low if low != high else None,
        high=high if low != high and not limited else None,
        bound="at_least" if limited else "exact",
        missing=(*lacking, *limits),
        sources=tuple(dict.fromkeys(c for f in known.values() for c in f.sources)),
        steps=tuple(Step(symbol=trade, value=_end(f, "value"), unit="h") for trade, f in known.items()),
    )


def _end(figure: Figure, end: str) -> float:
    found = number(getattr(figure, end))
    return (number(figure.value) or 0.0) if found is None else found


def _hours_by_trade(known: Mapping[str, Figure]) -> Iterator[Figure]:
    taken: set[str] = set()
    for trade, figure in known.items():
        slug = free_slug(trade, taken, "trade")
        taken.add(slug)
        yield replace(figure, key=f"cost.hours.{slug}", label=f"hours of work, {trade}")
