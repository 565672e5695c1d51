"""What comes after the plan? The card for a day with helpers, the yearly walk, the diary on paper."""

from collections.abc import Iterator, Sequence
from itertools import groupby
from typing import Final

from cordwright.base import Cite, Records, caution
from cordwright.book.content import Block, Column, Heading, Items, Paragraph, Row, Sheet, Strokes, Table, table
from cordwright.book.diary_words import (
    days_left_words,
    pace_words,
    record_words,
    small_width,
    stop_lines,
    trend_words,
)
from cordwright.book.lettering import Lettering, capped
from cordwright.book.sheets.building import caution_box
from cordwright.book.sheets.mortar import card_caution
from cordwright.case import Project
from cordwright.diary import HelperDay, Measured, looks, measured
from cordwright.diary.helper_day import COVER_UP, PRACTICE
from cordwright.diary.inputs import DAY_HOURS
from cordwright.project.diary_lines import SHORT, Line, read_said
from cordwright.reckon import Reckoning, plan_helpers

HANDS: Final = (2, 3, 4, 5)
"""For so many people the card in the book is filled in beforehand."""
STROKE_BOXES: Final = 10
BLANK_ROWS: Final = 6
"""Lines without a name on the yearly sheet, for cracks and log ends that are marked later."""
SHEET_CITES: Final = (PRACTICE, Cite("keeping-practice", "a walk round the building once a year"))


def helper_sheet(project: Project, reckoning: Reckoning, lettering: Lettering) -> Sheet:
    """A day with helpers: roles to be given out, wall and batches by the number of hands, when mixing stops."""
    days = [plan_helpers(project, reckoning, people=n, hours=DAY_HOURS, end=None, cover_up=COVER_UP) for n in HANDS]
    return Sheet(
        mark="HANDS",
        title="A day with helpers",
        slug="helpers",
        blocks=(
            Paragraph(text=_stop_words(days[0]), manner="lead"),
            Heading(text="Who does what"),
            _roles(days[-1], lettering),
            Heading(text=f"How much in a day of {DAY_HOURS:g} hours, the last half hour for covering"),
            _hands_table(days, lettering),
            *_day_blocks(lettering),
        ),
        large=True,
    )


def helper_card(day: HelperDay, lettering: Lettering) -> Sheet:
    """The card of one day with helpers, counted back from its end."""
    return Sheet(
        mark="HANDS",
        title=f"A day with {day.people} {'person' if day.people == 1 else 'people'}",
        slug="helpers",
        blocks=(
            Paragraph(text=_stop_words(day), manner="lead"),
            Heading(text="Who does what"),
            _roles(day, lettering),
            Heading(text=f"How much in {day.hours:g} hours"),
            _hands_table([day], lettering),
            *_day_blocks(lettering),
        ),
        large=True,
    )


def _stop_words(day: HelperDay) -> str:
    return ". ".join(capped(line) for line in stop_lines(day)) + "."


def _roles(day: HelperDay, lettering: Lettering) -> Table:
    columns = (Column(title="Hand", share=1.1), Column(title="Does", share=4.0), Column(title="Name", share=2.4))
    rows = [(capped(role), capped(what), "") for role, what in day.roles]
    return table(f"Who does what {lettering.tag((PRACTICE,))}", columns, rows)


def _hands_table(days: Sequence[HelperDay], lettering: Lettering) -> Table:
    columns = (
        Column(title="Hands", measure=True, share=0.8),
        Column(title=f"Wall {lettering.sign('m2')}", measure=True, share=1.4),
        Column(title="Low to high", measure=True, share=1.8),
        Column(title="Batches", measure=True, share=1.2),
        Column(title="Low to high", measure=True, share=1.8),
    )
    return table("How much by the number of hands", columns, [_hands_row(day, lettering) for day in days])


def _hands_row(day: HelperDay, lettering: Lettering) -> tuple[str, ...]:
    low, middle, high = (lettering.bare(v, "m2", 1) for v in day.area)
    mixed = ("–", "–")
    if day.batches is not None:
        least, most = (f"{v:.0f}" for v in (day.batches[0], day.batches[2]))
        mixed = (f"{day.batches[1]:.0f}", f"{least} to {most}")
    return (str(day.people), middle, f"{low} to {high}", *mixed)


def _day_blocks(lettering: Lettering) -> Iterator[Block]:
    yield Items(
        items=(
            "Show each hand one log end laid, before anyone mixes.",
            "Batches small enough to be used up; the mixer waits for the layer, never the other way round.",
            "Gloves, goggles and clean water for everybody who touches mortar; children and dogs elsewhere.",
            f"Cover as you leave a panel, not all at the end. {lettering.tag((PRACTICE,))}".strip(),
        )
    )
    yield card_caution()
    yield Strokes(label="Batches mixed, one stroke each", count=STROKE_BOXES)


def year_sheet(reckoning: Reckoning, lettering: Lettering) -> Sheet:
    """The yearly walk: what to look at and how, and last year's figures beside the blanks."""
    diary = reckoning.diary
    blocks: list[Block] = [
        Paragraph(
            text="The same walk every year, at the same season. Write the figures down: a trend before an opinion.",
            manner="lead",
        ),
        _walk(lettering),
        Heading(text="Measured, last time and now"),
        _measured_table(measured(diary), lettering),
    ]
    if diary is not None and diary.cracks:
        blocks += [
            Heading(text="How the cracks go"),
            Items(items=tuple(trend_words(each, lettering) for each in diary.cracks)),
        ]
    blocks += [caution_box(caution("heights")), caution_box(caution("load-path"))]
    return Sheet(mark="YEAR", title="The yearly walk", slug="year", blocks=tuple(blocks), aside="year ______")


def _walk(lettering: Lettering) -> Table:
    columns = (
        Column(title="What", share=1.5),
        Column(title=f"How {lettering.tag(SHEET_CITES[1:])}".strip(), share=3.6),
        Column(title="If it is not well", share=3.4),
    )
    rows: list[Row] = []
    for season, seen in groupby(looks(), lambda look: look.season):
        rows.append(Row(cells=(capped(season),), manner="group"))
        rows += [Row(cells=(look.what, look.how, look.do)) for look in seen]
    return table("The yearly walk", columns, rows, tick=True)


def _measured_table(told: Sequence[Measured], lettering: Lettering) -> Table:
    columns = (
        Column(title="What and where", share=3.0),
        Column(title="Last time", measure=True, share=1.4),
        Column(title="On", share=1.5),
        Column(title="So far", share=1.6),
        Column(title="This time", share=1.6),
        Column(title="Day", share=1.2),
    )
    rows = [
        (
            capped(each.what),
            small_width(each.value, lettering) if each.unit == "m" else lettering.value(each.value, each.unit),
            each.day.isoformat(),
            each.word,
            "",
            "",
        )
        for each in told
    ]
    blanks = max(0, BLANK_ROWS - len(rows))
    return table("Measured every year", columns, [*rows, *([("\u00a0",) + ("",) * 5] * blanks)])


def diary_sheet(records: Records, reckoning: Reckoning, lettering: Lettering) -> Sheet:
    """The records as they stand, day by day, with what they come to."""
    diary = reckoning.diary
    lead = "Nothing is written down yet." if diary is None else ""
    blocks: list[Block] = [Paragraph(text=lead, manner="lead")] if lead else []
    if diary is not None:
        blocks += [Paragraph(text=pace_words(diary, lettering)), Paragraph(text=days_left_words(diary, lettering))]
    columns = (
        Column(title="Day", share=1.5),
        Column(title="What", share=6.0),
        Column(title="By", share=1.4),
        Column(title="Record", measure=True, share=1.3),
    )
    rows: list[Row] = []
    for day, entries in groupby(records.entries, lambda e: e.day):
        words = lettering.value(day, "date")
        for n, entry in enumerate(entries):
            cells = ("" if n else words, record_words(entry.said, lettering), entry.who, entry.id[:SHORT])
            rows.append(Row(cells=cells))
    if rows:
        blocks.append(table("The diary as it stands", columns, rows))
    return Sheet(mark="DIARY", title="Site diary", slug="diary", blocks=tuple(blocks))


def chain_sheet(lines: Sequence[Line], head: str, lettering: Lettering) -> Sheet:
    """Every line as it was kept, with the hash that ties it to the one before."""
    columns = (
        Column(title="Line", measure=True, share=0.7),
        Column(title="Kept (UTC)", share=2.0),
        Column(title="Act", share=1.3),
        Column(title="Says", share=4.6),
        Column(title="Hash", measure=True, share=2.2),
    )
    rows = [
        (
            str(line.n),
            line.made.replace("+00:00", "").replace("T", " "),
            line.act,
            f"{line.day}: {record_words(read_said(line.kind, line.said), lettering)}",
            line.mark[:12],
        )
        for line in lines
    ]
    words = (
        "Each line carries the SHA-256 of itself and of the line before; a line changed, taken out or put in later "
        f"breaks the chain. The last hash stands for the whole: {head}"
    )
    return Sheet(
        mark="LINES",
        title="Line by line",
        slug="lines",
        blocks=(Paragraph(text=words), table("All lines of the diary", columns, rows)),
        aside="nothing is ever taken out",
    )
