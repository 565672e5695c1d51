"""How is a log end drawn so that a wet thumb finds it? An outline, a ring that tells the wood, a scribed number."""

from collections import Counter
from collections.abc import Iterable, Sequence
from math import cos, hypot, pi, sin, sqrt
from typing import Final

from cordwright.book.drawing import (
    FINE_PEN,
    HAIR_PEN,
    OUTLINE_PEN,
    THIN_PEN,
    Circle,
    Drawing,
    Path,
    Point,
    Shape,
    Text,
    Tone,
    line,
    moved,
    outline,
    shifted,
    text_width,
)
from cordwright.book.marks import sleeve
from cordwright.book.scribe import HIGH, TURNABLE, scribe, scribed_width
from cordwright.wall.layout import Log

DOTTED: Final = (0.9, 0.55)
SOLID: Final[tuple[float, ...]] = ()
RINGS: Final[tuple[tuple[tuple[float, tuple[float, ...]], ...], ...]] = (
    ((0.88, SOLID),),
    ((0.86, DOTTED),),
    ((0.88, SOLID), (0.76, SOLID)),
    ((0.86, DOTTED), (0.74, DOTTED)),
)
"""By kind of wood, the commonest first: each ring's share of the radius and its dash. Further kinds carry none."""

TINY: Final = 5.2
"""Under this diameter on paper a log end carries its outline and its number only [mm]."""
TALLEST: Final = 3.6
FLOOR: Final = 1.8
"""No scribed figure is read below this height [mm]."""
SPREAD: Final = {"half": pi / 2, "quarter": pi / 4}
BARK_CHORDS: Final = 32
MARGIN: Final = 0.09
"""Figures in a split keep this share of the parent's radius clear of bark and flats."""
BAR: Final = 1.3
"""How far below a turnable number its bar lies, in sixths of its height."""


def kinds_of_wood(species: Iterable[str]) -> tuple[str, ...]:
    """The kinds of wood in the stock, the commonest first: each gets its ring by its place in this row."""
    counts = Counter(s for s in species if s)
    return tuple(sorted(counts, key=lambda s: (-counts[s], s)))


def figure_height(number: str, radius: float) -> float:
    """How high a number is scribed into a log end of that radius on paper [mm]; the rule is the project's own look."""
    tall, wide = (1.15, 1.68) if 2 * radius < TINY else (0.92, 1.4)
    return min(tall * radius, wide * radius / scribed_width(number, 1.0), TALLEST)


def figure_place(log: Log, centre: Point, radius: float, angle: float, number: str) -> tuple[Point, float]:
    """Where the middle of a number stands on paper, its bar left out, and how high it is scribed there [mm].

    In a round as in `figure_height`; in a half or quarter where on its axis the largest figures find room.
    """
    raised = 0.5 * BAR / HIGH if set(number) <= TURNABLE else 0.0
    if log.shape == "round":
        height = max(FLOOR, figure_height(number, radius))
        return (centre[0], centre[1] + raised * height), height
    room, away = _widest_in_split(log, angle, number)
    height = max(FLOOR, min(room * radius, TALLEST))
    x, y = shifted(centre, away * radius, angle)
    return (x, y + raised * height), height


def split_figure(log: Log, radius: float, angle: float, number: str) -> float:
    """How high a number can be scribed into a half or quarter on paper [mm], even if that is too small to read."""
    return min(_widest_in_split(log, angle, number)[0] * radius, TALLEST)


def _widest_in_split(log: Log, angle: float, number: str) -> tuple[float, float]:
    """The largest height of a number and where on the axis it stands, as shares of the parent's radius."""
    return max((_room_in_split(log, n / 40, angle, number), n / 40) for n in range(4, 33))


def _room_in_split(log: Log, away: float, angle: float, number: str) -> float:
    """How high a number can be about a place on a split's axis, as a share of the parent's radius."""
    wide = scribed_width(number, 1.0) / 2
    high = 0.5 * (1 + BAR / HIGH if set(number) <= TURNABLE else 1.0)
    corners = [(x * wide, y * high) for x in (-1, 1) for y in (-1, 1)]
    turned = [(x * cos(angle) + y * sin(angle), y * cos(angle) - x * sin(angle)) for x, y in corners]
    low, room = 0.0, 1.0
    while room - low > 1e-3:
        middle = (low + room) / 2
        fits = all(_within_split(log, away + middle * u, middle * v) for u, v in turned)
        low, room = (middle, room) if fits else (low, middle)
    return low


def _within_split(log: Log, along: float, across: float) -> bool:
    """Whether a place lies inside a split of radius 1 whose bark faces right, clear of its rim."""
    if hypot(along, across) > 1 - MARGIN:
        return False
    return along >= MARGIN if log.shape == "half" else along - abs(across) >= MARGIN * sqrt(2)


def draw_log_end(
    log: Log, centre: Point, radius: float, number: str, *, ring: int | None = None, angle: float = 0.0
) -> tuple[Shape, ...]:
    """A log end to lay.

    Args:
        log: the log end.
        centre: its parent's centre on paper [mm].
        radius: its parent's radius on paper [mm].
        number: its number in its lift.
        ring: which ring of `RINGS` tells its wood; None draws none.
        angle: the way a split's bark faces, counter-clockwise from the right [rad].
    """
    seat, height = figure_place(log, centre, radius, angle, number)
    rings: list[Circle] | list[Path] = _rings(centre, radius, ring)
    if log.shape != "round":
        rings = [_cut_by_flats(circle, angle, SPREAD[log.shape]) for circle in _rings(centre, radius, ring)]
    return (
        _face(log, centre, radius, angle, (OUTLINE_PEN, "white")),
        *rings,
        *scribe(number, seat, height),
    )


def draw_laid_end(log: Log, centre: Point, radius: float, *, angle: float = 0.0, tone: Tone = "grey") -> Shape:
    """A log end that stands already, or that belongs to the next sheet: a thin outline."""
    return _face(log, centre, radius, angle, (FINE_PEN, tone))


def _face(log: Log, centre: Point, radius: float, angle: float, ink: tuple[float, Tone]) -> Shape:
    pen, tone = ink
    if log.shape == "round":
        return Circle(centre=centre, radius=radius, pen=pen, tone=tone, layer="log")
    return outline(split_ring(centre, radius, angle, SPREAD[log.shape]), pen, "log", tone)


def split_ring(centre: Point, radius: float, angle: float, spread: float) -> tuple[Point, ...]:
    """The outline of a split: its parent's centre, then along its bark; its flats are the straight lines left."""
    bark = (angle + spread * (2 * n / BARK_CHORDS - 1) for n in range(BARK_CHORDS + 1))
    return (centre, *(shifted(centre, radius, a) for a in bark))


def _cut_by_flats(ring: Circle, angle: float, spread: float) -> Path:
    """The part of a ring that a split keeps: it ends on the flats."""
    points = split_ring(ring.centre, ring.radius, angle, spread)[1:]
    return Path(points=points, pen=ring.pen, dash=ring.dash, layer=ring.layer)


def _rings(centre: Point, radius: float, ring: int | None) -> list[Circle]:
    if ring is None or ring >= len(RINGS) or 2 * radius < TINY:
        return []
    return [
        Circle(centre=centre, radius=share * radius, pen=HAIR_PEN, dash=dash, layer="log")
        for share, dash in RINGS[ring]
    ]


def draw_stone(centre: Point, radius: float) -> Shape:
    """A filler as a rough stone: a many-sided round, never twice the same, the same in every print."""
    seed = centre[0] * 1.7 + centre[1] * 2.3
    corners = [
        shifted(centre, radius * (0.9 + 0.1 * sin(seed + 2.4 * n * n)), 2 * pi * (n + 0.3 * sin(seed + 1.9 * n)) / 8)
        for n in range(8)
    ]
    return outline(corners, THIN_PEN, "built-in", "white")


def draw_bottle_end(centre: Point, radius: float) -> tuple[Shape, ...]:
    """A bottle end: a ring within a ring, the middle filled; no log end has a mark there."""
    return (
        Circle(centre=centre, radius=radius, pen=OUTLINE_PEN, tone="white", layer="built-in"),
        Circle(centre=centre, radius=0.62 * radius, pen=FINE_PEN, layer="built-in"),
        Circle(centre=centre, radius=0.24 * radius, pen=FINE_PEN, tone="black", layer="built-in"),
    )


def draw_key(kinds: Sequence[str], name: str) -> Drawing:
    """What the marks on a laid panel mean, in one line or two to stand under it."""
    spruce = Log(id="", stem="", diameter=1.0)
    signs: list[tuple[tuple[Shape, ...], str]] = [
        (draw_log_end(spruce, (2.9, 0.0), 2.9, "7", ring=n), kind) for n, kind in enumerate(kinds[: len(RINGS)])
    ]
    signs += [
        (draw_log_end(spruce, (2.9, 0.0), 2.9, "6"), "bar: foot of figure"),
        ((draw_stone((2.9, 0.0), 2.0),), "stone"),
        (sleeve((2.9, 0.0), 1.2), "sleeve"),
        (draw_bottle_end((2.9, 0.0), 2.4), "bottle end"),
        ((line((0.0, 0.0), (6.0, 0.0), OUTLINE_PEN, "reference", (2.4, 0.9)),), "end of a lift"),
    ]
    return _in_rows(signs, name)


def _in_rows(signs: Sequence[tuple[tuple[Shape, ...], str]], name: str, width: float = 180.0) -> Drawing:
    places: list[tuple[float, int]] = []
    x, row = 1.0, 0
    for _, word in signs:
        wide = 7.0 + 0.92 * text_width(word, 3.7) + 3.0
        if x + wide > width and x > 1.0:
            x, row = 1.0, row + 1
        places.append((x, row))
        x += wide
    height = 7.2 * (row + 1)
    shapes: list[Shape] = []
    for (sign, word), (left, n) in zip(signs, places, strict=True):
        y = height - 3.6 - 7.2 * n
        shapes += [moved(s, (left, y)) for s in sign]
        shapes.append(Text(text=word, at=(left + 7.0, y - 1.3), size=3.7, anchor="start"))
    label = "Marks on a laid panel: " + ", ".join(word for _, word in signs)
    return Drawing(name=name, label=label, width=width, height=height, shapes=tuple(shapes))
