"""Does the wall keep its areas and volumes, whatever the wall?"""

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Point

from cordwright.mortar import MixPart, MortarInput, reckon_mix
from cordwright.plan.inputs import WallSection
from cordwright.plan.results import Obstacle, Panel, Plan, SettingOut
from cordwright.wall import Fill, Joints, Wall, WallInput, largest_log, outer_joint, panel_quantity, reckon_wall

JOINTS = Joints(nominal=0.025, least=0.012, largest=0.060, edge=0.0125)
MORTAR = MortarInput(
    parts=(
        MixPart(name="cement", kind="cement", form="powder", parts=1, bag=25),
        MixPart(name="lime", kind="lime", form="powder", parts=1, bag=20),
        MixPart(name="sand", kind="sand", form="damp sand", parts=5),
    ),
    bucket=0.01,
    waste=0.1,
)
MIX = reckon_mix(MORTAR)
FRACTION = st.floats(0.3, 0.8)
LENGTH = st.floats(0.02, 5.0)


def panel(gross: float, holes: int = 0) -> Panel:
    return Panel(
        name=f"{gross}",
        inner_length=gross,
        centre_length=gross,
        outer_length=gross,
        inner_line=(),
        centre_line=(),
        outer_line=(),
        bearing=0.0,
        inner_radius=None,
        outline=((0.0, 0.0), (gross, 0.0), (gross, 1.0), (0.0, 1.0)),
        openings=(),
        obstacles=tuple(Obstacle(id=str(i), what="", u=0, v=0, diameter=0.07) for i in range(holes)),
        gross_area=gross,
        openings_area=0.1 * gross,
    )


def reckoned(areas: list[float], section: WallSection, fraction: float, spread: float = 0.05) -> Wall:
    plan = Plan(
        inner_face=(),
        centre_face=(),
        outer_face=(),
        eaves=(),
        posts=(),
        panels=tuple(panel(a, holes=2) for a in areas),
        setting_out=SettingOut(points=(), rows=()),
        build_in=(),
        figures=(),
        checks=(),
    )
    wall = WallInput(
        joints=JOINTS,
        wood_fraction=fraction,
        wood_fraction_low=fraction - spread,
        wood_fraction_high=fraction + spread,
        fill=Fill(waste=0.05),
    )
    return reckon_wall(wall, plan, section, MIX, MORTAR, np.array([]))


AREAS = st.lists(st.floats(0.5, 12.0), min_size=1, max_size=9)
SECTIONS = st.builds(
    lambda bead, cavity, proud: WallSection(log_end_length=2 * bead + cavity + 2 * proud, bead=bead, proud=proud),
    st.floats(0.05, 0.12),
    st.floats(0.0, 0.3),
    st.floats(0.0, 0.02),
)


@settings(max_examples=50, deadline=None)
@given(AREAS, SECTIONS, FRACTION)
def test_the_sum_of_the_panels_is_the_total_exactly(areas: list[float], section: WallSection, fraction: float) -> None:
    wall = reckoned(areas, section, fraction)
    for key, part in (
        ("wall.wood_volume", "wood_volume"),
        ("wall.mortar_in_place", "mortar_volume"),
        ("wall.joint_area", "joint_area"),
    ):
        assert wall.figure(key).value == math.fsum(getattr(p, part) for p in wall.panels)


@settings(max_examples=50, deadline=None)
@given(AREAS, SECTIONS, FRACTION)
def test_wood_mortar_and_fill_are_the_masonry(areas: list[float], section: WallSection, fraction: float) -> None:
    for p in reckoned(areas, section, fraction).panels:
        assert p.wood_area + p.joint_area == pytest.approx(p.masonry_area, rel=1e-12)
        solid = p.masonry_area * section.thickness + p.wood_area * 2 * section.proud
        assert p.wood_volume + p.mortar_volume + p.fill_volume == pytest.approx(solid, rel=1e-9)


@settings(max_examples=40, deadline=None)
@given(AREAS, SECTIONS, st.floats(0.3, 0.6), st.floats(0.01, 0.15))
def test_more_wood_less_mortar(areas: list[float], section: WallSection, fraction: float, more: float) -> None:
    lean, rich = (reckoned(areas, section, f) for f in (fraction + more, fraction))
    for key in ("mortar.volume", "mortar.cement", "mortar.dry_sand", "wall.joint_area"):
        assert lean.figure(key).value < rich.figure(key).value
    assert lean.figure("wall.wood_volume").value > rich.figure("wall.wood_volume").value


@settings(max_examples=40, deadline=None)
@given(AREAS, st.floats(0.05, 0.10), st.floats(0.005, 0.05), FRACTION)
def test_changing_only_the_bead_leaves_the_wood(areas: list[float], bead: float, more: float, fraction: float) -> None:
    """US06."""
    thin, thick = (reckoned(areas, WallSection(log_end_length=0.35, bead=b), fraction) for b in (bead, bead + more))
    assert thin.figure("wall.wood_volume").value == thick.figure("wall.wood_volume").value
    assert thin.figure("mortar.volume").value < thick.figure("mortar.volume").value
    assert thin.figure("wall.fill_volume").value > thick.figure("wall.fill_volume").value


@settings(max_examples=40, deadline=None)
@given(AREAS, SECTIONS, FRACTION)
def test_every_spread_holds_its_value_and_more_wood_is_the_low_of_mortar(
    areas: list[float], section: WallSection, fraction: float
) -> None:
    wall = reckoned(areas, section, fraction)
    mortar = wall.figure("mortar.volume")
    assert mortar.low == pytest.approx(mortar.value * (1 - fraction - 0.05) / (1 - fraction))
    assert mortar.high == pytest.approx(mortar.value * (1 - fraction + 0.05) / (1 - fraction))
    none = reckoned(areas, section, fraction, spread=0.0).figure("mortar.volume")
    assert (none.low, none.high) == (None, None)
    assert none.value == mortar.value


@settings(max_examples=40, deadline=None)
@given(AREAS, SECTIONS, FRACTION, st.integers(2, 5))
def test_a_wall_built_over_again_takes_as_much_again(
    areas: list[float], section: WallSection, fraction: float, times: int
) -> None:
    once, often = reckoned(areas, section, fraction), reckoned(areas * times, section, fraction)
    for key in ("mortar.volume", "mortar.cement", "mortar.water", "wall.fill_volume", "wall.wood_volume"):
        assert often.figure(key).value == pytest.approx(times * once.figure(key).value, rel=1e-12, abs=1e-12)


@settings(max_examples=40, deadline=None)
@given(AREAS, SECTIONS, FRACTION)
def test_bags_cover_the_mass_and_not_one_more(areas: list[float], section: WallSection, fraction: float) -> None:
    wall = reckoned(areas, section, fraction)
    for key, bag in (("mortar.cement", 25), ("mortar.lime", 20)):
        mass, bags = wall.figure(key).value, wall.figure(f"{key}_bags").value
        assert mass * (1 - 1e-9) <= bags * bag < mass + bag


@settings(max_examples=40, deadline=None)
@given(st.floats(0.8, 6.0), SECTIONS, FRACTION)
def test_area_on_the_centre_line_times_depth_is_the_ring(radius: float, section: WallSection, fraction: float) -> None:
    """A second opinion by shapely: the joint's share of the two bead rings of a round wall one metre high."""
    centre = radius + section.thickness / 2
    p = replace(panel(2 * math.pi * centre), openings_area=0.0)
    quantity = panel_quantity(p, section, fraction)

    def ring(inner: float, depth: float) -> float:
        return Point(0, 0).buffer(inner + depth, 256).area - Point(0, 0).buffer(inner, 256).area

    beads = ring(radius, section.bead) + ring(radius + section.thickness - section.bead, section.bead)
    # Because the rings are polygons of 1024 sides, their area falls short by 6e-6 of itself.
    assert quantity.mortar_volume == pytest.approx((1 - fraction) * beads, rel=2e-5)
    if section.cavity > 0.01:
        cavity = ring(radius + section.bead, section.cavity)
        assert quantity.fill_volume == pytest.approx((1 - fraction) * cavity, rel=2e-5)


@given(st.floats(0.05, 0.4), st.floats(0.01, 0.06), st.floats(0.5, 10.0), st.floats(0.1, 0.6))
def test_the_outer_joint_opens_and_closes_again_on_a_straight_wall(
    log: float, joint: float, radius: float, thickness: float
) -> None:
    outer = outer_joint(log, joint, radius, thickness)
    assert outer > joint
    assert outer_joint(log, joint, 2 * radius, thickness) < outer
    assert outer_joint(log, joint, 1e9, thickness) == pytest.approx(joint, abs=1e-8)
    assert largest_log(joint, outer, radius, thickness) == pytest.approx(log, rel=1e-6)


@given(st.floats(0.05, 0.4), st.floats(0.01, 0.06), st.floats(0.5, 10.0), st.floats(0.1, 0.6))
def test_the_outer_joint_by_the_angle_between_two_log_ends(
    log: float, joint: float, radius: float, thickness: float
) -> None:
    """A second way round: the arc between two neighbouring axes at the outer face, less one log end."""
    angle = (log + joint) / radius
    assert outer_joint(log, joint, radius, thickness) == pytest.approx(angle * (radius + thickness) - log, rel=1e-9)
