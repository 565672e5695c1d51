"""Do our own verdicts, headings, labels and messages hold no word of approval?"""

import re
from collections.abc import Iterator
from pathlib import Path

from tree import ROOT, SRC, modules, short, strings

APPROVAL = re.compile(r"\b(safe|ok|okay|approved|compliant|pass|passes|passed)\b", re.IGNORECASE)
EXCEPTIONS = Path(__file__).with_name("word_exceptions.txt")
TEXTS = (".toml", ".html", ".jinja", ".j2", ".typ", ".css", ".js", ".svg", ".txt", ".md", ".csv")


def _exceptions() -> list[str]:
    """The trade terms in which such a word is no verdict, longest first."""
    lines = EXCEPTIONS.read_text(encoding="utf-8").splitlines()
    return sorted((line for line in lines if line and not line.startswith("#")), key=len, reverse=True)


def _printed() -> Iterator[tuple[str, str]]:
    for path in modules():
        yield from ((short(path, line), text) for line, text in strings(path))
    for path in sorted(SRC.rglob("*")):
        if path.suffix in TEXTS and path.name != "sources.toml":
            lines = path.read_text(encoding="utf-8").splitlines()
            yield from ((short(path, n), line) for n, line in enumerate(lines, 1))
    for path in sorted((ROOT / "examples").glob("*/*")):
        if path.suffix in TEXTS:
            yield short(path), path.read_text(encoding="utf-8")


def _without(text: str, terms: list[str]) -> str:
    for term in terms:
        text = text.replace(term, "")
    return text


def test_no_word_of_approval_is_printed() -> None:
    terms = _exceptions()
    found = [f"{place}: {text.strip()[:90]}" for place, text in _printed() if APPROVAL.search(_without(text, terms))]
    assert found == []


def test_every_exception_is_a_trade_term_that_stands_somewhere() -> None:
    texts = "\n".join(text for _, text in _printed())
    assert [term for term in _exceptions() if term not in texts or not APPROVAL.search(term)] == []


def test_the_search_sees_a_verdict_when_there_is_one() -> None:
    assert APPROVAL.search("The wall is safe.")
    assert APPROVAL.search("beam: OK")
    assert not APPROVAL.search("percent passing a sieve")
    assert not APPROVAL.search("safety data sheet")
