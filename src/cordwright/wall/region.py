"""Where in a panel may log ends stand: between which edges, around which corners?

A panel may fall apart into regions (a door up to the head); each is laid for itself.
"""

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING, Literal

import numpy as np
from numpy.typing import NDArray

from cordwright.wall.layout import Face

if TYPE_CHECKING:
    from shapely import Polygon
    from shapely.geometry.base import BaseGeometry

Floats = NDArray[np.float64]
EdgeKind = Literal["bed", "post", "frame"]

TOUCH = 1e-6
"""Outlines closer than this [m] are one line: numbers typed in millimetres meet exactly, turned ones nearly."""

LEAST_REGION = 1e-4
"""A left-over smaller than this [m2] is no region; no log end fits."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Region:
    """One connected part of a panel: edges (e, 7) and corners that stick into it (c, 2), as the kernels take them.

    `kinds` names each edge as "bed", "post" (also the head) or "frame"; `area` [m2] and `perimeter` [m] are its own.
    """

    shape: "Polygon"
    edges: Floats
    corners: Floats
    kinds: tuple[EdgeKind, ...]
    corner_kinds: tuple[EdgeKind, ...]

    @property
    def area(self) -> float:
        """Area between all edges [m2]."""
        return float(self.shape.area)

    @property
    def perimeter(self) -> float:
        """Length of all edges, those of openings included [m]."""
        return float(self.shape.length)


def net_shape(face: Face, top: float = math.inf) -> "BaseGeometry":
    """Give the face less its openings, up to a height [m]."""
    from shapely import Polygon, box, set_precision, union_all

    shape: BaseGeometry = Polygon(face.outline).buffer(0)
    if face.openings:
        shape = shape.difference(union_all([Polygon(hole.outline).buffer(0) for hole in face.openings]))
    if math.isfinite(top):
        left, bottom, right, _ = Polygon(face.outline).bounds
        shape = shape.intersection(box(left - 1.0, min(bottom, top) - 1.0, right + 1.0, top))
    return set_precision(shape, TOUCH)


def regions_of(face: Face, top: float = math.inf) -> tuple[Region, ...]:
    """Give the connected regions of a face up to a height [m], from left to right."""
    parts = [p for p in polygons(net_shape(face, top)) if p.area > LEAST_REGION]
    return tuple(region_of(p, face) for p in sorted(parts, key=lambda p: p.bounds))


def polygons(shape: "BaseGeometry") -> "list[Polygon]":
    """Give the polygons a shape consists of."""
    from shapely import Polygon, get_parts

    return [part for part in get_parts(shape) if isinstance(part, Polygon) and not part.is_empty]


def region_of(shape: "Polygon", face: Face) -> Region:
    """Read one connected shape as edges and corners."""
    from shapely.geometry.polygon import orient

    rings = [np.asarray(r.coords)[:-1] for r in (orient(shape).exterior, *orient(shape).interiors)]
    edges = np.array([edge for ring in rings for edge in _edges(ring)])
    kinds = _edge_kinds(edges, face)
    corners = list(_corners(rings))
    return Region(
        shape=shape,
        edges=edges,
        corners=np.array([c for c, _ in corners]).reshape(-1, 2),
        kinds=kinds,
        corner_kinds=tuple("frame" if kinds[n] == "frame" else "post" for _, n in corners),
    )


def _edges(ring: Floats) -> Iterator[tuple[float, ...]]:
    for (ax, ay), (bx, by) in pairwise([*ring.tolist(), ring[0].tolist()]):
        length = math.hypot(bx - ax, by - ay)
        tx, ty = (bx - ax) / length, (by - ay) / length
        yield ax, ay, tx, ty, length, -ty, tx


def _corners(rings: Sequence[Floats]) -> Iterator[tuple[tuple[float, float], int]]:
    """Corners at which the edge turns away from the wall, with the number of the edge that starts there."""
    first = 0
    for ring in rings:
        edges = list(_edges(ring))
        for n, edge in enumerate(edges):
            before = edges[n - 1]
            turn = math.atan2(before[2] * edge[3] - before[3] * edge[2], before[2] * edge[2] + before[3] * edge[3])
            if turn < 0.0:
                yield (edge[0], edge[1]), first + n
        first += len(edges)


def _edge_kinds(edges: Floats, face: Face) -> tuple[EdgeKind, ...]:
    from shapely import Polygon, distance, points

    frames = [Polygon(hole.outline).buffer(0).boundary for hole in face.openings]
    middles = points(edges[:, 0] + edges[:, 2] * edges[:, 4] / 2, edges[:, 1] + edges[:, 3] * edges[:, 4] / 2)
    gaps = [distance(frame, middles) for frame in frames]
    near = np.min(gaps, axis=0) < 10 * TOUCH if gaps else np.zeros(len(edges), bool)
    return tuple(_kind(bool(n), up) for n, up in zip(near, edges[:, 6].tolist(), strict=True))


def _kind(at_frame: bool, up: float) -> EdgeKind:
    if at_frame:
        return "frame"
    return "bed" if up > 1.0 - 1e-9 else "post"


def contains(region: Region, x: Floats, y: Floats) -> NDArray[np.bool_]:
    """Say for each point whether it lies in the region; arrays of one shape."""
    from shapely import contains_xy, prepare

    prepare(region.shape)
    inside: NDArray[np.bool_] = contains_xy(region.shape, x, y)
    return inside


def room(region: Region, discs: Iterable[tuple[float, float, float]], least: float, inset: float) -> "BaseGeometry":
    """Give the part of a region that discs of some radius can reach, clear of discs that stand still.

    Args:
        region: where to look.
        discs: centre and inflated radius of what stands still [m].
        least: inflated radius of a small log end [m].
        inset: what the edge keeps beyond half a joint [m]; may be negative.
    """
    from shapely import buffer, points, union_all

    still = np.array(list(discs)).reshape(-1, 3)
    shape = region.shape.buffer(-inset) if inset else region.shape
    if len(still):
        shape = shape.difference(union_all(buffer(points(still[:, 0], still[:, 1]), still[:, 2], quad_segs=16)))
    return shape.buffer(-least).buffer(least, quad_segs=16)
