"""What is cut? Cutting sheets of the stems."""

from collections.abc import Iterable, Sequence

from cordwright.base import Caution
from cordwright.book.content import (
    Block,
    Heading,
    Paragraph,
    Picture,
    Sheet,
    StemRow,
    Stems,
)
from cordwright.book.lettering import Lettering
from cordwright.book.scale import scale_bar, show_scale
from cordwright.book.sheets.building import caution_box
from cordwright.book.sheets.front import figure_table
from cordwright.book.stem_drawing import draw_stem, stem_key, stem_scale
from cordwright.reckon import Reckoning
from cordwright.timber.results import StemCut


def cutting_sheet(reckoning: Reckoning, lettering: Lettering) -> Sheet:
    """Every stem with its cuts, or what is known of a stack."""
    timber = reckoning.timber
    figures = figure_table("Log ends", timber.figures, lettering)
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
