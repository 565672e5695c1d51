"""Does every module import only what comes earlier in the job, and do stages stay away from files and clocks?"""

import ast
import configparser
import os
import subprocess
import sys
from pathlib import Path

from tree import ROOT, SRC, area, computing_modules, modules, parsed, short

import cordwright

FORBIDDEN_CALLS = frozenset({"open", "print", "input", "exec", "eval", "compile", "__import__", "breakpoint"})
CLOCKS = frozenset({"now", "today", "utcnow", "time", "monotonic", "perf_counter", "default_rng", "seed"})
CLOCK_MODULES = frozenset(
    {"time", "random", "secrets", "uuid", "importlib", "sys", "locale", "platform", "urllib", "http"}
)


def _config() -> configparser.ConfigParser:
    config = configparser.ConfigParser()
    config.read(ROOT / ".importlinter")
    return config


def test_the_order_of_imports_holds() -> None:
    tool = Path(sys.executable).with_name("lint-imports")
    environment = {**os.environ, "PYTHONPATH": str(ROOT / "src"), "COLUMNS": "120"}
    done = subprocess.run(
        [tool, "--no-cache"], cwd=ROOT, env=environment, capture_output=True, text=True, timeout=60, check=False
    )
    assert done.returncode == 0, done.stdout + done.stderr
    assert "2 kept, 0 broken" in done.stdout


def test_the_no_io_contract_names_every_module_that_computes() -> None:
    named = set(_config()["importlinter:contract:no-io"]["source_modules"].split())
    assert named == {f"cordwright.{area(p)}" for p in computing_modules()}


def test_the_forbidden_list_names_every_runtime_library_that_is_not_for_numbers() -> None:
    named = set(_config()["importlinter:contract:no-io"]["forbidden_modules"].split())
    pyproject = (ROOT / "pyproject.toml").read_text(encoding="utf-8")
    shells = {"pint", "babel", "jinja2", "typst", "xlsxwriter", "typer", "rich", "tomlkit", "pydantic"}
    assert all(f'"{name}>=' in pyproject for name in shells)
    assert shells <= named


def test_stages_open_nothing_and_ask_no_clock() -> None:
    faults = [
        short(path, node)
        for path in computing_modules()
        for node in ast.walk(parsed(path))
        if isinstance(node, ast.Call)
        and _name(node.func) in (FORBIDDEN_CALLS if isinstance(node.func, ast.Name) else CLOCKS)
    ]
    assert faults == []


def test_stages_import_no_clock_no_dice_and_no_environment() -> None:
    faults = [
        short(path, node)
        for path in computing_modules()
        for node in ast.walk(parsed(path))
        if CLOCK_MODULES & set(_imported(node))
    ]
    assert faults == []


def test_shapely_is_imported_only_inside_the_function_that_needs_it() -> None:
    at_top = [
        short(path, node)
        for path in modules()
        for node in parsed(path).body
        if {"shapely", "scipy", "trimesh", "networkx", "pandas", "pvlib"} & set(_imported(node))
    ]
    assert at_top == []


def test_the_tested_package_is_the_one_in_this_checkout() -> None:
    """`make test` tests the installed package; a stale install would prove nothing about this tree."""
    installed = Path(cordwright.__file__).resolve().parent
    sources = {
        p.relative_to(SRC): p.read_bytes() for p in SRC.rglob("*") if p.is_file() and "__pycache__" not in p.parts
    }
    differing = [str(name) for name, text in sources.items() if _bytes(installed / name) != text]
    assert differing == []
    assert len(sources) > 30


def _bytes(path: Path) -> bytes | None:
    return path.read_bytes() if path.is_file() else None


def _name(function: ast.expr) -> str:
    if isinstance(function, ast.Name):
        return function.id
    return function.attr if isinstance(function, ast.Attribute) else ""


def _imported(node: ast.AST) -> list[str]:
    if isinstance(node, ast.Import):
        return [alias.name.split(".")[0] for alias in node.names]
    if isinstance(node, ast.ImportFrom) and node.module and not node.level:
        return [node.module.split(".")[0]]
    return []
