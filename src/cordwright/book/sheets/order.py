"""What is ordered, and with which delivery does it come? The list one can hand over the counter."""

from collections.abc import Iterable
from datetime import date
from typing import Final

from cordwright.book.content import Block, Column, Heading, Paragraph, Row, Sheet, table
from cordwright.book.cost_words import amount, group_title, load_words, money, remarks, thing, unit_price
from cordwright.book.lettering import Lettering, capped
from cordwright.case import Project
from cordwright.cost.results import Group, OrderLine, OrderList
from cordwright.reckon import Reckoning

WORDS: Final = (
    "Order is what to buy, in whole packs, rounded up once for the whole building. A price that is not known is never "
    "nothing. The book's lists order-list.xlsx and order-list.csv hold the same rows with all that is known of them."
)


def order_sheet(project: Project, reckoning: Reckoning, lettering: Lettering, today: date) -> Sheet:
    """What to buy, delivery by delivery, each row with a box to tick."""
    order = reckoning.order
    blocks: list[Block] = []
    if order.unpriced:
        blocks += [Heading(text="Needed, but in no row of the price list"), _unpriced(reckoning, lettering)]
    if not order.lines:
        blocks.append(Paragraph(text="There is no price list yet."))
    elif order.deliveries:
        for group in order.deliveries:
            blocks += _delivery(group, project, lettering, today)
    else:
        blocks.append(_table("Order list", _by_part(order, project, lettering, today), project))
    blocks.append(Paragraph(text=WORDS, manner="small"))
    return Sheet(mark="ORDER", title="Order list", slug="order", blocks=tuple(blocks))


def _delivery(group: Group, project: Project, lettering: Lettering, today: date) -> Iterable[Block]:
    title = group_title(group, lettering)
    yield Heading(text=title)
    words = load_words(group, lettering)
    if words:
        yield Paragraph(text=words)
    if group.lines:
        rows = [*_rows(group.lines, project, lettering, today), _total(group, project)]
        yield _table(title, rows, project)
    else:
        yield Paragraph(text="No row of the price list comes with it.")


def _by_part(order: OrderList, project: Project, lettering: Lettering, today: date) -> list[Row]:
    rows: list[Row] = []
    whole = order.whole
    for group in order.parts:
        rows.append(Row(cells=(group.name or "everything else",), manner="group"))
        rows += _rows(group.lines, project, lettering, today)
    return rows if whole is None else [*rows, _total(whole, project)]


def _table(label: str, rows: Iterable[Row], project: Project) -> Block:
    columns = (
        Column(title="Order", measure=True, share=1.0),
        Column(title="Item", share=2.9),
        Column(title="Each", measure=True, share=1.15),
        Column(title=f"Cost {project.cost.currency}", measure=True, share=1.5),
        Column(title="Remarks", share=2.4),
    )
    return table(label, columns, tuple(rows), tick=True)


def _rows(lines: Iterable[OrderLine], project: Project, lettering: Lettering, today: date) -> list[Row]:
    day = project.cost.as_of or today
    return [
        Row(
            cells=(
                amount(line, lettering),
                thing(line),
                unit_price(line, project),
                money(line.cost, project, "not known"),
                remarks(line, day),
            )
        )
        for line in lines
    ]


def _total(group: Group, project: Project) -> Row:
    planned = group.planned
    value = planned.value if isinstance(planned.value, float) else None
    said = "in all, at least" if planned.bound == "at_least" else "in all"
    return Row(cells=("", said, "", money(value, project, "not known"), ""), manner="total")


def _unpriced(reckoning: Reckoning, lettering: Lettering) -> Block:
    rows = [(capped(label), lettering.value(need, unit)) for _, label, need, unit in reckoning.order.unpriced]
    return table("Needed, unpriced", (Column(title="What", share=3), Column(title="Amount", measure=True)), rows)
