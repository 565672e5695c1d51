"""How warm: the sheet of the house's heat, its stove and its wood, and the sheet of its damp and its first winter."""

from cordwright.book import damp_words, house_words
from cordwright.book.content import Block, Column, Heading, Items, Paragraph, Picture, Sheet, table
from cordwright.book.damp_drawing import MONTHS, draw_rain, draw_winter
from cordwright.book.house_drawing import draw_losses, draw_months, draw_mornings, draw_week, week_of
from cordwright.book.lettering import Lettering
from cordwright.book.sheets.building import caution_box
from cordwright.book.sheets.front import figure_table, laths
from cordwright.case import Project
from cordwright.reckon import Reckoning

WEEK = 7 * 24


def warm_sheet(project: Project, reckoning: Reckoning, lettering: Lettering) -> tuple[Sheet, ...]:
    """What the house loses, its stove, its wood and its year; no sheet where nothing is stated about heating."""
    house = reckoning.warmth.house
    if not house.figures:
        return ()
    said = house_words.answer(reckoning, lettering)
    blocks: list[Block] = [Paragraph(text=said[0], manner="lead"), *(Paragraph(text=text) for text in said[1:])]
    blocks += [caution_box(c) for c in house.cautions if c.key in ("stove-flue", "carbon-monoxide")]
    if house.missing:
        blocks.append(Items(items=house.missing, tick=True))
    if house.losses and house.whole:
        blocks += [Heading(text="Where the heat goes, for each degree"), Picture(drawing=draw_losses(house, lettering))]
    blocks += [
        figure_table("Heat", house.figures, lettering),
        laths(house.checks, lettering, "warm-"),
        Paragraph(text=house_words.BOOK_WORDS),
        *_changes(reckoning, lettering),
        *(Paragraph(text=text, manner="small") for text in house_words.MODEL_WORDS),
        *_year(project, reckoning, lettering),
    ]
    return (Sheet(mark="WARM", title="Stove and firewood", slug="warm", blocks=tuple(blocks)),)


def _year(project: Project, reckoning: Reckoning, lettering: Lettering) -> list[Block]:
    year, wanted = reckoning.warmth.house.year, project.heat.house.set_temperature
    if year is None or wanted is None:
        return []
    south = (project.site.latitude or 1.0) < 0
    first = week_of(year)
    outside = tuple(float(t) for t in year.outside[first : first + WEEK])
    blocks: list[Block] = [
        Heading(text="What each month asks of the stove"),
        Picture(drawing=draw_months(year, lettering, south=south)),
        Heading(text="How cold it is in the morning"),
        Picture(drawing=draw_mornings(year, wanted, lettering, south=south)),
        Paragraph(
            text="Striped: nine winter mornings in ten, with a tick at the mean; days on which the house was in use "
            f"the evening before. By the {year.weather}.",
            manner="small",
        ),
        Heading(text="The week in which most is burnt"),
        Picture(drawing=draw_week(year, outside, lettering)),
    ]
    if year.bridged:
        blocks.append(
            Paragraph(text=f"{year.bridged} hours of the weather were not measured and lie between their neighbours.")
        )
    return blocks


def _changes(reckoning: Reckoning, lettering: Lettering) -> list[Block]:
    house = reckoning.warmth.house
    if not house.changes:
        return []
    columns = (
        Column(title="One change alone", share=2.6),
        Column(title="Loss after it", measure=True, share=1.4),
        Column(title="The whole loses", share=1.4),
        Column(title="Stacked wood saved", measure=True, share=1.6),
    )
    return [
        Heading(text="What would change it most"),
        table("Single changes", columns, house_words.change_rows(house, lettering)),
    ]


def damp_sheet(project: Project, reckoning: Reckoning, lettering: Lettering) -> tuple[Sheet, ...]:
    """Where the damp sits, what cures it, and how the wall dries down."""
    damp = reckoning.warmth.damp
    said = damp_words.answer(project, reckoning, lettering)
    blocks: list[Block] = [Paragraph(text=said[0], manner="lead"), *(Paragraph(text=text) for text in said[1:])]
    if damp.eaves is not None and damp.wind is not None:
        blocks += [Picture(drawing=draw_rain(damp, lettering)), Paragraph(text=damp_words.RAIN_WORDS, manner="small")]
    blocks += [laths(damp.checks, lettering, "damp-"), *_panels(reckoning, lettering)]
    blocks.append(Paragraph(text=damp_words.PRACTICE_WORDS, manner="small"))
    blocks += [caution_box(c) for c in damp.cautions]
    blocks += [*_water(reckoning, lettering), *_winter(reckoning, lettering)]
    return (Sheet(mark="DAMP", title="Rain and damp", slug="damp", blocks=tuple(blocks)),)


def _panels(reckoning: Reckoning, lettering: Lettering) -> list[Block]:
    columns = (
        Column(title="Panel", share=0.8),
        Column(title="Faces the rain", measure=True, share=0.9),
        Column(title="Wetted", measure=True, share=0.9),
        Column(title="Why", share=2.6),
        Column(title="Cheapest cure", share=3.2),
    )
    rows = damp_words.panel_rows(reckoning.warmth.damp, lettering)
    return [Heading(text="Panels, the dampest first"), table("Panels by risk", columns, rows)]


def _water(reckoning: Reckoning, lettering: Lettering) -> list[Block]:
    damp = reckoning.warmth.damp
    blocks: list[Block] = [figure_table("Damp", damp.figures, lettering)]
    if damp.vapour:
        columns = (Column(title="", share=2.2), *(Column(title=m, measure=True) for m in MONTHS))
        rows = damp_words.water_rows(damp, lettering)
        blocks += [
            Heading(text=f"Water within the wall at the end of each month, {lettering.sign('kg/m2')}"),
            table("Water by month", columns, rows),
            Paragraph(text=damp_words.VAPOUR_WORDS, manner="small"),
        ]
    return blocks


def _winter(reckoning: Reckoning, lettering: Lettering) -> list[Block]:
    made = reckoning.warmth.winter
    if not made.figures:
        return []
    blocks: list[Block] = [Heading(text="The first winter: drying down")]
    if made.missing:
        return [*blocks, figure_table("First winter", made.figures, lettering)]
    return [
        *blocks,
        Picture(drawing=draw_winter(made, lettering)),
        figure_table("First winter", made.figures, lettering),
        Paragraph(text=damp_words.WINTER_WORDS, manner="small"),
    ]
