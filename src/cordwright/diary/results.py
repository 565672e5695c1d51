"""What does the diary come to? Days as they were, the pace, what is left, how cracks and moisture go."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from cordwright.base import Caution, Check, Figure
from cordwright.diary.posterior import Posterior


@dataclass(frozen=True, slots=True, kw_only=True)
class LayingDay:
    """One day of laying: wall laid [m2], log ends counted, person-hours, hours by the clock, batches mixed.

    `hours`, `clock` and `batches` are None where that day does not say; `marked`: the part of `area` whose log ends
    were counted [m2]; `unmeasured`: marks of log ends whose face is unknown.
    """

    day: date
    area: float
    logs: int
    hours: float | None
    clock: float | None
    batches: float | None
    marked: float = 0.0
    unmeasured: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """One reading of a series: its day and its value in SI."""

    day: date
    value: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Series:
    """Readings at one place in order of time."""

    place: str
    readings: tuple[Reading, ...]

    @property
    def last(self) -> Reading:
        """The newest."""
        return self.readings[-1]


@dataclass(frozen=True, slots=True, kw_only=True)
class Trend:
    """How a crack's width goes: the slope of a line through its readings [m/year], four chances in five.

    None while there are fewer than three readings on different days. `word`: opening, closing, no trend shown, too few.
    """

    series: Series
    slope: float | None
    low: float | None
    high: float | None
    word: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Diary:
    """The diary worked out.

    `pace` is of one person in a day of `day_hours` [m2/day]; `laid`: face by panel [m2], under "" where none is named;
    `hours_by_trade` in person-hours [h], `moisture` by log end, `weighings` by test end.
    """

    days: tuple[LayingDay, ...]
    laid: Mapping[str, float]
    pace: Posterior
    day_hours: float
    mortar: Posterior | None
    cracks: tuple[Trend, ...]
    moisture: tuple[Series, ...]
    weighings: tuple[Series, ...]
    hours_by_trade: tuple[tuple[str, float], ...]
    figures: tuple[Figure, ...]
    checks: tuple[Check, ...]
    cautions: tuple[Caution, ...]

    def figure(self, key: str) -> Figure:
        """One figure by its key.

        Raises:
            StopIteration: no such figure.
        """
        return next(f for f in self.figures if f.key == key)
