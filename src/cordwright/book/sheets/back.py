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

ALIKE_WORDS: Final = (
    "Left out on paper, for they go alike: {} workings of sieves, months, moistures at laying, orders of work, trades, "
    "deliveries and parts. All of them stand in book.html."
)
READ_WORDS: Final = {"yes": "read", "secondary": "known through another work", "no": "not read"}
ON_SCREEN: Final = "sand."
"""Figures of this kind are so many that they would outweigh the book on paper."""
ALIKE: Final = (
    ON_SCREEN,
    "season.roof_first.",
    "season.walls_first",
    "season.hours.",
    "timber.equilibrium_moisture.",
    "timber.gap_laid_",
    "timber.leakage_laid_",
    "cost.delivery.",
    "cost.part.",
    "cost.hours.",
)
"""Figures of these kinds go one like the other, so that their workings stand in the page and not on paper."""
MOST_PLACES: Final = 8
"""So many places of one source are named on paper."""

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
    bare = [f for f in reckoning.figures if f.value is None]
    unknown = [f for f in bare if not f.key.startswith(ON_SCREEN)]
    unjudged = [c for c in reckoning.checks if c.verdict == "not judged"]
    of_sands = len(bare) - len(unknown)
    more = (f"{of_sands} statistics of the sands: book.html says of each what it lacks.",) if of_sands else ()
    blocks += _listed("Figures not known", (*(f"{capped(f.label)}: {lettering.figure(f)}" for f in unknown), *more))
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


def workings_sheet(reckoning: Reckoning, lettering: Lettering) -> Sheet:
    """Every figure and check with its working, in the order of the job."""
    blocks: list[Block] = [
        Paragraph(
            text="For the table at home, not for the wall: what each number is made of, line by line.", manner="aside"
        )
    ]
    alike = sum(f.key.startswith(ALIKE) for f in reckoning.figures)
    if alike:
        blocks.append(Paragraph(text=ALIKE_WORDS.format(alike), manner="small"))
    blocks += [_figure_working(f, lettering) for f in reckoning.figures]
    blocks += [_check_working(c, lettering) for c in reckoning.checks]
    return Sheet(mark="WHY", title="Why these numbers", slug="why", blocks=tuple(blocks), manner="desk")


def _figure_working(figure: Figure, lettering: Lettering) -> Working:
    answer = f"{lettering.figure(figure)} {lettering.tag(figure.sources)}".strip()
    steps = _steps(figure.label, figure.steps, lettering)
    return Working(question=capped(figure.label), answer=answer, table=steps, screen_only=figure.key.startswith(ALIKE))


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
        (f"[{lettering.tags[k]}]", _cited(source(k)), _places(where), known_how(source(k)))
        for k, where in places.items()
    ]
    return Sheet(
        mark="FROM",
        title="Sources used",
        slug="sources",
        blocks=(table("Sources used", columns, rows),),
        manner="small",
    )


def _places(where: list[str]) -> str:
    more = len(where) - MOST_PLACES
    return "; ".join(where[:MOST_PLACES]) + (f"; and {more} more, each at its working" if more > 0 else "")


def _cited(row: Source) -> str:
    made = ", ".join(str(part) for part in (row.year, row.edition) if part)
    named = f"{row.authors}: {row.title}" if row.authors else row.title
    return f"{named} ({made})" if made else named


def known_how(row: Source) -> str:
    """How far we know a source: read, at second hand, remembered, or somebody's word."""
    return KIND_WORDS.get(row.kind, READ_WORDS[row.read])
