"""Does the book stand on a phone, ask for nothing, and keep hostile names quiet?"""

import pytest
from playwright.sync_api import sync_playwright

import book_samples as samples
from cordwright.book.assemble import assemble
from cordwright.book.html_backend import set_page

pytestmark = pytest.mark.browser

FLAGS = [
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]
HOSTILE = '"><img src=x onerror=alert(1)><script>alert(2)</script>' + "W" * 200


@pytest.fixture(scope="module")
def browser():
    with sync_playwright() as play:
        chromium = play.chromium.launch(executable_path="/usr/bin/chromium", args=FLAGS)
        yield chromium
        chromium.close()


@pytest.fixture(scope="module")
def address(tmp_path_factory):
    book = assemble(
        samples.renamed(samples.sample_project(), HOSTILE),
        samples.renamed(samples.sample_reckoning(), HOSTILE),
        samples.TODAY,
    )
    path = tmp_path_factory.mktemp("page") / "book.html"
    path.write_text(set_page(book), encoding="utf-8")
    return path.as_uri()


@pytest.mark.parametrize("width", [360, 390, 1280])
def test_a_hostile_book_is_quiet_and_never_scrolls_sideways(browser, address, width):
    page = browser.new_page(viewport={"width": width, "height": 844})
    dialogs, requests, complaints = [], [], []
    page.on("dialog", lambda d: (dialogs.append(d.message), d.dismiss()))
    page.on("request", lambda r: requests.append(r.url))
    page.on("console", lambda m: complaints.append(m.text))
    page.goto(address)
    page.evaluate("document.querySelectorAll('details').forEach(d => d.open = true)")
    page.wait_for_timeout(100)
    assert dialogs == []
    assert requests == [address]
    assert complaints == []
    assert page.evaluate("document.documentElement.scrollWidth") == width
    assert page.evaluate("document.querySelectorAll('script, img').length") == 0
    assert HOSTILE in page.evaluate("document.querySelector('h1').textContent")
    page.close()


def test_links_are_wide_enough_for_a_thumb(browser, address):
    page = browser.new_page(viewport={"width": 390, "height": 844})
    page.goto(address)
    heights = page.evaluate("[...document.querySelectorAll('a, summary')].map(a => a.getBoundingClientRect().height)")
    assert min(heights) >= 48 - 0.5
    page.close()


def test_the_page_prints_with_a_sheet_a_page(browser, address):
    page = browser.new_page()
    page.goto(address)
    page.emulate_media(media="print")
    breaks = page.evaluate("[...document.querySelectorAll('section')].map(s => getComputedStyle(s).breakBefore)")
    assert set(breaks) == {"page"}
    assert page.evaluate("getComputedStyle(document.querySelector('.rod')).display") == "none"
    page.close()
