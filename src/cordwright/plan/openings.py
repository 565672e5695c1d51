"""What shape is each thing that stands in a panel: how much face does it take, and where is its edge?

Everything in the wall is symmetric about its own upright axis: frames, round and arched windows, pipes, bottle ends.
"""

import math
from dataclasses import dataclass

from cordwright.plan.inputs import Opening, Point
from cordwright.plan.polygon import chords


@dataclass(frozen=True, slots=True, kw_only=True)
class Body:
    """A thing standing in the wall, by its edge: full width from `low` to `high`, arcs of `radius` beyond.

    `half` is half the width [m]; `bottom` and `top` its ends [m]. A rectangle has low = bottom and high = top; a circle
    has low = high at its centre; an arch has low = bottom and an arc above `high`, its springing.
    """

    half: float
    bottom: float
    top: float
    low: float
    high: float
    radius: float

    def half_width(self, height: float) -> float:
        """Give half the width at a height between bottom and top [m]."""
        if height > self.high:
            return _half_chord(self.radius, height - (self.top - self.radius))
        if height < self.low:
            return _half_chord(self.radius, height - (self.bottom + self.radius))
        return self.half

    def reach_up(self, slope: float) -> float:
        """Give how high it stands along a slope [1]: its greatest height less slope times the way right of the axis."""
        corner = self.high + abs(slope) * self.half
        if self.top <= self.high:
            return corner
        touch = self.radius * abs(slope) / math.hypot(1, slope)
        if touch > self.half:
            return corner
        return self.top - self.radius + self.radius * math.hypot(1, slope)


def _half_chord(radius: float, rise: float) -> float:
    return math.sqrt(max(0.0, radius**2 - rise**2))


def disc(diameter: float, height: float) -> Body:
    """Make a pipe or bottle end, `diameter` [m], its axis at `height` [m]."""
    r = diameter / 2
    return Body(half=r, bottom=height - r, top=height + r, low=height, high=height, radius=r)


def arc_radius(width: float, rise: float) -> float:
    """Give the radius of an arch from its width and rise [m].

    Sources: closed-form-plane (sagitta).
    """
    return (width**2 / 4 + rise**2) / (2 * rise)


def body(opening: Opening, slack: float = 0.0) -> Body:
    """Give the frame's edge, or with `slack` [m] on each side the edge of the hole around it."""
    half, top = opening.width / 2 + slack, opening.sill + opening.height + slack
    bottom = opening.sill - slack
    if opening.shape == "round":
        return disc(2 * half, opening.sill + opening.width / 2)
    if opening.shape == "rectangle":
        return Body(half=half, bottom=bottom, top=top, low=bottom, high=top, radius=0.0)
    radius = arc_radius(opening.width, opening.rise) + slack
    springing = top - radius + _half_chord(radius, half)
    return Body(half=half, bottom=bottom, top=top, low=bottom, high=springing, radius=radius)


def opening_area(opening: Opening) -> float:
    """Give the face an opening's frame takes [m2].

    Sources: closed-form-plane (circle, circular segment).
    """
    if opening.shape == "rectangle":
        return opening.width * opening.height
    if opening.shape == "round":
        return math.pi * opening.width**2 / 4
    radius = arc_radius(opening.width, opening.rise)
    half_angle = 2 * math.atan2(2 * opening.rise, opening.width)
    segment = radius**2 * (half_angle - math.sin(half_angle) * math.cos(half_angle))
    return opening.width * (opening.height - opening.rise) + segment


def opening_outline(opening: Opening) -> tuple[Point, ...]:
    """Draw an opening's frame in its panel, counter-clockwise, arcs as chords."""
    u, low, w = opening.from_left, opening.sill, opening.width
    if opening.shape == "round":
        ring = _arc((u + w / 2, low + w / 2), w / 2, 0.0, 2 * math.pi)
        return ring[:-1]
    top = low + opening.height
    if opening.shape == "rectangle":
        return ((u, low), (u + w, low), (u + w, top), (u, top))
    radius = arc_radius(w, opening.rise)
    half_angle = 2 * math.atan2(2 * opening.rise, w)
    crown = _arc((u + w / 2, top - radius), radius, math.pi / 2 - half_angle, math.pi / 2 + half_angle)
    springing = top - opening.rise
    return ((u, low), (u + w, low), (u + w, springing), *crown[1:-1], (u, springing))


def _arc(centre: Point, radius: float, start: float, end: float) -> tuple[Point, ...]:
    count = max(8, chords(radius, end - start))
    angles = (start + (end - start) * n / count for n in range(count + 1))
    return tuple((centre[0] + radius * math.cos(a), centre[1] + radius * math.sin(a)) for a in angles)
