"""What was done on each day of laying? Records of one day come together; other days keep their own."""

import math
from collections import defaultdict
from collections.abc import Mapping

from cordwright.base import Records
from cordwright.base.records import Batches, Hours, Laid
from cordwright.diary.posterior import Observed
from cordwright.diary.results import LayingDay

LAYING = "laying"
"""The trade under which hours of laying stand."""


def laying_days(records: Records, log_faces: Mapping[str, float]) -> tuple[LayingDay, ...]:
    """Each day on which wall was laid.

    Args:
        records: those that stand.
        log_faces: wall that a log end closes with its joint, by mark [m2]; for records that name log ends only.
    """
    laid: dict[object, list[Laid]] = defaultdict(list)
    for day, said in records.of(Laid):
        laid[day].append(said)
    mixed: dict[object, float] = defaultdict(float)
    for day, batch in records.of(Batches):
        mixed[day] += batch.count
    days = sorted({day for day, _ in records.of(Laid)})
    return tuple(
        LayingDay(
            day=day,
            area=math.fsum(_area(said, log_faces) for said in laid[day]),
            logs=sum(len(said.logs) for said in laid[day]),
            hours=_all_hours([None if s.hours is None else s.hours * s.people for s in laid[day]]),
            clock=_all_hours([s.hours for s in laid[day]]),
            marked=math.fsum(_area(said, log_faces) for said in laid[day] if said.logs),
            batches=mixed.get(day),
            unmeasured=tuple(m for said in laid[day] if said.area is None for m in said.logs if m not in log_faces),
        )
        for day in days
    )


def laid_by_panel(records: Records, log_faces: Mapping[str, float]) -> dict[str, float]:
    """Wall laid by panel [m2], under "" where no panel is named.

    Args:
        records: those that stand.
        log_faces: wall that a log end closes with its joint, by mark [m2].
    """
    sums: dict[str, float] = defaultdict(float)
    for _, said in records.of(Laid):
        sums[said.panel] += _area(said, log_faces)
    return dict(sums)


def _area(said: Laid, log_faces: Mapping[str, float]) -> float:
    if said.area is not None:
        return said.area
    return math.fsum(log_faces[mark] for mark in said.logs if mark in log_faces)


def _all_hours(hours: list[float | None]) -> float | None:
    """The hours of a day; None when any record of it does not say."""
    known = [h for h in hours if h is not None]
    return math.fsum(known) if len(known) == len(hours) else None


def observed_pace(days: tuple[LayingDay, ...], day_hours: float) -> tuple[Observed, ...]:
    """The pace of one person on each day of laying [m2 in a day of `day_hours`].

    By hours worked, or a rainy day would read as a slow hand and the weather be counted twice. A day tells as much as
    it was long by the clock, however many hands there were.

    Args:
        days: those on which wall was laid.
        day_hours: a usual day [h].

    Sources: assumption (`pace-scatter`): hours not written down are those of a usual day of one person.
    """
    return tuple(
        Observed(
            rate=day.area * day_hours / (day.hours or day_hours),
            whole=(day.clock or day_hours) / day_hours,
        )
        for day in days
        if day.area > 0
    )


def hours_by_trade(records: Records) -> tuple[tuple[str, float], ...]:
    """Person-hours by trade [h], laying first; hours written with the wall laid count as laying."""
    sums: dict[str, float] = defaultdict(float)
    for _, laid in records.of(Laid):
        if laid.hours is not None:
            sums[LAYING] += laid.hours * laid.people
    for _, said in records.of(Hours):
        sums[said.trade] += said.hours * said.people
    return tuple(sorted(sums.items(), key=lambda pair: (pair[0] != LAYING, pair[0])))
