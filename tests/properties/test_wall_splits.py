"""Halves and quarters: exact against a second opinion by shapely, and laid with no rule broken whatever the mixture."""

import math
import re
from collections import Counter
from dataclasses import replace

import numpy as np
import pytest
import shapely
from hypothesis import HealthCheck, Phase, assume, given, settings
from hypothesis import strategies as st

from cordwright.timber.inputs import SHARES
from cordwright.wall import _split_kernels as kernels
from cordwright.wall import dealing
from cordwright.wall import region as regions
from cordwright.wall.engine import lay_panel
from cordwright.wall.judge import body_of, gap_between, judge
from cordwright.wall.layout import Face, Hole, Log, Placement
from cordwright.wall.measures import clustering, least_joint, mortar_area, straight_run, wood_fraction
from cordwright.wall.rails import flat_room, rails_of, tip_room
from cordwright.wall.split_shapes import (
    KINDS,
    MIDDLE,
    even_radius,
    face_of,
    grown_area,
    lowest,
    placed_stand_ins,
)
from cordwright.wall.splitting import kin_of

JOINT, EDGE = 0.025, 0.0125
SPLIT = st.sampled_from(["half", "quarter"])
SHAPE = st.sampled_from(["round", "half", "quarter"])
ANGLE = st.floats(-math.pi, math.pi)
RADIUS = st.floats(0.03, 0.2)
SLOW = settings(
    max_examples=6,
    deadline=None,
    derandomize=True,
    suppress_health_check=[HealthCheck.too_slow],
    phases=[Phase.explicit, Phase.generate],  # a panel takes a second to lay: shrinking would take minutes
)


def box(left, bottom, right, top):
    return ((left, bottom), (right, bottom), (right, top), (left, top))


def placed(shape, radius, x=0.0, y=0.0, angle=0.0):
    log = Log(id=f"{shape}{x}{y}", stem="S", diameter=2 * radius, shape=shape)
    return Placement(log=log, x=x, y=y, order=1, supports=("bed",), angle=angle)


def outline(p):
    """The face of a log with so many corners that it is true to a thousandth of a millimetre."""
    body = body_of(p)
    return shapely.buffer(body.core, body.radius, quad_segs=512) if body.radius else body.core


def row(p):
    return np.array([KINDS[p.log.shape], math.cos(p.angle), math.sin(p.angle)])


def meet(a, b, half=0.0):
    return kernels.meet(row(a), a.x, a.y, a.log.diameter / 2 + half, row(b), b.x, b.y, b.log.diameter / 2 + half, half)


@given(SHAPE, RADIUS, ANGLE, st.floats(0.001, 0.03))
def test_areas_middles_and_feet_are_those_of_the_shape(shape, radius, angle, grown):
    p = placed(shape, radius, angle=angle)
    face = outline(p)
    assert face_of(p.log) == pytest.approx(face.area, rel=1e-4)
    assert math.pi * even_radius(p.log) ** 2 == pytest.approx(face_of(p.log))
    assert grown_area(shape, radius, grown) == pytest.approx(face.buffer(grown, quad_segs=64).area, rel=1e-3)
    assert grown_area(shape, radius, 0.0) == pytest.approx(SHARES[shape] * math.pi * radius**2)
    away = MIDDLE[shape] * radius
    assert (face.centroid.x, face.centroid.y) == pytest.approx(
        (away * math.cos(angle), away * math.sin(angle)), abs=1e-4 * radius + 1e-9
    )
    assert lowest(shape, radius, angle) == pytest.approx(-face.bounds[1], abs=2e-6)


@SLOW
@given(SPLIT, RADIUS, ANGLE, st.sampled_from([0.0, 0.0125, 0.02]))
def test_what_stands_in_for_a_split_covers_it_and_hardly_more(shape, radius, angle, grown):
    p = placed(shape, radius, 0.3, -0.2, angle)
    discs = placed_stand_ins(p.log, p.x, p.y, angle, grown)
    cover = shapely.union_all([shapely.Point(x, y).buffer(r, quad_segs=32) for x, y, r in discs.tolist()])
    true = outline(p).buffer(grown, quad_segs=64)
    rim = true.exterior.segmentize(0.001)
    assert shapely.distance(cover, shapely.points(rim.coords)).max() < (1e-4 if grown else 3.1e-3)
    assert shapely.hausdorff_distance(cover.union(true), true) < (1e-3 if grown else 3.1e-3)
    hole = shapely.maximum_inscribed_circle(true.difference(cover).buffer(1e-9), 1e-4)
    assert hole.length < 0.02


@settings(max_examples=300, deadline=None)
@given(one=SHAPE, ra=RADIUS, aa=ANGLE, other=SHAPE, rb=RADIUS, ab=ANGLE, way=ANGLE, far=st.floats(0.0, 1.0))
def test_the_clear_way_between_two_logs_is_that_of_their_outlines(*, one, ra, aa, other, rb, ab, way, far):
    a = placed(one, ra, angle=aa)
    away = (ra + rb) * (0.3 + far)
    b = placed(other, rb, away * math.cos(way), away * math.sin(way), ab)
    second = outline(a).distance(outline(b))
    assume(second > 1e-5)
    gap, nx, ny, _, _ = meet(a, b)
    assert gap == pytest.approx(second, abs=4e-6)
    assert gap_between(body_of(a), body_of(b)) == pytest.approx(gap, abs=4e-6)
    assert math.hypot(nx, ny) == pytest.approx(1.0)
    assert meet(a, b, 0.0125)[0] == pytest.approx(gap - 0.025, abs=1e-9)
    moved = placed(one, ra, a.x + 1e-3 * nx, a.y + 1e-3 * ny, aa)
    assert meet(moved, b)[0] == pytest.approx(gap + 1e-3, abs=2e-5)


@settings(deadline=None)
@given(one=SPLIT, ra=RADIUS, aa=ANGLE, other=SPLIT, rb=RADIUS, ab=ANGLE, share=st.floats(0.0, 0.9), way=ANGLE)
def test_logs_in_one_another_are_pushed_apart(*, one, ra, aa, other, rb, ab, share, way):
    a = placed(one, ra, angle=aa)
    b = placed(other, rb, share * ra * math.cos(way), share * ra * math.sin(way), ab)
    assume(outline(a).buffer(-1e-4).intersects(outline(b).buffer(-1e-4)))
    assert meet(a, b, 0.0125)[0] <= -0.025 + 1e-6


@given(RADIUS, RADIUS, st.floats(-1.0, 1.0), st.floats(0.0, 1.0))
def test_a_half_on_an_edge_meets_what_stands_inside_as_its_parents_disc(radius, other, along, above):
    half = placed("half", radius, 0.0, EDGE, math.pi / 2)
    log = placed("round", other, along, EDGE + other + above)
    disc = math.hypot(log.x, log.y - half.y) - radius - other
    assume(disc > 0)
    assert outline(half).distance(shapely.Point(log.x, log.y)) - other == pytest.approx(disc, abs=2e-6)


@given(RADIUS, st.floats(math.radians(20), math.radians(340)), st.floats(0.005, 0.03), st.booleans())
def test_a_split_stops_where_the_next_edge_is_an_edge_joint_away(radius, angle, joint, quarter):
    """The edge runs right from the corner, the next one up from it at the angle inside the wall."""
    share, more = (tip_room if quarter else flat_room)(angle, joint)
    p = placed("quarter" if quarter else "half", radius, share * radius + more, joint, math.pi / (4 if quarter else 2))
    edge = shapely.LineString([(0, 0), (3 * math.cos(angle), 3 * math.sin(angle))])
    if angle < math.pi:
        assert outline(p).distance(edge) == pytest.approx(joint, abs=2e-6)
    else:
        assert outline(p).bounds[0] == pytest.approx(0.0, abs=2e-6)


def stock_of(area, low, high, seed, shapes):
    rng = np.random.Generator(np.random.PCG64(seed))
    stock = []
    while area > 0:
        shape = shapes[len(stock) % len(shapes)]
        diameter = float(rng.uniform(low, high)) * {"round": 1.0, "half": 1.3, "quarter": 1.8}[shape]
        stock.append(Log(id=f"L{len(stock)}", stem="S", diameter=diameter, shape=shape))
        area -= grown_area(shape, diameter / 2, JOINT / 2)
    return tuple(stock)


def lay(face, stock, seed=1, **more):
    return lay_panel(
        face, stock, joint=JOINT, joint_least=0.02, joint_largest=0.05, edge=EDGE, seed=seed, effort="draft", **more
    )


def faults(layout, stock):
    return judge(layout, stock, joint=layout.report.joint_nominal, joint_least=0.02, edge=EDGE)


@SLOW
@given(
    width=st.floats(0.8, 1.4),
    height=st.floats(0.6, 1.1),
    rise=st.floats(0.0, 0.3),
    low=st.floats(0.08, 0.11),
    wider=st.floats(1.2, 1.9),
    hole=st.booleans(),
    shapes=st.lists(SHAPE, min_size=1, max_size=6),
    seed=st.integers(0, 1000),
)
def test_any_mixture_is_laid_with_no_rule_broken(*, width, height, rise, low, wider, hole, shapes, seed):
    holes = (Hole(id="w", outline=box(0.35 * width, 0.3 * height, 0.6 * width, 0.6 * height)),) if hole else ()
    face = Face(name="any", outline=((0.0, 0.0), (width, 0.0), (width, height), (0.0, height + rise)), openings=holes)
    stock = stock_of(1.15 * width * (height + rise), low, low * wider, seed, shapes)
    layout = lay(face, stock, seed)
    assert faults(layout, stock) == ()
    assert {p.log.id for p in layout.placements} | set(layout.unused) == {log.id for log in stock}
    report = layout.report
    assert report.wood_fraction == pytest.approx(wood_fraction(layout), rel=1e-5)
    if layout.closed == 1:
        assert report.mortar_area == pytest.approx(mortar_area(layout), rel=1e-4)
    assert report.joint_min == pytest.approx(least_joint(layout), abs=1e-5)
    assert 0.35 < report.effectiveness < 1.0
    own = clustering(layout, joint=report.joint_nominal)
    if own is not None and len(layout.placements) > 12:
        assert report.clustering == pytest.approx(own, abs=0.02)


@SLOW
@given(st.integers(0, 50))
def test_sizes_are_exchanged_within_a_class_and_every_flat_lies_on_its_edge(seed):
    face = Face(name="edges", outline=box(0, 0, 1.5, 1.0), openings=(Hole(id="w", outline=box(0.5, 0.4, 0.9, 0.7)),))
    rounds = stock_of(1.6, 0.08, 0.15, seed, ["round"])
    splits = tuple(
        Log(id=f"{s}{n}", stem="T", diameter=0.14 + 0.006 * n, shape=s) for s in ("half", "quarter") for n in range(8)
    )
    layout = lay(face, (*rounds, *splits), seed)
    assert faults(layout, (*rounds, *splits)) == ()
    by_id = {log.id: log for log in (*rounds, *splits)}
    assert all(p.log == by_id[p.log.id] for p in layout.placements)
    border = shapely.Polygon(face.outline, [face.openings[0].outline]).boundary
    notes = {p.log.id: p.note.split(";")[0] for p in layout.placements}
    flats = [p for p in layout.placements if re.search("flat.* (on|against|under) ", notes[p.log.id])]
    assert len(flats) >= 8
    for p in flats:
        assert border.distance(shapely.Point(p.x, p.y)) == pytest.approx(EDGE, abs=1e-9)


def test_a_wall_of_halves_only():
    face = Face(name="halves", outline=box(0, 0, 1.2, 0.9))
    stock = stock_of(1.3, 0.1, 0.16, 5, ["half"])
    layout = lay(face, stock)
    assert faults(layout, stock) == ()
    assert {p.log.shape for p in layout.placements} == {"half"}
    assert layout.report.effectiveness > 0.7
    assert all(p.note.startswith("half, flat") for p in layout.placements)


def test_a_quarter_in_a_corner_by_hand():
    """A panel that one quarter fills: its tip an edge joint from bed and post, nothing to rest on but the bed."""
    face = Face(name="one", outline=box(0, 0, 0.25, 0.25))
    stock = (Log(id="q", stem="S", diameter=0.44, shape="quarter"),)
    (only,) = lay(face, stock).placements
    corners = [(EDGE, EDGE), (0.25 - EDGE, EDGE), (0.25 - EDGE, 0.25 - EDGE), (EDGE, 0.25 - EDGE)]
    ways = [math.pi / 4, 3 * math.pi / 4, -3 * math.pi / 4, -math.pi / 4]
    found = [n for n, (x, y) in enumerate(corners) if math.hypot(only.x - x, only.y - y) < 1e-9]
    assert len(found) == 1
    assert math.remainder(only.angle - ways[found[0]], 2 * math.pi) == pytest.approx(0.0, abs=1e-9)
    assert faults(lay(face, stock), stock) == ()
    assert "against the post" in only.note


def test_rounds_are_laid_alike_whether_or_not_splits_lie_unused():
    face = Face(name="r", outline=box(0, 0, 1.3, 0.9))
    rounds = stock_of(1.3, 0.08, 0.16, 3, ["round"])
    halves = (Log(id="h1", stem="T", diameter=0.2, shape="half"), Log(id="h2", stem="T", diameter=0.2, shape="half"))
    plain = lay(face, rounds)
    beside = lay(face, (*rounds, *halves), forbidden={"h1", "h2"})
    assert beside.placements == plain.placements
    assert beside.report == plain.report
    assert set(beside.unused) == {*plain.unused, "h1", "h2"}


def test_same_seed_same_wall_with_splits():
    face = Face(name="s", outline=box(0, 0, 1.0, 0.8))
    stock = stock_of(1.0, 0.09, 0.15, 4, ["round", "half", "quarter"])
    assert lay(face, stock, 7) == lay(face, stock, 7)


def test_laid_and_locked_splits_stay_where_they_are():
    face = Face(name="f", outline=box(0, 0, 1.2, 0.8))
    stock = stock_of(1.2, 0.09, 0.15, 6, ["round", "half"])
    first = lay(face, stock)
    laid = [p for p in first.placements if p.order <= 6]
    assert any(p.log.shape == "half" for p in laid)
    left = [log for log in stock if log.id not in {p.log.id for p in laid}]
    again = lay(face, left, 2, fixed=laid)
    now = {p.log.id: p for p in again.placements}
    assert all(now[p.log.id] == p for p in laid)
    assert faults(again, stock) == ()


@given(
    st.lists(st.tuples(SPLIT, st.floats(0.1, 0.3)), min_size=1, max_size=40),
    st.lists(st.tuples(st.floats(0.0, 8.0), st.floats(0.2, 5.0)), min_size=1, max_size=4),
)
def test_dealing_splits_loses_and_doubles_none(splits, panels):
    stock = [Log(id=f"L{n}", stem="S", diameter=d, shape=s) for n, (s, d) in enumerate(splits)]
    rooms = {f"p{n}": room for n, (room, _) in enumerate(panels)}
    areas = {f"p{n}": area for n, (_, area) in enumerate(panels)}
    dealt = dealing.share_splits(stock, rooms, areas, joint=JOINT)
    assert Counter(log.id for logs in dealt.values() for log in logs) == Counter(log.id for log in stock)


def test_no_flat_lies_where_only_the_stock_ends():
    face = Face(name="cut", outline=box(0, 0, 1.0, 2.0))
    (part,) = regions.regions_of(face, 1.1)
    rails = rails_of(part, face, EDGE)
    assert sorted(round(math.degrees(rail.facing)) for rail in rails) == [0, 90, 180]


@given(st.integers(0, 3))
def test_a_round_and_its_pieces_are_never_both_used(n):
    pieces = tuple(Log(id=f"a{c}", stem="S", diameter=0.2, shape="quarter", parent="a") for c in "abcd")
    whole = Log(id="a", stem="S", diameter=0.2)
    assert kin_of([pieces[n]], (whole, *pieces)) == {"a"}
    assert kin_of([whole], (whole, *pieces)) == {p.id for p in pieces}


def test_straight_runs_go_around_halves():
    """One half flat on an edge: the longest line runs past its bark, and longer once the half is gone."""
    face = Face(name="run", outline=box(0, 0, 0.54, 0.28))
    stock = (Log(id="h", stem="S", diameter=0.47, shape="half"),)
    layout = lay(face, stock)
    (half,) = layout.placements
    assert faults(layout, stock) == ()
    run = straight_run(layout, edge=EDGE)
    free = straight_run(replace(layout, placements=(), fillers=()), edge=EDGE)
    assert free == pytest.approx(math.hypot(0.54 - 2 * EDGE, 0.28 - 2 * EDGE), abs=1e-4)
    assert half.log.id == "h"
    assert 0.1 < run < free
    assert 0.3 < layout.report.straight_run <= run + 0.01  # a fan of strips twice as wide as the measure looks for
