"""Is the house built of small parts that say what they are?"""

import ast
import re
import statistics
from collections.abc import Iterator
from pathlib import Path

from tree import DEFINITIONS, FUNCTIONS, ROOT, modules, parsed, short

MOST_LINES_OF_A_FUNCTION = 60
MOST_LINES_OF_A_FILE = 500
BARE_IGNORE = re.compile(r"#\s*type:\s*ignore(?!\[)")


def _functions() -> Iterator[tuple[Path, ast.FunctionDef | ast.AsyncFunctionDef]]:
    for path in modules():
        yield from ((path, node) for node in ast.walk(parsed(path)) if isinstance(node, FUNCTIONS))


def _length(node: ast.FunctionDef | ast.AsyncFunctionDef) -> int:
    assert node.end_lineno is not None
    return node.end_lineno - node.lineno + 1


def test_no_function_is_long() -> None:
    long = [
        f"{short(path, node)} {node.name}" for path, node in _functions() if _length(node) > MOST_LINES_OF_A_FUNCTION
    ]
    assert long == []


def test_most_functions_are_small() -> None:
    lengths = sorted(_length(node) for _, node in _functions())
    assert statistics.median(lengths) <= 12
    assert lengths[int(0.9 * len(lengths))] <= 30


def test_no_file_is_long() -> None:
    long = {
        short(p): n for p in modules() if (n := len(p.read_text(encoding="utf-8").splitlines())) > MOST_LINES_OF_A_FILE
    }
    assert long == {}


def test_no_module_is_a_drawer_for_anything() -> None:
    assert [short(p) for p in modules() if p.stem in {"utils", "util", "helpers", "misc", "common"}] == []


def test_every_module_opens_with_what_it_is_for() -> None:
    silent = [short(p) for p in modules() if p.stat().st_size and not ast.get_docstring(parsed(p))]
    assert silent == []


def test_everything_public_has_a_docstring() -> None:
    assert [place for path in modules() for place in _undocumented(path, parsed(path))] == []


def test_every_ignored_type_names_what_is_ignored() -> None:
    places = [
        short(path, number)
        for folder in ("src", "tests", "bench", "docs")
        for path in sorted((ROOT / folder).rglob("*.py"))
        for number, line in enumerate(path.read_text(encoding="utf-8").splitlines(), 1)
        if BARE_IGNORE.search(line)
    ]
    assert places == []


def test_tests_have_names_of_their_own() -> None:
    names = [p.name for p in (ROOT / "tests").rglob("test_*.py")]
    assert sorted(n for n in set(names) if names.count(n) > 1) == []


def _undocumented(path: Path, parent: ast.Module | ast.ClassDef) -> Iterator[str]:
    for node in parent.body:
        if isinstance(node, DEFINITIONS) and not node.name.startswith("_"):
            if not ast.get_docstring(node):
                yield f"{short(path, node)} {node.name}"
            if isinstance(node, ast.ClassDef):
                yield from _undocumented(path, node)
