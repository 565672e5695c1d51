"""Which sheets make the book, and in which order? All of them, by the order of the job."""

import re
import unicodedata
from collections.abc import Iterable
from datetime import date

from cordwright.book.content import Book, Entry, Sheet
from cordwright.book.formats import show_date
from cordwright.book.lettering import lettering_of
from cordwright.book.sheets.back import cautions_sheet, open_sheet, sources_sheet, workings_sheet
from cordwright.book.sheets.budget import budget_sheet
from cordwright.book.sheets.building import (
    elevation_sheet,
    panel_sheets,
    panels_sheet,
    plan_sheet,
    section_sheet,
    setting_out_sheet,
)
from cordwright.book.sheets.diary import SHEET_CITES, helper_sheet, year_sheet
from cordwright.book.sheets.drying import drying_sheet
from cordwright.book.sheets.engineer import engineer_sheet
from cordwright.book.sheets.front import checks_sheet, cover, rules_and_questions
from cordwright.book.sheets.heat import heat_sheet
from cordwright.book.sheets.laid import stems_sheet
from cordwright.book.sheets.mortar import curing_sheet, mix_sheet, sheet_cites
from cordwright.book.sheets.order import order_sheet
from cordwright.book.sheets.sand import sand_sheet
from cordwright.book.sheets.season import RULES, keeping_sheet, season_sheets
from cordwright.book.sheets.warm import damp_sheet, warm_sheet
from cordwright.book.sheets.work import cutting_sheet
from cordwright.case import Project
from cordwright.reckon import Reckoning

LONGEST_SLUG = 40


def assemble(project: Project, reckoning: Reckoning, today: date, file_mark: str = "") -> Book:
    """The content of the whole book; `file_mark` names the state of the owner's file that it stands on."""
    lettering = lettering_of(project, reckoning, (*sheet_cites(project, reckoning), *SHEET_CITES, *RULES))
    inner = (
        checks_sheet(reckoning, lettering),
        rules_and_questions(project, lettering),
        engineer_sheet(project, reckoning, lettering),
        plan_sheet(project, reckoning, lettering),
        setting_out_sheet(project, reckoning, lettering),
        elevation_sheet(project, reckoning, lettering),
        section_sheet(project, lettering),
        panels_sheet(reckoning, lettering),
        *panel_sheets(project, reckoning, lettering, slugs(p.name for p in reckoning.plan.panels)),
        heat_sheet(project, reckoning, lettering),
        *warm_sheet(project, reckoning, lettering),
        *damp_sheet(project, reckoning, lettering),
        cutting_sheet(reckoning, lettering),
        *stems_sheet(reckoning, lettering),
        drying_sheet(project, reckoning, lettering),
        *sand_sheet(project, reckoning),
        *season_sheets(project, reckoning, lettering),
        order_sheet(project, reckoning, lettering, today),
        budget_sheet(project, reckoning, lettering, today),
        mix_sheet(project, reckoning, lettering),
        curing_sheet(project, reckoning, lettering, today),
        helper_sheet(project, reckoning, lettering),
        keeping_sheet(),
        year_sheet(reckoning, lettering),
        cautions_sheet(reckoning),
        open_sheet(project, reckoning, lettering),
        sources_sheet(project, reckoning, lettering),
        workings_sheet(reckoning, lettering),
    )
    sheets = (cover(project, reckoning, lettering, tuple(_entry(s) for s in inner)), *inner)
    revision = f"revision {project.revision}" if project.revision else ""
    foot = " · ".join(part for part in (project.name, show_date(today, project.locale), revision) if part)
    return Book(
        title=project.name or "A cordwood building",
        foot=foot,
        file_mark=file_mark,
        sheets=sheets,
    )


def _entry(sheet: Sheet) -> Entry:
    return Entry(mark=sheet.mark, title=sheet.title, slug=sheet.slug)


def slugs(names: Iterable[str]) -> tuple[str, ...]:
    """File names for names as the owner wrote them: plain letters on any machine, and no two alike."""
    taken: set[str] = set()
    made: list[str] = []
    for n, name in enumerate(names, start=1):
        bare = "".join(c for c in unicodedata.normalize("NFKD", name).lower() if not unicodedata.combining(c))
        stem = re.sub("[^a-z0-9]+", "-", bare).strip("-")[:LONGEST_SLUG].strip("-") or str(n)
        slug, again = stem, 2
        while slug in taken:
            slug, again = f"{stem}-{again}", again + 1
        taken.add(slug)
        made.append(slug)
    return tuple(made)
