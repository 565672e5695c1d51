"""Saturated borax (decahydrate), percent of the solution by mass (`borax-solubility`): 4.52 at 19 C, 4.71 at 20 C, 4.94
at 21 C; the salt without its water of crystals 1.3 g in 100 g of water at 0 C.
"""

import pytest

from cordwright.timber import solubility_bounds

DRY_SHARE = 201.22 / 381.37
"""Molar mass of the salt without its ten waters over the whole."""


@pytest.mark.parametrize(("temperature", "percent"), [(19, 4.52), (20, 4.71), (21, 4.94)])
def test_a_saturated_solution(temperature: float, percent: float) -> None:
    bounds = solubility_bounds("borax", temperature)
    assert bounds is not None
    assert 100 * bounds[0] / (1 + bounds[0]) == pytest.approx(percent, abs=0.005)


def test_the_dry_salt_at_0_degrees() -> None:
    bounds = solubility_bounds("borax", 0)
    assert bounds is not None
    crystals = 100 * bounds[0]
    dry, water = DRY_SHARE * crystals, 100 + (1 - DRY_SHARE) * crystals
    assert 100 * dry / water == pytest.approx(1.3, abs=0.05)
