"""Which input matters most to an answer, and by how much does it move it?

Each input of the case is moved alone, down and up: over the spread the owner states for it, else by a tenth, which is a
common step and no statement about the site. Inputs are found in the case itself, so that none is forgotten.
"""

from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import Executor
from dataclasses import dataclass, fields, is_dataclass, replace
from typing import Any, Final, Literal

from cordwright.base import CordwrightError, Figure, Value
from cordwright.case import Project
from cordwright.compare import Case, Point, Progress, Reckoner, difference, quiet, sweep
from cordwright.reckon import reckon

STEP: Final = 0.10
"""The common step of an input without a spread of its own [1]."""
EACH_ROW: Final = 12
"""Rows of a list are moved one by one up to so many; a longer list is moved as one."""
LOW, HIGH = "_low", "_high"

Basis = Literal["stated spread", "common step"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Lever:
    """One number of the case and how far it is moved, in its own SI unit; `path` as in `plan.section.bead`."""

    path: str
    value: float
    low: float
    high: float
    basis: Basis


@dataclass(frozen=True, slots=True, kw_only=True)
class Driver:
    """What one lever does to one figure, in the figure's unit (days for a date); None where it could not be told.

    `at_low`, `at_high`: the change of the figure. `refusals`: why the lever could not be moved to one end or both.
    """

    lever: Lever
    at_low: float | None
    at_high: float | None
    elasticity: float | None
    refusals: tuple[str, ...] = ()

    @property
    def reach(self) -> float:
        """The larger of the two changes, without its sign."""
        return max((abs(c) for c in (self.at_low, self.at_high) if c is not None), default=0.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Drivers:
    """Drivers of one figure, the strongest first; `idle`: levers that do not move it; `stuck`: that cannot be moved."""

    figure: Figure
    moving: tuple[Driver, ...]
    idle: tuple[Lever, ...]
    stuck: tuple[Driver, ...]


def levers(project: Project) -> tuple[Lever, ...]:
    """Every number of the case that can be moved, in the order of the job; zeros and blanks cannot."""
    found: list[Lever] = []
    for path, value, holder, name in _numbers(project, ""):
        if name.endswith((LOW, HIGH)) or not value:
            continue
        low, high, basis = _reach(value, holder, name)
        found.append(Lever(path=path, value=value, low=low, high=high, basis=basis))
    return tuple(found)


def _reach(value: float, holder: Any, name: str) -> tuple[float, float, Basis]:
    low, high = (getattr(holder, name + end, None) for end in (LOW, HIGH))
    if low is not None and high is not None and low < high:
        return low, high, "stated spread"
    ends = sorted((value * (1 - STEP), value * (1 + STEP)))
    return ends[0], ends[1], "common step"


def _numbers(holder: Any, path: str) -> Iterator[tuple[str, float, Any, str]]:
    """Path, value, holder and name of every number below a dataclass or a row of them."""
    for each in fields(holder):
        inner, here = getattr(holder, each.name), f"{path}.{each.name}" if path else each.name
        if is_number(inner):
            yield here, float(inner), holder, each.name
        elif is_dataclass(inner):
            yield from _numbers(inner, here)
        elif isinstance(inner, tuple) and inner and all(map(is_dataclass, inner)):
            yield from _rows(inner, here)


def _rows(rows: Sequence[Any], path: str) -> Iterator[tuple[str, float, Any, str]]:
    if len(rows) <= EACH_ROW:
        for i, row in enumerate(rows):
            yield from _numbers(row, f"{path}[{i}]")
        return
    # A long list moves as one: the first row that has a number stands for the column.
    seen: set[str] = set()
    for row in rows:
        for here, value, holder, name in _numbers(row, f"{path}[]"):
            if value and here not in seen:
                seen.add(here)
                yield here, value, holder, name


def is_number(value: object) -> bool:
    """Whether a value is a measure that can be moved: whole numbers are counts and stay."""
    return isinstance(value, float)


def moved(project: Project, lever: Lever, to: float) -> Project:
    """The case with one lever elsewhere; a whole column is scaled alike.

    Args:
        project: the owner's case.
        lever: one of its levers.
        to: the new value, for a column that of its first row.

    Raises:
        InputError: a value its stage refuses at once.
    """
    share = to / lever.value
    made: Project = _set(project, _steps(lever.path), lambda old: to if old == lever.value else old * share)
    return made


def _steps(path: str) -> list[str]:
    return path.replace("[", ".[").split(".")


def _set(holder: Any, steps: Sequence[str], change: Callable[[float], float]) -> Any:
    if not steps:
        return change(holder) if is_number(holder) else holder
    step, rest = steps[0], steps[1:]
    if step == "[]":
        return tuple(_set(row, rest, change) for row in holder)
    if step.startswith("["):
        at = int(step[1:-1])
        return (*holder[:at], _set(holder[at], rest, change), *holder[at + 1 :])
    return replace(holder, **{step: _set(getattr(holder, step), rest, change)})


def drivers(
    project: Project,
    key: str,
    executor: Executor,
    *,
    reckoner: Reckoner = reckon,
    wanted: Sequence[Lever] | None = None,
    progress: Progress = quiet,
) -> Drivers:
    """Move every lever alone and see what it does to one figure.

    Args:
        project: the owner's case.
        key: of the figure.
        executor: any that speaks the interface of `concurrent.futures`.
        reckoner: from case to reckoning; a function that can be pickled by name.
        wanted: the levers to move; None for all.
        progress: told the share of the cases that are back.

    Raises:
        KeyError: no such figure.
    """
    figure = reckoner(project).figure(key)
    chosen = levers(project) if wanted is None else tuple(wanted)
    cases = [_case(project, lever, to) for lever in chosen for to in (lever.low, lever.high)]
    points = sweep(cases, executor, (key,), reckoner=reckoner, progress=progress)
    ends = zip(points[::2], points[1::2], strict=True)
    told = [_driver(figure, lever, pair) for lever, pair in zip(chosen, ends, strict=True)]
    moving = (d for d in told if d.reach > 0)
    return Drivers(
        figure=figure,
        moving=tuple(sorted(moving, key=lambda d: -d.reach)),
        idle=tuple(d.lever for d in told if not d.reach and len(d.refusals) < 2),
        stuck=tuple(d for d in told if len(d.refusals) == 2),
    )


def _case(project: Project, lever: Lever, to: float) -> Case:
    settings = {lever.path: repr(to)}
    try:
        return Case(settings=settings, project=moved(project, lever, to))
    except CordwrightError as refusal:
        return Case(settings=settings, project=None, refusal=str(refusal))


def _driver(figure: Figure, lever: Lever, ends: tuple[Point, Point]) -> Driver:
    at_low, at_high = (difference(figure.value, _known(end, figure.key)) for end in ends)
    return Driver(
        lever=lever,
        at_low=at_low,
        at_high=at_high,
        elasticity=_elasticity(figure, lever, at_low, at_high),
        refusals=tuple(end.refusal for end in ends if end.refusal),
    )


def _known(point: Point, key: str) -> Value | None:
    return point.figures[key].value if key in point.figures else None


def _elasticity(figure: Figure, lever: Lever, at_low: float | None, at_high: float | None) -> float | None:
    """Percent of the figure for a percent of the lever, between its ends; None for dates and where one is unknown."""
    if at_low is None or at_high is None or not isinstance(figure.value, float) or not figure.value:
        return None
    return (at_high - at_low) / figure.value / ((lever.high - lever.low) / lever.value)
