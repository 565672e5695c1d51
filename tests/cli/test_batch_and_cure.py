"""The two daily questions at the command line, and nails as keys on the sauna."""

import json
from pathlib import Path

import pytest
from typer.testing import CliRunner

from cordwright.cli import app
from cordwright.project import read
from cordwright.reckon import reckon

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"


def run(*words: str):
    return CliRunner().invoke(app, list(words))


def test_the_card_adds_up() -> None:
    done = run("batch", str(EXAMPLES / "weaving-studio"), "--json")
    card = json.loads(done.stdout)
    assert done.exit_code == 0
    assert [x["count"] for x in card["loads"]] == [2, 3, 10, 3]
    assert sum(x["count"] for s in card["steps"] for x in s["loads"]) == pytest.approx(18)


def test_lay_or_not_in_the_owners_units() -> None:
    cold = run("cure", str(EXAMPLES / "sauna"), "--date", "2028-10-15", "--low", "25 degF", "--high", "38 degF")
    assert cold.exit_code == 0
    assert "Do not lay" in cold.stdout
    assert "41\u00a0°F" in cold.stdout


@pytest.mark.parametrize("words", [("--date", "soon"), ("--low", "5 degC"), ("--low", "5", "--high", "9 degC")])
def test_what_cannot_be_read_is_wrong_use(words: tuple[str, ...]) -> None:
    assert run("cure", str(EXAMPLES / "sauna"), *words).exit_code == 2


def test_nails_where_the_saunas_joints_open_wide() -> None:
    project = read(EXAMPLES / "sauna").project
    assert project is not None
    done = reckon(project)
    (keys,) = done.wall.nail_keys
    assert keys.joint > project.wall.joints.largest
    assert done.figure("wall.nails").value == 3 * keys.log_ends
