"""Driving rain (`iso-15927-3-memory`, `gunn-kinzer-1949`, `rain-drift`).

Index of one hour at 6 m/s and 3 mm/h square to the wall, 3.540 L/m2. Eaves over a wall of 2.25 m under a roof of 27
degrees: with 0.8 m at 4 m/s the lower 0.7 m is wetted, with 1.2 m almost nothing.
"""

from math import pi, radians

import numpy as np
import pytest

from cordwright.base import InputError
from cordwright.heat.rain import Eaves, driving_rain, even_rose, fall_speeds, needed_overhang, wetted_height


def test_index_of_an_hour() -> None:
    one = np.array([1.0])
    assert driving_rain(6 * one, 0 * one, 3 * one, 0.0) == pytest.approx(3.540, abs=0.0005)
    assert driving_rain(6 * one, 0 * one, 3 * one, pi) == 0.0


def test_a_rose_that_blows_from_everywhere_is_the_mean_over_its_directions() -> None:
    around = np.linspace(0, 2 * pi, 360, endpoint=False)
    hours = np.ones(360)
    by_hours = driving_rain(5 * hours, around, 2 * hours, 1.0)
    assert even_rose((5.0,) + (0.0,) * 11, (720.0,) + (0.0,) * 11, (360.0,) + (0.0,) * 11) == pytest.approx(
        by_hours, rel=1e-3
    )


def eaves(overhang: float) -> Eaves:
    return Eaves(overhang=overhang, head=2.25, pitch=radians(27))


def test_eaves_of_the_studio() -> None:
    usual = fall_speeds()[1]
    assert wetted_height(eaves(0.8), 4.0, usual) == pytest.approx(0.7, abs=0.05)
    assert wetted_height(eaves(1.2), 4.0, usual) == pytest.approx(0.0, abs=0.05)


@pytest.mark.parametrize("falls", fall_speeds())
@pytest.mark.parametrize("wind", [1.0, 4.0, 12.0])
def test_needed_eaves_wet_nothing_and_a_hand_less_does(wind: float, falls: float) -> None:
    needed = needed_overhang(eaves(0.0), wind, falls)
    assert wetted_height(eaves(needed), wind, falls) == pytest.approx(0.0, abs=1e-9)
    assert wetted_height(eaves(needed - 0.1), wind, falls) > 0.05


def test_wind_below_nothing_is_refused() -> None:
    with pytest.raises(InputError):
        wetted_height(eaves(0.8), -1.0, 5.0)
    assert wetted_height(eaves(0.8), 0.0, 5.0) == 0.0
