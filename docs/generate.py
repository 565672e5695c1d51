"""Writes the pages that follow from the code: nomenclature, sources, validation.

`python docs/generate.py` writes them; `--check` writes nothing and ends with 1 if one of them is not what it should be.
"""

import argparse
import ast
import csv
import os
import subprocess
import sys
import tomllib
from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Any

from cordwright.base import Figure, Source, source, source_keys
from cordwright.base.units import currency_of
from cordwright.project import read
from cordwright.reckon import reckon

ROOT = Path(__file__).resolve().parents[1]
SRC = ROOT / "src" / "cordwright"
EXAMPLES = ("weaving-studio", "bakehouse", "sauna")
GENERATED = "<!-- Written by docs/generate.py; `make docs` renews it. -->"
STAGES = {
    "site": "Site and local rules",
    "plan": "Plan",
    "roof": "Roof",
    "timber": "Wood",
    "sand": "Sand",
    "mortar": "Mortar",
    "wall": "Wall",
    "season": "Season",
    "cost": "Cost",
    "diary": "Diary",
}
READ = {"yes": "read", "secondary": "known through a work that quotes it", "no": "not read"}
KINDS = {
    "standard": "Standards and codes",
    "book": "Books and reports",
    "paper": "Papers",
    "web": "Pages",
    "closed form": "Closed forms",
    "common practice": "Common practice",
    "memory": "Remembered, not checked",
    "assumption": "Our own assumptions",
    "owner": "The owner",
}


def cell(text: str) -> str:
    """Text that stays inside one cell of a table."""
    return " ".join(text.split()).replace("|", "\\|")


def table(head: Iterable[str], rows: Iterable[Iterable[str]]) -> str:
    """A table in Markdown."""
    lines = [list(head)]
    lines += [["---"] * len(lines[0]), *([cell(c) for c in row] for row in rows)]
    return "\n".join(f"| {' | '.join(line)} |" for line in lines)


def page(*parts: str) -> str:
    """One generated page."""
    return "\n\n".join([GENERATED, *(part.strip("\n") for part in parts)]) + "\n"


def nomenclature() -> str:
    """What every figure is called, in which unit, and what the trade's words mean."""
    figures = _figures_of_the_examples()
    by_stage: dict[str, list[list[str]]] = defaultdict(list)
    for key, (figure, names) in figures.items():
        by_stage[key.partition(".")[0]].append([f"`{key}`", figure.label, _unit(figure), ", ".join(names)])
    parts = []
    for stage, rows in by_stage.items():
        parts += [f"## {STAGES[stage]}", table(["key", "what it is", "unit", "stands in"], rows)]
    with (ROOT / "docs" / "glossary.tsv").open(encoding="utf-8", newline="") as file:
        terms = list(csv.reader(file, delimiter="\t"))[1:]
    return page(
        "# Nomenclature",
        "Keys are permanent: `cordwright reckon --json` prints them, price lists and local rules name them. "
        "Inside, and in JSON, everything is SI; shares are fractions with the unit 1, counts have none, money is in "
        "the project's currency.",
        *parts,
        "## The trade's words",
        table(["word", "meaning"], terms),
    )


def _figures_of_the_examples() -> dict[str, tuple[Figure, list[str]]]:
    found: dict[str, tuple[Figure, list[str]]] = {}
    for name in EXAMPLES:
        project = read(ROOT / "examples" / name).project
        if project is None:
            raise SystemExit(f"examples/{name} has errors: cordwright check examples/{name}")
        for figure in reckon(project).figures:
            found.setdefault(figure.key, (figure, []))[1].append(name)
    return found


def _unit(figure: Figure) -> str:
    if currency := currency_of(figure.unit):
        return figure.unit.replace(currency, "currency")
    return figure.unit or "count"


def sources() -> str:
    """Who says so, what of it we read, and where it is used."""
    used = _uses()
    by_kind: dict[str, list[Source]] = defaultdict(list)
    for key in sorted(source_keys()):
        by_kind[source(key).kind].append(source(key))
    parts = []
    for kind, heading in KINDS.items():
        if by_kind[kind]:
            rows = [
                [f"`{s.key}`", _title(s), READ[s.read], s.note, ", ".join(sorted(used[s.key]))] for s in by_kind[kind]
            ]
            parts += [f"## {heading}", table(["key", "source", "by us", "what of it", "used in"], rows)]
    return page(
        "# Sources",
        "Every formula, constant and table row names one of these, and each of these is named somewhere. The build "
        "book prints those that its own numbers stand on.",
        *parts,
    )


def _title(row: Source) -> str:
    who = f"{row.authors}: " if row.authors else ""
    when = ", ".join(str(part) for part in (row.edition, row.year) if part)
    return f"{who}{row.title}{f' ({when})' if when else ''}"


def _uses() -> dict[str, set[str]]:
    """Where each source is cited: the packages of the code, the packaged tables."""
    used: dict[str, set[str]] = defaultdict(set)
    for path in SRC.rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            for key in _cited_by(node):
                used[key].add(path.relative_to(SRC).parts[0].removesuffix(".py"))
    for path in (SRC / "data").glob("*.toml"):
        for key in _cited_in(tomllib.loads(path.read_text(encoding="utf-8"))):
            used[key].add(f"data/{path.name}")
    return used


def _cited_by(node: ast.AST) -> Iterator[str]:
    if (
        isinstance(node, ast.Call)
        and isinstance(node.func, ast.Name)
        and node.func.id in ("Cite", "cite")
        and node.args
    ):
        first = node.args[0]
        if isinstance(first, ast.Constant) and isinstance(first.value, str):
            yield first.value.partition(":")[0].strip()


def _cited_in(value: Any, *, inside: bool = False) -> Iterator[str]:
    if isinstance(value, dict):
        for name, part in value.items():
            yield from _cited_in(part, inside=inside or name in ("source", "sources"))
    elif isinstance(value, list):
        for part in value:
            yield from _cited_in(part, inside=inside)
    elif inside and isinstance(value, str):
        yield value.partition(":")[0].strip()


def validation() -> str:
    """What was held against which published work, and by which second opinions."""
    counts = _collected("published", "properties")
    return page(
        "# Validation",
        "Numbers that others published, held against what Cordwright computes. Tolerance is half a unit of the last "
        "printed digit; a wider one says why beside itself. Our own output never stands among them.",
        "## Published values",
        table(["checks in", "number", "source"], _checks("published", counts)),
        "## Properties and second opinions",
        "Conservation, monotony, limits and symmetry over made-up cases, and independent methods beside ours.",
        table(["checks in", "number", "what is held"], _checks("properties", counts)),
    )


def _checks(kind: str, counts: Counter[str]) -> list[list[str]]:
    rows = []
    for path in sorted((ROOT / "tests" / kind).glob("test_*.py")):
        reference = ast.get_docstring(ast.parse(path.read_text(encoding="utf-8"))) or ""
        rows.append([f"`tests/{kind}/{path.name}`", str(counts[path.name]), reference])
    return rows


def _collected(*kinds: str) -> Counter[str]:
    """How many checks pytest finds in each file of these folders, every parameter set counted."""
    folders = [f"tests/{kind}" for kind in kinds]
    command = [sys.executable, "-m", "pytest", "--collect-only", "-qq", "-p", "no:cacheprovider", *folders]
    done = subprocess.run(
        command, cwd=ROOT, env=_environment(), capture_output=True, text=True, check=False, timeout=120
    )
    if done.returncode != 0:
        raise SystemExit(f"pytest could not collect {folders}:\n{done.stdout}{done.stderr}")
    counted = (line.rpartition(": ") for line in done.stdout.splitlines() if ".py: " in line)
    return Counter({Path(name).name: int(number) for name, _, number in counted})


def _environment() -> dict[str, str]:
    """The caller's environment without what a test run around us has set."""
    return {k: v for k, v in os.environ.items() if not k.startswith(("PYTEST_", "COV_"))}


def pages() -> dict[Path, str]:
    """All generated pages as they should stand."""
    docs = ROOT / "docs"
    return {
        docs / "nomenclature.md": nomenclature(),
        docs / "sources.md": sources(),
        docs / "validation.md": validation(),
    }


def main() -> int:
    """Write the pages, or with --check only tell which differ."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--check", action="store_true")
    check = parser.parse_args().check
    stale = [
        (path, text) for path, text in pages().items() if not path.is_file() or path.read_text(encoding="utf-8") != text
    ]
    for path, text in stale:
        sys.stdout.write(f"{path.relative_to(ROOT)} {'differs; run make docs' if check else 'written'}\n")
        if not check:
            path.write_text(text, encoding="utf-8")
    return 1 if check and stale else 0


if __name__ == "__main__":
    sys.exit(main())
