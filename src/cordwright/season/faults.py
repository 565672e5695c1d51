"""What in the builder's calendar cannot be meant?"""

from collections.abc import Iterator
from datetime import date
from graphlib import CycleError, TopologicalSorter
from typing import Final

from cordwright.base import Problem
from cordwright.season.habits import habits, weather_classes
from cordwright.season.inputs import Helpers, OwnTask, SeasonInput
from cordwright.season.tasks import LAYING

LONGEST_DAY: Final = 16.0
MOST_HANDS: Final = 20.0
FASTEST: Final = 5.0
"""Face that anybody lays in an hour, however many they are [m2/h]: more is a slip of the finger."""
MOST_OWN: Final = 40
LONGEST_WAIT: Final = 400.0
HORIZON_YEARS: Final = 2.0


def find_faults(season: SeasonInput, laying_begins: date | None = None) -> Iterator[Problem]:
    """Name what is wrong with the calendar, by key path.

    Args:
        season: as stated.
        laying_begins: the day laying begins, as the site states it.
    """
    yield from _day_faults(season, laying_begins)
    yield from _pace_faults(season)
    for n, helpers in enumerate(season.helpers):
        yield from _helper_faults(f"season.helpers[{n}]", helpers)
    yield from _task_faults(season)


def _day_faults(season: SeasonInput, begins: date | None) -> Iterator[Problem]:
    if season.days == ():
        yield _fault("season.days", "no day of the week is worked", 'name at least one: ["Sat", "Sun"]')
    if season.hours is not None and season.hours > LONGEST_DAY:
        yield _fault("season.hours", f"{season.hours:g} h a day", f"at most {LONGEST_DAY:g} h of a day are worked")
    if season.start and not 1900 <= season.start.year <= 2200:
        yield _fault("season.start", f"work begins {season.start}, outside 1900 to 2200", "look at the year")
    if season.start and season.stop and season.stop <= season.start:
        message = f"the last day to lay, {season.stop}, is not after the first day of work, {season.start}"
        yield _fault("season.stop", message, "move one of the two")
    if season.start and begins and (begins - season.start).days > 365 * HORIZON_YEARS:
        message = f"work begins {season.start} and laying {begins}: more than two years lie between"
        yield _fault("season.start", message, "begin the season nearer to laying, and mark what is done as done")
    if season.start and begins and begins < season.start:
        message = f"laying begins {begins} (site.laying_begins), before any work does"
        yield _fault("season.start", message, "name the first day of any work, laying included")


def _pace_faults(season: SeasonInput) -> Iterator[Problem]:
    if season.pace is not None and not 0 < season.pace <= FASTEST:
        message = f"{season.pace:g} m2 laid in an hour"
        yield _fault("season.pace", message, f"more than nothing and at most {FASTEST:g} m2 an hour")
    if season.pace_spread is not None and season.pace is None:
        yield _fault("season.pace_spread", "a spread without a pace", "state season.pace too, or leave both out")
    elif season.pace_spread is not None and season.pace and season.pace_spread > season.pace:
        message = "the spread of the pace is larger than the pace"
        yield _fault("season.pace_spread", message, "state how far off your pace may be, less than the pace itself")
    if not 0 < season.people <= MOST_HANDS:
        yield _fault("season.people", f"{season.people:g} people", f"more than nobody and at most {MOST_HANDS:g}")


def _helper_faults(field: str, helpers: Helpers) -> Iterator[Problem]:
    if helpers.end < helpers.start:
        message = f"they leave on {helpers.end}, before they come on {helpers.start}"
        yield _fault(f"{field}.end", message, "name the last day after the first, or the same")
    if helpers.factor > MOST_HANDS:
        yield _fault(f"{field}.factor", f"a factor of {helpers.factor:g}", f"from 0 (nobody works) to {MOST_HANDS:g}")


def _task_faults(season: SeasonInput) -> Iterator[Problem]:
    standard = [row["key"] for row in habits()["tasks"]]
    known = {*standard, *(own.task for own in season.tasks)}
    if len(season.tasks) > MOST_OWN:
        yield _fault("season.tasks", f"there are {len(season.tasks)} of them", f"at most {MOST_OWN} are taken")
    seen: set[str] = set()
    for n, own in enumerate(season.tasks):
        field = f"season.tasks[{n}]"
        if own.task in seen:
            yield _fault(f"{field}.task", f'"{own.task}" stands twice', "say all of a task in one place")
        seen.add(own.task)
        yield from _hour_faults(field, own, standard)
        yield from _wait_faults(field, own)
        for key, names in (("after", own.after), ("before", own.before)):
            for name in names:
                if name not in known:
                    hint = f"there are: {', '.join(sorted(known))}"
                    yield _fault(f"{field}.{key}", f'there is no task "{name}"', hint)
    yield from _ring_faults(season)


def _hour_faults(field: str, own: OwnTask, standard: list[str]) -> Iterator[Problem]:
    hours = (own.least, own.likely, own.most)
    if own.task == LAYING and any(h is not None for h in hours):
        yield _fault(f"{field}.likely", "laying goes by the pace, not by hours", "state season.pace instead")
    elif own.likely is None and (own.least is not None or own.most is not None):
        yield _fault(f"{field}.likely", "the likely hours are missing", "state likely beside least and most")
    elif own.likely is None and own.task not in standard and own.earliest is None and not own.wait:
        message = f'"{own.task}" is a task of your own without hours, day or wait'
        yield _fault(
            f"{field}.likely", message, f"state its likely hours; the plan's own tasks are {', '.join(standard)}"
        )
    known = [h for h in hours if h is not None]
    if known != sorted(known):
        yield _fault(f"{field}.likely", "least, likely and most hours are out of order", "least <= likely <= most")


def _wait_faults(field: str, own: OwnTask) -> Iterator[Problem]:
    if own.weather and own.weather not in weather_classes():
        hint = f"allowed: {', '.join(weather_classes())}"
        yield _fault(f"{field}.weather", f'"{own.weather}" is no kind of work known here', hint)
    if own.wait is not None and own.wait > LONGEST_WAIT:
        yield _fault(f"{field}.wait", f"a wait of {own.wait:g} days", f"at most {LONGEST_WAIT:g} days")


def _ring_faults(season: SeasonInput) -> Iterator[Problem]:
    """Rings among the tasks as told, roof first: the plan's own have none."""
    after: dict[str, list[str]] = {row["key"]: list(row.get("after", ())) for row in habits()["tasks"]}
    after[LAYING].append("cover")
    for own in season.tasks:
        after.setdefault(own.task, []).extend(own.after)
        for later in own.before:
            after.setdefault(later, []).append(own.task)
    try:
        TopologicalSorter(after).prepare()
    except CycleError as ring:
        names = [str(name) for name in ring.args[1]]
        n = next((i for i, own in enumerate(season.tasks) if own.task in names), 0)
        message = f"these tasks wait for each other: {', then '.join(names)}"
        yield _fault(f"season.tasks[{n}].after", message, "take one of the waits out")


def _fault(field: str, message: str, hint: str) -> Problem:
    return Problem(field=field, message=message, hint=hint)
