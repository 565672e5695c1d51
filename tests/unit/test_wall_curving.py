"""A curved wall laid at its hollow face: no joint under nominal there, places on the centre line, both faces told."""

import math
from dataclasses import replace

import numpy as np
import pytest

from cordwright.plan import (
    Opening,
    OvalOutline,
    PlanInput,
    PolygonOutline,
    Post,
    RoundOutline,
    Sleeve,
    WallSection,
    reckon_plan,
)
from cordwright.plan.inputs import Frame
from cordwright.wall import measures
from cordwright.wall.dealing import net_area
from cordwright.wall.engine import lay_panel
from cordwright.wall.faces import at_face, faces_of, hollow_face, place_in
from cordwright.wall.inputs import Joints
from cordwright.wall.judge import judge
from cordwright.wall.judged_faces import seen_at
from cordwright.wall.layout import Disc, Face, Filler, Hole, Log
from cordwright.wall.layout_json import layout_json
from cordwright.wall.narrow import layout_notes

JOINT, EDGE = 0.025, 0.0125
SECTION = WallSection(log_end_length=0.4, bead=0.1)


def box(left, bottom, right, top):
    return ((left, bottom), (right, bottom), (right, top), (left, top))


def logs(area, seed=1, low=0.09, high=0.18, joint=JOINT):
    rng = np.random.Generator(np.random.PCG64(seed))
    stock = []
    while area > 0:
        diameter = float(np.round(rng.uniform(low, high), 4))
        stock.append(Log(id=f"L{len(stock) + 1}", stem="S", diameter=diameter))
        area -= math.pi * ((diameter + joint) / 2) ** 2
    return tuple(stock)


def lay(face, stock, **more):
    stated = {"joint": JOINT, "joint_least": 0.02, "joint_largest": 0.06, "edge": EDGE, "seed": 1, "effort": "draft"}
    return lay_panel(face, stock, **{**stated, **more})


def faults(layout, stock, edge=EDGE):
    return judge(layout, stock, joint=layout.report.joint_nominal, joint_least=0.02, edge=edge)


def arc(**more):
    """A stretch of a wall of 3 m inside radius and 400 mm, with a window and a pipe."""
    return Face(
        name="arc",
        outline=box(0, 0, 1.6, 1.2),
        openings=(Hole(id="W1", outline=box(0.9, 0.5, 1.3, 0.9)),),
        obstacles=(Disc(id="K1", x=0.4, y=0.7, diameter=0.11),),
        hollow=3.0 / 3.2,
        wide=3.4 / 3.2,
        **more,
    )


def round_plan(**more):
    openings = (
        Opening(id="D1", panel="round", width=0.76, height=1.9, sill=0.0, from_left=4.4, use="door"),
        Opening(id="W1", panel="round", width=0.5, height=0.5, sill=1.0, from_left=2.1),
    )
    stated = {"outline": RoundOutline(inside_diameter=2.8), "section": SECTION, "height": 2.1, "openings": openings}
    return reckon_plan(PlanInput(**{**stated, **more}))


def test_joints_are_nominal_at_the_hollow_face_and_open_outward() -> None:
    face, stock = arc(), logs(2.4)
    layout = lay(face, stock)
    assert faults(layout, stock) == ()
    assert layout.face == face
    report = layout.report
    assert report.joint_hollow_min == pytest.approx(JOINT, abs=5e-5)
    assert report.joint_hollow_min < report.joint_min <= report.joint_max
    assert report.joint_wide_max > report.joint_nominal
    assert measures.joint_hollow_min(layout) == pytest.approx(report.joint_hollow_min, abs=1e-9)
    assert measures.joint_wide_max(layout) == pytest.approx(report.joint_wide_max, abs=1e-9)
    assert measures.mortar_area(layout) == pytest.approx(report.mortar_area, abs=1e-6)
    assert measures.wood_fraction(layout) == pytest.approx(report.wood_fraction, abs=1e-9)


def test_a_layout_made_on_the_centre_line_is_found_too_tight_at_the_hollow_face() -> None:
    face, stock = arc(), logs(2.4)
    flat = lay(replace(face, hollow=1.0, wide=1.0), stock)
    assert faults(flat, stock) == ()
    rules = {v.rule for v in faults(replace(flat, face=face), stock)}
    assert "joint" in rules


def test_a_straight_wall_is_as_wide_at_both_faces() -> None:
    face, stock = replace(arc(), hollow=1.0, wide=1.0), logs(2.4)
    report = lay(face, stock).report
    assert (report.joint_hollow_min, report.joint_wide_max) == (report.joint_min, report.joint_max)


def test_wood_falls_from_the_hollow_to_the_wide_face() -> None:
    """Wood at inner, middle and outer face in kind as 0.625, 0.584, 0.547 (3 m radius, 400 mm)."""
    layout = lay(replace(arc(), openings=(), obstacles=()), logs(2.6), effort="normal")
    shares = [measures.wood_fraction(seen_at(layout, s)) for s in (layout.face.hollow, 1.0, layout.face.wide)]
    assert shares[1] == pytest.approx(shares[0] * layout.face.hollow)
    assert shares[2] == pytest.approx(shares[1] / layout.face.wide)
    assert shares[0] > shares[1] > shares[2] > 0.45


def test_frames_and_pipes_keep_their_width_and_move_with_the_face() -> None:
    face = arc()
    for seen in (hollow_face(face), seen_at(lay(face, logs(2.4)), face.hollow).face):
        (hole,) = seen.openings
        xs = [x for x, _ in hole.outline]
        assert max(xs) - min(xs) == pytest.approx(0.4)
        assert (max(xs) + min(xs)) / 2 == pytest.approx(1.1 * face.hollow)
        assert (seen.obstacles[0].x, seen.obstacles[0].diameter) == (pytest.approx(0.4 * face.hollow), 0.11)
        assert max(x for x, _ in seen.outline) == pytest.approx(1.6 * face.hollow)


def test_a_circle_has_the_widths_of_its_arcs() -> None:
    plan = round_plan()
    (face,), (panel,) = faces_of(plan), plan.panels
    assert face.hollow == pytest.approx(panel.inner_length / panel.centre_length)
    assert face.wide == pytest.approx(panel.outer_length / panel.centre_length)
    assert (face.hollow, face.wide) == (pytest.approx(1.4 / 1.6), pytest.approx(1.8 / 1.6))


def test_the_tightest_place_of_an_oval_governs() -> None:
    plan = reckon_plan(PlanInput(outline=OvalOutline(inside_length=6.0, inside_width=4.0), section=SECTION, height=2.0))
    (face,) = faces_of(plan)
    tightest = 2.0**2 / 3.0
    assert face.hollow == pytest.approx(tightest / (tightest + 0.2))
    assert face.wide == pytest.approx((tightest + 0.4) / (tightest + 0.2))


def test_a_reentrant_curve_closes_at_its_outer_face() -> None:
    corners = ((0.0, 0.0), (8.0, 0.0), (8.0, 4.0), (4.0, 4.0), (4.0, 8.0), (0.0, 8.0))
    plan = reckon_plan(
        PlanInput(outline=PolygonOutline(corners=corners, corner_radius=1.5), section=SECTION, height=2.0)
    )
    inward = [p for p in plan.panels if p.inner_radius is not None and p.inner_radius < 0]
    face = next(f for f in faces_of(plan) if f.name == inward[0].name)
    assert face.hollow == pytest.approx(inward[0].outer_length / inward[0].centre_length) == pytest.approx(1.1 / 1.3)
    assert face.wide == pytest.approx(inward[0].inner_length / inward[0].centre_length)


def test_a_wall_closed_on_itself_is_cut_at_the_jamb_of_its_door() -> None:
    plan = round_plan(sleeves=(Sleeve(id="K1", panel="round", what="flue", diameter=0.15, from_left=5.6, height=1.5),))
    (face,) = faces_of(plan)
    around = math.pi * 3.2
    assert face.ring
    assert face.start == pytest.approx(4.4 + 0.76)
    door = next(h for h in face.openings if h.id == "D1")
    assert max(x for x, _ in door.outline) == pytest.approx(around)
    window = next(h for h in face.openings if h.id == "W1")
    assert min(x for x, _ in window.outline) == pytest.approx(2.1 - face.start + around)
    assert face.obstacles[0].x == pytest.approx(5.6 - face.start) == pytest.approx(place_in(face, 5.6))
    assert net_area(face) == pytest.approx(plan.panels[0].net_area)


def test_a_post_ends_a_round_wall() -> None:
    plan = round_plan(frame=Frame(posts=(Post(side="round", from_left=1.0),)), openings=())
    assert [face.ring for face in faces_of(plan)] == [False]


@pytest.mark.parametrize("edge", [0.0125, 0.008])
def test_a_ring_keeps_the_joint_across_its_cut(edge: float) -> None:
    (face,) = faces_of(
        round_plan(
            outline=RoundOutline(inside_diameter=1.6),
            openings=(Opening(id="D1", panel="round", width=0.7, height=0.6, sill=0.0, from_left=4.4, use="door"),),
            height=1.1,
        )
    )
    stock = logs(7.0)
    layout = lay(face, stock, edge=edge)
    assert faults(layout, stock, edge) == ()
    over = [p for p in layout.placements if p.y > 0.6]
    assert min(p.x for p in over) < 0.15
    assert max(p.x for p in over) > max(x for x, _ in face.outline) - 0.15
    first = min(over, key=lambda p: p.x)
    pushed = replace(first, x=first.x - 0.012)
    moved = replace(layout, placements=tuple(pushed if p is first else p for p in layout.placements))
    assert faults(moved, stock, edge) != ()


def test_logs_laid_and_locked_stay_to_the_bit_on_a_curve() -> None:
    face, stock = arc(), logs(2.4)
    planned = lay(face, stock)
    kept = [replace(p, order=n) for n, p in enumerate(sorted(planned.placements, key=lambda p: p.order)[:8], start=1)]
    again = lay(face, stock, fixed=kept, seed=2)
    there = {p.log.id: (p.x, p.y) for p in again.placements}
    assert all(there[p.log.id] == (p.x, p.y) for p in kept)
    assert faults(again, stock) == ()


def test_gaps_that_open_only_at_the_wide_face_take_stones_there() -> None:
    face, stock = replace(arc(), hollow=0.88, wide=1.12), logs(2.4)
    layout = lay(face, stock)
    wide = [f for f in layout.fillers if f.face == "wide"]
    assert wide
    assert faults(layout, stock) == ()
    assert all(measures.largest_pocket(seen_at(layout, s))[2] < 0.0761 for s in (face.hollow, face.wide))
    crushed = replace(wide[0], diameter=wide[0].diameter + 0.02)
    assert "filler" in {v.rule for v in faults(replace(layout, fillers=(crushed,)), stock)}


def test_both_faces_are_printed_and_told() -> None:
    face, stock = arc(), logs(2.4)
    layout = replace(lay(face, stock), fillers=(Filler(x=0.1, y=0.1, diameter=0.03, face="wide"),))
    panel = layout_json((layout,), stock, ())["panels"][0]
    assert panel["report"]["joint_hollow_min"] == layout.report.joint_hollow_min
    assert panel["report"]["joint_wide_max"] == layout.report.joint_wide_max
    assert panel["fillers"] == [{"x": 0.1, "y": 0.1, "diameter": 0.03, "face": "wide"}]
    tight = Joints(nominal=JOINT, least=0.02, largest=JOINT, edge=EDGE)
    notes = layout_notes(layout, tight)
    assert any("hollow face" in note and "wide face" in note for note in notes)
    assert any("split or taper" in note and "nails" in note for note in notes)
    assert not any("nails" in note for note in layout_notes(layout, replace(tight, largest=0.2)))


def test_a_face_seen_from_itself_is_itself() -> None:
    face = arc()
    assert at_face(face, 1.0) is face
    back = at_face(at_face(face, face.hollow), 1 / face.hollow)
    assert np.allclose(back.outline, face.outline)
    assert (back.hollow, back.wide) == (pytest.approx(face.hollow), pytest.approx(face.wide))
