"""The whole building in one call: every stage's figures once, cautions once, and the same as plain values."""

import json
from dataclasses import replace
from datetime import date

import pytest

from cordwright.cost.inputs import CostInput
from cordwright.mortar.inputs import MortarInput
from cordwright.project import read
from cordwright.reckon import as_json, reckon


@pytest.fixture(scope="module")
def studio(examples):
    return read(examples["weaving-studio"]).project


def test_progress_runs_from_nothing_to_all_in_the_order_of_the_job(studio):
    told = []
    reckon(studio, progress=lambda share, stage: told.append((share, stage)))
    assert [stage for _, stage in told] == ["plan", "timber", "mortar", "wall", "heat", "season", "cost", "done"]
    assert [share for share, _ in told] == sorted(share for share, _ in told)
    assert (told[0][0], told[-1][0]) == (0.0, 1.0)


def test_every_key_and_caution_stands_once(studio):
    done = reckon(studio)
    keys = [f.key for f in done.figures]
    assert len(keys) == len(set(keys))
    cautions = [c.key for c in done.cautions]
    assert len(cautions) == len(set(cautions))
    assert {"permits", "thrust", "snow", "excavation", "fill-fire", "honesty"} <= set(cautions)
    assert done.figure("plan.net_wall_area").value == pytest.approx(34.86, abs=0.005)
    with pytest.raises(KeyError):
        done.figure("plan.moat")


def test_without_roof_plinth_and_sleeves_their_cautions_are_not_shown(studio):
    bare = replace(studio, plan=replace(studio.plan, roof=None, plinth_height=None, sleeves=()))
    assert not {"thrust", "snow", "excavation"} & {c.key for c in reckon(bare).cautions}


def test_without_a_mix_the_volume_stays_known_and_the_bags_do_not(studio):
    done = reckon(replace(studio, mortar=MortarInput(waste=0.12), cost=CostInput()))
    assert done.mix is None
    assert done.figure("mortar.volume").value == pytest.approx(3.11, abs=0.005)
    assert done.figure("mortar.cement").bound == "unknown"


def test_plain_values_survive_json_whole(examples):
    for folder in examples.values():
        done = reckon(read(folder).project)
        plain = json.loads(json.dumps(as_json(done), allow_nan=False))
        assert plain["schema"] == 1
        assert list(plain["figures"]) == [f.key for f in done.figures]
        assert [c["verdict"] for c in plain["checks"]] == [c.verdict for c in done.checks]
        for figure in done.figures:
            shown = plain["figures"][figure.key]
            value = figure.value.isoformat() if isinstance(figure.value, date) else figure.value
            assert (shown["value"], shown["unit"], shown["bound"]) == (value, figure.unit, figure.bound)


def test_the_same_case_gives_the_same_reckoning(studio):
    assert as_json(reckon(studio)) == as_json(reckon(studio))
