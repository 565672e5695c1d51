"""Does a mix give the masses, the water and the batch it must?"""

from dataclasses import replace

import pytest

from cordwright.base import InputError
from cordwright.mortar import (
    MixPart,
    MortarInput,
    Spread,
    batches,
    damp_loose_volume,
    damp_mass,
    dry_loose_volume,
    reckon_mix,
    whole_up,
)

CEMENT = MixPart(name="cement", kind="cement", form="powder", parts=2, bag=25)
LIME = MixPart(name="lime", kind="lime", form="powder", parts=3, bag=20)
SAND = MixPart(name="pit sand", kind="sand", form="damp sand", parts=10, moisture=0.05, bulking=1.18)
FIBRE = MixPart(name="soaked sawdust", kind="fibre", form="soaked fibre", parts=3)
STUDIO = MortarInput(parts=(CEMENT, LIME, SAND, FIBRE), bucket=0.012, waste=0.12)


def keys(mortar: MortarInput) -> set[str]:
    return {c.key for c in reckon_mix(mortar).cautions}


def test_weaving_studio_mix_comes_near_the_job_study() -> None:
    """The job study, made apart from this code, has yield 0.69 and 241, 154 and 1027 kg in a cubic metre."""
    mix = reckon_mix(STUDIO)
    assert mix.yield_ratio == pytest.approx(0.69, abs=0.005)
    assert [a.dry_mass for a in mix.amounts[:3]] == pytest.approx([241, 154, 1027], rel=0.005)
    assert mix.yield_low < mix.yield_ratio < mix.yield_high


def test_one_batch_is_yield_times_buckets() -> None:
    mix = reckon_mix(STUDIO)
    assert mix.batch_volume == pytest.approx(mix.yield_ratio * 18 * 0.012)
    figure = mix.figure("mortar.batch_volume")
    assert (figure.value, figure.unit) == (mix.batch_volume, "m3")
    assert figure.low == pytest.approx(mix.yield_low * 18 * 0.012)


def test_water_to_add_leaves_out_what_the_sand_brings() -> None:
    wet = replace(STUDIO, parts=(CEMENT, LIME, replace(SAND, moisture=0.08), FIBRE))
    dry = replace(STUDIO, parts=(CEMENT, LIME, replace(SAND, moisture=0.0), FIBRE))
    less = (
        reckon_mix(dry).figure("mortar.water_per_batch").value - reckon_mix(wet).figure("mortar.water_per_batch").value
    )
    sand = reckon_mix(STUDIO).amounts[2]
    assert less == pytest.approx(0.08 * sand.dry_mass * reckon_mix(STUDIO).batch_volume)


def test_sand_wetter_than_the_demand_leaves_nothing_to_add() -> None:
    soaked = MortarInput(parts=(CEMENT, replace(SAND, parts=6, moisture=0.3)), bucket=0.01)
    mix = reckon_mix(soaked)
    assert mix.water == 0.0
    assert mix.figure("mortar.water_per_batch").value == 0.0


def test_without_a_bucket_the_batch_is_unknown_and_says_so() -> None:
    mix = reckon_mix(replace(STUDIO, bucket=None))
    assert mix.batch_volume is None
    for key in ("mortar.batch_volume", "mortar.water_per_batch"):
        assert mix.figure(key).bound == "unknown"
        assert mix.figure(key).missing == ("the bucket's volume",)


def test_a_measured_yield_is_the_owners_and_has_no_spread() -> None:
    mix = reckon_mix(replace(STUDIO, measured_yield=0.7))
    figure = mix.figure("mortar.yield")
    assert (mix.yield_low, mix.yield_ratio, mix.yield_high) == (0.7, 0.7, 0.7)
    assert (figure.low, figure.high) == (None, None)
    assert {c.key for c in figure.sources} == {"owner"}


def test_stated_air_replaces_the_tables() -> None:
    airy, dense = (reckon_mix(replace(STUDIO, air=a)).yield_ratio for a in (0.10, 0.05))
    assert airy / dense == pytest.approx(0.95 / 0.90)


def test_bulking_moves_the_sand_volume_and_nothing_else() -> None:
    damp = reckon_mix(STUDIO).amounts[2]
    assert damp_loose_volume(damp) == pytest.approx(damp.loose_volume)
    assert damp_loose_volume(damp) / dry_loose_volume(damp) == pytest.approx(1.18)
    assert damp_mass(damp) == pytest.approx(1.05 * damp.dry_mass)
    more = reckon_mix(replace(STUDIO, parts=(CEMENT, LIME, replace(SAND, bulking=1.3), FIBRE))).amounts[2]
    assert (more.dry_mass, more.loose_volume) == (damp.dry_mass, damp.loose_volume)


def test_dry_sand_by_its_dry_measure_is_the_same_mix() -> None:
    dry = replace(SAND, form="dry sand", parts=10 / 1.18)
    mix, same = (reckon_mix(replace(STUDIO, parts=(CEMENT, LIME, s, FIBRE))) for s in (SAND, dry))
    assert [a.dry_mass for a in same.amounts] == pytest.approx([a.dry_mass for a in mix.amounts])
    assert same.binder_to_sand == pytest.approx(mix.binder_to_sand)
    assert same.amounts[2].delivered_mass == same.amounts[2].dry_mass


def test_putty_counts_by_its_dry_lime_and_brings_its_water() -> None:
    putty = MixPart(name="putty", kind="lime", form="putty", parts=3, bulk_density=1300, solids_share=0.48)
    mix = reckon_mix(MortarInput(parts=(CEMENT, putty, SAND)))
    amount = mix.amounts[1]
    assert amount.dry_mass == pytest.approx(amount.loose_volume * 624)
    assert amount.delivered_mass == pytest.approx(amount.loose_volume * 1300)
    assert amount.lime_mass == amount.dry_mass
    assert mix.water < reckon_mix(MortarInput(parts=(CEMENT, LIME, SAND))).water


def test_blended_bag_splits_by_its_cement_share() -> None:
    blend = MixPart(name="blend", kind="pre-blended", form="bag", parts=1, bulk_density=1000, cement_share=0.6)
    mix = reckon_mix(MortarInput(parts=(blend, replace(SAND, parts=3))))
    amount = mix.amounts[0]
    assert amount.cement_mass == pytest.approx(0.6 * amount.dry_mass)
    assert amount.cement_mass + amount.lime_mass == pytest.approx(amount.dry_mass)


def test_owner_density_replaces_the_tables_and_is_cited() -> None:
    heavy = replace(SAND, bulk_density=1400)
    mix = reckon_mix(replace(STUDIO, parts=(CEMENT, LIME, heavy, FIBRE)))
    assert mix.amounts[2].dry_mass == pytest.approx(1400 * mix.amounts[2].loose_volume)
    step = next(s for s in mix.figure("mortar.yield").steps if s.symbol == "pit sand")
    assert step.source is not None
    assert step.source.key == "owner"


def test_owner_grain_density_replaces_the_tables() -> None:
    light = replace(SAND, solid_density=2500)
    heavier = reckon_mix(replace(STUDIO, parts=(CEMENT, LIME, light, FIBRE)))
    assert heavier.yield_ratio > reckon_mix(STUDIO).yield_ratio


@pytest.mark.parametrize(
    ("parts", "says"),
    [
        ((CEMENT, LIME, SAND, FIBRE), "not judged: fibre"),
        ((replace(CEMENT, parts=1), replace(LIME, parts=1), replace(SAND, parts=5)), "near N by proportion, untested"),
        ((LIME, replace(SAND, parts=9)), "not judged: no cement"),
        ((CEMENT, LIME, SAND), "not judged: sand outside 2 1/4 to 3 times the binder"),
        ((replace(CEMENT, parts=1), LIME, SAND), "not judged: more lime than in any class"),
    ],
)
def test_proportion_class_is_near_and_untested_or_not_judged(parts: tuple[MixPart, ...], says: str) -> None:
    mix = reckon_mix(MortarInput(parts=parts))
    assert mix.proportion_class == says
    assert says in mix.figure("mortar.binder_to_sand").label


def test_binder_to_sand_is_by_volume() -> None:
    assert reckon_mix(STUDIO).binder_to_sand == pytest.approx(0.5)
    assert reckon_mix(STUDIO).figure("mortar.binder_to_sand").value == pytest.approx(0.5)


def test_the_rule_of_thumb_stands_beside_a_yield_without_fibre_only() -> None:
    plain = reckon_mix(MortarInput(parts=(CEMENT, LIME, SAND))).figure("mortar.yield")
    assert any(s.source and s.source.key == "pca-sand-1993" for s in plain.steps)
    assert not any(
        s.source and s.source.key == "pca-sand-1993" for s in reckon_mix(STUDIO).figure("mortar.yield").steps
    )


def test_cautions_follow_what_is_in_the_bucket() -> None:
    assert keys(STUDIO) == {"alkali-burns", "silica-dust", "wood-sugar", "dirty-sand"}
    assert keys(MortarInput(parts=(CEMENT, SAND))) == {"alkali-burns", "silica-dust", "dirty-sand"}


@pytest.mark.parametrize("parts", [(), (SAND,), (CEMENT, LIME), (FIBRE, SAND)])
def test_what_is_no_mortar_is_refused(parts: tuple[MixPart, ...]) -> None:
    with pytest.raises(InputError):
        reckon_mix(MortarInput(parts=parts))


def test_whole_batches_and_packs_are_rounded_up_but_not_by_the_last_digit() -> None:
    assert batches(3.0, 0.15) == 20
    assert batches(3.01, 0.15) == 21
    assert whole_up(0.1 * 3 * 10) == 3
    assert whole_up(0.0) == 0
    assert whole_up(2.000001) == 3


def test_spread_takes_the_worst_corners() -> None:
    a, b = Spread(1.0, 2.0, 3.0), Spread(2.0, 4.0, 5.0)
    assert a * b == Spread(2.0, 8.0, 15.0)
    assert a / b == Spread(0.2, 0.5, 1.5)
    assert a + b == Spread(3.0, 6.0, 8.0)
    assert a.at_least(1.5) == Spread(1.5, 2.0, 3.0)
    assert a.ends == (1.0, 3.0)
    assert Spread.exact(2.0).ends == (None, None)
