"""CRD-C 104-80, Method of calculation of the fineness modulus of aggregate, US Army Corps of Engineers 1980, para 4."""

import pytest

from cordwright.mortar.grading import ASTM_SERIES, Grading, fineness_modulus


def test_fine_aggregate():
    retained = (4, 21, 46, 74, 89, 95)
    curve = Grading(openings=ASTM_SERIES, passing=tuple(1 - r / 100 for r in retained))
    low, high = fineness_modulus(curve, ASTM_SERIES)
    assert low == high
    assert low == pytest.approx(3.29, abs=0.005)
