"""What holds however a laid wall is changed: no rule broken by the rest, each log once, what stands stands."""

import math
from dataclasses import replace
from functools import cache

import numpy as np
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from cordwright.base import InputError
from cordwright.wall.engine import lay_panel
from cordwright.wall.judge import judge, used_twice
from cordwright.wall.layout import Face, Hole, Log
from cordwright.wall.relaying import replan
from cordwright.wall.swapping import swap

JOINT, LEAST, LARGEST, EDGE = 0.025, 0.012, 0.04, 0.0125
WINDOW = ((0.5, 0.4), (0.95, 0.4), (0.95, 0.8), (0.5, 0.8))


@cache
def planned(seed):
    rng = np.random.Generator(np.random.PCG64(seed))
    area, stock = 1.1 * 1.4 * 1.2, []
    while area > 0:
        diameter = float(rng.uniform(0.08, 0.19))
        stock.append(Log(id=f"L{len(stock)}", stem="S", diameter=diameter))
        area -= math.pi * ((diameter + JOINT) / 2) ** 2
    outline = ((0.0, 0.0), (1.4, 0.0), (1.4, 1.2), (0.0, 1.2))
    face = Face(name="any", outline=outline, openings=(Hole(id="w", outline=WINDOW),))
    layout = lay_panel(
        face, stock, joint=JOINT, joint_least=LEAST, joint_largest=LARGEST, edge=EDGE, seed=seed, effort="draft"
    )
    return layout, tuple(stock)


@settings(max_examples=15, deadline=None, derandomize=True, suppress_health_check=[HealthCheck.too_slow])
@given(
    seed=st.integers(0, 2),
    share=st.floats(0.0, 1.0),
    error=st.floats(0.0, 0.012),
    jolt=st.integers(0, 1000),
    banned=st.integers(0, 4),
)
def test_whatever_is_laid_stays_and_the_rest_breaks_no_rule(seed, share, error, jolt, banned):
    layout, stock = planned(seed)
    rng = np.random.Generator(np.random.PCG64(jolt))
    count = round(share * len(layout.placements))
    laid = [
        replace(p, x=p.x + rng.uniform(-error, error), y=p.y + rng.uniform(-error, error))
        for p in layout.placements[:count]
    ]
    names = {p.log.id for p in laid}
    left = [log for log in stock if log.id not in names]
    forbidden = {log.id for log in left[:banned]}
    again = replan(
        layout, laid, left, joint_least=LEAST, joint_largest=LARGEST, edge=EDGE, seed=1, effort="draft",
        forbidden=forbidden,
    )  # fmt: skip
    there = {p.log.id: p for p in again.placements}
    assert all(there[p.log.id] == p for p in laid)
    assert not forbidden & there.keys()
    assert there.keys() | set(again.unused) == {log.id for log in stock}
    assert used_twice((again,)) == ()
    joint = again.report.joint_nominal
    assert judge(again, stock, joint=joint, joint_least=LEAST, edge=EDGE, settled=names) == ()


@settings(max_examples=15, deadline=None, derandomize=True, suppress_health_check=[HealthCheck.too_slow])
@given(seed=st.integers(0, 2), first=st.integers(0, 400), second=st.integers(0, 400))
def test_a_swap_moves_only_what_is_near_and_keeps_every_rule(seed, first, second):
    layout, stock = planned(seed)
    inside = [p.log.id for p in layout.placements]
    log, other = inside[first % len(inside)], stock[second % len(stock)].id
    assume(log != other)
    before = (layout.placements, layout.unused)
    try:
        (after,) = swap([layout], log, other, stock, joint_least=LEAST, edge=EDGE)
    except InputError as refusal:
        told = str(refusal)
    else:
        told = ""
    if told:
        assert "too large even with joints of 12 mm" in told
        return
    assert (layout.placements, layout.unused) == before
    wrong = judge(after, stock, joint=JOINT, joint_least=LEAST, edge=EDGE)
    assert {v.rule for v in wrong} <= {"joint"}
    assert after.report.joint_min >= LEAST - 5e-5
    assert {p.log.id for p in after.placements} | set(after.unused) == {g.id for g in stock}
    places = [(p.x, p.y) for p in layout.placements if p.log.id in (log, other)]
    old = {p.log.id: (p.x, p.y) for p in layout.placements}
    for p in after.placements:
        if p.log.id not in (log, other) and old[p.log.id] != (p.x, p.y):
            away = min(math.hypot(x - old[p.log.id][0], y - old[p.log.id][1]) for x, y in places)
            assert away <= 4.0 * (0.19 + JOINT)
