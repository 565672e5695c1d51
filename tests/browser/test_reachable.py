"""Can everyone read the pages: by keyboard, with a screen reader, in poor light? Axe looks at them as they stand."""

from dataclasses import replace

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import sync_playwright
from test_book_page import FLAGS

import book_samples as samples
from cordwright.base import caution
from cordwright.book import assemble
from cordwright.book.html_backend import set_page
from cordwright.book.pocket import set_pocket
from cordwright.project import read
from cordwright.reckon import reckon
from cordwright.wall.faces import faces_of
from layout_samples import bottom_up

pytestmark = pytest.mark.browser

RULES = {
    "runOnly": {"type": "tag", "values": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]}
}


@pytest.fixture(scope="module")
def browser():
    with sync_playwright() as play:
        chromium = play.chromium.launch(executable_path="/usr/bin/chromium", args=FLAGS)
        yield chromium
        chromium.close()


def faults(browser, path, width):
    """What axe finds on a page with everything opened, each with the places it stands at."""
    page = browser.new_page(viewport={"width": width, "height": 844})
    page.goto(path.as_uri())
    page.evaluate("document.querySelectorAll('details').forEach(d => d.open = true)")
    found = Axe().run(page, options=RULES).response
    page.close()
    assert len(found["passes"]) > 15, "axe has looked at the page"
    return [(v["id"], v["help"], [n["target"] for n in v["nodes"]][:3]) for v in found["violations"]]


@pytest.fixture(scope="module")
def book_page(tmp_path_factory):
    path = tmp_path_factory.mktemp("book") / "book.html"
    path.write_text(set_page(assemble(samples.sample_project(), samples.sample_reckoning(), samples.TODAY)), "utf-8")
    return path


@pytest.fixture(scope="module")
def pocket_page(examples, tmp_path_factory):
    project = read(examples["bakehouse"]).project
    plan = reckon(project).plan
    face = replace(faces_of(plan)[0])
    layout = bottom_up(face, [0.18, 0.14, 0.2, 0.12, 0.16] * 4)[0]
    panels = {face.name: next(p for p in plan.panels if p.name == face.name)}
    path = tmp_path_factory.mktemp("pocket") / "pocket.html"
    words = set_pocket(project, panels, [layout], None, [caution("alkali-burns")], slugs={face.name: "p0"}, mark="47")
    path.write_text(words, encoding="utf-8")
    return path


def test_axe_finds_nothing_on_the_page_of_the_book(browser, book_page):
    assert faults(browser, book_page, 390) == []


@pytest.mark.parametrize("width", [390, 1280])
def test_axe_finds_nothing_on_the_pocket_page(browser, pocket_page, width):
    assert faults(browser, pocket_page, width) == []


def test_axe_would_find_something(browser, tmp_path):
    path = tmp_path / "bad.html"
    path.write_text('<!DOCTYPE html><html><body><img src="x.png"><p style="color:#ccc">pale</p></body></html>', "utf-8")
    page = browser.new_page()
    page.goto(path.as_uri())
    found = {v["id"] for v in Axe().run(page, options=RULES).response["violations"]}
    page.close()
    assert {"image-alt", "html-has-lang", "color-contrast"} <= found
