"""Does `cordwright sand` say what the mason asked, and refuse a sieving that does not add up?"""

import json
import shutil

import pytest


@pytest.fixture
def variant(tmp_path, examples):
    """Copies an example and replaces pieces of its building.toml, each of which must be there."""

    def make(name, *replacements):
        folder = tmp_path / name
        shutil.copytree(examples[name], folder)
        path = folder / "building.toml"
        text = path.read_text(encoding="utf-8")
        for old, new in replacements:
            assert old in text, old
            text = text.replace(old, new, 1)
        path.write_text(text, encoding="utf-8")
        return folder

    return make


def test_row_5_beach_sand(run_here, variant):
    run = run_here("sand", variant("weaving-studio"))
    assert run.code == 0
    assert "uniform fine sand: needs more water for the same placing" in run.out
    assert "No.30 (0,60 mm): 96 % against 40-75" in run.out
    assert "No.50 (0,30 mm): 51 % against 10-35" in run.out


def test_row_6_masses_that_do_not_add_up(run_here, variant):
    folder = variant("weaving-studio", ('["22 g", "96 g", "188 g", "262 g", ', '["22 g", "96 g", "126 g", "262 g", '))
    run = run_here("check", folder)
    assert run.code == 1
    assert "the sieves hold 938 g of a 1000 g sample: 6.2 % lost; sieve it again" in run.out


def test_the_sauna_speaks_of_inches_and_numbers(run_here, variant):
    run = run_here("sand", variant("sauna"))
    assert "shore (natural): outside, worst at No.30: 97 % against 40-75, off by 22.0 points" in run.out
    assert "0.0236 in" in run.out


def test_json_gives_the_figures(run_here, variant):
    run = run_here("sand", variant("bakehouse"), "--json")
    silt = json.loads(run.out)["figures"]["sand.river.silt"]
    assert round(silt["value"], 3) == 0.086
