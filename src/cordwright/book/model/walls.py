"""Which solids make the wall? Each panel between its two faces, and each log end standing in it."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from cordwright.plan.inputs import Point, WallSection
from cordwright.plan.results import Panel, Plan
from cordwright.wall.layout import PanelLayout, Placement

if TYPE_CHECKING:
    from shapely import Polygon
    from trimesh import Trimesh

Floats = NDArray[np.float64]

SIDES = 20
"""Corners of a log end's round face in the model."""

SHOWN_PROUD = 0.003
"""Log ends that end flush with the mortar stand out so far in the model [m], so that they show in the mortar."""

LEAST_PIECE = 1e-9
"""Slivers smaller than this are no part of a panel [m2]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Bent:
    """A panel's place on the plan: from along its centre line and across the wall to the plan [m].

    `stations`: where its centre line turns, from the left [m]; `centre`: the points there; `outward`: the way out of
    the wall there, both of shape (n, 2).
    """

    stations: Floats
    centre: Floats
    outward: Floats

    def place(self, along: Floats, across: Floats) -> Floats:
        """Points on the plan, shape (n, 2); `across` counts from the centre line outward [m]."""
        foot, way = (
            np.column_stack([np.interp(along, self.stations, rows[:, k]) for k in (0, 1)])
            for rows in (self.centre, self.outward)
        )
        placed: Floats = foot + across[:, None] * way / np.hypot(*way.T)[:, None]
        return placed


def bent(panel: Panel) -> Bent:
    """Tell where a panel stands on the plan."""
    centre = np.asarray(panel.centre_line)
    steps = np.diff(centre, axis=0)
    lengths = np.hypot(*steps.T)
    out = np.column_stack((-steps[:, 1], steps[:, 0])) / lengths[:, None]
    way = np.concatenate(([0.0], np.cumsum(lengths)))
    return Bent(
        # Chords are a little shorter than the curve they stand for; the panel's own length is exact.
        stations=way * panel.centre_length / way[-1],
        centre=centre,
        outward=np.vstack((out[:1], (out[:-1] + out[1:]) / 2, out[-1:])),
    )


def turn_at(plan: Plan, at: Point) -> float:
    """The direction of the wall at a post, between its two sides where it stands at a corner [deg]."""
    face = np.asarray(plan.centre_face)
    near = int(np.argmin(np.hypot(*(face - at).T)))
    along = face[(near + 1) % len(face)] - face[near - 1]
    return float(np.degrees(np.arctan2(along[1], along[0])))


def panel_solids(panel: Panel, thickness: float) -> "Iterator[Trimesh]":
    """Give the masonry of a panel as closed solids, one for each straight stretch; thickness face to face [m]."""
    from shapely import Polygon

    where = bent(panel)
    face = Polygon(panel.outline, [])
    for placed in panel.openings:
        face = face.difference(Polygon(placed.outline))
    for piece in _strips(face, where.stations):
        yield _extruded(piece, where, thickness)


def _strips(face: "Polygon", stations: Floats) -> "Iterator[Polygon]":
    from shapely import Polygon, box, get_parts

    _, low, _, high = face.bounds
    for left, right in pairwise(stations):
        for part in get_parts(face.intersection(box(left, low, right, high))):
            if isinstance(part, Polygon) and part.area > LEAST_PIECE:
                yield part


def _extruded(piece: "Polygon", where: Bent, thickness: float) -> "Trimesh":
    from trimesh.creation import extrude_polygon

    solid = extrude_polygon(piece, 1.0)
    along, up, across = np.asarray(solid.vertices).T
    plan = where.place(along, (across - 0.5) * thickness)
    solid.vertices = np.column_stack((plan, up))
    if solid.volume < 0:
        solid.invert()
    return solid


def log_places(layout: PanelLayout, panel: Panel, section: WallSection) -> Iterator[tuple[Placement, Floats]]:
    """Give for each log end the matrix that brings a log of unit diameter and length into its place.

    Args:
        layout: the laid panel.
        panel: the panel on the plan.
        section: the wall's section, for the length of the log ends.
    """
    where = bent(panel)
    for placed in layout.placements:
        ends = where.place(np.array([placed.x, placed.x]), np.array([-0.5, 0.5]))
        yield placed, _matrix(placed, ends, section)


def _matrix(placed: Placement, ends: Floats, section: WallSection) -> Floats:
    """Lay the unit log, which lies along z with its bark's zero toward x, through the wall from face to face."""
    outward = (ends[1] - ends[0]) / np.hypot(*(ends[1] - ends[0]))
    right = np.array([outward[1], -outward[0]])
    length = section.thickness + 2 * max(section.proud, SHOWN_PROUD)
    matrix = np.zeros((4, 4))
    matrix[3, 3] = 1.0
    matrix[:2, 0] = right * placed.log.diameter
    matrix[2, 1] = placed.log.diameter
    # Right, up and inward make a right-handed frame; outward would mirror the log.
    matrix[:2, 2] = -outward * length
    matrix[:2, 3] = ends.mean(axis=0)
    matrix[2, 3] = placed.y
    return matrix


def ring(points: Sequence[Point]) -> "Polygon":
    """Give a closed run of points as a polygon."""
    from shapely import Polygon

    return Polygon(points)
