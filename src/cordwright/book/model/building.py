"""The building as solids: plinth, posts, ring beam, walls with their log ends, roof.

What the file does not state is left out. Metres, z up; colours tell materials apart and mean nothing.
"""

import re
from collections.abc import Iterator, Sequence
from itertools import pairwise
from pathlib import Path
from typing import TYPE_CHECKING, Final

import numpy as np

from cordwright.book.model.roofs import roof_faces
from cordwright.book.model.walls import SIDES, log_places, panel_solids, ring, turn_at
from cordwright.plan.inputs import PlanInput
from cordwright.plan.results import Plan
from cordwright.wall.layout import PanelLayout

if TYPE_CHECKING:
    from trimesh import Scene, Trimesh
    from trimesh.visual import TextureVisuals

Colour = tuple[int, int, int, int]
COLOURS: Final[dict[str, Colour]] = {
    "mortar": (205, 199, 184, 255),
    "log": (211, 185, 131, 255),
    "timber": (150, 116, 78, 255),
    "stone": (140, 138, 132, 255),
    "roof": (96, 92, 86, 120),
}


def write_model(path: Path, stated: PlanInput, plan: Plan, layouts: Sequence[PanelLayout] = ()) -> Path:
    """Write the building as one GLB file.

    Args:
        path: the file, ending in .glb.
        stated: the plan as stated, for frame, plinth and roof.
        plan: the plan worked out.
        layouts: laid panels, whose log ends stand in the model; none shows plain masonry.
    """
    path.write_bytes(model(stated, plan, layouts).export(file_type="glb"))
    return path


def model(stated: PlanInput, plan: Plan, layouts: Sequence[PanelLayout] = ()) -> "Scene":
    """Give the building's solids as one scene, each named after what it is."""
    from trimesh import Scene

    scene = Scene()
    for panel in plan.panels:
        for n, solid in enumerate(panel_solids(panel, stated.section.thickness), 1):
            _add(scene, solid, "mortar", f"panel {panel.name} {n}")
    _add_logs(scene, stated, plan, layouts)
    for n, solid in enumerate(_frame(stated, plan), 1):
        _add(scene, solid, "timber", f"frame {n}")
    for solid in _plinth(stated, plan):
        _add(scene, solid, "stone", "plinth")
    for solid in _roof(stated, plan):
        _add(scene, solid, "roof", "roof")
    return scene


def _add(scene: "Scene", solid: "Trimesh", material: str, name: str) -> None:
    solid.visual = _paint(material)
    plain = plain_name(name)
    scene.add_geometry(solid, node_name=plain, geom_name=plain)


def plain_name(name: str) -> str:
    """A name as a model may carry it: the library reads braces and the like as instructions."""
    return re.sub(r"[^\w .,'()+-]", "_", name)


def _paint(material: str) -> "TextureVisuals":
    from trimesh.visual import TextureVisuals
    from trimesh.visual.material import PBRMaterial

    colour = COLOURS[material]
    mode = "BLEND" if colour[3] < 255 else "OPAQUE"
    paint = PBRMaterial(name=material, baseColorFactor=colour, roughnessFactor=0.9, metallicFactor=0.0, alphaMode=mode)
    return TextureVisuals(material=paint)


def _add_logs(scene: "Scene", stated: PlanInput, plan: Plan, layouts: Sequence[PanelLayout]) -> None:
    """One log of each shape is stored; every log end is that one, set in its place."""
    panels = {panel.name: panel for panel in plan.panels}
    for layout in layouts:
        for placed, matrix in log_places(layout, panels[layout.face.name], stated.section):
            shape = placed.log.shape
            if shape not in scene.geometry:
                unit = _unit_log(shape)
                unit.visual = _paint("log")
                scene.geometry[shape] = unit
            name = plain_name(f"log {placed.log.id}")
            scene.graph.update(frame_to=name, matrix=_turned(matrix, placed.angle), geometry=shape)


def _unit_log(shape: str) -> "Trimesh":
    """A log of unit parent diameter and unit length about the origin; a split's bark faces along x."""
    from shapely import Polygon
    from trimesh.creation import extrude_polygon

    spread = {"round": np.pi, "half": np.pi / 2, "quarter": np.pi / 4}[shape]
    bark = np.linspace(-spread, spread, SIDES + 1)
    rim = [(0.5 * np.cos(a), 0.5 * np.sin(a)) for a in bark]
    outline = Polygon(rim[:-1] if shape == "round" else [(0.0, 0.0), *rim])
    log = extrude_polygon(outline, 1.0)
    log.apply_translation((0.0, 0.0, -0.5))
    return log


def _turned(matrix: "np.ndarray[tuple[int, int], np.dtype[np.float64]]", angle: float) -> object:
    turn = np.eye(4)
    turn[:2, :2] = ((np.cos(angle), -np.sin(angle)), (np.sin(angle), np.cos(angle)))
    return matrix @ turn


def _frame(stated: PlanInput, plan: Plan) -> "Iterator[Trimesh]":
    """Posts up to the wall head, and the ring beam on them along the centre line."""
    from shapely import Polygon, box
    from shapely.affinity import rotate
    from trimesh.creation import extrude_polygon

    frame = stated.frame
    if frame.post_width and frame.post_depth:
        for x, y in plan.posts:
            post = box(
                x - frame.post_width / 2, y - frame.post_depth / 2, x + frame.post_width / 2, y + frame.post_depth / 2
            )
            yield extrude_polygon(rotate(post, turn_at(plan, (x, y))), stated.height)
    if frame.beam_depth and frame.post_depth:
        beam = Polygon(plan.centre_face).exterior.buffer(frame.post_depth / 2, join_style="mitre")
        solid = extrude_polygon(beam, frame.beam_depth)
        solid.apply_translation((0.0, 0.0, stated.height + (stated.wall_head_gap or 0.0)))
        yield solid


def _plinth(stated: PlanInput, plan: Plan) -> "Iterator[Trimesh]":
    from trimesh.creation import extrude_polygon

    if stated.plinth_height and stated.plinth_width:
        base = ring(plan.centre_face).exterior.buffer(stated.plinth_width / 2, join_style="mitre")
        solid = extrude_polygon(base, stated.plinth_height)
        solid.apply_translation((0.0, 0.0, -stated.plinth_height))
        yield solid


def _roof(stated: PlanInput, plan: Plan) -> "Iterator[Trimesh]":
    """The roof's slopes as one thin skin over the eaves; a form that is not worked out has none."""
    from trimesh import Trimesh

    if stated.roof is None:
        return
    head = stated.height + (stated.wall_head_gap or 0.0) + (stated.frame.beam_depth or 0.0)
    corners: list[tuple[float, float, float]] = []
    faces: list[tuple[int, int, int]] = []
    for slope in roof_faces(stated.roof, plan, head):
        first = len(corners)
        corners += slope
        faces += [(first, first + a, first + b) for a, b in pairwise(range(1, len(slope)))]
    if faces:
        yield Trimesh(corners, faces, process=False)
