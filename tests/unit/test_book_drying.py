"""The seasoning sheet and its chart: inside its frame, own measurements marked, words that say what is missing."""

from dataclasses import replace
from datetime import date, timedelta

import pytest

from cordwright.book.content import Paragraph, Picture, drawings_in
from cordwright.book.drawing import Path, Text
from cordwright.book.drying_drawing import FOOT, LEFT, WIDTH, draw_drying
from cordwright.book.drying_page import drying_lines
from cordwright.book.drying_words import answer, gap_words, marks_of
from cordwright.book.lettering import lettering_of
from cordwright.book.sheets.drying import drying_sheet
from cordwright.book.svg import to_svg
from cordwright.project import read
from cordwright.reckon import reckon
from cordwright.timber import MarkedEnd, Reading, Weighing


def worked(folder, **seasoning):
    project = read(folder).project
    timber = replace(project.timber, seasoning=replace(project.timber.seasoning, **seasoning))
    project = replace(project, timber=timber)
    return project, reckon(project)


def chart(project, done):
    return draw_drying(done.timber.drying, marks_of(project, done))


def points_of(drawing):
    for shape in drawing.shapes:
        if isinstance(shape, Path):
            yield from shape.points
        if isinstance(shape, Text):
            yield shape.at


def test_every_chart_stays_on_its_paper(example):
    drawing = chart(*worked(example))
    assert drawing.width == WIDTH
    for x, y in points_of(drawing):
        assert -0.01 <= x <= drawing.width + 0.01
        assert -0.01 <= y <= drawing.height + 0.01
    assert to_svg(drawing).startswith("<svg")


def test_the_plumb_line_hangs_at_the_target_and_time_runs_down(examples):
    project, done = worked(examples["weaving-studio"])
    drawing = chart(project, done)
    words = [s for s in drawing.shapes if isinstance(s, Text)]
    assert any(w.text.startswith("target 16,0") for w in words)
    months = [w for w in words if w.at[0] == LEFT - 2]
    assert [w.at[1] for w in months] == sorted((w.at[1] for w in months), reverse=True)
    assert months[0].text == "May 2027"
    bob = [s for s in drawing.shapes if isinstance(s, Path) and s.tone == "black" and s.closed]
    assert min(y for s in bob for _, y in s.points) < FOOT


def test_own_weighings_are_black_diamonds_and_a_wet_meter_says_so(examples):
    start = date(2027, 5, 15)
    rows = tuple(
        Weighing(end="E1", date=start + timedelta(days=30 * n), mass=mass)
        for n, mass in enumerate((5.9, 4.6, 4.1, 3.8, 3.6))
    )
    ends = (MarkedEnd(name="E1", diameter=0.17, oven_dry_mass=3.0, cut=start),)
    folder = examples["weaving-studio"]
    plain = chart(*worked(folder))
    drawing = chart(*worked(folder, samples=ends, weighings=rows, readings=(Reading(date=start, value=0.6),)))

    def diamonds(d):
        return sum(1 for s in d.shapes if isinstance(s, Path) and s.tone == "black" and len(s.points) == 4)

    assert diamonds(drawing) - diamonds(plain) == len(rows) + 1
    assert any(isinstance(s, Text) and s.text == "meter: wet" for s in drawing.shapes)


def test_the_sheet_answers_first_and_draws_once(example):
    project, done = worked(example)
    sheet = drying_sheet(project, done, lettering_of(project, done))
    assert isinstance(sheet.blocks[0], Paragraph)
    assert sheet.blocks[0].manner == "lead"
    assert "laying day" in sheet.blocks[0].text
    assert sum(isinstance(b, Picture) for b in sheet.blocks) == 1
    names = [d.name for d in drawings_in(sheet)]
    assert len(names) == len(set(names))
    assert not any(name.startswith("lath-") and name[5:].isdecimal() for name in names)


def test_without_months_the_sheet_says_what_is_missing_and_draws_nothing(examples):
    project, _ = worked(examples["weaving-studio"])
    project = replace(project, site=replace(project.site, months=None))
    done = reckon(project)
    sheet = drying_sheet(project, done, lettering_of(project, done))
    assert not any(isinstance(b, Picture) for b in sheet.blocks)
    assert "site.months" in " ".join(answer(project, done))
    assert any("site.months" in line for line in drying_lines(project, done))


def test_without_wood_there_is_no_forecast(examples):
    project, _ = worked(examples["bakehouse"])
    project = replace(project, timber=replace(project.timber, piles=()))
    assert answer(project, reckon(project)) == ("There is no wood in the file yet.",)


@pytest.mark.parametrize(("name", "unit"), [("weaving-studio", "mm"), ("sauna", "in")])
def test_gaps_are_told_as_a_feeler_gauge_reads(examples, name, unit):
    project, done = worked(examples[name])
    told = gap_words(done.timber.figure("timber.gap_laid_26"), project.units, project.locale)
    assert f"\u00a0{unit} (" in told


def test_an_override_is_said_right_after_the_refusal(examples):
    project, done = worked(
        examples["weaving-studio"],
        readings=(Reading(date=date(2028, 5, 1), value=0.38),),
        lay_anyway="the roof must close before the rains",
    )
    said = answer(project, done)
    assert said[0].startswith("Not ready: the meter said wet")
    assert "the roof must close before the rains" in said[1]
