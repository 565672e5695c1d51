"""J. Crank: The Mathematics of Diffusion (`crank-diffusion`): what is left in a slab and in a cylinder.

Share of the removable water left: slab dried from both faces at diffusion x time / thickness squared, cylinder at
diffusion x time / radius squared; times at half and at a tenth. Days to a tenth left for short logs with 2e-10 m2/s
across and 2e-9 along the grain.
"""

import numpy as np
import pytest

from cordwright.timber import left_in_cylinder, left_in_log_end, left_in_slab

SLAB = {0.01: 0.77432, 0.02: 0.68085, 0.05: 0.49591, 0.1: 0.30212, 0.2: 0.11260}
CYLINDER = {0.01: 0.78453, 0.05: 0.54788, 0.1: 0.39418, 0.2: 0.21785}


@pytest.mark.parametrize("time", SLAB)
def test_slab(time: float) -> None:
    assert left_in_slab(np.array([time]))[0] == pytest.approx(SLAB[time], abs=0.000011)


@pytest.mark.parametrize("time", CYLINDER)
def test_cylinder(time: float) -> None:
    assert left_in_cylinder(np.array([time]))[0] == pytest.approx(CYLINDER[time], abs=0.000011)


def test_times_at_half_and_at_a_tenth() -> None:
    assert left_in_slab(np.array([0.04918, 0.21202])) == pytest.approx([0.5, 0.1], abs=2e-5)
    assert left_in_cylinder(np.array([0.06306, 0.33441])) == pytest.approx([0.5, 0.1], abs=2e-5)


@pytest.mark.parametrize(
    ("length", "radius", "days"), [(0.4, 0.06, 45), (0.4, 0.10, 84), (0.6, 0.06, 54), (2.4, 0.06, 66)]
)
def test_days_to_a_tenth(length: float, radius: float, days: int) -> None:
    span = np.array([days - 0.5, days + 0.5]) * 86400
    left = left_in_log_end(span, 2 * radius, length, across=2e-10, along=2e-9)
    assert left[0] > 0.1 > left[1]
