"""Setting out and the roof."""

import math

import pytest

from cordwright.plan import OvalOutline, PlanInput, PolygonOutline, Roof, RoundOutline, WallSection, reckon_plan
from cordwright.plan.setting_out import letter

SECTION = WallSection(log_end_length=0.35, bead=0.1)
STUDIO = ((-1.9, -2.4), (1.9, -2.4), (3.3, -1.0), (3.3, 1.0), (1.9, 2.4), (-1.9, 2.4), (-3.3, 1.0), (-3.3, -1.0))


def reckoned(outline, **more):
    return reckon_plan(PlanInput(outline=outline, section=SECTION, height=2.25, **more))


def rows(outline):
    return reckoned(outline).setting_out.rows


def test_studio_sides_and_diagonals():
    out = reckoned(PolygonOutline(corners=STUDIO)).setting_out
    assert [name for name, _ in out.points] == list("ABCDEFGH")
    sides = [length for kind, *_, length in out.rows if kind == "side"]
    assert sides == pytest.approx([3.8, 1.980, 2.0, 1.980, 3.8, 1.980, 2.0, 1.980], abs=5e-4)
    diagonals = {round(length, 3) for kind, *_, length in out.rows if kind == "diagonal"}
    assert {6.122, 6.896, 5.385, 6.213} <= diagonals
    assert sum(kind == "diagonal" for kind, *_ in out.rows) == 8 * 5 / 2


def test_many_corners_are_fixed_from_two_of_them():
    n = 16
    corners = tuple((5 * math.cos(2 * math.pi * k / n), 5 * math.sin(2 * math.pi * k / n)) for k in range(n))
    found = [(a, b) for kind, a, b, _ in rows(PolygonOutline(corners=corners)) if kind == "diagonal"]
    assert all("A" in pair or "I" in pair for pair in found)
    told = {mark for pair in found for mark in pair}
    assert told == set("ABCDEFGHIJKLMNOP")


def test_letters_go_on_after_z():
    assert [letter(n) for n in (0, 25, 26, 51, 52, 701, 702)] == ["A", "Z", "AA", "AZ", "BA", "ZZ", "AAA"]


def test_rounded_corner_marks():
    square = ((0.0, 0.0), (4.0, 0.0), (4.0, 4.0), (0.0, 4.0))
    out = reckoned(PolygonOutline(corners=square, corner_radius=0.5)).setting_out
    points = dict(out.points)
    assert points["B0"] == pytest.approx((3.5, 0.5))
    assert points["B1"] == pytest.approx((3.5, 0.0))
    assert points["B2"] == pytest.approx((4.0, 0.5))
    told = {(kind, a, b): length for kind, a, b, length in out.rows}
    assert told[("radius", "B0", "B1")] == pytest.approx(0.5)
    assert told[("offset", "B", "B1")] == pytest.approx(0.5)
    assert told[("chord", "B1", "B2")] == pytest.approx(math.sqrt(0.5))
    assert told[("ordinate", "B1", "B2")] == pytest.approx(0.5 - math.sqrt(0.5) / 2)


def test_circle_marks_begin_due_north_and_run_clockwise():
    out = reckoned(RoundOutline(inside_diameter=4.0)).setting_out
    points = dict(out.points)
    assert points["8.1"] == pytest.approx((0.0, 2.0), abs=1e-12)
    assert points["8.3"] == pytest.approx((2.0, 0.0), abs=1e-12)
    for _, a, b, length in (r for r in out.rows if r[0] in ("chord", "diagonal", "radius")):
        assert math.dist(points[a], points[b]) == pytest.approx(length, abs=1e-12)


def test_gardeners_oval():
    for length, width in ((5.0, 3.0), (3.0, 5.0)):
        out = reckoned(OvalOutline(inside_length=length, inside_width=width)).setting_out
        points = dict(out.points)
        (string,) = [r for r in out.rows if r[0] == "string"]
        assert string[3] == pytest.approx(5.0)
        assert math.dist(points["F1"], points["F2"]) == pytest.approx(4.0)
        # The string kept taut over both stakes reaches every mark on the curve.
        for n in range(8):
            taut = math.dist(points["F1"], points[f"Y{n}"]) + math.dist(points["F2"], points[f"Y{n}"])
            assert taut == pytest.approx(string[3], abs=1e-12)
        for _, a, b, far in (r for r in out.rows if r[0] in ("ordinate", "offset", "diagonal")):
            assert math.dist(points[a], points[b]) == pytest.approx(far, abs=1e-12)


def test_roof_of_a_rectangle():
    corners = ((0.0, 0.0), (6.0, 0.0), (6.0, 4.0), (0.0, 4.0))
    pitch, overhang = math.radians(35), 0.5
    wide, deep = 6.0 + 2 * 0.85, 4.0 + 2 * 0.85
    cases = {
        ("hip", None): deep / 2,
        ("gable", math.pi / 2): deep / 2,
        ("gable", 0.0): wide / 2,
        ("shed", 0.0): deep,
        ("shed", math.pi / 2): wide,
    }
    for (form, ridge), run in cases.items():
        plan = reckoned(
            PolygonOutline(corners=corners), roof=Roof(form=form, pitch=pitch, overhang=overhang, ridge=ridge)
        )
        assert plan.figure("roof.plan_area").value == pytest.approx(wide * deep)
        assert plan.figure("roof.slope_area").value == pytest.approx(wide * deep / math.cos(pitch))
        assert plan.figure("roof.ridge_height").value == pytest.approx(run * math.tan(pitch))


def test_roof_of_round_and_oval_walls():
    pitch = math.radians(30)
    cone = reckoned(RoundOutline(inside_diameter=4.0), roof=Roof(form="cone", pitch=pitch, overhang=0.5))
    assert cone.figure("roof.plan_area").value == pytest.approx(math.pi * 2.85**2)
    # The mantle of a cone is pi r s.
    assert cone.figure("roof.slope_area").value == pytest.approx(math.pi * 2.85 * 2.85 / math.cos(pitch))
    assert cone.figure("roof.ridge_height").value == pytest.approx(2.85 * math.tan(pitch))
    oval = OvalOutline(inside_length=6.0, inside_width=4.0)
    gable = reckoned(oval, roof=Roof(form="gable", pitch=pitch, overhang=0.5, ridge=math.pi / 2))
    assert gable.figure("roof.ridge_height").value == pytest.approx(2.85 * math.tan(pitch))
    hip = reckoned(oval, roof=Roof(form="hip", pitch=pitch, overhang=0.5))
    assert hip.figure("roof.ridge_height").value == pytest.approx(2.85 * math.tan(pitch))


def test_what_is_not_stated_stays_unknown():
    none = reckoned(RoundOutline(inside_diameter=4.0))
    assert none.eaves == ()
    for key in ("roof.plan_area", "roof.slope_area", "roof.ridge_height"):
        assert none.figure(key).value is None
        assert none.figure(key).missing
    no_ridge = reckoned(RoundOutline(inside_diameter=4.0), roof=Roof(form="gable", pitch=0.5, overhang=0.5))
    assert no_ridge.figure("roof.ridge_height").value is None
    assert no_ridge.figure("roof.slope_area").value is not None
    ell = ((0.0, 0.0), (6.0, 0.0), (6.0, 3.0), (3.0, 3.0), (3.0, 6.0), (0.0, 6.0))
    notched = reckoned(PolygonOutline(corners=ell), roof=Roof(form="hip", pitch=0.5, overhang=0.5))
    assert notched.figure("roof.ridge_height").value is None
    assert notched.figure("roof.slope_area").value == pytest.approx((7.7**2 - 9.0) / math.cos(0.5))
