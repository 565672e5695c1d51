"""A laid panel as a body for heat, the study of all panels, and what it refuses."""

from dataclasses import replace
from functools import cache
from itertools import cycle
from pathlib import Path

import numpy as np
import pytest

from cordwright.base import InputError, StoppedError
from cordwright.case import Project
from cordwright.heat import HeatStudy, LaidWall
from cordwright.heat.field import field_of
from cordwright.heat.grid import edges_through, graded
from cordwright.heat.laid_body import split_outline
from cordwright.heat.panel import Films, cut, planned_shape
from cordwright.heat.reduction import ReducedWall, reduce_layers
from cordwright.heat.solve import estimate, refuse_too_large, solve_panel, solve_wall
from cordwright.plan.results import Plan
from cordwright.project import read
from cordwright.project.codec import decode, encode
from cordwright.reckon import Reckoning, laid_wall, reckon
from cordwright.studies import Studies
from cordwright.timber import Timber
from cordwright.wall.laid_study import LayoutStudy
from cordwright.wall.layout import Log, Placement
from heat_samples import SECTION, panel

EXAMPLE = Path(__file__).resolve().parents[2] / "examples" / "weaving-studio"


class Rows(Studies):
    """Every panel laid in plain rows of alike logs, which is quick; heat solved on a coarse grid."""

    def layout(self, _project: Project, plan: Plan, timber: Timber) -> LayoutStudy:
        from cordwright.wall.faces import faces_of
        from cordwright.wall.layout import LayoutReport, PanelLayout

        stock = cycle(zip(timber.stock.id, timber.stock.stem, strict=True))
        report = LayoutReport(**dict.fromkeys(LayoutReport.__slots__, 0))
        panels = []
        for face in faces_of(plan):
            width, height = (max(p[n] for p in face.outline) for n in (0, 1))
            inside = [
                (x, y)
                for y in np.arange(0.09, height - 0.08, 0.17).tolist()
                for x in np.arange(0.09, width - 0.08, 0.17).tolist()
                if not any(_near(hole.outline, x, y) for hole in face.openings)
            ]
            placed = tuple(
                Placement(
                    log=Log(id=(log := next(stock))[0], stem=log[1], diameter=0.14), x=x, y=y, order=n, supports=()
                )
                for n, (x, y) in enumerate(inside, start=1)
            )
            panels.append(PanelLayout(face=face, placements=placed, fillers=(), report=report))
        return LayoutStudy(panels=tuple(panels), stock=(), unused=())

    def wall_heat(self, wall: LaidWall) -> HeatStudy:
        return solve_wall(wall, pitch=0.04)


def _near(outline: tuple[tuple[float, float], ...], x: float, y: float) -> bool:
    xs, ys = [p[0] for p in outline], [p[1] for p in outline]
    return min(xs) - 0.08 < x < max(xs) + 0.08 and min(ys) - 0.08 < y < max(ys) + 0.08


@cache
def _studio() -> tuple[Project, Reckoning]:
    project = read(EXAMPLE).project
    assert project is not None
    heat = replace(project.heat.wall, frame_timber=0.05, wire_diameter=0.004, wire_spacing=0.6)
    project = replace(project, heat=replace(project.heat, wall=heat))
    return project, reckon(project, studies=Rows())


def test_the_net_face_is_the_plans() -> None:
    _, reckoning = _studio()
    study = reckoning.wall_heat.study
    assert study is not None
    by_name = {p.name: p for p in reckoning.plan.panels}
    for solved in study.panels:
        assert solved.area == pytest.approx(by_name[solved.name].net_area, rel=1e-6)
        assert solved.low < solved.flow < solved.high
        assert 0 < solved.flow_timber < 0.4 * solved.flow


def test_resolved_figures() -> None:
    _, reckoning = _studio()
    resolved = reckoning.figure("wall.u_resolved")
    study = reckoning.wall_heat.study
    assert study is not None
    assert resolved.value == pytest.approx(sum(p.u_value * p.area for p in study.panels) / study.area)
    assert resolved.low < resolved.value < resolved.high  # type: ignore[operator]
    name, spot = study.coldest()
    factor = reckoning.figure("wall.temperature_factor")
    assert factor.value == spot.factor
    assert name in factor.steps[0].formula
    assert 0.5 < spot.factor < 1


def test_posts_lintels_and_frames_stand_in_the_body() -> None:
    project, reckoning = _studio()
    wall = laid_wall(project, reckoning)
    assert wall is not None
    south = wall.body(wall.laid[0], 0.02)
    parts = [b.part for b in south.boxes]
    assert parts.count("lintel") == 2
    assert parts.count("void") == 2
    assert parts.count("wire") >= 4
    assert south.x0 == pytest.approx(-0.1)
    cells = cut(south, 0.02)
    assert cells.kz[:, cells.net == 0].max() > 0
    assert cells.kz.min() == 0
    # A post 200 mm deep leaves 150 mm before it, which is bead and fill.
    assert {round(float(d), 6) for d in np.cumsum(cells.thick)} >= {0.1, 0.15, 0.25, 0.35}


def test_a_part_not_laid_is_left_out() -> None:
    project, reckoning = _studio()
    wall = laid_wall(project, reckoning)
    assert wall is not None
    half = replace(wall.laid[3], closed=0.5)
    low, high = wall.body(half, 0.02).height
    assert high - low == pytest.approx(0.5 * 2.25, abs=0.01)


def test_kept_and_read_again() -> None:
    study = _studio()[1].wall_heat.study
    assert study is not None
    again = decode(HeatStudy, encode(study))
    assert again == study
    flux = study.panels[0].surface.flux.values()
    assert np.isnan(flux).any()
    assert np.nanmin(flux) > 0


def test_a_map_is_kept_true() -> None:
    values = np.array([[0.2, np.nan, 0.9], [0.5, 0.6, 0.7]])
    assert field_of(values).values() == pytest.approx(values, abs=1e-5, nan_ok=True)
    assert np.isnan(field_of(np.full((2, 2), np.nan)).values()).all()


def test_ceilings_are_refused_with_what_would_do() -> None:
    body = panel(3.0, 3.0)
    wanted = estimate(body, 0.005)
    assert wanted.shape == planned_shape(body, 0.005, 0.0025)
    assert wanted.memory > 1e8
    assert wanted.seconds > 0
    with pytest.raises(InputError, match=r"over the 4 million allowed; a grid of \d+ mm"):
        refuse_too_large(body, 0.005, 4_000_000)
    refuse_too_large(body, 0.02)


def test_a_study_can_be_stopped_and_tells_how_far_it_is() -> None:
    told: list[float] = []
    with pytest.raises(StoppedError, match="stopped"):
        solve_panel(panel(), pitch=0.03, cancelled=lambda: len(told) > 3, progress=lambda share, _: told.append(share))
    assert told == sorted(told)
    assert 0 < told[-1] < 1


def test_nothing_to_solve() -> None:
    with pytest.raises(InputError, match="breadth"):
        cut(panel(), 0.0)
    with pytest.raises(InputError, match="holds no heat"):
        reduce_layers([0.1], [1.0], [0.0], Films(outside=0.04, inside=0.13))


def test_plain_layers_of_eight_states() -> None:
    wall = reduce_layers([0.1, 0.2], [0.8, 0.05], [1.8e6, 1e5], Films(outside=0.04, inside=0.13))
    assert isinstance(wall, ReducedWall)
    assert wall.steady() == pytest.approx(1 / (0.17 + 0.1 / 0.8 + 0.2 / 0.05), rel=1e-9)


def test_cells_through_the_wall() -> None:
    thick, layer = graded([0.09, 0.22, 0.09], 0.005)
    assert thick.sum() == pytest.approx(0.40)
    assert thick[layer == 1].sum() == pytest.approx(0.22)
    assert thick.max() / thick.min() < 10
    assert graded([0.004], 0.005)[0].size == 2
    assert graded([0.2], 0.005, 0.01)[0].max() < 0.0115


def test_edges_follow_boxes_without_slivers() -> None:
    edges = edges_through(1.0, 0.02, [0.2, 0.2005, 0.505, 5.0, -1.0])
    assert np.abs(edges - 0.505).min() < 1e-12
    assert np.abs(edges - 0.20025).min() < 1e-12
    assert np.diff(edges).max() <= 0.02 + 1e-12
    assert np.diff(edges).min() > 0.01


@pytest.mark.parametrize(("shape", "share"), [("half", 0.5), ("quarter", 0.25)])
def test_splits_have_their_own_area(shape: str, share: float) -> None:
    from shapely import Polygon

    log = Log(id="a", stem="s", diameter=0.2, shape=shape)  # type: ignore[arg-type]
    placed = Placement(log=log, x=0.3, y=0.2, order=1, supports=(), angle=0.7)
    assert Polygon(split_outline(placed)).area == pytest.approx(share * np.pi * 0.01)


def test_section_of_the_samples() -> None:
    assert SECTION.cavity == pytest.approx(0.22)
