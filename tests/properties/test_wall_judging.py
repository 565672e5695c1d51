"""Is every broken layout caught, whatever is broken and wherever? And are the measures what geometry says?"""

import math
import random
from dataclasses import replace

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

import layout_samples as samples
from cordwright.wall.judge import judge
from cordwright.wall.measures import mortar_area, straight_run, wood_fraction

LAYOUT = samples.stored()
HEXAGONAL = samples.hexagonal(6, 6)
NUMBERS = st.integers(0, len(LAYOUT.placements) - 1)


def broken(layout, stock=None):
    return {v.rule for v in judge(layout, stock or samples.stock_of(layout), **samples.RULES)}


def with_changed(layout, n, **changes):
    placements = list(layout.placements)
    placements[n] = replace(placements[n], **changes)
    return replace(layout, placements=tuple(placements))


def inner(layout):
    """Logs with six neighbours."""
    x1, y1 = layout.face.outline[2]
    return [n for n, p in enumerate(layout.placements) if 0.2 < p.x < x1 - 0.2 and 0.2 < p.y < y1 - 0.2]


@settings(max_examples=60, deadline=None)
@given(st.sampled_from(inner(HEXAGONAL)), st.floats(0, 2 * math.pi), st.floats(2e-4, 0.05))
def test_a_log_between_six_cannot_move_in_any_direction(n, way, far):
    p = HEXAGONAL.placements[n]
    moved = with_changed(HEXAGONAL, n, x=p.x + far * math.cos(way), y=p.y + far * math.sin(way))
    found = [v for v in judge(moved, samples.stock_of(moved), **samples.RULES) if v.rule == "joint"]
    assert found
    assert all(p.log.id in v.ids for v in found)
    # The nearest neighbour stands within 30 degrees of the way; the joint narrows by that share, less the turn.
    assert max(v.amount for v in found) >= far * math.cos(math.pi / 6) - far**2 / 0.17


@settings(max_examples=40, deadline=None)
@given(NUMBERS, st.floats(1e-4, 0.05))
def test_a_thicker_log_is_no_longer_the_one_in_stock(n, more):
    own = LAYOUT.placements[n].log
    swelled = with_changed(LAYOUT, n, log=replace(own, diameter=own.diameter + more))
    assert "not in stock" in broken(swelled, samples.stock_of(LAYOUT))


@settings(max_examples=40, deadline=None)
@given(NUMBERS, NUMBERS)
def test_a_log_cannot_stand_for_another(n, m):
    double = with_changed(LAYOUT, n, log=LAYOUT.placements[m].log)
    expected = "double use" if n != m else None
    assert (expected in broken(double, samples.stock_of(LAYOUT))) is (n != m)


@settings(max_examples=40, deadline=None)
@given(NUMBERS)
def test_every_log_needs_its_supports_before_it(n):
    p = LAYOUT.placements[n]
    under = [i for i, q in enumerate(LAYOUT.placements) if q.log.id in p.supports]
    assert "support" in broken(with_changed(LAYOUT, n, supports=()))
    for i in under:
        swapped = with_changed(LAYOUT, n, order=LAYOUT.placements[i].order)
        swapped = with_changed(swapped, i, order=p.order)
        assert "order" in broken(swapped)
        assert "lift" in broken(with_changed(LAYOUT, i, lift=p.lift + 1))
        only = with_changed(LAYOUT, n, supports=(LAYOUT.placements[i].log.id,))
        assert broken(only) == {"support"}


@settings(max_examples=30, deadline=None)
@given(NUMBERS, st.floats(-0.4, 0.4), st.floats(-0.3, 0.3))
def test_a_log_pushed_into_the_window_is_found(n, dx, dy):
    p = LAYOUT.placements[n]
    reach = p.log.diameter / 2 + samples.EDGE
    x, y = 0.6 + dx, 0.65 + dy
    away = shapely.Polygon(LAYOUT.face.openings[0].outline).distance(shapely.Point(x, y))
    assert ("opening" in broken(with_changed(LAYOUT, n, x=x, y=y))) is (away < reach - 5e-5)


@settings(max_examples=30, deadline=None)
@given(st.permutations(range(len(LAYOUT.placements))))
def test_the_judge_does_not_care_how_the_list_is_sorted(turn):
    shuffled = replace(LAYOUT, placements=tuple(LAYOUT.placements[i] for i in turn))
    assert judge(shuffled, samples.stock_of(LAYOUT), **samples.RULES) == ()


@settings(max_examples=25, deadline=None)
@given(st.integers(2, 7), st.integers(2, 7), st.floats(0.06, 0.25), st.floats(0.01, 0.05))
def test_squares_and_hexagons_have_the_wood_of_their_closed_form(columns, rows, diameter, joint):
    pitch, edge = diameter + joint, joint / 2
    face = math.pi / 4 * diameter**2
    square = samples.square(columns, rows, diameter, joint, edge)
    assert wood_fraction(square) == pytest.approx(face / pitch**2)
    hexagonal = samples.hexagonal(columns, rows, diameter, joint, edge)
    count = rows * columns - rows // 2
    high = diameter + joint + (rows - 1) * pitch * math.sqrt(3) / 2
    assert wood_fraction(hexagonal) == pytest.approx(count * face / (columns * pitch * high))
    # No arrangement of equal discs in the plane is denser than the hexagonal one (discs grown by half a joint).
    assert wood_fraction(hexagonal) <= math.pi / math.sqrt(12) * (diameter / pitch) ** 2 + 1e-12
    for layout in (square, hexagonal):
        area = shapely.Polygon(layout.face.outline).area
        assert mortar_area(layout) == pytest.approx(area * (1 - wood_fraction(layout)))
        rules = {"joint": joint, "joint_least": joint, "edge": edge}
        assert judge(layout, samples.stock_of(layout), **rules) == ()


@settings(max_examples=8, deadline=None)
@given(st.integers(0, 10**6))
def test_no_straight_line_drawn_at_random_is_longer_than_the_longest_run(seed):
    dice = random.Random(seed)
    logs = [
        samples.Placement(log=samples.log(n, dice.uniform(0.05, 0.2)), x=dice.uniform(0, 1), y=dice.uniform(0, 0.8),
                          order=n + 1, supports=("bed",))
        for n in range(14)
    ]  # fmt: skip
    layout = samples.laid(LAYOUT.face, logs)
    longest = straight_run(layout, edge=samples.EDGE)
    solid = shapely.union_all(
        [shapely.Point(p.x, p.y).buffer(p.log.diameter / 2 + 0.004, quad_segs=64) for p in logs]
        + [shapely.Point(d.x, d.y).buffer(d.diameter / 2 + 0.004, quad_segs=64) for d in layout.face.obstacles]
        + [shapely.Point(f.x, f.y).buffer(f.diameter / 2 + 0.004, quad_segs=64) for f in layout.fillers]
    )
    holes = shapely.union_all([shapely.Polygon(h.outline) for h in layout.face.openings])
    field = shapely.Polygon(layout.face.outline).difference(holes).buffer(-samples.EDGE, join_style="mitre")
    free = field.difference(solid)
    best = 0.0
    for _ in range(500):
        way, x, y = dice.uniform(0, math.pi), dice.uniform(0, 1.2), dice.uniform(0, 0.9)
        dx, dy = 3 * math.cos(way), 3 * math.sin(way)
        cut = free.intersection(shapely.LineString([(x - dx, y - dy), (x + dx, y + dy)]))
        best = max([best, *(g.length for g in shapely.get_parts(cut))])
    # Chords stand within 0.02 mm of the circles, which lengthens a grazing line by a few millimetres at most.
    assert longest >= best - 0.005
    assert longest <= math.hypot(1.2, 0.9)
