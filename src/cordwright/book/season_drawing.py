"""How does the wall rise through the season? Time across, face laid up, the last laying day a plumb line.

Each thin thread is one season of weather; the thick line is the middle of all, the grey what four of five stay within.
Under the calendar each order of work has its striped box: closed from one season in ten to nine in ten, a tick at the
middle.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Final

import numpy as np

from cordwright.book.drawing import (
    FINE_PEN,
    HAIR_PEN,
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
from cordwright.season import Fan, Milestone, Season

WIDTH: Final = 174.0
LEFT, RIGHT, TOP, HIGH = 24.0, 166.0, 12.0, 88.0
ROW, BOX_HIGH = 9.6, 3.8
MONTHS: Final = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
DOTS: Final = (0.3, 0.9)


@dataclass(frozen=True, slots=True, kw_only=True)
class SeasonMarks:
    """What stands on the chart besides the curves, in the owner's words.

    `levels`: faces [m2] and how they are written, rising. `stop_words`: at the plumb line. `middle_words`: at the thick
    line. `rows`: the name of each order of work, with its day of closing.
    """

    levels: tuple[tuple[float, str], ...]
    stop_words: str
    middle_words: str
    rows: tuple[tuple[str, Milestone], ...]


class _Chart:
    """Places days and faces on the paper."""

    def __init__(self, first: date, last: date, most: float, rows: int) -> None:
        self.first, self.last, self.most = first, last, most
        self.foot = 12.0 + ROW * rows + 8.0
        self.height = self.foot + HIGH + TOP

    def x(self, day: date) -> float:
        """Where a day lies from the left [mm]."""
        share = (day - self.first).days / max(1, (self.last - self.first).days)
        return LEFT + min(1.0, max(0.0, share)) * (RIGHT - LEFT)

    def y(self, face: float) -> float:
        """Where a face lies from the foot [mm]."""
        return self.foot + HIGH * face / self.most

    def shows(self, day: date) -> bool:
        """Whether a day stands on the chart."""
        return self.first <= day <= self.last


def draw_season(season: Season, marks: SeasonMarks) -> Drawing:
    """The chart of the chosen order of work, with all orders' boxes under it.

    Args:
        season: worked out, with something to lay.
        marks: what else stands on it.
    """
    fan = season.chosen_outcome.fan
    days = [*fan.days, *(d for _, part in marks.rows for d in (part.early, part.middle))]
    chart = _Chart(fan.days[0], max(days), marks.levels[-1][0], len(marks.rows))
    shapes = (
        *_ground(chart, marks),
        *_band(chart, fan),
        *_threads(chart, fan),
        *_middle(chart, fan, marks),
        *_plumb_line(chart, season.stop, marks),
        *_rows(chart, marks),
    )
    label = f"Face laid by day in {season.seasons} seasons, {season.chosen}; {marks.middle_words}"
    return Drawing(name="season", label=label, width=WIDTH, height=chart.height, shapes=shapes)


def _ground(chart: _Chart, marks: SeasonMarks) -> Iterator[Shape]:
    for face, words in marks.levels:
        y = chart.y(face)
        yield line((LEFT, y), (RIGHT, y), HAIR_PEN if face else THIN_PEN, "reference")
        yield Text(text=words, at=(LEFT - 2, y - 1.1), size=3.3, anchor="end", face="measures")
    for start, end in _months(chart.first, chart.last):
        x = chart.x(max(start, chart.first))
        if start >= chart.first:
            yield line((x, chart.foot - 2), (x, chart.y(chart.most)), HAIR_PEN, "reference")
        middle = (x + chart.x(min(end, chart.last))) / 2
        if chart.x(min(end, chart.last)) - x > 9:
            yield Text(text=_month_name(start), at=(middle, chart.foot - 5.2), size=3.3)


def _months(first: date, last: date) -> Iterator[tuple[date, date]]:
    """Each month's first day and the next one's, as far as the chart goes."""
    day = first.replace(day=1)
    while day <= last:
        after = date(day.year + day.month // 12, day.month % 12 + 1, 1)
        yield day, after
        day = after


def _month_name(day: date) -> str:
    return f"{MONTHS[day.month - 1]} {day.year}" if day.month == 1 else MONTHS[day.month - 1]


def _run(chart: _Chart, days: Sequence[date], faces: Sequence[float]) -> tuple[Point, ...]:
    return tuple((chart.x(day), chart.y(face)) for day, face in zip(days, faces, strict=True))


def _band(chart: _Chart, fan: Fan) -> Iterator[Shape]:
    low, high = (_run(chart, fan.days, faces.tolist()) for faces in (fan.low, fan.high))
    yield outline((*low, *reversed(high)), 0, "hatch", "grey")
    for run in (low, high):
        yield Path(points=run, pen=FINE_PEN, dash=DOTS)


def _threads(chart: _Chart, fan: Fan) -> Iterator[Shape]:
    """Single seasons, each from its last day with nothing laid to its first with all laid."""
    for thread in fan.threads:
        begun, done = int(np.argmax(thread > 0)), int(np.argmax(thread >= thread.max() - 1e-9))
        if thread.max() > 0 and done > begun:
            cut = slice(max(0, begun - 1), done + 1)
            yield Path(points=_run(chart, fan.days[cut], thread[cut].tolist()), pen=HAIR_PEN)


def _middle(chart: _Chart, fan: Fan, marks: SeasonMarks) -> Iterator[Shape]:
    run = _run(chart, fan.days, fan.middle.tolist())
    yield Path(points=run, pen=1.3, layer="log")
    at = int(np.argmax(fan.middle >= 0.97 * fan.middle.max()))
    yield Text(
        text=marks.middle_words, at=(run[at][0] - 3, run[at][1] + 2.2), size=3.6, anchor="end", halo=True, bold=True
    )


def _plumb_line(chart: _Chart, stop: date | None, marks: SeasonMarks) -> Iterator[Shape]:
    if stop is None or not chart.shows(stop):
        return
    x, head = chart.x(stop), chart.y(chart.most) + 4
    yield line((x - 4, head), (x + 4, head), 0.9, "reference")
    yield line((x, head), (x, chart.foot - 2), 0.6, "reference")
    yield outline(((x - 2, chart.foot - 2), (x + 2, chart.foot - 2), (x, chart.foot - 8)), 0, "reference", "black")
    left = x > (LEFT + RIGHT) / 2
    place = (x + (-5.5 if left else 5.5), head + 0.8)
    yield Text(text=marks.stop_words, at=place, size=3.6, anchor="end" if left else "start", halo=True, bold=True)


def _rows(chart: _Chart, marks: SeasonMarks) -> Iterator[Shape]:
    for n, (words, part) in enumerate(marks.rows, start=1):
        y = chart.foot - 6.5 - ROW * n
        left, right = chart.x(part.early), max(chart.x(part.late), chart.x(part.early) + 0.8)
        yield outline(box((left, y - BOX_HIGH / 2), right - left, BOX_HIGH), THIN_PEN, "log", "white")
        for stripe in np.arange(left + 1.6, right, 1.6):
            yield line((float(stripe), y - BOX_HIGH / 2), (float(stripe), y + BOX_HIGH / 2), FINE_PEN, "log")
        middle = chart.x(part.middle)
        yield line((middle, y - BOX_HIGH / 2 - 1), (middle, y + BOX_HIGH / 2 + 1), 1.1, "log")
        later = "" if chart.shows(part.late) else "; nine in ten later than drawn"
        yield Text(text=f"{words}{later}", at=(LEFT, y + 3.4), size=3.3, anchor="start", halo=True)
