"""How much sun comes in through a pane that sits deep in a thick wall, under the eaves?

The wall itself shades the pane: beam light from the side is cut by the reveal, high sun by its head and by the eaves,
and of the sky the pane sees only what stands in front of the hole.
"""

import math
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from cordwright.heat.sunlight import Sun, Sunlight

Floats = NDArray[np.float64]
BY_ANGLE: Final = (1.0, -0.189, 0.644, -0.596)
"""Gain of double glazing over that of square light, by powers of the angle of incidence [rad] (`glass-by-angle`)."""
REVEAL_LIGHT: Final = 0.4
"""Share of the light that a reveal of logs and mortar throws on [1] (`reveal-light`)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Hole:
    """A glazed hole in a wall: clear `width` and `height` [m], `setback` of the pane from the outer face [m].

    `eaves`: how far the roof's edge stands out from the outer face, `above`: how high it is over the hole's head [m].
    """

    width: float
    height: float
    setback: float = 0.0
    eaves: float = 0.0
    above: float = 0.0


def angle_gain(angle: Floats) -> Floats:
    """Gain of the pane at an angle of incidence over that of square light, shape of `angle` [1].

    Args:
        angle: between the beam and the pane's normal [rad].

    Sources: `glass-by-angle`.
    """
    a, b, c, d = BY_ANGLE
    i = np.clip(angle, 0.0, math.pi / 2)
    return np.asarray(np.maximum(a + b * i + c * i**2 + d * i**3, 0.0))


def diffuse_gain() -> float:
    """The same for light from the whole half-sphere in front of the pane [1]."""
    angle = (np.arange(180) + 0.5) * math.pi / 360
    weight = np.sin(2 * angle)
    return float((angle_gain(angle) * weight).sum() / weight.sum())


def sunlit_share(hole: Hole, sun: Sun, bearing: float) -> Floats:
    """Share of the pane that the beam reaches past reveal and eaves, shape of the sun's [1].

    Args:
        hole: the pane in its hole.
        sun: where it stands.
        bearing: that the wall faces [rad].

    Sources: closed form (`reveal-shade`).
    """
    aside = sun.bearing - bearing
    front = np.cos(aside) * np.cos(sun.height)
    seen = (front > 1e-6) & (sun.height > 0)
    front = np.where(seen, front, 1.0)
    sideways = np.abs(np.sin(aside) * np.cos(sun.height)) / front
    down = np.sin(np.maximum(sun.height, 0.0)) / front
    across = np.clip(1 - hole.setback * sideways / hole.width, 0.0, 1.0)
    by_head = hole.setback * down
    by_eaves = (hole.eaves + hole.setback) * down - hole.above if hole.eaves > 0 else 0.0
    along = np.clip(1 - np.maximum(by_head, by_eaves) / hole.height, 0.0, 1.0)
    return np.where(seen, across * along, 0.0)


def seen_share(width: float, height: float, depth: float) -> float:
    """Of the diffuse light before the hole, what falls on the pane straight: two equal rectangles face to face [1].

    Args:
        width: of the hole [m].
        height: of the hole [m].
        depth: from the outer face to the pane [m].

    Sources: closed form (`parallel-rectangles`).
    """
    if depth <= 1e-6 * min(width, height):
        return 1.0
    x, y = width / depth, height / depth
    root = math.log(math.sqrt((1 + x * x) * (1 + y * y) / (1 + x * x + y * y)))
    wide, high = math.sqrt(1 + x * x), math.sqrt(1 + y * y)
    arcs = x * high * math.atan(x / high) + y * wide * math.atan(y / wide) - x * math.atan(x) - y * math.atan(y)
    return 2 / (math.pi * x * y) * (root + arcs)


def diffuse_share(hole: Hole, reveal: float = REVEAL_LIGHT) -> float:
    """Share of the diffuse light that reaches the pane through the hole, once thrown back by its sides at most [1].

    Args:
        hole: the pane in its hole.
        reveal: share that its sides throw on [1]; half of that goes on inwards.

    Sources: `parallel-rectangles`, `reveal-light`.
    """
    straight = seen_share(hole.width, hole.height, hole.setback)
    return straight + (1 - straight) * reveal / 2


def window_gain(hole: Hole, light: Sunlight, sun: Sun, bearing: float, gain: float) -> Floats:
    """Sun that comes in through a square metre of pane [W/m2], shape of the light.

    Args:
        hole: the pane in its hole.
        light: on the outer face.
        sun: where it stands.
        bearing: that the wall faces [rad].
        gain: g-value of the pane for square light [1].

    Sources: those of `sunlit_share`, `diffuse_share` and `angle_gain`.
    """
    beam = light.beam * sunlit_share(hole, sun, bearing) * angle_gain(light.incidence)
    return np.asarray(gain * (beam + light.diffuse * diffuse_share(hole) * diffuse_gain()))
