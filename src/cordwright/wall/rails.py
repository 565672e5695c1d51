"""Along which edges of a panel do splits stand flat, and how near to the ends of each?

A half on a rail has its parent's centre on the line that runs an edge joint inside an edge; near the end of the edge it
stops where its flat would leave the edge, or where it would come nearer than an edge joint to the next one.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from cordwright.wall.layout import Face
from cordwright.wall.region import TOUCH, Floats, Region

SQUARE = math.radians(0.5)
"""Two edges this near to a right angle make a square corner: a quarter's flats lie on both."""

REAL = 1e-4
"""An edge farther than this [m] from the panel's outline and frames is only the height up to which it is laid."""

Room = tuple[float, float]
"""What a split keeps free at an end of its rail: share of its radius, and a length more [m]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Rail:
    """One edge along which splits may lie flat, with its neighbours and the corners that stick in at its ends (or -1).

    `start_angle`, `end_angle`: inside the wall, between this edge and the next one [rad].
    """

    edge: int
    before: int
    after: int
    start_angle: float
    end_angle: float
    start_corner: int
    end_corner: int
    row: tuple[float, ...]
    joint: float

    @property
    def length(self) -> float:
        """Length of the edge [m]."""
        return self.row[4]

    @property
    def tangent(self) -> tuple[float, float]:
        """The way along the edge, the wall to the left."""
        return self.row[2], self.row[3]

    @property
    def facing(self) -> float:
        """The way the bark of a half faces: into the wall [rad]."""
        return math.atan2(self.row[6], self.row[5])

    @property
    def origin(self) -> tuple[float, float]:
        """Where the rail starts: an edge joint inside the start of the edge [m]."""
        return self.row[0] + self.joint * self.row[5], self.row[1] + self.joint * self.row[6]

    def at(self, along: float) -> tuple[float, float]:
        """The place so far along the rail [m]."""
        (x, y), (tx, ty) = self.origin, self.tangent
        return x + along * tx, y + along * ty

    def ends(self, upright: int = 0) -> tuple[Room, Room]:
        """What a split keeps free at both ends: a half, or a quarter whose upright flat looks back (-1) or on (1)."""
        start = tip_room(self.start_angle, self.joint) if upright < 0 else flat_room(self.start_angle, self.joint)
        end = tip_room(self.end_angle, self.joint) if upright > 0 else flat_room(self.end_angle, self.joint)
        return start, end

    def reach(self, radius: float, upright: int = 0) -> tuple[float, float]:
        """From where to where along the rail the parent's centre may lie; the second is less where none fits [m]."""
        (k, m), (n, o) = self.ends(upright)
        return k * radius + m, self.length - n * radius - o

    def kernel_row(self, upright: int = 0) -> tuple[float, ...]:
        """The rail as the kernels take it."""
        return (
            1.0, *self.tangent, *self.origin, *self.ends(upright)[0], *self.ends(upright)[1], self.length,
            self.edge, self.before, self.after, self.start_corner, self.end_corner,
        )  # fmt: skip


def flat_room(angle: float, joint: float) -> Room:
    """What the flat of a half keeps free where its edge meets another one.

    Beyond a straight angle the next edge leads away, and the flat may reach the end. In an acute corner the bark comes
    near the other edge first, else the end of the flat does.

    Args:
        angle: between the edges, inside the wall [rad].
        joint: edge joint [m].

    Sources: closed form (distance of a half disc to a line).
    """
    if angle >= math.pi - 1e-9:
        return 1.0, 0.0
    more = joint / math.tan(angle / 2)
    return (1.0 / math.sin(angle) if angle < math.pi / 2 else 1.0), more


def tip_room(angle: float, joint: float) -> Room:
    """What a quarter keeps free where its upright flat faces the next edge.

    Args:
        angle: between the edges, inside the wall [rad].
        joint: edge joint [m].

    Sources: closed form (distance of a quarter disc to a line).
    """
    if angle >= math.pi - 1e-9:
        return 0.0, 0.0
    more = joint / math.tan(angle / 2)
    return (1.0 / math.tan(angle) if angle < math.pi / 2 else 0.0), more


def rails_of(region: Region, face: Face, joint: float) -> tuple[Rail, ...]:
    """Give the edges of a region along which splits may lie flat.

    Args:
        region: with its edges and corners.
        face: the panel; an edge that is neither of its outline nor of a frame is no rail.
        joint: edge joint [m].
    """
    return tuple(_rails(region, _are_real(region, face), joint))


def _are_real(region: Region, face: Face) -> list[bool]:
    from shapely import Polygon, distance, points, union_all

    lines = union_all([Polygon(o).buffer(0).boundary for o in (face.outline, *(h.outline for h in face.openings))])
    starts, ways = region.edges[:, :2], region.edges[:, 4:5] * region.edges[:, 2:4]
    ends = [distance(lines, points(starts + share * ways)) for share in (0.1, 0.9)]
    return [bool(v) for v in np.maximum(*ends) < REAL]


def _rails(region: Region, real: Sequence[bool], joint: float) -> Iterator[Rail]:
    edges = region.edges
    starts = edges[:, :2]
    ends = starts + edges[:, 4:5] * edges[:, 2:4]
    for e in range(len(edges)):
        before, after = _at(ends, starts[e]), _at(starts, ends[e])
        if real[e] and before >= 0 and after >= 0:
            yield Rail(
                edge=e,
                before=before,
                after=after,
                start_angle=_inside(edges[before], edges[e]),
                end_angle=_inside(edges[e], edges[after]),
                start_corner=_at(region.corners, starts[e]),
                end_corner=_at(region.corners, ends[e]),
                row=tuple(edges[e].tolist()),
                joint=joint,
            )


def _at(points: Floats, place: Floats) -> int:
    """The number of the point at a place; -1 for none."""
    if not len(points):
        return -1
    away = np.hypot(points[:, 0] - place[0], points[:, 1] - place[1])
    nearest = int(np.argmin(away))
    return nearest if away[nearest] < TOUCH else -1


def _inside(first: Floats, second: Floats) -> float:
    turn = math.atan2(first[2] * second[3] - first[3] * second[2], first[2] * second[2] + first[3] * second[3])
    return math.pi - turn


def square_corners(rails: Sequence[Rail]) -> tuple[tuple[Rail, Rail], ...]:
    """Give the square corners that open into the wall, as the edge that ends there and the one that starts there."""
    by_edge = {rail.edge: rail for rail in rails}
    return tuple(
        (by_edge[rail.before], rail)
        for rail in rails
        if abs(rail.start_angle - math.pi / 2) < SQUARE and rail.before in by_edge
    )


def room_for(rails: Sequence[Rail], least: float) -> float:
    """Length of edges on which splits of some parent's radius find room [m].

    Args:
        rails: the edges.
        least: parent's radius of a small split [m].
    """
    spans = (rail.reach(least) for rail in rails)
    return sum(high - low + 2 * least for low, high in spans if high >= low)
