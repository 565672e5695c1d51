"""How are sizes, levels, north and posts marked? The composite signs of a building drawing, as plain shapes."""

from collections.abc import Sequence
from itertools import pairwise
from math import atan2, cos, pi, sin
from typing import Final

from cordwright.book.drawing import (
    FINE_PEN,
    OUTLINE_PEN,
    THIN_PEN,
    Anchor,
    Circle,
    Layer,
    Path,
    Point,
    Shape,
    Text,
    along,
    distance,
    line,
    outline,
    shifted,
    text_width,
)

SIZE: Final = 3.2
"""Type size of a measure [mm]."""
GAP: Final = 1.2
"""An extension line leaves this gap at the thing it measures [mm]."""


def upright(angle: float) -> float:
    """The same line's direction so that writing along it reads from below or from the right [rad]."""
    turned = atan2(sin(angle), cos(angle))
    return turned - pi if turned > pi / 2 + 1e-6 else turned + pi if turned < -pi / 2 + 1e-6 else turned


def dimension(
    start: Point, end: Point, away: float, text: str, *, extend: bool = True, raise_by: float = 0.0
) -> tuple[Shape, ...]:
    """The distance between two points, drawn `away` to the left of the way from start to end [mm], figure above."""
    angle = atan2(end[1] - start[1], end[0] - start[0])
    foot, tip = shifted(start, away, angle + pi / 2), shifted(end, away, angle + pi / 2)
    reading = upright(angle)
    shapes: list[Shape] = [line(foot, tip, FINE_PEN, "dimension")]
    shapes += [_stroke(p, angle) for p in (foot, tip)]
    if extend and away:
        shapes += [_extension(p, away, angle) for p in (start, end)]
    seat = shifted(along(foot, tip, 0.5), 0.9 + raise_by, reading + pi / 2)
    shapes.append(Text(text=text, at=seat, size=SIZE, turn=reading, face="measures", halo=True, layer="dimension"))
    return tuple(shapes)


def _stroke(at: Point, angle: float) -> Path:
    return line(shifted(at, 1.1, angle + pi / 4), shifted(at, -1.1, angle + pi / 4), OUTLINE_PEN, "dimension")


def _extension(at: Point, away: float, angle: float) -> Path:
    side = angle + pi / 2 if away > 0 else angle - pi / 2
    return line(shifted(at, GAP, side), shifted(at, abs(away) + 1.2, side), FINE_PEN, "dimension")


def dimension_row(points: Sequence[Point], away: float, texts: Sequence[str]) -> tuple[Shape, ...]:
    """Distances one after the other on one line; a figure wider than its stretch is raised above its neighbour."""
    shapes: list[Shape] = []
    raised = False
    for (start, end), text in zip(pairwise(points), texts, strict=True):
        tight = text_width(text, SIZE, "measures") > distance(start, end) - 0.5
        raised = tight and not raised
        shapes += dimension(start, end, away, text, raise_by=SIZE if raised else 0.0)
    return tuple(shapes)


def level(at: Point, text: str, *, datum: bool = False, reach: float = 14.0) -> tuple[Shape, ...]:
    """A level: a right-angled triangle standing on a short shelf, solid for the datum."""
    x, y = at
    triangle = outline(
        ((x, y), (x + 2.2, y + 2.2), (x - 2.2, y + 2.2)), THIN_PEN, "dimension", "black" if datum else "white"
    )
    shelf = line((x - 4, y), (x + reach, y), FINE_PEN, "dimension")
    return (
        shelf,
        triangle,
        Text(text=text, at=(x + 3.2, y + 0.8), size=SIZE, anchor="start", face="measures", layer="dimension"),
    )


def north_needle(at: Point, turn: float, length: float = 15.0) -> tuple[Shape, ...]:
    """A needle split lengthwise, its dark half to the west, N at its tip; `turn` is counter-clockwise [rad]."""
    up, across = turn + pi / 2, turn
    tip, notch = shifted(at, length / 2, up), shifted(at, -length / 3, up)
    west, east = (shifted(shifted(at, -length / 2, up), d, across) for d in (-2.2, 2.2))
    letter = shifted(tip, 3.0, up)
    return (
        outline((tip, west, notch), THIN_PEN, "reference", "black"),
        outline((tip, notch, east), THIN_PEN, "reference", "white"),
        Text(text="N", at=(letter[0], letter[1] - 1.5), size=4.5, bold=True, layer="reference"),
    )


def post(centre: Point, width: float, depth: float, turn: float = 0.0) -> tuple[Shape, ...]:
    """A post cut across: a square with a cross [mm]."""
    corners = [(-width / 2, -depth / 2), (width / 2, -depth / 2), (width / 2, depth / 2), (-width / 2, depth / 2)]
    placed = [shifted(shifted(centre, x, turn), y, turn + pi / 2) for x, y in corners]
    cross = (line(placed[0], placed[2], FINE_PEN, "frame"), line(placed[1], placed[3], FINE_PEN, "frame"))
    return (outline(placed, 0.5, "frame", "white"), *cross)


def sleeve(centre: Point, radius: float) -> tuple[Shape, ...]:
    """A pipe through the wall: a circle with a centre cross that overshoots [mm]."""
    reach = max(radius, 1.0) + 1.6
    (x, y) = centre
    cross = (
        line((x - reach, y), (x + reach, y), FINE_PEN, "built-in"),
        line((x, y - reach), (x, y + reach), FINE_PEN, "built-in"),
    )
    return (Circle(centre=centre, radius=max(radius, 0.5), pen=0.5, tone="white", layer="built-in"), *cross)


def note(
    text: str, at: Point, *, size: float = 3.7, anchor: Anchor = "middle", bold: bool = False, layer: Layer = "text"
) -> Text:
    """A word on the drawing with white around it."""
    return Text(text=text, at=at, size=size, anchor=anchor, bold=bold, halo=True, layer=layer)
