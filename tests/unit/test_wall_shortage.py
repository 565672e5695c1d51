"""What a stock lacks: the numbers hang together, more closes it, and what closes it does close it."""

import math
from dataclasses import replace

import numpy as np
import pytest

from cordwright.wall.dealing import wall_joint
from cordwright.wall.inputs import Joints
from cordwright.wall.layout import Disc, Face, Hole, Log
from cordwright.wall.shortage import Supply, height_reached, shortage_of, size_classes, widened

JOINTS = Joints(nominal=0.025, least=0.012, largest=0.04, edge=0.0125)


def box(left, bottom, right, top):
    return ((left, bottom), (right, bottom), (right, top), (left, top))


FACES = (
    Face(name="S", outline=box(0, 0, 4, 2.2), openings=(Hole(id="D1", outline=box(1, 0, 1.9, 2.0)),)),
    Face(name="N", outline=box(0, 0, 3, 2.2), obstacles=(Disc(id="K1", x=1, y=1, diameter=0.15),)),
)
AREA = 7 * 2.2 - 0.9 * 2.0


def stock_of(count, seed=1):
    rng = np.random.Generator(np.random.PCG64(seed))
    return tuple(Log(id=f"L{n}", stem="S", diameter=float(rng.uniform(0.09, 0.2))) for n in range(count))


def short_by(stock, **supply):
    known = {"logs": len(stock), **supply}
    return shortage_of(FACES, stock, JOINTS, Supply(**known), mortar_depth=0.2)


def test_a_stock_that_closes_the_wall_lacks_nothing():
    assert short_by(stock_of(900)) is None
    assert widened(FACES, stock_of(900), JOINTS, JOINTS.nominal, mortar_depth=0.2) is None


def test_the_missing_logs_close_the_wall_and_one_in_twenty_fewer_do_not():
    stock = stock_of(250)
    short = short_by(stock)
    assert short.logs > 50
    typical = replace(stock[0], diameter=math.sqrt(sum(log.diameter**2 for log in stock) / len(stock)))
    more = [replace(typical, id=f"M{n}") for n in range(short.logs)]
    few = more[: round(0.95 * len(more))]
    supply = Supply(logs=1)
    assert shortage_of(FACES, (*stock, *few), JOINTS, supply, mortar_depth=None) is not None
    doubled = [replace(log, id=f"D{n}") for n, log in enumerate((stock * 3)[: short.logs + 8])]
    assert shortage_of(FACES, (*stock, *doubled), JOINTS, supply, mortar_depth=None) is None


def test_the_classes_make_up_the_whole_in_the_stock_s_proportion():
    stock = stock_of(250)
    short = short_by(stock)
    assert sum(c.count for c in short.classes) == short.logs
    for each in short.classes:
        share = sum(each.low <= log.diameter < each.high for log in stock) / len(stock)
        assert each.count == pytest.approx(share * short.logs, abs=1.0)
        assert each.high - each.low == pytest.approx(0.02)
    inches = size_classes(stock, 100, 0.0254)
    assert sum(c.count for c in inches) == 100
    assert all(c.low / 0.0254 == pytest.approx(round(c.low / 0.0254)) for c in inches)


def test_the_areas_and_choices_hang_together():
    stock = stock_of(250)
    short = short_by(stock)
    assert 0 < short.wood_area < short.wall_area < AREA
    assert short.logs_nominal > short.logs
    mean = sum(math.pi * log.diameter**2 / 4 for log in stock) / len(stock)
    assert short.wood_area == pytest.approx(short.logs * mean)
    assert short.joint == JOINTS.largest
    assert short.openings_top == 2.0
    assert 0.5 < short.height < 2.2
    assert short.height / 2.2 == pytest.approx(1 - short.wall_area / AREA, abs=0.06)


def test_the_closing_joint_closes_and_costs_mortar():
    stock = stock_of(330)
    short = short_by(stock)
    assert short.closing_joint > JOINTS.largest
    assert short.closing_mortar > 0
    wider = replace(JOINTS, largest=short.closing_joint + 1e-4)
    assert shortage_of(FACES, stock, wider, Supply(logs=1), mortar_depth=None) is None
    assert wall_joint(FACES, stock, wider) == pytest.approx(short.closing_joint, abs=1e-4)


def test_no_joint_closes_a_wall_of_a_few_logs():
    short = short_by(stock_of(20))
    assert short.closing_joint is None
    assert short.closing_mortar is None


def test_stems_and_stacks_are_told_as_the_stock_was_counted():
    stock = stock_of(250)
    bare, stems, stacked = (short_by(stock, **s) for s in ({}, {"stems": 25}, {"stacked": 5.0, "kept": 0.9}))
    assert (bare.stems, bare.stacked) == (None, None)
    assert stems.stems == math.ceil(stems.logs / 10)
    assert stacked.stacked == pytest.approx(stacked.logs / 0.9 * 5.0 / 250)


def test_a_wider_joint_tells_its_mortar_and_more_of_it_the_wider():
    stock = stock_of(480)
    joint = wall_joint(FACES, stock, JOINTS)
    assert JOINTS.nominal < joint < JOINTS.largest
    this = widened(FACES, stock, JOINTS, joint, mortar_depth=0.2)
    more = widened(FACES, stock, JOINTS, joint + 0.005, mortar_depth=0.2)
    assert 0 < this.extra_mortar < more.extra_mortar < 0.2 * AREA * 0.3
    assert widened(FACES, stock, JOINTS, joint, mortar_depth=None).extra_mortar is None


def test_the_height_grows_with_the_stock():
    heights = [height_reached(FACES, stock_of(n), JOINTS.largest, JOINTS.edge) for n in (100, 200, 300)]
    assert heights == sorted(heights)
    assert heights[0] < heights[2] - 0.3


def test_without_any_log_there_is_nothing_to_go_by():
    assert short_by((), logs=1) is None
