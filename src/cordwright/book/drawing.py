"""What is drawn on the sheet? Shapes in millimetres of paper, for whichever backend writes them.

x runs right and y runs up, from the lower left corner. Pens are the ones a draughtsman would pick up: 0.7 for the frame
of an opening down to 0.13 for a hairline. Nothing here knows of SVG or DXF.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from math import cos, hypot, sin
from typing import Final, Literal

Point = tuple[float, float]
Layer = Literal[
    "wall", "frame", "opening", "built-in", "hidden", "reference", "dimension", "text", "hatch", "ground", "log"
]
Material = Literal["timber", "mortar", "fill", "stone", "sand", "lime", "cement", "fibre"]
Tone = Literal["none", "white", "grey", "black"]
Face = Literal["words", "measures"]
Anchor = Literal["start", "middle", "end"]

BOLD_PEN: Final = 0.7
CUT_PEN: Final = 0.5
OUTLINE_PEN: Final = 0.35
THIN_PEN: Final = 0.25
FINE_PEN: Final = 0.18
HAIR_PEN: Final = 0.13

DASHED: Final = (2.4, 0.9)
CHAIN: Final = (5.0, 1.0, 0.8, 1.0)
SOLID: Final[tuple[float, ...]] = ()

WORD_WIDTH: Final = 0.52
MEASURE_WIDTH: Final = 0.602
"""Mean advance of a letter over the type size: of the word face about, of the measure face exactly."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Path:
    """A line, an open run of lines, or a closed outline with a tone inside."""

    points: tuple[Point, ...]
    pen: float = OUTLINE_PEN
    closed: bool = False
    dash: tuple[float, ...] = SOLID
    tone: Tone = "none"
    layer: Layer = "wall"


@dataclass(frozen=True, slots=True, kw_only=True)
class Circle:
    """A circle, with a tone inside."""

    centre: Point
    radius: float
    pen: float = OUTLINE_PEN
    dash: tuple[float, ...] = SOLID
    tone: Tone = "none"
    layer: Layer = "wall"


@dataclass(frozen=True, slots=True, kw_only=True)
class Arc:
    """Part of a circle, counter-clockwise from `start` to `end` [rad from the right]."""

    centre: Point
    radius: float
    start: float
    end: float
    pen: float = OUTLINE_PEN
    layer: Layer = "wall"


@dataclass(frozen=True, slots=True, kw_only=True)
class Text:
    """One line of writing: `at` is the letters' foot, `size` the type size [mm], `turn` counter-clockwise [rad]."""

    text: str
    at: Point
    size: float = 3.7
    anchor: Anchor = "middle"
    turn: float = 0.0
    face: Face = "words"
    bold: bool = False
    halo: bool = False
    light: bool = False
    layer: Layer = "text"


@dataclass(frozen=True, slots=True, kw_only=True)
class Hatch:
    """A material's hatch inside closed rings (the second and further rings are holes)."""

    rings: tuple[tuple[Point, ...], ...]
    material: Material
    layer: Layer = "hatch"


@dataclass(frozen=True, slots=True, kw_only=True)
class Squares:
    """Black squares on a grid that make one thing, such as a square code.

    `at` is the grid's upper left corner, `module` the side of a square [mm]; a run is column, row from the top, length.
    """

    at: Point
    module: float
    runs: tuple[tuple[int, int, int], ...]
    layer: Layer = "text"

    @property
    def boxes(self) -> "Iterator[tuple[Point, ...]]":
        """The corners of every run [mm]."""
        for column, row, length in self.runs:
            corner = (self.at[0] + column * self.module, self.at[1] - (row + 1) * self.module)
            yield box(corner, length * self.module, self.module)


@dataclass(frozen=True, slots=True, kw_only=True)
class Group:
    """Shapes that make one thing, such as a log end, with the name it bears and the point it is set out by [mm]."""

    name: str
    at: Point
    shapes: "tuple[Shape, ...]"
    layer: Layer = "log"


Shape = Path | Circle | Arc | Text | Hatch | Squares | Group


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawing:
    """One drawing: its name among the book's files, what it shows in words, its size [mm] and its shapes in order.

    `denominator` is N of the scale 1:N, None when it is drawn to none.
    """

    name: str
    label: str
    width: float
    height: float
    shapes: tuple[Shape, ...]
    denominator: float | None = None


def line(
    start: Point, end: Point, pen: float = OUTLINE_PEN, layer: Layer = "wall", dash: tuple[float, ...] = SOLID
) -> Path:
    """A straight line."""
    return Path(points=(start, end), pen=pen, dash=dash, layer=layer)


def outline(points: Iterable[Point], pen: float = OUTLINE_PEN, layer: Layer = "wall", tone: Tone = "none") -> Path:
    """A closed outline."""
    return Path(points=tuple(points), pen=pen, closed=True, layer=layer, tone=tone)


def box(corner: Point, width: float, height: float) -> tuple[Point, ...]:
    """The four corners of an upright rectangle from its lower left one [mm]."""
    x, y = corner
    return ((x, y), (x + width, y), (x + width, y + height), (x, y + height))


def along(start: Point, end: Point, share: float) -> Point:
    """The point at that share of the way."""
    return (start[0] + (end[0] - start[0]) * share, start[1] + (end[1] - start[1]) * share)


def distance(start: Point, end: Point) -> float:
    """How far apart two points are."""
    return hypot(end[0] - start[0], end[1] - start[1])


def shifted(point: Point, length: float, angle: float) -> Point:
    """The point moved by a length in a direction [rad from the right]."""
    return (point[0] + length * cos(angle), point[1] + length * sin(angle))


def text_width(text: str, size: float, face: Face = "words") -> float:
    """About how wide a line of writing comes out [mm]."""
    return len(text) * size * (MEASURE_WIDTH if face == "measures" else WORD_WIDTH)


def fitted(text: str, width: float, size: float, face: Face = "words") -> str:
    """The text, cut with an ellipsis where it would run past the width [mm]; the tables always say it whole."""
    flat = " ".join(text.split())
    if text_width(flat, size, face) <= width:
        return flat
    room = max(1, int(width / (size * (MEASURE_WIDTH if face == "measures" else WORD_WIDTH))) - 1)
    return flat[:room].rstrip() + "…"


def every(shapes: Iterable[Shape]) -> Iterator[Shape]:
    """All shapes, those of groups one by one."""
    for shape in shapes:
        if isinstance(shape, Group):
            yield from every(shape.shapes)
        else:
            yield shape


def moved(shape: Shape, by: Point) -> Shape:
    """The same shape elsewhere on the paper."""

    def there(point: Point) -> Point:
        return (point[0] + by[0], point[1] + by[1])

    if isinstance(shape, Path):
        return replace(shape, points=tuple(map(there, shape.points)))
    if isinstance(shape, Circle | Arc):
        return replace(shape, centre=there(shape.centre))
    if isinstance(shape, Text):
        return replace(shape, at=there(shape.at))
    if isinstance(shape, Squares):
        return replace(shape, at=there(shape.at))
    if isinstance(shape, Group):
        return replace(shape, at=there(shape.at), shapes=tuple(moved(part, by) for part in shape.shapes))
    return replace(shape, rings=tuple(tuple(map(there, ring)) for ring in shape.rings))


def heights_of(shape: Shape) -> tuple[float, float]:
    """From where to where a shape reaches up the paper, pens left out [mm]."""
    if isinstance(shape, Circle | Arc):
        return (shape.centre[1] - shape.radius, shape.centre[1] + shape.radius)
    if isinstance(shape, Text):
        run = text_width(shape.text, shape.size, shape.face) * abs(sin(shape.turn)) / 2
        return (shape.at[1] - max(run, 0.25 * shape.size), shape.at[1] + max(run, 0.75 * shape.size))
    if isinstance(shape, Group):
        feet, tops = zip(*(heights_of(part) for part in shape.shapes), strict=True)
        return (min(feet), max(tops))
    if isinstance(shape, Squares):
        rows = [row for _, row, _ in shape.runs]
        return (shape.at[1] - (max(rows) + 1) * shape.module, shape.at[1] - min(rows) * shape.module)
    points = shape.points if isinstance(shape, Path) else [p for ring in shape.rings for p in ring]
    return (min(y for _, y in points), max(y for _, y in points))


def strip_of(drawing: Drawing, low: float, high: float) -> Drawing:
    """What lies between two heights on the paper [mm], as a drawing of its own.

    Lines that reach out are cut off by the picture's edge; writing that does not lie wholly within is left out.
    """

    def within(shape: Shape) -> bool:
        foot, top = heights_of(shape)
        return low <= foot and top <= high if isinstance(shape, Text) else foot < high and top > low

    kept = [shape for shape in drawing.shapes if within(shape)]
    return replace(drawing, height=high - low, shapes=tuple(moved(s, (0.0, -low)) for s in kept))
