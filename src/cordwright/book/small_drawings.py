"""How are counts and limits shown so that they are read with a wet thumb? Buckets by the row, and the plumb line.

A check is a lath: a bar of demand on a common scale from nothing to 1.6 times the limit; the limit of all checks is one
plumb line. A bar left of it holds, one that runs past it is short by the piece in solid black.
"""

from math import floor
from typing import Final

from cordwright.base import Check
from cordwright.book.drawing import (
    CUT_PEN,
    FINE_PEN,
    OUTLINE_PEN,
    THIN_PEN,
    Circle,
    Drawing,
    Hatch,
    Material,
    Path,
    Point,
    Shape,
    box,
    line,
    outline,
)

LATH_WIDTH: Final = 80.0
LATH_END: Final = 1.6
BAR_FOOT, BAR_HIGH, LATH_HIGH = 4.0, 5.0, 10.5
BUCKETS_A_ROW: Final = 5
MOST_BUCKETS: Final = 30
PITCH_X, PITCH_Y = 14.0, 12.6


def lath_x(share: float) -> float:
    """Where a share of the limit lies on the lath [mm]."""
    return min(share, LATH_END) / LATH_END * LATH_WIDTH


LIMIT: Final = LATH_WIDTH / LATH_END


def draw_lath(check: Check, name: str) -> Drawing:
    """The bar of one check; without a verdict an empty dashed one."""
    shapes = _judged(check) if check.ratio is not None else _unjudged()
    return Drawing(
        name=name, label=f"{check.label}: {check.verdict}", width=LATH_WIDTH, height=LATH_HIGH, shapes=tuple(shapes)
    )


def _unjudged() -> list[Shape]:
    ring = box((0.3, BAR_FOOT), LIMIT * 0.9, BAR_HIGH)
    return [Path(points=ring, closed=True, pen=OUTLINE_PEN, dash=(1.2, 1.0), layer="reference")]


def _judged(check: Check) -> list[Shape]:
    assert check.ratio is not None
    assert check.capacity
    low, high = ((check.demand if v is None else v) for v in (check.low, check.high))
    assert low is not None
    assert high is not None
    start, middle, end = (lath_x(v / check.capacity) for v in (low, check.demand or 0.0, high))
    shapes: list[Shape] = []
    if start > 0:
        body = box((0, BAR_FOOT), start, BAR_HIGH)
        shapes += [outline(body, 0, "log", "white"), Hatch(rings=(body,), material="timber")]
    if end > start:
        shapes.append(outline(box((start, BAR_FOOT), end - start, BAR_HIGH), THIN_PEN, "log", "white"))
        shapes += _stripes(start, end)
    if middle > LIMIT:
        shapes.append(outline(box((LIMIT, BAR_FOOT), middle - LIMIT, BAR_HIGH), 0, "log", "black"))
    if end > 0:
        shapes.append(outline(box((0, BAR_FOOT), end, BAR_HIGH), OUTLINE_PEN, "log"))
    shapes.append(line((middle, BAR_FOOT - 0.9), (middle, BAR_FOOT + BAR_HIGH + 0.9), 1.0, "log"))
    if (check.demand or 0.0) / check.capacity > LATH_END:
        shapes += _jog()
    return [*shapes, *_margin(middle)]


def _stripes(start: float, end: float) -> list[Shape]:
    count = floor((end - start) / 1.6)
    return [
        line((start + 1.6 * n, BAR_FOOT), (start + 1.6 * n, BAR_FOOT + BAR_HIGH), FINE_PEN, "log")
        for n in range(1, count + 1)
    ]


def _jog() -> list[Shape]:
    x, low, high = LATH_WIDTH - 4, BAR_FOOT - 1, BAR_FOOT + BAR_HIGH + 1
    return [
        Path(points=((x - 1, low), (x + 1, low + 2.5), (x - 1, high - 2.5), (x + 1, high)), pen=1.6, layer="reference")
    ]


def _margin(middle: float) -> list[Shape]:
    """The margin as a part with its own dimension, between the tick and the plumb line."""
    if abs(middle - LIMIT) < 0.8:
        return []
    y = 1.6
    ends = (min(middle, LIMIT), max(middle, LIMIT))
    strokes = [line((x - 0.9, y - 0.9), (x + 0.9, y + 0.9), OUTLINE_PEN, "dimension") for x in ends]
    return [line((ends[0], y), (ends[1], y), FINE_PEN, "dimension"), *strokes]


def vial(verdict: str, name: str) -> Drawing:
    """A level's vial: bubble between the lines, at them, run out, or an empty dashed one where nothing is judged."""
    dash = (1.0, 0.8) if verdict == "not judged" else ()
    shapes: list[Shape] = [_capsule(dash), *(line((x, 0.7), (x, 4.7), FINE_PEN, "reference") for x in (3.6, 6.4))]
    place = {"holds": 5.0, "close": 6.4, "short": 8.1}.get(verdict)
    if place is not None:
        shapes.append(Circle(centre=(place, 2.7), radius=1.25, pen=0, tone="black", layer="reference"))
    return Drawing(name=name, label=verdict, width=10, height=5.4, shapes=tuple(shapes))


def _capsule(dash: tuple[float, ...]) -> Path:
    corners = (
        (2.5, 0.4),
        (7.5, 0.4),
        (9.1, 1.1),
        (9.7, 2.7),
        (9.1, 4.3),
        (7.5, 5.0),
        (2.5, 5.0),
        (0.9, 4.3),
        (0.3, 2.7),
        (0.9, 1.1),
    )
    return Path(points=corners, closed=True, pen=CUT_PEN, dash=dash, tone="white", layer="reference")


def draw_buckets(count: float, material: Material, name: str) -> Drawing:
    """So many buckets in rows of five, a part of one filled to its height; beyond thirty only the figure tells."""
    drawn = min(count, MOST_BUCKETS)
    whole, rest = int(drawn), drawn - int(drawn)
    fills = [1.0] * whole + ([rest] if rest > 1e-9 else [])
    rows = max(1, -(-len(fills) // BUCKETS_A_ROW))
    shapes: list[Shape] = []
    for n, share in enumerate(fills):
        at = (PITCH_X * (n % BUCKETS_A_ROW) + PITCH_X / 2, PITCH_Y * (rows - 1 - n // BUCKETS_A_ROW) + 0.8)
        shapes += _bucket(at, material, share)
    label = f"{count:g} buckets"
    return Drawing(name=name, label=label, width=PITCH_X * BUCKETS_A_ROW, height=PITCH_Y * rows, shapes=tuple(shapes))


def _bucket(at: Point, material: Material, share: float) -> list[Shape]:
    x, y = at
    high, foot, rim = 10.0, 3.6, 5.0
    top = foot + (rim - foot) * share
    inside = ((x - foot, y), (x + foot, y), (x + top, y + high * share), (x - top, y + high * share))
    body = ((x - foot, y), (x + foot, y), (x + rim, y + high), (x - rim, y + high))
    bail = tuple(
        (x + rim * 0.93 * dx, y + high - 0.6 - dy)
        for dx, dy in ((-1, 0), (-0.8, 2.0), (-0.45, 3.2), (0, 3.6), (0.45, 3.2), (0.8, 2.0), (1, 0))
    )
    handle: list[Shape] = [] if material == "cement" else [Path(points=bail, pen=0.4, layer="reference")]
    shapes: list[Shape] = [
        outline(body, 0, "reference", "white"),
        Hatch(rings=(inside,), material=material),
        outline(body, CUT_PEN, "reference"),
    ]
    return [*shapes, *handle, line((x - rim - 0.6, y + high), (x + rim + 0.6, y + high), 1.1, "reference")]
