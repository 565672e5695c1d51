"""How do the log ends dry through the months? Time runs down like a calendar, moisture across, the target a plumb line.

Left of the plumb line the wood is dry enough. What the air asks for is a line in steps; own measurements are black
diamonds; when each size gets there stands in the strip at the right, low to high with a tick at the middle.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Final

import numpy as np

from cordwright.book.drawing import (
    FINE_PEN,
    HAIR_PEN,
    OUTLINE_PEN,
    THIN_PEN,
    Drawing,
    Path,
    Point,
    Shape,
    Text,
    box,
    line,
    outline,
)
from cordwright.timber import Curve, Forecast

WIDTH: Final = 174.0
LEFT, RIGHT, TOP, FOOT = 25.0, 136.0, 19.0, 14.0
LEAST, MOST = 8.0, 31.0
"""Percent of moisture at the left and the right edge."""
WET: Final = 28.0
STRIP: Final = (146.0, 156.0, 166.0)
BOX_WIDE: Final = 5.0
MONTH_HIGH, TALLEST = 8.2, 205.0
LEAST_MONTHS, MOST_MONTHS = 14, 34
SIZES: Final = ("small", "mean", "largest")
PENS: Final = {"small": (0.55, (1.2, 0.8)), "mean": (1.3, ()), "largest": (0.55, (4.0, 0.9))}
AIR_PEN: Final = 0.75
AIR_DASH: Final = (0.45, 0.85)
LABEL_AT: Final = {"small": 23.6, "mean": 22.6, "largest": 25.2}
MONTHS: Final = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


@dataclass(frozen=True, slots=True, kw_only=True)
class Marks:
    """What stands on the chart besides the curves: words already in the owner's language and units.

    `ready` are the earliest, middle and latest day for each size (None: not within the forecast); `wet` the days of
    readings that said wet.
    """

    target: float | None
    target_words: str
    laying: date | None
    laying_words: str
    size_words: dict[str, str]
    ready: dict[str, tuple[date | None, date | None, date | None]]
    wet: tuple[date, ...]


class _Chart:
    """Places days and moistures on the paper."""

    def __init__(self, first: date, months: int, tallest: float) -> None:
        self.months = months
        self.firsts = [_month(first, n) for n in range(months + 1)]
        self.step = min(MONTH_HIGH, (tallest - TOP - FOOT) / months)
        self.height = TOP + FOOT + months * self.step
        self._ordinals = np.array([d.toordinal() for d in self.firsts], dtype=np.float64)

    def x(self, moisture: float) -> float:
        """Where a moisture [1] lies from the left [mm]."""
        share = (100 * moisture - LEAST) / (MOST - LEAST)
        return LEFT + min(1.0, max(0.0, share)) * (RIGHT - LEFT)

    def y(self, day: float) -> float:
        """Where an ordinal day lies from the foot [mm]."""
        passed = float(np.interp(day, self._ordinals, np.arange(self.months + 1)))
        return self.height - TOP - passed * self.step

    @property
    def last(self) -> float:
        """The last day on the chart, as an ordinal."""
        return float(self._ordinals[-1])


def _month(first: date, n: int) -> date:
    year, month = divmod(first.year * 12 + first.month - 1 + n, 12)
    return date(year, month + 1, 1)


def draw_drying(made: Forecast, marks: Marks, tallest: float = TALLEST) -> Drawing:
    """The chart of one stack.

    Args:
        made: the forecast, with curves.
        marks: what else stands on it.
        tallest: room on the sheet [mm].
    """
    assert made.air is not None
    assert made.stack.start is not None
    chart = _Chart(made.stack.start, _months_shown(made, marks), tallest)
    shapes = (
        *_ground(chart, marks.target),
        *_band(chart, made.curve("mean")),
        *_air(chart, made, marks.laying),
        *(shape for name in SIZES for shape in _curve(chart, made.curve(name), marks.size_words[name])),
        *_plumb_line(chart, marks),
        *_laying(chart, marks),
        *_measured(chart, made, marks),
        *_strip(chart, marks),
    )
    label = f"Moisture of the log ends by month, {marks.target_words or 'no target stated'}, as forecast"
    return Drawing(name="drying", label=label, width=WIDTH, height=chart.height, shapes=shapes)


def _months_shown(made: Forecast, marks: Marks) -> int:
    start = made.stack.start
    assert start is not None
    days = [d for size in SIZES for d in marks.ready[size][:2] if d is not None]
    days += [marks.laying] if marks.laying else []
    days += [p.day for p in made.points]
    last = max((d for d in days if d >= start), default=start)
    months = (last.year - start.year) * 12 + last.month - start.month + 4
    return max(LEAST_MONTHS, min(MOST_MONTHS, months))


def _ground(chart: _Chart, target: float | None) -> Iterator[Shape]:
    foot, head = chart.y(chart.last), chart.height - TOP
    wet = box((chart.x(WET / 100), foot), RIGHT - chart.x(WET / 100), head - foot)
    yield outline(wet, 0, "hatch", "grey")
    for n, first in enumerate(chart.firsts):
        y = head - n * chart.step
        yield line((LEFT, y), (RIGHT, y), FINE_PEN if first.month == 1 else HAIR_PEN, "reference")
        if n < chart.months:
            name = MONTHS[first.month - 1]
            year = f" {first.year}" if n == 0 or first.month == 1 else ""
            at = (LEFT - 2, y - chart.step / 2 - 1.1)
            yield Text(text=name + year, at=at, size=3.4, anchor="end", bold=bool(year))
    for percent in range(int(LEAST), int(WET) + 1, 2):
        x = chart.x(percent / 100)
        yield line((x, head), (x, head + 1.4), FINE_PEN, "dimension")
        if target is None or abs(percent / 100 - target) > 0.006:  # the plumb line stands there
            yield Text(text=str(percent), at=(x, head + 2.4), size=3.3, face="measures")
    yield Text(text="wet", at=((chart.x(WET / 100) + RIGHT) / 2 + 2, head + 2.4), size=3.4)
    yield Text(text="moisture, % of the oven-dry wood", at=(LEFT, chart.height - 3.6), size=3.6, anchor="start")
    yield outline(box((LEFT, foot), RIGHT - LEFT, head - foot), THIN_PEN, "reference")


def _points(chart: _Chart, days: Sequence[float], moisture: Sequence[float]) -> list[Point]:
    """The part of a curve that is no wetter than the right edge, entering there between two days."""
    made: list[Point] = []
    before: tuple[float, float] | None = None
    for day, m in zip(days, moisture, strict=True):
        if day > chart.last:
            break
        if m * 100 <= MOST:
            if before and before[1] * 100 > MOST:
                share = (before[1] - MOST / 100) / (before[1] - m)
                made.append((RIGHT, chart.y(before[0] + share * (day - before[0]))))
            made.append((chart.x(m), chart.y(day)))
        before = (day, m)
    return made


def _band(chart: _Chart, curve: Curve) -> Iterator[Shape]:
    shown = curve.days <= chart.last
    runs = np.vstack([curve.fast, curve.middle, curve.slow])[:, shown]
    days = curve.days[shown]
    low, high = runs.min(axis=0), runs.max(axis=0)
    inner = [(chart.x(m), chart.y(d)) for d, m in zip(days, low, strict=True)]
    outer = [(chart.x(m), chart.y(d)) for d, m in zip(days, high, strict=True)]
    yield outline((*inner, *reversed(outer)), 0, "hatch", "grey")
    for run in (low, high):
        yield Path(points=tuple(_points(chart, days.tolist(), run.tolist())), pen=FINE_PEN, dash=(0.3, 0.9))


def _air(chart: _Chart, made: Forecast, laying: date | None) -> Iterator[Shape]:
    assert made.air is not None
    points: list[Point] = []
    for begin, end, moisture in zip(made.air.begins[:-1], made.air.begins[1:], made.air.moisture, strict=True):
        if begin >= chart.last:
            break
        x = chart.x(float(moisture))
        points += [(x, chart.y(float(begin))), (x, chart.y(min(float(end), chart.last)))]
    yield Path(points=tuple(points), pen=AIR_PEN, dash=AIR_DASH, layer="reference")
    yield from _air_word(chart, made, laying)


def _air_word(chart: _Chart, made: Forecast, laying: date | None) -> Iterator[Shape]:
    """Name the air's line where it lies farthest from the mean log end, on the far side."""
    assert made.air is not None
    mean = made.curve("mean")
    middles = (made.air.begins[:-1] + made.air.begins[1:]) / 2
    shown = middles < chart.last - 15
    apart = made.air.moisture[shown] - np.interp(middles[shown], mean.days, mean.middle)
    near = np.where(np.interp(middles[shown], mean.days, mean.middle) * 100 < MOST, np.abs(apart), 0.0)
    if laying is not None:  # its line and word stand there
        near = np.where(np.abs(middles[shown] - laying.toordinal()) < 25, 0.0, near)
    month = int(near.argmax())
    damper = apart[month] > 0
    x, y = chart.x(float(made.air.moisture[month])), chart.y(float(middles[month]))
    place = (x + (1.5 if damper else -1.5), y - 1.1)
    yield Text(text="the air", at=place, size=3.4, anchor="start" if damper else "end", halo=True)


def _curve(chart: _Chart, curve: Curve, words: str) -> Iterator[Shape]:
    points = _points(chart, curve.days.tolist(), curve.middle.tolist())
    if len(points) < 2:
        return
    pen, dash = PENS[curve.name]
    yield Path(points=tuple(points), pen=pen, dash=dash, layer="log")
    at = LABEL_AT[curve.name]
    below = np.flatnonzero(curve.middle * 100 <= at)
    entering = curve.middle[0] * 100 > MOST  # a curve that begins within the chart is told by the strip's head
    if entering and below.size and curve.days[below[0]] < chart.last:
        y = chart.y(float(curve.days[below[0]]))
        right = curve.name == "largest"  # nothing is drawn on its damp side
        place = (chart.x(at / 100) + (1.8 if right else -1.6), y - 1.0)
        yield Text(text=words, at=place, size=3.3, anchor="start" if right else "end", halo=True)


def _plumb_line(chart: _Chart, marks: Marks) -> Iterator[Shape]:
    if marks.target is None:
        return
    x, head, foot = chart.x(marks.target), chart.height - TOP, chart.y(chart.last)
    yield line((x - 4, head + 6.6), (x + 4, head + 6.6), 0.9, "reference")
    yield line((x, head + 6.6), (x, foot - 3), 0.6, "reference")
    yield outline(((x - 2.2, foot - 3), (x + 2.2, foot - 3), (x, foot - 10)), 0, "reference", "black")
    yield Text(text=marks.target_words, at=(x + 5.5, head + 7.2), size=3.6, anchor="start", halo=True, bold=True)
    yield Text(text="dry enough left of the line", at=(x - 4, foot - 6.5), size=3.4, anchor="end")


def _laying(chart: _Chart, marks: Marks) -> Iterator[Shape]:
    if marks.laying is None or not chart.firsts[0].toordinal() <= marks.laying.toordinal() <= chart.last:
        return
    y = chart.y(marks.laying.toordinal())
    crowded = any(0 <= (marks.laying - day).days < 30 for day in marks.wet)  # a meter's word stands above
    above = y < chart.height - TOP - 8 and not crowded
    right = marks.target is None or marks.target < 0.18  # clear of the plumb line
    yield line((LEFT, y), (WIDTH - 2, y), OUTLINE_PEN, "reference", (3.0, 1.2))
    yield Text(
        text=marks.laying_words,
        at=(RIGHT - 10 if right else LEFT + 1.5, y + (1.3 if above else -3.9)),
        size=3.5,
        anchor="end" if right else "start",
        halo=True,
        bold=True,
    )


def _diamond(x: float, y: float) -> Shape:
    return outline(((x - 1.5, y), (x, y - 1.9), (x + 1.5, y), (x, y + 1.9)), HAIR_PEN, "reference", "black")


def _measured(chart: _Chart, made: Forecast, marks: Marks) -> Iterator[Shape]:
    for point in made.points:
        if point.day.toordinal() <= chart.last:
            yield _diamond(chart.x(point.moisture), chart.y(point.day.toordinal()))
    for day in marks.wet:
        if chart.firsts[0].toordinal() <= day.toordinal() <= chart.last:
            y = chart.y(day.toordinal())
            yield _diamond(RIGHT, y)
            yield Text(text="meter: wet", at=(RIGHT - 3, y - 1.1), size=3.4, anchor="end", halo=True)


def _strip(chart: _Chart, marks: Marks) -> Iterator[Shape]:
    head, foot = chart.height - TOP, chart.y(chart.last)
    yield Text(text="dry enough from", at=(STRIP[1], chart.height - 3.6), size=3.6)
    for x, size in zip(STRIP, SIZES, strict=True):
        pen, dash = PENS[size]
        yield line((x - 4, head + 7.2), (x + 4, head + 7.2), pen, "log", dash)
        yield Text(text=size, at=(x, head + 2.4), size=3.2)
        yield line((x, head), (x, foot), HAIR_PEN, "reference")
        yield from _ready_box(chart, x, marks.ready[size])


def _ready_box(chart: _Chart, x: float, days: tuple[date | None, date | None, date | None]) -> Iterator[Shape]:
    low, middle, high = days
    early = low or middle
    if early is None or early.toordinal() >= chart.last:
        yield Text(text="later", at=(x, chart.y(chart.last) - 4.5), size=3.2)
        return
    head = chart.y(early.toordinal())
    foot = chart.y(min(high.toordinal() if high else chart.last, chart.last))
    left = x - BOX_WIDE / 2
    yield outline(box((left, foot), BOX_WIDE, head - foot), THIN_PEN, "log", "white")
    stripes = int((head - foot) / 1.6)
    for n in range(1, stripes + 1):
        yield line((left, head - 1.6 * n), (left + BOX_WIDE, head - 1.6 * n), FINE_PEN, "log")
    if middle is not None and middle.toordinal() <= chart.last:
        y = chart.y(middle.toordinal())
        yield line((left - 1.2, y), (left + BOX_WIDE + 1.2, y), 1.0, "log")
    if high is None or high.toordinal() > chart.last:
        yield Text(text="or later", at=(x, foot - 4.5), size=3.0)
