"""W. T. Simpson: Equilibrium moisture content of wood in outdoor locations, FPL-RN-268, 1998 (`simpson-1998-emc`).

The relation at 20 C and 50 % is 9.271 %, at 20 C and 65 % it is 11.996 %, computed apart from this project by another
library that quotes it; an open encyclopaedia states 8.4 % at 60 C and 55 %.
"""

import pytest

from cordwright.base import OutOfRangeError
from cordwright.timber import equilibrium_moisture


@pytest.mark.parametrize(("temperature", "humidity", "percent"), [(20, 0.50, 9.271), (20, 0.65, 11.996)])
def test_the_relation(temperature: float, humidity: float, percent: float) -> None:
    assert 100 * equilibrium_moisture(temperature, humidity) == pytest.approx(percent, abs=0.0005)


def test_the_check_point_of_an_encyclopaedia() -> None:
    assert 100 * equilibrium_moisture(60, 0.55) == pytest.approx(8.4, abs=0.05)


@pytest.mark.parametrize(("temperature", "humidity"), [(-1.2, 0.5), (133, 0.5), (20, 0.96), (20, 0.04)])
def test_no_number_outside_the_table(temperature: float, humidity: float) -> None:
    with pytest.raises(OutOfRangeError):
        equilibrium_moisture(temperature, humidity)
