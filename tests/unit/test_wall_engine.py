"""Laying a panel: small panels whole, what is refused, what is fixed, how the joint follows the stock."""

import math
from dataclasses import replace

import numpy as np
import pytest

from cordwright.base import InputError, StoppedError
from cordwright.wall.dealing import allot, net_area, wall_joint
from cordwright.wall.engine import lay_panel
from cordwright.wall.inputs import Joints
from cordwright.wall.judge import judge, used_twice
from cordwright.wall.layout import Disc, Face, Hole, Log
from cordwright.wall.relaying import replan
from cordwright.wall.study import laid_panels

JOINT, LEAST, LARGEST, EDGE = 0.025, 0.022, 0.04, 0.0125
JOINTS = Joints(nominal=JOINT, least=LEAST, largest=LARGEST, edge=EDGE)


def box(left, bottom, right, top):
    return ((left, bottom), (right, bottom), (right, top), (left, top))


def face(width=0.9, height=1.1, name="north", **parts):
    return Face(name=name, outline=box(0.0, 0.0, width, height), **parts)


def logs(area, seed=1, low=0.08, high=0.2, joint=JOINT):
    """Logs of mixed sizes whose discs with half a joint fill an area [m2]."""
    rng = np.random.Generator(np.random.PCG64(seed))
    stock = []
    while area > 0:
        diameter = float(np.round(rng.uniform(low, high), 4))
        stock.append(Log(id=f"L{len(stock) + 1}", stem="S", diameter=diameter))
        area -= math.pi * ((diameter + joint) / 2) ** 2
    return tuple(stock)


def lay(panel, stock, **more):
    stated = {
        "joint": JOINT,
        "joint_least": LEAST,
        "joint_largest": LARGEST,
        "edge": EDGE,
        "seed": 1,
        "effort": "draft",
    }
    return lay_panel(panel, stock, **{**stated, **more})


def faults(layout, stock, joint=JOINT):
    return judge(layout, stock, joint=joint, joint_least=min(LEAST, joint), edge=EDGE)


def test_a_panel_is_laid_with_no_rule_broken_and_every_log_told() -> None:
    panel, stock = face(), logs(1.1)
    layout = lay(panel, stock)
    assert faults(layout, stock) == ()
    assert {p.log.id for p in layout.placements} | set(layout.unused) == {log.id for log in stock}
    assert layout.closed == 1.0
    assert layout.report.effectiveness > 0.93 * layout.report.reference
    assert layout.report.effectiveness < layout.report.florian_bound
    assert layout.report.joint_min == pytest.approx(JOINT, abs=5e-5)


def test_the_same_seed_lays_the_same_wall_and_another_another() -> None:
    panel, stock = face(), logs(1.1)
    assert lay(panel, stock) == lay(panel, stock)
    assert lay(panel, stock) != lay(panel, stock, seed=2)


def test_openings_pipes_and_a_gable_are_laid_around() -> None:
    panel = Face(
        name="gable",
        outline=((0.0, 0.0), (1.8, 0.0), (1.8, 0.8), (0.9, 1.4), (0.0, 0.8)),
        openings=(Hole(id="window", outline=box(1.0, 0.3, 1.45, 0.7)),),
        obstacles=(Disc(id="flue", x=0.5, y=0.5, diameter=0.15),),
    )
    stock = logs(1.9)
    layout = lay(panel, stock)
    assert faults(layout, stock) == ()
    assert len(layout.placements) > 40


def test_a_round_opening_is_laid_around() -> None:
    ring = tuple((0.6 + 0.25 * math.cos(a), 0.6 + 0.25 * math.sin(a)) for a in np.arange(48) * math.tau / 48)
    panel = face(1.2, 1.2, openings=(Hole(id="porthole", outline=ring),))
    stock = logs(1.4)
    assert faults(lay(panel, stock), stock) == ()


def test_a_door_up_to_the_head_leaves_two_regions_and_both_are_laid() -> None:
    panel = face(1.6, 0.9, openings=(Hole(id="door", outline=box(0.5, 0.0, 1.0, 0.9)),))
    stock = logs(1.3)
    layout = lay(panel, stock)
    assert faults(layout, stock) == ()
    assert any(p.x < 0.5 for p in layout.placements)
    assert any(p.x > 1.0 for p in layout.placements)


@pytest.mark.parametrize(("width", "height"), [(0.25, 0.6), (0.18, 1.0), (0.3, 0.3)])
def test_tiny_panels_and_narrow_strips_take_what_fits(width, height) -> None:
    panel, stock = face(width, height), logs(0.4)
    layout = lay(panel, stock)
    assert layout.placements
    assert faults(layout, stock) == ()
    assert max(p.log.diameter for p in layout.placements) <= min(width, height) - 2 * EDGE + 1e-9


def test_logs_larger_than_the_panel_are_set_aside_by_name() -> None:
    stock = (Log(id="giant", stem="S", diameter=0.9), *logs(0.5))
    layout = lay(face(0.6, 0.6), stock)
    assert "giant" in layout.unused


def test_without_logs_nothing_is_laid_and_it_says_so() -> None:
    layout = lay(face(), ())
    assert layout.placements == ()
    assert layout.closed == 0.0
    assert layout.report.wood_fraction == 0.0


def test_a_short_stock_widens_the_joint_evenly() -> None:
    panel = face(1.2, 1.2)
    stock = logs(0.80 * 1.44)
    layout = lay(panel, stock)
    assert JOINT < layout.report.joint_nominal < LARGEST
    assert layout.closed == 1.0
    assert faults(layout, stock, layout.report.joint_nominal) == ()


def test_a_very_short_stock_leaves_the_top_open_and_no_log_is_scaled() -> None:
    panel = face(1.2, 1.2)
    stock = logs(0.4 * 1.44)
    layout = lay(panel, stock)
    assert layout.report.joint_nominal == LARGEST
    assert 0.3 < layout.closed < 0.7
    assert max(p.y + p.log.diameter / 2 for p in layout.placements) <= layout.closed * 1.2 + 1e-3
    assert len(layout.placements) > 0.9 * len(stock)
    assert faults(layout, stock, LARGEST) == ()


def test_forbidden_logs_stay_unused() -> None:
    stock = (*logs(1.2), Log(id="half", stem="S", diameter=0.2, shape="half"))
    layout = lay(face(), stock, forbidden={"half", "L1", "L2"})
    assert {"half", "L1", "L2"} <= set(layout.unused)


def test_laid_logs_stay_where_they_are_when_the_rest_is_laid_anew() -> None:
    panel, stock = face(1.2, 1.2), logs(1.7)
    planned = lay(panel, stock)
    rng = np.random.Generator(np.random.PCG64(5))
    low = [p for p in planned.placements if p.order <= len(planned.placements) // 2]
    laid = [replace(p, x=p.x + rng.uniform(-0.004, 0.004), y=p.y + rng.uniform(-0.004, 0.004)) for p in low]
    left = [log for log in stock if log.id not in {p.log.id for p in laid}]
    again = replan(planned, laid, left, joint_least=LEAST, joint_largest=LARGEST, edge=EDGE, seed=3, effort="draft")
    kept = {p.log.id: p for p in again.placements}
    assert all(kept[p.log.id] == p for p in laid)
    new = {p.log.id for p in again.placements} - {p.log.id for p in laid}
    assert len(new) > 10
    wrong = [v for v in faults(again, stock) if v.rule in ("joint", "edge") and set(v.ids) & new]
    assert wrong == []
    assert min(kept[i].order for i in new) == len(laid) + 1


def test_a_locked_log_keeps_its_place_and_is_laid_in_its_turn() -> None:
    panel, stock = face(1.2, 1.2), logs(1.7)
    planned = lay(panel, stock)
    wished = next(p for p in planned.placements if 0.5 < p.y < 0.7 and "chip" not in p.supports)
    layout = lay(panel, stock, fixed=(replace(wished, order=0),))
    there = next(p for p in layout.placements if p.log.id == wished.log.id)
    assert (there.x, there.y) == (wished.x, wished.y)
    assert there.order > 1
    assert faults(layout, stock) == ()


def test_a_house_uses_no_log_twice_and_one_joint_in_all_panels() -> None:
    faces = (face(1.0, 1.0, name="north"), face(0.6, 1.0, name="east"))
    stock = logs(0.76 * 1.6)
    joint = wall_joint(faces, stock, JOINTS)
    layouts = tuple(laid_panels(faces, stock, JOINTS, 1, effort="draft"))
    assert JOINT < joint < LARGEST
    assert used_twice(layouts) == ()
    assert all(layout.report.joint_nominal == pytest.approx(joint, abs=0.002) for layout in layouts)


def test_panels_get_the_same_mix_in_proportion_to_their_area() -> None:
    faces = (face(2.0, 1.0, name="long"), face(1.0, 1.0, name="short"))
    dealt = allot(logs(3.5), faces, joint=JOINT, edge=EDGE)
    area = {name: sum(log.diameter**2 for log in part) for name, part in dealt.items()}
    assert area["long"] / area["short"] == pytest.approx(2.0, rel=0.03)
    means = [np.mean([log.diameter for log in part]) for part in dealt.values()]
    assert means[0] == pytest.approx(means[1], rel=0.05)


def test_a_log_goes_only_to_a_panel_it_fits() -> None:
    faces = (face(0.2, 1.0, name="slit"), face(1.0, 1.0, name="wide"))
    dealt = allot(logs(1.5), faces, joint=JOINT, edge=EDGE)
    assert max(log.diameter for log in dealt["slit"]) <= 0.2 - 2 * EDGE + 1e-6


@pytest.mark.parametrize(
    ("stock", "more"),
    [
        ((Log(id="a", stem="S", diameter=0.1), Log(id="a", stem="S", diameter=0.1)), {}),
        ((Log(id="a", stem="S", diameter=math.nan),), {}),
        ((Log(id="a", stem="S", diameter=-0.1),), {}),
        ((), {"joint": 0.05}),
        ((), {"joint_least": 0.0}),
        ((), {"edge": -0.01}),
    ],
)
def test_sizes_and_joints_that_no_wall_has_are_refused(stock, more) -> None:
    with pytest.raises(InputError):
        lay(face(), stock, **more)


def test_the_laying_tells_how_far_it_is_and_stops_when_asked() -> None:
    told: list[tuple[float, str]] = []
    lay(face(), logs(1.1), progress=lambda share, what: told.append((share, what)))
    assert told[-1] == (1.0, "north")
    assert all(0.0 <= share <= 1.0 for share, _ in told)
    with pytest.raises(StoppedError, match="north"):
        lay(face(), logs(1.1), cancelled=lambda: True)


def test_lifts_hold_two_figures_of_logs_and_rise_with_the_order() -> None:
    panel, stock = face(2.0, 1.2), logs(2.7)
    layout = lay(panel, stock)
    lifts = [p.lift for p in layout.placements]
    assert lifts == sorted(lifts)
    assert max(lifts.count(n) for n in set(lifts)) <= 99
    assert max(lifts) >= 2


def test_the_net_area_leaves_openings_out() -> None:
    panel = face(2.0, 1.0, openings=(Hole(id="w", outline=box(0.5, 0.2, 1.0, 0.6)),))
    assert net_area(panel) == pytest.approx(1.8)
