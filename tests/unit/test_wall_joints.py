"""How do joints open on a curve, and what is said of joints, beads and fill that cannot be?"""

from dataclasses import replace

import numpy as np
import pytest

from cordwright.base import Problem
from cordwright.base.units import FOOT, INCH
from cordwright.mortar import MortarInput
from cordwright.plan.inputs import WallSection
from cordwright.plan.results import Panel, Plan, SettingOut
from cordwright.wall import Fill, Joints, WallInput, find_faults, largest_bead, largest_log, outer_joint, reckon_wall

JOINTS = Joints(nominal=0.025, least=0.012, largest=0.060, edge=0.0125)
WALL = WallInput(joints=JOINTS, wood_fraction=0.6, wood_fraction_low=0.55, wood_fraction_high=0.65, fill=Fill())
SECTION = WallSection(log_end_length=0.35, bead=0.10)


def round_plan(radius: float | None) -> Plan:
    panel = Panel(
        name="round",
        inner_length=8.0,
        centre_length=9.0,
        outer_length=10.0,
        inner_line=((0.0, 0.0), (8.0, 0.0)),
        centre_line=((0.0, 0.175), (9.0, 0.175)),
        outer_line=((0.0, 0.35), (10.0, 0.35)),
        bearing=0.0,
        inner_radius=radius,
        outline=((0.0, 0.0), (9.0, 0.0), (9.0, 2.0), (0.0, 2.0)),
        openings=(),
        obstacles=(),
        gross_area=18.0,
        openings_area=0.0,
    )
    return Plan(
        inner_face=(),
        centre_face=(),
        outer_face=(),
        eaves=(),
        posts=(),
        panels=(panel,),
        setting_out=SettingOut(points=(), rows=()),
        build_in=(),
        figures=(),
        checks=(),
    )


STRAIGHT = round_plan(None)


def faults(wall: WallInput = WALL, section: WallSection = SECTION) -> tuple[Problem, ...]:
    return find_faults(wall, STRAIGHT, section, None)


def curved(radius: float, log: float | list[float], thickness: float = 0.35) -> tuple[Problem, ...]:
    section = WallSection(log_end_length=thickness, bead=0.10)
    return find_faults(WALL, round_plan(radius), section, np.atleast_1d(np.array(log, dtype=float)))


def test_sauna_joint_opens_to_two_and_a_half_inches() -> None:
    """US26: 9 ft inside, 12 in wall, 6 in log end, 1 in inner joint -> 2.56 in."""
    joint = outer_joint(6 * INCH, 1 * INCH, 4.5 * FOOT, 12 * INCH)
    assert joint / INCH == pytest.approx(2.56, abs=0.005)


def test_thick_logs_in_a_tight_circle_are_refused_with_advice() -> None:
    """Nasty row 10: inside diameter 1.8 m, log ends 450 mm long and 250 mm thick -> 162 mm."""
    (fault,) = curved(0.9, 0.25, thickness=0.45)
    assert fault.severity == "error"
    assert "162 mm" in fault.message
    for advice in ("split or tapered", "smaller diameter", "shorter"):
        assert advice in fault.hint


def test_a_wide_but_possible_joint_is_a_warning_that_names_the_size_that_fits() -> None:
    (fault,) = curved(2.0, 0.25)
    assert fault.severity == "warning"
    assert "mean" in fault.message
    fits = largest_log(0.025, 0.060, 2.0, 0.35)
    assert f"rounds up to {int(fits * 1000)} mm" in fault.hint
    assert curved(2.0, fits - 1e-6) == ()


def test_a_few_large_logs_are_named_but_not_refused() -> None:
    (fault,) = curved(0.9, [0.05] * 40 + [0.25])
    assert fault.severity == "warning"
    assert "largest log end of 250 mm" in fault.message


def test_a_wall_that_bends_inward_opens_at_its_inner_face() -> None:
    """Around a re-entrant corner the outer face is the hollow one: 2 m inside is 1.65 m outside."""
    wall = reckon_wall(WALL, round_plan(-2.0), SECTION, None, MortarInput(), np.array([0.20]))
    mean, _ = wall.curved_joints
    assert mean.outer == JOINTS.nominal
    assert mean.inner == pytest.approx(outer_joint(0.20, 0.025, 1.65, 0.35))
    assert wall.checks[0].demand == mean.inner
    assert "inner face" in wall.checks[0].label
    (fault,) = curved(-2.0, 0.20)
    assert "inner face" in fault.message


def test_no_round_fits_where_the_bare_joint_is_already_too_wide() -> None:
    assert largest_log(0.05, 0.06, 0.5, 0.35) < 0
    wall = replace(WALL, joints=replace(JOINTS, nominal=0.05))
    (fault,) = find_faults(wall, round_plan(0.5), SECTION, np.array([0.1]))
    assert "no round" in fault.hint


def test_straight_walls_and_unknown_logs_have_no_joint_to_widen() -> None:
    assert find_faults(WALL, STRAIGHT, SECTION, np.array([0.3])) == ()
    assert find_faults(WALL, round_plan(0.9), SECTION, None) == ()
    assert find_faults(WALL, round_plan(0.9), SECTION, np.array([])) == ()


def test_the_check_takes_the_mean_and_spreads_to_the_largest() -> None:
    wall = reckon_wall(WALL, round_plan(2.0), SECTION, None, MortarInput(), np.array([0.10, 0.20]))
    (check,) = wall.checks
    assert check.demand == pytest.approx(outer_joint(0.15, 0.025, 2.0, 0.35))
    assert check.high == pytest.approx(outer_joint(0.20, 0.025, 2.0, 0.35))
    assert check.capacity == JOINTS.largest
    assert check.verdict == "close"
    assert [j.log_diameter for j in wall.curved_joints] == pytest.approx([0.15, 0.20])


def test_the_check_is_not_judged_without_logs() -> None:
    (check,) = reckon_wall(WALL, round_plan(2.0), SECTION, None, MortarInput(), np.array([])).checks
    assert check.verdict == "not judged"
    assert check.not_judged == "no log sizes are stated"


def test_beads_that_meet_are_a_solid_joint_and_say_what_it_costs() -> None:
    """Nasty row 9."""
    (fault,) = faults(section=WallSection(log_end_length=0.25, bead=0.13))
    assert (fault.field, fault.severity) == ("wall.bead", "warning")
    for words in ("2 x 130 mm", "250 mm", "solid joint", "39 %", "90 mm"):
        assert words in fault.message
    assert "90 mm" in fault.hint


def test_a_wall_too_thin_for_a_cavity_is_offered_none() -> None:
    (fault,) = faults(section=WallSection(log_end_length=0.08, bead=0.05))
    assert "no room" in fault.hint
    assert largest_bead(0.08) <= 0


@pytest.mark.parametrize(("thickness", "bead"), [(0.25, 0.09), (0.35, 0.14), (0.27, 0.10), (0.269, 0.09)])
def test_the_bead_offered_leaves_a_cavity_of_seventy_millimetres(thickness: float, bead: float) -> None:
    assert largest_bead(thickness) == pytest.approx(bead)


@pytest.mark.parametrize(
    ("change", "fields"),
    [
        ({"wood_fraction_high": 0.9}, ["wall.wood_fraction_high"]),
        ({"wood_fraction_low": 0.1}, ["wall.wood_fraction_low"]),
        ({"wood_fraction_low": 0.62}, ["wall.wood_fraction"]),
        ({"wood_fraction_high": 0.58}, ["wall.wood_fraction"]),
        ({"wood_fraction": float("nan")}, ["wall.wood_fraction", "wall.wood_fraction"]),
    ],
)
def test_wood_fractions_that_cannot_be(change: dict[str, float], fields: list[str]) -> None:
    found = faults(replace(WALL, **change))
    assert [f.field for f in found] == fields
    assert {f.severity for f in found} == {"error"}


@pytest.mark.parametrize(
    ("change", "field"),
    [
        ({"least": 0.03}, "wall.joints.least"),
        ({"largest": 0.02}, "wall.joints.largest"),
        ({"edge": 0.0}, "wall.joints.edge"),
        ({"least": -0.01}, "wall.joints.least"),
    ],
)
def test_joints_that_cannot_be(change: dict[str, float], field: str) -> None:
    (fault,) = faults(replace(WALL, joints=replace(JOINTS, **change)))
    assert (fault.field, fault.severity) == (field, "error")
    assert "mm" in fault.message


@pytest.mark.parametrize(
    ("change", "field"),
    [
        ({"waste": 0.7}, "wall.fill.waste"),
        ({"density": 0.0}, "wall.fill.density"),
        ({"lime_share": 1.2}, "wall.fill.lime_share"),
    ],
)
def test_fills_that_cannot_be(change: dict[str, float], field: str) -> None:
    (fault,) = faults(replace(WALL, fill=Fill(**change)))
    assert (fault.field, fault.severity) == (field, "error")


def test_a_sound_wall_has_no_fault() -> None:
    assert faults() == ()
