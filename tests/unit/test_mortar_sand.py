"""Are the sands of the weaving studio judged as a mason would, with every fault of a sieving named?"""

from dataclasses import replace

import pytest

from cordwright.mortar import SandInput, judge_sand, reckon_sands
from cordwright.mortar.packing import furnas, voids_from_water
from cordwright.mortar.sand_faults import sand_faults

SIZES = (4e-3, 2e-3, 1e-3, 0.5e-3, 0.25e-3, 0.125e-3, 0.063e-3)
NAMES = tuple(f"{s * 1000:g} mm" for s in SIZES)


def sieved(name, grams, **more):
    kilograms = tuple(g / 1000 for g in grams)
    return SandInput(name=name, slug=name, openings=SIZES, sieve_names=NAMES, retained=kilograms, **more)


PIT = sieved("pit", (22, 96, 188, 262, 236, 128, 46, 22), sample_mass=1.0)
BEACH = sieved("beach", (0, 2, 6, 38, 602, 336, 14, 2), loose_density=1470.0, price=6.0)
CRUSHED = sieved("crushed", (30, 262, 214, 158, 118, 92, 70, 56), kind="manufactured", loose_density=1550.0, price=19.0)


def test_the_beach_sand_is_uniform_fine_and_outside_where_it_was_said_to_be():
    report = judge_sand(BEACH)
    found = {e.sieve: round(e.has, 2) for e in report.judgements[0].excursions}
    assert found == {"No.30": 0.96, "No.50": 0.51}
    assert report.remarks[0].words.startswith("uniform fine sand: needs more water for the same placing")


def test_the_pit_sand_lies_outside_at_one_sieve_alone_and_is_short_there():
    (only,) = judge_sand(PIT).judgements[0].excursions
    assert only.sieve == "No.8"
    assert only.by == pytest.approx(-0.0451, abs=5e-5)


def test_the_order_is_pit_then_blend_then_crushed_then_beach():
    sands = reckon_sands((BEACH, CRUSHED))
    assert [r.sand.slug for r in sands.ranking] == ["blend_1", "crushed", "beach"]
    assert judge_sand(PIT).off < sands.blends[0].off


def test_the_blend_of_beach_and_crushed_sand_is_near_four_to_six():
    blend = reckon_sands((BEACH, CRUSHED)).blends[0]
    assert blend.blend.shares[0] == pytest.approx(0.4, abs=0.02)
    assert sum(blend.blend.shares) == pytest.approx(1)
    assert blend.sand.price == pytest.approx(6 * blend.blend.shares[0] + 19 * blend.blend.shares[1])
    assert blend.buckets == (2, 3)


def test_a_sieve_out_of_order_is_named():
    swapped = replace(PIT, openings=(4e-3, 1e-3, 2e-3, *SIZES[3:]), sieve_names=("4 mm", "1 mm", "2 mm", *NAMES[3:]))
    (fault,) = sand_faults((swapped,))
    assert fault.field == "sands[0].sieves[2]"
    assert "2 mm stands below 1 mm" in fault.message


@pytest.mark.parametrize(("sample", "faults"), [(1.02, 0), (1.0661, 1), (0.97, 1), (0.99, 0)])
def test_more_than_two_per_cent_lost_or_gained_is_sieved_again(sample, faults):
    assert len(sand_faults((replace(PIT, sample_mass=sample),))) == faults


def test_the_densest_packing_of_two_sands_of_sixty_per_cent_solid():
    dense = furnas(0.6, 0.6)
    assert dense.solid == pytest.approx(0.84)
    assert dense.fines == pytest.approx(0.2857, abs=5e-5)


def test_voids_by_water():
    assert voids_from_water(0.34e-3, 1e-3) == pytest.approx(0.34)
