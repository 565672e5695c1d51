"""What do thousands of seasons come to, in days and chances a builder can use?"""

from collections.abc import Sequence
from datetime import date, timedelta
from typing import Final

import numpy as np
from numpy.typing import NDArray

from cordwright.season.inputs import Strategy
from cordwright.season.results import Fan, Lost, Milestone, Outcome
from cordwright.season.simulate import CAUSES, SeasonRuns
from cordwright.season.tasks import LAYING, ROOF, Task, family

Floats = NDArray[np.float64]

CHANCES: Final = (0.1, 0.5, 0.9)
THREADS: Final = 40
"""Single seasons drawn behind the fan."""
FAN_STEP: Final = 3
"""Days between two points of the fan."""


def outcome_of(runs: SeasonRuns, strategy: Strategy, stop: date | None) -> Outcome:
    """Sum up the seasons of one strategy.

    Args:
        runs: its seasons.
        strategy: it.
        stop: last day to lay, None when unknown.
    """
    laid, closed = runs.at(laying_keys(runs)), runs.at(closing_keys(runs))
    return Outcome(
        strategy=strategy,
        laid=milestone(runs, "laid", "last log end laid", laid),
        closed=milestone(runs, "closed", "walls laid and roof on", closed),
        done=milestone(runs, "done", "last task done", runs.finish.max(axis=1)),
        laid_by_stop=chance_by(runs, laid, stop),
        closed_by_stop=chance_by(runs, closed, stop),
        lost=tuple(_lost(cause, runs.hours[:, n]) for n, cause in enumerate(CAUSES)),
        tasks=tuple(
            (task, milestone(runs, task.key, task.label, runs.finish[:, n])) for n, task in enumerate(runs.plan.tasks)
        ),
        fan=fan_of(runs, laid),
    )


def laying_keys(runs: SeasonRuns) -> tuple[str, ...]:
    """The tasks of laying."""
    return tuple(task.key for task in runs.plan.tasks if family(task.key) == LAYING)


def closing_keys(runs: SeasonRuns) -> tuple[str, ...]:
    """The tasks after which the building is closed: walls laid, roof on."""
    return (*laying_keys(runs), *(task.key for task in runs.plan.tasks if task.key == ROOF))


def milestone(runs: SeasonRuns, key: str, label: str, moments: Floats) -> Milestone:
    """Sum up one moment over all seasons.

    Args:
        runs: the seasons.
        key: of the milestone.
        label: what it is.
        moments: (seasons,) [d].
    """
    early, middle, late = (runs.day(float(m)) for m in quantiles(moments))
    return Milestone(
        key=key,
        label=label,
        early=early,
        middle=middle,
        late=late,
        unfinished=float(np.mean(moments >= runs.horizon)),
    )


def quantiles(values: Floats) -> tuple[float, float, float]:
    """What one of ten, of two and nine of ten stay under, each a value that was seen."""
    early, middle, late = np.quantile(values, CHANCES, method="inverted_cdf")
    return float(early), float(middle), float(late)


def chance_by(runs: SeasonRuns, moments: Floats, day: date | None) -> float | None:
    """Share of seasons in which a moment comes by the end of a day [1]; None without the day."""
    if day is None:
        return None
    end = (day - runs.plan.first).days + 1
    return float(np.mean((moments <= end + 1e-6) & (moments < runs.horizon)))


def _lost(cause: str, hours: Floats) -> Lost:
    low, _, high = quantiles(hours)
    return Lost(cause=cause, mean=float(hours.mean()), low=low, high=high)


def fan_of(runs: SeasonRuns, laid: Floats) -> Fan:
    """How the laid face grows, from the first laying to the day by which nine seasons of ten are through.

    Args:
        runs: the seasons.
        laid: moment of the last log end (seasons,) [d].
    """
    laying = [(n, task) for n, task in enumerate(runs.plan.tasks) if family(task.key) == LAYING]
    if not laying:
        empty = np.zeros(0)
        return Fan(days=(), low=empty, middle=empty, high=empty, threads=np.zeros((0, 0)))
    moments = runs.finish[:, [n for n, _ in laying]]
    first, last = int(np.quantile(moments.min(axis=1), 0.02)), int(np.quantile(laid, 0.95)) + FAN_STEP
    ends = np.arange(max(0, first - 10), min(last, runs.horizon) + 1, FAN_STEP)
    risen = _risen(moments, [task for _, task in laying], ends)
    low, middle, high = np.quantile(risen, CHANCES, axis=0)
    days = tuple(runs.plan.first + timedelta(days=int(end) - 1) for end in ends)
    return Fan(days=days, low=low, middle=middle, high=high, threads=risen[:THREADS])


def _risen(moments: Floats, tasks: Sequence[Task], ends: NDArray[np.int64]) -> Floats:
    """Face laid by the end of some days (seasons, days) [m2]; a lift counts when it is finished."""
    order = np.argsort(moments, axis=1)
    areas = np.array([task.face for task in tasks])
    grown = np.concatenate([np.zeros((len(moments), 1)), np.cumsum(areas[order], axis=1)], axis=1)
    ranked = np.take_along_axis(moments, order, axis=1)
    counts = np.stack([(ranked <= end).sum(axis=1) for end in ends], axis=1)
    return np.asarray(np.take_along_axis(grown, counts, axis=1))
