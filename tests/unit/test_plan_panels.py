"""What stands in the panels: heads, openings, sleeves, bottle ends, build-in list, figures."""

import math

import pytest

from cordwright.base import InputError
from cordwright.plan import (
    BottleGroup,
    Head,
    Opening,
    PanelSpec,
    PlanInput,
    PolygonOutline,
    Roof,
    RoundOutline,
    Sleeve,
    WallSection,
    find_faults,
    reckon_plan,
)

SECTION = WallSection(log_end_length=0.3, bead=0.09)
SQUARE = ((-1.8, -1.8), (1.8, -1.8), (1.8, 1.8), (-1.8, 1.8))


def window(mark, panel="S", **more):
    sizes = {"width": 0.6, "height": 0.9, "sill": 0.95, "from_left": 1.475}
    return Opening(id=mark, panel=panel, **(sizes | more))


def plan_of(**more):
    sizes = {"post_allowance": 0.35, "height": 2.2}
    return PlanInput(outline=PolygonOutline(corners=SQUARE), section=SECTION, **(sizes | more))


def test_wall_section():
    double = WallSection(log_end_length=0.35, bead=0.1, proud=0.01)
    assert double.thickness == pytest.approx(0.33)
    assert double.cavity == pytest.approx(0.13)
    assert (double.solid, double.mortar_depth) == (False, 0.2)
    # Beads of 130 mm in a wall 250 mm thick meet: a solid joint.
    solid = WallSection(log_end_length=0.25, bead=0.13)
    assert (solid.solid, solid.cavity, solid.mortar_depth) == (True, 0.0, 0.25)
    with pytest.raises(InputError):
        WallSection(log_end_length=0.25, bead=0.1, proud=0.125)


def test_bakehouse_areas():
    openings = (
        window("D1", "N", use="door", width=0.9, height=2.05, sill=0.0, from_left=0.5),
        window("W1", "N", width=1.0, from_left=1.95),
        window("W2", "E"),
        window("W3", "S", width=0.5, height=0.4, sill=1.5, from_left=1.525),
    )
    plan = reckon_plan(plan_of(openings=openings))
    assert [p.centre_length for p in plan.panels] == pytest.approx([3.55] * 4)
    assert plan.figure("plan.net_wall_area").value == pytest.approx(27.755, abs=1e-9)


def test_gable_and_sloping_heads():
    panels = (
        PanelSpec(name="S", head=Head(kind="gable", rise=1.2)),
        PanelSpec(name="N", head=Head(kind="gable", rise=1.2, peak_from_left=1.0)),
        PanelSpec(name="E", head=Head(kind="sloping", left=2.0, right=3.0)),
    )
    plan = reckon_plan(plan_of(panels=panels))
    areas = {p.name: p.gross_area for p in plan.panels}
    assert areas["S"] == pytest.approx(3.55 * 2.2 + 3.55 * 1.2 / 2)
    assert areas["N"] == pytest.approx(areas["S"])
    assert areas["E"] == pytest.approx(3.55 * 2.5)
    south = next(p for p in plan.panels if p.name == "S")
    expected = ((0, 0), (3.55, 0), (3.55, 2.2), (1.775, 3.4), (0, 2.2))
    assert all(p == pytest.approx(e) for p, e in zip(south.outline, expected, strict=True))


@pytest.mark.parametrize(
    ("shape", "height", "rise", "area"),
    [
        ("rectangle", 0.9, 0.0, 0.54),
        ("round", 0.6, 0.0, math.pi * 0.09),
        ("arched", 0.9, 0.3, 0.6 * 0.6 + math.pi * 0.09 / 2),
        # A segment with rise 0.1 on 0.6: radius 0.5, half angle asin(0.6): r2 (angle - sin cos).
        ("arched", 0.9, 0.1, 0.6 * 0.8 + 0.25 * (math.asin(0.6) - 0.6 * 0.8)),
    ],
)
def test_opening_areas(shape, height, rise, area):
    plan = reckon_plan(plan_of(openings=(window("W1", shape=shape, height=height, rise=rise),)))
    (placed,) = next(p for p in plan.panels if p.name == "S").openings
    assert placed.area == pytest.approx(area, abs=1e-11)
    xs, ys = zip(*placed.outline, strict=True)
    assert (min(xs), max(xs)) == pytest.approx((1.475, 2.075), abs=1e-3)
    assert (min(ys), max(ys)) == pytest.approx((0.95, 0.95 + height), abs=1e-3)
    twice = sum(
        x0 * y1 - x1 * y0
        for (x0, y0), (x1, y1) in zip(placed.outline, (*placed.outline[1:], placed.outline[0]), strict=True)
    )
    assert twice / 2 == pytest.approx(area, rel=5e-3)


def test_bottles_spread_evenly_and_go_around_a_window():
    group = BottleGroup(id="B1", panel="S", count=24, diameter=0.078, band_low=1.2, band_high=1.8)
    plan = reckon_plan(plan_of(openings=(window("W1"),), bottles=(group,)))
    ends = next(p for p in plan.panels if p.name == "S").obstacles
    assert len(ends) == 24
    assert [e.id for e in ends] == [f"B1.{n}" for n in range(1, 25)]
    for n, end in enumerate(ends):
        assert all(math.dist((end.u, end.v), (o.u, o.v)) >= 1.5 * 0.078 - 1e-9 for o in ends[:n])
        assert end.v - 0.039 >= 1.2
        assert end.v + 0.039 <= 1.8
        assert end.u + 0.078 <= 1.475 + 1e-9 or end.u - 0.078 >= 2.075 - 1e-9
    # The panel and its window are symmetric, and so is the pattern.
    mirrored = {(round(3.55 - e.u, 9), round(e.v, 9)) for e in ends}
    assert mirrored == {(round(e.u, 9), round(e.v, 9)) for e in ends}


def test_bottle_groups_of_one_panel_keep_clear_of_each_other():
    bands = [BottleGroup(id=f"B{n}", panel="S", count=9, diameter=0.08, band_low=1.0, band_high=1.4) for n in (1, 2)]
    ends = next(p for p in reckon_plan(plan_of(bottles=tuple(bands))).panels if p.name == "S").obstacles
    assert len(ends) == 18
    assert min(math.dist((a.u, a.v), (b.u, b.v)) for a in ends for b in ends if a is not b) >= 1.5 * 0.08 - 1e-9


def test_too_many_bottles_tell_how_many_fit():
    group = BottleGroup(id="B1", panel="S", count=500, diameter=0.1, band_low=1.0, band_high=1.3)
    (fault,) = find_faults(plan_of(bottles=(group,)))
    assert fault.field == "bottles[0].count"
    # Two rows of a pitch of 150 mm; axes from 100 to 3450 mm: 23 in each.
    assert fault.message.startswith("46 of 500 bottle ends of B1 fit")
    fits = BottleGroup(id="B1", panel="S", count=46, diameter=0.1, band_low=1.0, band_high=1.3)
    assert find_faults(plan_of(bottles=(fits,))) == ()


def test_build_in_lists_everything_once_lowest_first():
    plan = plan_of(
        openings=(
            window("W1", lintel_depth=0.15, lintel_bearing=0.1),
            window("W2", "N", lintel_bearing=0.1),
            window("W3", "W", lintel_depth=0.15, shape="arched", rise=0.2),
            window("H1", "E", use="other", shape="round", height=0.6),
        ),
        sleeves=(
            Sleeve(id="K1", panel="S", what="air inlet", diameter=0.1, from_left=0.4, height=0.15),
            Sleeve(id="K2", panel="N", what="", diameter=0.1, from_left=0.4, height=2.0),
        ),
        bottles=(BottleGroup(id="B1", panel="N", count=5, diameter=0.08, band_low=0.2, band_high=0.4),),
    )
    rows = reckon_plan(plan).build_in
    for panel in ("S", "E", "N", "W"):
        bottoms = [r.bottom for r in rows if r.panel == panel]
        assert bottoms == sorted(bottoms)
        assert sum(r.what.startswith("key strip") for r in rows if r.panel == panel) == 1
    for mark in ("K1", "K2", "B1", "H1"):
        assert sum(r.mark == mark for r in rows) == 1
    south = [(r.what, r.size) for r in rows if r.panel == "S"]
    assert south == [
        ("key strip on both posts", ""),
        ("sleeve: air inlet", "100 mm"),
        ("sill, falling out", "600 mm long"),
        ("window frame", "600 x 900 mm"),
        ("lintel", "800 mm long, 150 mm deep"),
    ]
    lintels = {r.mark: r for r in rows if r.what == "lintel"}
    assert lintels["W1"].bottom == pytest.approx(1.85)
    assert lintels["W1"].from_left == pytest.approx(1.375)
    assert lintels["W2"].size == "800 mm long, depth not stated"
    assert lintels["W3"].size == "over 600 mm, bearing not stated, 150 mm deep"
    assert next(r.size for r in rows if r.mark == "H1") == "600 x 600 mm, round"
    assert next(r.size for r in rows if r.what == "window frame" and r.mark == "W3") == "600 x 900 mm, arched 200 mm"


def test_no_key_strip_without_posts():
    plan = PlanInput(outline=RoundOutline(inside_diameter=3.0), section=SECTION, height=2.0)
    assert reckon_plan(plan).build_in == ()


def test_obstacles_are_told_and_not_deducted():
    sleeve = Sleeve(id="K1", panel="S", what="air", diameter=0.1, from_left=0.4, height=0.5)
    plan = reckon_plan(plan_of(sleeves=(sleeve,)))
    assert plan.figure("plan.obstacles_area").value == pytest.approx(math.pi * 0.0025)
    assert plan.figure("plan.net_wall_area").value == plan.figure("plan.gross_wall_area").value


def test_every_figure_shows_its_working_and_its_source():
    roof = Roof(form="gable", pitch=math.radians(35), overhang=0.6, ridge=math.pi / 2)
    for figure in reckon_plan(plan_of(openings=(window("W1"),), roof=roof)).figures:
        assert figure.sources
        assert figure.steps[-1].value == pytest.approx(figure.value)


def test_checks_of_common_practice():
    roof = Roof(form="hip", pitch=0.5, overhang=0.3)
    low = {c.key: c.verdict for c in reckon_plan(plan_of(roof=roof, plinth_height=0.25)).checks}
    assert low == {"plan.plinth_height": "short", "roof.overhang": "short"}
    high = {
        c.key: c.verdict
        for c in reckon_plan(plan_of(roof=Roof(form="hip", pitch=0.5, overhang=0.4), plinth_height=0.3)).checks
    }
    assert high == {"plan.plinth_height": "holds", "roof.overhang": "holds"}
    blank = reckon_plan(plan_of()).checks
    assert [c.verdict for c in blank] == ["not judged", "not judged"]
    assert all(c.not_judged for c in blank)
