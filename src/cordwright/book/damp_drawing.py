"""How high does rain wet the wall under these eaves, and how does the wall dry down in its first winter? Two charts."""

from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import date
from math import floor
from typing import Final

import numpy as np
from numpy.typing import NDArray

from cordwright.book.drawing import (
    CUT_PEN,
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
from cordwright.book.lettering import Lettering
from cordwright.heat.damp import Damp
from cordwright.heat.rain import Eaves, fall_speeds, wetted_height
from cordwright.heat.winter import FirstWinter, Mark, end_of_winter

Floats = NDArray[np.float64]
WIDTH: Final = 174.0
LEFT, RIGHT, FOOT, HIGH = 18.0, 150.0, 14.0, 84.0
FASTEST: Final = 12.0
OVERHANGS: Final = (0.4, 0.6, 0.8, 1.0, 1.2, 1.5)
WINDS: Final = tuple(0.25 * n for n in range(2, 49))
Place = Callable[[float, float], Point]
Level = Callable[[float], float]


def draw_rain(damp: Damp, lettering: Lettering) -> Drawing:
    """Wetted height of the wall by wind, for a fan of overhangs; the building's own drawn thick with its drops.

    Args:
        damp: worked out, with eaves.
        lettering: the owner's units.
    """
    eaves = damp.eaves
    assert eaves is not None

    def at(wind: float, height: float) -> Point:
        return LEFT + wind / FASTEST * (RIGHT - LEFT), FOOT + height / eaves.head * HIGH

    shapes: list[Shape] = [*_rain_ground(eaves, at, lettering, damp.wind), *_drop_band(eaves, at)]
    for overhang in OVERHANGS:
        if abs(overhang - eaves.overhang) > 0.05:
            shapes += _curve(replace(eaves, overhang=overhang), at, lettering, pen=0.4, dash=(1.6, 0.9))
    shapes += _curve(eaves, at, lettering, pen=1.3, dash=())
    if damp.wind is not None:
        shapes += _wind_line(damp, eaves, at, lettering)
    label = f"Height of wall wetted by driving rain, by wind, under eaves of {eaves.overhang:.2f} m and others"
    return Drawing(name="rain", label=label, width=WIDTH, height=FOOT + HIGH + 12, shapes=tuple(shapes))


def _rain_ground(eaves: Eaves, at: Place, lettering: Lettering, blows: float | None) -> Iterator[Shape]:
    for wind in range(0, int(FASTEST) + 1, 2):
        x = at(wind, 0)[0]
        yield line((x, FOOT), (x, FOOT + HIGH), HAIR_PEN, "reference")
        if blows is None or abs(wind - blows) > 0.8:  # the plumb line hangs there
            yield Text(text=lettering.bare(float(wind), "m/s", 0), at=(x, FOOT - 5), size=3.2, face="measures")
    step = 0.5
    for n in range(floor(eaves.head / step) + 1):
        y = at(0, n * step)[1]
        yield line((LEFT, y), (RIGHT, y), HAIR_PEN, "reference")
        yield Text(text=lettering.value(n * step, "m") if n else "bed", at=(LEFT - 2, y - 1.1), size=3.2, anchor="end")
    yield outline(box((LEFT, FOOT), RIGHT - LEFT, HIGH), CUT_PEN, "reference")
    yield Text(text="wall head", at=(RIGHT + 2, FOOT + HIGH - 1), size=3.3, anchor="start")
    yield Text(text="wetted up to", at=(LEFT, FOOT + HIGH + 4), size=3.6, anchor="start")
    yield Text(text=f"wind square to the wall, {lettering.sign('m/s')}", at=(RIGHT, 2), size=3.6, anchor="end")


def _drop_band(eaves: Eaves, at: Place) -> Iterator[Shape]:
    slow, _, fast = fall_speeds()
    upper = [at(w, wetted_height(eaves, w, slow)) for w in WINDS]
    lower = [at(w, wetted_height(eaves, w, fast)) for w in WINDS]
    yield outline((*upper, *reversed(lower)), 0, "hatch", "grey")
    for run in (upper, lower):
        yield Path(points=tuple(run), pen=FINE_PEN, dash=(0.3, 0.9))


def _curve(eaves: Eaves, at: Place, lettering: Lettering, pen: float, dash: tuple[float, ...]) -> Iterator[Shape]:
    usual = fall_speeds()[1]
    points = [at(w, h) for w in WINDS if (h := wetted_height(eaves, w, usual)) > 0]
    if len(points) < 2:
        return
    yield Path(points=tuple(points), pen=pen, dash=dash, layer="log")
    end = points[-1]
    words = lettering.value(eaves.overhang, "m")
    yield Text(text=words, at=(RIGHT + 2, end[1] - 1.1), size=3.3, anchor="start", bold=not dash, halo=True)


def _wind_line(damp: Damp, eaves: Eaves, at: Place, lettering: Lettering) -> Iterator[Shape]:
    assert damp.wind is not None
    x = at(damp.wind, 0)[0]
    wet = wetted_height(eaves, damp.wind, fall_speeds()[1])
    yield line((x, FOOT), (x, FOOT + HIGH + 4), 0.6, "reference")
    yield outline(((x - 2.2, FOOT), (x + 2.2, FOOT), (x, FOOT - 4)), 0, "reference", "black")
    said = f"windiest month: {lettering.value(wet, 'm')} wetted"
    yield Text(text=said, at=(x + 2, FOOT + HIGH + 4), size=3.5, anchor="start", bold=True, halo=True)
    yield line((x - 1.6, at(0, wet)[1]), (x + 1.6, at(0, wet)[1]), 1.0, "log")


MONTHS: Final = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
UPPER, LOWER = 54.0, 28.0
SHOWN: Final = 20
"""Months on the chart."""


class _Winter:
    """Places days, moistures and gaps on the paper."""

    def __init__(self, made: FirstWinter) -> None:
        self.first = date.fromordinal(int(made.days[0])).replace(day=1)
        self.end = self.first.toordinal() + 30.44 * SHOWN
        top = max(float(made.moisture.max()), *(m.value for m in made.moistures), 0.16)
        self.most = 0.02 * (floor(top / 0.02) + 1)
        lowest = min(float(made.moisture.min()), *(m.value for m in made.moistures), 0.16)
        self.least = 0.02 * max(0, floor(lowest / 0.02) - 1)
        gaps = [float(made.gap.max())] if made.gap.size else []
        self.widest = max(*gaps, *(m.value for m in made.gaps), 1e-3) * 1.1

    def x(self, day: float) -> float:
        return LEFT + (day - self.first.toordinal()) / (self.end - self.first.toordinal()) * (WIDTH - LEFT - 2)

    def moist(self, value: float) -> float:
        return FOOT + LOWER + 8 + (value - self.least) / (self.most - self.least) * UPPER

    def gap(self, value: float) -> float:
        return FOOT + value / self.widest * LOWER


def draw_winter(made: FirstWinter, lettering: Lettering) -> Drawing:
    """The first winters: moisture of the log ends above, gap round them below; the owner's readings as black diamonds.

    Args:
        made: followed from laying on.
        lettering: the owner's units.
    """
    chart = _Winter(made)
    shapes: list[Shape] = [*_winter_ground(chart, made, lettering)]
    shapes += _band(chart, made.days, made.moisture, chart.moist)
    if made.gap.size:
        shapes += _band(chart, made.days, made.gap, chart.gap)
    shapes += _readings(chart, made.moistures, chart.moist)
    shapes += _readings(chart, made.gaps, chart.gap)
    shapes += _heating(chart, made)
    label = "Moisture of the log ends and gap round them from laying on, as forecast, with the owner's readings"
    return Drawing(
        name="first-winter", label=label, width=WIDTH, height=FOOT + LOWER + 8 + UPPER + 10, shapes=tuple(shapes)
    )


def _winter_ground(chart: _Winter, made: FirstWinter, lettering: Lettering) -> Iterator[Shape]:
    top = chart.moist(chart.most)
    for n in range(SHOWN + 1):
        year, month = divmod(chart.first.year * 12 + chart.first.month - 1 + n, 12)
        x = chart.x(date(year, month + 1, 1).toordinal())
        yield line((x, FOOT), (x, top), FINE_PEN if month == 0 else HAIR_PEN, "reference")
        if n < SHOWN:
            words = MONTHS[month]
            middle = x + (chart.x(chart.end) - LEFT) / SHOWN / 2
            yield Text(text=words, at=(middle, FOOT - 4.6), size=2.9)
            if n == 0 or month == 0:
                yield Text(text=str(year), at=(middle, FOOT - 9), size=3.2, bold=True)
    for percent in range(round(100 * chart.least), round(100 * chart.most) + 1, 2):
        y = chart.moist(percent / 100)
        yield line((LEFT, y), (WIDTH - 2, y), HAIR_PEN, "reference")
        yield Text(text=f"{percent} %", at=(LEFT - 2, y - 1.1), size=3.1, anchor="end")
    if made.gap.size or made.gaps:
        for n in range(3):
            value = chart.widest / 1.1 * n / 2
            yield line((LEFT, chart.gap(value)), (WIDTH - 2, chart.gap(value)), HAIR_PEN, "reference")
            words = f"{1000 * value:.1f} mm" if lettering.units == "metric" else f"{value / 0.0254:.3f} in"
            yield Text(text=words, at=(LEFT - 2, chart.gap(value) - 1.1), size=3.1, anchor="end")
    yield Text(text="moisture of the log ends", at=(LEFT, top + 3), size=3.6, anchor="start", bold=True)
    below = chart.gap(chart.widest) + 1.6
    yield Text(text="gap all round the mean log end", at=(LEFT, below), size=3.6, anchor="start", bold=True, halo=True)
    yield line((LEFT, FOOT), (WIDTH - 2, FOOT), OUTLINE_PEN, "reference")


def _band(chart: _Winter, days: Floats, rows: Floats, place: Level) -> Iterator[Shape]:
    shown = days <= chart.end
    low, high = rows.min(axis=0)[shown], rows.max(axis=0)[shown]
    x = [chart.x(float(d)) for d in days[shown]]
    inner = [(a, place(float(v))) for a, v in zip(x, low, strict=True)]
    outer = [(a, place(float(v))) for a, v in zip(x, high, strict=True)]
    yield outline((*inner, *reversed(outer)), 0, "hatch", "grey")
    for run in (inner, outer):
        yield Path(points=tuple(run), pen=FINE_PEN, dash=(0.3, 0.9))
    middle = tuple((a, place(float(v))) for a, v in zip(x, rows[1][shown], strict=True))
    yield Path(points=middle, pen=1.1, layer="log")


def _readings(chart: _Winter, marks: tuple[Mark, ...], place: Level) -> Iterator[Shape]:
    for mark in marks:
        day = float(mark.day.toordinal())
        if chart.first.toordinal() <= day <= chart.end:
            x, y = chart.x(day), place(mark.value)
            yield outline(((x - 1.5, y), (x, y - 1.9), (x + 1.5, y), (x, y + 1.9)), HAIR_PEN, "reference", "black")


def _heating(chart: _Winter, made: FirstWinter) -> Iterator[Shape]:
    assert made.heated_from is not None
    for day, words in ((float(made.heated_from.toordinal()), "first fire"), (end_of_winter(made), "end of winter")):
        if day <= chart.end:
            x = chart.x(day)
            yield line((x, FOOT), (x, chart.moist(chart.most)), 0.5, "reference", (3.0, 1.2))
            yield Text(text=words, at=(x + 1.2, chart.moist(chart.most) - 4), size=3.4, anchor="start", halo=True)
    yield line((LEFT, FOOT + LOWER + 8), (WIDTH - 2, FOOT + LOWER + 8), THIN_PEN, "reference")
