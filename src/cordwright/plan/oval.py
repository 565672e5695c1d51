"""Where do the faces of a round or oval wall run, and how long are they?

The inside face is an ellipse (a circle is one with equal axes); the other faces are its parallel curves. A place on the
wall is told by `phi`, which runs clockwise seen from above: 0 at plan up, a quarter turn at plan right.
"""

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from cordwright.plan.inputs import OvalOutline, Point, RoundOutline
from cordwright.plan.polygon import SAGITTA

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Oval:
    """An ellipse with half axes [m] along plan x and y, and the cosine series of its speed along `phi`.

    `mean_speed` [m/rad] and `waves` (k,) [m/rad]: speed = mean_speed + sum of waves[j] cos(2 (j + 1) phi).
    """

    half_x: float
    half_y: float
    mean_speed: float
    waves: Array

    @property
    def circumference(self) -> float:
        """Length of the inside face [m]."""
        return 2 * math.pi * self.mean_speed


def oval(outline: RoundOutline | OvalOutline) -> Oval:
    """Work out the axes of an outline and the series that measures along it.

    The mean of evenly spaced speeds is the periodic trapezoid rule for the perimeter; points are doubled until the
    last quarter of the series has died away.

    Sources: trefethen-weideman-2014 (the rule converges geometrically on a periodic function).
    """
    x, y = _half_axes(outline)
    count = 16
    while True:
        phi = np.pi * np.arange(count) / count
        series = np.fft.rfft(np.hypot(x * np.cos(phi), y * np.sin(phi))).real / count
        if np.abs(series[-count // 8 :]).max() < 1e-15 * series[0] or count >= 2**17:
            break
        count *= 2
    return Oval(half_x=x, half_y=y, mean_speed=float(series[0]), waves=2 * series[1:-1])


def _half_axes(outline: RoundOutline | OvalOutline) -> tuple[float, float]:
    if isinstance(outline, RoundOutline):
        return outline.inside_diameter / 2, outline.inside_diameter / 2
    return outline.inside_length / 2, outline.inside_width / 2


def perimeter(shape: Oval, distance: float) -> float:
    """Give the length of the face `distance` [m] outwards [m].

    Sources: closed-form-parallel-curves.
    """
    return shape.circumference + 2 * math.pi * distance


def area(shape: Oval, distance: float) -> float:
    """Give the area within the face `distance` [m] outwards [m2].

    Sources: closed-form-parallel-curves.
    """
    return math.pi * shape.half_x * shape.half_y + shape.circumference * distance + math.pi * distance**2


def normal_bearing(shape: Oval, phi: float) -> float:
    """Give the bearing of the outward normal, clockwise from plan up [rad], growing with `phi` without a jump."""
    sine, cosine = math.sin(phi), math.cos(phi)
    lean = (shape.half_y - shape.half_x) * sine * cosine
    return phi + math.atan2(lean, shape.half_x * cosine**2 + shape.half_y * sine**2)


def along(shape: Oval, phi: float, distance: float) -> float:
    """Measure clockwise along the face `distance` [m] outwards from plan up to `phi` [m]."""
    orders = 2.0 * np.arange(1, len(shape.waves) + 1)
    wave = float((shape.waves * np.sin(orders * phi) / orders).sum())
    return shape.mean_speed * phi + wave + distance * normal_bearing(shape, phi)


def phi_at(shape: Oval, length: float, distance: float) -> float:
    """Find the place `length` [m] clockwise from plan up along the face `distance` [m] outwards."""
    middle = 2 * math.pi * length / perimeter(shape, distance)
    return _root(lambda phi: along(shape, phi, distance) - length, middle)


def phi_toward(shape: Oval, bearing: float, distance: float) -> float:
    """Find the place on a face that lies in a direction seen from the centre, clockwise from plan up [rad]."""

    def beyond(phi: float) -> float:
        x, y = point(shape, phi, distance)
        return math.remainder(math.atan2(x, y) - bearing, 2 * math.pi)

    return _root(beyond, bearing)


def _root(rising: Callable[[float], float], middle: float) -> float:
    """Find where a rising function is zero within a quarter turn of `middle` [rad]."""
    low, high = middle - math.pi / 2, middle + math.pi / 2
    for _ in range(60):
        half = (low + high) / 2
        low, high = (half, high) if rising(half) < 0 else (low, half)
    return (low + high) / 2


def point(shape: Oval, phi: float, distance: float) -> Point:
    """Give the point of the face `distance` [m] outwards at `phi`."""
    bearing = normal_bearing(shape, phi)
    return (
        shape.half_x * math.sin(phi) + distance * math.sin(bearing),
        shape.half_y * math.cos(phi) + distance * math.cos(bearing),
    )


def points(shape: Oval, start: float, end: float, distance: float) -> tuple[Point, ...]:
    """Draw a face from `start` to `end` [rad] as chords, clockwise."""
    slim = max(shape.half_x, shape.half_y) / min(shape.half_x, shape.half_y)
    # The sagitta of a chord is speed x turning x step^2 / 8; speed and turning are greatest at the two kinds of end.
    bend = max(shape.half_x, shape.half_y) + max(distance, 0.0) * slim**2
    count = max(8, math.ceil((end - start) / math.sqrt(8 * SAGITTA / bend)))
    return tuple(point(shape, phi, distance) for phi in np.linspace(start, end, count + 1).tolist())


def ring(shape: Oval, distance: float) -> tuple[Point, ...]:
    """Draw the whole face `distance` [m] outwards, counter-clockwise, the first point not repeated."""
    return tuple(reversed(points(shape, 0.0, 2 * math.pi, distance)[1:]))


def least_radius(shape: Oval, start: float, end: float) -> float:
    """Give the tightest radius of the inside face between two places [m]."""
    quarters = range(math.ceil(2 * start / math.pi), math.floor(2 * end / math.pi) + 1)
    places = (start, end, *(q * math.pi / 2 for q in quarters))
    speeds = (math.hypot(shape.half_x * math.cos(p), shape.half_y * math.sin(p)) for p in places)
    return min(speeds) ** 3 / (shape.half_x * shape.half_y)


def support(shape: Oval, bearing: float, distance: float) -> float:
    """Give how far a face reaches from the centre in a direction, clockwise from plan up [rad], in metres."""
    return math.hypot(shape.half_x * math.sin(bearing), shape.half_y * math.cos(bearing)) + distance
