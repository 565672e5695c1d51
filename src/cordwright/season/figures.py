"""Which numbers of the season does the owner read?"""

import math
from collections.abc import Iterable, Iterator, Mapping
from datetime import date
from typing import Final

from cordwright.base import Check, Cite, Figure, Step
from cordwright.season.crew import Pace
from cordwright.season.inputs import SeasonInput, Strategy
from cordwright.season.results import Milestone, Outcome
from cordwright.season.tasks import LAYING, Task, family
from cordwright.site import wanting_for_days
from cordwright.site.inputs import SiteInput

MODEL: Final = Cite("season-model", "day by day over whole seasons")
NAMES: Final[Mapping[Strategy, str]] = {
    "roof first": "roof_first",
    "walls first, tarpaulin": "walls_first",
    "walls first, bare": "walls_first_bare",
}
"""What each strategy is called in the keys of figures; walls first are covered with a tarpaulin unless said bare."""
NO_START: Final = "the first day of any work (season.start)"
ASKED: Final = {
    "laid": "last log end laid: in one season of two by",
    "closed": "walls laid and roof on: in one season of two by",
}
ENDS: Final = (("p10", "early", "in one season of ten"), ("p90", "late", "in nine seasons of ten"))


def outcome_figures(outcome: Outcome, stop: date | None, seed: int, seasons: int) -> Iterator[Figure]:
    """Days, chances and lost hours of one strategy.

    Args:
        outcome: what its seasons come to.
        stop: last day to lay.
        seed: of the runs.
        seasons: how many.
    """
    name = f"season.{NAMES[outcome.strategy]}"
    steps = _runs(seed, seasons)
    for part in (outcome.laid, outcome.closed, outcome.done):
        yield from _days(f"{name}.{part.key}", f"{part.label}, {outcome.strategy}", part, steps)
    yield _chance(
        f"{name}.laid_by_stop",
        f"chance that all is laid by the last laying day, {outcome.strategy}",
        stop,
        outcome.laid_by_stop,
        steps,
    )
    yield _chance(
        f"{name}.chance_by_stop",
        f"chance of being closed by the last laying day, {outcome.strategy}",
        stop,
        outcome.closed_by_stop,
        steps,
    )
    for lost in outcome.lost:
        if lost.cause in ("rain", "cold", "heat", "wind"):
            yield Figure(
                key=f"{name}.lost_{lost.cause}",
                label=f"hours that {lost.cause} takes first, mean of all seasons, {outcome.strategy}",
                value=lost.mean,
                low=min(lost.low, lost.mean),
                high=max(lost.high, lost.mean),
                unit="h",
                sources=(MODEL, Cite("wet-hours"), Cite("season-rain-choice")),
                steps=steps,
            )


def _runs(seed: int, seasons: int) -> tuple[Step, ...]:
    return (
        Step(symbol="seasons run", value=float(seasons), unit="", formula="one pace, one weather each", source=MODEL),
        Step(symbol="seed", value=float(seed), unit="", formula="the same seed gives the same seasons"),
    )


def _days(key: str, label: str, part: Milestone, steps: tuple[Step, ...]) -> Iterator[Figure]:
    late = part.unfinished
    missing = (f"an end within the days looked at: {late:.0%} of the seasons have none",) if late >= 0.1 else ()
    middle = late < 0.5
    yield Figure(
        key=f"{key}_p50",
        label=f"{label}: in one season of two by",
        value=part.middle if middle else None,
        low=part.early if middle else None,
        high=part.late if middle and not missing else None,
        unit="date",
        bound="exact" if middle else "unknown",
        missing=missing,
        sources=(MODEL,),
        steps=steps,
    )
    for end, field, words in ENDS:
        known = late < 0.9 if end == "p10" else not missing
        yield Figure(
            key=f"{key}_{end}",
            label=f"{label}: {words} by",
            value=getattr(part, field) if known else None,
            unit="date",
            bound="exact" if known else "unknown",
            missing=() if known else missing,
            sources=(MODEL,),
            steps=steps,
        )


def _chance(key: str, label: str, stop: date | None, chance: float | None, steps: tuple[Step, ...]) -> Figure:
    missing = (
        () if stop is not None else ("the last laying day: the mix, and the first hard frost or the months' lows",)
    )
    return Figure(
        key=key,
        label=label,
        value=chance,
        unit="1",
        bound="unknown" if chance is None else "exact",
        missing=missing,
        sources=(MODEL, Cite("late-laying")),
        steps=steps,
    )


def hour_figures(tasks: tuple[Task, ...], pace: Pace, people: float) -> Iterator[Figure]:
    """Hours of work in all and by trade, of all people together: means, with the estimates' least and most.

    Args:
        tasks: of the strategy that is meant.
        pace: of laying, by all together.
        people: how many work.
    """
    spans = {task.key: _span(task, pace, people) for task in tasks}
    trades = dict.fromkeys(task.trade for task in tasks if spans[task.key][1] > 0)
    yield _hours("season.hours", "hours of work in all", tasks, spans)
    for trade in trades:
        part = tuple(task for task in tasks if task.trade == trade)
        yield _hours(f"season.hours.{trade.replace(' ', '_')}", f"hours of work: {trade}", part, spans)


def hours_by_trade(figures: Iterable[Figure]) -> dict[str, Figure]:
    """The hours of work of each trade, by its name, among the figures of a season."""
    head = "season.hours."
    return {f.key.removeprefix(head).replace("_", " "): f for f in figures if f.key.startswith(head)}


def _span(task: Task, pace: Pace, people: float) -> tuple[float, float, float]:
    """Least, mean and most hours of work; of laying what one pace of ten and nine of ten give."""
    if task.group == "pace":
        spread = 1.2816 * pace.log_spread
        low, high = math.exp(-pace.log_mean - spread), math.exp(-pace.log_mean + spread)
        mean = math.exp(-pace.log_mean + pace.log_spread**2 / 2)
        area = task.area * people
        return area * min(low, mean), area * mean, area * max(high, mean)
    return task.hours[0] * people, task.mean_hours * people, task.hours[2] * people


def _hours(key: str, label: str, tasks: tuple[Task, ...], spans: Mapping[str, tuple[float, float, float]]) -> Figure:
    low, mean, high = (sum(spans[task.key][n] for task in tasks) for n in range(3))
    steps = []
    for name in dict.fromkeys(family(task.key) for task in tasks):
        part = [task for task in tasks if family(task.key) == name]
        hours = sum(spans[task.key][1] for task in part)
        if hours > 0:
            label_ = "laying" if name == LAYING else part[0].label
            steps.append(Step(symbol=label_, value=hours, unit="h", formula="mean", source=part[0].sources[0]))
    sources = tuple(dict.fromkeys(cite for task in tasks for cite in task.sources))
    return Figure(
        key=key,
        label=label,
        value=mean,
        low=low,
        high=high,
        unit="h",
        sources=(*sources, Cite("pert-beta")),
        steps=tuple(steps),
    )


def pace_figure(season: SeasonInput, pace: Pace, hours: float) -> Figure:
    """What is believed to be laid in a working day.

    Args:
        season: as stated.
        pace: in an hour.
        hours: of a working day [h].
    """
    low, high = (math.exp(pace.log_mean + z * pace.log_spread) * hours for z in (-1.2816, 1.2816))
    mean = pace.mean * hours
    return Figure(
        key="season.pace",
        label="face laid in a working day, over the whole wall" + ("" if season.pace is not None else " (a habit)"),
        value=mean,
        low=min(low, mean),
        high=max(high, mean),
        unit="m2",
        sources=pace.sources,
        steps=(Step(symbol="hours of a working day", value=hours, unit="h", source=Cite("owner", "season.hours")),),
    )


def spread_figures(whole: float, weather: float, steps_of: tuple[int, int]) -> Iterator[Figure]:
    """From the early to the late day of closing: in all, and what weather alone makes of it.

    Args:
        whole: in all [d].
        weather: by the weather when the pace is known for certain [d].
        steps_of: seed and number of the seasons.
    """
    steps = _runs(*steps_of)
    for key, label, value in (
        ("season.spread", "days between an early and a late closing", whole),
        ("season.spread_weather", "days of that which the weather makes alone, were the pace known", weather),
    ):
        yield Figure(key=key, label=label, value=value, unit="d", sources=(MODEL,), steps=steps)


def stop_check(outcome: Outcome, begins: date | None, stop: date | None) -> Check:
    """The days that laying takes against the days there are before the last laying day.

    Args:
        outcome: of the strategy that is meant.
        begins: the day laying begins.
        stop: last day to lay.
    """
    key, label = "season.laying_check", "days from the first log end to the last, within the laying season"
    sources = (MODEL, Cite("late-laying"))
    if begins is None or stop is None or outcome.laid.unfinished >= 0.1:
        why = "the day laying begins or the last laying day is unknown, or many seasons find no end"
        return Check(key=key, label=label, demand=None, capacity=None, unit="d", sources=sources, not_judged=why)
    low, middle, high = (
        float((day - begins).days + 1) for day in (outcome.laid.early, outcome.laid.middle, outcome.laid.late)
    )
    room = float((stop - begins).days + 1)
    return Check(
        key=key,
        label=label,
        demand=max(0.0, middle),
        capacity=room,
        unit="d",
        low=max(0.0, low),
        high=max(0.0, high),
        sources=sources,
    )


def unknown_figures(season: SeasonInput, site: SiteInput) -> tuple[Figure, ...]:
    """The answer where it cannot be given, saying what to state; none where seasons only were not asked for.

    Args:
        season: the owner's calendar.
        site: the place.
    """
    missing = (*((NO_START,) if season.start is None else ()), *wanting_for_days(site))
    if not missing:
        return ()
    keys = ((f"season.{name}.{part}_p50", words) for name in NAMES.values() for part, words in ASKED.items())
    return tuple(
        Figure(key=key, label=words, value=None, unit="date", bound="unknown", missing=missing, sources=(MODEL,))
        for key, words in keys
    )
