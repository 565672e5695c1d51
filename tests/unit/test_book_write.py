"""Does the book come out whole, the same every time, and inert whatever the owner writes in it?"""

import csv
import io
import re
from dataclasses import replace
from datetime import date
from decimal import Decimal
from html.parser import HTMLParser
from itertools import pairwise
from pathlib import Path
from xml.etree import ElementTree as ET

import openpyxl
import pypdf
import pytest

import book_samples as samples
from cordwright.base import CordwrightError, source
from cordwright.book import write as writing
from cordwright.book import write_book
from cordwright.book.assemble import assemble, slugs
from cordwright.book.content import Column, Table, as_data, drawings_in
from cordwright.book.html_backend import set_page
from cordwright.book.lettering import capped
from cordwright.book.lists import DANGEROUS, HEADS, harmless, heads, to_csv
from cordwright.book.sheets.building import panel_mark
from cordwright.book.typst_backend import printable
from cordwright.cost import CostInput, reckon_cost
from cordwright.project import read
from cordwright.reckon import reckon

A4 = (595.28, 841.89)
HONESTY = "Not reviewed by an engineer."
HOSTILE = (
    '#read("/etc/passwd")',
    "<script>alert(1)</script>",
    '"><img src=x onerror=alert(1)>',
    "</style></svg><svg onload=alert(1)>",
    '=HYPERLINK("http://x.invalid";"y")',
    "{{ 7*7 }}{% raw %}",
    '#eval("1") $x$ *b* @key <label>',
    "../../etc/passwd",
    "nul\x00bell\x07 end",
    "W" * 120,
    "many words " * 15,
)


@pytest.fixture(scope="module")
def made(tmp_path_factory):
    folder = tmp_path_factory.mktemp("book") / "out"
    paths = write_book(
        samples.sample_project(),
        samples.sample_reckoning(),
        folder,
        today=samples.TODAY,
        source_bytes_hash="abcdef0123456789",
    )
    return {p.name: p for p in paths}


def pdf_texts(data):
    reader = pypdf.PdfReader(io.BytesIO(data))
    return [page.extract_text().replace("\u200b", "") for page in reader.pages]


def squeezed(text):
    return re.sub(r"\s+", "", text.replace("\u200b", ""))


def test_every_file_of_the_book_is_there(made):
    wanted = {
        "book.pdf",
        "book.html",
        "order-list.xlsx",
        "order-list.csv",
        "plan.svg",
        "setting-out.svg",
        "building.glb",
        "section.svg",
    }
    wanted |= {f"panel-{n}.svg" for n in "senw"}
    wanted |= {f"elevation-{wind}.svg" for wind in ("north", "east", "south", "west")}
    for_cad = {name.replace(".svg", ".dxf") for name in wanted if name.endswith(".svg")}
    assert wanted | for_cad == set(made)
    assert all(p.stat().st_size for p in made.values())
    assert [p.name for p in made["book.pdf"].parent.parent.iterdir()] == ["out"]


def test_pages_are_a4_with_their_faces_inside_and_say_who_did_not_look(made):
    reader = pypdf.PdfReader(str(made["book.pdf"]))
    for number, page in enumerate(reader.pages, start=1):
        assert [float(v) for v in page.mediabox[2:]] == pytest.approx(A4, abs=0.5)
        text = page.extract_text()
        assert HONESTY in text
        assert f"sheet {number} of {len(reader.pages)}" in text
        for font in _fonts(page):
            assert any(k in font for k in ("/FontFile", "/FontFile2", "/FontFile3"))
    assert len(reader.pages) >= 17


def _fonts(page):
    for entry in (f.get_object() for f in page["/Resources"]["/Font"].values()):
        for face in entry.get("/DescendantFonts", [entry]):
            yield face.get_object()["/FontDescriptor"].get_object()


def test_only_the_faces_the_setter_carries_are_used(made):
    reader = pypdf.PdfReader(str(made["book.pdf"]))
    names = {
        f.get_object()["/BaseFont"].split("+")[-1]
        for page in reader.pages
        for f in page["/Resources"]["/Font"].values()
    }
    assert {n.split("-")[0] for n in names} <= {"LibertinusSerif", "DejaVuSansMono"}


def test_the_paper_says_what_the_page_says(made):
    paper = squeezed(" ".join(pdf_texts(made["book.pdf"].read_bytes())))
    page = made["book.html"].read_text(encoding="utf-8")
    for words in (
        "22.00 m²",
        "2.73 to 3.51",
        "not known: a wall layout is missing",
        "at least 213.90 EUR",
        "short by 0.70 m²",
        "149 litres",
    ):
        assert squeezed(words) in paper
        assert squeezed(words) in squeezed(_Page(page).text)


def test_the_same_input_gives_the_same_bytes(made, tmp_path):
    again = write_book(
        samples.sample_project(),
        samples.sample_reckoning(),
        tmp_path / "again",
        today=samples.TODAY,
        source_bytes_hash="abcdef0123456789",
    )
    for path in again:
        assert path.read_bytes() == made[path.name].read_bytes(), path.name


def test_another_day_is_another_date_and_nothing_else(tmp_path):
    book = assemble(samples.sample_project(), samples.sample_reckoning(), date(2029, 1, 2))
    assert book.foot == "Tool shed · 2 January 2029 · revision A"


class _Page(HTMLParser):
    """All the tags, attributes and words of a page."""

    def __init__(self, text):
        super().__init__()
        self.tags, self.words, self.ids = [], [], []
        self.feed(text)

    def handle_starttag(self, tag, attributes):
        self.tags.append((tag, frozenset(k for k, _ in attributes)))
        self.ids += [v for k, v in attributes if k == "id"]

    handle_startendtag = handle_starttag

    def handle_data(self, data):
        self.words.append(data)

    @property
    def text(self):
        return "".join(self.words)


def test_the_page_asks_for_nothing_and_stands_in_order(made):
    text = made["book.html"].read_text(encoding="utf-8")
    page = _Page(text)
    tags = [t for t, _ in page.tags]
    assert not {"script", "img", "iframe", "object", "link", "form", "base"} & set(tags)
    assert not [a for _, names in page.tags for a in names if a.startswith("on") or a in ("src", "style")]
    assert "default-src 'none'" in text
    assert text.startswith('<!DOCTYPE html>\n<html lang="en">')
    assert {"main", "nav", "h1"} <= set(tags)
    heads = [int(t[1]) for t in tags if re.fullmatch("h[1-6]", t)]
    assert heads[0] == 1
    assert heads.count(1) == 1
    assert all(b - a <= 1 for a, b in pairwise(heads))
    assert len(page.ids) == len(set(page.ids))
    assert page.text.count(HONESTY) == tags.count("section")
    outside = set(re.findall(r"https?://[^\s\"'<]+", text))
    assert outside == {"http://www.w3.org/2000/svg", "http://www.w3.org/1999/xlink"}


@pytest.mark.parametrize("words", HOSTILE, ids=range(len(HOSTILE)))
def test_hostile_words_stay_words_on_page_and_drawing(words):
    project, reckoning = (
        samples.renamed(samples.sample_project(), words),
        samples.renamed(samples.sample_reckoning(), words),
    )
    project = replace(project, units="metric", locale="en_GB")
    book = assemble(project, reckoning, samples.TODAY)
    plain_book = assemble(samples.sample_project(), samples.sample_reckoning(), samples.TODAY)
    page, plain_page = _Page(set_page(book)), _Page(set_page(plain_book))
    assert set(page.tags) <= set(plain_page.tags)
    assert squeezed(words.replace("\x00", "\ufffd").replace("\x07", "\ufffd")) in squeezed(page.text)
    for drawing in drawings_in(book):
        root = ET.fromstring(_svg(drawing))
        names = {e.tag.split("}")[1] for e in root.iter()}
        assert names <= {"svg", "defs", "pattern", "path", "circle", "ellipse", "rect", "g", "text"}
        assert not [k for e in root.iter() for k in e.attrib if k.startswith("on") or "href" in k]


def _svg(drawing):
    from cordwright.book.svg import to_svg

    return to_svg(drawing)


@pytest.mark.parametrize("words", [" ".join(HOSTILE[:-2]), HOSTILE[-2]], ids=["all", "long"])
def test_hostile_words_print_as_words(words, tmp_path):
    project, reckoning = (
        samples.renamed(samples.sample_project(), words),
        samples.renamed(samples.sample_reckoning(), words),
    )
    paths = write_book(project, reckoning, tmp_path / "book", today=samples.TODAY)
    pages = pdf_texts(paths[0].read_bytes())
    text = squeezed("".join(pages))
    assert squeezed(words.replace("\x00", "\ufffd").replace("\x07", "\ufffd")) in text
    assert "root:x:0" not in text
    assert all(HONESTY in page for page in pages)
    assert {p.parent for p in paths} == {tmp_path / "book"}
    assert all(re.fullmatch(r"[a-z0-9.-]{1,60}", p.name) for p in paths)


@pytest.mark.parametrize("words", HOSTILE, ids=range(len(HOSTILE)))
def test_hostile_words_are_no_formula_in_the_lists(words, tmp_path):
    reckoning = samples.renamed(samples.sample_reckoning(), words)
    rows = list(csv.reader(io.StringIO(to_csv(samples.sample_project(), reckoning.order))))
    assert not [cell for row in rows[1:] for cell in row if cell.startswith(DANGEROUS)]
    path = tmp_path / "order.xlsx"
    writing.write_workbook(samples.sample_project(), reckoning.order, path, samples.TODAY)
    sheets = openpyxl.load_workbook(path).worksheets
    items = [sheets[0].cell(n, 1 + HEADS.index("item")) for n in range(2, 2 + len(reckoning.order.lines))]
    assert [c.data_type for c in items] == ["s"] * len(items)
    cells = [c for sheet in sheets for row in sheet.iter_rows() for c in row]
    assert all(c.hyperlink is None for c in cells)
    letters = [chr(ord("A") + HEADS.index(head)) for head in ("cost", "paid", "to_pay")]
    assert [c.value for c in cells if c.data_type == "f"] == [f"=SUM({n}2:{n}{1 + len(items)})" for n in letters]


def test_dangerous_first_letters_get_a_quote_and_others_none():
    assert [harmless(c + "x") for c in "=+-@\t\r"] == ["'" + c + "x" for c in "=+-@\t\r"]
    assert harmless("lime = slaked") == "lime = slaked"


def test_the_order_list_reads_back_as_it_was_reckoned(made):
    lines = samples.sample_order().lines
    rows = list(csv.DictReader(io.StringIO(made["order-list.csv"].read_bytes().decode("utf-8"))))
    assert [r["item"] for r in rows] == [line.row.item for line in lines]
    assert [Decimal(r["cost_EUR"]) if r["cost_EUR"] else None for r in rows] == [line.cost for line in lines]
    assert [float(r["need"]) if r["need"] else None for r in rows] == [line.need for line in lines]
    sheet = openpyxl.load_workbook(made["order-list.xlsx"], data_only=True).active
    grid = [[c.value for c in row] for row in sheet.iter_rows()]
    assert grid[0] == list(heads("EUR"))
    assert {"delivery", "unit_price_EUR", "cost_low_EUR", "paid_EUR", "mass_kg", "price_source"} <= set(grid[0])
    for row, line in zip(grid[1:4], lines, strict=True):
        assert row[HEADS.index("cost")] == (None if line.cost is None else float(line.cost))
        assert row[HEADS.index("typed")] == line.row.quantity
        assert row[HEADS.index("computed")] == line.computed
    assert grid[4][HEADS.index("item")].startswith("Total, at least")
    assert grid[4][HEADS.index("cost")] == pytest.approx(213.9)


def test_an_empty_order_list_is_a_list_of_heads(tmp_path):
    order = reckon_cost(CostInput(), {})
    assert to_csv(samples.sample_project(), order).count("\r\n") == 1
    writing.write_workbook(samples.sample_project(), order, tmp_path / "o.xlsx", samples.TODAY)
    assert openpyxl.load_workbook(tmp_path / "o.xlsx").active.max_row == 1


def test_a_book_half_made_is_never_left(tmp_path, monkeypatch):
    folder = tmp_path / "book"
    write_book(samples.sample_project(), samples.sample_reckoning(), folder, today=samples.TODAY)
    before = {p.name: p.read_bytes() for p in folder.iterdir()}

    def broken(*_):
        raise CordwrightError("no page today")

    monkeypatch.setattr(writing, "set_page", broken)
    with pytest.raises(CordwrightError, match="no page today"):
        write_book(samples.sample_project(name="Other"), samples.sample_reckoning(), folder, today=samples.TODAY)
    assert {p.name: p.read_bytes() for p in folder.iterdir()} == before
    assert [p.name for p in tmp_path.iterdir()] == ["book"]


def test_a_move_that_fails_puts_the_old_book_back(tmp_path, monkeypatch):
    folder = tmp_path / "book"
    write_book(samples.sample_project(), samples.sample_reckoning(), folder, today=samples.TODAY)
    before = {p.name: p.read_bytes() for p in folder.iterdir()}
    move = Path.replace

    def stubborn(self, target):
        if Path(target).parent == folder and self.name == "plan.svg" and "aside" not in self.parts:
            raise PermissionError(13, "open in another program")
        return move(self, target)

    monkeypatch.setattr(Path, "replace", stubborn)
    with pytest.raises(CordwrightError, match="open in another program"):
        write_book(samples.sample_project(name="Other"), samples.sample_reckoning(), folder, today=samples.TODAY)
    assert {p.name: p.read_bytes() for p in folder.iterdir()} == before


def test_the_owners_own_files_stay_and_a_panel_that_is_gone_goes(tmp_path):
    folder = tmp_path / "book"
    write_book(samples.sample_project(), samples.sample_reckoning(), folder, today=samples.TODAY)
    (folder / "panel-mine.svg").write_text("<svg/>", encoding="utf-8")
    (folder / "notes.txt").write_text("mine", encoding="utf-8")
    plan = samples.sample_plan()
    fewer = samples.sample_reckoning(plan=replace(plan, panels=plan.panels[:2]))
    write_book(samples.sample_project(), fewer, folder, today=samples.TODAY)
    names = {p.name for p in folder.iterdir()}
    assert {"panel-mine.svg", "notes.txt", "panel-s.svg", "panel-e.svg"} <= names
    assert not {"panel-n.svg", "panel-w.svg"} & names


def test_progress_goes_from_little_to_all(tmp_path):
    told = []
    write_book(
        samples.sample_project(),
        samples.sample_reckoning(),
        tmp_path / "b",
        today=samples.TODAY,
        progress=lambda s, w: told.append((s, w)),
    )
    assert [s for s, _ in told] == sorted(s for s, _ in told)
    assert told[-1][0] == 1.0


def test_file_names_are_plain_and_no_two_alike():
    assert slugs(["S", "s", "Nord–Ost", "../x", "", "CON", "ööö", "日本"]) == (
        "s",
        "s-2",
        "nord-ost",
        "x",
        "5",
        "con",
        "ooo",
        "8",
    )
    assert panel_mark("SW", 3) == "SW"
    assert panel_mark("the long western wall", 3) == "P4"
    assert panel_mark("  ", 0) == "P1"


def test_long_runs_may_break_and_the_tree_stays_a_tree():
    assert printable("x" * 20) == "\u200b".join(["xxxxx"] * 4)
    assert printable({"file": "x" * 20, "rows": ["a\nb", 1, None]}) == {"file": "x" * 20, "rows": ["a b", 1, None]}
    data = as_data(Table(label="t", columns=(Column(title="c"),), rows=()))
    assert data == {
        "kind": "Table",
        "label": "t",
        "columns": [{"kind": "Column", "title": "c", "measure": False, "share": 1.0}],
        "rows": [],
        "tick": False,
    }


def test_sources_are_exactly_those_the_numbers_stand_on():
    book = assemble(samples.sample_project(), samples.sample_reckoning(), samples.TODAY)
    sheet = next(s for s in book.sheets if s.slug == "sources")
    (table,) = sheet.blocks
    said = [row.cells[1] for row in table.rows]
    titles = [source(k).title for k in ("owner", "local-rule", "paddle-practice")]
    assert [s.split(" (")[0] for s in said[:3]] == titles
    assert [row.cells[0] for row in table.rows] == [f"[{n}]" for n in range(1, len(said) + 1)]
    assert len(set(said)) == len(said)
    assert table.rows[2].cells[3] == "common practice"
    assert any("Uno" in s for s in said)


def test_a_stack_without_stems_and_a_file_without_mix_still_make_a_book(tmp_path):
    timber = replace(samples.sample_timber(), cuts=())
    project = samples.sample_project(mortar=replace(samples.sample_project().mortar, parts=()), notes=())
    reckoning = samples.sample_reckoning(timber=timber, mix=None, checks=(), cautions=(), figures=())
    paths = write_book(project, reckoning, tmp_path / "b", today=samples.TODAY)
    text = " ".join(" ".join(pdf_texts(paths[0].read_bytes())).split())
    for words in ("nothing to saw", "states no mix yet", "No check could be made", "No caution arose"):
        assert words in text


def test_a_round_imperial_book_is_set(tmp_path):
    reckoning = samples.sample_reckoning(
        plan=samples.round_plan(), wall=replace(samples.sample_reckoning().wall, panels=())
    )
    paths = write_book(samples.round_project(), reckoning, tmp_path / "b", today=samples.TODAY)
    text = " ".join(pdf_texts(paths[0].read_bytes()))
    assert "ft²" in text
    assert "to the foot" in text
    assert "gallons" in text


def test_the_books_of_the_examples_are_whole(example, tmp_path):
    project = read(example).project
    reckoning = reckon(project)
    paths = {p.name: p for p in write_book(project, reckoning, tmp_path / "book", today=samples.TODAY)}
    pages = pdf_texts(paths["book.pdf"].read_bytes())
    assert all(HONESTY in page for page in pages)
    text = squeezed("".join(pages))
    for panel in reckoning.plan.panels:
        assert squeezed(f"Panel {panel.name}, seen from inside") in text
    for cut in reckoning.timber.cuts:
        assert squeezed(cut.stem.name) in text
    rows = list(csv.DictReader(io.StringIO(paths["order-list.csv"].read_bytes().decode("utf-8"))))
    money = f"cost_{project.cost.currency}"
    assert [Decimal(r[money]) if r[money] else None for r in rows] == [
        line.cost for line in reckoning.order.by_delivery
    ]
    assert len({d.name for d in drawings_in(assemble(project, reckoning, samples.TODAY))}) > 10
    for name, path in paths.items():
        if name.endswith(".svg"):
            ET.parse(path)


def test_every_drawing_of_a_book_has_a_name_of_its_own(example):
    project = read(example).project
    drawings = list(drawings_in(assemble(project, reckon(project), samples.TODAY)))
    pictures = {d.name: d for d in drawings}
    assert all(pictures[d.name] == d for d in drawings)


def test_every_figure_with_a_working_is_explained():
    book = assemble(samples.sample_project(), samples.sample_reckoning(), samples.TODAY)
    why = next(s for s in book.sheets if s.slug == "why")
    asked = [b.question for b in why.blocks if hasattr(b, "question")]
    assert asked == [capped(f.label) for f in samples.sample_reckoning().figures] + [
        capped(c.label) for c in samples.sample_reckoning().checks
    ]
