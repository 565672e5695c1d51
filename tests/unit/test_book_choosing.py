"""Are single sheets found by their marks, and is a wrong name answered with the right ones?"""

import pypdf
import pytest

import book_samples as samples
from cordwright.book import assemble, find_unknown, only_sheets, write_book, write_sheets


@pytest.fixture(scope="module")
def book():
    return assemble(samples.sample_project(), samples.sample_reckoning(), samples.TODAY)


def test_sheets_are_chosen_by_mark_or_address_in_the_order_of_the_job(book):
    assert [s.mark for s in only_sheets(book, ["mix", " PLAN", "panel-s", "Mix"]).sheets] == ["PLAN", "S", "MIX"]
    assert find_unknown(book, ["mix", "PLAN", "panel-s"]) == ()


def test_a_wrong_name_is_answered_with_the_nearest_and_all_there_are(book):
    (problem,) = find_unknown(book, ["MIX", "plna"])
    assert str(problem).startswith(
        "--only:1: sheets[1]: this book has no sheet 'plna'; the nearest is PLAN; the sheets are"
    )
    assert all(sheet.mark in problem.hint for sheet in book.sheets)
    (far,) = find_unknown(book, ["zzzzzz"])
    assert "nearest" not in far.message


def test_single_sheets_come_as_one_file_and_touch_no_other(book, tmp_path):
    folder = tmp_path / "book"
    write_book(samples.sample_project(), samples.sample_reckoning(), folder, today=samples.TODAY)
    before = {p.name: p.read_bytes() for p in folder.iterdir()}
    path = write_sheets(only_sheets(book, ["FIRST", "MIX"]), folder, today=samples.TODAY)
    assert path.name == "sheets-first-mix.pdf"
    pages = [page.extract_text() for page in pypdf.PdfReader(path).pages]
    assert "Mortar, one batch" in pages[-1]
    assert "Sheets of this book" in pages[0]
    assert {p.name: p.read_bytes() for p in folder.iterdir() if p != path} == before
    assert [p.name for p in tmp_path.iterdir()] == ["book"]
