"""University of Missouri, forestry functions: log volume (source `missouri-log-volume`).

Printed for a log of 10 and 12 in at its ends and 16 ft length, in cubic feet: Smalian 10.647, cone 10.588, neiloid
10.568.
"""

import pytest

from cordwright.base.units import CUBIC_FOOT, FOOT, INCH
from cordwright.timber import cone_frustum, neiloid, smalian

LOG = (12 * INCH, 10 * INCH, 16 * FOOT)


def test_smalian() -> None:
    assert smalian(*LOG) / CUBIC_FOOT == pytest.approx(10.647, abs=0.0005)


def test_cone() -> None:
    assert cone_frustum(*LOG) / CUBIC_FOOT == pytest.approx(10.588, abs=0.0005)


def test_neiloid() -> None:
    because = "the print cuts 10.5689 off after the third decimal instead of rounding it"
    assert neiloid(*LOG) / CUBIC_FOOT == pytest.approx(10.568, abs=0.001), because
