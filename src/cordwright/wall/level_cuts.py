"""How much of a panel's face, of its edges and of each log end lies below a level line?

A lift ends at a level line that runs on through log ends; what is counted below it is the face of the joints alone, so
that each log end can be given whole to the lift its middle lies in.
"""

import math
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, Final

from cordwright.timber.inputs import SHARES
from cordwright.wall.layout import Face, PanelLayout, Placement, Shape
from cordwright.wall.region import net_shape

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

ARC: Final = 64
"""So many chords stand for the arc of a split where a level cuts it; its whole area is taken exactly."""


def end_area(shape: Shape, diameter: float) -> float:
    """Face of a log end; of a split, its share of the parent's disc [m2].

    Args:
        shape: round, half or quarter.
        diameter: of the round, or of the parent [m].

    Sources: closed form.
    """
    return SHARES[shape] * math.pi / 4 * diameter**2


def end_perimeter(shape: Shape, diameter: float) -> float:
    """Length all around a log end: arc and cleft faces [m].

    Args:
        shape: round, half or quarter.
        diameter: of the round, or of the parent [m].

    Sources: closed form.
    """
    return SHARES[shape] * math.pi * diameter + (0.0 if shape == "round" else diameter)


def disc_below(level: float, y: float, diameter: float) -> float:
    """Area of the part of a disc that lies below a level line [m2].

    Args:
        level: height of the line [m].
        y: height of the disc's middle [m].
        diameter: of the disc [m].

    Sources: closed form, circular segment.
    """
    radius = diameter / 2
    if radius <= 0:
        return 0.0
    t = min(1.0, max(-1.0, (level - y) / radius))
    return radius**2 * (math.acos(-t) + t * math.sqrt(1.0 - t * t))


def log_below(level: float, placed: Placement) -> float:
    """Area of the part of a log end that lies below a level line [m2]."""
    log = placed.log
    if log.shape == "round":
        return disc_below(level, placed.y, log.diameter)
    outline = _split_outline(placed)
    low, high = min(y for _, y in outline), max(y for _, y in outline)
    if level <= low or level >= high:
        return 0.0 if level <= low else end_area(log.shape, log.diameter)
    whole, part = _polygon_area(outline), _polygon_area(_cut_below(outline, level))
    return end_area(log.shape, log.diameter) * part / whole


def _split_outline(placed: Placement) -> list[tuple[float, float]]:
    """The outline of a split: its arc about where the bark faces, and the heart of its parent."""
    spread = math.pi * SHARES[placed.log.shape]
    angles = [placed.angle + spread * (2 * n / ARC - 1) for n in range(ARC + 1)]
    radius = placed.log.diameter / 2
    arc = [(placed.x + radius * math.cos(a), placed.y + radius * math.sin(a)) for a in angles]
    return [*arc, (placed.x, placed.y)]


def _cut_below(outline: Sequence[tuple[float, float]], level: float) -> list[tuple[float, float]]:
    """Keep of a convex outline what lies below a level line."""
    kept: list[tuple[float, float]] = []
    for (ax, ay), (bx, by) in zip(outline, (*outline[1:], outline[0]), strict=True):
        if ay <= level:
            kept.append((ax, ay))
        if (ay - level) * (by - level) < 0:
            kept.append((ax + (bx - ax) * (level - ay) / (by - ay), level))
    return kept


def _polygon_area(outline: Sequence[tuple[float, float]]) -> float:
    sides = zip(outline, (*outline[1:], outline[0]), strict=True)
    return abs(math.fsum(ax * by - bx * ay for (ax, ay), (bx, by) in sides)) / 2


def bodies_below(layout: PanelLayout, level: float) -> float:
    """Area below a level line of all that is no joint: log ends, stones, sleeves and bottle ends [m2]."""
    return math.fsum(_bodies(layout, level))


def _bodies(layout: PanelLayout, level: float) -> Iterator[float]:
    yield from (log_below(level, p) for p in layout.placements)
    yield from (f.stones / 2 * disc_below(level, f.y, f.diameter) for f in layout.fillers)
    yield from (disc_below(level, o.y, o.diameter) for o in layout.face.obstacles)


def face_below(face: Face, level: float) -> tuple[float, float]:
    """Area of a panel less its openings [m2] and length of its edges, frames included [m], below a level line."""
    import shapely

    whole = shapely.set_precision(net_shape(face), 0.0)  # else the level itself is moved onto the grid
    left, bottom, right, top = whole.bounds
    below = shapely.box(left - 1, bottom - 1, right + 1, min(level, top + 1))
    edges: BaseGeometry = shapely.intersection(whole.boundary, below)
    return float(shapely.intersection(whole, below).area), float(edges.length)


def height_of_share(face: Face, share: float) -> float:
    """Give the height up to which a share of a panel's net area lies; infinite for all of it [m].

    Args:
        face: the panel.
        share: of the net area [1].
    """
    if share >= 1.0:
        return math.inf
    heights = [y for _, y in face.outline]
    low, high = min(heights), max(heights)
    wanted = share * face_below(face, math.inf)[0]
    while high - low > 1e-9:
        middle = (low + high) / 2
        low, high = (middle, high) if face_below(face, middle)[0] < wanted else (low, middle)
    return (low + high) / 2
