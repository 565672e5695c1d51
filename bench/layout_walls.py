"""The walls and the stocks of the layout bench: plain, with door and window, long; wide, even and two-sized stocks."""

import math
from collections.abc import Callable

import numpy as np

from cordwright.wall.layout import Face, Hole, Log

JOINT, EDGE = 0.025, 0.0125
MORE = 1.08
"""The stock's discs fill so many times the wall."""

Draw = Callable[[np.random.Generator], float]


def box(left: float, bottom: float, width: float, height: float) -> tuple[tuple[float, float], ...]:
    """Corners of a rectangle, counter-clockwise."""
    return ((left, bottom), (left + width, bottom), (left + width, bottom + height), (left, bottom + height))


def wall(name: str, width: float, height: float = 2.2, *holes: tuple[float, float, float, float]) -> Face:
    """A rectangular wall with openings of left, bottom, width and height [m]."""
    openings = tuple(Hole(id=f"O{n}", outline=box(*hole)) for n, hole in enumerate(holes, start=1))
    return Face(name=name, outline=box(0.0, 0.0, width, height), openings=openings)


DOOR, WINDOW = (0.7, 0.0, 0.9, 2.0), (2.8, 0.9, 1.1, 0.9)
W2 = wall("W2", 0.9)
PLAIN = wall("plain", 5.0)
W11 = wall("W11", 5.0, 2.2, DOOR, WINDOW)
LONG = wall("four times as long", 20.0)
W50 = wall(
    "W50",
    22.7,
    2.2,
    *((left, 0.0, 0.9, 2.0) for left in (0.7, 9.1, 17.6)),
    *((left, 0.9, 1.1, 0.9) for left in (2.8, 5.9, 11.5, 14.5, 20.4)),
)

STOCKS = ("A", "B", "C")
"""Lognormal 80 to 200 mm about 130; even 120 to 180; a third 200 to 300 and two thirds 60 to 100."""


def diameter(stock: str, rng: np.random.Generator) -> float:
    """Draw one diameter [m]."""
    if stock == "B":
        return float(rng.uniform(0.12, 0.18))
    if stock == "C":
        return float(rng.uniform(0.2, 0.3) if rng.random() < 1 / 3 else rng.uniform(0.06, 0.1))
    while True:
        size = 0.13 * math.exp(0.24 * rng.standard_normal())
        if 0.08 <= size <= 0.2:
            return size


def net_area(face: Face) -> float:
    """Area less openings, all rectangles [m2]."""
    return _area(face.outline) - sum(_area(hole.outline) for hole in face.openings)


def _area(ring: tuple[tuple[float, float], ...]) -> float:
    return (ring[1][0] - ring[0][0]) * (ring[2][1] - ring[1][1])


def stock_for(face: Face, stock: str, seed: int = 7) -> tuple[Log, ...]:
    """Logs whose discs with half a joint fill 1.08 times the wall."""
    rng = np.random.Generator(np.random.PCG64(seed))
    wanted, logs = MORE * net_area(face), []
    while wanted > 0:
        size = round(diameter(stock, rng), 4)
        logs.append(Log(id=f"{stock}{len(logs) + 1}", stem=stock, diameter=size))
        wanted -= math.pi * (size / 2 + JOINT / 2) ** 2
    return tuple(logs)
