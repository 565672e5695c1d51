"""Faces of the wall: lengths and areas worked out by hand."""

import math

import pytest

from cordwright.base import InputError
from cordwright.plan import (
    Frame,
    Opening,
    OvalOutline,
    PanelSpec,
    PlanInput,
    PolygonOutline,
    Post,
    RoundOutline,
    WallSection,
    reckon_plan,
)

SECTION = WallSection(log_end_length=0.35, bead=0.1)
SQUARE = ((0.0, 0.0), (4.0, 0.0), (4.0, 4.0), (0.0, 4.0))
STUDIO = ((-1.9, -2.4), (1.9, -2.4), (3.3, -1.0), (3.3, 1.0), (1.9, 2.4), (-1.9, 2.4), (-3.3, 1.0), (-3.3, -1.0))
STUDIO_NAMES = ("S", "SE", "E", "NE", "N", "NW", "W", "SW")
ELL = ((0.0, 0.0), (6.0, 0.0), (6.0, 3.0), (3.0, 3.0), (3.0, 6.0), (0.0, 6.0))


def plan_of(outline, **more):
    return PlanInput(outline=outline, section=SECTION, height=2.25, **more)


def value(plan, key):
    return reckon_plan(plan).figure(key).value


def test_square_with_sharp_corners():
    plan = reckon_plan(plan_of(PolygonOutline(corners=SQUARE)))
    assert plan.figure("plan.inner_area").value == pytest.approx(16.0, abs=1e-12)
    assert plan.figure("plan.inner_perimeter").value == pytest.approx(16.0, abs=1e-12)
    assert plan.figure("plan.centre_perimeter").value == pytest.approx(4 * 4.35, abs=1e-12)
    assert plan.figure("plan.outer_perimeter").value == pytest.approx(4 * 4.7, abs=1e-12)
    assert plan.figure("plan.outer_area").value == pytest.approx(4.7**2, abs=1e-12)
    assert plan.figure("plan.interior_angles").value == 360.0
    assert {tuple(round(c, 9) for c in p) for p in plan.outer_face} == {
        (-0.35, -0.35),
        (4.35, -0.35),
        (4.35, 4.35),
        (-0.35, 4.35),
    }


def test_square_with_rounded_corners():
    r, t = 0.5, 0.35
    plan = reckon_plan(plan_of(PolygonOutline(corners=SQUARE, corner_radius=r)))
    inside = 16 - (4 - math.pi) * r**2
    around = 4 * (4 - 2 * r) + 2 * math.pi * r
    assert plan.figure("plan.inner_area").value == pytest.approx(inside, abs=1e-12)
    assert plan.figure("plan.inner_perimeter").value == pytest.approx(around, abs=1e-12)
    assert plan.figure("plan.outer_perimeter").value == pytest.approx(around + 2 * math.pi * t, abs=1e-12)
    assert plan.figure("plan.outer_area").value == pytest.approx(inside + around * t + math.pi * t**2, abs=1e-12)
    names = [p.name for p in plan.panels]
    assert names == ["S", "E-S", "E", "N-E", "N", "W-N", "W", "S-W"]
    corner = plan.panels[1]
    assert corner.inner_length == pytest.approx(math.pi / 2 * r, abs=1e-12)
    assert corner.outer_length == pytest.approx(math.pi / 2 * (r + t), abs=1e-12)
    assert corner.inner_radius == r
    assert math.degrees(corner.bearing) == pytest.approx(135.0)
    # From its left end seen from inside: the arc begins beside side E and ends beside side S.
    assert corner.inner_line[0] == pytest.approx((4.0, 0.5), abs=1e-12)
    assert corner.inner_line[-1] == pytest.approx((3.5, 0.0), abs=1e-12)


def test_re_entrant_corner_mitres_inwards():
    plan = reckon_plan(plan_of(PolygonOutline(corners=ELL)))
    # The two sides of the notch lose half of what a bulging corner would add; together the L keeps 24 + 4 x 2 t.
    assert plan.figure("plan.outer_perimeter").value == pytest.approx(24 + 8 * 0.35, abs=1e-12)
    assert plan.figure("plan.outer_area").value == pytest.approx(6.7**2 - 3.0 * 3.0, abs=1e-12)
    # Seen from inside, the notch side from (6, 3) to (3, 3): longer by t / 2 at the bulging end, shorter at the other.
    notch = next(p for p in plan.panels if [y for _, y in p.centre_line] == pytest.approx([3.175, 3.175]))
    assert (notch.inner_length, notch.centre_length, notch.outer_length) == pytest.approx((3.0, 3.0, 3.0))
    inner_corner = next(p for p in plan.panels if [x for x, _ in p.centre_line] == pytest.approx([3.175, 3.175]))
    assert inner_corner.inner_length == pytest.approx(3.0)
    assert len([p for p in plan.panels if p.name.startswith("N")]) == 2


def test_rounded_re_entrant_corner_bends_the_other_way():
    plan = reckon_plan(plan_of(PolygonOutline(corners=ELL, corner_radius=0.6)))
    bends = [p for p in plan.panels if p.inner_radius is not None and p.inner_radius < 0]
    assert len(bends) == 1
    assert bends[0].inner_length == pytest.approx(math.pi / 2 * 0.6, abs=1e-12)
    assert bends[0].outer_length == pytest.approx(math.pi / 2 * 0.25, abs=1e-12)
    # Five bulging corners lose what a square has beyond its quarter circle, the re-entrant one gains it.
    beyond = 1 - math.pi / 4
    assert plan.figure("plan.inner_area").value == pytest.approx(27 - (5 - 1) * beyond * 0.6**2, abs=1e-12)
    outer = 6.7**2 - 3.0**2 - 5 * beyond * 0.95**2 + beyond * 0.25**2
    assert plan.figure("plan.outer_area").value == pytest.approx(outer, abs=1e-12)


def test_circle():
    plan = reckon_plan(plan_of(RoundOutline(inside_diameter=4.0)))
    assert plan.figure("plan.inner_area").value == pytest.approx(4 * math.pi, rel=1e-14)
    assert plan.figure("plan.outer_perimeter").value == pytest.approx(2 * math.pi * 2.35, rel=1e-14)
    (panel,) = plan.panels
    assert panel.name == "round"
    assert panel.gross_area == pytest.approx(2 * math.pi * 2.175 * 2.25, rel=1e-12)
    assert panel.inner_radius == pytest.approx(2.0)


def test_a_round_wall_runs_clockwise_from_due_north():
    # Plan up bears east, so true north lies to plan left.
    plan = reckon_plan(plan_of(RoundOutline(inside_diameter=4.0), north=math.pi / 2))
    line = plan.panels[0].inner_line
    assert line[0] == pytest.approx((-2.0, 0.0), abs=1e-12)
    # A quarter of the way on, clockwise: plan up, which bears east.
    quarter = line[round((len(line) - 1) / 4)]
    assert quarter[1] > 1.9
    posts = (
        Post(side="round", from_left=2 * math.pi * 2.175 / 4),
        Post(side="round", from_left=2 * math.pi * 2.175 / 2),
    )
    split = reckon_plan(plan_of(RoundOutline(inside_diameter=4.0), north=math.pi / 2, frame=Frame(posts=posts)))
    assert [p.name for p in split.panels] == ["round1", "round2"]
    assert split.panels[0].centre_line[0] == pytest.approx((0.0, 2.175), abs=1e-9)
    assert math.degrees(split.panels[0].bearing) == pytest.approx(135.0)
    assert split.panels[1].centre_length == pytest.approx(3 * split.panels[0].centre_length)
    assert len(split.posts) == 2


def test_one_post_moves_the_beginning_of_a_round_wall():
    plan = reckon_plan(
        plan_of(RoundOutline(inside_diameter=4.0), frame=Frame(posts=(Post(side="round", from_left=math.pi * 2.175),)))
    )
    (panel,) = plan.panels
    assert panel.name == "round"
    assert panel.centre_line[0] == pytest.approx((0.0, -2.175), abs=1e-9)


def test_oval_with_equal_axes_is_a_circle():
    oval = reckon_plan(plan_of(OvalOutline(inside_length=4.0, inside_width=4.0)))
    circle = reckon_plan(plan_of(RoundOutline(inside_diameter=4.0)))
    for key in ("plan.inner_area", "plan.outer_area", "plan.centre_perimeter", "plan.gross_wall_area"):
        assert oval.figure(key).value == pytest.approx(circle.figure(key).value, rel=1e-14)


def test_oval_tightest_radius_is_at_the_ends():
    (panel,) = reckon_plan(plan_of(OvalOutline(inside_length=6.0, inside_width=4.0))).panels
    assert panel.inner_radius == pytest.approx(2.0**2 / 3.0)


def test_studio_panels():
    sizes = (
        ("S", 1.6, 1.2, 0.75, 0.4),
        ("S", 0.9, 1.2, 0.75, 2.425),
        ("SE", 0.7, 1.1, 0.8, 0.6),
        ("SW", 0.7, 1.1, 0.8, 0.6),
        ("W", 0.96, 2.1, 0.0, 0.48),
        ("E", 0.9, 1.0, 0.85, 0.51),
        ("N", 0.5, 0.5, 1.35, 2.6),
    )
    openings = tuple(
        Opening(id=f"O{n}", panel=panel, width=w, height=h, sill=sill, from_left=u)
        for n, (panel, w, h, sill, u) in enumerate(sizes)
    )
    studio = PolygonOutline(corners=STUDIO)
    plan = reckon_plan(plan_of(studio, side_names=STUDIO_NAMES, post_allowance=0.22, openings=openings))
    assert plan.figure("plan.openings_area").value == pytest.approx(7.71, abs=0.02)
    assert plan.figure("plan.net_wall_area").value == pytest.approx(34.86, abs=0.02)
    lengths = {p.name: p.centre_length for p in plan.panels}
    assert lengths["S"] == pytest.approx(3.725, abs=5e-4)
    assert lengths["SE"] == pytest.approx(1.905, abs=5e-4)
    assert lengths["E"] == pytest.approx(1.925, abs=5e-4)
    assert plan.figure("plan.gross_wall_area").value == pytest.approx(42.57, abs=0.02)
    assert plan.figure("plan.interior_angles").value == 1080.0
    assert len(plan.posts) == 8


def test_sides_are_named_by_the_compass():
    plan = plan_of(PolygonOutline(corners=STUDIO))
    assert [p.name for p in reckon_plan(plan).panels] == list(STUDIO_NAMES)
    turned = plan_of(PolygonOutline(corners=STUDIO), north=math.pi)
    assert [p.name for p in reckon_plan(turned).panels] == ["N", "NW", "W", "SW", "S", "SE", "E", "NE"]


def test_posts_divide_a_side_from_its_left_end_seen_from_inside():
    plan = reckon_plan(
        plan_of(
            PolygonOutline(corners=SQUARE),
            frame=Frame(posts=(Post(side="S", from_left=1.35),)),
            post_allowance=0.2,
            panels=(PanelSpec(name="S2", post_allowance=0.1),),
        )
    )
    left, right = (next(p for p in plan.panels if p.name == name) for name in ("S1", "S2"))
    # Facing south from inside, the left end lies to the east.
    assert left.centre_line[0] == pytest.approx((4.175 - 0.1, -0.175))
    assert left.centre_length == pytest.approx(1.35 - 0.2)
    assert right.centre_length == pytest.approx(3.0 - 0.1)
    assert left.inner_length == pytest.approx(1.35 - 0.175 - 0.2)
    assert right.outer_length == pytest.approx(3.0 + 0.175 - 0.1)
    assert len(plan.posts) == 5


def test_posts_without_allowance_stand_only_where_stated():
    plan = reckon_plan(plan_of(PolygonOutline(corners=SQUARE), frame=Frame(posts=(Post(side="W", from_left=2.0),))))
    assert len(plan.posts) == 1
    assert plan.posts[0] == pytest.approx((-0.175, -0.175 + 2.0))


@pytest.mark.parametrize(
    "corners",
    [
        SQUARE[::-1],
        ((0.0, 0.0), (4.0, 4.0), (4.0, 0.0), (0.0, 4.0)),
        ((0.0, 0.0), (4.0, 0.0), (4.0, 0.0), (0.0, 4.0)),
        ((0.0, 0.0), (4.0, 0.0)),
        ((0.0, 0.0), (4.0, 0.0), (2.0, 0.0), (0.0, 4.0)),
        ((0.0, 0.0), (float("nan"), 0.0), (0.0, 4.0)),
    ],
)
def test_outlines_no_building_can_have_are_refused(corners):
    from cordwright.plan.outline import shape_of

    with pytest.raises(InputError):
        shape_of(PolygonOutline(corners=corners))
    with pytest.raises(InputError):
        reckon_plan(plan_of(PolygonOutline(corners=corners)))


def test_a_corner_on_a_straight_line_changes_nothing():
    more = (*SQUARE[:1], (2.0, 0.0), *SQUARE[1:])
    for radius in (0.0, 0.4):
        plain = plan_of(PolygonOutline(corners=SQUARE, corner_radius=radius))
        extra = plan_of(PolygonOutline(corners=more, corner_radius=radius))
        for key in ("plan.inner_area", "plan.outer_area", "plan.outer_perimeter", "plan.gross_wall_area"):
            assert value(extra, key) == pytest.approx(value(plain, key), abs=1e-10)
