"""What is to be done, for how long, after what, and in which weather?

Hours [h] are one person's. Laying has no hours of its own: they follow from the face and the pace, which is drawn once
for a whole season.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date
from math import exp
from typing import Any, Final

from cordwright.base import Cite, cite
from cordwright.season.habits import habits
from cordwright.season.inputs import Group, OwnTask, SeasonInput, Strategy
from cordwright.season.work import Work

MASONRY: Final[Mapping[Strategy, str]] = {
    "roof first": "masonry under a roof",
    "walls first, tarpaulin": "masonry under a tarpaulin",
    "walls first, bare": "masonry in the open",
}
LAYING: Final = "laying"
ROOF: Final = "cover"
OWN: Final = Cite("owner", "season.tasks")


@dataclass(frozen=True, slots=True, kw_only=True)
class Task:
    """One piece of work.

    `hours`: least, likely, most; of laying `area` counts instead, with learning in it, and `face` is what is really
    laid [m2]. `group`: "pace" for laying. `weather`: the class it minds. `after`: keys that must be finished, each
    having stood for its `cure` in nights, a part of one counting whole [d]. `earliest`: not begun before.
    """

    key: str
    label: str
    trade: str
    weather: str
    hours: tuple[float, float, float] = (0.0, 0.0, 0.0)
    area: float = 0.0
    face: float = 0.0
    group: Group = "own hours"
    after: tuple[str, ...] = ()
    cure: float = 0.0
    earliest: date | None = None
    sources: tuple[Cite, ...] = ()

    @property
    def mean_hours(self) -> float:
        """Mean of the hours by the rule of three values, (least + 4 likely + most) / 6 [h]; 0 for laying."""
        return pert_mean(*self.hours)


def pert_mean(least: float, likely: float, most: float) -> float:
    """Mean of a three-value estimate, in the estimate's unit.

    Args:
        least: as good as it gets.
        likely: the most likely.
        most: as bad as it gets.

    Sources: `pert-beta`: (a + 4 m + b) / 6.
    """
    return (least + 4.0 * likely + most) / 6.0


def tasks_of(work: Work, season: SeasonInput, strategy: Strategy) -> tuple[Task, ...]:
    """All tasks of a building, in the order of the job.

    Args:
        work: how much there is.
        season: the owner's hours, dates and tasks of their own.
        strategy: whether the roof stands before the walls.
    """
    known = [task for row in habits()["tasks"] for task in _task(row, work, season, strategy)]
    standard = {row["key"] for row in habits()["tasks"]}
    told = {own.task: own for own in season.tasks}
    known = [_as_told(task, told.get(task.key, told.get(family(task.key))), season) for task in known]
    known += [_own(own, strategy) for own in season.tasks if family(own.task) not in standard]
    return _joined(_with_before(known, season.tasks))


def family(key: str) -> str:
    """The task a part belongs to: the lifts of all panels are laying."""
    return key.partition(".")[0]


def _task(row: Mapping[str, Any], work: Work, season: SeasonInput, strategy: Strategy) -> Iterator[Task]:
    if row["key"] == LAYING:
        yield from _laying(row, work, season, strategy)
        return
    hours = _hours(row["per"], work)
    waits = row["key"] == "drying" and work.ready is not None
    if hours[2] > 0 or waits:
        yield Task(
            key=row["key"],
            label=row["label"],
            trade=row["trade"],
            weather=_weather(row["weather"], strategy),
            hours=_shared(hours, season.people),
            after=_after(row, work, strategy),
            cure=float(row.get("wait", 0)),
            earliest=work.ready if waits else None,
            sources=tuple(cite(text) for text in row["sources"]),
        )


def _hours(per: Mapping[str, list[float]], work: Work) -> tuple[float, float, float]:
    least, likely, most = (sum(work.amounts[unit] * rate[n] for unit, rate in per.items()) for n in range(3))
    return least, likely, most


def _shared(hours: tuple[float, float, float], people: float) -> tuple[float, float, float]:
    return hours[0] / people, hours[1] / people, hours[2] / people


def _weather(name: str, strategy: Strategy) -> str:
    return MASONRY[strategy] if name == "masonry" else name


def _after(row: Mapping[str, Any], work: Work, strategy: Strategy) -> tuple[str, ...]:
    """What must stand before, by the strategy.

    Roof first: laying waits for the cover. Walls first: the cover waits for laying. Where posts carry the roof, the
    frame with its rafters stands before the walls either way; where they do not, the rafters wait for the walls too.
    """
    after = tuple(row.get("after", ()))
    if strategy == "roof first":
        return (*after, ROOF) if row["key"] == LAYING else after
    if row["key"] == LAYING:
        return (*after, "rafters" if work.framed else "plinth")
    late = (ROOF,) if work.framed else ("rafters", ROOF)
    return (*after, LAYING) if row["key"] in late else after


def _laying(row: Mapping[str, Any], work: Work, season: SeasonInput, strategy: Strategy) -> Iterator[Task]:
    """A task for each lift of each panel, lift by lift round the building; the next lift waits for the one below.

    The pace is that of the whole wall: what the first square metres take longer the last ones make good.
    """
    before, cure, below = 0.0, float(row["wait"]), dict[str, str]()
    even = work.area / slowed_area(0.0, work.area, season) if work.area else 1.0
    for lift in work.lifts:
        key = f"{LAYING}.{lift.panel}.{lift.lift}"
        under = (below[lift.panel],) if lift.panel in below else _after(row, work, strategy)
        yield Task(
            key=key,
            label=f"laying {lift.panel}, lift {lift.lift}",
            trade=row["trade"],
            weather=_weather(row["weather"], strategy),
            area=slowed_area(before, lift.area, season) * even,
            face=lift.area,
            group="pace",
            after=under,
            cure=cure,
            earliest=work.begins,
            sources=tuple(cite(text) for text in row["sources"]),
        )
        before += lift.area
        below[lift.panel] = key


def slowed_area(before: float, area: float, season: SeasonInput) -> float:
    """A face in terms of practised laying: early square metres count for more [m2].

    Args:
        before: face laid already [m2].
        area: face to lay [m2].
        season: with the share by which the first square metre takes longer.

    Sources: assumption `season-learning`: hours a square metre fall as 1 + share exp(-A / A0) towards the settled pace.
    """
    rules = habits()["defaults"]
    share = float(rules["learning"]) if season.learning is None else season.learning
    scale = float(rules["learning_area_m2"])
    return area + share * scale * (exp(-before / scale) - exp(-(before + area) / scale))


def _as_told(task: Task, own: OwnTask | None, season: SeasonInput) -> Task:
    """The task with what the owner says of it."""
    if own is None:
        return task
    hours = task.hours if own.likely is None else _told_hours(own, season.people)
    left = 1.0 - own.done
    return replace(
        task,
        hours=(hours[0] * left, hours[1] * left, hours[2] * left),
        area=task.area * left,
        face=task.face * left,
        weather=own.weather or task.weather,
        after=(*task.after, *own.after) if task.key == own.task else task.after,
        cure=0.0 if own.done >= 1 else task.cure if own.wait is None else own.wait,
        earliest=_later(task.earliest, own.earliest) if own.done < 1 else None,
        sources=task.sources if own.likely is None else (OWN,),
    )


def _later(*days: date | None) -> date | None:
    return max((day for day in days if day is not None), default=None)


def _told_hours(own: OwnTask, people: float) -> tuple[float, float, float]:
    assert own.likely is not None
    least = own.likely if own.least is None else own.least
    most = own.likely if own.most is None else own.most
    return _shared((least, own.likely, most), people)


def _own(own: OwnTask, strategy: Strategy) -> Task:
    hours = _told_hours(own, 1.0) if own.likely is not None else (0.0, 0.0, 0.0)
    left = 1.0 - own.done
    return Task(
        key=own.task,
        label=own.task,
        trade="own",
        weather=_weather(own.weather or "open", strategy),
        hours=(hours[0] * left, hours[1] * left, hours[2] * left),
        after=own.after,
        cure=own.wait or 0.0,
        earliest=own.earliest,
        sources=(OWN,),
    )


def _with_before(tasks: Iterable[Task], told: Iterable[OwnTask]) -> list[Task]:
    """Let later tasks wait for those that say they come before them."""
    wanted = [(name, own.task) for own in told for name in own.before]
    return [
        replace(task, after=(*task.after, *(first for name, first in wanted if name in (task.key, family(task.key)))))
        for task in tasks
    ]


def _joined(tasks: list[Task]) -> tuple[Task, ...]:
    """Let each task wait for tasks that are there: one left out hands on what it waited for itself."""
    parts: dict[str, tuple[str, ...]] = {}
    for task in tasks:
        parts[family(task.key)] = (*parts.get(family(task.key), ()), task.key)
    keys = {task.key for task in tasks}
    rows = {row["key"]: tuple(row.get("after", ())) for row in habits()["tasks"]}

    def there(name: str, seen: frozenset[str] = frozenset()) -> Iterator[str]:
        if name in keys:
            yield name
        elif name in parts:
            yield from parts[name]
        elif name not in seen:
            for earlier in rows.get(name, ()):
                yield from there(earlier, seen | {name})

    return tuple(replace(t, after=tuple(dict.fromkeys(k for name in t.after for k in there(name)))) for t in tasks)
