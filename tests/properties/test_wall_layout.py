"""What holds for every panel laid: no rule broken, nothing lost, never denser than the bound."""

import math

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from shapely import Point, Polygon, union_all

from cordwright.wall.engine import lay_panel
from cordwright.wall.judge import judge
from cordwright.wall.layout import Face, Hole, Log
from cordwright.wall.report import florian_bound
from cordwright.wall.stocking import even_joint, share_out

EDGE = 0.0125


def box(left, bottom, right, top):
    return ((left, bottom), (right, bottom), (right, top), (left, top))


def stock_of(area, low, high, seed, joint):
    rng = np.random.Generator(np.random.PCG64(seed))
    stock = []
    while area > 0:
        diameter = float(rng.uniform(low, high))
        stock.append(Log(id=f"L{len(stock)}", stem="S", diameter=diameter))
        area -= math.pi * ((diameter + joint) / 2) ** 2
    return tuple(stock)


@settings(max_examples=12, deadline=None, derandomize=True, suppress_health_check=[HealthCheck.too_slow])
@given(
    width=st.floats(0.7, 1.6),
    height=st.floats(0.5, 1.2),
    rise=st.floats(0.0, 0.3),
    low=st.floats(0.07, 0.12),
    wider=st.floats(1.2, 2.0),
    joint=st.floats(0.015, 0.035),
    hole=st.booleans(),
    seed=st.integers(0, 1000),
)
def test_any_panel_is_laid_with_no_rule_broken(*, width, height, rise, low, wider, joint, hole, seed):
    holes = (Hole(id="w", outline=box(0.3 * width, 0.3 * height, 0.55 * width, 0.6 * height)),) if hole else ()
    outline = ((0.0, 0.0), (width, 0.0), (width, height), (0.0, height + rise))
    face = Face(name="any", outline=outline, openings=holes)
    stock = stock_of(1.1 * width * (height + rise), low, low * wider, seed, joint)
    layout = lay_panel(
        face, stock, joint=joint, joint_least=joint, joint_largest=0.05, edge=EDGE, seed=seed, effort="draft"
    )
    assert judge(layout, stock, joint=layout.report.joint_nominal, joint_least=joint, edge=EDGE) == ()
    assert {p.log.id for p in layout.placements} | set(layout.unused) == {log.id for log in stock}
    discs = union_all([Point(p.x, p.y).buffer(p.log.diameter / 2, quad_segs=64) for p in layout.placements])
    net = Polygon(outline).area - sum(Polygon(h.outline).area for h in holes)
    assert layout.report.wood_fraction == pytest.approx(discs.area / net, rel=2e-3)
    assert layout.report.effectiveness < layout.report.florian_bound
    assert layout.report.effectiveness > 0.55


@given(large=st.floats(0.02, 0.3), share=st.floats(0.1, 1.0))
def test_the_bound_lies_between_the_hexagon_and_one(large, share):
    hexagon = math.pi / math.sqrt(12)
    assert hexagon - 1e-12 <= florian_bound(large, large * share) < 1.0


@given(need=st.floats(0.0, 0.1), slope=st.floats(0.1, 10.0))
def test_the_even_joint_is_the_narrowest_that_closes(need, slope):
    joint = even_joint(lambda j: need - slope * (j - 0.025), 0.025, 0.04)
    exact = 0.025 + need / slope
    assert joint == pytest.approx(min(exact, 0.04), abs=2e-5)


@given(
    sizes=st.lists(st.floats(0.05, 0.3), min_size=1, max_size=60),
    areas=st.lists(st.floats(0.1, 5.0), min_size=1, max_size=5),
)
def test_dealing_out_loses_and_doubles_no_log(sizes, areas):
    stock = [Log(id=f"L{n}", stem="S", diameter=d) for n, d in enumerate(sizes)]
    names = [f"p{n}" for n in range(len(areas))]
    dealt = share_out(stock, dict(zip(names, areas, strict=True)), dict.fromkeys(names, 1.0))
    ids = [log.id for part in dealt.values() for log in part]
    assert sorted(ids) == sorted(log.id for log in stock)
    total = sum(d**2 for d in sizes)
    for name, area in zip(names, areas, strict=True):
        got = sum(log.diameter**2 for log in dealt[name])
        assert abs(got - total * area / sum(areas)) <= len(areas) * max(sizes) ** 2
