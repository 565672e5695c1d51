"""Does the pocket page work on a phone from its own storage: the next log, the diary, its entries as a file?"""

import json
from dataclasses import replace

import pytest
from playwright.sync_api import sync_playwright
from test_book_page import FLAGS, HOSTILE

from cordwright.base import caution
from cordwright.book.pocket import set_pocket
from cordwright.project import read
from cordwright.reckon import reckon
from cordwright.wall.faces import faces_of
from layout_samples import bottom_up

pytestmark = pytest.mark.browser


@pytest.fixture(scope="module")
def browser():
    with sync_playwright() as play:
        chromium = play.chromium.launch(executable_path="/usr/bin/chromium", args=FLAGS)
        yield chromium
        chromium.close()


@pytest.fixture(scope="module")
def written(examples, tmp_path_factory):
    """The bakehouse's first two panels, their feet laid by hand, as a file, with a hostile name on everything."""
    project = read(examples["bakehouse"]).project
    plan = reckon(project).plan
    project = replace(project, name=HOSTILE)
    faces = [replace(f, name=f"{f.name} {HOSTILE}") for f in faces_of(plan)[:2]]
    panels = {f.name: replace(p, name=f.name) for f, p in zip(faces, plan.panels, strict=False)}
    layouts = [bottom_up(face, [0.18, 0.14, 0.2, 0.12, 0.16] * 4)[0] for face in faces]
    slugs = {face.name: f"p{n}" for n, face in enumerate(faces)}
    text = set_pocket(project, panels, layouts, None, [caution("alkali-burns")], slugs=slugs, mark="4711")
    path = tmp_path_factory.mktemp("pocket") / "pocket.html"
    path.write_text(text, encoding="utf-8")
    return path.as_uri(), layouts


@pytest.fixture
def page(browser, written):
    context = browser.new_context(viewport={"width": 390, "height": 844}, accept_downloads=True)
    page = context.new_page()
    page.said, page.asked = [], []
    page.on("console", lambda m: page.said.append(m.text))
    page.on("pageerror", lambda e: page.said.append(str(e)))
    page.on("request", lambda r: page.asked.append(r.url))
    page.goto(written[0])
    yield page
    assert page.said == []
    assert [url for url in page.asked if not url.startswith(("file:", "blob:"))] == []
    context.close()


def laid(page):
    return page.locator("article:not([hidden]) li.laid").evaluate_all("rows => rows.map(r => r.dataset.log)")


def test_logs_are_laid_in_order_and_stay_laid_when_the_page_is_opened_again(page, written):
    order = [p.log.id for p in sorted(written[1][0].placements, key=lambda p: p.order)]
    for _ in range(3):
        page.locator("article:not([hidden]) [data-act=laid]").click()
    assert sorted(laid(page)) == sorted(order[:3])
    page.locator("article:not([hidden]) [data-act=back]").click()
    page.reload()
    assert sorted(laid(page)) == sorted(order[:2])
    assert "2 laid" in page.inner_text("#next")


def test_the_nearest_log_is_picked_and_told(page, written):
    last = written[1][0].placements[-1]
    page.locator("article:not([hidden]) [data-act=zoom]").click()
    box = page.locator(f"article:not([hidden]) g[data-name='{last.log.id}']").bounding_box()
    page.mouse.click(box["x"] + box["width"] * 0.9, box["y"] + box["height"] * 0.9)
    about = page.inner_text("article:not([hidden]) .about")
    assert f"{last.log.id} of {last.log.stem}" in about
    assert "mm" in about


def test_a_day_is_kept_and_comes_out_as_a_file_in_the_documented_form(page, written):
    first = [p.log.id for p in sorted(written[1][0].placements, key=lambda p: p.order)][:2]
    for _ in first:
        page.locator("article:not([hidden]) [data-act=laid]").click()
    page.click("a[href='#diary']")
    page.fill("#date", "2028-11-04")
    page.fill("#area", "0,8")
    page.click("#more")
    page.click("#more")
    page.click("label.sky >> text=dry")
    page.click("#diary summary")
    page.fill("#low", "-1.5")
    page.fill("#moisture", "16 17,5")
    page.fill("#note", HOSTILE)
    page.click("#entry button[type=submit]")
    assert page.inner_text("#fault") == ""
    with page.expect_download() as download:
        page.click("#save")
    content = json.loads(download.value.path().read_text(encoding="utf-8"))
    assert (content["schema"], content["kind"], content["mark"]) == (1, "cordwright-diary", "4711")
    assert content["project"] == HOSTILE
    (entry,) = content["entries"]
    assert sorted(entry.pop("logs")) == sorted(first)
    assert entry.pop("id")
    assert entry.pop("made").startswith("20")
    assert entry == {
        "date": "2028-11-04",
        "panel": written[1][0].face.name,
        "area_m2": 0.8,
        "batches": 2,
        "sky": "dry",
        "hours": None,
        "low_degC": -1.5,
        "high_degC": None,
        "moisture_percent": [16, 17.5],
        "note": HOSTILE,
    }
    page.reload()
    assert page.locator("#kept li").count() == 1
    assert page.inner_text("#logs") == "0"


@pytest.mark.parametrize(
    ("field", "value"), [("#area", "a lot"), ("#area", "-1"), ("#buckets", "1e9"), ("#area", "1.2.3")]
)
def test_what_is_no_number_is_refused_in_words_and_nothing_is_lost(page, field, value):
    page.click("a[href='#diary']")
    page.fill("#date", "2028-11-04")
    page.fill(field, value)
    page.click("#entry button[type=submit]")
    assert f'"{value}" is not a number' in page.inner_text("#fault")
    assert page.input_value(field) == value
    assert page.locator("#kept li").count() == 0


@pytest.mark.parametrize("width", [360, 390])
def test_it_never_scrolls_sideways_and_every_target_is_a_thumb_wide(browser, written, width):
    page = browser.new_page(viewport={"width": width, "height": 844})
    page.goto(written[0])
    for part in ("laying", "batch", "diary"):
        page.click(f"a[href='#{part}']")
        assert page.evaluate("document.documentElement.scrollWidth") == width
        heights = page.locator("button:visible, .rod a:visible, summary:visible, .sky span:visible").evaluate_all(
            "targets => targets.map(t => t.getBoundingClientRect().height)"
        )
        assert min(heights) >= 48
    page.close()


def test_without_scripts_every_log_is_there_to_read(browser, written):
    context = browser.new_context(java_script_enabled=False, viewport={"width": 390, "height": 844})
    page = context.new_page()
    page.goto(written[0])
    assert page.locator("article.panel").count() == 2
    assert page.locator("li[data-log]").count() == sum(len(each.placements) for each in written[1])
    assert page.locator("#entry").is_hidden()
    context.close()
