"""What does it come to, what is paid, and what is still to pay? Money by delivery and by part."""

from collections.abc import Iterable, Iterator
from datetime import date
from typing import Final

from cordwright.base import Figure
from cordwright.book.content import Block, Column, Heading, Items, Paragraph, Row, Sheet, table
from cordwright.book.cost_words import age_words, group_title, money
from cordwright.book.formats import NB
from cordwright.book.lettering import Lettering, capped
from cordwright.book.sheets.front import figure_table
from cordwright.case import Project
from cordwright.cost.results import Group, OrderList
from cordwright.reckon import Reckoning

SUMS: Final = (
    "cost.total",
    "cost.wall_materials",
    "cost.wall_share",
    "cost.per_floor_area",
    "cost.per_wall_area",
)
SPENT: Final = ("cost.spent", "cost.left_to_spend", "cost.expected")
NOTHING_PAID: Final = (
    "Nothing is recorded as paid yet: write it in the column paid of the price list, and here by hand."
)
WORDS: Final = (
    "Each row is rounded once to the smallest coin, halves up; sums are not rounded again. Ranges are outer ones: all "
    "prices and needs at their low, or at their high, at once. A row that is paid counts with what was paid for it and "
    "what is owed."
)
WALL_WORDS: Final = "Of all the money the wall takes {share}: a budget for the wall alone is none for the building."
WALL_ALONE: Final = 0.5
"""Below this share of the whole the first line says how little of the money the wall is."""


def budget_sheet(project: Project, reckoning: Reckoning, lettering: Lettering, today: date) -> Sheet:
    """The sums of the price list, planned beside paid, by delivery and by part; what is not known; old prices."""
    order = reckoning.order
    figures = {f.key: f for f in order.figures}
    keys = SUMS if _nothing_paid(order) else (*SUMS, *SPENT)
    blocks: list[Block] = [*_wall(figures.get("cost.wall_share"), lettering)]
    blocks.append(figure_table("What it comes to", [figures[k] for k in keys if k in figures], lettering))
    if _nothing_paid(order):
        blocks.append(Paragraph(text=NOTHING_PAID))
    for heading, groups in (("By delivery", order.deliveries), ("By part of the building", order.parts)):
        if groups:
            blocks += [Heading(text=heading), _groups(heading, groups, order, project, lettering)]
    blocks += _trades(order, project, lettering)
    blocks += _listed("Not known", _unknown(order))
    blocks += _listed("Prices, the oldest first", _ages(order, lettering, project.cost.as_of or today))
    blocks.append(Paragraph(text=WORDS, manner="small"))
    return Sheet(mark="MONEY", title="Budget by delivery", slug="budget", blocks=tuple(blocks))


def _wall(share: Figure | None, lettering: Lettering) -> Iterator[Block]:
    if share is not None and isinstance(share.value, float) and share.value < WALL_ALONE:
        yield Paragraph(text=WALL_WORDS.format(share=lettering.middle(share)))


def _nothing_paid(order: OrderList) -> bool:
    return order.whole is None or order.whole.paid is None


def _groups(heading: str, groups: Iterable[Group], order: OrderList, project: Project, lettering: Lettering) -> Block:
    columns = [
        Column(title="What", share=2.3),
        Column(title=f"Planned {project.cost.currency}", measure=True, share=1.5),
        Column(title="From – to", measure=True, share=2.2),
        Column(title="Paid", measure=True, share=1.2),
    ]
    if not _nothing_paid(order):
        columns += [Column(title=title, measure=True, share=1.4) for title in ("To pay", "In all")]
    width = len(columns) - 1
    rows = [Row(cells=(_title(g, lettering), *_sums(g, project)[:width])) for g in groups]
    whole = [] if order.whole is None else [Row(cells=("In all", *_sums(order.whole, project)[:width]), manner="total")]
    return table(heading, columns, [*rows, *whole])


def _title(group: Group, lettering: Lettering) -> str:
    return group_title(group, lettering) if group.delivery else capped(group.name or "everything else")


def _sums(group: Group, project: Project) -> tuple[str, ...]:
    return (
        _sum(group.planned, project),
        _range(group.planned, project),
        money(group.paid, project, ""),
        _sum(group.left, project),
        _sum(group.expected, project),
    )


def _sum(figure: Figure, project: Project) -> str:
    if not isinstance(figure.value, float):
        return "not known"
    return ("≥ " if figure.bound == "at_least" else "") + money(figure.value, project)


def _range(figure: Figure, project: Project) -> str:
    low, high = (v if isinstance(v, float) else None for v in (figure.low, figure.high))
    if low is None and high is None:
        return ""
    return f"{money(low, project)} –{NB}{money(high, project, '?')}"


def _trades(order: OrderList, project: Project, lettering: Lettering) -> Iterator[Block]:
    """Hours of each trade beside what is bought for it."""
    hours = {f.key.removeprefix("cost.hours."): f for f in order.figures if f.key.startswith("cost.hours.")}
    bought = {g.key.removeprefix("cost.trade."): g for g in order.trades}
    whole = next((f for f in order.figures if f.key == "cost.hours"), None)
    if whole is None or not (hours or bought):
        return
    columns = (
        Column(title="Trade", share=2.6),
        Column(title="Hours", measure=True, share=1.4),
        Column(title="From – to", measure=True, share=1.6),
        Column(title=f"Bought for it, {project.cost.currency}", measure=True, share=2.0),
    )
    rows = [_trade(slug, hours.get(slug), bought.get(slug), project, lettering) for slug in {**hours, **bought}]
    yield Heading(text="By trade")
    total = Row(cells=("all hours", *_hours(whole, lettering), ""), manner="total")
    yield table("By trade", columns, [*rows, total])


def _trade(
    slug: str, hours: Figure | None, bought: Group | None, project: Project, lettering: Lettering
) -> tuple[str, ...]:
    name = bought.name if bought is not None else slug.replace("_", " ")
    spent = _sum(bought.planned, project) if bought is not None else "–"
    return (capped(name), *_hours(hours, lettering), spent)


def _hours(figure: Figure | None, lettering: Lettering) -> tuple[str, str]:
    if figure is None or figure.value is None:
        return "not known", ""
    return lettering.middle(figure), lettering.spread(figure)


def _unknown(order: OrderList) -> Iterator[str]:
    """Rows whose sum is open, with what of them is not known."""
    for line in order.lines:
        if line.unknown:
            yield f"{line.row.item}: {line.note or 'only a limit of the need is known'}"
    yield from (f"{capped(label)}: in no row of the price list" for _, label, _, _ in order.unpriced)


def _ages(order: OrderList, lettering: Lettering, day: date) -> Iterator[str]:
    """Prices that are still to pay, with their day and who named them."""
    dated = [line for line in order.lines if line.paid is None and line.row.price_date is not None]
    for line in sorted(dated, key=lambda each: -(each.price_age(day) or 0)):
        source = f", {line.row.price_source}" if line.row.price_source else ""
        asked = lettering.value(line.row.price_date, "date")
        yield f"{line.row.item}: {age_words(line.price_age(day))} ({asked}{source})"


def _listed(title: str, lines: Iterable[str]) -> list[Block]:
    items = tuple(lines)
    return [Heading(text=title), Items(items=items)] if items else []
