"""How does the drying of the stack read at the command line?"""

from collections.abc import Iterator, Sequence

from cordwright.book.drying_words import (
    GAP_WORDS,
    MODEL_WORDS,
    PRACTICE_WORDS,
    answer,
    check_lines,
    gap_rows,
    gaps_unknown,
    measured_lines,
    month_rows,
    size_rows,
)
from cordwright.book.formats import NB, show_figure
from cordwright.case import Project
from cordwright.reckon import Reckoning


def drying_lines(project: Project, reckoning: Reckoning) -> Iterator[str]:
    """Give the answer first, then sizes, months, gaps, checks and what the model is worth.

    Args:
        project: the owner's case, for units and language.
        reckoning: worked out.
    """
    for text in _lines(project, reckoning):
        yield text.replace(NB, " ")


def _lines(project: Project, reckoning: Reckoning) -> Iterator[str]:
    yield f"{project.name}  (not reviewed by an engineer; figures for review)"
    yield from answer(project, reckoning)
    made = reckoning.timber.drying
    if made is None:
        return
    if made.curves:
        yield from _table(
            "\nlog end", ("size", "diameter", "on the laying day", "dry enough"), size_rows(project, reckoning)
        )
        yield from measured_lines(project.timber.seasoning, made, project.locale)
    months = month_rows(reckoning, project.locale)
    if months:
        yield "\nmoisture to which wood settles outdoors (1 to 2 points off in reality)"
        yield "  " + "  ".join(f"{name} {value}" for name, value in months)
    yield from _gaps(project, reckoning)
    yield "\nchecks"
    yield from (f"  {text}" for text in check_lines(reckoning.timber.checks, project.units, project.locale))
    yield from _treatment(project, reckoning)
    yield ""
    yield from (PRACTICE_WORDS, *MODEL_WORDS)


def _gaps(project: Project, reckoning: Reckoning) -> Iterator[str]:
    unknown = gaps_unknown(reckoning)
    if unknown:
        yield f"\ngaps once dry: {unknown}"
        return
    columns = ("laid at", "gap all round the mean log end", "air changes an hour")
    yield from _table("\ngaps once dry", columns, gap_rows(project, reckoning))
    yield f"  {GAP_WORDS}"


def _treatment(project: Project, reckoning: Reckoning) -> Iterator[str]:
    figures = [f for f in reckoning.timber.figures if f.key.startswith("timber.treatment")]
    if figures:
        yield "\nend treatment"
    for figure in figures:
        yield f"  {figure.label}: {show_figure(figure, project.units, project.locale)}"


def _table(title: str, heads: Sequence[str], rows: Sequence[Sequence[str]]) -> Iterator[str]:
    widths = [max(len(row[n]) for row in (heads, *rows)) for n in range(len(heads))]
    yield title
    for row in (heads, *rows):
        yield "  " + "  ".join(f"{cell:<{width}}" for cell, width in zip(row, widths, strict=True)).rstrip()
