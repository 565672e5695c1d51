"""The tub's card, the pats and what delays the set."""

from dataclasses import replace
from datetime import date

import pytest

from cordwright.mortar import (
    MixPart,
    MortarInput,
    Pat,
    batch_card,
    find_faults,
    last_batch,
    pat_check,
    pot_life_figure,
    reckon_mix,
    retarders,
)
from cordwright.mortar.pot_life import clock

PARTS = (
    MixPart(name="cement", kind="cement", form="powder", parts=1),
    MixPart(name="lime", kind="lime", form="powder", parts=1),
    MixPart(name="sand", kind="sand", form="damp sand", parts=5),
)
MIX = MortarInput(parts=PARTS, bucket=0.012)
SAWDUST = MixPart(name="dust", kind="fibre", form="soaked fibre", parts=2, material="sawdust")


def pat(result: str, days: int = 7, mix: str = "") -> Pat:
    return Pat(cast=date(2028, 4, 1), looked_at=date(2028, 4, 1 + days), result=result, mix=mix)


def test_loading_puts_in_everything_once_and_water_first_and_last() -> None:
    card = batch_card(MIX, reckon_mix(MIX))
    put: dict[str, float] = {}
    for step in card.steps:
        for load in step.loads:
            put[load.part.name] = put.get(load.part.name, 0) + load.count
    assert put == {"cement": 1, "lime": 1, "sand": 5}
    assert card.steps[0].water > 0
    assert card.water_low is not None
    assert card.steps[0].water < card.water_low
    assert [load.count for load in card.steps[2].loads] == [4]
    assert [s.seconds for s in card.steps] == [0, 0, 20, 20, 0]


def test_a_tub_too_small_divides_the_batch() -> None:
    small = replace(MIX, container=0.045)
    card = batch_card(small, reckon_mix(small))
    assert card.goes == 2
    assert [x.count for x in card.loads] == [0.5, 0.5, 2.5]
    whole = batch_card(MIX, reckon_mix(MIX))
    assert card.volume == pytest.approx((whole.volume or 0) / 2)


def test_no_bucket_no_water() -> None:
    bare = replace(MIX, bucket=None)
    card = batch_card(bare, reckon_mix(bare))
    assert (card.water, card.volume, card.steps[0].water) == (None, None, 0.0)


@pytest.mark.parametrize(
    ("pats", "verdict", "words"),
    [
        ((), "not judged", "near N by proportion, untested"),
        ((pat("crumbles"),), "short", "short by its test pat"),
        ((pat("hard"),), "holds", "near N by proportion; the pat is hard at 7 days"),
        ((pat("crazed"),), "short", "short by its test pat"),
        ((pat("soft", 3),), "not judged", "near N by proportion, untested"),
        ((pat("crumbles"), pat("hard", 9)), "holds", "the pat is hard at 9 days"),
        ((pat("crumbles", 7, "another"),), "not judged", "near N by proportion, untested"),
    ],
)
def test_the_pat_outranks_the_proportions(pats: tuple[Pat, ...], verdict: str, words: str) -> None:
    mortar = replace(MIX, pats=pats, name="ours")
    mix = reckon_mix(mortar)
    assert pat_check(mortar).verdict == verdict
    assert words in mix.proportion_class
    assert mix.checks[0].verdict == verdict


def test_a_pat_looked_at_before_it_was_cast_is_refused() -> None:
    early = Pat(cast=date(2028, 4, 8), looked_at=date(2028, 4, 1), result="hard")
    assert any(
        p.severity == "error" and "before it was cast" in p.message for p in find_faults(replace(MIX, pats=(early,)))
    )


@pytest.mark.parametrize(
    ("wood", "grade"),
    [
        ("western larch", "strong"),
        ("lodgepole pine", "little"),
        ("birch", "some"),
        ("spruce", "unknown"),
        ("", "unknown"),
    ],
)
def test_woods_by_their_sugars(wood: str, grade: str) -> None:
    (found,) = retarders(replace(MIX, parts=(*PARTS, replace(SAWDUST, wood=wood))))
    assert found.grade == grade
    assert found.sources


def test_borate_and_larch_warn_until_a_pat_is_hard() -> None:
    larch = replace(MIX, parts=(*PARTS, replace(SAWDUST, wood="larch", borate=True)))
    warned = [p.field for p in find_faults(larch)]
    assert {"mix.parts[3].borate", "mix.parts[3].wood"} <= set(warned)
    proved = find_faults(replace(larch, pats=(pat("hard"),)))
    assert not any(p.field.startswith("mix.parts[3]") for p in proved)
    cellulose = replace(MIX, parts=(*PARTS, replace(SAWDUST, material="cellulose", borate=True)))
    assert [r.grade for r in retarders(cellulose)] == ["strong"]


def test_pot_life_is_the_bags_or_unknown() -> None:
    assert pot_life_figure(MIX).value is None
    assert pot_life_figure(replace(MIX, pot_life=2.0)).value == 2.0
    assert last_batch(MIX) is None
    assert last_batch(replace(MIX, stop=17.0)) == (14.5, 15.5)
    assert last_batch(replace(MIX, stop=17.0, pot_life=2.0)) == (15.0, 15.0)
    assert clock(15.99) == "15:55"
