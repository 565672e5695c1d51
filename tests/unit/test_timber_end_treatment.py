"""The dose follows from the label or does not exist; solubility and retention are shown as checks."""

from dataclasses import replace

import pytest

from cordwright.timber import Treatment, dose_of, treatment_checks, treatment_figures

LABEL = Treatment(
    product="borate in water",
    registration="R-1",
    active="DOT",
    strength=0.09,
    density=1045.0,
    coverage=4000.0,
    applications=2,
    temperature=20.0,
)
FACE = 20.0


def test_the_dose_of_a_whole_label() -> None:
    dose = dose_of(LABEL, FACE)
    assert dose.area == 40.0
    assert dose.liquid == pytest.approx(0.020)
    assert dose.active == pytest.approx(0.020 * 1045 * 0.09)
    assert not dose.least


def test_one_face_and_a_strength_by_volume() -> None:
    dose = dose_of(replace(LABEL, faces="one", strength=None, strength_by_volume=100.0), FACE)
    assert (dose.area, dose.active) == (20.0, pytest.approx(0.010 * 100.0))


@pytest.mark.parametrize("name", ["registration", "active", "coverage", "applications", "strength"])
def test_a_blank_on_the_label_gives_no_dose_and_is_named(name: str) -> None:
    blank = replace(LABEL, **{name: "" if name in ("registration", "active") else None})
    figures = {f.key: f for f in treatment_figures(blank, FACE)}
    active = figures["timber.treatment_active"]
    assert active.value is None
    assert any(f"treatment.{name}" in word for word in active.missing)
    assert figures["timber.treatment_area"].value == 40.0


def test_no_face_no_dose() -> None:
    assert dose_of(LABEL, None).active is None


def test_without_the_liquid_s_density_the_active_is_at_least_so_much() -> None:
    figures = {f.key: f for f in treatment_figures(replace(LABEL, density=None), FACE)}
    active = figures["timber.treatment_active"]
    assert (active.bound, active.value) == ("at_least", pytest.approx(1.8))


@pytest.mark.parametrize(
    ("strength", "temperature", "verdict"),
    [(0.09, 20.0, "holds"), (0.12, 20.0, "short"), (0.12, 25.0, "not judged"), (0.09, 5.0, "not judged")],
)
def test_what_dissolves(strength: float, temperature: float, verdict: str) -> None:
    solubility, _ = treatment_checks(replace(LABEL, strength=strength, temperature=temperature), FACE)
    assert solubility.verdict == verdict


def test_solubility_without_temperature_or_a_known_borate_is_not_judged() -> None:
    for treatment in (replace(LABEL, temperature=None), replace(LABEL, active="other")):
        solubility, _ = treatment_checks(treatment, FACE)
        assert solubility.verdict == "not judged"


def test_retention_goes_with_the_depth_of_uptake() -> None:
    _, assumed = treatment_checks(LABEL, FACE)
    _, shallow = treatment_checks(replace(LABEL, uptake_depth=0.005), FACE)
    assert shallow.capacity == pytest.approx(2 * assumed.capacity)
    assert assumed.demand == pytest.approx(2.72, abs=0.005)
    _, unknown = treatment_checks(replace(LABEL, applications=None), FACE)
    assert unknown.verdict == "not judged"
