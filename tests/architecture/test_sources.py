"""Does every number say where it comes from, and is every source that stands in the table cited?"""

import ast
import re
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from tree import SRC, modules, parsed, short

from cordwright.base import source, source_keys, table

KINDS = {"standard", "book", "paper", "web", "closed form", "common practice", "memory", "assumption", "owner"}
TABLES = sorted(p for p in (SRC / "data").glob("*.toml") if p.name != "sources.toml")


def _cites() -> Iterator[tuple[Path, ast.Call]]:
    for path in modules():
        for node in ast.walk(parsed(path)):
            if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in ("Cite", "cite"):
                yield path, node


def _literal(node: ast.Call) -> str | None:
    """The key a Cite("key", ...) or cite("key: where") names, None when it is not written out."""
    first = node.args[0] if node.args else None
    if not (isinstance(first, ast.Constant) and isinstance(first.value, str)):
        return None
    return first.value.partition(":")[0].strip()


def _table_cites(value: Any, *, inside: bool = False) -> Iterator[str]:
    """The short cites of one packaged table: every text under a key `source` or `sources`."""
    if isinstance(value, dict):
        for name, part in value.items():
            yield from _table_cites(part, inside=inside or name in ("source", "sources"))
    elif isinstance(value, list):
        for part in value:
            yield from _table_cites(part, inside=inside)
    elif inside and isinstance(value, str):
        yield value.partition(":")[0].strip()


def _tables() -> dict[str, dict[str, Any]]:
    return {path.name: tomllib.loads(path.read_text(encoding="utf-8")) for path in TABLES}


def _cited_in_tables() -> set[str]:
    return {key for rows in _tables().values() for key in _table_cites(rows)}


def _cited_in_code() -> set[str]:
    return {key for _, node in _cites() if (key := _literal(node)) is not None}


def test_every_cite_is_written_out() -> None:
    """A Cite that is computed can only come of the short form in a table's row, by `cite`; never `Cite(expression)`."""
    wrong = [
        short(path, node)
        for path, node in _cites()
        if _literal(node) is None
        and isinstance(node.func, ast.Name)
        and node.func.id == "Cite"
        and path.name != "tables.py"
    ]
    assert wrong == []


def test_every_cited_key_exists() -> None:
    assert sorted((_cited_in_code() | _cited_in_tables()) - source_keys()) == []


def test_no_source_is_dead() -> None:
    assert sorted(source_keys() - _cited_in_code() - _cited_in_tables()) == []


@pytest.mark.parametrize("key", sorted(source_keys()))
def test_a_source_says_what_it_is_and_whether_it_was_read(key: str) -> None:
    row = source(key)
    assert row.kind in KINDS
    assert row.read in ("yes", "secondary", "no")
    assert "read" in table("sources")[key], "said, not taken for granted"
    assert row.title
    assert re.fullmatch(r"[A-Za-z0-9][A-Za-z0-9.-]*", key)
    if row.kind in ("standard", "book", "paper"):
        assert row.authors, "a published work has someone who wrote it"
    if row.kind == "memory":
        assert row.read == "no", "what is remembered was not read"


@pytest.mark.parametrize("name", [p.name for p in TABLES])
def test_every_row_of_a_table_names_its_source(name: str) -> None:
    rows = _tables()[name]
    bare = [key for key, row in rows.items() if not list(_table_cites(row))]
    assert bare == []
    assert rows


def test_cautions_are_the_twenty_six_and_say_harm_deed_and_judge() -> None:
    rows = _tables()["cautions.toml"]
    assert list(rows) == CAUTIONS.split()
    for key, row in rows.items():
        assert set(row) == {"harm", "do", "decides", "sources"}, key
        assert row["harm"].endswith(".")
        assert row["harm"].count(". ") == 0, f"{key}: the harm is one sentence"
        assert row["do"].endswith(".")
        assert row["decides"]


CAUTIONS = """
load-path thrust earthquake snow frost-heave excavation silica-dust alkali-burns carbon-monoxide stove-flue fill-fire
preservatives mould-rot dirty-sand wood-sugar frost-on-work electricity felling heights lifting escape sauna air-quality
salvage permits honesty
"""
