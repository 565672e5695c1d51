"""LBL infiltration model (`lbl-infiltration`): 300 cm2, 30 K, 4 m/s, shelter 3 gives 0.02534 m3/s."""

import numpy as np
import pytest

from cordwright.base import OutOfRangeError
from cordwright.heat.leakage import infiltration, leakage_area, shelter_factors, usual_air_changes


def test_example() -> None:
    flow = infiltration(0.03, np.array([30.0]), np.array([4.0]), 3)
    assert flow[0] == pytest.approx(0.02534, abs=0.000005)
    assert flow[0] * 3600 == pytest.approx(91, abs=0.5)


def test_shelter_from_one_to_five() -> None:
    assert [shelter_factors(n)[1] for n in range(1, 6)] == [0.000319, 0.000246, 0.000174, 0.000104, 0.000032]
    with pytest.raises(OutOfRangeError, match="shelter class 6"):
        shelter_factors(6)


def test_rule_of_the_twentieth_and_the_hole_it_stands_for() -> None:
    assert usual_air_changes(8.0) == pytest.approx(0.4)
    area = leakage_area(8.0, 75.0)
    # Sharp-edged, at 4 Pa and 1.2 kg/m3: flow over sqrt(2 dp / rho).
    assert area * np.sqrt(2 * 4 / 1.2) == pytest.approx(8.0 * 75 / 3600 * (4 / 50) ** 0.65, rel=1e-12)
