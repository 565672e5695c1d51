"""The owner's way to variants, to what matters most and to sweeps: nothing of theirs is ever written."""

import csv
import io
import json
import shutil

import pytest

from cordwright.base import InputError
from cordwright.project.variants import parse_axis, parse_with


@pytest.fixture
def studio(examples, tmp_path):
    folder = tmp_path / "studio"
    shutil.copytree(examples["weaving-studio"], folder, ignore=shutil.ignore_patterns(".cache", "book"))
    return folder


def files_of(folder):
    return {p.name: p.read_bytes() for p in folder.iterdir() if p.is_file()}


def test_a_variant_is_told_in_a_sentence_and_the_file_stays_as_it_was(run_here, studio):
    before = files_of(studio)
    run = run_here("compare", studio, "--with", "thin: wall.bead=80 mm", "--figures", "mortar.volume")
    assert run.code == 0
    assert "thin: mortar −0,62 m³; fill +0,58 m³" in run.out
    assert "within the spread" in run.out
    assert files_of(studio) == before


def test_json_has_every_changed_figure_and_its_difference(run_here, studio):
    run = run_here("compare", studio, "--with", "wall.bead=80 mm; plan.height=2.4 m", "--json")
    content = json.loads(run.out)
    rows = {row["key"]: row for row in content["rows"]}
    mortar = rows["mortar.volume"]
    assert mortar["change"][0] == pytest.approx(mortar["figures"][1]["value"] - mortar["figures"][0]["value"])
    assert content["variants"][1]["changes"] == {"wall.bead": "80 mm", "plan.height": "2.4 m"}
    assert "timber.solid_volume" not in rows


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ("wall.bead=0 mm", "0 mm"),
        ("wall.bead=9", "unit"),
        ("wall.beed=90 mm", "there is no key"),
        ("nowhere.bead=90 mm", "there is no key"),
    ],
)
def test_a_fault_of_a_variant_is_a_problem_that_names_it(run_here, studio, change, words):
    run = run_here("compare", studio, "--with", change)
    assert run.code == 1
    assert words in run.err
    assert change.partition("=")[2] in run.err or change.partition("=")[0] in run.err
    assert "Traceback" not in run.err


@pytest.mark.parametrize(
    "arguments", [(), ("--with", "wall.bead"), ("--drivers", "mortar.moat"), ("--sweep", "wall.bead=9..1 mm by 1 mm")]
)
def test_wrong_use_is_told(run_here, studio, arguments):
    run = run_here("compare", studio, *arguments)
    assert run.code == 2
    assert run.err.strip()
    assert "Traceback" not in run.err


def test_a_key_that_was_left_out_may_be_varied(run_here, examples):
    run = run_here(
        "compare",
        examples["weaving-studio"],
        "--with",
        "wall.fill.density=120 kg/m3; wall.fill.lime_share=8 %",
        "--json",
    )
    assert run.code == 0, run.err
    rows = {row["key"]: row for row in json.loads(run.out)["rows"]}
    known = [figure["value"] for figure in rows["wall.fill_lime"]["figures"]]
    assert known[0] is None
    assert known[1] > 0


def test_a_sweep_tells_each_point_and_which_cannot_be_built(run_here, studio):
    run = run_here("compare", studio, "--sweep", "wall.bead=120..0 mm by -60 mm", "--figures", "mortar.volume", "--csv")
    rows = list(csv.reader(io.StringIO(run.out)))
    assert rows[0] == ["wall.bead", "mortar.volume [m3]", "refusal"]
    assert [row[0] for row in rows[1:]] == ["120 mm", "60 mm", "0 mm"]
    assert float(rows[2][1]) == pytest.approx(0.5 * float(rows[1][1]), rel=1e-9)
    assert rows[3][1] == ""
    assert rows[3][2]


def test_a_variant_may_be_kept_as_a_project_of_its_own(run_here, studio, tmp_path):
    copy = tmp_path / "thin"
    run = run_here("compare", studio, "--with", "wall.bead=80 mm", "--save", copy, "--figures", "none")
    assert run.code == 0
    old, new = ((folder / "building.toml").read_text(encoding="utf-8").splitlines() for folder in (studio, copy))
    changed = [(a, b) for a, b in zip(old, new, strict=True) if a != b]
    assert changed == [('bead = "100 mm"', 'bead = "80 mm"')]
    assert run_here("check", copy).code == 0
    assert run_here("compare", studio, "--with", "wall.bead=80 mm", "--save", copy).code == 2


def test_what_is_typed_is_taken_apart():
    assert parse_with("thin: wall.bead=80 mm")[0] == "thin"
    name, changes = parse_with("wall.bead=80 mm; plan.height='2.4 m'")
    assert name == "wall.bead=80 mm; plan.height=2.4 m"
    assert [c.text for c in changes] == ["80 mm", "2.4 m"]
    assert parse_axis("wall.bead=80..100 mm by 10 mm") == ("wall.bead", ("80 mm", "90 mm", "100 mm"))
    assert parse_axis("a.b=0.1..0.3 m by 0.1 m")[1] == ("0.1 m", "0.2 m", "0.3 m")
    assert parse_axis("a.b=x | y") == ("a.b", ("x", "y"))
    for wrong in ("a.b", "=3", "a.b=1..2 mm by 0 mm", "a.b=1..2 mm by 1 cm", "a.b=1..1e9 mm by 1 mm"):
        with pytest.raises(InputError):
            parse_axis(wrong)


@pytest.mark.parametrize(
    ("options", "words"),
    [
        (["--sweep", "wall.bead=80 mm", "--figures", "mortar.volumes"], "there is no figure 'mortar.volumes'"),
        (["--sweep", "wall.bead= | "], "names no value"),
        (["--drivers", "mortar.volume", "--save", "elsewhere"], "--save with --with"),
        (["--with", "wall.bead=90 mm", "--csv"], "--csv goes with --sweep"),
    ],
)
def test_what_leads_nowhere_is_said(run_cli, studio, options, words):
    run = run_cli("compare", studio, *options)
    assert run.code == 2
    assert words in run.err
    assert run.out == ""


def test_a_refused_point_is_named_by_its_own_settings(run_cli, studio):
    run = run_cli("compare", studio, "--sweep", "wall.bead=90 mm | junk")
    assert run.code == 0
    assert 'in "wall.bead=junk"' in run.out
