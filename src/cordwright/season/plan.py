"""In which order do the tasks stand, does any wait for itself, and how does a kernel read them?"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from functools import cache
from math import ceil
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from cordwright.base import InputError
from cordwright.season.tasks import Task

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

STEPS: Final = 1024
"""Equally likely parts in which the spread of a task's hours is tabled, each by its middle chance."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SeasonPlan:
    """Tasks in an order in which none stands before what it waits for, ties by the order of the job.

    `first`: the day that counts as 0.
    """

    first: date
    tasks: tuple[Task, ...]

    def index(self, keys: Iterable[str]) -> Ints:
        """Places of some tasks in the order."""
        wanted = set(keys)
        return np.array([i for i, task in enumerate(self.tasks) if task.key in wanted], np.int64)


def plan_of(tasks: Sequence[Task], first: date) -> SeasonPlan:
    """Put tasks in order.

    Args:
        tasks: with what each waits for.
        first: the first day of any work.

    Raises:
        InputError: two tasks of one key, one that waits for no task there is, or a ring of tasks that wait for
            each other.
    """
    import networkx as nx

    by_key = {task.key: task for task in tasks}
    missing = sorted({name for task in tasks for name in task.after if name not in by_key})
    if len(by_key) < len(tasks) or missing:
        raise InputError(f"tasks of one name, or waiting for one that is not there: {', '.join(missing)}")
    graph = graph_of(tasks)
    rank = {task.key: n for n, task in enumerate(tasks)}
    try:
        order = list(nx.lexicographical_topological_sort(graph, key=lambda key: rank[key]))
    except nx.NetworkXUnfeasible:
        raise InputError(f"tasks wait for each other: {', '.join(ring_of(tasks))}") from None
    return SeasonPlan(first=first, tasks=tuple(by_key[key] for key in order))


def graph_of(tasks: Iterable[Task]) -> Any:
    """The tasks as a directed graph, from what is waited for to what waits."""
    import networkx as nx

    graph = nx.DiGraph()
    for task in tasks:
        graph.add_node(task.key)
        graph.add_edges_from((name, task.key) for name in task.after)
    return graph


def ring_of(tasks: Iterable[Task]) -> tuple[str, ...]:
    """Tasks that wait for each other in a ring, empty when there is none."""
    import networkx as nx

    try:
        return tuple(start for start, _ in nx.find_cycle(graph_of(tasks)))
    except nx.NetworkXNoCycle:
        return ()


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class PlanArrays:
    """A plan as the kernel reads it (see `_kernels`).

    `tasks`: table of hours, trade, size, weather class, earliest day, where followers begin, nights, followers, how
    many it waits for. `quantiles`: spreads of hours (tables, 1024).
    """

    tasks: tuple[Ints, Ints, Floats, Ints, Ints, Ints, Floats, Ints, Ints]
    quantiles: Floats


def arrays_of(plan: SeasonPlan, classes: Sequence[str], stretch: Floats | None = None) -> PlanArrays:
    """Lay a plan out in arrays.

    Args:
        plan: in order.
        classes: names of the weather classes, in the order of their rows.
        stretch: factors on the tasks' hours (tasks,), None for none.
    """
    place = {task.key: n for n, task in enumerate(plan.tasks)}
    trades = sorted({task.trade for task in plan.tasks})
    table, size, quantiles = _spreads(plan.tasks)
    follow_from, follows = _followers([[place[name] for name in task.after] for task in plan.tasks])
    columns = (
        table,
        _ints(trades.index(task.trade) for task in plan.tasks),
        size if stretch is None else size * stretch,
        _ints(classes.index(task.weather) for task in plan.tasks),
        _ints(0 if task.earliest is None else (task.earliest - plan.first).days for task in plan.tasks),
        follow_from,
        np.array([float(ceil(task.cure)) for task in plan.tasks]),
        follows,
        _ints(len(task.after) for task in plan.tasks),
    )
    return PlanArrays(tasks=columns, quantiles=quantiles)


def _ints(values: Iterable[int]) -> Ints:
    return np.fromiter(values, np.int64)


def _followers(after: Sequence[Sequence[int]]) -> tuple[Ints, Ints]:
    """For each task, where its followers begin in the list of all, and that list."""
    followers: list[list[int]] = [[] for _ in after]
    for n, earlier in enumerate(after):
        for e in earlier:
            followers[e].append(n)
    starts = np.cumsum([0, *(len(f) for f in followers)])
    return starts.astype(np.int64), _ints(f for each in followers for f in each)


def _spreads(tasks: Sequence[Task]) -> tuple[Ints, Floats, Floats]:
    """Of each task the row of its spread (-1 for laying) and its size; the spreads, each over its largest hours."""
    shapes: dict[tuple[float, float], int] = {}
    table, size = [], []
    for task in tasks:
        least, likely, most = task.hours
        if task.group == "pace":
            table.append(-1)
            size.append(task.area)
            continue
        shape = (1.0, 1.0) if most <= 0 else (round(least / most, 9), round(likely / most, 9))
        table.append(shapes.setdefault(shape, len(shapes)))
        size.append(most)
    rows = [pert_quantiles(least, likely, 1.0) for least, likely in shapes] or [np.ones(STEPS)]
    return np.array(table, np.int64), np.array(size, np.float64), np.vstack(rows)


@cache
def pert_quantiles(least: float, likely: float, most: float) -> Floats:
    """The beta distribution of a three-value estimate in equally likely parts (1024,), in the estimate's unit.

    Args:
        least: as good as it gets.
        likely: the most likely.
        most: as bad as it gets.

    Sources: `pert-beta`: shapes 1 + 4 (m - a) / (b - a) and 1 + 4 (b - m) / (b - a).
    """
    from scipy.special import betaincinv

    span = most - least
    if span <= 0:
        return np.full(STEPS, most)
    chances = (np.arange(STEPS) + 0.5) / STEPS
    shape = (1 + 4 * (likely - least) / span, 1 + 4 * (most - likely) / span)
    values = np.asarray(least + span * betaincinv(*shape, chances))
    values.setflags(write=False)
    return values
