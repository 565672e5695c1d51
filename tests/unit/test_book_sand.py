"""The sheet of sands: one page, inside its frame, names beside their own lines, words in the owner's language."""

from dataclasses import replace
from datetime import date
from io import BytesIO

import pypdf
import pytest

from cordwright.book.content import Book, CautionBox, Table, drawings_in
from cordwright.book.drawing import Circle, Hatch, Path, Text
from cordwright.book.sand_drawing import WIDTH, draw_sands
from cordwright.book.sand_page import sand_lines
from cordwright.book.sheets.sand import answer, marks_of, sand_sheet
from cordwright.book.typst_backend import set_pdf
from cordwright.mortar import SandInput, reckon_sands
from cordwright.project import read
from cordwright.reckon import reckon


@pytest.fixture(scope="module")
def sheets(examples):
    made = {}
    for name, folder in examples.items():
        project = read(folder).project
        (made[name],) = sand_sheet(project, reckon(project))
    return made


def shapes(sheet):
    (drawing,) = drawings_in(sheet.blocks)
    return drawing, drawing.shapes


def tables(sheet):
    return [b for b in sheet.blocks if isinstance(b, Table)]


@pytest.mark.parametrize("name", ["weaving-studio", "sauna", "bakehouse"])
def test_it_is_one_page(sheets, name, tmp_path):
    book = Book(title="sands", foot="", file_mark="", sheets=(sheets[name],))
    assert len(pypdf.PdfReader(BytesIO(set_pdf(book, tmp_path, date(2028, 5, 13)))).pages) == 1
    assert any(isinstance(b, CautionBox) for b in sheets[name].blocks)


@pytest.mark.parametrize("name", ["weaving-studio", "sauna", "bakehouse"])
def test_all_of_the_drawing_lies_on_its_paper(sheets, name):
    drawing, drawn = shapes(sheets[name])
    ends = [p for s in drawn if isinstance(s, Path) for p in s.points] + [s.at for s in drawn if isinstance(s, Text)]
    assert all(-0.01 <= x <= WIDTH + 0.01 and -0.01 <= y <= drawing.height + 0.01 for x, y in ends)


def test_the_refused_sand_is_dimensioned_and_the_grains_keep_one_scale(sheets):
    drawing, drawn = shapes(sheets["weaving-studio"])
    words = [s.text for s in drawn if isinstance(s, Text)]
    assert "lake beach 21,4 over at No.30" in words
    assert {"pit", "lake beach", "crushed 0/4", "blend 1", "blend 2"} <= set(words)
    grains = [s.radius for s in drawn if isinstance(s, Circle) and s.layer == "reference"][-3:]
    assert grains[1] == pytest.approx(2 * grains[0])
    assert grains[2] == pytest.approx(4 * grains[0])
    assert "Passing curves" in drawing.label


def test_the_sheet_tells_what_fails_and_by_how_much(sheets):
    figures, judged = tables(sheets["weaving-studio"])
    assert figures.rows[0].cells[:4] == ("pit", "nearly fits", "2,51", "2,75")
    assert figures.rows[1].cells[1] == "outside"
    assert judged.rows[1].cells[1].startswith("No.30 21,4 over, No.50 16,0 over")
    assert "buckets 2 : 3" in judged.rows[4].cells[1]


def test_the_sauna_has_numbered_sieves(sheets):
    words = [s.text for s in shapes(sheets["sauna"])[1] if isinstance(s, Text)]
    assert [w for w in words if w.startswith("No.")] == ["No.100", "No.50", "No.30", "No.16", "No.8", "No.4"]


def test_a_sand_only_settled_is_drawn_as_a_jar(sheets):
    drawing, drawn = shapes(sheets["bakehouse"])
    assert drawing.name == "jars"
    assert any(isinstance(s, Hatch) and s.material == "sand" for s in drawn)
    assert "8,6\u00a0% silt" in [s.text for s in drawn if isinstance(s, Text)]


@pytest.mark.parametrize("units", ["metric", "imperial"])
def test_a_gravel_and_many_sands_stay_on_the_paper(examples, units):
    project = read(examples["weaving-studio"]).project
    gravel = SandInput(
        name="gravel of the upper field " * 4,
        slug="gravel",
        openings=(63e-3, 31.5e-3, 8e-3, 2e-3, 0.5e-3, 0.02e-3),
        passing=(1.0, 0.9, 0.6, 0.4, 0.2, 0.0),
    )
    many = tuple(replace(gravel, name=f"{n} {gravel.name}", slug=f"gravel{n}") for n in range(2))
    sands = reckon_sands((*project.mortar.sands, *many))
    drawing = draw_sands(marks_of(replace(project, units=units), sands))
    for shape in drawing.shapes:
        points = shape.points if isinstance(shape, Path) else ()
        if isinstance(shape, Circle):
            points = [(x, shape.centre[1] + s * shape.radius) for x in (shape.centre[0],) for s in (-1, 1)]
        if isinstance(shape, Text):
            points = (shape.at,)
        assert all(0 <= x <= WIDTH and 0 <= y <= drawing.height for x, y in points)


def test_without_sands_there_is_no_sheet(examples):
    project = read(examples["sauna"]).project
    bare = replace(project, mortar=replace(project.mortar, sands=()))
    assert sand_sheet(bare, reckon(bare)) == ()


def test_the_pit_sand_is_said_to_fit_nearly_in_a_sentence(examples):
    project = read(examples["weaving-studio"]).project
    sands = reckon(project).sands
    first, more = answer(project, sands)
    assert first == (
        "Pit: nearly fits, short at No.8 alone: 90 % against 95-100, off by 4,5 points; "
        "the mortar made with it decides."
    )
    assert "outside, worst at No.30: 96 % against 40-75, off by 21,4 points" in more


def test_percents_in_the_remarks_have_the_owners_decimal_sign(examples):
    project = read(examples["weaving-studio"]).project
    said = "\n".join(sand_lines(project, reckon(project).sands))
    assert "silt and clay 6,1 % by settled height, more than 5 %" in said
    assert "6.1" not in said
