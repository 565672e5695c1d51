"""CRD-C 104-80, Method of calculation of the fineness modulus of aggregate, US Army Corps of Engineers 1980, para 4.

Printed: cumulative shares retained and moduli of a fine aggregate (3.29), a coarse one (7.44) and of 65 parts of coarse
to 35 of fine (5.98).
"""

import pytest

from cordwright.mortar.grading import ASTM_SERIES, Grading, blend, fineness_modulus

SERIES = (38.1e-3, 19e-3, 9.5e-3, *ASTM_SERIES)
FINE = (0, 0, 0, 4, 21, 46, 74, 89, 95)
COARSE = (4, 49, 91, 100, 100, 100, 100, 100, 100)


def curve(retained):
    return Grading(openings=SERIES, passing=tuple(1 - r / 100 for r in retained))


def modulus(graded):
    low, high = fineness_modulus(graded, SERIES)
    assert low == high
    return low


def test_fine_aggregate():
    assert modulus(curve(FINE)) == pytest.approx(3.29, abs=0.005)


def test_coarse_aggregate():
    assert modulus(curve(COARSE)) == pytest.approx(7.44, abs=0.005)


def test_sixty_five_of_coarse_to_thirty_five_of_fine():
    # Wider because the source rounds each sieve of the blend to a whole per cent first; unrounded it is 5.9875.
    assert modulus(blend((curve(COARSE), curve(FINE)), (0.65, 0.35))) == pytest.approx(5.98, abs=0.01)
