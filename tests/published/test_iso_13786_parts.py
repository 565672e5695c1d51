"""ISO 13786 (`iso-13786-memory`): three parts over a day of 24 h, Rsi 0.13 and Rse 0.04.

Values as worked out by the matrix method in two programs that agree to twelve digits, and by stepping in time. Columns:
U, periodic transmittance, its share of U, its lag [h], admittances with their leads [h], capacities [kJ/m2K].
"""

import cmath
from math import pi

import pytest

from cordwright.heat.year_elements import DAY, Layer, areal_capacity, gathered, layered, wave

CONCRETE = ((0.2, 1.8, 2400.0, 1000.0),)
BRICK = (
    (0.015, 0.7, 1400.0, 1000.0), (0.2, 0.5, 1200.0, 1000.0), (0.1, 0.04, 30.0, 1400.0), (0.01, 0.9, 1800.0, 1000.0)
)  # fmt: skip
LOG = ((0.4, 0.24, 450.0, 1600.0),)
ROWS = {
    "concrete": (CONCRETE, 3.5573, 1.8271, 0.5136, 5.676, 5.7043, 0.948, 11.592, 1.873, 86.17, 170.87),
    "brick": (BRICK, 0.3223, 0.05883, 0.1825, 9.693, 4.0440, 1.602, 1.4525, 4.740, 56.41, 20.63),
    "log": (LOG, 0.5445, 0.07206, 0.1324, 14.225, 2.5958, 2.079, 3.2079, 2.653, 36.13, 44.41),
}
BECAUSE = 0.0025
"""Slices of 4 mm and eight shapes stand for the layers: a quarter of a per cent."""


@pytest.mark.parametrize("name", ROWS)
def test_part(name: str) -> None:
    rows, u, periodic, share, lag, y11, lead11, y22, lead22, inner, outer = ROWS[name]
    modes = gathered(
        layered(tuple(Layer(thickness=d, conductivity=k, density=r, specific_heat=c) for d, k, r, c in rows))
    )
    a, b, c = wave(modes)
    assert modes.transmittance == pytest.approx(u, abs=0.00005)
    assert abs(b) == pytest.approx(periodic, rel=BECAUSE)
    assert abs(b) / modes.transmittance == pytest.approx(share, rel=BECAUSE)
    # A lag of more than half a day shows as a lead: it is counted on through the full turn.
    assert -cmath.phase(b) * 12 / pi % 24 == pytest.approx(lag, abs=0.02)
    assert (abs(a), abs(c)) == pytest.approx((y11, y22), rel=BECAUSE)
    assert (cmath.phase(a) * 12 / pi, cmath.phase(c) * 12 / pi) == pytest.approx((lead11, lead22), abs=0.01)
    assert areal_capacity(modes) / 1000 == pytest.approx(inner, rel=BECAUSE)
    assert DAY / 2 / pi * abs(c - b) / 1000 == pytest.approx(outer, rel=BECAUSE)
