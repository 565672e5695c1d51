"""Panels that take a handful of logs, by search: what can be worked out by hand, and never worse than by chance."""

import math

import numpy as np
import pytest

from cordwright.base import InputError
from cordwright.wall import packing, solving, tiny
from cordwright.wall import region as regions
from cordwright.wall.engine import lay_panel
from cordwright.wall.judge import judge
from cordwright.wall.layout import Disc, Face, Log
from cordwright.wall.supports import unheld

JOINT, EDGE = 0.025, 0.0125
RULES = {"joint": JOINT, "joint_least": 0.02, "edge": EDGE}


def box(left, bottom, right, top):
    return ((left, bottom), (right, bottom), (right, top), (left, top))


def stock_of(*diameters):
    return tuple(Log(id=f"L{n + 1}", stem="S", diameter=d) for n, d in enumerate(diameters))


def face(width, height, **more):
    return Face(name="slit", outline=box(0.0, 0.0, width, height), **more)


def lay(panel, stock, **more):
    return lay_panel(
        panel, stock, joint=JOINT, joint_least=0.02, joint_largest=JOINT, edge=EDGE, seed=1, effort="draft", **more
    )


def empty(panel, stock):
    """A region with nothing laid in it yet."""
    (part,) = regions.regions_of(panel)
    sizes = np.sort([log.diameter / 2 + JOINT / 2 for log in stock])
    none = np.zeros(0)
    return packing.Packing(
        region=part, offset=EDGE - JOINT / 2, joint_half=JOINT / 2, sizes=sizes, x=none, y=none,
        which=np.zeros(0, np.int64), still=none, bears=np.zeros(0, bool), rng=np.random.default_rng(1),
    )  # fmt: skip


def test_one_log_in_a_box_is_the_largest_that_fits() -> None:
    panel, stock = face(0.2, 0.2), stock_of(0.1, 0.16, 0.17, 0.19)
    layout = lay(panel, stock)
    assert [p.log.id for p in layout.placements] == ["L3"]
    assert judge(layout, stock, **RULES) == ()
    assert {"L4", "L1", "L2"} <= set(layout.unused)


def test_the_search_alone_sets_a_log_where_it_touches_two_edges() -> None:
    panel, stock = face(0.3, 0.2), stock_of(0.17)
    laid = tiny.enumerate_few(empty(panel, stock))
    assert laid.moving == 1
    assert (laid.x[0], laid.y[0]) in [(pytest.approx(x), pytest.approx(y)) for x in (0.0975, 0.2025) for y in (0.0975,)]


def test_two_logs_side_by_side_on_the_bed() -> None:
    panel, stock = face(0.4, 0.2), stock_of(0.175, 0.175, 0.08)
    laid = tiny.enumerate_few(empty(panel, stock))
    assert sorted(np.round(laid.x, 6).tolist()) == [0.1, 0.3]
    assert np.allclose(laid.y, 0.1)
    layout = lay(face(0.401, 0.201), stock)
    assert sorted(p.log.id for p in layout.placements) == ["L1", "L2"]
    assert all(p.supports == ("bed",) for p in layout.placements)
    assert judge(layout, stock, **RULES) == ()


def test_three_logs_zigzag_in_a_slit_of_250_by_600() -> None:
    """Discs of 195 + 25 mm touch the left post, the right, the left: the rise between two is sqrt(220^2 - 30^2)."""
    panel, stock = face(0.25, 0.6), stock_of(0.195, 0.195, 0.195)
    rise = math.sqrt(0.22**2 - 0.03**2)
    assert 0.22 + 2 * rise > 0.6
    assert len(lay(panel, stock).placements) == 2
    taller = face(0.25, 0.22 + 2 * rise + 1e-3)
    layout = lay(taller, stock)
    assert len(layout.placements) == 3
    assert judge(layout, stock, **RULES) == ()
    heights = sorted(p.y for p in layout.placements)
    assert np.diff(heights) == pytest.approx([rise, rise], abs=2e-3)


def test_a_mixed_slit_of_250_by_600_is_no_looser_than_by_chance() -> None:
    panel, stock = face(0.25, 0.6), stock_of(*np.linspace(0.08, 0.2, 16).round(4).tolist())
    layout = lay(panel, stock)
    assert judge(layout, stock, **RULES) == ()
    (part,) = regions.regions_of(panel)
    sizes = np.sort([log.diameter / 2 + JOINT / 2 for log in stock])
    tries = [
        solving._solve_once(
            part, sizes, 0.0, JOINT / 2, still=(), effort=packing.DRAFT, seed=[1, 0, n], pulse=lambda _: None
        )
        for n in range(1, 9)
    ]
    wood = sum(math.pi / 4 * p.log.diameter**2 for p in layout.placements)
    chance = max(tries, key=tiny.worth)
    bare = math.pi * float(np.sum((chance.sizes[chance.which] - JOINT / 2) ** 2))
    worth = sum(math.pi * (p.log.diameter / 2 + JOINT / 2) ** 2 for p in layout.placements)
    assert worth >= tiny.worth(chance) - 1e-9
    assert wood > 0.9 * bare


@pytest.mark.parametrize(("width", "height"), [(0.3, 0.4), (0.35, 0.3), (0.5, 0.25), (0.28, 0.5)])
def test_the_search_never_makes_worse_and_always_ends(width: float, height: float) -> None:
    stock = stock_of(*np.linspace(0.08, 0.2, 16).round(4).tolist())
    (part,) = regions.regions_of(face(width, height))
    sizes = np.sort([log.diameter / 2 + JOINT / 2 for log in stock])
    start = solving._solve_once(
        part, sizes, 0.0, JOINT / 2, still=(), effort=packing.DRAFT, seed=[1, 0, 1], pulse=lambda _: None
    )
    found = tiny.enumerate_few(start)
    assert tiny.worth(found) >= tiny.worth(start)
    assert len(set(found.which.tolist())) == found.moving
    again = tiny.enumerate_few(start)
    assert np.array_equal(found.x, again.x)
    assert np.array_equal(found.which, again.which)


def test_the_search_goes_around_a_pipe_and_counts_rest() -> None:
    panel = face(0.4, 0.4, obstacles=(Disc(id="K1", x=0.2, y=0.2, diameter=0.06),))
    stock = stock_of(*[0.1] * 10)
    layout = lay(panel, stock)
    assert judge(layout, stock, **RULES) == ()
    assert len(layout.placements) >= 4
    laid = tiny.enumerate_few(empty(face(0.25, 0.5), stock_of(0.1, 0.12, 0.15, 0.18)))
    assert len(unheld(laid)) == 0


def test_a_panel_too_small_for_any_log_says_how_small() -> None:
    with pytest.raises(InputError, match=r"slit.*L2, is 150 mm, and 95 mm find room"):
        lay(face(0.12, 0.6), stock_of(0.16, 0.15))
