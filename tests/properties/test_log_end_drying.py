"""Drying log ends: limits, monotony, where the water goes; second opinions by long series and by a grid in r and z."""

import math
from datetime import date
from itertools import pairwise

import numpy as np
import psychrolib
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray
from scipy.linalg import solve_banded
from scipy.special import erfc, jn_zeros

from cordwright.timber import (
    LogEnd,
    air_changes,
    air_from,
    check_opening,
    equilibrium_moisture,
    left_in_cylinder,
    left_in_log_end,
    left_in_slab,
    moisture_on,
    ring_flow,
    share_through_ends,
)
from cordwright.timber.diffusion import bessel_zeros
from cordwright.timber.drying import warmth

FEW = settings(max_examples=40, deadline=None)
ACROSS, ALONG = 2e-10, 2e-9
COOL = (-5.4, -5.7, -1.6, 4.9, 11.0, 15.0, 17.4, 15.9, 11.0, 5.5, 0.4, -3.3)
DAMP = (0.199, 0.190, 0.162, 0.138, 0.129, 0.138, 0.145, 0.159, 0.179, 0.194, 0.210, 0.210)

diameters = st.floats(0.05, 0.5)
lengths = st.floats(0.15, 1.2)
spans = st.floats(3600.0, 3e8)


def left(time: float, diameter: float, length: float, *, bark: bool = False) -> float:
    return float(left_in_log_end(np.array([time]), diameter, length, across=ACROSS, along=ALONG, bark=bark)[0])


def test_zeros_of_the_bessel_function_against_scipy() -> None:
    assert bessel_zeros(300) == pytest.approx(jn_zeros(0, 300), rel=1e-12)


@FEW
@given(st.floats(1e-5, 3.0))
def test_slab_and_cylinder_against_long_series(time: float) -> None:
    odd = np.arange(1, 8001, 2)
    slab = (8 / (math.pi * odd) ** 2 * np.exp(-((math.pi * odd) ** 2) * time)).sum()
    roots = jn_zeros(0, 4000)
    cylinder = (4 / roots**2 * np.exp(-(roots**2) * time)).sum()
    assert left_in_slab(np.array([time]))[0] == pytest.approx(slab, abs=2e-6 + 1e-4 * math.exp(-1e8 * time))
    assert left_in_cylinder(np.array([time]))[0] == pytest.approx(cylinder, abs=1.5e-4 if time < 1e-4 else 5e-6)


@FEW
@given(st.floats(1e-7, 0.02))
def test_slab_for_short_times_against_the_error_function(time: float) -> None:
    n = np.arange(1, 30)
    x = n / (2 * math.sqrt(time))
    ierfc = np.exp(-(x**2)) / math.sqrt(math.pi) - x * erfc(x)
    taken = 4 * math.sqrt(time) * (1 / math.sqrt(math.pi) + 2 * ((-1.0) ** n * ierfc).sum())
    assert left_in_slab(np.array([time]))[0] == pytest.approx(1 - taken, abs=1e-6)


def test_limits_in_time() -> None:
    assert left(0.0, 0.18, 0.35) == 1.0
    assert left(1e12, 0.18, 0.35) == pytest.approx(0.0, abs=1e-12)


@FEW
@given(spans, diameters, lengths)
def test_thicker_longer_and_younger_hold_more(time: float, diameter: float, length: float) -> None:
    here = left(time, diameter, length)
    assert 0 <= here <= 1
    assert left(time, diameter * 1.1, length) >= here
    assert left(time, diameter, length * 1.1) >= here
    assert left(time * 1.1, diameter, length) <= here
    assert left(time, diameter, length, bark=True) >= here


@FEW
@given(spans, lengths)
def test_very_thick_is_a_slab_and_very_long_a_cylinder(time: float, length: float) -> None:
    slab = left_in_slab(np.array([ALONG * time / length**2]))[0]
    assert left(time, 1e4, length) == pytest.approx(slab, abs=1e-4)
    cylinder = left_in_cylinder(np.array([ACROSS * time / 0.09**2]))[0]
    assert left(time, 0.18, 1e4) == pytest.approx(cylinder, abs=1e-4)


def grid(diameter: float, length: float, cells: int, surface: NDArray[np.float64], speed: NDArray[np.float64]) -> float:
    """Mean moisture from 1.1 on a grid of rings and slices, alternating directions, one surface moisture a day.

    Args:
        surface: of each day, shape (days,).
        speed: of drying each day, shape (days,).
    """
    dr, dz, parts = diameter / 2 / cells, length / 2 / cells, 2
    edge = np.arange(cells + 1) * dr
    area = (edge[1:] ** 2 - edge[:-1] ** 2) / 2
    m = np.full((cells, cells), 1.1)
    for day in range(len(surface)):
        step = 86400.0 / parts * speed[day]
        for _ in range(parts):
            m = implicit(m, ACROSS * step * edge, area * dr, surface[day])
            m = implicit(m.T, ALONG * step * np.ones(cells + 1), np.full(cells, dz * dz), surface[day]).T
    return float((m * area[:, None]).sum() / area.sum() / cells)


def implicit(
    m: NDArray[np.float64], face: NDArray[np.float64], room: NDArray[np.float64], surface: float
) -> NDArray[np.float64]:
    """One backward step along the first axis: no flow at the middle, the surface at the outer edge."""
    n = len(room)
    inner = face[1:-1] / room[:-1]
    outer = face[1:-1] / room[1:]
    last = 2 * face[-1] / room[-1]
    bands = np.zeros((3, n))
    bands[1] = 1.0
    bands[1, :-1] += inner
    bands[1, 1:] += outer
    bands[1, -1] += last
    bands[0, 1:] = -inner
    bands[2, :-1] = -outer
    right = m.copy()
    right[-1] += last * surface
    return np.asarray(solve_banded((1, 1), bands, right))


def test_a_year_of_changing_air_against_a_grid_that_converges() -> None:
    """The middle face of the slab is a face without flow: half the length is gridded, and the first face is closed."""
    start, days = date(2027, 5, 15), 360
    air = air_from(start, 2, COOL, DAMP)
    end = LogEnd(diameter=0.18, length=0.35)
    exact = float(moisture_on(end, air, np.array([start.toordinal() + float(days)]), 1.1)[0])
    ordinals = start.toordinal() + np.arange(days)
    month = np.searchsorted(air.begins, ordinals + 0.5) - 1
    surface, speed = air.moisture[month], air.warmth[month]
    errors = [abs(grid(0.18, 0.35, cells, surface, speed) - exact) for cells in (6, 12, 24)]
    assert errors[-1] < 5e-4
    assert all(b < a for a, b in pairwise(errors))


@FEW
@given(st.floats(0.05, 0.35), spans, diameters, lengths)
def test_constant_air_is_the_plain_series(air_moisture: float, time: float, diameter: float, length: float) -> None:
    start = date(2027, 3, 1)
    air = air_from(start, 12, (20.0,) * 12, (air_moisture,) * 12)
    days = min(time / 86400, 4000.0)
    found = moisture_on(LogEnd(diameter=diameter, length=length), air, np.array([start.toordinal() + days]), 1.0)[0]
    plain = air_moisture + (1.0 - air_moisture) * left(days * 86400, diameter, length)
    assert found == pytest.approx(plain, abs=1e-9)


@FEW
@given(st.integers(30, 1400), st.floats(0.005, 0.05), diameters)
def test_drier_air_never_gives_damper_wood(days: int, drier: float, diameter: float) -> None:
    start = date(2027, 8, 1)
    when = np.array([start.toordinal() + float(days)])
    end = LogEnd(diameter=diameter, length=0.35)
    damp, dry = (
        moisture_on(end, air_from(start, 4, COOL, tuple(m - d for m in DAMP)), when, 1.1)[0] for d in (0, drier)
    )
    assert dry <= damp
    assert min(DAMP) - 1e-9 <= damp <= 1.1


@settings(max_examples=8, deadline=None)
@given(diameters, lengths)
def test_all_water_leaves_through_ends_and_side(diameter: float, length: float) -> None:
    """Share through the ends, and that through the side by swapping the two answers, come to all of it."""
    ends = share_through_ends(diameter, length, across=ACROSS, along=ALONG)
    time = np.linspace(0.0, 40.0, 40_001) ** 2 * min((diameter / 2) ** 2 / ACROSS, length**2 / ALONG) / 100
    slab = left_in_slab(ALONG * time / length**2)
    round_ = left_in_cylinder(ACROSS * time / (diameter / 2) ** 2)
    through = (-np.diff(slab) * (round_[1:] + round_[:-1]) / 2).sum()
    aside = (-np.diff(round_) * (slab[1:] + slab[:-1]) / 2).sum()
    assert through + aside == pytest.approx(1.0, abs=1e-6)
    assert ends == pytest.approx(through, abs=2e-3)
    assert 0 < ends < 1


def test_warmth_goes_about_with_the_vapour_that_air_can_hold() -> None:
    """The remembered 5280 K against the saturation pressure of another library, over the months of a cool site."""
    psychrolib.SetUnitSystem(psychrolib.SI)
    for low, high in ((0.01, 10.0), (10.0, 20.0), (20.0, 30.0)):
        ours = np.log(warmth(np.array([high]))[0] / warmth(np.array([low]))[0])
        theirs = math.log(psychrolib.GetSatVapPres(high) / psychrolib.GetSatVapPres(low))
        assert ours == pytest.approx(theirs, rel=0.06)


@FEW
@given(st.floats(-1.1, 60.0), st.floats(0.05, 0.94))
def test_damper_air_asks_for_damper_wood(temperature: float, humidity: float) -> None:
    here = equilibrium_moisture(temperature, humidity)
    assert 0 < here < equilibrium_moisture(temperature, humidity + 0.01) < 0.30


@FEW
@given(st.floats(1e-4, 4e-3), st.floats(0.1, 0.4), st.floats(1.0, 10.0))
def test_leakage_goes_with_the_cube_of_the_gap(gap: float, path: float, pressure: float) -> None:
    one, two = (ring_flow(np.array([0.6]), np.array([g]), path, pressure, 1.8e-5)[0] for g in (gap, 2 * gap))
    assert two == pytest.approx(8 * one)
    assert air_changes(one, 800, 75.0, 0.25) == pytest.approx(one * 200 * 3600 / 75)


def test_flow_between_plates_against_a_summed_profile() -> None:
    gap, path, pressure, viscosity = 2e-3, 0.2, 4.0, 1.8e-5
    y = np.linspace(0, gap, 20_001)
    speed = pressure / (2 * viscosity * path) * y * (gap - y)
    summed = 0.5 * np.trapezoid(speed, y)
    assert ring_flow(np.array([0.5]), np.array([gap]), path, pressure, viscosity)[0] == pytest.approx(summed, rel=1e-6)


@FEW
@given(st.floats(0.05, 0.4), st.floats(0.01, 0.07), st.floats(0.0, 0.28))
def test_a_check_opens_by_the_rim_less_the_radius(green: float, radial: float, moisture: float) -> None:
    tangential = radial + 0.03
    gone = 1 - moisture / 0.28
    rim = math.pi * green * (1 - tangential * gone)
    round_ = math.pi * green * (1 - radial * gone)
    assert check_opening(green, radial, tangential, moisture, 0.28) == pytest.approx(round_ - rim, abs=1e-12)
