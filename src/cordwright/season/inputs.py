"""When is there time for the work, how fast does it go, and in which order is it meant?

Days as dates, hours [h], pace [m2/h], shares as fractions.
"""

from dataclasses import dataclass
from datetime import date
from typing import Final, Literal

Strategy = Literal["roof first", "walls first, tarpaulin", "walls first, bare"]
RainRule = Literal["partial day", "whole day"]
Group = Literal["own hours", "pace"]

STRATEGIES: Final[tuple[Strategy, ...]] = ("roof first", "walls first, tarpaulin", "walls first, bare")
WEEK: Final = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")


@dataclass(frozen=True, slots=True, kw_only=True)
class Helpers:
    """Days on which other hands help, both ends included.

    `factor`: what all get done over what the builder alone gets done in the same hours; 0 means that nobody works.
    """

    start: date
    end: date
    factor: float


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnTask:
    """What the owner says of a task of the plan, or a task of their own.

    `task`: the key of one of the plan's tasks, or a new name. Hours [h]: least, likely and most; None keeps the
    reckoned ones, and a task of the owner's own needs `likely`. `after`, `before`: keys or names of other tasks.
    `weather`: the class of the weather it minds. `wait`: days from its end until what follows may begin. `earliest`:
    not begun before. `done`: share of it that is done already.
    """

    task: str
    least: float | None = None
    likely: float | None = None
    most: float | None = None
    after: tuple[str, ...] = ()
    before: tuple[str, ...] = ()
    weather: str = ""
    wait: float | None = None
    earliest: date | None = None
    done: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class SeasonInput:
    """The builder's calendar; None is unknown and takes a stated habit, which the figures name as their source.

    `start`: the first day of any work. `stop`: the last day to lay, before the one that the frost gives. `days`: of the
    week, Monday is 0. `hours`: worked on such a day. `people`: how many work; hours of a task are one person's.
    `pace` and `pace_spread`: mean and standard deviation of what all together are believed to lay in an hour, pointed
    [m2/h]; a spread of nought is a pace known for certain. `learning`: by what share the first square metre takes
    longer than later ones. `rain`: whether rain takes hours or whole days. `recorded_to`: the day from which a season
    is seen that the diary has overtaken (`season.seen`); the pace is then the owner's own.
    """

    start: date | None = None
    stop: date | None = None
    strategy: Strategy = "roof first"
    days: tuple[int, ...] | None = None
    hours: float | None = None
    people: float = 1.0
    pace: float | None = None
    pace_spread: float | None = None
    learning: float | None = None
    rain: RainRule = "partial day"
    helpers: tuple[Helpers, ...] = ()
    tasks: tuple[OwnTask, ...] = ()
    recorded_to: date | None = None
