"""US Army Engineer School, EN5466, Concrete: bulking of sand."""

import pytest

from cordwright.mortar.packing import damp_volume, swell_from_volumes


def test_seventy_litres_that_swell_by_a_fifth():
    assert damp_volume(0.070, 0.20) == pytest.approx(0.084, abs=0.0005)


def test_three_hundred_twenty_fall_to_two_hundred_eighty():
    assert 100 * swell_from_volumes(320, 280) == pytest.approx(14.29, abs=0.005)
