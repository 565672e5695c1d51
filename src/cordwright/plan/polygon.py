"""Where do the faces of a wall with straight sides run, and how long are they, with sharp or rounded corners?

The outline is the inside face. Every other face is its parallel curve: sharp corners are mitred, rounded ones keep
their centre. `distance` is measured outwards from the inside face.
"""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from cordwright.base import InputError
from cordwright.plan.inputs import Point, PolygonOutline

Array = NDArray[np.float64]

SAGITTA = 1e-3
"""A curve is drawn in chords that leave it by at most this [m]; lengths and areas never use the chords."""

STRAIGHT = 1e-9
"""A corner that turns less than this [rad] is straight: nothing to round."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Polygon:
    """A polygon's sides and corners, side i from corner i to i + 1, counter-clockwise.

    `corners` (n, 2) [m], `normals` (n, 2) outwards, `sides` (n,) [m], `turns` (n,) [rad] at corner i, positive where
    the polygon bulges; `radius` [m] of the inside face at every corner, 0 when sharp.
    """

    corners: Array
    normals: Array
    sides: Array
    turns: Array
    radius: float

    @property
    def tangents(self) -> Array:
        """Tangent of half the turn at each corner, shape (n,)."""
        return np.tan(self.turns / 2)

    @property
    def bends(self) -> Array:
        """How each corner is rounded, shape (n,): 1 bulging, -1 re-entrant, 0 sharp or straight."""
        return np.where(np.abs(self.turns) > STRAIGHT, np.sign(self.turns), 0.0) * (self.radius > 0)


def polygon(outline: PolygonOutline) -> Polygon:
    """Work out sides, normals and turns of an outline.

    Raises:
        InputError: fewer than three corners, a side of no length, clockwise corners, or sides that cross or fold back.
    """
    shape = measured(outline)
    if shape is None:
        raise InputError("the outline needs three corners or more and no side of zero length")
    if area(shape, 0.0) <= 0 or abs(math.fsum(shape.turns) - 2 * math.pi) > 1e-6 or folds_back(shape):
        raise InputError("the outline's corners must run counter-clockwise and its sides must not cross")
    if crosses(shape.corners):
        raise InputError("the outline's sides must not cross")
    return shape


def measured(outline: PolygonOutline) -> Polygon | None:
    """Measure sides and turns without judging them; None when there is nothing to measure."""
    corners = np.asarray(outline.corners, dtype=float)
    if len(corners) < 3 or not np.isfinite(corners).all():
        return None
    steps = np.roll(corners, -1, axis=0) - corners
    sides = np.hypot(steps[:, 0], steps[:, 1])
    if not (sides > 1e-6).all():
        return None
    before = np.roll(steps, 1, axis=0)
    cross = before[:, 0] * steps[:, 1] - before[:, 1] * steps[:, 0]
    turns = np.arctan2(cross, (before * steps).sum(axis=1))
    normals = np.column_stack((steps[:, 1], -steps[:, 0])) / sides[:, None]
    return Polygon(corners=corners, normals=normals, sides=sides, turns=turns, radius=outline.corner_radius)


def folds_back(shape: Polygon) -> bool:
    """Tell whether a side runs back along the one before it."""
    return bool((np.abs(shape.turns) > math.pi - 1e-6).any())


def offset_corners(shape: Polygon, distance: float) -> Array:
    """Give the mitred corners of the parallel polygon, shape (n, 2), `distance` [m] outwards."""
    before = np.roll(shape.normals, 1, axis=0)
    lean = 1 + (before * shape.normals).sum(axis=1)
    mitred: Array = shape.corners + distance * (before + shape.normals) / lean[:, None]
    return mitred


def straight_lengths(shape: Polygon, distance: float) -> Array:
    """Give the straight run of each side on the face `distance` [m] outwards, shape (n,) [m].

    Sources: closed-form-parallel-curves.
    """
    # A bulging mitre lengthens both its sides, a re-entrant one shortens them; rounding takes its tangents off again.
    gains = distance * shape.tangents - arc_radii(shape, distance) * np.abs(shape.tangents)
    runs: Array = shape.sides + gains + np.roll(gains, -1)
    return runs


def arc_radii(shape: Polygon, distance: float) -> Array:
    """Give the radius of each corner's arc on the face `distance` [m] outwards, shape (n,) [m].

    It is 0 at a sharp corner, and at a re-entrant one whose arc the distance has used up: there the sides meet.
    """
    bends = shape.bends
    return np.where(bends == 0, 0.0, np.maximum(0.0, shape.radius + bends * distance))


def perimeter(shape: Polygon, distance: float) -> float:
    """Give the length of the face `distance` [m] outwards: straight runs and arcs [m].

    Sources: closed-form-parallel-curves.
    """
    arcs = arc_radii(shape, distance) * np.abs(shape.turns)
    return math.fsum((*straight_lengths(shape, distance), *arcs))


def area(shape: Polygon, distance: float) -> float:
    """Give the area within the face `distance` [m] outwards [m2]: mitred polygon less what the rounding takes off.

    Sources: closed-form-plane (shoelace formula), closed-form-parallel-curves.
    """
    x, y = shape.corners.T
    inside = math.fsum(x * np.roll(y, -1) - np.roll(x, -1) * y) / 2
    mitred = inside + distance * math.fsum(shape.sides) + distance**2 * math.fsum(shape.tangents)
    half = np.abs(shape.turns) / 2
    taken = shape.bends * arc_radii(shape, distance) ** 2 * (np.abs(shape.tangents) - half)
    return mitred - math.fsum(taken)


def arc_centres(shape: Polygon) -> Array:
    """Give the centre of each corner's arc, shape (n, 2); the corner itself where it is sharp."""
    before = np.roll(shape.normals, 1, axis=0)
    lean = 1 + (before * shape.normals).sum(axis=1)
    outwards = (before + shape.normals) / lean[:, None]
    centres: Array = shape.corners - (shape.bends * shape.radius)[:, None] * outwards
    return centres


def arc_points(shape: Polygon, corner: int, distance: float, start: float = 0.0, end: float = 1.0) -> tuple[Point, ...]:
    """Draw a corner's arc on the face `distance` [m] outwards, from share `start` to `end` [1] of its turn."""
    first = shape.normals[corner - 1]
    heading = math.atan2(first[1], first[0])
    turn = float(shape.turns[corner])
    reach = float(shape.bends[corner]) * shape.radius + distance
    x, y = arc_centres(shape)[corner]
    count = chords(abs(reach), abs(turn * (end - start)))
    angles = heading + turn * np.linspace(start, end, count + 1)
    return tuple(zip((x + reach * np.cos(angles)).tolist(), (y + reach * np.sin(angles)).tolist(), strict=True))


def chords(radius: float, angle: float) -> int:
    """Count the chords that draw an arc of `radius` [m] and `angle` [rad] to within the drawing's sagitta."""
    if radius <= SAGITTA:
        return max(1, math.ceil(angle / 0.5))
    return max(1, math.ceil(angle / (2 * math.acos(1 - SAGITTA / radius))))


def ring(shape: Polygon, distance: float) -> tuple[Point, ...]:
    """Draw the face `distance` [m] outwards as a counter-clockwise ring, the first point not repeated."""
    sharp = offset_corners(shape, distance)
    points: list[Point] = []
    for corner, radius in enumerate(arc_radii(shape, distance)):
        points += (
            arc_points(shape, corner, distance) if radius > 0 else [(float(sharp[corner, 0]), float(sharp[corner, 1]))]
        )
    return tuple(points)


def crosses(points: Array | tuple[Point, ...]) -> bool:
    """Tell whether a closed ring of points, shape (n, 2), crosses or touches itself."""
    starts = np.asarray(points, dtype=float)
    ends = np.roll(starts, -1, axis=0)
    apart = _apart(starts, ends)
    meet = _straddles(starts, ends) & _straddles(starts, ends).T & ~apart
    n = len(starts)
    near = np.abs(np.subtract.outer(np.arange(n), np.arange(n))) % (n - 1) <= 1
    return bool((meet & ~near).any())


def _straddles(starts: Array, ends: Array) -> NDArray[np.bool_]:
    """Tell for each pair (i, j), shape (n, n), whether the ends of side j lie on both sides of (or on) line i."""
    along = (ends - starts)[:, None, :]
    left = [
        along[..., 0] * (p[..., 1]) - along[..., 1] * p[..., 0]
        for p in (starts - starts[:, None], ends - starts[:, None])
    ]
    return np.asarray(left[0] * left[1] <= 0)


def _apart(starts: Array, ends: Array) -> NDArray[np.bool_]:
    """Tell for each pair of sides, shape (n, n), whether their bounding boxes do not touch."""
    low, high = np.minimum(starts, ends), np.maximum(starts, ends)
    return np.asarray(((low[:, None] > high[None]) | (high[:, None] < low[None])).any(axis=2))
