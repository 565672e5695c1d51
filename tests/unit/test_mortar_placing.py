"""Sand in the bucket and under the trowel: water, bulking, screening, the names of EN 13139, humus and salt."""

from dataclasses import replace

import pytest

from cordwright.mortar import SandInput, judge_sand
from cordwright.mortar.en_13139 import en_remarks, fines_category, size_words
from cordwright.mortar.grading import Grading
from cordwright.mortar.grading_bands import band
from cordwright.mortar.placing import bulking_by_fineness, screened_share, water_demand

BEACH = Grading(
    openings=(4e-3, 2e-3, 1e-3, 0.5e-3, 0.25e-3, 0.125e-3, 0.063e-3),
    passing=(1.0, 0.998, 0.992, 0.954, 0.352, 0.016, 0.002),
)
GRAVEL = Grading(openings=(16e-3, 8e-3, 4e-3, 2e-3, 1e-3, 0.5e-3), passing=(1.0, 0.8, 0.5, 0.3, 0.2, 0.1))
BARE = SandInput(name="bare", slug="bare")


def figures(sand, curve=None):
    return {f.key.rpartition(".")[2]: f for f in judge_sand(sand, curve).figures}


def remarks(**stated):
    return [r.words for r in judge_sand(replace(BARE, **stated)).remarks]


def test_a_sand_in_the_middle_of_the_band_wants_the_water_it_is_measured_by():
    limits = band("c144-natural").limits
    middle = Grading(openings=tuple(m.opening for m in limits), passing=tuple((m.low + m.high) / 2 for m in limits))
    found = water_demand(middle)
    assert (found.low, found.middle, found.high) == pytest.approx((1, 1, 1))


def test_beach_sand_wants_more_water_and_says_how_unsure_that_is():
    found = water_demand(BEACH)
    assert 1 < found.low < found.middle < found.high
    figure = figures(BARE, BEACH)["water_demand"]
    assert (figure.low, figure.high) == (found.low, found.high)
    assert "sand-water-demand" in {c.key for c in figure.sources}


def test_a_sieving_that_does_not_reach_gives_no_water():
    figure = figures(BARE, Grading(openings=(4e-3, 1e-3), passing=(1.0, 0.5)))["water_demand"]
    assert figure.value is None
    assert figure.missing


def test_own_bulking_goes_before_the_assumed_one():
    assumed, own = (figures(replace(BARE, bulking=b), BEACH)["bulking"] for b in (None, 1.1))
    assert (assumed.low, assumed.high) == (1.15, 1.30)
    assert own.value == 1.1
    assert own.low is None


@pytest.mark.parametrize(
    ("size", "swell"), [(2e-3, 1.15), (1e-3, 1.15), (0.5e-3, 1.225), (0.25e-3, 1.3), (0.1e-3, 1.3)]
)
def test_finer_sand_swells_more_within_the_printed_range(size, swell):
    assert bulking_by_fineness(size).middle == pytest.approx(swell)


def test_a_gravel_is_screened_for_its_sand():
    assert screened_share(GRAVEL, 4e-3) == pytest.approx(0.5)
    found = figures(BARE, GRAVEL)
    assert found["screened_4"].value == pytest.approx(0.5)
    assert 0.5 < found["screened_4_75"].value < 0.8


def test_a_sand_is_not_screened():
    assert "screened_4" not in figures(BARE, BEACH)


def test_the_bucket_tells_the_loose_density_with_a_spread():
    found = figures(replace(BARE, loose_density=1500.0))
    assert (found["loose_density"].low, found["loose_density"].high) == pytest.approx((1455, 1545))
    assert found["voids"].low < found["voids"].value < found["voids"].high


@pytest.mark.parametrize(("fines", "category"), [(0.0, 1), (0.03, 1), (0.04, 2), (0.08, 3), (0.2, 4), (0.31, None)])
def test_fines_categories(fines, category):
    assert fines_category(fines) == category


def test_sizes_are_named_only_where_the_sieves_tell():
    assert size_words(BEACH) == "0/2"
    assert size_words(GRAVEL) is None
    coarse = Grading(openings=(4e-3, 2e-3, 1e-3), passing=(0.97, 0.7, 0.4))
    assert [r.words for r in en_remarks(coarse)] == [
        "EN 13139 as remembered: size not judged; fines not judged without a sieve of 63 µm"
    ]


def test_humus_is_told_first_and_a_strip_speaks_of_salt():
    assert remarks(organic="yes", silt=0.09)[0].startswith("humus was found")
    assert remarks(organic="no") == []
    assert remarks(chloride="found")[0].startswith("the strip shows chloride")
    assert "hold a chloride strip" in remarks(beach=True)[0]
    assert "shows no chloride" in remarks(beach=True, chloride="none")[0]
