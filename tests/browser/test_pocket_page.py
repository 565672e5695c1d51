"""Does the pocket page work on a phone from its own storage: the next log, the diary, its entries as a file?"""

import json
from collections import Counter
from dataclasses import fields, replace
from datetime import UTC, datetime
from pathlib import Path

import pytest
from playwright.sync_api import sync_playwright
from test_book_page import FLAGS, HOSTILE

from cordwright.base import caution
from cordwright.base.records import Laid
from cordwright.book.pocket import set_pocket
from cordwright.project import read
from cordwright.project.diary_book import Hand
from cordwright.project.diary_lines import Draft, Line, records_of
from cordwright.project.diary_taking import take
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
    page.fill("#hours", "5,5")
    open_all(page)
    page.fill("#low", "-1.5")
    page.fill("#rain", "4")
    page.select_option("#cover", "damp cloth")
    page.fill("#moisture", "16 T2-3=17,5")
    page.fill("#crack-at", "N under W2")
    page.fill("#crack", "0.4")
    page.fill("#end", "E1")
    page.fill("#mass", "4.2")
    page.fill("#spent", "12.50")
    page.fill("#spent-on", "lime")
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
        "corrects": None,
        "withdraws": None,
        "date": "2028-11-04",
        "panel": written[1][0].face.name,
        "area_m2": 0.8,
        "batches": 2,
        "sky": "dry",
        "hours": 5.5,
        "people": None,
        "trade": "laying",
        "low_degC": -1.5,
        "high_degC": None,
        "rain_mm": 4,
        "lost_h": None,
        "cover": "damp cloth",
        "moisture_percent": [16, 17.5],
        "moisture_logs": ["", "T2-3"],
        "wood_degC": None,
        "crack_at": "N under W2",
        "crack_mm": 0.4,
        "end": "E1",
        "mass_kg": 4.2,
        "spent": 12.5,
        "spent_on": "lime",
        "currency": "CLP",
        "who": None,
        "note": HOSTILE,
    }
    page.reload()
    assert page.locator("#kept li").count() == 1
    assert page.inner_text("#logs") == "0"


def open_all(page):
    for summary in page.locator("#diary summary").all():
        summary.click()


def keep_day(page, area):
    page.fill("#date", "2028-11-04")
    page.fill("#area", area)
    page.click("#keep")
    assert page.inner_text("#fault") == ""


def saved(page):
    with page.expect_download() as download:
        page.click("#save")
    return download.value.path().read_text(encoding="utf-8")


def home(text, lines=()):
    """What the diary at home makes of the phone's file: lines, and the records that stand."""
    hand = Hand(made=datetime(2028, 11, 5, tzinfo=UTC))
    taken = take(text, lines, hand, where="phone", project=HOSTILE)
    assert taken.problems == ()
    before = lines[-1].mark if lines else "0" * 64
    made = [
        Line(**{f.name: getattr(d, f.name) for f in fields(Draft)}, n=n, before=before, mark="")
        for n, d in enumerate(taken.drafts, start=len(lines) + 1)
    ]
    return [*lines, *made]


def test_all_that_a_phone_says_comes_home_once(page, written):
    page.locator("article:not([hidden]) [data-act=laid]").click()
    page.click("a[href='#diary']")
    open_all(page)
    said = {"low": "-1.5", "high": "9", "rain": "4", "lost": "1", "moisture": "16 T2-3=17,5", "wood": "8", "note": "x"}
    said |= {"crack-at": "N", "crack": "0.4", "end": "E1", "mass": "4.2", "spent": "12.5", "spent-on": "lime"}
    for name, value in said.items():
        page.fill(f"#{name}", value)
    page.select_option("#cover", "sheet")
    page.fill("#hours", "5")
    page.fill("#people", "2")
    page.click("#more")
    keep_day(page, "0.8")
    page.select_option("#trade", "peeling")
    page.fill("#hours", "3")
    page.fill("#date", "2028-11-04")
    page.click("#keep")
    text = saved(page)
    lines = home(text)
    kinds = Counter(type(e.said).__name__ for e in records_of(lines).entries)
    one_each = ["Laid", "Batches", "Weather", "Weighing", "Crack", "Spent", "Hours", "Cover", "Note"]
    assert kinds == {**dict.fromkeys(one_each, 1), "Moisture": 2}
    (_, laid_there), *_ = records_of(lines).of(Laid)
    assert (laid_there.area, laid_there.hours, laid_there.people, len(laid_there.logs)) == (0.8, 5, 2, 1)
    assert home(text, lines) == lines


def test_a_change_and_a_taking_back_keep_the_history(page):
    page.click("a[href='#diary']")
    keep_day(page, "0.8")
    keep_day(page, "0.5")
    page.locator("#kept li", has_text="0.8").get_by_role("button", name="Change").click()
    assert page.input_value("#area") == "0.8"
    page.fill("#area", "0.7")
    page.click("#keep")
    page.locator("#kept li", has_text="0.5").get_by_role("button", name="Take back").click()
    assert page.locator("#kept li").count() == 1
    page.reload()
    page.click("a[href='#diary']")
    assert "0.7 m²" in page.inner_text("#kept li")
    text = saved(page)
    assert len(json.loads(text)["entries"]) == 4
    assert [said.area for _, said in records_of(home(text)).of(Laid)] == [0.7]


def test_leaving_a_change_changes_nothing(page):
    page.click("a[href='#diary']")
    keep_day(page, "0.8")
    page.get_by_role("button", name="Change").click()
    page.fill("#area", "9")
    page.click("#leave")
    assert page.locator("#kept li").count() == 1
    assert len(json.loads(saved(page))["entries"]) == 1


def test_feet_fahrenheit_and_tubs_are_kept_in_square_metres_celsius_and_batches(browser, written, tmp_path):
    text = Path(written[0].removeprefix("file://")).read_text(encoding="utf-8")
    text = text.replace('"units": "metric"', '"units": "imperial"').replace('"tubs": 1', '"tubs": 2')
    imperial = tmp_path / "pocket.html"
    imperial.write_text(text, encoding="utf-8")
    page = browser.new_page()
    page.goto(f"{imperial.as_uri()}#diary")
    open_all(page)
    page.fill("#low", "23")
    page.fill("#rain", "0.5")
    page.fill("#mass", "10")
    page.fill("#end", "E1")
    page.fill("#buckets", "5")
    keep_day(page, "8")
    assert "8 ft²" in page.inner_text("#kept li")
    assert "5 tubs" in page.inner_text("#kept li")
    (entry,) = json.loads(saved(page))["entries"]
    assert (entry["low_degC"], entry["batches"]) == (-5, 2.5)
    assert [entry[k] for k in ("area_m2", "rain_mm", "mass_kg")] == [0.74322432, 12.7, 4.5359237]
    page.close()


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
