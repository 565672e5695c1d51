"""Do passing, blends and statistics of sands obey what must hold for any sand?"""

from statistics import NormalDist

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cordwright.mortar.blending import blend_to_band, off_band
from cordwright.mortar.grading import EN_SERIES, Grading, blend, fineness_modulus
from cordwright.mortar.grading_bands import band
from cordwright.mortar.grain_statistics import curve_moments, graphic_measures, moments, specific_surface
from cordwright.mortar.placing import bulking_by_fineness, water_demand

SIZES = (8e-3, *EN_SERIES, 0.063e-3)


@st.composite
def curves(draw):
    masses = draw(st.lists(st.integers(0, 500), min_size=8, max_size=8).filter(lambda m: sum(m) > 0))
    total = sum(masses)
    return Grading(openings=SIZES, passing=tuple(1 - sum(masses[:i]) / total for i in range(8)))


@settings(max_examples=40, deadline=None)
@given(curves(), st.floats(0.063e-3, 8e-3), st.floats(0.063e-3, 8e-3))
def test_a_wider_sieve_never_lets_less_through(curve, one, other):
    wide, tight = max(one, other), min(one, other)
    assert curve.at(wide) >= curve.at(tight) - 1e-12


@settings(max_examples=40, deadline=None)
@given(curves(), curves(), st.floats(0, 1))
def test_the_modulus_of_a_blend_is_the_weighted_one(one, other, share):
    mixed = blend((one, other), (share, 1 - share))
    a, b, c = (fineness_modulus(x, EN_SERIES)[0] for x in (one, other, mixed))
    assert c == pytest.approx(share * a + (1 - share) * b, abs=1e-9)


@settings(max_examples=20, deadline=None)
@given(curves(), st.floats(0, 1))
def test_a_sand_mixed_with_itself_stays_itself(curve, share):
    assert blend((curve, curve), (share, 1 - share)).passing == pytest.approx(curve.passing)


@settings(max_examples=20, deadline=None)
@given(curves(), curves())
def test_no_whole_per_cent_lies_further_inside_the_band_than_the_programme_found(one, other):
    wanted = band("c144-natural")
    found = blend_to_band(("one", "other"), (one, other), wanted)
    tried = [off_band(blend((one, other), (n / 100, 1 - n / 100)), wanted) for n in range(101)]
    assert found.off <= min(tried) + 0.002


@settings(max_examples=40, deadline=None)
@given(curves(), st.floats(0, 1))
def test_finer_sand_has_more_surface(curve, share):
    finer = Grading(openings=SIZES, passing=tuple(p + share * (1 - p) for p in curve.passing[:-1]) + curve.passing[-1:])
    assert specific_surface(finer, 2650)[0] >= specific_surface(curve, 2650)[0] - 1e-9


@settings(max_examples=40, deadline=None)
@given(curves(), st.floats(0, 1))
def test_finer_sand_never_wants_less_water_nor_swells_less(curve, share):
    finer = Grading(openings=SIZES, passing=tuple(p + share * (1 - p) for p in curve.passing))
    was, now = water_demand(curve), water_demand(finer)
    assert now.middle >= was.middle - 1e-9
    assert now.low <= now.middle <= now.high
    coarse, fine = curve.size(0.5), finer.size(0.5)
    if coarse is not None and fine is not None:
        assert bulking_by_fineness(fine).middle >= bulking_by_fineness(coarse).middle - 1e-9


def test_a_sand_normal_in_phi_has_the_measures_of_theory():
    phis = [-2 + i / 50 for i in range(351)]
    normal = NormalDist(1.5, 0.8)
    curve = Grading(openings=tuple(2.0**-p / 1000 for p in phis), passing=tuple(1 - normal.cdf(p) for p in phis))
    found = graphic_measures(curve)
    assert found.mean == pytest.approx(1.5, abs=1e-3)
    assert found.sorting == pytest.approx(0.99567 * 0.8, abs=1e-3)
    assert found.skewness == pytest.approx(0, abs=1e-3)
    assert found.kurtosis == pytest.approx(0.99945, abs=1e-3)
    assert curve_moments(curve)[0].deviation == pytest.approx(0.8, abs=1e-3)


def test_moments_of_five_bins():
    found = moments((-0.5, 0.5, 1.5, 2.5, 3.5), (5, 20, 40, 25, 10))
    assert found.mean == pytest.approx(1.65)
    assert found.deviation == pytest.approx(1.01366, abs=5e-6)
    assert found.skewness == pytest.approx(-0.01512, abs=5e-6)
    assert found.kurtosis == pytest.approx(2.57657, abs=5e-6)
