"""What a laid wall takes by lift and panel: squares of logs by hand, carried where the stock is short, by the day."""

import math
from dataclasses import replace

import numpy as np
import pytest

import layout_samples as samples
from cordwright.base import InputError
from cordwright.mortar import MixPart, MortarInput, reckon_mix
from cordwright.plan.inputs import WallSection
from cordwright.wall import Fill
from cordwright.wall.day import Supplies, day_needs, needs_of
from cordwright.wall.laid_figures import carried_steps, laid_checks, laid_figures
from cordwright.wall.layout import Filler, Log, Placement
from cordwright.wall.level_cuts import disc_below, end_area, end_perimeter, log_below
from cordwright.wall.placed import Depths, PlacedWall, _with_carried, bead_curve, place_panel

SECTION = WallSection(log_end_length=0.35, bead=0.10)
SOLID = WallSection(log_end_length=0.20, bead=0.10)
MIX = MortarInput(
    parts=(
        MixPart(name="cement", kind="cement", form="powder", parts=2, bag=25),
        MixPart(name="lime", kind="lime", form="powder", parts=3, bag=20),
        MixPart(name="pit sand", kind="sand", form="damp sand", parts=10, moisture=0.05, bulking=1.18),
    ),
    bucket=0.012,
    waste=0.10,
)
SUPPLIES = Supplies(stated=MIX, mix=reckon_mix(MIX), fill=Fill(material="shive", waste=0.05))


def depths(section=SECTION, *, curve=0.0, masses=None, density=2000.0):
    return Depths(section=section, curve=curve, masses=masses or {}, mortar_density=density)


def masses_of(layout, mass=4.0):
    return {p.log.id: mass for p in layout.placements}


def carried(layout, section=SECTION):
    placed = place_panel(layout, depths(section))
    return _with_carried(layout, placed, placed.laid)


def test_a_square_of_logs_by_hand():
    layout = samples.square(4, 4)
    placed = place_panel(layout, depths(masses=masses_of(layout)))
    whole, side = placed.whole, 4 * 0.175
    wood = 16 * math.pi * 0.15**2 / 4
    assert whole.wood_area == pytest.approx(wood, rel=1e-12)
    assert whole.joint_area == pytest.approx(side**2 - wood, rel=1e-9)
    assert whole.face_area == pytest.approx(side**2, rel=1e-9)
    assert whole.inner_bead == whole.outer_bead == pytest.approx((side**2 - wood) * 0.10)
    assert whole.fill_volume == pytest.approx((side**2 - wood) * 0.15)
    assert whole.wood_volume == pytest.approx(wood * 0.35)
    assert whole.joint_length == pytest.approx((16 * math.pi * 0.15 + 4 * side) / 2)
    assert (whole.logs, whole.chips, whole.stones) == (16, 12, 0)
    assert whole.log_mass == pytest.approx(64.0)
    assert whole.mortar_mass == pytest.approx(whole.mortar_volume * 2000)


def test_logs_go_whole_to_their_lift_and_joints_are_cut_at_the_level():
    placed = place_panel(samples.square(4, 4), depths())
    assert [lift.number for lift in placed.lifts] == [1, 2]
    low, high = placed.lifts
    assert (low.low, low.high, high.high) == pytest.approx((0.0, 0.35, 0.70))
    assert len(low.logs) == len(high.logs) == 8
    assert low.taken.joint_area == pytest.approx(high.taken.joint_area)


def test_a_solid_joint_is_shared_by_both_beads_and_leaves_no_fill():
    whole = place_panel(samples.square(3, 3), depths(SOLID)).whole
    assert whole.fill_volume == 0.0
    assert whole.mortar_volume == pytest.approx(whole.joint_area * SOLID.thickness)


def test_a_mass_is_unknown_when_one_log_s_is():
    layout = samples.square(2, 2)
    masses = masses_of(layout) | {layout.placements[0].log.id: math.nan}
    assert place_panel(layout, depths(masses=masses)).whole.log_mass is None
    assert place_panel(layout, depths(density=None)).whole.mortar_mass is None


def test_a_stone_takes_the_place_of_mortar_in_the_beads_and_of_no_fill():
    layout = samples.square(3, 3)
    stone = Filler(x=0.175, y=0.175, diameter=0.05)
    plain, stony = (place_panel(x, depths()).whole for x in (layout, replace(layout, fillers=(stone,))))
    area = math.pi * 0.05**2 / 4
    assert plain.mortar_volume - stony.mortar_volume == pytest.approx(area * 0.20)
    assert stony.stone_volume == pytest.approx(area * 0.20)
    assert stony.fill_volume == pytest.approx(plain.fill_volume)
    assert stony.stones == 2  # one in each bead


def test_on_a_curve_the_outer_bead_takes_more_and_both_together_the_same():
    straight = place_panel(samples.square(3, 3), depths()).whole
    bent = place_panel(samples.square(3, 3), depths(curve=0.08)).whole
    assert bent.inner_bead < straight.inner_bead < bent.outer_bead
    assert bent.mortar_volume == pytest.approx(straight.mortar_volume)


def test_the_curve_of_a_bead_follows_the_radius():
    class Bent:
        inner_radius = 1.4

    class Inward:
        inner_radius = -2.0

    class Straight:
        inner_radius = None

    assert bead_curve(Bent, SECTION) == pytest.approx((0.35 - 0.10) / 2 / (1.4 + 0.175))
    assert bead_curve(Inward, SECTION) < 0
    assert bead_curve(Straight, SECTION) == 0.0


@pytest.mark.parametrize(("shape", "share", "around"), [("half", 0.5, 0.5), ("quarter", 0.25, 0.25)])
def test_a_split_is_its_share_of_the_disc(shape, share, around):
    assert end_area(shape, 0.3) == pytest.approx(share * math.pi * 0.09 / 4)
    assert end_perimeter(shape, 0.3) == pytest.approx(around * math.pi * 0.3 + 0.3)
    split = Placement(
        log=Log(id="a", stem="s", diameter=0.3, shape=shape), x=0, y=0, order=1, supports=("bed",), angle=math.pi / 2
    )
    assert log_below(-1.0, split) == 0.0
    assert log_below(1.0, split) == pytest.approx(end_area(shape, 0.3))
    assert 0 < log_below(0.05, split) < end_area(shape, 0.3)


def test_a_half_lying_on_its_flat_below_a_level_is_half_the_disc_there():
    half = Placement(
        log=Log(id="a", stem="s", diameter=0.3, shape="half"), x=0, y=0, order=1, supports=("bed",), angle=math.pi / 2
    )
    expected = disc_below(0.07, 0.0, 0.3) - disc_below(0.0, 0.0, 0.3)
    assert log_below(0.07, half) == pytest.approx(expected, rel=1e-3)


def test_a_split_of_a_round_weighs_its_share_of_it():
    log = Log(id="a1", stem="s", diameter=0.15, shape="half", parent="a")
    layout = samples.square(1, 1)
    split = replace(layout, placements=(replace(layout.placements[0], log=log),))
    assert place_panel(split, depths(masses={"a": 6.0})).whole.log_mass == pytest.approx(3.0)


def test_what_is_not_laid_is_carried_at_the_mean_of_the_laid_part():
    full = samples.square(4, 4)
    rows = tuple(p for p in full.placements if p.order <= 12)
    short = carried(replace(full, placements=rows, closed=0.75))
    whole = carried(full)
    assert whole.carried is None
    assert short.carried is not None
    assert short.carried.logs == pytest.approx(4)
    assert short.whole.face_area == pytest.approx(whole.whole.face_area)
    assert short.whole.joint_area == pytest.approx(whole.whole.joint_area, rel=1e-6)
    wall = PlacedWall(panels=(short,), joint=0.025)
    assert wall.coverage == pytest.approx(0.75)
    assert wall.not_laid == pytest.approx(0.25 * 0.49)
    assert "carried at the mean" in carried_steps(wall)[0].formula


def test_a_panel_without_a_log_is_carried_at_the_mean_of_the_others():
    full, none = samples.square(4, 4), replace(samples.square(3, 3), placements=(), closed=0.0)
    mean = place_panel(full, depths()).laid
    empty = _with_carried(none, place_panel(none, depths()), mean)
    assert empty.whole.face_area == pytest.approx((3 * 0.175) ** 2)
    assert empty.whole.wood_area / empty.whole.face_area == pytest.approx(mean.wood_area / mean.face_area)


def test_a_short_stock_is_a_short_check_and_a_closed_wall_holds():
    full = samples.square(4, 4)
    joints = type("J", (), {"largest": 0.06})
    closed = PlacedWall(panels=(carried(full),), joint=0.025)
    assert [c.verdict for c in laid_checks(closed, joints)] == ["holds", "holds"]
    rows = tuple(p for p in full.placements if p.order <= 12)
    short = PlacedWall(panels=(carried(replace(full, placements=rows, closed=0.75)),), joint=0.06)
    assert [c.verdict for c in laid_checks(short, joints)] == ["short", "holds"]
    assert list(laid_checks(None, joints)) == []
    figures = {f.key: f for f in laid_figures(closed)}
    assert "planned" not in figures["wall.wood_fraction"].label
    assert figures["wall.log_mass"].bound == "unknown"
    assert figures["wall.coverage"].value == 1.0


def test_what_a_lift_needs_comes_from_mix_waste_and_bucket():
    lift = place_panel(samples.square(4, 4), depths()).lifts[0]
    needs = needs_of("square", lift.logs, lift.taken, SUPPLIES)
    mix = SUPPLIES.mix
    assert needs.mortar == pytest.approx(lift.taken.mortar_volume * 1.10)
    assert needs.fill == pytest.approx(lift.taken.fill_volume * 1.05)
    assert needs.batches == pytest.approx(needs.mortar / mix.batch_volume)
    assert needs.buckets["pit sand"] == pytest.approx(10 * needs.batches)
    assert needs.cement == pytest.approx(needs.mortar * sum(a.cement_mass for a in mix.amounts))
    bare = needs_of("square", (), lift.taken, Supplies(stated=MortarInput(waste=0.1), mix=None, fill=Fill()))
    assert (bare.batches, bare.buckets, bare.cement, bare.lime, bare.dry_sand) == (None,) * 5


def test_a_day_goes_on_from_the_next_log_and_into_the_next_lift():
    placed = place_panel(samples.square(4, 4), depths())
    first = day_needs(placed, 0.1, SUPPLIES)
    assert first.logs == placed.lifts[0].logs[:4]
    assert first.area >= 0.1
    done = placed.lifts[0].logs[:6]
    on = day_needs(placed, 0.15, SUPPLIES, done)
    assert on.logs == (*placed.lifts[0].logs[6:], *placed.lifts[1].logs[:3])
    every = day_needs(placed, 100.0, SUPPLIES)
    assert every.mortar == pytest.approx(placed.whole.mortar_volume * 1.10)
    assert day_needs(placed, 1.0, SUPPLIES, [p for lift in placed.lifts for p in lift.logs]).logs == ()
    with pytest.raises(InputError):
        day_needs(placed, 0.0, SUPPLIES)


def test_levels_below_and_above_a_disc():
    assert disc_below(-1, 0, 0.2) == 0
    assert disc_below(1, 0, 0.2) == pytest.approx(math.pi * 0.01)
    assert disc_below(0, 0, 0.2) == pytest.approx(math.pi * 0.005)
    assert disc_below(0, 0, 0.0) == 0
    assert np.isfinite(disc_below(math.inf, 0, 0.2))
