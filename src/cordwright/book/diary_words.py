"""How does the diary read? Records, pace, trends and a helper day in sentences, in the owner's units."""

from collections.abc import Callable, Iterator, Mapping
from typing import Any, Final

from cordwright.base.records import (
    Batches,
    Cover,
    Crack,
    Hours,
    Laid,
    Moisture,
    Note,
    Photo,
    Said,
    Spent,
    Weather,
    Weighing,
)
from cordwright.base.units import INCH
from cordwright.book.formats import show_money, show_number
from cordwright.book.lettering import Lettering
from cordwright.diary import Diary, HelperDay, Trend, looks, measured
from cordwright.mortar.pot_life import clock

FIBRE_WET: Final = 0.28
"""From here up a meter's figure is shown as wet alone."""


def small_width(width: float, lettering: Lettering) -> str:
    """A crack's width [m]: tenths of a millimetre, or thousandths of an inch."""
    if lettering.units == "imperial":
        return f"{show_number(width / INCH, 3, lettering.locale)}\u00a0in"
    return f"{show_number(width * 1000, 1, lettering.locale)}\u00a0mm"


def hours_words(hours: float | None, people: int) -> str:
    """So many hours, each of so many people."""
    each = "" if hours is None else f"{hours:g} h"
    return each if people == 1 else f"{each} by {people} people".strip()


def _laid(said: Laid, lettering: Lettering) -> str:
    wall = "" if said.area is None else lettering.value(said.area, "m2")
    logs = f"{len(said.logs)} log ends" if said.logs else ""
    what = ", ".join(part for part in (wall, logs) if part)
    return _joined(f"laid {what}", f"panel {said.panel}" if said.panel else "", hours_words(said.hours, said.people))


def _batches(said: Batches, lettering: Lettering) -> str:
    word = "batch" if said.count == 1 else "batches"
    return _joined(f"{lettering.count(said.count)} {word} mixed", f"panel {said.panel}" if said.panel else "")


def _weather(said: Weather, lettering: Lettering) -> str:
    return _joined(
        said.sky or "",
        "" if said.low is None else f"lowest {lettering.value(said.low, 'degC')}",
        "" if said.high is None else f"highest {lettering.value(said.high, 'degC')}",
        "" if said.rain is None else f"rain {lettering.value(said.rain, 'm')}",
        "" if said.lost is None else f"{said.lost:g} h lost",
    )


def _moisture(said: Moisture, lettering: Lettering) -> str:
    wet = "wet, the meter's " if said.share >= FIBRE_WET else ""
    warm = "" if said.temperature is None else f"wood at {lettering.value(said.temperature, 'degC')}"
    return _joined(f"moisture {wet}{lettering.value(said.share, '1')}", said.log, warm)


def _weighing(said: Weighing, lettering: Lettering) -> str:
    return f"test end {said.end} weighs {lettering.value(said.mass, 'kg')}"


def _crack(said: Crack, lettering: Lettering) -> str:
    return f"crack at {said.place}: {small_width(said.width, lettering)}"


def _spent(said: Spent, lettering: Lettering) -> str:
    return _joined(f"spent {show_money(said.amount, said.currency, lettering.locale)}", said.what)


def _hours(said: Hours, _lettering: Lettering) -> str:
    return f"{said.trade}: {hours_words(said.hours, said.people)}"


def _cover(said: Cover, _lettering: Lettering) -> str:
    words = {"frozen": "frozen in the night", "uncovered": "uncovered"}.get(said.covering)
    return _joined(words or f"covered: {said.covering}", f"panel {said.panel}" if said.panel else "")


def _note(said: Note, _lettering: Lettering) -> str:
    return said.words


def _photo(said: Photo, _lettering: Lettering) -> str:
    return _joined(f"photo {said.path}", said.words)


def _joined(*parts: str) -> str:
    return ", ".join(part for part in parts if part)


WORDS: Final[Mapping[type, Callable[[Any, Lettering], str]]] = {
    Laid: _laid,
    Batches: _batches,
    Weather: _weather,
    Moisture: _moisture,
    Weighing: _weighing,
    Crack: _crack,
    Spent: _spent,
    Hours: _hours,
    Cover: _cover,
    Note: _note,
    Photo: _photo,
}


def record_words(said: Said, lettering: Lettering) -> str:
    """What one record says, on one line."""
    return " ".join(WORDS[type(said)](said, lettering).split())


def days_left_words(diary: Diary, lettering: Lettering) -> str:
    """How many days of laying are left, in a sentence with its spread."""
    figure = diary.figure("diary.days_left")
    assert isinstance(figure.value, float)
    assert isinstance(figure.low, float)
    assert isinstance(figure.high, float)
    if not figure.value:
        return "By the diary the whole wall is laid."
    wall = lettering.value(diary.figure("diary.area_left").value, "m2")
    spread = f"{figure.low:.0f} to {figure.high:.0f}, four chances in five"
    return f"{wall} left to lay: about {figure.value:.0f} days of laying for one person ({spread})."


def pace_words(diary: Diary, lettering: Lettering) -> str:
    """The pace and whose it is."""
    own, pace = diary.pace, diary.figure("diary.pace")
    share = lettering.value(round(own.own, 2), "1")
    days = f"{own.days} {'day' if own.days == 1 else 'days'} of laying"
    said = f"Pace of one person: {lettering.figure(pace)}"
    if not own.days:
        return f"{said}, as expected: no day of laying is written down."
    if not own.leads:
        verb = "carries" if own.days == 1 else "carry"
        return f"{said}; {days} {verb} {share} of it, from the third day on your own days lead."
    return f"{said}; your own {days} carry {share} of it."


def pace_lines(diary: Diary, lettering: Lettering) -> Iterator[str]:
    """What the diary says of the rest of the wall, for the terminal."""
    yield f"Laid so far: {lettering.figure(diary.figure('diary.laid_area'))}."
    yield pace_words(diary, lettering)
    yield days_left_words(diary, lettering)
    for key in ("diary.mortar_per_area", "diary.batches_left", "diary.bags_left", "diary.logs_left"):
        figure = diary.figure(key)
        yield f"{figure.label[:1].upper()}{figure.label[1:]}: {_rounded(diary, key, lettering)}."
    yield from (trend_words(each, lettering) for each in diary.cracks)
    for caution in diary.cautions:
        yield f"caution: {caution.harm} {caution.do} Who decides: {caution.decides}."


def _rounded(diary: Diary, key: str, lettering: Lettering) -> str:
    """A count as whole numbers; anything else as it is."""
    figure = diary.figure(key)
    if figure.unit or not isinstance(figure.value, float) or not isinstance(figure.low, float):
        return lettering.figure(figure)
    assert isinstance(figure.high, float)
    return f"about {figure.value:.0f} ({figure.low:.0f} to {figure.high:.0f})"


def trend_words(trend: Trend, lettering: Lettering) -> str:
    """How a crack goes: its last width, then its trend with the spread."""
    last = trend.series.last
    said = f"Crack at {trend.series.place}: {small_width(last.value, lettering)} on {lettering.value(last.day, 'date')}"
    if trend.slope is None or trend.low is None or trend.high is None:
        return f"{said}; {trend.word} for a trend."
    ends = " to ".join(small_width(v, lettering) for v in (trend.low, trend.high))
    return f"{said}; {trend.word}: {small_width(trend.slope, lettering)} a year ({ends})."


def helper_lines(day: HelperDay, lettering: Lettering) -> Iterator[str]:
    """A day with helpers, for the terminal."""
    yield f"{day.people} {'person' if day.people == 1 else 'people'}, {day.hours:g} h each"
    for role, what in day.roles:
        yield f"  {role}: {what}"
    yield f"wall to be laid: {amount_words(day.area, 'm2', lettering)}"
    missing = "not known: the mix with its bucket is missing"
    yield f"batches to mix: {missing if day.batches is None else whole_words(day.batches)}"
    yield from stop_lines(day)


def year_lines(diary: Diary | None, lettering: Lettering) -> Iterator[str]:
    """The yearly walk and what was measured last time, for the terminal."""
    for look in looks():
        yield f"{look.season}: {look.what}. {look.how}"
        yield f"  if it is not well: {look.do}"
    told = measured(diary)
    yield (
        "measured last time" if told else "nothing was measured yet: write cracks and moisture down, `diary FILE crack`"
    )
    for each in told:
        value = small_width(each.value, lettering) if each.unit == "m" else lettering.value(each.value, each.unit)
        word = f", {each.word}" if each.word else ""
        yield f"  {each.what}: {value} on {lettering.value(each.day, 'date')}{word}"


def amount_words(amount: tuple[float, float, float], unit: str, lettering: Lettering) -> str:
    """A middle with its spread."""
    low, middle, high = (lettering.bare(v, unit) for v in amount)
    return f"about {middle} {lettering.sign(unit)} ({low} to {high})"


def whole_words(amount: tuple[float, float, float]) -> str:
    """A count with its spread, in whole numbers."""
    low, middle, high = (f"{v:.0f}" for v in amount)
    return f"about {middle} ({low} to {high})"


def stop_lines(day: HelperDay) -> Iterator[str]:
    """When mixing and laying stop."""
    if day.last_early is None or day.last_late is None or day.lay_until is None:
        yield "stop mixing: not known: say when the day ends, --until 17:00, or state mix.stop"
        return
    early, late = clock(day.last_early), clock(day.last_late)
    usual = "" if early == late else f" ({late} by the shorter habit; read the bag)"
    yield f"stop mixing at {early}{usual}"
    minutes = f"{day.cover_up * 60:.0f} minutes"
    yield f"stop laying at {clock(day.lay_until)}, then scratch back, cover and wash for {minutes}"
