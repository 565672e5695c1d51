"""How does the season look from a later day, when wall stands and the owner's own pace is known?"""

from collections.abc import Iterator, Mapping
from dataclasses import replace
from datetime import date

from cordwright.season.inputs import OwnTask, SeasonInput
from cordwright.season.tasks import LAYING, Task, family, tasks_of
from cordwright.season.work import Work


def as_recorded(
    season: SeasonInput, work: Work, *, today: date, laid: Mapping[str, float], pace: float, pace_spread: float
) -> SeasonInput:
    """The calendar from a later day on: what is laid is laid, what laying waited for is done, the pace is the owner's.

    Args:
        season: as first stated.
        work: how much there is.
        today: the first day that is still open.
        laid: face laid by panel [m2]; under "" where no panel is named.
        pace: of all together, pointed [m2/h]; the first slow square metres are in it, so none is added.
        pace_spread: its standard deviation [m2/h].
    """
    own = replace(season, pace=pace, pace_spread=pace_spread, learning=0.0, recorded_to=today)
    done = {key: 1.0 for key in _before_laying(tasks_of(work, season, season.strategy))}
    return replanned(own, today, {**done, **lift_shares(work, laid)})


def lift_shares(work: Work, laid: Mapping[str, float]) -> dict[str, float]:
    """The share of each lift that is laid [1], from the bed up; face of no named panel fills lifts in their order.

    Args:
        work: with the lifts in the order of laying.
        laid: face by panel [m2].
    """
    left = dict(laid)
    loose = left.pop("", 0.0)
    shares: dict[str, float] = {}
    for lift in work.lifts:
        here = min(lift.area, left.get(lift.panel, 0.0))
        left[lift.panel] = left.get(lift.panel, 0.0) - here
        more = min(lift.area - here, loose)
        loose -= more
        if here + more > 0:
            shares[f"{LAYING}.{lift.panel}.{lift.lift}"] = (here + more) / lift.area
    return shares


def _before_laying(tasks: tuple[Task, ...]) -> Iterator[str]:
    """Every task that some laying waits for, near or far: wall stands, so these are done."""
    by_key = {task.key: task for task in tasks}
    seen: set[str] = set()
    todo = [key for task in tasks if family(task.key) == LAYING for key in task.after]
    while todo:
        key = todo.pop()
        if key not in seen:
            seen.add(key)
            todo += by_key[key].after
    yield from (task.key for task in tasks if task.key in seen and family(task.key) != LAYING)


def replanned(season: SeasonInput, today: date, done: dict[str, float]) -> SeasonInput:
    """The same calendar seen from a later day: what is done is done, the rest begins then.

    Args:
        season: as first stated.
        today: the first day that is still open.
        done: share of each task that is done [1], by its key.
    """
    told = {own.task: own for own in season.tasks}
    for key, share in done.items():
        told[key] = replace(told.get(key, OwnTask(task=key)), done=min(1.0, max(0.0, share)))
    return replace(season, start=today, tasks=tuple(told.values()))
