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
