"""How do the sands look beside the masonry band? Share finer across the logarithm of the size, grains drawn below.

The sand nearest the band is the thick line with rings at its sieves; rivals are thinner, each with its own dash and its
name at the line. What lies farthest outside is dimensioned like a part. Sands that were only settled in a jar are drawn
as jars.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import product
from math import log
from typing import Final

import numpy as np
from numpy.typing import NDArray

from cordwright.book.drawing import (
    CHAIN,
    CUT_PEN,
    DASHED,
    FINE_PEN,
    HAIR_PEN,
    OUTLINE_PEN,
    SOLID,
    THIN_PEN,
    Anchor,
    Circle,
    Drawing,
    Hatch,
    Path,
    Point,
    Shape,
    Text,
    box,
    fitted,
    line,
    outline,
    text_width,
)
from cordwright.mortar.grading import Grading
from cordwright.mortar.grading_bands import Band, Excursion

WIDTH: Final = 174.0
LEFT, RIGHT, FOOT, HEAD = 14.0, 170.0, 23.0, 7.5
TALLEST: Final = 78.0
MAIN_PEN: Final = 1.2
RIVAL_PEN: Final = 0.45
RIVAL_DASHES: Final = (DASHED, CHAIN, (0.5, 0.9), (5.0, 1.6), (2.4, 0.8, 0.5, 0.8))
"""As many rivals as can be told apart are drawn; the table holds all."""
LABEL: Final = 3.7
LONGEST_LABEL: Final = 42.0
SAMPLES: Final = 300
EVERY: Final = 3
"""A name may stand at every third of them."""
TOUCHING, UNREADABLE = 0.6, 20.0
"""A name nearer to its own line than the first is as bad as one this far from it [mm]."""
ROOM: Final = 5.0
"""Distance from the other lines beyond which a name stands free [mm]."""
LIFE: Final = (8, 6, 5, 4, 3, 2, 1)
"""How many times its own size a grain may be drawn."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """One sand on the chart: its name and its curve."""

    name: str
    curve: Grading


@dataclass(frozen=True, slots=True, kw_only=True)
class Tick:
    """A size on the axis [m] with its name as the owner knows it."""

    size: float
    name: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Excess:
    """A place where a sand leaves the band, with the words that are set beside it."""

    excursion: Excursion
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Marks:
    """What stands on the chart: the sand nearest the band first, its rivals, the band, the axis and the worst place."""

    lines: tuple[Line, ...]
    band: Band
    band_words: str
    ticks: tuple[Tick, ...]
    axis_words: str
    worst: Excess | None


class _Chart:
    """Places sizes and shares on the paper."""

    def __init__(self, ticks: Sequence[Tick], high: float) -> None:
        self.high, self.top = high, FOOT + high
        self.least, self.most = ticks[0].size, ticks[-1].size
        pad = 0.35 / max(1, len(ticks) - 1)
        self._left = LEFT + pad * (RIGHT - LEFT)
        self._wide = (1 - 2 * pad) * (RIGHT - LEFT)

    def x(self, size: float) -> float:
        """Where a size [m] lies from the left [mm]."""
        return self._left + log(size / self.least) / log(self.most / self.least) * self._wide

    def y(self, share: float) -> float:
        """Where a share [1] lies from the foot [mm]."""
        return FOOT + share * self.high

    def points(self, curve: Grading) -> tuple[Point, ...]:
        """The curve at its own sieves, as far as the axis reaches."""
        pairs = zip(curve.openings, curve.passing, strict=True)
        return tuple((self.x(s), self.y(p)) for s, p in pairs if self.x(s) <= RIGHT and self.x(s) >= LEFT)

    def samples(self, curve: Grading) -> list[Point]:
        """Points close together along the curve."""
        sizes = [self.least * (self.most / self.least) ** (i / SAMPLES) for i in range(SAMPLES + 1)]
        found = [(s, curve.at(s)) for s in sizes]
        return [(self.x(s), self.y(p)) for s, p in found if p is not None]


def draw_sands(marks: Marks, high: float = TALLEST) -> Drawing:
    """The chart of the sands.

    Args:
        marks: what stands on it, at least one line.
        high: height of the frame [mm].
    """
    chart = _Chart(marks.ticks, high)
    lines = marks.lines[: 1 + len(RIVAL_DASHES)]
    shapes = (
        *_band(chart, marks),
        *_frame(chart, marks),
        *(s for line_, dash in zip(lines[1:], RIVAL_DASHES, strict=False) for s in _rival(chart, line_, dash)),
        *_main(chart, lines[0]),
        *_excess(chart, marks.worst),
        *_labels(chart, lines, marks.worst),
        *_grains(chart, marks.ticks),
    )
    named = ", ".join(line_.name for line_ in lines)
    return Drawing(name="sand", label=f"Passing curves of {named}", width=WIDTH, height=chart.top + HEAD, shapes=shapes)


def _band(chart: _Chart, marks: Marks) -> Iterator[Shape]:
    limits = [limit for limit in marks.band.limits if chart.x(limit.opening) >= LEFT]
    upper = [(chart.x(m.opening), chart.y(m.high)) for m in limits]
    lower = [(chart.x(m.opening), chart.y(m.low)) for m in limits]
    yield outline((*upper, *reversed(lower)), 0, "hatch", "grey")
    for edge in (upper, lower):
        yield Path(points=tuple(edge), pen=THIN_PEN, dash=(0.3, 0.9), layer="reference")
    yield Text(text=marks.band_words, at=(RIGHT, chart.top + 3), size=3.4, anchor="end")


def _frame(chart: _Chart, marks: Marks) -> Iterator[Shape]:
    for percent in range(0, 101, 20):
        y = chart.y(percent / 100)
        yield line((LEFT, y), (RIGHT, y), CUT_PEN if percent == 0 else HAIR_PEN, "reference")
        yield Text(text=str(percent), at=(LEFT - 1.5, y - 1.2), size=3.4, anchor="end", face="measures")
    yield Text(text="% finer than", at=(LEFT, chart.top + 3), size=3.6, anchor="start")
    for tick in marks.ticks:
        x = chart.x(tick.size)
        yield line((x, FOOT), (x, FOOT - 1.6), FINE_PEN, "dimension")
        yield Text(text=tick.name, at=(x, 4.7), size=3.4, face="measures")
    yield Text(text=marks.axis_words, at=(LEFT, 0.8), size=3.4, anchor="start")


def _grains(chart: _Chart, ticks: Sequence[Tick]) -> Iterator[Shape]:
    """A grain of each size, all to one scale, so that the eye knows them again."""
    times = life_size(ticks)
    for tick in ticks:
        radius = max(0.1, tick.size * 1000 * times / 2)
        centre = (chart.x(tick.size), FOOT - 8.8)
        yield Circle(centre=centre, radius=radius, pen=min(OUTLINE_PEN, radius), tone="white", layer="reference")
    yield Text(text=f"grains {times} times their size", at=(RIGHT, 0.8), size=3.4, anchor="end")


def life_size(ticks: Sequence[Tick]) -> int:
    """How many times their size the grains are drawn: as large as the widest leaves room for."""
    return next((times for times in LIFE if ticks[-1].size * 1000 * times <= 12), 1)


def _rival(chart: _Chart, line_: Line, dash: tuple[float, ...]) -> Iterator[Shape]:
    yield Path(points=chart.points(line_.curve), pen=RIVAL_PEN, dash=dash, layer="log")


def _main(chart: _Chart, line_: Line) -> Iterator[Shape]:
    points = chart.points(line_.curve)
    yield Path(points=points, pen=MAIN_PEN, dash=SOLID, layer="log")
    yield from (Circle(centre=p, radius=1.1, pen=OUTLINE_PEN, tone="white", layer="log") for p in points)


def _span(chart: _Chart, excursion: Excursion) -> tuple[float, float, float]:
    limit = excursion.high if excursion.by > 0 else excursion.low
    return chart.x(excursion.opening), chart.y(limit), chart.y(excursion.has)


def _excess(chart: _Chart, worst: Excess | None) -> Iterator[Shape]:
    """A dimension from the band's edge to the curve, with strokes at both ends."""
    if worst is None:
        return
    x, edge, has = _span(chart, worst.excursion)
    yield line((x, edge), (x, has), 0.6, "dimension")
    for y in (edge, has):
        yield line((x - 1.3, y - 1.3), (x + 1.3, y + 1.3), CUT_PEN, "dimension")
    yield Text(text=worst.words, at=_words_at(chart, worst), size=3.5, anchor=_words_side(worst), bold=True, halo=True)


def _words_side(worst: Excess) -> Anchor:
    return "end" if worst.excursion.by > 0 else "start"


def _words_at(chart: _Chart, worst: Excess) -> Point:
    """Where the curve has not yet come up, or is up already: a passing curve only rises."""
    x, _, has = _span(chart, worst.excursion)
    if worst.excursion.by > 0:
        return x - 1.5, has + 0.9 if has < chart.top - 5 else chart.top + 1.0
    return x + 2.5, max(has - 4.3, FOOT + 1)


Rectangle = tuple[float, float, float, float]


def _labels(chart: _Chart, lines: Sequence[Line], worst: Excess | None) -> Iterator[Shape]:
    """Each name at its own line, where the others are farthest."""
    taken: list[Rectangle] = []
    if worst is not None:
        at, wide = _words_at(chart, worst), text_width(worst.words, 3.5)
        left = at[0] - wide if _words_side(worst) == "end" else at[0]
        x, edge, has = _span(chart, worst.excursion)
        taken += [(left, at[1] - 1, left + wide, at[1] + 3.5), (x - 1.3, min(edge, has), x + 1.3, max(edge, has))]
    runs = [chart.samples(line_.curve) for line_ in lines]
    for i, line_ in enumerate(lines):
        name = fitted(line_.name, LONGEST_LABEL, LABEL)
        room = _room(chart, runs, i, text_width(name, LABEL), taken)
        taken.append(room)
        yield Text(text=name, at=(room[0], room[1] + 0.9), size=LABEL, anchor="start", bold=i == 0, halo=True)


def _room(chart: _Chart, runs: Sequence[list[Point]], own: int, wide: float, taken: Sequence[Rectangle]) -> Rectangle:
    """The rectangle beside one's own line that lies farthest from the other lines and what is written already."""
    rooms = list(_rooms(chart, runs[own][::EVERY], wide))
    others = [(x, y, x, y) for i, run in enumerate(runs) if i != own for x, y in run]
    free = np.minimum(_gap(rooms, others), ROOM)
    free = np.minimum(free, _gap(rooms, taken))
    near = _gap(rooms, [(x, y, x, y) for x, y in runs[own]])
    return rooms[int(np.argmax(free - np.where(near <= TOUCHING, UNREADABLE, near)))]


def _rooms(chart: _Chart, run: Sequence[Point], wide: float) -> Iterator[Rectangle]:
    for (x, y), right, up in product(run, (False, True), (0.6, -1.6, -4.3)):
        left = x + 1.2 if right else x - 1.2 - wide
        if left >= LEFT + 1 and left + wide <= RIGHT - 1 and FOOT + 1 <= y + up <= chart.top - 4.6:
            yield (left, y + up, left + wide, y + up + LABEL)
    yield (LEFT + 1, FOOT + 2, LEFT + 1 + wide, FOOT + 2 + LABEL)  # a name as long as the chart still stands somewhere


def _gap(rooms: Sequence[Rectangle], others: Sequence[Rectangle]) -> NDArray[np.float64]:
    """How far each room is from the nearest of the others, nothing where they meet, far where there are none [mm]."""
    if not others:
        return np.full(len(rooms), np.inf)
    room, other = np.array(rooms)[:, None, :], np.array(others)[None, :, :]
    across = np.maximum(other[..., 0] - room[..., 2], room[..., 0] - other[..., 2])
    up = np.maximum(other[..., 1] - room[..., 3], room[..., 1] - other[..., 3])
    nearest: NDArray[np.float64] = np.hypot(np.maximum(across, 0), np.maximum(up, 0)).min(axis=1)
    return nearest


@dataclass(frozen=True, slots=True, kw_only=True)
class Jar:
    """One jar: the sand's name, the share of the height that is silt and clay [1], and that in words."""

    name: str
    silt: float
    words: str


JAR_WIDE, JAR_HIGH, SAND_HIGH = 14.0, 42.0, 30.0
MOST_JARS: Final = 4


def draw_jars(jars: Sequence[Jar], most: float, most_words: str) -> Drawing:
    """Jars side by side, the sand below, silt and clay black above it, water on top; a line where it is too much.

    Args:
        jars: at least one; four are drawn.
        most: share that is still taken [1].
        most_words: what stands at that line.
    """
    shown = jars[:MOST_JARS]
    step = WIDTH / MOST_JARS
    shapes = [s for n, jar in enumerate(shown) for s in _jar(jar, step * n + 4, most, most_words)]
    label = "Jars: " + ", ".join(f"{jar.name} {jar.words}" for jar in shown)
    return Drawing(name="jars", label=label, width=WIDTH, height=JAR_HIGH + 14, shapes=tuple(shapes))


def _jar(jar: Jar, left: float, most: float, most_words: str) -> Iterator[Shape]:
    foot, right = 11.0, left + JAR_WIDE
    sand = SAND_HIGH * (1 - jar.silt)
    yield Hatch(rings=(box((left, foot), JAR_WIDE, sand),), material="sand")
    yield outline(box((left, foot + sand), JAR_WIDE, SAND_HIGH - sand), 0, "log", "black")
    yield outline(box((left, foot), JAR_WIDE, JAR_HIGH), CUT_PEN, "frame")
    yield line((left - 1.5, foot + JAR_HIGH), (right + 1.5, foot + JAR_HIGH), 1.2, "frame")
    limit = foot + SAND_HIGH * (1 - most)
    yield line((right, limit), (right + 3, limit), OUTLINE_PEN, "dimension")
    yield Text(text=most_words, at=(right + 3.6, limit - 3.8), size=3.2, anchor="start")
    yield Text(text=jar.words, at=(right + 3.6, limit + 2.2), size=4.0, anchor="start", bold=True)
    yield Text(text=fitted(jar.name, WIDTH / MOST_JARS - 6, 3.8), at=(left, foot - 5.5), size=3.8, anchor="start")
