"""How do the house's warmth and damp read at the command line?"""

from collections.abc import Iterator, Sequence
from pathlib import Path

from cordwright.base import Check, CordwrightError
from cordwright.book import damp_words, house_words
from cordwright.book.content import Picture
from cordwright.book.drawing import Drawing
from cordwright.book.formats import NB, show_check
from cordwright.book.heat_page import aligned
from cordwright.book.lettering import Lettering, plain_lettering
from cordwright.book.sheets.warm import damp_sheet, warm_sheet
from cordwright.book.svg import to_svg
from cordwright.case import Project
from cordwright.reckon import Reckoning


def house_lines(project: Project, reckoning: Reckoning) -> Iterator[str]:
    """Give the answer of the house first, its losses, figures, changes and checks, then its damp.

    Args:
        project: the owner's case, for units and language.
        reckoning: worked out.
    """
    for text in _lines(project, reckoning, plain_lettering(project)):
        yield text.replace(NB, " ")


def _lines(project: Project, reckoning: Reckoning, lettering: Lettering) -> Iterator[str]:
    house, damp = reckoning.warmth.house, reckoning.warmth.damp
    yield f"{project.name}  (not reviewed by an engineer; figures for review)"
    yield from (text for text in house_words.answer(reckoning, lettering))
    if house.losses and house.whole:
        columns = ("part", "of it", lettering.sign("W/K"), "how")
        yield from aligned("\nwhere the heat goes", columns, house_words.loss_rows(house, lettering))
    if house.changes:
        heads = ("one change alone", "loss after it", "the whole loses", "stacked wood saved")
        yield from aligned("\nwhat would change it most", heads, house_words.change_rows(house, lettering))
    yield from _checks(project, house.checks)
    yield "\nrain and damp"
    yield from (f"  {text}" for text in damp_words.answer(project, reckoning, lettering))
    of_panels = ("panel", "faces the rain", "wetted", "why", "cheapest cure")
    yield from aligned("\npanels, the dampest first", of_panels, damp_words.panel_rows(damp, lettering))
    yield from _checks(project, damp.checks)
    yield ""
    yield from (house_words.BOOK_WORDS, *house_words.MODEL_WORDS, damp_words.PRACTICE_WORDS, damp_words.VAPOUR_WORDS)


def _checks(project: Project, checks: Sequence[Check]) -> Iterator[str]:
    if checks:
        yield "\nchecks"
    for check in checks:
        yield f"  {check.label}: {show_check(check, project.units, project.locale)}"


def house_drawings(project: Project, reckoning: Reckoning) -> Iterator[Drawing]:
    """Every chart of the house's warmth and damp that can be drawn.

    Args:
        project: the owner's case.
        reckoning: worked out.
    """
    lettering = plain_lettering(project)
    for sheet in (*warm_sheet(project, reckoning, lettering), *damp_sheet(project, reckoning, lettering)):
        yield from (block.drawing for block in sheet.blocks if isinstance(block, Picture))


def write_house_drawings(project: Project, reckoning: Reckoning, folder: Path) -> tuple[Path, ...]:
    """Write the charts into a folder, made when it is not there, and give the paths.

    Args:
        project: the owner's case.
        reckoning: worked out.
        folder: where they go.

    Raises:
        CordwrightError: the folder cannot be written.
    """
    made = []
    try:
        folder.mkdir(parents=True, exist_ok=True)
        for drawing in house_drawings(project, reckoning):
            path = folder / f"{drawing.name}.svg"
            path.write_text(to_svg(drawing), encoding="utf-8")
            made.append(path)
    except OSError as fault:
        raise CordwrightError(f"the charts could not be written to {folder}: {fault.strerror or fault}") from fault
    return tuple(made)
