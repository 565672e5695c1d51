"""Which days of the plan go into the owner's own calendar? An iCalendar file, all-day entries, nothing more."""

import hashlib
from collections.abc import Iterator
from datetime import date, datetime, timedelta
from datetime import timezone as zone

from cordwright.book.season_words import in_ten
from cordwright.case import Project
from cordwright.season import Milestone, Season, Task
from cordwright.season.tasks import family

Entry = tuple[str, date, str, str]
"""A name that never changes, a day, what is written on it, and more about it."""


def calendar_entries(project: Project, season: Season) -> Iterator[Entry]:
    """The days of the plan: no log before, the middle day of each task, the last laying day, the helpers.

    Args:
        project: the owner's case.
        season: worked out.
    """
    outcome = season.chosen_outcome
    for task, part in _whole_tasks(outcome.tasks):
        note = f"In one season of ten by {part.early}, in nine of ten by {part.late}."
        yield f"task-{task.key}", part.middle, f"{task.label}: done by now in one season of two", note
    laid = outcome.laid
    yield "laid", laid.middle, "all laid by now in one season of two", f"From {laid.early} to {laid.late}."
    if season.stop is not None and outcome.laid_by_stop is not None:
        note = f"All laid by now in {in_ten(outcome.laid_by_stop)}. Fresh mortar must not meet hard frost."
        yield "last-laying-day", season.stop, "last day to lay mortar", note
    for n, helpers in enumerate(project.season.helpers):
        if helpers.factor > 1:
            yield f"helpers-{n}", helpers.start, "helpers come", f"Until {helpers.end}."


def _whole_tasks(tasks: tuple[tuple[Task, Milestone], ...]) -> Iterator[tuple[Task, Milestone]]:
    """Tasks with work in them, laying left out: its lifts would crowd the calendar."""
    yield from ((task, part) for task, part in tasks if family(task.key) != "laying" and task.hours[2] > 0)


def to_calendar(project: Project, season: Season, today: date) -> bytes:
    """Write the days of the plan as iCalendar (RFC 5545).

    Args:
        project: the owner's case.
        season: worked out.
        today: the day it is made, which every entry carries.
    """
    from icalendar import Calendar, Event

    calendar = Calendar()
    calendar.add("prodid", "-//Cordwright//season//EN")
    calendar.add("version", "2.0")
    calendar.add("x-wr-calname", " ".join(project.name.split()))  # a name in several lines would end the line
    made = datetime(today.year, today.month, today.day, tzinfo=zone.utc)  # noqa: UP017 - one name for 3.11 and later
    mark = hashlib.sha256(project.name.encode()).hexdigest()[:16]
    for name, day, words, note in calendar_entries(project, season):
        event = Event()
        # The same entry of a newer plan replaces the older one.
        event.add("uid", f"{hashlib.sha256(name.encode()).hexdigest()[:16]}-{mark}@cordwright.invalid")
        event.add("dtstamp", made)
        event.add("dtstart", day)
        event.add("dtend", day + timedelta(days=1))
        event.add("summary", words)
        event.add("description", f"{note} Figures for review, by a model of the season.")
        event.add("transp", "TRANSPARENT")
        calendar.add_component(event)
    return bytes(calendar.to_ical())
