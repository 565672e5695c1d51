"""Why, and who says so? Cautions, what is not judged, the workings, and the sources used."""

from collections.abc import Iterable
from typing import Final

from cordwright.base import Check, Figure, Source, Step, source
from cordwright.book.content import Block, Column, Heading, Items, Paragraph, Sheet, Table, Working, table
from cordwright.book.formats import show_check
from cordwright.book.lettering import Lettering, capped, cites_in
from cordwright.book.section_drawing import not_stated
from cordwright.book.sheets.building import caution_box
from cordwright.book.sheets.diary import SHEET_CITES
from cordwright.book.sheets.front import LEFT_OUT
from cordwright.book.sheets.mortar import sheet_cites
from cordwright.case import Project
from cordwright.reckon import Reckoning

READ_WORDS: Final = {"yes": "read", "secondary": "known through another work", "no": "not read"}
KIND_WORDS: Final = {
    "memory": "from memory",
    "owner": "stated by the owner",
    "assumption": "our assumption",
    "common practice": "common practice",
}


def cautions_sheet(reckoning: Reckoning) -> Sheet:
    """All harms that can come of this work, once each."""
    unique = {c.key: c for c in reckoning.cautions}
    blocks: tuple[Block, ...] = tuple(caution_box(c) for c in unique.values())
    none = (Paragraph(text="No caution arose from this file."),)
    return Sheet(
        mark="CARE", title="Take care", slug="care", blocks=blocks or none, aside="the last line says who decides"
    )


def open_sheet(project: Project, reckoning: Reckoning, lettering: Lettering) -> Sheet:
    """What has no number and no verdict, and why."""
    blocks: list[Block] = []
    unknown = [f for f in reckoning.figures if f.value is None]
    unjudged = [c for c in reckoning.checks if c.verdict == "not judged"]
    blocks += _listed("Figures not known", (f"{capped(f.label)}: {lettering.figure(f)}" for f in unknown))
    blocks += _listed(
        "Checks not judged",
        (f"{capped(c.label)}: {show_check(c, lettering.units, lettering.locale)}" for c in unjudged),
    )
    blocks += _listed("Not stated in the file", not_stated(project.plan))
    blocks += _listed("Not reckoned yet", LEFT_OUT)
    blocks += _listed("Your own notes", project.notes)
    return Sheet(mark="OPEN", title="Still open", slug="open", blocks=tuple(blocks))


def _listed(title: str, lines: Iterable[str]) -> list[Block]:
    items = tuple(lines)
    return [Heading(text=title), Items(items=items)] if items else []


ON_SCREEN = "sand."
"""Figures of this kind are so many that their workings would outweigh the book on paper."""


def workings_sheet(reckoning: Reckoning, lettering: Lettering) -> Sheet:
    """Every figure and check with its working, in the order of the job."""
    blocks: list[Block] = [
        Paragraph(text="Each number from its inputs, line by line. The tags lead to the sources.", manner="aside")
    ]
    if any(f.key.startswith(ON_SCREEN) for f in reckoning.figures):
        blocks.append(Paragraph(text="The workings of the sands, sieve by sieve, stand in book.html.", manner="small"))
    blocks += [_figure_working(f, lettering) for f in reckoning.figures]
    blocks += [_check_working(c, lettering) for c in reckoning.checks]
    return Sheet(mark="WHY", title="Why these numbers", slug="why", blocks=tuple(blocks))


def _figure_working(figure: Figure, lettering: Lettering) -> Working:
    answer = f"{lettering.figure(figure)} {lettering.tag(figure.sources)}".strip()
    steps = _steps(figure.label, figure.steps, lettering)
    return Working(
        question=capped(figure.label), answer=answer, table=steps, screen_only=figure.key.startswith(ON_SCREEN)
    )


def _check_working(check: Check, lettering: Lettering) -> Working:
    answer = f"{show_check(check, lettering.units, lettering.locale)} {lettering.tag(check.sources)}".strip()
    return Working(question=capped(check.label), answer=answer, table=_steps(check.label, check.steps, lettering))


def _steps(label: str, steps: tuple[Step, ...], lettering: Lettering) -> Table:
    columns = (
        Column(title="What", share=2.4),
        Column(title="Value", measure=True, share=1.7),
        Column(title="How", share=3.2),
        Column(title="From", share=0.9),
    )
    rows = [(s.symbol, lettering.step(s), s.formula, lettering.tag((s.source,)) if s.source else "") for s in steps]
    return table(f"Working of {label}", columns, rows)


def sources_sheet(project: Project, reckoning: Reckoning, lettering: Lettering) -> Sheet:
    """Exactly the sources that this book's numbers stand on, with whether we read them."""
    places: dict[str, list[str]] = {}
    for each in (*cites_in(project, reckoning), *sheet_cites(project, reckoning), *SHEET_CITES):
        found = places.setdefault(each.key, [])
        if each.where and each.where not in found:
            found.append(each.where)
    columns = (
        Column(title="No.", share=0.6),
        Column(title="Source", share=4.4),
        Column(title="Where", share=2.6),
        Column(title="Known", share=1.6),
    )
    rows = [
        (f"[{lettering.tags[k]}]", _cited(source(k)), "; ".join(where), known_how(source(k)))
        for k, where in places.items()
    ]
    return Sheet(mark="FROM", title="Sources used", slug="sources", blocks=(table("Sources used", columns, rows),))


def _cited(row: Source) -> str:
    made = ", ".join(str(part) for part in (row.year, row.edition) if part)
    named = f"{row.authors}: {row.title}" if row.authors else row.title
    return f"{named} ({made})" if made else named


def known_how(row: Source) -> str:
    """How far we know a source: read, at second hand, remembered, or somebody's word."""
    return KIND_WORDS.get(row.kind, READ_WORDS[row.read])
