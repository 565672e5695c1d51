"""How much is laid, at what pace, and how many days of laying are left?"""

from typing import Final

from cordwright.base import Cite, Figure, Step
from cordwright.diary.days import observed_pace
from cordwright.diary.inputs import Expected, WholeWall
from cordwright.diary.posterior import HIGH, LOW, Posterior, believe
from cordwright.diary.results import LayingDay

WALL: Final = Cite("geometry", "net wall area less what is laid")


def diary_cite(days: tuple[LayingDay, ...]) -> Cite:
    """The owner's own diary as a source."""
    count = len(days)
    return Cite("diary", f"{count} {'day' if count == 1 else 'days'} of laying")


def own_pace(days: tuple[LayingDay, ...], expected: Expected) -> Posterior:
    """The pace of one person in a usual day [m2/day], as expected and as own days tell.

    Args:
        days: those on which wall was laid.
        expected: what was thought before.
    """
    return believe(expected.pace, observed_pace(days, expected.day_hours))


def laid_figure(days: tuple[LayingDay, ...]) -> Figure:
    """Wall laid so far [m2]; at least so much where log ends were named whose face is unknown."""
    unknown = [mark for day in days for mark in day.unmeasured]
    area = sum(day.area for day in days)
    return Figure(
        key="diary.laid_area",
        label="wall laid so far",
        value=area,
        unit="m2",
        bound="at_least" if unknown else "exact",
        missing=tuple(f"the face of log end {mark}" for mark in unknown[:5]),
        sources=(diary_cite(days),),
        steps=tuple(
            Step(symbol=day.day.isoformat(), value=day.area, unit="m2", formula=_day_words(day)) for day in days[-10:]
        ),
    )


def _day_words(day: LayingDay) -> str:
    said = [
        "hours not written" if day.hours is None else f"{day.hours:g} h",
        f"{day.logs} log ends" if day.logs else "",
        "" if day.batches is None else f"{day.batches:g} batches",
    ]
    return ", ".join(part for part in said if part)


def area_left(days: tuple[LayingDay, ...], wall: WholeWall) -> float:
    """Wall still to lay [m2], never less than nothing."""
    return max(0.0, wall.net_area - sum(day.area for day in days))


def left_figure(days: tuple[LayingDay, ...], wall: WholeWall) -> Figure:
    """Wall still to lay [m2]; at most so much where some of what is laid has no known face."""
    return Figure(
        key="diary.area_left",
        label="wall still to lay",
        value=area_left(days, wall),
        unit="m2",
        bound="at_most" if any(day.unmeasured for day in days) else "exact",
        sources=(WALL, diary_cite(days)),
        steps=(
            Step(symbol="net wall", value=wall.net_area, unit="m2", source=WALL),
            Step(symbol="laid", value=sum(day.area for day in days), unit="m2", source=diary_cite(days)),
        ),
    )


def pace_figure(days: tuple[LayingDay, ...], pace: Posterior, expected: Expected) -> Figure:
    """The pace of one person [m2/day]: mean, and the spread that holds four chances in five."""
    return Figure(
        key="diary.pace",
        label=f"wall one person lays in a day of {expected.day_hours:g} h, {_whose(pace)}",
        value=pace.mean,
        low=min(pace.mean, pace.quantile(LOW)),
        high=max(pace.mean, pace.quantile(HIGH)),
        unit="m2/day",
        sources=(diary_cite(days), expected.pace.source, *pace.cites),
        steps=(
            Step(symbol="expected", value=expected.pace.mean, unit="m2/day", source=expected.pace.source),
            Step(symbol="its standard deviation", value=expected.pace.sd, unit="m2/day", source=expected.pace.source),
            *belief_steps(pace, "m2/day"),
        ),
    )


def _whose(pace: Posterior) -> str:
    if not pace.days:
        return "as expected"
    return "by your own days" if pace.leads else "as expected and by your first days"


def belief_steps(belief: Posterior, unit: str) -> tuple[Step, ...]:
    """The working of a rate: how many days, how much they carry, the middle and the spread."""
    law = "lognormal" if belief.freedom is None else f"t of {belief.freedom:.1f} degrees of freedom"
    return (
        Step(symbol="days recorded", value=float(belief.days), unit=""),
        Step(symbol="carried by own days", value=belief.own, unit="1", formula="own precision / all precision"),
        Step(symbol="middle", value=belief.median, unit=unit, formula=f"{law} on the log scale"),
        Step(symbol="spread on the log scale", value=belief.scale, unit="", source=belief.cites[1]),
        Step(symbol="standard deviation", value=belief.sd, unit=unit, source=belief.cites[0]),
    )


def days_figure(days: tuple[LayingDay, ...], pace: Posterior, wall: WholeWall, expected: Expected) -> Figure:
    """Days of laying left for one person [d]: the middle, and four chances in five."""
    left = area_left(days, wall)
    return Figure(
        key="diary.days_left",
        label=f"days of laying left for one person, {expected.day_hours:g} h each",
        value=left / pace.median,
        low=left / pace.quantile(HIGH),
        high=left / pace.quantile(LOW),
        unit="d",
        sources=(diary_cite(days), expected.pace.source, *pace.cites),
        steps=(
            Step(symbol="wall still to lay", value=left, unit="m2", source=WALL),
            Step(symbol="middle pace", value=pace.median, unit="m2/day", formula="as likely faster as slower"),
            Step(symbol="days", value=left / pace.median, unit="d", formula="wall / pace; weather not counted"),
        ),
    )
