"""Reading the source tree for the architecture tests: modules, their syntax, their strings."""

import ast
from collections.abc import Iterator
from functools import cache
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
SRC = ROOT / "src" / "cordwright"
SHELLS = frozenset({"project", "book", "cli", "web", "data", "examples"})
"""The packages that may touch files and pages; everything else in the package computes."""

DEFINITIONS = (ast.FunctionDef, ast.AsyncFunctionDef, ast.ClassDef)
FUNCTIONS = (ast.FunctionDef, ast.AsyncFunctionDef)


@cache
def modules() -> tuple[Path, ...]:
    """Every Python file of the package."""
    return tuple(sorted(SRC.rglob("*.py")))


@cache
def parsed(path: Path) -> ast.Module:
    """The syntax tree of one file."""
    return ast.parse(path.read_text(encoding="utf-8"), filename=str(path))


def short(path: Path, node: ast.AST | int | None = None) -> str:
    """A place to look: file and line, from the top of the checkout."""
    line = node if isinstance(node, int) else getattr(node, "lineno", None)
    name = path.relative_to(ROOT).as_posix()
    return name if line is None else f"{name}:{line}"


def area(path: Path) -> str:
    """The package or module directly under `cordwright` that a file belongs to."""
    return path.relative_to(SRC).parts[0].removesuffix(".py")


def computing_modules() -> Iterator[Path]:
    """Stages, case, reckon and idea: what may do no I/O. `base` reads the packaged tables and is left out."""
    return (p for p in modules() if area(p) not in SHELLS | {"base", "__init__", "__main__"})


def docstrings(tree: ast.AST) -> set[int]:
    """The identities of the constants that are docstrings (of modules, classes, functions and fields)."""
    bodies = (node.body for node in ast.walk(tree) if isinstance(node, (ast.Module, *DEFINITIONS)))
    lone = (s.value for body in bodies for s in body if isinstance(s, ast.Expr))
    return {id(v) for v in lone if isinstance(v, ast.Constant) and isinstance(v.value, str)}


def strings(path: Path) -> Iterator[tuple[int, str]]:
    """Every string a module may print, with its line; docstrings are not printed and left out."""
    tree = parsed(path)
    ours = docstrings(tree)
    for node in ast.walk(tree):
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in ours:
            yield node.lineno, node.value
