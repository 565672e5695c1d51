"""ISO 6946, combined method, surface resistances and air layers (`iso-6946`, `iso-6946-air-layer`).

Worked example A: a timber-framed wall of Scottish building guidance (6.B.2) as quoted in public test data, RT' 3.435,
RT'' 3.304, U 0.297. Limit example: log ends of 60 % beside mortar and fill, whose bounds lie nearly too far apart.
"""

import pytest

from cordwright.heat.conductivity import air_layer
from cordwright.heat.section import INSIDE, OUTSIDE, combined

AIR = 0.18


def test_worked_example_a() -> None:
    # Brick, air cavity (as a layer of its resistance), sheathing, studs and wool, plasterboard; outside first.
    thick = [0.102, 0.010, 0.009, 0.140, 0.0125]
    wool, stud = ((0.77, 0.010 / AIR, 0.13, k, 0.21) for k in (0.04, 0.12))
    found = combined(thick, [(0.85, wool), (0.15, stud)])
    assert found.upper_resistance == pytest.approx(3.435, abs=0.0005)
    assert found.lower_resistance == pytest.approx(3.304, abs=0.0005)
    assert found.u_value == pytest.approx(0.297, abs=0.0005)
    assert found.valid


def test_limit_example_of_a_log_end_wall() -> None:
    log, joint = (0.24, 0.24, 0.24), (0.9, 0.045, 0.9)
    found = combined([0.12, 0.16, 0.12], [(0.6, log), (0.4, joint)])
    assert found.upper_resistance == pytest.approx(2.3426, abs=0.00005)
    assert found.lower_resistance == pytest.approx(1.6338, abs=0.00005)
    assert found.u_value == pytest.approx(0.503, abs=0.0005)
    assert found.error == pytest.approx(0.18, abs=0.005)
    assert found.ratio == pytest.approx(1.43, abs=0.005)


def test_surface_resistances() -> None:
    assert (INSIDE, OUTSIDE) == (0.13, 0.04)


@pytest.mark.parametrize(
    ("width", "printed"), [(5, 0.11), (7, 0.13), (10, 0.15), (15, 0.17), (25, 0.18), (50, 0.18), (300, 0.18)]
)
def test_air_layers(width: float, printed: float) -> None:
    assert air_layer(width / 1000) == pytest.approx(printed, abs=0.005)
