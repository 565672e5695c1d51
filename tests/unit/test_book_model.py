"""Does the model in space hold what the plan and the layout say? Read back from the GLB file as a viewer reads it."""

import math
from dataclasses import replace

import numpy as np
import pytest
import trimesh
from shapely import LineString, Point

from cordwright.book.model import write_model
from cordwright.book.model.building import model
from cordwright.project import read
from cordwright.reckon import reckon
from cordwright.wall.faces import faces_of
from cordwright.wall.layout import Placement
from layout_samples import laid, log


@pytest.fixture(scope="module", params=["weaving-studio", "bakehouse", "sauna"])
def building(request, examples):
    project = read(examples[request.param]).project
    return project, reckon(project).plan


def solids(scene, first):
    return [g for name, g in scene.geometry.items() if name.startswith(first)]


def test_the_masonry_is_closed_and_as_large_as_the_net_wall(building):
    project, plan = building
    masonry = solids(model(project.plan, plan), "panel")
    assert all(m.is_watertight for m in masonry)
    wanted = plan.figure("plan.net_wall_area").value * project.plan.section.thickness
    round_wall = any(p.inner_radius is not None for p in plan.panels)
    assert sum(m.volume for m in masonry) == pytest.approx(wanted, rel=2e-3 if round_wall else 1e-9)


def test_the_roof_s_slopes_come_to_the_roof_s_area(building):
    project, plan = building
    if project.plan.roof is None:
        assert solids(model(project.plan, plan), "roof") == []
        return
    (roof,) = solids(model(project.plan, plan), "roof")
    tolerance = 2e-2 if any(p.inner_radius is not None for p in plan.panels) else 1e-6
    assert roof.area == pytest.approx(plan.figure("roof.slope_area").value, rel=tolerance)
    assert np.abs(roof.face_normals[:, 2]) == pytest.approx(math.cos(project.plan.roof.pitch), abs=1e-2)


def test_each_log_end_runs_through_the_wall_where_it_is_laid(building, tmp_path):
    project, plan = building
    panel, face = plan.panels[0], faces_of(plan)[0]
    places = [(0.3, 0.2), (panel.centre_length / 2, 0.25), (panel.centre_length - 0.2, 1.4)]
    ends = [
        Placement(log=log(n, 0.1 + 0.02 * n), x=x, y=y, order=n + 1, supports=("bed",))
        for n, (x, y) in enumerate(places)
    ]
    path = write_model(tmp_path / "building.glb", project.plan, plan, [laid(face, ends)])
    scene = trimesh.load(path)
    inner, centre, outer = (LineString(run) for run in (panel.inner_line, panel.centre_line, panel.outer_line))
    for placed in ends:
        matrix, shape = scene.graph[f"log {placed.log.id}"]
        corners = trimesh.transform_points(scene.geometry[shape].vertices, matrix)
        assert np.ptp(corners[:, 2]) == pytest.approx(placed.log.diameter, abs=1e-6)
        middle = corners.mean(axis=0)
        assert middle[2] == pytest.approx(placed.y, abs=1e-6)
        half = project.plan.section.thickness / 2
        assert inner.distance(Point(middle[:2])) == pytest.approx(half, abs=2e-3)
        assert outer.distance(Point(middle[:2])) == pytest.approx(half, abs=2e-3)
        way = centre.project(Point(middle[:2])) / centre.length
        assert way == pytest.approx(placed.x / panel.centre_length, abs=2e-3)
        assert np.linalg.det(matrix[:3, :3]) > 0


def test_splits_show_their_half_and_quarter_with_the_bark_where_it_faces(building):
    project, plan = building
    face = faces_of(plan)[0]
    half = Placement(log=log(0, 0.2, shape="half"), x=0.5, y=0.5, order=1, supports=("bed",), angle=math.pi / 2)
    quarter = Placement(log=log(1, 0.2, shape="quarter"), x=1.0, y=0.5, order=2, supports=("bed",), angle=0.0)
    scene = model(project.plan, plan, [laid(face, [half, quarter])])
    matrix, shape = scene.graph[f"log {half.log.id}"]
    heights = trimesh.transform_points(scene.geometry[shape].vertices, matrix)[:, 2]
    assert (heights.min(), heights.max()) == (pytest.approx(0.5, abs=1e-9), pytest.approx(0.6, abs=1e-9))
    whole = math.pi / 4
    assert scene.geometry["half"].volume == pytest.approx(whole / 2, rel=2e-2)
    assert scene.geometry["quarter"].volume == pytest.approx(whole / 4, rel=2e-2)


def test_what_is_not_stated_is_left_out(building):
    project, plan = building
    no_frame = replace(project.plan.frame, beam_depth=None, post_width=None)
    bare = replace(project.plan, roof=None, plinth_height=None, frame=no_frame)
    names = set(model(bare, plan).geometry)
    assert names
    assert all(name.startswith("panel") for name in names)
