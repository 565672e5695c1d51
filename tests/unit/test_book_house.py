"""The sheets of stove and firewood and of rain and damp: charts on their paper, words that say what is missing."""

from dataclasses import replace

import pytest

from cordwright.book import damp_words, house_words
from cordwright.book.content import CautionBox, Items, Paragraph, Picture, Table, drawings_in
from cordwright.book.drawing import Path, Text, every
from cordwright.book.house_drawing import board_of, by_kind, order_of, week_of
from cordwright.book.house_page import house_drawings, house_lines, write_house_drawings
from cordwright.book.lettering import lettering_of, plain_lettering
from cordwright.book.sheets.warm import damp_sheet, warm_sheet
from cordwright.book.svg import to_svg
from cordwright.heat.house_inputs import HouseInput
from cordwright.heat.winter import Mark
from cordwright.project import read
from cordwright.reckon import reckon
from house_samples import HouseYears


def worked(folder, year=False, **words):
    project = read(folder).project
    house = replace(project.heat.house, **words)
    project = replace(project, heat=replace(project.heat, house=house), mortar=replace(project.mortar, sands=()))
    return project, reckon(project, studies=HouseYears() if year else None)


@pytest.fixture(scope="module")
def studio(examples):
    return worked(examples["weaving-studio"], year=True)


def test_every_chart_stays_on_its_paper_and_has_words(studio):
    drawings = list(house_drawings(*studio))
    names = ["losses", "stove-months", "mornings", "stove-week", "rain", "first-winter"]
    assert [d.name for d in drawings] == names
    for drawing in drawings:
        assert drawing.label
        for shape in every(drawing.shapes):
            points = shape.points if isinstance(shape, Path) else [shape.at] if isinstance(shape, Text) else []
            for x, y in points:
                assert -0.01 <= x <= drawing.width + 0.01, (drawing.name, shape)
                assert -0.01 <= y <= drawing.height + 0.01, (drawing.name, shape)
        assert to_svg(drawing).startswith("<svg")


def test_the_sheet_of_the_stove_says_who_decides(studio):
    project, done = studio
    (sheet,) = warm_sheet(project, done, lettering_of(project, done))
    assert sheet.mark == "WARM"
    text = " ".join(b.text for b in sheet.blocks if isinstance(b, Paragraph))
    assert "licensed installer" in text
    assert "local code" in text
    assert "for review" in text
    assert len([b for b in sheet.blocks if isinstance(b, CautionBox)]) == 2
    assert len(list(drawings_in(sheet.blocks))) >= 4


def test_what_is_missing_stands_on_the_sheet_as_a_list(examples):
    project, done = worked(examples["bakehouse"])
    (sheet,) = warm_sheet(project, done, plain_lettering(project))
    (wanted,) = [b for b in sheet.blocks if isinstance(b, Items)]
    assert wanted.tick
    assert any("heat.roof" in item for item in wanted.items)
    assert "is missing" in sheet.blocks[0].text or "are missing" in sheet.blocks[0].text
    assert not [b for b in sheet.blocks if isinstance(b, Picture)]


def test_a_building_that_is_not_heated_has_no_sheet_of_stoves(examples):
    project, done = worked(examples["sauna"])
    assert project.heat.house == HouseInput()
    assert warm_sheet(project, done, plain_lettering(project)) == ()
    (sheet,) = damp_sheet(project, done, plain_lettering(project))
    assert sheet.mark == "DAMP"
    said = "\n".join(house_lines(project, done))
    assert "write how warm the room is wanted under [heat]" in said


def test_lines_give_the_answer_first(studio):
    lines = list(house_lines(*studio))
    assert "not reviewed by an engineer" in lines[0]
    assert lines[1].startswith("The building loses")
    said = "\n".join(lines)
    for words in ("what would change it most", "panels, the dampest first", "Common practice, no source"):
        assert words in said
    assert "walls that have grown cold must be warmed through again" in said


def test_alike_panels_share_a_row_until_the_rain_has_a_side(examples):
    project, done = worked(examples["weaving-studio"])
    rows = damp_words.panel_rows(done.warmth.damp, plain_lettering(project))
    assert [r[0] for r in rows] == ["S", "SE, E, NE, N, NW, W, SW"]
    sided = worked(examples["weaving-studio"], rain_side=4.0)[1]
    assert len(damp_words.panel_rows(sided.warmth.damp, plain_lettering(project))) > 4


def test_months_run_through_the_winter_on_both_halves_of_the_earth():
    assert order_of(False)[0] == 6
    assert order_of(True)[0] == 0
    assert board_of(800) == 50
    assert board_of(30) == 2


def test_losses_are_gathered_and_sorted(studio):
    rows = by_kind(studio[1].warmth.house.losses)
    assert [band[1] for _, band in rows] == sorted((band[1] for _, band in rows), reverse=True)
    assert sum(band[1] for _, band in rows) == pytest.approx(sum(p.loss[1] for p in studio[1].warmth.house.losses))


def test_the_hardest_week_is_the_one_with_most_fire(studio):
    year = studio[1].warmth.house.year
    first = week_of(year)
    best = year.run.fire[first : first + 168].sum()
    assert best >= max(year.run.fire[d : d + 168].sum() for d in range(0, 8760 - 168, 24 * 7))


def test_changes_that_cost_say_so(studio):
    rows = house_words.change_rows(studio[1].warmth.house, plain_lettering(studio[0]))
    longer = next(r for r in rows if r[0].startswith("Log ends") and r[0].endswith("shorter"))
    assert longer[2].startswith("more by")
    assert longer[3].endswith("more")


def test_readings_are_black_diamonds(studio):
    from cordwright.book.damp_drawing import draw_winter

    made = studio[1].warmth.winter
    day = made.heated_from
    plain = draw_winter(made, plain_lettering(studio[0]))
    marked = draw_winter(
        replace(made, moistures=(Mark(day=day, value=0.14),), gaps=(Mark(day=day, value=3e-4),)),
        plain_lettering(studio[0]),
    )
    black = [s for s in marked.shapes if isinstance(s, Path) and s.tone == "black"]
    assert len(black) == len([s for s in plain.shapes if isinstance(s, Path) and s.tone == "black"]) + 2


def test_a_folder_that_cannot_be_written_is_told(studio, tmp_path):
    from cordwright.base import CordwrightError

    blocked = tmp_path / "file"
    blocked.write_text("in the way")
    with pytest.raises(CordwrightError, match="could not be written"):
        write_house_drawings(*studio, blocked)


def test_tables_hold_no_empty_cell(studio):
    project, done = studio
    for sheet in (
        *warm_sheet(project, done, plain_lettering(project)),
        *damp_sheet(project, done, plain_lettering(project)),
    ):
        for block in sheet.blocks:
            if isinstance(block, Table) and block.label not in ("Damp", "Heat", "First winter"):
                assert all(all(row.cells) for row in block.rows), block.label
