"""How does the answer of the season stand on the terminal? Sentences first, then the tables."""

from collections.abc import Iterator, Sequence

from cordwright.book.season_words import (
    CHANGE_HEADS,
    LOST_HEADS,
    STRATEGY_HEADS,
    change_rows,
    hours_rows,
    lost_rows,
    missing_words,
    strategy_rows,
    verdict,
)
from cordwright.case import Project
from cordwright.reckon import Reckoning
from cordwright.season.habits import habits


def season_lines(project: Project, reckoning: Reckoning) -> Iterator[str]:
    """The season of a building, line by line."""
    season = reckoning.season
    yield (
        f"{project.name}  (figures for review; {season.seasons} seasons, seed {season.seed})"
        if season
        else project.name
    )
    if season is None:
        yield missing_words(reckoning)
        return
    yield from verdict(project, season)
    yield ""
    yield from _table(STRATEGY_HEADS, strategy_rows(project, season))
    yield ""
    hours = project.season.hours or float(habits()["defaults"]["hours"])
    yield from _table(LOST_HEADS, lost_rows(season, season.chosen, hours, project.locale))
    yield ""
    yield from _table(CHANGE_HEADS, change_rows(season.changes, project.locale))
    if season.critical:
        yield ""
        heads = ("A tenth more hours on", *CHANGE_HEADS[1:])
        yield from _table(heads, change_rows(season.critical, project.locale))
    yield ""
    yield from _table(("Work", "Hours", "Least to most"), hours_rows(project, reckoning))
    yield from (f"note: {note}" for note in season.notes)


def _table(heads: Sequence[str], rows: Sequence[Sequence[str]]) -> Iterator[str]:
    widths = [max(len(cell) for cell in column) for column in zip(heads, *rows, strict=True)]
    for row in (heads, *rows):
        yield "  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip()
