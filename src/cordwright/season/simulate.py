"""What comes of a plan over many seasons of weather?

Season i of a hundred is season i of ten thousand: its weather, its hours and its pace hang on the seed and i alone.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, fields
from datetime import date, timedelta
from math import ceil
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from cordwright.base import StoppedError
from cordwright.season.crew import Pace, calm_chances, class_rows, clock_and_hands, next_working, pace_of, rule_row
from cordwright.season.habits import habits
from cordwright.season.inputs import SeasonInput
from cordwright.season.plan import SeasonPlan, arrays_of
from cordwright.site.inputs import SiteInput
from cordwright.site.weather import WeatherModel
from cordwright.site.weather_calendar import weather_calendar

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

HORIZON: Final = 900
"""Days a season is followed; what is not finished then counts as finished on the last of them."""
CHUNK: Final = 1000
AHEAD: Final = 4
CAUSES: Final = ("rain", "cold", "heat", "wind", "waiting", "worked", "caught by frost")


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class SeasonRuns:
    """Seasons of one plan. `finish`: moment each task is finished (seasons, tasks) [d from the plan's first day].

    `hours`: by cause (seasons, causes) [h of the crew]; the last column tells of hours worked too: mortar laid within
    three nights before hard frost. `horizon`: what is not finished stands at it.
    """

    plan: SeasonPlan
    seed: int
    horizon: int
    finish: Floats
    hours: Floats

    def at(self, keys: tuple[str, ...]) -> Floats:
        """The moment at which the last of some tasks is finished, of each season [d]."""
        return np.asarray(self.finish[:, self.plan.index(keys)].max(axis=1))

    def day(self, moment: float) -> date:
        """The day on which a moment lies: work that ends with a day ends on that day."""
        return self.plan.first + timedelta(days=max(0, ceil(moment - 1e-6) - 1))


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Setting:
    """All that a plan is run against: the owner's calendar, the place, its weather, and the pace."""

    season: SeasonInput
    site: SiteInput
    weather: WeatherModel
    pace: Pace


def setting_of(season: SeasonInput, site: SiteInput, weather: WeatherModel) -> Setting:
    """Put together what seasons are run against."""
    return Setting(season=season, site=site, weather=weather, pace=pace_of(season))


def simulate(
    plan: SeasonPlan,
    setting: Setting,
    *,
    seed: int,
    seasons: int,
    stretch: Floats | None = None,
    progress: Callable[[float, str], None] | None = None,
    stopped: Callable[[], bool] | None = None,
) -> SeasonRuns:
    """Run a plan through many seasons.

    Args:
        plan: in order.
        setting: calendar, place, weather and pace.
        seed: not below zero; the same seed gives the same seasons, whatever the plan.
        seasons: how many.
        stretch: factors on the tasks' hours (tasks,).
        progress: told the share done [1] and what is done, a thousand seasons at a time.
        stopped: asked as often; when it says yes the run ends.

    Raises:
        StoppedError: the run was stopped.
    """
    from cordwright.season._kernels import CAUSES as COLUMNS
    from cordwright.season._kernels import run_seasons

    finish = np.empty((seasons, len(plan.tasks)), np.float64)
    hours = np.empty((seasons, COLUMNS), np.float64)
    given = kernel_input(plan, setting, stretch)
    sky = np.empty((0, 3, HORIZON + AHEAD))
    for start in range(0, seasons, CHUNK):
        if stopped is not None and stopped():
            raise StoppedError("the seasons were stopped")
        if progress is not None:
            progress(start / seasons, "running seasons")
        end = min(start + CHUNK, seasons)
        arguments: tuple[Any, ...] = (seed, start, *given, sky, finish[start:end], hours[start:end])
        with np.errstate(over="ignore"):
            run_seasons(*arguments)
    return SeasonRuns(plan=plan, seed=seed, horizon=HORIZON, finish=finish, hours=hours)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class KernelInput:
    """What `run_seasons` takes between the first season's number and the weather, in its order (see `_kernels`)."""

    crew: tuple[Floats, Floats, Floats, Ints, Floats]
    tasks: tuple[Ints, Ints, Floats, Ints, Ints, Ints, Floats, Ints, Ints]
    quantiles: Floats
    pace: Floats
    classes: Floats
    rules: Floats
    calendar: tuple[int, int, Ints, Ints]
    tables: tuple[Floats, ...]

    def __iter__(self) -> Iterator[Any]:
        return (getattr(self, field.name) for field in fields(self))


def kernel_input(plan: SeasonPlan, setting: Setting, stretch: Floats | None = None) -> KernelInput:
    """Lay plan and setting out for the kernel.

    Args:
        plan: in order.
        setting: calendar, place, weather and pace.
        stretch: factors on the tasks' hours (tasks,).
    """
    names = tuple(habits()["weather"])
    arrays, classes = arrays_of(plan, names, stretch), class_rows(names)
    clock, hands = clock_and_hands(setting.season, setting.site, plan.first, HORIZON)
    before = np.concatenate([[0.0], np.cumsum(clock * hands)])
    months = setting.site.months
    calm = calm_chances(classes, None if months is None else months.wind, plan.first, HORIZON)
    calendar = weather_calendar(plan.first, HORIZON + AHEAD)
    return KernelInput(
        crew=(clock, hands, before, next_working(clock), calm),
        tasks=arrays.tasks,
        quantiles=arrays.quantiles,
        pace=np.array([setting.pace.log_mean, setting.pace.log_spread]),
        classes=classes,
        rules=rule_row(setting.season),
        calendar=(calendar.first, calendar.lead, calendar.slot, calendar.month),
        tables=setting.weather.tables(),
    )
