"""How warm and how dry, as the owner asks it at the command line."""

import json

import pytest


def test_figures_in_json_and_charts_in_a_folder(run_here, examples, tmp_path):
    run = run_here("warm", examples["weaving-studio"], "--no-studies", "--json", "-o", tmp_path / "charts")
    assert run.code == 0, run.err
    shown = json.loads(run.out)
    assert shown["schema"] == 1
    figures = shown["figures"]
    assert figures["heat.loss_coefficient"]["unit"] == "W/K"
    assert figures["heat.loss_coefficient"]["value"] == pytest.approx(sum(p["loss"] for p in shown["losses"]))
    assert figures["heat.firewood_stacked"]["unit"] == "m3"
    assert {p["panel"] for p in shown["panels"]} == {"S", "SE", "E", "NE", "N", "NW", "W", "SW"}
    assert "damp.eaves" in {c["key"] for c in shown["checks"]}
    assert sorted(p.name for p in (tmp_path / "charts").iterdir()) == ["first-winter.svg", "losses.svg", "rain.svg"]


def test_a_folder_just_begun_is_answered_without_empty_heads(run_cli, tmp_path):
    assert run_cli("start", tmp_path / "new").code == 0
    run = run_cli("warm", tmp_path / "new", "--no-studies")
    assert run.code == 0, run.err
    assert "Nothing is stated about heating" in run.out
    lines = run.out.splitlines()
    assert lines.count("checks") == 1
    assert lines[lines.index("checks") + 1].startswith("  ")
