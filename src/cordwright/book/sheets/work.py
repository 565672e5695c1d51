"""What is cut and ordered? Cutting sheets and the order list."""

from collections.abc import Iterable, Sequence
from typing import Final

from cordwright.base import Caution
from cordwright.book.content import (
    Block,
    Column,
    Heading,
    Paragraph,
    Picture,
    Row,
    Sheet,
    StemRow,
    Stems,
    table,
)
from cordwright.book.formats import show_number
from cordwright.book.lettering import Lettering, capped
from cordwright.book.scale import scale_bar, show_scale
from cordwright.book.sheets.building import caution_box
from cordwright.book.sheets.front import figure_table
from cordwright.book.stem_drawing import draw_stem, stem_key, stem_scale
from cordwright.case import Project
from cordwright.cost.results import OrderLine
from cordwright.reckon import Reckoning
from cordwright.timber.results import StemCut

OF_THE_STOCK: Final = tuple(
    f"timber.{name}"
    for name in (
        "log_ends",
        "usable_log_ends",
        "solid_volume",
        "stem_volume",
        "mean_diameter",
        "face_area",
        "coverage",
        "shortfall_area",
        "shortfall_log_ends",
        "heaviest_piece",
        "heaviest_stem",
    )
)
"""What the saw needs to know; how the pieces dry stands on the sheet of dry logs."""


def cutting_sheet(reckoning: Reckoning, lettering: Lettering) -> Sheet:
    """Every stem with its cuts, or what is known of a stack."""
    timber = reckoning.timber
    figures = figure_table("Log ends", [f for f in timber.figures if f.key in OF_THE_STOCK], lettering)
    blocks: list[Block] = [caution_box(c) for c in _picked(reckoning.cautions, ("lifting", "felling"))]
    bar = None
    if timber.cuts:
        denominator = stem_scale(timber.cuts, lettering.units)
        words = (
            f"Butt to the left, {show_scale(denominator, lettering.units)} along the stem; diameters drawn twice as "
            "thick. Number the log ends from the butt."
        )
        rows = tuple(_stem_row(c, denominator, n, lettering) for n, c in enumerate(timber.cuts, start=1))
        blocks += [Paragraph(text=words, manner="small"), Picture(drawing=stem_key()), Stems(rows=rows)]
        bar = scale_bar(denominator, lettering.units)
    else:
        blocks.append(Paragraph(text="The stock is a stack of pieces already cut: there is nothing to saw."))
    blocks += [Heading(text="What the stock gives"), figures]
    return Sheet(mark="CUT", title="Cutting the stems", slug="cutting", blocks=tuple(blocks), bar=bar)


def _picked(cautions: Iterable[Caution], keys: Sequence[str]) -> list[Caution]:
    return [c for c in cautions if c.key in keys]


def _stem_row(cut: StemCut, denominator: float, n: int, lettering: Lettering) -> StemRow:
    stem, ends = cut.stem, len(cut.pieces)
    each = f"{stem.count} alike, each " if stem.count > 1 else ""
    words = f"{each}{ends} log {'end' if ends == 1 else 'ends'}, left over {lettering.value(cut.offcut, 'm')}"
    if cut.short_if_retrimmed:
        words += "; one fewer if both ends are trimmed again"
    what = f"{stem.species}, {lettering.value(stem.length, 'm')}"
    return StemRow(name=stem.name, what=what, bar=draw_stem(cut, denominator, f"stem-{n}"), gives=words)


def order_sheet(project: Project, reckoning: Reckoning, lettering: Lettering) -> Sheet:
    """What to order: what the owner typed beside what is computed, and what it comes to."""
    order, currency = reckoning.order, project.cost.currency
    columns = (
        Column(title="Item", share=3.0),
        Column(title="Typed", measure=True, share=0.9),
        Column(title="Computed", measure=True, share=1.25),
        Column(title="Price", measure=True, share=1.25),
        Column(title=f"Cost {currency}", measure=True, share=1.45),
        Column(title="Note", share=1.8),
    )
    rows: list[Row] = []
    for group in dict.fromkeys(line.row.part_of for line in order.lines):
        rows.append(Row(cells=(group or "everything else",), manner="group"))
        rows += [_order_row(line, project, lettering) for line in order.lines if line.row.part_of == group]
    blocks: list[Block] = [figure_table("What it comes to", order.figures, lettering)]
    if order.unpriced:
        blocks += [Heading(text="Needed, but in no row of the price list"), _unpriced(reckoning, lettering)]
    blocks += [Heading(text="Row by row")]
    blocks.append(
        table("Order list", columns, rows, tick=True) if rows else Paragraph(text="There is no price list yet.")
    )
    blocks.append(
        Paragraph(
            text="A blank price is unknown and never nothing; a price of 0 is your own. "
            "The lists order-list.xlsx and order-list.csv hold the same rows.",
            manner="small",
        )
    )
    return Sheet(mark="ORDER", title="Order list", slug="order", blocks=tuple(blocks))


def _unpriced(reckoning: Reckoning, lettering: Lettering) -> Block:
    rows = [(capped(label), lettering.value(amount, unit)) for _, label, amount, unit in reckoning.order.unpriced]
    return table("Needed, unpriced", (Column(title="What", share=3), Column(title="Amount", measure=True)), rows)


def _order_row(line: OrderLine, project: Project, lettering: Lettering) -> Row:
    money = project.cost.decimals
    name = (
        f"{line.row.item} ({line.row.unit_text})"
        if line.row.unit_text and line.row.unit_text not in line.row.item
        else line.row.item
    )
    cells = (
        name,
        _blank(None if line.row.quantity is None else lettering.count(line.row.quantity)),
        _blank(None if line.computed is None else lettering.count(line.computed)),
        _blank(
            None if line.row.unit_price is None else show_number(line.row.unit_price, money, lettering.locale),
            "unknown",
        ),
        _blank(None if line.cost is None else show_number(line.cost, money, lettering.locale), "unknown"),
        line.note,
    )
    return Row(cells=cells)


def _blank(text: str | None, instead: str = "–") -> str:
    return instead if text is None else text
