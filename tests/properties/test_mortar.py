"""Do mixes keep what goes into them, whatever the mix?"""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cordwright.base import table
from cordwright.mortar import MixPart, MortarInput, find_faults, loose_mix, reckon_mix, water_coefficients, whole_up

PARTS = st.floats(0.25, 12.0)


@st.composite
def mixes(draw: st.DrawFn) -> MortarInput:
    sand = draw(st.sampled_from(["damp sand", "dry sand"]))
    moisture, bulking = draw(st.floats(0.0, 0.1)), draw(st.floats(1.0, 1.4))
    parts = [
        MixPart(name="cement", kind="cement", form="powder", parts=draw(PARTS)),
        MixPart(name="sand", kind="sand", form=sand, parts=draw(PARTS), moisture=moisture, bulking=bulking),
    ]
    if draw(st.booleans()):
        parts.append(MixPart(name="lime", kind="lime", form="powder", parts=draw(PARTS)))
    if draw(st.booleans()):
        parts.append(
            MixPart(name="putty", kind="lime", form="putty", parts=draw(PARTS), bulk_density=1300, solids_share=0.45)
        )
    if draw(st.booleans()):
        parts.append(MixPart(name="fibre", kind="fibre", form="soaked fibre", parts=draw(PARTS)))
    return MortarInput(parts=tuple(parts), bucket=draw(st.floats(0.005, 0.05)))


@settings(max_examples=60, deadline=None)
@given(mixes())
def test_one_cubic_metre_is_filled_by_grains_water_fibre_and_air(mortar: MortarInput) -> None:
    """A second way round: the amounts of one cubic metre, each over its own grain density, fill it but for 8 % air."""
    mix = reckon_mix(mortar)
    gravity = {k: table("materials")[k]["specific_gravity"] for k in ("cement", "lime", "sand")}
    water_kg_per_m3 = 62.4 * 0.45359237 / 0.3048**3
    grains = sum(a.dry_mass / gravity[a.part.kind] / water_kg_per_m3 for a in mix.amounts if a.part.kind != "fibre")
    fibre = sum(0.75 * a.loose_volume for a in mix.amounts if a.part.kind == "fibre")
    water = mix.water + sum(a.delivered_mass - a.dry_mass for a in mix.amounts)
    assert grains + fibre + water / water_kg_per_m3 + 0.08 == pytest.approx(1.0, rel=1e-9)


@settings(max_examples=40, deadline=None)
@given(mixes(), st.floats(0.1, 10.0))
def test_a_cubic_metre_does_not_know_how_large_the_batch_is(mortar: MortarInput, times: float) -> None:
    larger = replace(mortar, parts=tuple(replace(p, parts=p.parts * times) for p in mortar.parts))
    mix, scaled = reckon_mix(mortar), reckon_mix(larger)
    assert scaled.yield_ratio == pytest.approx(mix.yield_ratio)
    assert [a.dry_mass for a in scaled.amounts] == pytest.approx([a.dry_mass for a in mix.amounts])
    assert scaled.batch_volume == pytest.approx(mix.batch_volume * times)


@settings(max_examples=40, deadline=None)
@given(mixes())
def test_the_order_of_loading_changes_no_amount(mortar: MortarInput) -> None:
    mix, turned = reckon_mix(mortar), reckon_mix(replace(mortar, parts=mortar.parts[::-1]))
    assert turned.yield_ratio == pytest.approx(mix.yield_ratio)
    assert [a.dry_mass for a in turned.amounts[::-1]] == pytest.approx([a.dry_mass for a in mix.amounts])


@settings(max_examples=40, deadline=None)
@given(mixes())
def test_mortar_is_less_than_its_loose_parts_and_more_than_its_grains(mortar: MortarInput) -> None:
    mix, loose = reckon_mix(mortar), loose_mix(mortar)
    assert loose.grains / loose.volume < mix.yield_low <= mix.yield_ratio <= mix.yield_high
    assert not [f for f in find_faults(mortar) if f.severity == "error"]


@settings(max_examples=40, deadline=None)
@given(mixes(), st.floats(0.3, 0.95), st.floats(1.01, 1.2))
def test_a_higher_measured_yield_takes_less_of_everything(mortar: MortarInput, low: float, more: float) -> None:
    poor, rich = (reckon_mix(replace(mortar, measured_yield=y)) for y in (low, low * more))
    for a, b in zip(poor.amounts, rich.amounts, strict=True):
        assert a.dry_mass == pytest.approx(b.dry_mass * more)


def test_the_water_plane_by_a_second_solver() -> None:
    mixes = table("materials")["water"]["mixes"]
    matrix = np.array([[m["cement_lb"] + m["lime_lb"], m["sand_lb"]] for m in mixes])
    water = np.array([m["water_lb"] for m in mixes])
    assert water_coefficients() == pytest.approx(tuple(np.linalg.solve(matrix, water)), rel=1e-12)


@given(st.floats(1e-6, 1e6))
def test_whole_numbers_cover_a_count_and_not_one_more(count: float) -> None:
    whole = whole_up(count)
    assert whole >= count * (1 - 1e-9)
    assert whole < count + 1
