"""Is what gets installed exactly what was looked at: every release pinned, hashed, and what pyproject.toml asks for?"""

import re
import tomllib
from importlib import metadata
from pathlib import Path

import pytest
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

import cordwright

ROOT = Path(__file__).resolve().parents[2]
PYPROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
ENTRY = re.compile(
    r"^(?P<name>[a-z0-9][a-z0-9.-]*)==(?P<version>[^ ]+)(?: ; [^\\]+)?"  # release, perhaps with a marker
    r"(?: \\\n    --hash=sha256:[0-9a-f]{64})+\n",  # and at least one hash, each on a line of its own
    re.MULTILINE,
)
NEEDED = [
    *PYPROJECT["build-system"]["requires"],
    *PYPROJECT["project"]["dependencies"],
    *PYPROJECT["project"]["optional-dependencies"]["dev"],
]


def _locked() -> dict[str, str]:
    text = (ROOT / "requirements.lock").read_text(encoding="utf-8")
    return {canonicalize_name(m["name"]): m["version"] for m in ENTRY.finditer(text)}


def test_every_line_of_the_lock_belongs_to_a_hashed_release() -> None:
    text = (ROOT / "requirements.lock").read_text(encoding="utf-8")
    assert ENTRY.sub("", text).strip() == ""
    assert len(_locked()) > 30


@pytest.mark.parametrize("text", NEEDED)
def test_the_lock_has_what_pyproject_asks_for(text: str) -> None:
    wanted = Requirement(text)
    assert wanted.specifier.contains(_locked()[canonicalize_name(wanted.name)])


def test_the_installed_tools_are_those_of_the_lock() -> None:
    here = {canonicalize_name(d.metadata["Name"]): d.version for d in metadata.distributions()}
    differing = {
        name: (here[name], version) for name, version in _locked().items() if here.get(name, version) != version
    }
    assert differing == {}


def test_versions_agree() -> None:
    assert PYPROJECT["project"]["version"] == cordwright.__version__
    changes = (ROOT / "CHANGELOG.md").read_text(encoding="utf-8")
    assert f"## {cordwright.__version__}" in changes
    assert "### Results changed" in changes


def test_the_libraries_are_those_the_design_names() -> None:
    assert {Requirement(r).name for r in PYPROJECT["project"]["dependencies"]} == {
        "babel", "ezdxf", "icalendar", "jinja2", "mapbox-earcut", "networkx", "numba", "numpy", "pint", "pvlib",
        "pydantic", "rich", "scipy", "segno", "shapely", "tomlkit", "trimesh", "typer", "typst", "xlsxwriter",
    }  # fmt: skip


def test_the_licence_is_the_whole_text() -> None:
    text = (ROOT / "LICENSE").read_text(encoding="utf-8")
    assert PYPROJECT["project"]["license"] == "Apache-2.0"
    assert "Version 2.0, January 2004" in text
    assert "END OF TERMS AND CONDITIONS" in text
    assert len(text.splitlines()) == 202
