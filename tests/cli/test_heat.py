"""The command `heat`: in words and as JSON, its drawings, what it refuses."""

import json
import shutil
from pathlib import Path

import pytest
from typer.testing import CliRunner

from cordwright.cli import app

EXAMPLE = Path(__file__).resolve().parents[2] / "examples" / "sauna"


@pytest.fixture
def sauna(tmp_path: Path) -> Path:
    shutil.copytree(EXAMPLE, tmp_path / "sauna", ignore=shutil.ignore_patterns("book", ".cache"))
    return tmp_path / "sauna"


def _run(*words: str) -> tuple[int, str, str]:
    done = CliRunner().invoke(app, ["heat", *words])
    return done.exit_code, done.stdout, done.stderr


def test_as_planned_in_words(sauna: Path) -> None:
    code, said, _ = _run(str(sauna), "--no-studies")
    assert code == 0
    assert "The wall loses" in said
    assert "Btu" in said, "the sauna is built in feet and inches"
    assert "Btu/h·ft·°F" in said, "the conductivities too, under their own sign"
    assert "W/mK" not in said
    assert "Least sure is how well the wood leads heat along its grain" in said
    assert "none is solved as laid" in said


def test_as_planned_for_a_program(sauna: Path) -> None:
    code, said, _ = _run(str(sauna), "--no-studies", "--json")
    assert code == 0
    content = json.loads(said)
    assert content["schema"] == 1
    assert content["panels"] == []
    u = content["figures"]["wall.u_cell"]
    assert u["unit"] == "W/m2K"
    assert u["low"] < u["value"] < u["high"]
    assert content["checks"][0]["key"] == "wall.u_bound_ratio"


def test_what_is_not_stated_gives_no_number(sauna: Path) -> None:
    file = sauna / "building.toml"
    text = file.read_text(encoding="utf-8").replace('fill = "mineral wool"\n', "")
    file.write_text(text, encoding="utf-8")
    code, said, _ = _run(str(sauna), "--no-studies")
    assert code == 0
    assert "not known: what fills the cavity" in said


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("--panel", "attic"), "there is no panel 'attic'"),
        (("--grid", "1 mm"), "tells nothing of a wall"),
        (("--grid", "10"), "has no unit"),
        (("-o", "drawn"), "nothing to draw"),
    ],
)
def test_wrong_use_is_told(sauna: Path, words: tuple[str, ...], told: str) -> None:
    code, _, said = _run(str(sauna), "--no-studies", *words)
    assert code == 2
    assert told in said


def test_faults_of_the_file_are_told(sauna: Path) -> None:
    file = sauna / "building.toml"
    text = file.read_text(encoding="utf-8").replace('fill = "mineral wool"', 'fill = "feathers"\nmortar = "84 W/mK"')
    file.write_text(text, encoding="utf-8")
    code, _, said = _run(str(sauna), "--no-studies")
    assert code == 1
    assert "wall.heat.fill: there is no fill 'feathers' in the table" in said
    assert "wall.heat.mortar" in said
