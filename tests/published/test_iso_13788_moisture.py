"""ISO 13788 (`iso-13788-memory`): saturation, mould at the face and water left within layers, in closed form.

Saturation pressures beside psychrolib and CoolProp; the temperature factor of the German and Nordic habit; three walls
whose water is worked out by hand from the plane where it is left: G1 to G3.
"""

import CoolProp.CoolProp
import numpy as np
import psychrolib
import pytest

from cordwright.heat.mould import dew_point, least_face_temperature, needed_factor, plain_factor
from cordwright.heat.vapour import Air, DampLayer, cut, vapour_month
from cordwright.site import saturation_pressure

PRINTED = {-20: 102.74, -10: 259.33, 0: 610.50, 10: 1227.31, 20: 2336.95, 30: 4240.51}
DAY = 86400 * 1000


@pytest.mark.parametrize("t", PRINTED)
def test_saturation(t: int) -> None:
    assert saturation_pressure(float(t)) == pytest.approx(PRINTED[t], abs=0.005)
    psychrolib.SetUnitSystem(psychrolib.SI)
    because = 0.006 if t < 0 else 0.002  # the formulas differ by that much, more over ice
    assert psychrolib.GetSatVapPres(float(t)) == pytest.approx(PRINTED[t], rel=because)
    if t > 0:
        second = CoolProp.CoolProp.PropsSI("P", "T", t + 273.15, "Q", 0, "Water")
        assert second == pytest.approx(PRINTED[t], rel=because)


def test_dew_point() -> None:
    assert dew_point(0.5 * saturation_pressure(20.0)) == pytest.approx(9.27, abs=0.005)
    psychrolib.SetUnitSystem(psychrolib.SI)
    assert psychrolib.GetTDewPointFromRelHum(20.0, 0.5) == pytest.approx(9.27, abs=0.01)
    for t in (-15.0, -0.1, 0.0, 0.1, 25.0):
        assert dew_point(saturation_pressure(t)) == pytest.approx(t, abs=1e-9)


@pytest.mark.parametrize(("outside", "factor"), [(-5.0, 0.705), (0.0, 0.631), (-10.0, 0.754)])
def test_face_against_mould(outside: float, factor: float) -> None:
    pressure = 0.5 * saturation_pressure(20.0)
    assert pressure == pytest.approx(1168.5, abs=0.05)
    assert least_face_temperature(pressure) == pytest.approx(12.62, abs=0.005)
    assert needed_factor(pressure, 20.0, outside) == pytest.approx(factor, abs=0.0005)


def test_factor_of_a_straight_wall() -> None:
    # R 2 between the faces: with 0.25 inside and 0.04 outside the face lies at 1 - 0.25 / 2.29.
    assert plain_factor(1 / (0.13 + 2 + 0.04)) == pytest.approx(1 - 0.25 / 2.29, rel=1e-12)


def layer(thickness: float, k: float, mu: float) -> DampLayer:
    return DampLayer(name="layer", thickness=thickness, conductivity=k, vapour_factor=mu)


PLASTERED = (layer(0.015, 0.7, 10), layer(0.2, 0.04, 2), layer(0.02, 0.9, 15))
BEADS = (layer(0.12, 0.9, 25), layer(0.16, 0.045, 2), layer(0.12, 0.9, 25))
CASES = {
    "G1": (PLASTERED, -10.0, 24.85, -9.650, 267.5),
    "G2": (BEADS, -10.0, 4.10, -8.735, 290.1),
    "G3": (PLASTERED, -5.0, 18.58, None, None),
}


@pytest.mark.parametrize("name", CASES)
@pytest.mark.parametrize("pieces", [1, 5, 20])
def test_water_left_within_layers_however_finely_they_are_cut(name: str, pieces: int) -> None:
    layers, outside, grams, t, held = CASES[name]
    cut_up = tuple(layer(x.thickness / pieces, x.conductivity, x.vapour_factor) for x in layers for _ in range(pieces))
    path = cut(cut_up)
    inner = Air(temperature=20.0, pressure=0.5 * saturation_pressure(20.0))
    outer = Air(temperature=outside, pressure=0.8 * saturation_pressure(outside))
    month = vapour_month(path, inner, outer, np.zeros(path.sd.size))
    assert month.gain.sum() * DAY == pytest.approx(grams, abs=0.005)
    wet = int(month.gain.argmax())
    assert np.count_nonzero(month.gain) == 1
    if t is not None:
        assert month.temperature[wet] == pytest.approx(t, abs=0.0005)
        assert month.saturation[wet] == pytest.approx(held, abs=0.05)
