"""How is a number cut into a log end? Ten figures of single strokes on a grid 4 wide and 6 high.

They are lines, so no machine swaps the face: flat-topped 3, barred 7, open 4, straight-stemmed 6 and 9. A number that
reads as another one upside down (made of 0 1 6 8 9 only) stands on a bar, on paper and on the log.
"""

from math import cos, radians, sin
from typing import Final

from cordwright.book.drawing import Path, Point, Shape

Stroke = tuple[Point, ...]

WIDE: Final = 4.0
HIGH: Final = 6.0
SPACE: Final = 1.6
TURNABLE: Final = frozenset("01689")


def _bow(centre: Point, reach: Point, start: float, end: float) -> Stroke:
    (cx, cy), (rx, ry) = centre, reach
    steps = max(4, round(abs(end - start) / 15))
    angles = (radians(start + (end - start) * n / steps) for n in range(steps + 1))
    return tuple((cx + rx * cos(a), cy + ry * sin(a)) for a in angles)


FIGURES: Final[dict[str, tuple[Stroke, ...]]] = {
    "0": (_bow((2, 3), (1.9, 3), 0, 360),),
    "1": (((0.8, 4.7), (2.2, 6), (2.2, 0)),),
    "2": ((*_bow((2, 4.2), (1.8, 1.8), 165, -35), (0.2, 0), (3.9, 0)),),
    "3": (((0.3, 6), (3.7, 6), (1.7, 3.6), *_bow((1.9, 1.8), (1.9, 1.8), 90, -150)),),
    "4": (((1.5, 6), (0, 1.9), (4, 1.9)), ((3, 3.9), (3, 0))),
    "5": (((3.6, 6), (0.7, 6), (0.4, 3.2), *_bow((1.9, 1.95), (1.95, 1.95), 125, -150)),),
    "6": (((2.9, 6), (0.35, 2.9)), _bow((2, 1.9), (1.9, 1.9), 0, 360)),
    "7": (((0.1, 6), (3.9, 6), (1.3, 0)), ((1, 3), (3.6, 3))),
    "8": (_bow((2, 4.5), (1.5, 1.5), 0, 360), _bow((2, 1.5), (1.9, 1.5), 0, 360)),
    "9": (((1.1, 0), (3.65, 3.1)), _bow((2, 4.1), (1.9, 1.9), 0, 360)),
}


def scribed_width(number: str, height: float) -> float:
    """How wide a scribed number is at that height [mm]."""
    return (len(number) * (WIDE + SPACE) - SPACE) * height / HIGH


def scribe(number: str, centre: Point, height: float) -> tuple[Shape, ...]:
    """A number in strokes about a centre, so high [mm]; characters that are no figures are left out."""
    figures = [c for c in number if c in FIGURES]
    unit, pen = height / HIGH, height / 8.3
    left, foot = centre[0] - scribed_width("0" * len(figures), height) / 2, centre[1] - height / 2
    shapes: list[Shape] = []
    for n, figure in enumerate(figures):
        x = left + n * (WIDE + SPACE) * unit
        shapes += [_placed(stroke, (x, foot), unit, pen) for stroke in FIGURES[figure]]
    if figures and set(figures) <= TURNABLE:
        bar = ((left, foot - 1.3 * unit), (2 * centre[0] - left, foot - 1.3 * unit))
        shapes.append(Path(points=bar, pen=pen, layer="log"))
    return tuple(shapes)


def _placed(stroke: Stroke, at: Point, unit: float, pen: float) -> Path:
    return Path(points=tuple((at[0] + x * unit, at[1] + y * unit) for x, y in stroke), pen=pen, layer="log")
