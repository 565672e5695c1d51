"""What the seasons say: by when, with what chance, what took the time, and what would change it."""

from dataclasses import dataclass
from datetime import date

import numpy as np
from numpy.typing import NDArray

from cordwright.base import Caution, Check, Figure
from cordwright.season.inputs import Strategy
from cordwright.season.tasks import Task

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True, kw_only=True)
class Milestone:
    """A day by which something is finished: in one season of ten, of two, and in nine of ten.

    A day at the end of the horizon stands for seasons that are not finished by then; `unfinished` is their share [1].
    """

    key: str
    label: str
    early: date
    middle: date
    late: date
    unfinished: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Lost:
    """Hours of the crew that one cause takes [h]: mean of all seasons, what one of ten and nine of ten stay under."""

    cause: str
    mean: float
    low: float
    high: float


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Fan:
    """The wall as it rises: face laid by each of some days [m2].

    Arrays (days,) and, of single seasons, (threads, days).
    """

    days: tuple[date, ...]
    low: Floats
    middle: Floats
    high: Floats
    threads: Floats


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Outcome:
    """What comes of one strategy.

    `laid`: the last log end; `closed`: walls laid and roof on; `done`: the last task of all. `laid_by_stop` and
    `closed_by_stop`: chances [1], None without a stop date. `tasks`: each with its own days.
    """

    strategy: Strategy
    laid: Milestone
    closed: Milestone
    done: Milestone
    laid_by_stop: float | None
    closed_by_stop: float | None
    lost: tuple[Lost, ...]
    tasks: tuple[tuple[Task, Milestone], ...]
    fan: Fan


@dataclass(frozen=True, slots=True, kw_only=True)
class Sway:
    """What one change does to the day the building is closed, with the same weather and draws.

    `days`: mean shift, later is positive [d]; `moved`: share of seasons in which the day changes [1]. `laid_by_stop`:
    the chance with the change [1], None without a stop date.
    """

    what: str
    days: float
    moved: float
    laid_by_stop: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Season:
    """The season worked out: all strategies, the chosen one's swaying, figures, checks, cautions.

    `critical`: a tenth more hours on each kind of task; `changes`: what the builder may change. `stop`: the last day to
    lay. `logs_late`: the latest day of dry logs by the forecast, where it lies after laying begins.
    """

    outcomes: tuple[Outcome, ...]
    chosen: Strategy
    stop: date | None
    critical: tuple[Sway, ...]
    changes: tuple[Sway, ...]
    logs_late: date | None
    seasons: int
    seed: int
    figures: tuple[Figure, ...]
    checks: tuple[Check, ...]
    cautions: tuple[Caution, ...]
    notes: tuple[str, ...] = ()

    def of(self, strategy: Strategy) -> Outcome:
        """The outcome of one strategy."""
        return next(o for o in self.outcomes if o.strategy == strategy)

    @property
    def chosen_outcome(self) -> Outcome:
        """What the builder's own strategy comes to."""
        return self.of(self.chosen)
