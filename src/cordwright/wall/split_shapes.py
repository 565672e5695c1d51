"""What shape is the face of a split log end: its area, its middle, and the discs that stand in for it?

A half is the half of its parent's disc about the way its bark faces, a quarter the quarter about it. The parent's
centre is the middle of a half's flat and the right-angled tip of a quarter.

Sources: closed forms of the half and quarter disc (`split-faces`).
"""

import math
from collections.abc import Mapping
from typing import Final

import numpy as np
from numpy.typing import NDArray

from cordwright.base import Cite
from cordwright.timber.inputs import SHARES
from cordwright.wall.layout import Log, Shape

Floats = NDArray[np.float64]

FACES: Final = Cite("split-faces", "area and middle of half and quarter disc")

KINDS: Final[Mapping[Shape, int]] = {"round": 0, "half": 1, "quarter": 2}
SPREAD: Final[Mapping[Shape, float]] = {"round": math.pi, "half": math.pi / 2, "quarter": math.pi / 4}
"""How far the bark reaches to either side of the way it faces [rad]."""

MIDDLE: Final[Mapping[Shape, float]] = {
    "round": 0.0,
    "half": 4 / (3 * math.pi),
    "quarter": 4 * math.sqrt(2) / (3 * math.pi),
}
"""Where the middle of the face lies from the parent's centre, along the way the bark faces: share of the radius."""

ALONG_AXIS: Final = 9
PITCH: Final = 0.006
"""Discs along the rim of a stand-in stand no farther apart than this [m]: the rim is a third of a millimetre thick."""

BARE = 0.001
"""Radius of the discs along the rim of a split that is not grown [m]: nothing wider than a few millimetres gets in."""


def face_of(log: Log) -> float:
    """Area of a log end's face [m2]."""
    return SHARES[log.shape] * math.pi / 4 * log.diameter**2


def grown_area(shape: Shape, radius: float, by: float) -> float:
    """Area of a face grown all around [m2]: for a round the larger disc.

    Args:
        shape: round, half or quarter.
        radius: of the parent [m].
        by: how far it is grown, usually half a joint [m].

    Sources: closed form (area, rim and disc of a grown convex shape).
    """
    if shape == "round":
        return math.pi * (radius + by) ** 2
    rim = SHARES[shape] * 2 * math.pi * radius + 2 * radius
    return SHARES[shape] * math.pi * radius**2 + rim * by + math.pi * by**2


def even_radius(log: Log) -> float:
    """Radius of a round with the face of a log end [m]."""
    return math.sqrt(SHARES[log.shape]) * log.diameter / 2


def lowest(shape: Shape, radius: float, angle: float) -> float:
    """How far a log end reaches below its parent's centre [m]; 0 for a half that stands on its flat.

    Args:
        shape: round, half or quarter.
        radius: of the parent [m].
        angle: the way its bark faces, counter-clockwise from the right [rad].
    """
    spread = SPREAD[shape]
    turn = math.remainder(-math.pi / 2 - angle, 2 * math.pi)
    if abs(turn) <= spread:
        return radius
    return max(0.0, *(-radius * math.sin(angle + side * spread) for side in (-1.0, 1.0)))


def stand_ins(shape: Shape, radius: float, grown: float) -> Floats:
    """Discs that together cover a split grown all around and reach hardly beyond it, its bark facing right.

    Discs that touch flat and bark from within fill the inside; small ones along the rim cover the rest, so that code
    that knows only discs keeps clear of the split.

    Args:
        shape: half or quarter.
        radius: of the parent [m].
        grown: how far the split is grown [m].

    Returns:
        Centres and radii, shape (n, 3) [m].
    """
    inner = _inner_half(radius) if shape == "half" else _inner_quarter(radius)
    inner[:, 2] += grown
    rim = _rim(shape, radius)
    edge = np.full(len(rim), math.hypot(grown, PITCH / 2) if grown > 0 else BARE)
    return np.vstack((inner, np.column_stack((rim, edge))))


def _inner_half(radius: float) -> Floats:
    across = radius * np.sin(np.linspace(-1.0, 1.0, 2 * ALONG_AXIS + 1) * 1.45)
    deep = (radius**2 - across**2) / (2 * radius)
    return np.column_stack((deep, across, deep))


def _inner_quarter(radius: float) -> Floats:
    """Discs between the two flats, then between each flat and the bark."""
    largest = radius * (math.sqrt(2) - 1)
    near = np.linspace(0.15, 1.0, ALONG_AXIS) * largest
    tip = np.column_stack((math.sqrt(2) * near, np.zeros(ALONG_AXIS), near))
    along = np.linspace(largest, 0.97 * radius, ALONG_AXIS)[1:]
    deep = (radius**2 - along**2) / (2 * radius)
    side = [_turned(np.column_stack((along, w * deep)), -w * math.pi / 4) for w in (1.0, -1.0)]
    return np.vstack((tip, *(np.column_stack((s, deep)) for s in side)))


def _turned(points: Floats, angle: float) -> Floats:
    c, s = math.cos(angle), math.sin(angle)
    return np.column_stack((c * points[:, 0] - s * points[:, 1], s * points[:, 0] + c * points[:, 1]))


def _rim(shape: Shape, radius: float) -> Floats:
    spread = SPREAD[shape]
    turns = np.linspace(-spread, spread, max(2, math.ceil(2 * spread * radius / PITCH) + 1))
    bark = radius * np.column_stack((np.cos(turns), np.sin(turns)))
    away = np.linspace(0.0, radius, max(2, math.ceil(radius / PITCH) + 1))[:-1]
    flats = [_turned(np.column_stack((away, np.zeros(len(away)))), w * spread) for w in (1.0, -1.0)]
    return np.vstack((bark, flats[0], flats[1][1:]))


def placed_stand_ins(log: Log, x: float, y: float, angle: float, grown: float = 0.0) -> Floats:
    """Discs that stand in for a log end in its place; a round stands for itself, shape (n, 3) [m].

    Args:
        log: the log end.
        x: of its parent's centre [m].
        y: of its parent's centre [m].
        angle: the way its bark faces, counter-clockwise from the right [rad].
        grown: how far it is grown all around [m].
    """
    radius = log.diameter / 2
    if log.shape == "round":
        return np.array([[x, y, radius + grown]])
    discs = stand_ins(log.shape, radius, grown)
    discs[:, :2] = _turned(discs[:, :2], angle) + np.array([x, y])
    return discs
