"""What moves the day most, and what would one more pair of hands buy?

Every change is run through the same seasons, weather and draws as the plan it is compared with, so that a tenth of a
day's difference is a difference and not chance.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import Final

import numpy as np
from numpy.typing import NDArray

from cordwright.season.crew import Pace
from cordwright.season.habits import habits
from cordwright.season.inputs import Helpers
from cordwright.season.outcomes import chance_by, closing_keys, laying_keys
from cordwright.season.plan import SeasonPlan
from cordwright.season.results import Sway
from cordwright.season.simulate import SeasonRuns, Setting, simulate
from cordwright.season.tasks import LAYING, Task, family

Floats = NDArray[np.float64]
Simulate = Callable[..., SeasonRuns]

COMPARED: Final = 1000
"""Seasons that a change is tried in; their weather is that of the first thousand of the whole."""
MORE_HOURS: Final = 1.1
MOVED: Final = 0.05
"""A shift of less than this [d] is none."""
TWICE: Final = 2.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Trial:
    """A plan, the setting it is run in, and the seasons as they are without any change."""

    plan: SeasonPlan
    setting: Setting
    seed: int
    stop: date | None
    base: SeasonRuns

    def run(self, setting: Setting | None = None, stretch: Floats | None = None) -> SeasonRuns:
        """The same seasons with a change."""
        found = self.setting if setting is None else setting
        return simulate(self.plan, found, seed=self.seed, seasons=len(self.base.finish), stretch=stretch)

    def sway(self, what: str, runs: SeasonRuns) -> Sway:
        """What a change did to the day the building is closed."""
        keys = closing_keys(runs)
        shift = runs.at(keys).astype(np.float64) - self.base.at(keys)
        return Sway(
            what=what,
            days=float(shift.mean()),
            moved=float(np.mean(np.abs(shift) > MOVED)),
            laid_by_stop=chance_by(runs, runs.at(laying_keys(runs)), self.stop),
        )


def trial_of(plan: SeasonPlan, setting: Setting, seed: int, stop: date | None, seasons: int) -> Trial:
    """Run the plan as it stands, to compare changes with; `seasons`: how many there are."""
    base = simulate(plan, setting, seed=seed, seasons=min(COMPARED, seasons))
    return Trial(plan=plan, setting=setting, seed=seed, stop=stop, base=base)


def critical(trial: Trial) -> tuple[Sway, ...]:
    """A tenth more hours on each kind of task, the one that moves the closing most first.

    Args:
        trial: the plan as it stands.
    """
    found = [_stretched(trial, name, label) for name, label in _families(trial.plan.tasks)]
    return tuple(sorted((sway for sway in found if sway.moved > 0), key=lambda sway: -sway.days))


def _families(tasks: tuple[Task, ...]) -> Iterator[tuple[str, str]]:
    seen: dict[str, str] = {}
    for task in tasks:
        if task.area or task.hours[2]:
            seen.setdefault(family(task.key), LAYING if family(task.key) == LAYING else task.label)
    yield from seen.items()


def _stretched(trial: Trial, name: str, label: str) -> Sway:
    stretch = np.array([MORE_HOURS if family(task.key) == name else 1.0 for task in trial.plan.tasks])
    return trial.sway(label, trial.run(stretch=stretch))


def changes(trial: Trial) -> tuple[Sway, ...]:
    """What the builder may change or may have misjudged, in the order a builder would think of it.

    Args:
        trial: the plan as it stands.
    """
    return tuple(trial.sway(what, trial.run(setting)) for what, setting in _settings(trial))


def _settings(trial: Trial) -> Iterator[tuple[str, Setting]]:
    setting, season = trial.setting, trial.setting.season
    day = helper_day(trial)
    if day is not None:
        own = next((h.factor for h in season.helpers if h.start <= day <= h.end), 1.0)
        more = (Helpers(start=day, end=day, factor=own + 1.0), *season.helpers)
        yield "one more helper day", replace(setting, season=replace(season, helpers=more))
    week = tuple(habits()["defaults"]["days"]) if season.days is None else season.days
    spare = next((d for d in (4, 5, 0, 1, 2, 3, 6) if d not in week), None)
    if spare is not None:
        longer = replace(season, days=tuple(sorted((*week, spare))))
        yield "one more working day a week", replace(setting, season=longer)
    if any(h.factor > 1 for h in season.helpers):
        alone = tuple(h for h in season.helpers if h.factor <= 1)
        yield "no helpers", replace(setting, season=replace(season, helpers=alone))
    yield "a pace one tenth slower", replace(setting, pace=_faster(setting.pace, 0.9))
    yield "a pace one tenth faster", replace(setting, pace=_faster(setting.pace, 1.1))


def _faster(pace: Pace, factor: float) -> Pace:
    return replace(pace, log_mean=pace.log_mean + float(np.log(factor)))


def helper_day(trial: Trial) -> date | None:
    """The day of the builder's week on which half of all seasons have half the wall laid: laying is surely on then."""
    keys = laying_keys(trial.base)
    if not keys:
        return None
    middles = np.sort(np.median(trial.base.finish[:, trial.plan.index(keys)], axis=0))
    day = trial.base.day(float(middles[len(middles) // 2]))
    week = trial.setting.season.days
    days = tuple(habits()["defaults"]["days"]) if week is None else week
    if not days:
        return None
    return next(d for d in (day - timedelta(days=n) for n in range(7)) if d.weekday() in days)


def spreads(trial: Trial) -> tuple[float, float]:
    """From the early to the late day of closing [d]: in all, and by the weather alone when the pace is known.

    Args:
        trial: the plan as it stands.
    """
    known = replace(trial.setting.pace, log_mean=float(np.log(trial.setting.pace.mean)), log_spread=0.0)
    sure = trial.run(replace(trial.setting, pace=known))
    return _span(trial.base), _span(sure)


def _span(runs: SeasonRuns) -> float:
    early, late = np.quantile(runs.at(closing_keys(runs)), (0.1, 0.9))
    return float(late - early)
