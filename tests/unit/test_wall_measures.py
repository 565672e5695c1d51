"""Are the measures of a laid panel right where they can be worked out by hand?"""

import math
from dataclasses import replace

import pytest

import layout_samples as samples
from cordwright.wall.layout import Disc, Face, Filler, Hole, Log, Placement
from cordwright.wall.measures import (
    clustering,
    largest_pocket,
    least_joint,
    mortar_area,
    on_chips,
    straight_run,
    wood_fraction,
)

EDGE, JOINT = samples.EDGE, samples.JOINT


def one(shape="round", diameter=0.2):
    own = Log(id="a", stem="a", diameter=diameter, shape=shape)
    return Placement(log=own, x=0.5, y=0.5, order=1, supports=("bed",))


def test_wood_is_counted_by_shape_and_over_the_wall_between_frames():
    face = Face(
        name="f", outline=samples.box(0, 0, 1, 1), openings=(Hole(id="W", outline=samples.box(0.7, 0.7, 0.2, 0.2)),)
    )
    for shape, share in (("round", 1), ("half", 0.5), ("quarter", 0.25)):
        layout = samples.laid(face, (one(shape),), (Filler(x=0.2, y=0.2, diameter=0.1),))
        assert wood_fraction(layout) == pytest.approx(share * math.pi * 0.01 / 0.96)
        assert mortar_area(layout) == pytest.approx(0.96 - share * math.pi * 0.01 - math.pi * 0.0025)


def test_the_least_joint_and_the_chips_are_read_off():
    assert least_joint(samples.square(3, 3)) == pytest.approx(JOINT)
    assert least_joint(samples.square(1, 1)) is None
    assert on_chips(samples.square(3, 2)) == ("T01-4", "T01-5", "T01-6")
    assert on_chips(samples.hexagonal(3, 3)) == ()


def test_the_largest_pocket_of_a_square_lies_between_four_logs():
    x, y, diameter = largest_pocket(samples.square(4, 4))
    pitch = 0.15 + JOINT
    assert diameter == pytest.approx(pitch * math.sqrt(2) - 0.15, abs=5e-4)
    assert (x - EDGE - 0.075) / pitch % 1 == pytest.approx(0.5, abs=0.01)
    assert (y - EDGE - 0.075) / pitch % 1 == pytest.approx(0.5, abs=0.01)


def test_the_largest_pocket_of_an_empty_panel_touches_bed_and_head():
    face = Face(name="e", outline=samples.box(0, 0, 3, 1))
    assert largest_pocket(samples.laid(face, ()))[2] == pytest.approx(1.0, abs=1e-3)
    halved = replace(face, obstacles=(Disc(id="K", x=1.5, y=0.5, diameter=3.0),))
    assert largest_pocket(samples.laid(halved, ()))[2] < 0.2


def test_chance_is_measured_against_the_contacts_there_are():
    # 5 x 4 in a square: 16 + 15 contacts; of equal logs the first three ids count as the largest: side by side, 2.
    chance = 31 * 3 * 2 / (20 * 19)
    assert clustering(samples.square(5, 4), joint=JOINT) == pytest.approx(2 / chance)
    spread = samples.square(5, 4)
    large = {0: 0.151, 7: 0.151, 14: 0.151}
    apart = tuple(replace(p, log=replace(p.log, diameter=large.get(n, 0.15))) for n, p in enumerate(spread.placements))
    assert clustering(replace(spread, placements=apart), joint=JOINT) == 0.0
    assert clustering(samples.square(3, 3), joint=JOINT) is None
    assert clustering(samples.square(5, 4), joint=-0.02) is None


def test_an_empty_panel_has_its_diagonal_for_a_run():
    face = Face(name="e", outline=samples.box(0, 0, 2, 1))
    run = straight_run(samples.laid(face, ()), edge=EDGE)
    assert run == pytest.approx(math.hypot(2 - 2 * EDGE, 1 - 2 * EDGE), abs=1e-5)


def test_a_log_in_the_middle_cuts_the_diagonal():
    # The longest line then touches the log's grown rim and ends in a corner of the field, or runs along its edge.
    face = Face(name="m", outline=samples.box(0, 0, 1, 1))
    run = straight_run(samples.laid(face, (one(diameter=0.5),)), edge=EDGE)
    half, grown = 0.5 - EDGE, 0.254
    lean = math.pi / 4 - math.asin(grown / (half * math.sqrt(2)))
    assert run == pytest.approx(2 * half / math.cos(lean), abs=1e-5)


def test_square_logs_leave_straight_joints_and_hexagonal_ones_do_not():
    square, hexagonal = samples.square(6, 6), samples.hexagonal(6, 6)
    wide = square.face.outline[2][0] - 2 * EDGE
    # A joint of 25 mm less 2 x 4 mm leaves 17 mm in which the line may lean.
    lean = (JOINT - 0.008) / (5 * (0.15 + JOINT))
    assert wide <= straight_run(square, edge=EDGE) <= wide / math.cos(1.5 * lean)
    assert straight_run(hexagonal, edge=EDGE) < 3 * 0.15
    assert straight_run(hexagonal, edge=EDGE, clear=-0.05) > straight_run(hexagonal, edge=EDGE)


def test_openings_end_a_run():
    face = Face(
        name="o", outline=samples.box(0, 0, 2, 1), openings=(Hole(id="D", outline=samples.box(0.9, 0, 0.2, 1)),)
    )
    run = straight_run(samples.laid(face, ()), edge=EDGE)
    assert run == pytest.approx(math.hypot(0.9 - 2 * EDGE, 1 - 2 * EDGE), abs=1e-5)
