"""Forest Products Laboratory: Wood Handbook, FPL-GTR-190, 2010 (source `wood-handbook-2010`).

Shrinkage to a moisture content, S = S0 (30 - x) / 30 with Table 4-3: northern white-cedar, tangential 4.9 %, to 12 %:
2.94 %.
Density example: white ash, basic gravity 0.55, gravity at 12 % read off a chart 0.605, density at 12 % 678 kg/m3.
"""

import pytest

from cordwright.timber import density_at, shrinkage_at, species_named


def test_white_cedar_tangential_to_12_percent() -> None:
    tangential = species_named("northern white-cedar").tangential
    assert tangential is not None
    assert 100 * shrinkage_at(tangential, 0.12, 0.30) == pytest.approx(2.94, abs=0.005)


def test_white_ash_at_12_percent() -> None:
    because = """the book reads 0.605 off a chart drawn for all woods; with the volumetric shrinkage of ash itself,
    13.3 % in Table 4-3, gravity at 12 % is 0.598, 1.3 % less"""
    assert density_at(species_named("white ash"), 0.12, 0.30) == pytest.approx(678, rel=0.014), because


TABLE_4_3 = {
    "northern white-cedar": (2.2, 4.9, 7.2),
    "Atlantic white-cedar": (2.9, 5.4, 8.8),
    "eastern redcedar": (3.1, 4.7, 7.8),
    "western redcedar": (2.4, 5.0, 6.8),
    "balsam fir": (2.9, 6.9, 11.2),
    "subalpine fir": (2.6, 7.4, 9.4),
    "grand fir": (3.4, 7.5, 11.0),
    "white fir": (3.3, 7.0, 9.8),
    "quaking aspen": (3.5, 6.7, 11.5),
    "bigtooth aspen": (3.3, 7.9, 11.8),
    "balsam poplar": (3.0, 7.1, 10.5),
    "eastern cottonwood": (3.9, 9.2, 13.9),
    "American basswood": (6.6, 9.3, 15.8),
    "paper birch": (6.3, 8.6, 16.2),
    "white ash": (4.9, 7.8, 13.3),
    "coast Douglas-fir": (4.8, 7.6, 12.4),
    "interior north Douglas-fir": (3.8, 6.9, 10.7),
    "yellow-poplar": (4.6, 8.2, 12.7),
}


@pytest.mark.parametrize("name", TABLE_4_3)
def test_a_row_of_table_4_3(name: str) -> None:
    wood = species_named(name)
    printed = tuple(p / 100 for p in TABLE_4_3[name])
    assert (wood.radial, wood.tangential, wood.volumetric) == pytest.approx(printed, abs=1e-9)


def test_a_white_cedar_log_end_of_150_mm_dried_to_12_percent() -> None:
    wood = species_named("northern white-cedar")
    assert wood.radial is not None
    assert wood.tangential is not None
    lost = [150 * shrinkage_at(s, 0.12, 0.30) for s in (wood.radial, wood.tangential)]
    assert lost == pytest.approx([2.0, 4.4], abs=0.05)
