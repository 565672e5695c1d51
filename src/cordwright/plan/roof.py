"""What area does the roof cover, how much slope is there to clad, and how high is the ridge above the eaves?"""

import math

import numpy as np

from cordwright.plan import oval as ovals
from cordwright.plan import polygon as polygons
from cordwright.plan.inputs import Roof
from cordwright.plan.outline import Shape
from cordwright.plan.oval import Oval
from cordwright.plan.polygon import Polygon


def slope_area(plan_area: float, pitch: float) -> float:
    """Give the area of slopes that all have one pitch [rad] over a plan area [m2].

    Every piece of roof covers its own plan area times the cosine of the pitch, whatever the form.

    Sources: closed-form-roof.
    """
    return plan_area / math.cos(pitch)


def ridge_run(shape: Shape, roof: Roof, eaves: float) -> tuple[float | None, str]:
    """Give the level run from the eaves to the ridge [m] and how it follows, or None and what is missing.

    `eaves` [m] is the distance of the eaves from the inside face.

    Sources: closed-form-roof.
    """
    if roof.form in ("gable", "shed"):
        if roof.ridge is None:
            return None, "roof.ridge (the bearing of the ridge, or of a shed's fall line)"
        across = roof.ridge + (math.pi / 2 if roof.form == "gable" else 0.0)
        span = width_across(shape, across, eaves)
        return (span / 2, "half the span across the ridge") if roof.form == "gable" else (span, "the whole span")
    if isinstance(shape, Oval):
        return min(shape.half_x, shape.half_y) + eaves, "half the eaves' least width"
    if (shape.turns < 0).any():
        return None, "a section by the roof's designer: the ridge over re-entrant corners is not worked out here"
    return inscribed_radius(shape) + eaves, "radius of the largest circle within the eaves"


def width_across(shape: Shape, bearing: float, eaves: float) -> float:
    """Give how wide the eaves are along a bearing, clockwise from plan up [rad], in metres."""
    if isinstance(shape, Oval):
        return 2 * ovals.support(shape, bearing, eaves)
    x, y = np.asarray(polygons.ring(shape, eaves)).T
    reach = x * math.sin(bearing) + y * math.cos(bearing)
    return float(reach.max() - reach.min())


def inscribed_radius(shape: Polygon) -> float:
    """Give the radius of the largest circle within a convex polygon [m].

    All sides move inwards together, as the slopes of a hip roof close in on its ridge; sides that vanish are dropped
    until no area is left. Rounded corners change nothing: the circle touches the straight runs.

    Sources: closed-form-roof.
    """
    bulging = shape.turns > polygons.STRAIGHT
    normals = shape.normals[bulging]
    offsets = (normals * shape.corners[bulging]).sum(axis=1)
    gone = 0.0
    while len(normals) > 2 and not _closed_in(normals):
        lengths, shrink = _sides(normals, offsets - gone)
        times = np.where(shrink > 0, lengths / np.where(shrink > 0, shrink, 1.0), np.inf)
        gone += float(times.min())
        left = times > times.min() + 1e-9
        normals, offsets = normals[left], offsets[left]
    return gone


def _closed_in(normals: polygons.Array) -> bool:
    """Tell whether two neighbouring sides face opposite ways: the ridge is level and nothing is left between them."""
    return bool(((normals * np.roll(normals, -1, axis=0)).sum(axis=1) < -1 + 1e-9).any())


def _sides(normals: polygons.Array, offsets: polygons.Array) -> tuple[polygons.Array, polygons.Array]:
    """Give each side's length (n,) [m] and how fast it shrinks as all sides move inwards (n,) [1], from its lines."""
    after_n, after_c = np.roll(normals, -1, axis=0), np.roll(offsets, -1)
    cross = normals[:, 0] * after_n[:, 1] - normals[:, 1] * after_n[:, 0]
    dot = (normals * after_n).sum(axis=1)
    tangent = cross / (1 + dot)
    # Where line i meets line i + 1, measured along line i from its foot.
    meets = (after_c - offsets * dot) / cross
    met = (offsets - after_c * dot) / cross
    return meets + np.roll(met, 1), tangent + np.roll(tangent, 1)
