"""How large can it be drawn? The largest scale of the trade that fits the sheet, and the way from the site to paper."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

from cordwright.base import InputError
from cordwright.base.units import FOOT
from cordwright.book.drawing import Drawing, Path, Point, Shape, Text, Tone, box
from cordwright.book.formats import Units

METRIC_SCALES: Final = (10, 12.5, 15, 20, 25, 30, 40, 50, 60, 75, 100, 150, 200, 250, 500, 1000, 2000, 5000, 10000)
IMPERIAL_SCALES: Final = (12, 16, 24, 32, 48, 64, 96, 128, 192, 384, 600, 1200, 2400, 4800, 9600)
"""Imperial ones are 1 in, 3/4 in, 1/2 in, 3/8 in, 1/4 in, 3/16 in, 1/8 in ... to the foot."""
INCHES_TO_THE_FOOT: Final = {12: "1", 16: "3/4", 24: "1/2", 32: "3/8", 48: "1/4", 64: "3/16", 96: "1/8"}

BAR_STEPS: Final = (0.05, 0.1, 0.2, 0.25, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0)
BAR_PARTS: Final = 4
BAR_ROOM: Final = 50.0


def scales_of(units: Units) -> tuple[float, ...]:
    """The scales drawn to, the largest drawing first."""
    return IMPERIAL_SCALES if units == "imperial" else METRIC_SCALES


def choose_scale(width: float, height: float, room: tuple[float, float], units: Units = "metric") -> float:
    """The denominator N of the largest usual scale 1:N at which width x height [m] fits the room [mm].

    Raises:
        InputError: nothing to draw, or larger than any sheet holds.
    """
    if not (width > 0 and height > 0 and min(room) > 0):
        raise InputError("there is nothing to draw, or no room to draw it")
    for denominator in scales_of(units):
        if width * 1000 / denominator <= room[0] + 1e-9 and height * 1000 / denominator <= room[1] + 1e-9:
            return float(denominator)
    raise InputError(f"{max(width, height):.0f} m do not fit a sheet at any usual scale")


def show_scale(denominator: float, units: Units = "metric") -> str:
    """The scale in the owner's words: "1:20", or "1/2 in to the foot (1:24)"."""
    inches = INCHES_TO_THE_FOOT.get(round(denominator)) if units == "imperial" else None
    return f"{inches} in to the foot (1:{denominator:g})" if inches else f"1:{denominator:g}"


@dataclass(frozen=True, slots=True, kw_only=True)
class ToPaper:
    """From metres on the site to millimetres on the paper: a scale, a place, and quarter turns clockwise."""

    denominator: float
    origin: Point = (0.0, 0.0)
    quarters: int = 0

    def __call__(self, point: Point) -> Point:
        """The point on the paper [mm]."""
        x, y = turned(point, self.quarters)
        return (self.origin[0] + x * 1000 / self.denominator, self.origin[1] + y * 1000 / self.denominator)

    def all(self, points: Iterable[Point]) -> tuple[Point, ...]:
        """Many points on the paper [mm]."""
        return tuple(self(p) for p in points)

    def length(self, metres: float) -> float:
        """A length [m] on the paper [mm]."""
        return metres * 1000 / self.denominator


def turned(point: Point, quarters: int) -> Point:
    """The point after so many quarter turns clockwise about the origin."""
    x, y = point
    for _ in range(quarters % 4):
        x, y = y, -x
    return (x, y)


def extent(points: Iterable[Point]) -> tuple[float, float, float, float]:
    """Least x, least y, largest x, largest y."""
    xs, ys = zip(*points, strict=True)
    return (min(xs), min(ys), max(xs), max(ys))


def bar_step(denominator: float, units: Units) -> float:
    """The length of one part of the scale bar [m]: the largest round one whose four parts fit."""
    unit = FOOT if units == "imperial" else 1.0
    fitting = [s for s in BAR_STEPS if s * unit * 1000 / denominator * BAR_PARTS <= BAR_ROOM]
    return (fitting[-1] if fitting else BAR_STEPS[0]) * unit


def scale_bar(denominator: float, units: Units) -> Drawing:
    """A bar of four parts to scale, because copiers shrink."""
    step = bar_step(denominator, units)
    part = step * 1000 / denominator
    shapes: list[Shape] = []
    for n in range(BAR_PARTS):
        tone: Tone = "black" if n % 2 == 0 else "white"
        shapes.append(
            Path(points=box((6 + n * part, 6.0), part, 2.2), pen=0.3, closed=True, tone=tone, layer="reference")
        )
    for n in (0, 1, 2, 4):
        shapes.append(Text(text=_bar_word(step * n, units), at=(6 + n * part, 1.6), size=3.2, face="measures"))
    shapes.append(
        Text(text="ft" if units == "imperial" else "mm", at=(6 + BAR_PARTS * part + 2, 6.2), size=3.2, anchor="start")
    )
    label = f"Scale bar, {show_scale(denominator, units)}"
    name = f"bar-{denominator:g}".replace(".", "-")
    return Drawing(
        name=name, label=label, width=part * BAR_PARTS + 16, height=9.5, shapes=tuple(shapes), denominator=denominator
    )


def _bar_word(length: float, units: Units) -> str:
    return f"{length / FOOT:g}" if units == "imperial" else f"{round(length * 1000)}"
