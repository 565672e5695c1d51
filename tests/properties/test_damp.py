"""Laws of damp: vapour never exceeds saturation, what goes in comes out or stays, fine cuts change nothing."""

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cordwright.heat.mould import dew_point, needed_factor
from cordwright.heat.rain import Eaves, wetted_height
from cordwright.heat.vapour import PERMEABILITY, Air, DampLayer, cut, vapour_month, vapour_year
from cordwright.heat.windows import Hole, diffuse_share, seen_share
from cordwright.site import saturation_pressure

LAYERS = st.lists(
    st.tuples(st.floats(0.01, 0.3), st.floats(0.03, 1.5), st.floats(1.0, 60.0)), min_size=1, max_size=4
).map(
    lambda rows: tuple(
        DampLayer(name=f"layer {n}", thickness=d, conductivity=k, vapour_factor=mu) for n, (d, k, mu) in enumerate(rows)
    )
)
OUTSIDE = st.tuples(st.floats(-20.0, 15.0), st.floats(0.4, 0.95))


def air(t: float, humidity: float) -> Air:
    return Air(temperature=t, pressure=humidity * saturation_pressure(t))


@settings(max_examples=60, deadline=None)
@given(LAYERS, OUTSIDE, st.floats(0.2, 0.8))
def test_the_string_stays_under_saturation_and_keeps_all_water(
    layers: tuple[DampLayer, ...], outside: tuple[float, float], humidity: float
) -> None:
    path = cut(layers)
    inner, outer = air(20.0, humidity), air(*outside)
    month = vapour_month(path, inner, outer, np.zeros(path.sd.size))
    assert (month.pressure[1:-1] <= month.saturation[1:-1] * (1 + 1e-9)).all()
    assert (month.gain >= -1e-15).all()
    slopes = -np.diff(month.pressure) / np.diff(path.sd) * PERMEABILITY
    assert slopes[0] - slopes[-1] == pytest.approx(month.gain[1:-1].sum(), abs=1e-15)


@settings(max_examples=30, deadline=None)
@given(LAYERS, OUTSIDE, st.integers(2, 6))
def test_cutting_layers_finer_at_equal_parts_changes_nothing_where_water_lies_at_an_edge(
    layers: tuple[DampLayer, ...], outside: tuple[float, float], parts: int
) -> None:
    """The string over the same nodes is the same; more nodes can only press it lower, never let it rise."""

    def pieces(times: int) -> tuple[DampLayer, ...]:
        counts = [times * max(1, math.ceil(x.resistance / 0.25 - 1e-9)) for x in layers]
        return tuple(
            replace(x, thickness=x.thickness / n) for x, n in zip(layers, counts, strict=True) for _ in range(n)
        )

    coarse, fine = cut(pieces(1)), cut(pieces(parts))
    inner, outer = air(20.0, 0.5), air(*outside)
    a = vapour_month(coarse, inner, outer, np.zeros(coarse.sd.size))
    b = vapour_month(fine, inner, outer, np.zeros(fine.sd.size))
    assert (np.interp(coarse.sd, fine.sd, b.pressure) <= a.pressure + 1e-6).all()


@settings(max_examples=20, deadline=None)
@given(LAYERS, st.floats(0.3, 0.75))
def test_a_year_ends_as_it_began_or_says_that_it_does_not(layers: tuple[DampLayer, ...], humidity: float) -> None:
    outside = tuple(air(t, 0.85) for t in (-5.0, -4.0, 0.0, 5.0, 11.0, 15.0, 17.0, 16.0, 11.0, 6.0, 0.0, -3.0))
    inside = tuple(air(max(20.0, a.temperature), humidity) for a in outside)
    year = vapour_year(cut(layers), inside, outside)
    assert min(year.by_month) >= 0.0
    assert year.most.max() <= max(year.by_month) + 1e-12
    if year.dries:
        again = vapour_year(cut(layers), inside, outside, years=4)
        assert year.by_month == pytest.approx(again.by_month, rel=1e-6, abs=1e-9)


def test_damper_rooms_leave_more_water() -> None:
    layers = (
        DampLayer(name="bead", thickness=0.1, conductivity=0.8, vapour_factor=10),
        DampLayer(name="fill", thickness=0.15, conductivity=0.05, vapour_factor=2),
        DampLayer(name="bead", thickness=0.1, conductivity=0.8, vapour_factor=10),
    )
    outside = tuple(air(t, 0.85) for t in (-8.0, -7.0, -2.0, 5.0, 11.0, 15.0, 17.0, 16.0, 11.0, 6.0, 0.0, -5.0))

    def most(humidity: float) -> float:
        return max(vapour_year(cut(layers), tuple(air(20.0, humidity) for _ in outside), outside).by_month)

    assert most(0.2) < most(0.45) < most(0.6)


@given(st.floats(-30.0, 50.0))
def test_dew_point_undoes_saturation(t: float) -> None:
    assert dew_point(saturation_pressure(t)) == pytest.approx(t, abs=1e-6)


@given(st.floats(-20.0, 10.0), st.floats(0.25, 0.6))
def test_the_face_must_be_warmer_in_a_damper_room(outside: float, humidity: float) -> None:
    low, high = (needed_factor(h * saturation_pressure(20.0), 20.0, outside) for h in (humidity, humidity + 0.1))
    assert low < high < 1.5


@given(st.floats(0.1, 2.0), st.floats(0.5, 15.0), st.floats(3.0, 9.0), st.floats(0.0, 1.0))
def test_wider_eaves_and_faster_drops_wet_less(overhang: float, wind: float, falls: float, pitch: float) -> None:
    def wet(o: float, w: float, f: float) -> float:
        return wetted_height(Eaves(overhang=o, head=2.4, pitch=pitch), w, f)

    assert wet(overhang + 0.1, wind, falls) <= wet(overhang, wind, falls) + 1e-12
    assert wet(overhang, wind + 0.5, falls) >= wet(overhang, wind, falls) - 1e-12
    assert wet(overhang, wind, falls + 0.5) <= wet(overhang, wind, falls) + 1e-12
    assert 0.0 <= wet(overhang, wind, falls) <= 2.4


@given(st.floats(0.2, 3.0), st.floats(0.2, 3.0), st.floats(0.0, 0.8))
def test_a_deeper_reveal_lets_in_less_of_the_sky(width: float, height: float, depth: float) -> None:
    assert 0.0 < seen_share(width, height, depth) <= 1.0
    shallow, deep = (diffuse_share(Hole(width=width, height=height, setback=d)) for d in (depth, depth + 0.1))
    assert deep < shallow <= 1.0


def test_two_squares_as_far_apart_as_they_are_wide_see_a_fifth() -> None:
    assert seen_share(1.0, 1.0, 1.0) == pytest.approx(0.1998, abs=5e-5)
