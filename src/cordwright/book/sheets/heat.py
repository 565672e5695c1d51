"""What does the wall lose, what drives it, and where is it cold? The sheet of the wall's heat."""

from cordwright.book.content import Block, Column, Heading, Paragraph, Picture, Sheet, table
from cordwright.book.heat_drawing import heat_drawings
from cordwright.book.heat_page import FACTOR_WORDS
from cordwright.book.heat_words import (
    FLUX_WORDS,
    LEAVES_OUT,
    MAP_WORDS,
    answer,
    drivers_words,
    material_rows,
    panel_heads,
    panel_rows,
    whole_words,
)
from cordwright.book.lettering import Lettering, capped
from cordwright.book.sheets.front import figure_table, laths
from cordwright.case import Project
from cordwright.heat import HeatStudy
from cordwright.heat.drivers import drivers
from cordwright.reckon import Reckoning, laid_wall

PANEL_SHARES = (0.7, 1.0, 1.6, 1.1, 0.8, 0.9, 0.9, 2.4)


def heat_sheet(project: Project, reckoning: Reckoning, lettering: Lettering) -> Sheet:
    """The wall's heat: the answer, what drives it, what it is made of, and the panels with the coldest one drawn."""
    heat = reckoning.wall_heat
    first, *others = answer(project, reckoning)
    blocks: list[Block] = [Paragraph(text=first, manner="lead"), *(Paragraph(text=t) for t in others)]
    if heat.materials is not None:
        found = drivers(project.plan.section, heat.wood_fraction, heat.materials, heat.diameters)
        columns = (
            Column(title="Material", share=2.4),
            Column(title=lettering.sign("W/mK"), measure=True),
            Column(title="Low to high", measure=True, share=1.4),
        )
        blocks += [
            *(Paragraph(text=t) for t in drivers_words(project, found)),
            table("What each material leads", columns, material_rows(project, heat)),
            figure_table("Heat of the wall", heat.figures, lettering),
            laths(heat.checks, lettering, "heat-"),
        ]
    if heat.study is not None:
        blocks += _panels(project, reckoning, heat.study)
    return Sheet(mark="HEAT", title="Heat of the wall", slug="heat", blocks=tuple(blocks))


def _panels(project: Project, reckoning: Reckoning, study: HeatStudy) -> list[Block]:
    columns = tuple(
        Column(title=capped(head), measure=n > 0, share=share)
        for n, (head, share) in enumerate(zip(panel_heads(project), PANEL_SHARES, strict=True))
    )
    return [
        Heading(text="Panels as laid"),
        table("Heat of the panels", columns, panel_rows(project, study)),
        Paragraph(text=whole_words(project, study)),
        Paragraph(text=f"{FACTOR_WORDS} {LEAVES_OUT}", manner="small"),
        *_pictures(project, reckoning, study),
    ]


def _pictures(project: Project, reckoning: Reckoning, study: HeatStudy) -> list[Block]:
    """The panel with the coldest spot, as lines and as dots."""
    wall = laid_wall(project, reckoning)
    if wall is None:
        return []
    name, _ = study.coldest()
    coldest = HeatStudy(panels=tuple(p for p in study.panels if p.name == name))
    lines, dots = heat_drawings(project, wall, coldest, {name: "coldest"})
    return [
        Heading(text=f"Panel {name}, which has the coldest spot"),
        Paragraph(text=MAP_WORDS, manner="small"),
        Picture(drawing=lines),
        Paragraph(text=FLUX_WORDS, manner="small"),
        Picture(drawing=dots),
    ]
