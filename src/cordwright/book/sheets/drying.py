"""When are the logs dry enough? The seasoning sheet: answer, chart, gaps, the stack's checklist, the end treatment."""

from cordwright.book.content import Block, Column, Heading, Items, Paragraph, Picture, Sheet, table
from cordwright.book.drying_drawing import TALLEST, draw_drying
from cordwright.book.drying_words import (
    GAP_WORDS,
    MODEL_WORDS,
    PRACTICE_WORDS,
    answer,
    gap_rows,
    gaps_unknown,
    marks_of,
    measured_lines,
    month_rows,
    size_rows,
)
from cordwright.book.formats import NB
from cordwright.book.lettering import Lettering, capped
from cordwright.book.sheets.building import caution_box
from cordwright.book.sheets.front import figure_table, laths
from cordwright.case import Project
from cordwright.reckon import Reckoning
from cordwright.timber import checklist

LEAST_CHART, A_LINE = 120.0, 12.0
"""Height of the chart where much is said above it, and what a sentence takes off it [mm]."""
CHART_WORDS = (
    "Time runs down. Dotted line: what the air of the month asks for. Grey: spread of the mean log end. Black "
    "diamonds: your own weighings and readings. Striped boxes: when each size is dry enough, one stack in ten earlier, "
    "one in ten later."
)
TREATMENT_WORDS = (
    "Nothing is recommended here: the dose follows from the label you typed, for all log ends before culls. Common "
    "practice, no source: borates are soaked into the ends inside and out, and renewed when blooms show on the wood "
    "(look each spring). Oil films are left off: they trap the water that comes in at the checks. Used coolant and "
    "other waste fluids never."
)


def drying_sheet(project: Project, reckoning: Reckoning, lettering: Lettering) -> Sheet:
    """How the stack dries, what gap it leaves, and what its ends are treated with."""
    made = reckoning.timber.drying
    said = answer(project, reckoning)
    blocks: list[Block] = [Paragraph(text=said[0], manner="lead"), *(Paragraph(text=text) for text in said[1:])]
    if made is not None:
        if made.curves:
            blocks += _chart(project, reckoning, max(LEAST_CHART, TALLEST - A_LINE * max(0, len(said) - 3)))
        blocks += [*_gaps(project, reckoning), *_stack(project, reckoning, lettering)]
        blocks += [Paragraph(text=text, manner="small") for text in MODEL_WORDS]
    if project.timber.treatment is not None:
        blocks += _treatment(reckoning, lettering)
    return Sheet(mark="DRY", title="Dry logs", slug="drying", blocks=tuple(blocks))


def _chart(project: Project, reckoning: Reckoning, tallest: float) -> list[Block]:
    made = reckoning.timber.drying
    assert made is not None
    columns = (
        Column(title="Log end", share=0.9),
        Column(title="Diameter, fresh", measure=True, share=1.0),
        Column(title="On the laying day", measure=True, share=2.7),
        Column(title="Dry enough", share=3.6),
    )
    months = month_rows(reckoning, project.locale)
    heads = tuple(Column(title=name, measure=True) for name, _ in months)
    return [
        Paragraph(text=CHART_WORDS, manner="small"),
        Picture(drawing=draw_drying(made, marks_of(project, reckoning), tallest)),
        table("Sizes of log ends", columns, size_rows(project, reckoning)),
        *(Paragraph(text=t) for t in measured_lines(project.timber.seasoning, made, project.locale)),
        Heading(text="Moisture to which wood settles outdoors, month by month, %"),
        table("Moisture by month", heads, [tuple(value.removesuffix(f"{NB}%") for _, value in months)]),
    ]


def _gaps(project: Project, reckoning: Reckoning) -> list[Block]:
    columns = (
        Column(title="Laid at", measure=True, share=0.8),
        Column(title="Gap all round the mean log end", measure=True, share=2.4),
        Column(title="Air changes an hour", measure=True, share=2.0),
    )
    unknown = gaps_unknown(reckoning)
    if unknown:
        return [Heading(text="Gaps once the wood has dried"), Paragraph(text=f"{capped(unknown)}.")]
    return [
        Heading(text="Gaps once the wood has dried"),
        table("Gaps by moisture at laying", columns, gap_rows(project, reckoning)),
        Paragraph(text=GAP_WORDS, manner="small"),
    ]


def _stack(project: Project, reckoning: Reckoning, lettering: Lettering) -> list[Block]:
    points = checklist(project.timber.seasoning, project.timber.stems)
    said = {True: "as wanted", None: "not stated"}
    keys = ("timber.dryness_check", "timber.stacking_check", "timber.overdry_check")
    checks = [c for c in reckoning.timber.checks if c.key in keys]
    return [
        laths(checks, lettering, "dry-"),
        Heading(text="The stack"),
        Items(items=tuple(f"{capped(p.wanted)}: {said.get(p.met, p.do)}" for p in points), tick=True),
        Paragraph(text=PRACTICE_WORDS, manner="small"),
    ]


def _treatment(reckoning: Reckoning, lettering: Lettering) -> list[Block]:
    timber = reckoning.timber
    checks = [c for c in timber.checks if c.key.startswith("timber.treatment")]
    figures = [f for f in timber.figures if f.key.startswith("timber.treatment")]
    cautions = [caution_box(c) for c in timber.cautions if c.key == "preservatives"]
    return [
        Heading(text="End treatment"),
        *cautions,
        figure_table("End treatment", figures, lettering),
        laths(checks, lettering, "ends-"),
        Paragraph(text=TREATMENT_WORDS),
    ]
