"""The wall goes otherwise than planned: what stands stays, most of the plan stays true, the rest breaks no rule."""

import math
from dataclasses import replace

import numpy as np
import pytest

from cordwright.base import InputError, StoppedError
from cordwright.wall.engine import lay_panel
from cordwright.wall.inputs import Joints, LaidLog, Wishes
from cordwright.wall.judge import judge, used_twice
from cordwright.wall.layout import Face, Hole, Log
from cordwright.wall.relaying import height_laid, replan
from cordwright.wall.study import around_laid
from cordwright.wall.swapping import swap

JOINT, LEAST, LARGEST, EDGE = 0.025, 0.012, 0.04, 0.0125
RULES = {"joint_least": LEAST, "edge": EDGE}
JOINTS = {"joint": JOINT, "joint_least": LEAST, "joint_largest": LARGEST, "edge": EDGE}


def box(left, bottom, right, top):
    return ((left, bottom), (right, bottom), (right, top), (left, top))


def stock_of(area, seed=7):
    """Diameters as of a young stand: middling ones most, 80 to 200 mm."""
    rng = np.random.Generator(np.random.PCG64(seed))
    stock = []
    while area > 0:
        diameter = round(float(np.clip(0.13 * math.exp(0.24 * rng.standard_normal()), 0.08, 0.2)), 4)
        stock.append(Log(id=f"L{len(stock) + 1}", stem="S", diameter=diameter))
        area -= math.pi * ((diameter + JOINT) / 2) ** 2
    return tuple(stock)


@pytest.fixture(scope="module")
def wall():
    """The wall of five by two metres with a door and a window, and its stock."""
    holes = (Hole(id="D1", outline=box(0.6, 0, 1.5, 2.0)), Hole(id="W1", outline=box(2.8, 0.8, 3.9, 1.7)))
    face = Face(name="wall", outline=box(0, 0, 5, 2.2), openings=holes)
    stock = stock_of(1.08 * 8.21)
    return lay_panel(face, stock, **JOINTS, seed=1), stock


@pytest.fixture(scope="module")
def small():
    face = Face(name="small", outline=box(0, 0, 1.3, 1.2))
    stock = stock_of(1.1 * 1.56, seed=3)
    return lay_panel(face, stock, **JOINTS, seed=1, effort="draft"), stock


def as_built(layout, count, seed, error=0.006):
    """The first so many logs, each as far off as measuring in the wall may err."""
    rng = np.random.Generator(np.random.PCG64(seed))
    first = sorted(layout.placements, key=lambda p: p.order)[:count]
    return [replace(p, x=p.x + rng.uniform(-error, error), y=p.y + rng.uniform(-error, error)) for p in first]


def rest_of(stock, laid):
    names = {p.log.id for p in laid}
    return [log for log in stock if log.id not in names]


def kept(before, after, laid, within=0.01):
    """How many of the logs still to be laid stand within a centimetre of their printed places, and of how many."""
    names = {p.log.id for p in laid}
    there = {p.log.id: p for p in after.placements}
    rest = [p for p in before.placements if p.log.id not in names]
    near = [
        p for p in rest if p.log.id in there and math.hypot(there[p.log.id].x - p.x, there[p.log.id].y - p.y) <= within
    ]
    return len(near), len(rest)


def test_half_a_wall_laid_six_millimetres_off_leaves_the_plan_true(wall):
    layout, stock = wall
    stayed = []
    for seed in range(3):
        laid = as_built(layout, 178, seed)
        again = replan(layout, laid, rest_of(stock, laid), joint_largest=LARGEST, seed=1, **RULES)
        there = {p.log.id: p for p in again.placements}
        assert all(there[p.log.id] == p for p in laid)
        names = [p.log.id for p in laid]
        assert judge(again, stock, joint=JOINT, **RULES, settled=names) == ()
        near, of = kept(layout, again, laid)
        stayed.append(near / of)
        assert again.report.unsupported <= layout.report.unsupported + 2
        assert len(again.placements) >= len(layout.placements) - 4
    assert min(stayed) >= 0.85
    assert sum(stayed) / len(stayed) >= 0.92


def test_laid_exactly_as_planned_nothing_moves(wall):
    layout, stock = wall
    laid = as_built(layout, 100, 0, error=0.0)
    again = replan(layout, laid, rest_of(stock, laid), joint_largest=LARGEST, seed=1, **RULES)
    assert {(p.log.id, p.x, p.y) for p in layout.placements} <= {(p.log.id, p.x, p.y) for p in again.placements}
    assert judge(again, stock, joint=JOINT, **RULES) == ()


def test_another_log_than_planned_is_found_room_and_its_own_place_filled(small):
    layout, stock = small
    laid = as_built(layout, 12, 2)
    last = laid[-1]
    other = next(p.log for p in layout.placements if p.order > 30 and abs(p.log.diameter - last.log.diameter) < 0.02)
    laid[-1] = replace(last, log=other)
    again = replan(layout, laid, rest_of(stock, laid), joint_largest=LARGEST, seed=1, **RULES)
    assert judge(again, stock, joint=JOINT, **RULES, settled=[p.log.id for p in laid]) == ()
    assert {p.log.id for p in again.placements} | set(again.unused) == {log.id for log in stock}


def test_a_log_laid_in_another_panel_than_planned_leaves_a_gap_that_is_mended(small):
    layout, stock = small
    other_stock = tuple(replace(log, id=f"M{n}") for n, log in enumerate(stock_of(1.1 * 1.56, seed=5)))
    other = lay_panel(replace(layout.face, name="other"), other_stock, **JOINTS, seed=2, effort="draft")
    first, both = layout.placements[0], (*stock, *other_stock)
    taken = min(other.placements[20:40], key=lambda p: abs(p.log.diameter - first.log.diameter)).log.id
    wishes = Wishes(laid=(LaidLog(log=taken, panel="small", from_left=first.x, height=first.y),))
    joints = Joints(nominal=JOINT, least=LEAST, largest=LARGEST, edge=EDGE)
    after, _ = around_laid([layout, other], wishes, both, joints, cancelled=lambda: False)
    assert used_twice(after) == ()
    for old, new in zip((layout, other), after, strict=True):
        assert judge(new, both, joint=JOINT, **RULES, settled=[taken]) == ()
        near, of = kept(old, new, ())
        assert near >= of - 4
    assert taken in {p.log.id for p in after[0].placements}
    assert taken not in {p.log.id for p in after[1].placements}


def test_a_forbidden_log_goes_and_the_others_stay(wall):
    layout, stock = wall
    rotten = layout.placements[200].log.id
    again = replan(layout, (), stock, joint_largest=LARGEST, seed=1, forbidden={rotten}, **RULES)
    assert rotten in again.unused
    assert judge(again, stock, joint=JOINT, **RULES) == ()
    near, of = kept(layout, again, ())
    assert near >= of - 8


def test_a_locked_log_keeps_its_place_when_the_rest_gives_way(small):
    layout, stock = small
    laid = as_built(layout, 10, 1)
    lock = layout.placements[14]
    again = replan(layout, laid, rest_of(stock, laid), joint_largest=LARGEST, seed=1, locked={lock.log.id}, **RULES)
    there = next(p for p in again.placements if p.log.id == lock.log.id)
    assert (there.x, there.y) == (lock.x, lock.y)


def test_a_rest_without_enough_logs_is_laid_anew_and_never_loosely(small):
    layout, stock = small
    laid = as_built(layout, 12, 1)
    left = rest_of(stock, laid)[::3]
    again = replan(layout, laid, left, joint_largest=LARGEST, seed=1, effort="draft", **RULES)
    assert again.report.joint_nominal == LARGEST
    assert again.closed < 1
    names = [p.log.id for p in laid]
    assert judge(again, stock, joint=LARGEST, **RULES, settled=names) == ()


def test_a_panel_laid_up_to_a_height_stays_laid_to_it():
    face = Face(name="low", outline=box(0, 0, 1.3, 1.2))
    stock = stock_of(0.5 * 1.56, seed=3)
    layout = lay_panel(face, stock, **JOINTS, seed=1, effort="draft")
    assert layout.closed < 1
    assert height_laid(layout) == pytest.approx(1.2 * layout.closed, abs=1e-3)
    laid = as_built(layout, 8, 1)
    again = replan(layout, laid, rest_of(stock, laid), joint_largest=LARGEST, seed=1, **RULES)
    assert again.closed == pytest.approx(layout.closed, abs=1e-3)
    joint = layout.report.joint_nominal
    assert judge(again, stock, joint=joint, **RULES, settled=[p.log.id for p in laid]) == ()


def test_laying_the_rest_stops_when_asked_and_refuses_a_log_twice(small):
    layout, stock = small
    with pytest.raises(StoppedError, match="small"):
        replan(layout, (), stock, joint_largest=LARGEST, seed=1, cancelled=lambda: True, **RULES)
    with pytest.raises(InputError, match="twice"):
        replan(layout, (), (*stock, stock[0]), joint_largest=LARGEST, seed=1, **RULES)


def swapped(layout, log, other, stock, **more):
    (after,) = swap([layout], log, other, stock, joint_least=LEAST, edge=EDGE, **more)
    return after


def undone(before, after, pair):
    """Logs besides the pair that moved."""
    there = {p.log.id: (p.x, p.y) for p in before.placements}
    return [p for p in after.placements if p.log.id not in pair and there.get(p.log.id) != (p.x, p.y)]


def test_two_logs_of_like_size_change_places_and_only_the_neighbourhood_moves(wall):
    layout, stock = wall
    first, second = (
        layout.placements[60],
        min(layout.placements[150:], key=lambda p: abs(p.log.diameter - layout.placements[60].log.diameter)),
    )
    after = swapped(layout, first.log.id, second.log.id, stock)
    there = {p.log.id: p for p in after.placements}
    for log, place in ((first, second), (second, first)):
        new = there[log.log.id]
        assert math.hypot(new.x - place.x, new.y - place.y) < log.log.diameter / 2
    assert len(undone(layout, after, {first.log.id, second.log.id})) < 0.35 * len(layout.placements)
    narrow = after.report.joint_min
    assert narrow >= LEAST - 5e-5
    wrong = judge(after, stock, joint=JOINT, **RULES)
    assert {v.rule for v in wrong} <= {"joint"}
    assert max((v.amount for v in wrong), default=0.0) <= JOINT - LEAST + 5e-5


def test_a_smaller_left_over_log_comes_in_and_the_other_is_left_over(wall):
    layout, stock = wall
    sizes = {log.id: log.diameter for log in stock}
    out = layout.placements[100]
    inn = max((i for i in layout.unused if sizes[i] < out.log.diameter), key=sizes.get)
    after = swapped(layout, out.log.id, inn, stock)
    assert judge(after, stock, joint=JOINT, **RULES) == ()
    assert out.log.id in after.unused
    assert inn not in after.unused
    assert {p.log.id for p in after.placements} | set(after.unused) == {log.id for log in stock}


def test_logs_of_two_panels_change_places(small):
    layout, stock = small
    other_stock = tuple(replace(log, id=f"M{n}") for n, log in enumerate(stock_of(1.1 * 1.56, seed=5)))
    other = lay_panel(replace(layout.face, name="other"), other_stock, **JOINTS, seed=2, effort="draft")
    mine = layout.placements[20].log
    theirs = min((p.log for p in other.placements), key=lambda log: abs(log.diameter - mine.diameter))
    both = (*stock, *other_stock)
    a, b = swap([layout, other], mine.id, theirs.id, both, joint_least=LEAST, edge=EDGE)
    assert theirs.id in {p.log.id for p in a.placements}
    assert mine.id in {p.log.id for p in b.placements}
    for panel in (a, b):
        assert {v.rule for v in judge(panel, both, joint=JOINT, **RULES)} <= {"joint"}


def test_a_log_far_too_large_is_refused_with_the_numbers(wall):
    layout, stock = wall
    smallest = min(layout.placements, key=lambda p: p.log.diameter).log
    giant = Log(id="giant", stem="S", diameter=0.32)
    with pytest.raises(
        InputError, match=rf"log giant of 320 mm does not fit at the place of {smallest.id}.*\d+ mm too large"
    ):
        swapped(layout, smallest.id, "giant", (*stock, giant))


@pytest.mark.parametrize(
    ("pair", "more", "words"),
    [
        (("L1", "L1"), {}, "itself"),
        (("L1", "nobody"), {}, "no log nobody"),
        (("first", "second"), {"laid": ["first"]}, "laid or locked"),
        (("first", "second"), {"locked": ["second"]}, "laid or locked"),
        (("out", "out too"), {}, "neither"),
    ],
)
def test_what_cannot_change_places_is_refused(small, pair, more, words):
    layout, stock = small
    first, second = (p.log.id for p in layout.placements[5:7])
    spare = Log(id="L900", stem="S", diameter=0.1), Log(id="L901", stem="S", diameter=0.1)
    names = {"first": first, "second": second, "out": "L900", "out too": "L901"}
    log, other = (names.get(n, n) for n in pair)
    more = {key: [names[n] for n in value] for key, value in more.items()}
    with pytest.raises(InputError, match=words):
        swapped(layout, log, other, (*stock, *spare), **more)


def test_laid_logs_keep_place_and_order_when_others_change_places(small):
    layout, stock = small
    laid = [p.log.id for p in layout.placements if p.order <= 10]
    free = [p for p in layout.placements if p.order > 10]
    first = free[5]
    second = min(free[12:], key=lambda p: abs(p.log.diameter - first.log.diameter))
    after = swapped(layout, first.log.id, second.log.id, stock, laid=laid)
    there = {p.log.id: p for p in after.placements}
    for p in layout.placements:
        if p.log.id in laid:
            assert (there[p.log.id].x, there[p.log.id].y, there[p.log.id].order) == (p.x, p.y, p.order)
    assert sorted(p.order for p in after.placements) == list(range(1, len(after.placements) + 1))
