"""Built-up corners: blocks cross in alternate courses, panels are toothed, areas and lists follow."""

import math
from dataclasses import replace

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from cordwright.base import InputError
from cordwright.plan import (
    BottleGroup,
    Corners,
    Head,
    Opening,
    PanelSpec,
    PlanInput,
    PolygonOutline,
    Post,
    RoundOutline,
    WallSection,
    find_faults,
    reckon_plan,
)
from cordwright.plan.corner_blocks import clipped, toothed, within
from cordwright.plan.inputs import Frame

BLOCKS = Corners(kind="built-up", block_length=0.75, block_height=0.15, joint=0.02)
SQUARE = ((0.0, 0.0), (4.0, 0.0), (4.0, 3.0), (0.0, 3.0))
ELL = ((0.0, 0.0), (6.0, 0.0), (6.0, 3.0), (3.0, 3.0), (3.0, 6.0), (0.0, 6.0))


def plan_of(**more):
    stated = {
        "outline": PolygonOutline(corners=SQUARE),
        "section": WallSection(log_end_length=0.4, bead=0.1),
        "height": 2.2,
        "corners": BLOCKS,
    }
    return PlanInput(**{**stated, **more})


def panel(plan, name):
    return next(p for p in plan.panels if p.name == name)


def told(plan, field):
    return " | ".join(f"{p.message}; {p.hint}" for p in find_faults(plan) if p.field == field)


def test_a_panel_begins_at_the_inside_corner_and_is_toothed() -> None:
    south = panel(reckon_plan(plan_of()), "S")
    assert (south.inner_length, south.centre_length, south.outer_length) == (4.0, 4.0, 4.0)
    left = [b for b in south.blocks if b.end == "left"]
    assert [(b.course, b.left, round(b.right, 6)) for b in left][:2] == [(2, 0.0, 0.35), (4, 0.0, 0.35)]
    right = [b for b in south.blocks if b.end == "right"]
    assert [b.course for b in right] == [1, 3, 5, 7, 9, 11, 13]
    assert (right[0].left, right[0].bottom, right[0].top) == (pytest.approx(3.65), 0.0, 0.15)
    assert right[1].bottom == pytest.approx(2 * 0.17)


def test_blocks_cross_at_every_corner_in_every_course() -> None:
    """At each corner one wall shows its left end and the next its right: their courses make up all, none twice."""
    for corners in (SQUARE, ELL):
        plan = reckon_plan(plan_of(outline=PolygonOutline(corners=corners)))
        for n, this in enumerate(plan.panels):
            before = plan.panels[n - 1]
            here = [b.course for b in this.blocks if b.end == "right"]
            there = [b.course for b in before.blocks if b.end == "left"]
            assert sorted(here + there) == list(range(1, 14))


def test_the_gross_area_is_the_clear_length_less_the_mean_of_the_teeth() -> None:
    plan = reckon_plan(plan_of())
    for p in plan.panels:
        shape = shapely.Polygon(p.outline)
        assert shape.is_valid
        assert p.gross_area == pytest.approx(shape.area)
        teeth = [(b.right - b.left) * (b.top - b.bottom) / 2.2 for b in p.blocks]
        assert p.gross_area == pytest.approx((p.centre_length - math.fsum(teeth)) * 2.2)
    assert plan.figure("plan.gross_wall_area").value == pytest.approx(14 * 2.2 - 52 * 0.35 * 0.15)


def test_blocks_are_counted_once_and_ordered_whole() -> None:
    plan = reckon_plan(plan_of(height=2.1))
    assert plan.figure("plan.corner_blocks").value == 4 * 13
    assert plan.figure("plan.corner_block_volume").value == pytest.approx(52 * 0.75 * 0.4 * 0.15)
    lines = [b for b in plan.build_in if "corner block" in b.what and b.panel == "S"]
    assert [(b.what, b.size) for b in lines] == [
        ("6 corner blocks, right end, courses 1, 3, 5, 7, 9 and 11", "750 x 400 x 150 mm"),
        ("6 corner blocks, left end, courses 2, 4, 6, 8, 10 and 12", "750 x 400 x 150 mm"),
        ("1 corner block, right end, course 13, cut to the wall head", "750 x 400 x 60 mm"),
    ]
    assert lines[2].sizes == pytest.approx((0.75, 0.4, 0.06))


def test_corners_with_posts_have_no_blocks_and_no_figures() -> None:
    plan = reckon_plan(plan_of(corners=Corners()))
    assert all(p.blocks == () for p in plan.panels)
    assert not [f.key for f in plan.figures if "block" in f.key]
    assert panel(plan, "S").centre_length == pytest.approx(4.4)


def test_a_post_within_a_side_ends_a_panel_without_teeth() -> None:
    plan = reckon_plan(
        plan_of(
            frame=Frame(posts=(Post(side="S", from_left=2.0),)),
            panels=(PanelSpec(name="S1", post_allowance=0.2), PanelSpec(name="S2", post_allowance=0.2)),
        )
    )
    left, right = panel(plan, "S1"), panel(plan, "S2")
    assert {b.end for b in left.blocks} == {"left"}
    assert {b.end for b in right.blocks} == {"right"}
    assert left.centre_length == pytest.approx(2.0 - 0.2 - 0.1)
    assert right.centre_length == pytest.approx(4.4 - 2.0 - 0.1 - 0.2)
    assert next(b.what for b in plan.build_in if b.panel == "S1") == "key strip on the post"
    assert len(plan.posts) == 1


def test_teeth_stay_under_a_falling_head() -> None:
    head = Head(kind="sloping", left=2.4, right=2.0)
    plan = reckon_plan(plan_of(panels=(PanelSpec(name="S", head=head),)))
    south = panel(plan, "S")
    shape = shapely.Polygon(south.outline)
    assert south.gross_area == pytest.approx(shape.area)
    assert max(b.top for b in south.blocks if b.end == "left") <= 2.4 - 0.1 * 0.35 + 1e-9
    assert max(b.top for b in south.blocks if b.end == "right") <= 2.0


@pytest.mark.parametrize(
    ("changes", "field", "words"),
    [
        ({"corners": Corners(kind="built-up")}, "corners.block_length", "this is missing"),
        ({"corners": replace(BLOCKS, kind="posts")}, "corners.block_height", "corners with posts have no blocks"),
        ({"corners": replace(BLOCKS, block_length=0.4)}, "corners.block_length", "more than 400 mm; about 800 mm"),
        ({"corners": replace(BLOCKS, joint=0.2)}, "corners.joint", "less than 150 mm"),
        ({"outline": RoundOutline(inside_diameter=4.0)}, "corners.kind", "no corners to build up"),
        ({"outline": PolygonOutline(corners=SQUARE, corner_radius=0.5)}, "corners.kind", "rounded to 500 mm"),
        (
            {"outline": PolygonOutline(corners=((0, 0), (4, 0), (5, 3), (0, 3)))},
            "corners.kind",
            "corner 2 turns 71.6 deg: squared blocks need a square corner",
        ),
        ({"post_allowance": 0.2}, "plan.post_allowance", "take 200 mm off panel"),
        ({"corners": replace(BLOCKS, block_length=2.0)}, "corners.block_length", "take 3200 mm of its 3000 mm"),
        (
            {"openings": (Opening(id="W1", panel="S", width=0.9, height=0.9, sill=0.9, from_left=0.2),)},
            "openings[0].from_left",
            "W1 stands 150 mm into the corner blocks of panel S; from 350 to 2750 mm",
        ),
    ],
)
def test_corners_that_cannot_be_built_are_told_with_what_would_fit(changes, field, words) -> None:
    plan = plan_of(**changes)
    assert words in told(plan, field)
    with pytest.raises(InputError):
        reckon_plan(plan)


def test_bottle_ends_keep_clear_of_the_blocks() -> None:
    bottles = (BottleGroup(id="B1", panel="S", count=20, diameter=0.08, band_low=0.5, band_high=1.5),)
    plan = reckon_plan(plan_of(bottles=bottles))
    south = panel(plan, "S")
    teeth = shapely.union_all([shapely.box(b.left, b.bottom, b.right, b.top) for b in south.blocks])
    assert len(south.obstacles) == 20
    assert all(teeth.distance(shapely.Point(o.u, o.v)) > 0.04 for o in south.obstacles)


@settings(max_examples=40, deadline=None)
@given(
    length=st.floats(0.45, 1.2),
    high=st.floats(0.08, 0.3),
    joint=st.floats(0.005, 0.05),
    height=st.floats(0.5, 3.0),
    rise=st.floats(0.1, 1.0),
    thick=st.floats(0.2, 0.44),
)
def test_any_toothed_panel_has_the_area_of_its_outline(*, length, high, joint, height, rise, thick) -> None:
    plan = plan_of(
        section=WallSection(log_end_length=thick, bead=thick / 4),
        height=height,
        corners=Corners(kind="built-up", block_length=length, block_height=high, joint=joint),
        panels=(PanelSpec(name="S", head=Head(kind="gable", rise=rise)),),
    )
    for p in reckon_plan(plan).panels:
        shape = shapely.Polygon(p.outline)
        assert shape.is_valid
        assert shape.exterior.is_ccw
        assert shape.area == pytest.approx(p.gross_area, abs=1e-9)
        assert all(b.top - b.bottom <= high + 1e-9 and b.top <= height + rise for b in p.blocks)
        assert p.outline[0][1] == 0.0


def test_a_bay_of_a_toothed_panel_keeps_its_blocks() -> None:
    south = panel(reckon_plan(plan_of()), "S")
    half = clipped(south.outline, 2.0, 4.0)
    assert shapely.Polygon(half).area == pytest.approx(2 * 2.2 - 7 * 0.35 * 0.15)
    assert [b.left for b in within(south.blocks, 2.0, 4.0)] == pytest.approx([1.65] * 7)
    assert toothed(south.outline, ()) == south.outline
