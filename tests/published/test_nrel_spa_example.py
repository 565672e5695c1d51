"""I. Reda, A. Andreas, Solar position algorithm for solar radiation applications, NREL/TP-560-34302, worked example.

17 October 2003, 12:30:30 local time seven hours behind universal time, 39.742476 N, 105.1786 W.
"""

from datetime import date

import numpy as np
import pytest

from cordwright.site import sun_position

MOMENT = np.array(date(2003, 10, 17).toordinal() + (12 + 30 / 60 + 30 / 3600 + 7) / 24)


def test_height_and_bearing_of_the_sun() -> None:
    elevation, azimuth = sun_position(39.742476, -105.1786, MOMENT)
    # because=the almanac's short formula is good to 0.01 deg and has no parallax; the example adds refraction.
    assert 90 - float(elevation) == pytest.approx(50.11162, abs=0.02)
    assert float(azimuth) == pytest.approx(194.34024, abs=0.01)
