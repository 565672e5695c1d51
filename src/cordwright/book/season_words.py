"""Laid by when, and with what chance? The season in sentences first, then in rows, for command line and book alike."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from typing import Final

from cordwright.book.formats import NB, show_date, show_middle, show_number, show_spread, show_value
from cordwright.book.lettering import capped
from cordwright.case import Project
from cordwright.reckon import Reckoning
from cordwright.season import Milestone, Outcome, Season, Strategy, Sway

SPOKEN: Final[Mapping[Strategy, str]] = {
    "roof first": "roof first",
    "walls first, tarpaulin": "walls first under a tarpaulin",
    "walls first, bare": "walls first, bare",
}
MODEL_WORDS: Final = (
    "The days come of a model that goes through every day of thousands of seasons. Hours of work, limits of weather "
    "and shares of exposure are habits and choices of ours, your own hours replace them; so the days tell what kind of "
    "season it is and what moves it, not on which morning you will stand there.",
    "Rain costs hours by the part of the day it falls in, or whole days by the other rule. A tarpaulin costs about the "
    "time it saves; what it gives is kept beads and dry ends, and no hour shows that. Laying goes on past the last "
    "laying day in the reckoning, that the chance may be seen; on the wall it must not.",
    "Common practice, no source: walls that stand free before the roof lose rain days; with frame and roof first the "
    "builder works in sun and rain.",
)


def verdict(project: Project, season: Season) -> tuple[str, ...]:
    """The answer in plain words: laid by when, the other way round, and what one more pair of hands buys."""
    return (
        _first(project, season),
        *_rivals(project, season),
        *_buys(season, project.locale),
        *_logs(project, season),
    )


def first_words(project: Project, season: Season) -> tuple[str, ...]:
    """The answer as the first sheet of the book gives it: without what else moves it."""
    told = (*_rivals(project, season), *_buys(season, project.locale), *_logs(project, season))
    return (_first(project, season), *told)


def _first(project: Project, season: Season) -> str:
    outcome, locale = season.chosen_outcome, project.locale
    said = (
        f"{SPOKEN[season.chosen].capitalize()}: all laid by {day(outcome.laid.middle, locale)} in one season of two"
        f" (one in ten by {day(outcome.laid.early, locale)}, nine in ten by {_late(outcome.laid, locale)})"
    )
    if season.stop is None or outcome.laid_by_stop is None:
        return f"{said}. No last laying day is known: state the mix, and the first hard frost or the nightly lows."
    return f"{said}; before the last laying day, {day(season.stop, locale)}, in {in_ten(outcome.laid_by_stop)}."


def _late(part: Milestone, locale: str) -> str:
    return "no day that was looked at" if part.unfinished >= 0.1 else day(part.late, locale)


def _rivals(project: Project, season: Season) -> Iterator[str]:
    """The other order of work, closed by when; of walls first only the covered one is told here."""
    other: Strategy = "walls first, tarpaulin" if season.chosen == "roof first" else "roof first"
    own, rival = season.chosen_outcome, season.of(other)
    closed = (
        f"Closed, walls laid and roof on: {SPOKEN[season.chosen]} by {_middle(own.closed, project.locale)}, "
        f"{SPOKEN[other]} by {_middle(rival.closed, project.locale)}, in one season of two"
    )
    if own.closed_by_stop is None or rival.closed_by_stop is None:
        yield f"{closed}."
        return
    yield (f"{closed}; by the last laying day in {in_ten(own.closed_by_stop)} against {in_ten(rival.closed_by_stop)}.")


def _middle(part: Milestone, locale: str) -> str:
    return "no day that was looked at" if part.unfinished >= 0.5 else day(part.middle, locale)


def _buys(season: Season, locale: str) -> Iterator[str]:
    by_name = {sway.what: sway for sway in season.changes}
    parts = [
        f"{what} {_shifted(by_name[what].days, locale)}"
        for what in ("one more helper day", "one more working day a week", "a pace one tenth slower")
        if what in by_name
    ]
    if parts:
        yield f"On the mean, {', '.join(parts[:-1])}{' and ' if len(parts) > 1 else ''}{parts[-1]}."


def _shifted(days: float, locale: str) -> str:
    if abs(days) < 0.05:
        return "changes nothing"
    size = show_number(abs(days), 1 if abs(days) < 3 else 0, locale)
    return f"{'costs' if days > 0 else 'buys'} {size}{NB}days"


def _logs(project: Project, season: Season) -> Iterator[str]:
    if season.logs_late is not None:
        late = day(season.logs_late, project.locale)
        yield (
            f"This takes the logs to be dry by the middle of their forecast; they may be wet until {late}: weigh a "
            "marked log end every month."
        )


def day(value: date, locale: str) -> str:
    """A day as the owner writes it."""
    return show_date(value, locale)


def in_ten(chance: float) -> str:
    """A chance as seasons of ten; of the ends in words."""
    tenths = round(10 * chance)
    if chance >= 0.995:
        return "nearly every season"
    if chance <= 0.005:
        return "hardly any season"
    if tenths == 0:
        return "less than one season of ten"
    if tenths == 10:
        return "more than nine seasons of ten"
    return f"{tenths} {'season' if tenths == 1 else 'seasons'} of ten"


def percent(chance: float | None, locale: str) -> str:
    """A chance in whole percent."""
    return "not known" if chance is None else f"{show_number(100 * chance, 0, locale)}{NB}%"


STRATEGY_HEADS: Final = (
    "Order of work",
    "Laid: 1 in 10",
    "1 in 2",
    "9 in 10",
    "by stop",
    "Closed: 1 in 2",
    "9 in 10",
    "by stop",
)


def strategy_rows(project: Project, season: Season) -> tuple[tuple[str, ...], ...]:
    """The strategies side by side: days laid and closed, chances by the last laying day."""
    return tuple(_strategy_row(project.locale, o) for o in season.outcomes)


def _strategy_row(locale: str, outcome: Outcome) -> tuple[str, ...]:
    return (
        SPOKEN[outcome.strategy],
        day(outcome.laid.early, locale),
        _middle(outcome.laid, locale),
        _late(outcome.laid, locale),
        percent(outcome.laid_by_stop, locale),
        _middle(outcome.closed, locale),
        _late(outcome.closed, locale),
        percent(outcome.closed_by_stop, locale),
    )


LOST_HEADS: Final = ("What takes hours first", "Mean of all seasons", "One season in ten less", "One in ten more")


def lost_rows(season: Season, strategy: Strategy, day_hours: float, locale: str) -> tuple[tuple[str, ...], ...]:
    """Hours and working days that each cause takes in the mean season."""
    return tuple(
        (lost.cause, _hours(lost.mean, day_hours, locale), _hours(lost.low, 0, locale), _hours(lost.high, 0, locale))
        for lost in season.of(strategy).lost
        if lost.cause in ("rain", "cold", "heat", "wind", "caught by frost")
    )


def _hours(hours: float, day_hours: float, locale: str) -> str:
    shown = f"{show_number(hours, 0, locale)}{NB}h"
    return f"{shown} ({show_number(hours / day_hours, 1, locale)}{NB}days)" if day_hours else shown


CHANGE_HEADS: Final = ("What is changed", "Closed, mean shift", "Seasons that shift", "Laid by the last day")


def change_rows(swaying: tuple[Sway, ...], locale: str) -> tuple[tuple[str, ...], ...]:
    """What each change does to the day of closing."""
    return tuple(
        (
            sway.what,
            f"{_sign(sway.days)}{show_number(abs(sway.days), 1, locale)}{NB}days",
            percent(sway.moved, locale),
            percent(sway.laid_by_stop, locale),
        )
        for sway in swaying
    )


def _sign(days: float) -> str:
    return "±" if abs(days) < 0.05 else "+" if days > 0 else "−"


def hours_rows(project: Project, reckoning: Reckoning) -> tuple[tuple[str, ...], ...]:
    """Hours of work by trade, with their spread."""
    found = [f for f in reckoning.figures if f.key == "season.hours" or f.key.startswith("season.hours.")]
    return tuple(
        (
            capped(f.label.removeprefix("hours of work: ").removeprefix("hours of work ")),
            show_middle(f, project.units, project.locale),
            show_spread(f, project.units, project.locale),
        )
        for f in found
        if f.value is not None
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class TaskRow:
    """A task of the list: what it is, its hours or face, least and most, its days, and what it minds."""

    what: str
    amount: str
    spread: str
    middle: date
    late: date
    minds: str


def task_rows(project: Project, season: Season) -> tuple[TaskRow, ...]:
    """Every task by the middle day of its end; laying in one row a round of lifts."""
    rows = [*_own_rows(project, season), *_laying_rows(project, season)]
    return tuple(sorted(rows, key=lambda row: row.middle))


def _own_rows(project: Project, season: Season) -> Iterator[TaskRow]:
    for task, part in season.chosen_outcome.tasks:
        if task.group == "pace":
            continue
        people, locale = project.season.people, project.locale
        low, high = (show_number(task.hours[n] * people, 0, locale) for n in (0, 2))
        hours = show_value(float(round(task.mean_hours * people)), "h", project.units, locale)
        yield TaskRow(
            what=capped(task.label),
            amount=hours if task.hours[2] else "–",
            spread=f"{low} to {high}" if low != high else "",
            middle=part.middle,
            late=part.late,
            minds=task.weather,
        )


def _laying_rows(project: Project, season: Season) -> Iterator[TaskRow]:
    """One row for each round of lifts: the face in it, and when its last panel is laid."""
    laying = [(task, part) for task, part in season.chosen_outcome.tasks if task.group == "pace"]
    for number in sorted({int(task.key.rpartition(".")[2]) for task, _ in laying}):
        around = [(task, part) for task, part in laying if int(task.key.rpartition(".")[2]) == number]
        yield TaskRow(
            what=f"Laying, lift {number} of every panel",
            amount=show_value(sum(task.face for task, _ in around), "m2", project.units, project.locale),
            spread="",
            middle=max(part.middle for _, part in around),
            late=max(part.late for _, part in around),
            minds=around[0][0].weather,
        )


def missing_words(reckoning: Reckoning) -> str:
    """Why there is no answer, in a sentence."""
    found = next((f for f in reckoning.figures if f.key == "season.roof_first.laid_p50"), None)
    wanted = "; ".join(found.missing) if found is not None and found.missing else "a run of the seasons"
    return f"When the wall is laid is not known. Wanted: {wanted}."
