"""Closed forms of the circle and the 3-4-5 triangle.

Source: plane geometry, closed form, as listed in the project's reference values for a circle of radius 4 (chord 1:
sagitta 0.031373; sixteen equal parts: chord 1.560723, polygon 24.9716, circumference 25.1327); and Euclid, Elements,
book I, proposition 47, for sides 3 and 4 with diagonal 5.
"""

import pytest

from cordwright.plan import PlanInput, PolygonOutline, RoundOutline, WallSection, reckon_plan
from cordwright.plan.setting_out import sagitta

SECTION = WallSection(log_end_length=0.3, bead=0.09)


def test_sagitta_of_a_chord_of_one():
    assert sagitta(4.0, 1.0) == pytest.approx(0.031373, abs=5e-7)


def test_circle_of_radius_four_in_sixteen_parts():
    plan = reckon_plan(PlanInput(outline=RoundOutline(inside_diameter=8.0), section=SECTION, height=2.0))
    chord = next(length for kind, a, _, length in plan.setting_out.rows if kind == "chord" and a == "16.1")
    assert chord == pytest.approx(1.560723, abs=5e-7)
    assert 16 * chord == pytest.approx(24.9716, abs=5e-5)
    assert plan.figure("plan.inner_perimeter").value == pytest.approx(25.1327, abs=5e-5)


def test_three_four_five():
    corners = ((0.0, 0.0), (4.0, 0.0), (4.0, 3.0), (0.0, 3.0))
    plan = reckon_plan(PlanInput(outline=PolygonOutline(corners=corners), section=SECTION, height=2.0))
    assert [length for kind, *_, length in plan.setting_out.rows if kind == "diagonal"] == [5.0, 5.0]
