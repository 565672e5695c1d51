"""How does the wall's heat read at the command line?"""

from collections.abc import Iterator, Sequence

from cordwright.book.formats import NB, show_check, unit_of
from cordwright.book.heat_words import (
    LEAVES_OUT,
    answer,
    drivers_words,
    material_rows,
    panel_heads,
    panel_rows,
    whole_words,
)
from cordwright.case import Project
from cordwright.heat import Drivers, HeatStudy
from cordwright.reckon import Reckoning

FACTOR_WORDS = (
    "Coldest: how far a surface lies from the outdoor to the indoor temperature (1 is as warm as the room), with the "
    "surface resistance at which mould is judged."
)


def heat_lines(project: Project, reckoning: Reckoning, found: Drivers | None, study: HeatStudy | None) -> Iterator[str]:
    """Give the answer first, then what drives it, what it is made of, and the panels.

    Args:
        project: the owner's case, for units and language.
        reckoning: worked out.
        found: what drives the loss, None where nothing is known.
        study: the panels solved, None where they were not.
    """
    for text in _lines(project, reckoning, found, study):
        yield text.replace(NB, " ")


def _lines(project: Project, reckoning: Reckoning, found: Drivers | None, study: HeatStudy | None) -> Iterator[str]:
    yield f"{project.name}  (not reviewed by an engineer; figures for review)"
    yield from answer(project, reckoning)
    heat = reckoning.wall_heat
    if heat.materials is None:
        return
    if found is not None:
        yield from drivers_words(project, found)
    columns = ("material", unit_of("W/mK", project.units)[0], "low to high")
    yield from aligned("\nconductivities", columns, material_rows(project, heat))
    yield "\nchecks"
    yield from (f"  {c.label}: {show_check(c, project.units, project.locale)}" for c in heat.checks)
    if study is None:
        yield "\nThe panels are not laid, so that none is solved as laid."
        return
    yield from aligned("\npanels as laid", panel_heads(project), panel_rows(project, study))
    yield whole_words(project, study)
    yield ""
    yield from (FACTOR_WORDS, LEAVES_OUT)


def aligned(title: str, heads: Sequence[str], rows: Sequence[Sequence[str]]) -> Iterator[str]:
    """A table in plain text, columns under their heads.

    Args:
        title: what it is of.
        heads: of the columns.
        rows: as many cells each.
    """
    widths = [max(len(cell) for cell in column) for column in zip(heads, *rows, strict=True)]
    yield title
    for cells in (heads, *rows):
        yield "  " + "  ".join(cell.ljust(width) for cell, width in zip(cells, widths, strict=True)).rstrip()
