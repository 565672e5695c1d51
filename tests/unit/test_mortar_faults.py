"""Is every fault of a stated mix named, at its place, with what is allowed?"""

from dataclasses import replace

import pytest

from cordwright.base import Problem
from cordwright.mortar import MixPart, MortarInput, find_faults

CEMENT = MixPart(name="cement", kind="cement", form="powder", parts=1)
LIME = MixPart(name="lime", kind="lime", form="powder", parts=1)
SAND = MixPart(name="sand", kind="sand", form="damp sand", parts=5)
FIBRE = MixPart(name="sawdust", kind="fibre", form="soaked fibre", parts=3)
GOOD = MortarInput(parts=(CEMENT, LIME, SAND), bucket=0.01, waste=0.12)


def only(mortar: MortarInput) -> Problem:
    (fault,) = find_faults(mortar)
    return fault


def test_a_sound_mix_has_no_fault() -> None:
    assert find_faults(GOOD) == ()


def test_no_mix_is_a_warning_that_says_what_stays_unknown() -> None:
    fault = only(MortarInput())
    assert (fault.field, fault.severity) == ("mix.parts", "warning")
    assert "not" in fault.message


def test_a_missing_bucket_is_a_warning() -> None:
    fault = only(replace(GOOD, bucket=None))
    assert (fault.field, fault.severity) == ("mix.bucket", "warning")


@pytest.mark.parametrize(
    ("change", "field"),
    [
        ({"bucket": 0.0}, "mix.bucket"),
        ({"bucket": -0.01}, "mix.bucket"),
        ({"bucket": float("nan")}, "mix.bucket"),
        ({"waste": -0.1}, "mix.waste"),
        ({"waste": 0.6}, "mix.waste"),
        ({"air": 0.4}, "mix.air"),
        ({"measured_yield": 1.3}, "mix.measured_yield"),
        ({"measured_yield": 0.2}, "mix.measured_yield"),
    ],
)
def test_values_no_mortar_has(change: dict[str, float], field: str) -> None:
    fault = only(replace(GOOD, **change))
    assert (fault.field, fault.severity) == (field, "error")
    assert "between" in fault.hint


@pytest.mark.parametrize(
    ("index", "change", "field"),
    [
        (0, {"parts": 0.0}, "mix.parts[0].parts"),
        (1, {"parts": -2.0}, "mix.parts[1].parts"),
        (2, {"parts": float("inf")}, "mix.parts[2].parts"),
        (0, {"bag": 0.0}, "mix.parts[0].bag"),
        (2, {"moisture": -0.05}, "mix.parts[2].moisture"),
        (2, {"bulking": 0.9}, "mix.parts[2].bulking"),
        (2, {"bulk_density": -1500.0}, "mix.parts[2].bulk_density"),
        (2, {"bulk_density": 2700.0}, "mix.parts[2].bulk_density"),
        (0, {"solid_density": 1200.0, "bulk_density": 1500.0}, "mix.parts[0].bulk_density"),
    ],
)
def test_values_no_part_has(index: int, change: dict[str, float], field: str) -> None:
    parts = list(GOOD.parts)
    parts[index] = replace(parts[index], **change)
    fault = only(replace(GOOD, parts=tuple(parts)))
    assert (fault.field, fault.severity) == (field, "error")


@pytest.mark.parametrize(
    ("part", "allowed"),
    [
        (replace(CEMENT, form="damp sand"), '"powder"'),
        (replace(CEMENT, form="bag"), "buckets"),
        (replace(SAND, form="powder"), '"damp sand" or "dry sand"'),
        (replace(LIME, form="soaked fibre"), '"powder" or "putty"'),
        (replace(FIBRE, form="powder"), '"soaked fibre"'),
    ],
)
def test_each_kind_comes_in_its_own_forms(part: MixPart, allowed: str) -> None:
    parts = (*(p for p in GOOD.parts if p.kind != part.kind), part)
    faults = [f for f in find_faults(replace(GOOD, parts=parts)) if f.severity == "error"]
    assert [f.field for f in faults] == [f"mix.parts[{len(parts) - 1}].form"]
    assert allowed in faults[0].hint


def test_putty_is_not_powder_and_asks_for_its_density() -> None:
    putty = MixPart(name="putty", kind="lime", form="putty", parts=2)
    fields = [f.field for f in find_faults(replace(GOOD, parts=(CEMENT, putty, SAND)))]
    assert fields == ["mix.parts[1].bulk_density", "mix.parts[1].solids_share"]
    stated = replace(putty, parts=1, bulk_density=1300, solids_share=0.48)
    assert find_faults(replace(GOOD, parts=(CEMENT, stated, replace(SAND, parts=5.5)))) == ()


def test_putty_heavier_than_lime_and_water_is_refused() -> None:
    putty = MixPart(name="putty", kind="lime", form="putty", parts=1, bulk_density=1900, solids_share=0.3)
    assert only(replace(GOOD, parts=(CEMENT, putty, SAND))).field == "mix.parts[1].bulk_density"


def test_putty_a_little_heavier_than_its_make_up_is_a_reading_of_the_scale() -> None:
    putty = MixPart(name="putty", kind="lime", form="putty", parts=1, bulk_density=1350, solids_share=0.45)
    assert not [f for f in find_faults(replace(GOOD, parts=(CEMENT, putty, SAND))) if f.severity == "error"]


def test_a_blended_bag_asks_for_its_density_and_its_cement() -> None:
    blend = MixPart(name="blend", kind="pre-blended", form="bag", parts=2)
    fields = [f.field for f in find_faults(replace(GOOD, parts=(blend, SAND)))]
    assert fields == ["mix.parts[0].bulk_density", "mix.parts[0].cement_share"]


@pytest.mark.parametrize(("parts", "word"), [((CEMENT, LIME), "sand"), ((SAND,), "binder")])
def test_a_mortar_needs_binder_and_sand(parts: tuple[MixPart, ...], word: str) -> None:
    fault = only(replace(GOOD, parts=parts))
    assert (fault.field, fault.severity) == ("mix.parts", "error")
    assert word in fault.message


@pytest.mark.parametrize("parts", [4.0, 6.5])
def test_sand_outside_the_usual_range_is_a_warning(parts: float) -> None:
    fault = only(replace(GOOD, parts=(CEMENT, LIME, replace(SAND, parts=parts))))
    assert (fault.field, fault.severity) == ("mix.parts", "warning")
    assert f"{parts / 2:.2f}" in fault.message


def test_the_sand_rule_does_not_speak_of_mixes_with_fibre() -> None:
    assert find_faults(replace(GOOD, parts=(CEMENT, LIME, replace(SAND, parts=4), FIBRE))) == ()


def test_every_fault_is_named_at_once() -> None:
    bad = MortarInput(parts=(replace(CEMENT, parts=-1), replace(SAND, bulking=3.0)), waste=2.0)
    assert {f.field for f in find_faults(bad)} == {
        "mix.parts[0].parts",
        "mix.parts[1].bulking",
        "mix.waste",
        "mix.bucket",
    }
