"""The wall's heat by hand's method and by round cells, its spread, what drives it, and what must be stated first."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from cordwright.base import InputError, OutOfRangeError
from cordwright.case import Project
from cordwright.heat import WallHeatInput, find_wall_heat_faults, reckon_wall_heat, wall_materials
from cordwright.heat.conductivity import (
    WallMaterials,
    air_layer,
    empty_cavity,
    known_fills,
    mortar_conductivity,
    row,
    with_inclusions,
)
from cordwright.heat.drivers import drivers
from cordwright.heat.section import combined, section_of, wall_section
from cordwright.heat.unit_cell import half_joint, size_classes, unit_cell
from cordwright.mortar import Spread
from cordwright.plan.inputs import WallSection
from cordwright.project import read
from cordwright.reckon import Reckoning, reckon
from heat_samples import materials, named

EXAMPLE = Path(__file__).resolve().parents[2] / "examples" / "weaving-studio"
STORY = WallMaterials(along=named(0.215), across=named(0.119), mortar=named(0.7), fill=named(0.055))
SECTION = WallSection(log_end_length=0.35, bead=0.10)
SIZES = np.linspace(0.10, 0.20, 41)


@pytest.fixture(scope="module")
def studio() -> tuple[Project, Reckoning]:
    project = read(EXAMPLE).project
    assert project is not None
    return project, reckon(project)


def test_a_350_wall_with_beads_of_100() -> None:
    """The wall that the owners' story names: .52 (.46 to .61), resolved cell .55."""
    found = section_of(SECTION, 0.6, STORY)
    assert found.u_value == pytest.approx(0.52, abs=0.005)
    assert found.u_lower == pytest.approx(0.46, abs=0.005)
    assert found.u_upper == pytest.approx(0.61, abs=0.015)
    assert found.valid
    assert unit_cell(SECTION, 0.6, STORY, SIZES).u_value == pytest.approx(0.55, abs=0.005)


@pytest.mark.parametrize(
    ("length", "bead", "printed"),
    [(250, 90, 0.81), (300, 100, 0.67), (350, 100, 0.55), (400, 100, 0.47), (450, 100, 0.41)],
)
def test_thicker_walls(length: float, bead: float, printed: float) -> None:
    """The table of wall builds that owners compare, within a twentieth."""
    section = WallSection(log_end_length=length / 1000, bead=bead / 1000)
    assert unit_cell(section, 0.6, STORY, SIZES).u_value == pytest.approx(printed, rel=0.05)


def test_a_solid_joint_loses_far_more() -> None:
    solid = WallSection(log_end_length=0.35, bead=0.175)
    assert unit_cell(solid, 0.6, STORY, SIZES).u_value == pytest.approx(0.95, rel=0.2)
    assert section_of(solid, 0.6, replace(STORY, fill=None)).u_value > 1.3 * section_of(SECTION, 0.6, STORY).u_value


def test_more_wood_is_not_warmer_where_the_log_is_the_weaker_path() -> None:
    assert unit_cell(SECTION, 0.7, STORY, SIZES).u_value > unit_cell(SECTION, 0.5, STORY, SIZES).u_value


def test_bounds_too_far_apart_give_no_mean() -> None:
    poor = replace(STORY, mortar=named(2.0), along=named(0.20), across=named(0.11), fill=named(0.02))
    fraction = Spread.exact(0.5)
    found = reckon_wall_heat(SECTION, fraction, poor, (), SIZES, None)
    assert found.section is not None
    assert not found.section.middle.valid
    mean = found.figure("wall.u_value")
    assert mean.value is None
    assert "1.5" in mean.missing[0]
    assert found.checks[0].verdict == "short"
    low, cell, high = (found.figure(f"wall.u_{n}").value for n in ("lower_bound", "cell", "upper_bound"))
    assert low < cell < high  # type: ignore[operator]


def test_every_figure_of_the_studio_has_a_band(studio: tuple[Project, Reckoning]) -> None:
    _, reckoning = studio
    for key in ("wall.u_value", "wall.u_lower_bound", "wall.u_upper_bound", "wall.u_cell"):
        figure = reckoning.figure(key)
        assert isinstance(figure.value, float)
        assert figure.low < figure.value < figure.high  # type: ignore[operator]
        assert figure.sources
        assert figure.steps
    assert reckoning.figure("wall.u_resolved").value is None
    assert 0.4 < reckoning.figure("wall.u_value").value < 0.55  # type: ignore[operator]


def test_the_band_widens_with_the_wood_fraction(studio: tuple[Project, Reckoning]) -> None:
    found = wall_section(SECTION, 0.6, STORY)
    assert found.u_value[0] == found.u_value[1] == found.u_value[2]
    exact = reckon_wall_heat(SECTION, Spread.exact(0.6), STORY, (), SIZES, None).figure("wall.u_cell")
    loose = reckon_wall_heat(SECTION, Spread(0.55, 0.6, 0.65), STORY, (), SIZES, None).figure("wall.u_cell")
    assert exact.low == exact.value == exact.high
    assert loose.low < exact.value < loose.high  # type: ignore[operator]


def test_what_drives_the_loss(studio: tuple[Project, Reckoning]) -> None:
    heat = studio[1].wall_heat
    assert heat.materials is not None
    found = drivers(studio[0].plan.section, heat.wood_fraction, heat.materials, heat.diameters)
    assert found.unsure[0].cause == "grain"
    assert found.chosen[0].cause == "length"
    assert found.log_path > found.joint_path
    assert drivers(SECTION, 0.6, STORY, np.zeros(0)).unsure == ()


def test_what_must_be_stated_first(studio: tuple[Project, Reckoning]) -> None:
    project, reckoning = studio
    stock, mix, section = reckoning.timber.stock, reckoning.mix, project.plan.section
    known, missing = wall_materials(WallHeatInput(), section, project.timber, stock, mix)
    assert known is None
    assert "what fills the cavity" in missing[0]
    dry = replace(project.timber, service_moisture=None)
    _, missing = wall_materials(WallHeatInput(fill="perlite"), section, dry, stock, mix)
    assert missing == ("the moisture of the wood in service (stock.service_moisture)",)
    own = WallHeatInput(fill="none", along_grain=0.25, across_grain=0.12, mortar=0.9)
    known, missing = wall_materials(own, section, dry, stock, None)
    assert missing == ()
    assert known is not None
    assert (known.along.value, known.across.value, known.mortar.value) == (0.25, 0.12, 0.9)
    assert known.fill is not None
    assert known.fill.value == pytest.approx(0.15 / 0.18)
    wet = replace(project.timber, service_moisture=0.4)
    _, missing = wall_materials(WallHeatInput(fill="perlite"), section, wet, stock, mix)
    assert "is known over" in missing[0]
    unknown = reckon_wall_heat(section, Spread.exact(0.6), None, missing, SIZES, None)
    assert {f.value for f in unknown.figures} == {None}
    assert unknown.checks[0].verdict == "not judged"


def test_mortar_with_fibre_leads_less(studio: tuple[Project, Reckoning]) -> None:
    plain, fibred = mortar_conductivity(None), mortar_conductivity(studio[1].mix)
    assert fibred.value < plain.value
    assert with_inclusions(0.84, 0.84, 0.3) == pytest.approx(0.84)
    assert with_inclusions(0.84, 0.1, 1.0) == pytest.approx(0.1)


def test_air_layers_end_where_their_source_ends() -> None:
    with pytest.raises(OutOfRangeError, match="air layer"):
        air_layer(0.35)
    assert air_layer(0.006) == pytest.approx(0.12)
    assert empty_cavity(0.1).value == pytest.approx(0.1 / 0.18)


def test_every_row_of_the_table_holds_its_value() -> None:
    for fill in known_fills():
        found = row("fill", fill)
        assert 0.02 < found.low <= found.value <= found.high < 0.2
        assert found.heat_capacity > 0


def test_faults_of_what_is_stated() -> None:
    def keys(section: WallSection = SECTION, **stated: object) -> list[str]:
        return [p.field for p in find_wall_heat_faults(WallHeatInput(**stated), section)]  # type: ignore[arg-type]

    assert keys() == []
    assert keys(along_grain=0.22, across_grain=0.12, fill="sawdust", mortar=0.8) == []
    assert keys(along_grain=22.0) == ["wall.heat.along_grain"]
    assert keys(along_grain=0.10, across_grain=0.2) == ["wall.heat.along_grain"]
    assert keys(fill="feathers") == ["wall.heat.fill"]
    assert keys(WallSection(log_end_length=0.3, bead=0.15), fill="sawdust") == ["wall.heat.fill"]
    assert keys(wire_diameter=0.004) == ["wall.heat.wire_spacing"]
    assert keys(wire_spacing=0.4) == ["wall.heat.wire_diameter"]
    assert keys(wire_diameter=0.2, wire_spacing=0.01) == ["wall.heat.wire_diameter", "wall.heat.wire_spacing"]


def test_refusals() -> None:
    with pytest.raises(InputError, match="sum to 1"):
        combined([0.1], [(0.5, (1.0,)), (0.4, (1.0,))])
    with pytest.raises(InputError, match="above 0"):
        combined([0.1], [(1.0, (0.0,))])
    with pytest.raises(InputError, match="wood fraction"):
        half_joint(SIZES, np.full(41, 1 / 41), 1.0)
    with pytest.raises(InputError, match="diameter"):
        unit_cell(SECTION, 0.6, materials(), np.zeros(0))


def test_sizes_stand_for_the_stock() -> None:
    sizes, shares = size_classes(SIZES)
    assert shares.sum() == pytest.approx(1.0)
    assert float(shares @ sizes) == pytest.approx(SIZES.mean(), rel=1e-3)
    alike, one = size_classes(np.full(7, 0.15))
    assert alike.tolist() == [0.15]
    assert one.tolist() == [1.0]
    joint = half_joint(sizes, shares, 0.6)
    face = float(shares @ (sizes / 2 + joint) ** 2)
    assert float(shares @ (sizes / 2) ** 2) / face == pytest.approx(0.6)
