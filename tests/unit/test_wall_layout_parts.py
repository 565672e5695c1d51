"""The parts of laying a panel: regions, edges, order, lifts, fillers, gaps, bound, kernels without the compiler."""

import math
import os
import subprocess
import sys

import numpy as np
import pytest

from cordwright.wall import region as regions
from cordwright.wall.fillers import fillers_for
from cordwright.wall.gaps import empty_circles
from cordwright.wall.layout import Face, Hole, Log, Placement
from cordwright.wall.ordering import Standing, laying_order, lifts_of
from cordwright.wall.packing import HEXAGONAL, draw, reference, scatter, spread_of
from cordwright.wall.report import Laid, florian_bound, report_of


def box(left, bottom, right, top):
    return ((left, bottom), (right, bottom), (right, top), (left, top))


def test_edges_are_bed_post_or_frame_and_corners_are_those_of_frames() -> None:
    face = Face(name="n", outline=box(0, 0, 3, 2), openings=(Hole(id="w", outline=box(1, 0.5, 2, 1.5)),))
    (part,) = regions.regions_of(face)
    assert sorted(part.kinds) == ["bed", *["frame"] * 4, *["post"] * 3]
    assert sorted(map(tuple, part.corners.round(6).tolist())) == [(1, 0.5), (1, 1.5), (2, 0.5), (2, 1.5)]
    assert set(part.corner_kinds) == {"frame"}
    assert part.area == pytest.approx(5.0)
    assert part.perimeter == pytest.approx(14.0)


def test_a_door_to_the_head_parts_a_panel() -> None:
    face = Face(name="n", outline=box(0, 0, 3, 2), openings=(Hole(id="d", outline=box(1, 0, 2, 2)),))
    assert [part.area for part in regions.regions_of(face)] == pytest.approx([2.0, 2.0])


def test_the_largest_circle_in_an_empty_box_is_half_its_height() -> None:
    (part,) = regions.regions_of(Face(name="n", outline=box(0, 0, 3, 0.4)))
    none = np.zeros(0)
    circles = empty_circles(part, 0.0, (none, none, none), 0.05)
    assert circles[0][2] == pytest.approx(0.2, abs=1e-4)


def test_the_pocket_among_four_logs_takes_a_stone_a_joint_clear() -> None:
    half = 0.1 + 0.0125
    (part,) = regions.regions_of(Face(name="n", outline=box(0, 0, 4 * half, 4 * half)))
    placements = [
        Placement(log=Log(id=f"{i}{k}", stem="S", diameter=0.2), x=x, y=y, order=1, supports=("bed",))
        for i, x in enumerate((half, 3 * half))
        for k, y in enumerate((half, 3 * half))
    ]
    stones = fillers_for((part,), placements, (), 0.025)
    pocket = 2 * (math.sqrt(2) * half - 0.1)
    middle = min(stones, key=lambda f: math.hypot(f.x - 2 * half, f.y - 2 * half))
    assert middle.diameter == pytest.approx(pocket - 0.05, abs=1e-3)


def standing(name, x, y, *supports):
    return Standing(id=name, x=x, y=y, radius=0.1, supports=supports)


def test_the_order_lays_what_bears_first_then_low_before_high_then_from_the_left() -> None:
    logs = [standing("c", 0.3, 0.25, "a", "b"), standing("b", 0.5, 0.1, "bed"), standing("a", 0.1, 0.1, "bed")]
    lifts = lifts_of(logs, 0.0, 0.5)
    assert laying_order(logs, lifts, laid=4) == {"a": 5, "b": 6, "c": 7}


def test_lifts_are_no_higher_than_six_hundred_and_hold_no_more_than_ninety_nine() -> None:
    logs = [standing(f"{n}", n * 0.01, 0.01 + 0.004 * n, "bed") for n in range(300)]
    lifts = lifts_of(logs, 0.0, 1.2)
    counts = [list(lifts.values()).count(n) for n in sorted(set(lifts.values()))]
    assert max(counts) <= 99
    assert len(counts) >= 4


def test_equal_discs_have_the_hexagonal_bound() -> None:
    assert florian_bound(0.1, 0.1) == pytest.approx(math.pi / math.sqrt(12))
    assert florian_bound(0.1, 0.0526) > HEXAGONAL


def test_the_reference_of_a_square_of_equal_discs() -> None:
    assert reference(4.0, 8.0, np.full(9, 0.1)) == pytest.approx(0.9069 - 0.1215 * 0.1 * 8 / 4, abs=1e-4)


def test_a_draw_keeps_the_mix() -> None:
    sizes = np.sort(np.random.Generator(np.random.PCG64(1)).uniform(0.05, 0.1, 400))
    picked = draw(sizes, 0.5 * math.pi * float(np.sum(sizes**2)), np.random.Generator(np.random.PCG64(2)))
    assert len(set(picked.tolist())) == len(picked) == pytest.approx(200, abs=3)
    assert sizes[picked].mean() == pytest.approx(sizes.mean(), rel=0.01)


def test_scattered_points_lie_inside_and_apart() -> None:
    (part,) = regions.regions_of(Face(name="n", outline=box(0, 0, 2, 1)))
    x, y = scatter(part.shape, 100, np.random.Generator(np.random.PCG64(3)))
    apart = np.hypot(x[:, None] - x, y[:, None] - y) + 9 * np.eye(100)
    assert len(x) == 100
    assert apart.min() > 0.04


def test_a_square_lattice_by_hand_is_told_as_it_is() -> None:
    pitch, n = 0.175, 6
    (part,) = regions.regions_of(Face(name="n", outline=box(0, 0, n * pitch, n * pitch)))
    x, y = (a.ravel() for a in np.meshgrid(pitch * (np.arange(n) + 0.5), pitch * (np.arange(n) + 0.5)))
    laid = Laid(
        regions=(part,), net_area=part.area, x=x, y=y, radius=np.full(n * n, 0.075), others=np.zeros((0, 3)),
        joint=0.025, edge=0.0125, unsupported=0,
    )  # fmt: skip
    report = report_of(laid)
    assert report.effectiveness == pytest.approx(math.pi / 4)
    assert report.wood_fraction == pytest.approx(math.pi / 4 * (0.15 / 0.175) ** 2)
    assert report.joint_min == pytest.approx(0.025)
    assert report.straight_run == pytest.approx(n * pitch - 2 * (0.0125 + 0.004), abs=1e-6)
    assert report.mortar_area == pytest.approx(part.area - n * n * math.pi * 0.075**2)


INTERPRETED = """
from cordwright.wall.engine import lay_panel
from cordwright.wall.layout import Face, Log
face = Face(name="n", outline=((0, 0), (0.3, 0), (0.3, 0.25), (0, 0.25)))
stock = [Log(id=f"L{n}", stem="S", diameter=0.09 + 0.004 * n) for n in range(3)]
from cordwright.wall import packing, solving
solving.TINY = 0
import cordwright.wall.engine as engine
engine.EFFORTS["draft"] = packing.Effort(steps=150, failures=1)
layout = lay_panel(face, stock, joint=.025, joint_least=.02, joint_largest=.025, edge=.0125, seed=1, effort="draft")
print([(p.log.id, round(p.x, 3), round(p.y, 3), p.supports) for p in layout.placements])
"""


def test_the_loops_run_without_the_compiler_and_give_the_same_wall() -> None:
    printed = []
    for without in ("1", "0"):
        environment = {**os.environ, "NUMBA_DISABLE_JIT": without, "PYTHONPATH": os.pathsep.join(sys.path)}
        done = subprocess.run(
            [sys.executable, "-c", INTERPRETED],
            env=environment,
            capture_output=True,
            text=True,
            timeout=110,
            check=False,
        )
        assert done.returncode == 0, done.stderr
        printed.append(done.stdout)
    assert printed[0] == printed[1]
    assert "L" in printed[0]


def test_no_logs_at_all_have_no_spread_and_no_warning() -> None:
    """A stock with nothing for a part of the wall is told as a shortage, not as a division by nothing."""
    with np.errstate(all="raise"):
        assert spread_of(np.empty(0)) == 0.0
    assert spread_of(np.full(9, 0.2)) > 0.0
