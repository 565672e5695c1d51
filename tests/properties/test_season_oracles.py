"""Seasons against what is known without them: closed forms of waiting, a critical path, a second method in NumPy."""

from datetime import date

import networkx as nx
import numpy as np
import pytest

from cordwright.project import read
from cordwright.season.inputs import Helpers, Strategy
from cordwright.season.plan import graph_of, plan_of
from cordwright.season.simulate import AHEAD, HORIZON, kernel_input, setting_of, simulate
from cordwright.season.tasks import tasks_of
from cordwright.season.work import work_of
from cordwright.site import weather_model
from season_samples import FIRST, laying_tasks, plan, setting, steady, task, twin

CONSTRUCTION = {
    "A": (2, ""),
    "B": (4, "A"),
    "C": (10, "B"),
    "D": (6, "C"),
    "E": (4, "C"),
    "F": (5, "E"),
    "G": (7, "D"),
    "H": (9, "EG"),
    "I": (7, "C"),
    "J": (8, "FI"),
    "K": (4, "J"),
    "L": (5, "J"),
    "M": (2, "H"),
    "N": (6, "KL"),
}
"""Construction of a plant, Hillier and Lieberman, Introduction to Operations Research, weeks: 44 by A B C E F J L N."""


def days(p, s, n=4000, seed=3, **more):
    return simulate(p, s, seed=seed, seasons=n, **more).finish


def test_two_hundred_and_ten_hours_at_seven_take_exactly_thirty_days() -> None:
    finish = days(plan(task("a", 210.0)), setting(steady()), n=3)
    assert finish.tolist() == [[30.0]] * 3


def test_a_textbook_s_critical_path_with_hands_for_everything() -> None:
    # No hours of the crew, only waiting: as many hands as wanted.
    waits = [task(key, 0.0, *after, cure=float(weeks)) for key, (weeks, after) in CONSTRUCTION.items()]
    ends = task("end", 0.0, "M", "N")
    finish = days(plan(*waits, ends), setting(steady()), n=1)
    graph = graph_of([*waits, ends])
    nx.set_edge_attributes(graph, {(a, b): CONSTRUCTION[a][0] for a, b in graph.edges}, "weeks")
    assert nx.dag_longest_path_length(graph, weight="weeks") == 44
    assert "".join(nx.dag_longest_path(graph, weight="weeks")) == "ABCEFJLNend"
    assert finish[0, -1] == 44.0


@pytest.mark.parametrize(("d", "mean"), [(0.0, 0.6667), (0.3, 0.9524), (0.5, 1.3333)])
def test_waiting_for_one_dry_day(d: float, mean: float) -> None:
    """Mean wait f / (1 - Pww) with Pww = f (1 - d) + d, f = 0.4; variance f / (1 - f)^2 = 1.111 when d = 0."""
    p = plan(task("a", 7.0, weather="open"))
    waited = days(p, setting(steady(0.4, d), rain="whole day"), n=20_000)[:, 0] - 1.0
    assert waited.mean() == pytest.approx(mean, abs=4 * waited.std() / 20_000**0.5)
    if d == 0.0:
        assert waited.var() == pytest.approx(1.111, abs=0.06)


def test_thirty_dry_days_are_negative_binomial() -> None:
    """Wet days among them: mean 30 f / (1 - f) = 20, variance 30 f / (1 - f)^2 = 33.3."""
    p = plan(task("a", 210.0, weather="open"))
    wet = days(p, setting(steady(0.4), rain="whole day"), n=20_000)[:, 0] - 30.0
    assert wet.mean() == pytest.approx(20.0, abs=4 * wet.std() / 20_000**0.5)
    assert wet.var() == pytest.approx(33.33, rel=0.05)


def test_season_i_of_a_hundred_is_season_i_of_thousands() -> None:
    p, s = (
        plan(task("a", 70.0, weather="open"), *laying_tasks([3.0, 4.0], "masonry in the open")),
        setting(steady(0.3, 0.3), pace_spread=0.3),
    )
    assert np.array_equal(days(p, s, n=100), days(p, s, n=2300)[:100])
    assert not np.array_equal(days(p, s, n=100), days(p, s, n=100, seed=4))


def test_more_rain_or_a_lower_pace_never_ends_earlier_on_a_chain() -> None:
    p = plan(task("a", 30.0, weather="open"), *laying_tasks([5.0, 5.0, 5.0], "masonry in the open"))
    dry, wet = (days(p, setting(steady(f))) for f in (0.2, 0.5))
    slow = days(p, setting(steady(0.2), pace=0.8))
    # The same bits make every day that was wet at the smaller chance wet at the larger.
    assert (wet >= dry - 1e-9).all()
    assert (wet > dry + 1e-9).any()
    assert (slow >= dry - 1e-9).all()


def test_hours_worked_lost_and_waited_are_the_crew_s() -> None:
    s = setting(steady(0.4, 0.3), helpers=(Helpers(start=date(2027, 3, 8), end=date(2027, 3, 12), factor=1.8),))
    p = plan(
        task("a", 20.0, weather="open"),
        task("b", 12.0, "a", earliest=date(2027, 4, 1)),
        *laying_tasks([9.0], "masonry in the open"),
    )
    runs = simulate(p, s, seed=5, seasons=200)
    clock, hands, *_ = kernel_input(p, s).crew
    for finish, hours in zip(runs.finish, runs.hours, strict=True):
        last = int(np.ceil(finish.max() - 1e-9))
        assert hours[:6].sum() == pytest.approx((clock * hands)[:last].sum(), abs=1e-6)
        assert hours[5] == pytest.approx(41.0)


def test_frost_at_night_keeps_the_mortar_in_the_bag() -> None:
    p = plan(*laying_tasks([7.0], "masonry under a roof"))
    assert days(p, setting(steady(low=10.0)), n=5).tolist() == [[1.0]] * 5
    assert (days(p, setting(steady(low=-9.0, high=9.0)), n=5) == HORIZON).all()


def test_a_storm_keeps_the_frame_on_the_ground() -> None:
    from cordwright.site.climate import MonthlyNormals
    from cordwright.site.inputs import SiteInput

    stormy = SiteInput(months=MonthlyNormals(temperature=(10.0,) * 12, wind=(150.0,) * 12))
    s = setting(steady())
    s = setting_of(s.season, stormy, steady())
    assert days(plan(task("up", 7.0, weather="raising")), s, n=50).mean() > 200  # one calm day in six hundred
    assert (days(plan(task("in", 7.0)), s, n=3) == 1.0).all()


@pytest.mark.parametrize("strategy", ["roof first", "walls first, bare"])
@pytest.mark.parametrize("rain", ["partial day", "whole day"])
def test_the_studio_s_seasons_are_those_of_a_second_method(examples, strategy: Strategy, rain: str) -> None:
    from dataclasses import replace

    from cordwright.reckon import reckon

    project = read(examples["weaving-studio"]).project
    assert project is not None
    done, weather = reckon(project), weather_model(project.site)
    assert weather is not None
    work = work_of(project.site, project.plan, done.plan, project.timber, done.timber)
    season = replace(project.season, rain=rain)
    p = plan_of(tasks_of(work, season, strategy), season.start)
    s = setting_of(season, project.site, weather)
    runs = simulate(p, s, seed=7, seasons=60)
    made = weather.days(7, range(60), p.first, HORIZON + AHEAD)
    finish, hours = twin(kernel_input(p, s), 7, np.stack([made.rain, made.low, made.high], axis=1))
    assert np.abs(finish - runs.finish).max() < 1e-6
    assert np.abs(hours - runs.hours).max() < 1e-6
    assert FIRST.year == p.first.year


def test_the_kernel_interpreted_gives_the_same(monkeypatch) -> None:
    from cordwright.season import _kernels as k

    loops = [k.run_season, k.draw_hours, k.begin, k.finish_task, k.day_loss, k.soonest]
    assert all(hasattr(loop, "py_func") for loop in loops)
    p, s = (
        plan(task("a", 9.0, weather="open"), *laying_tasks([2.0, 2.0], "masonry in the open")),
        setting(steady(0.4, 0.3), pace_spread=0.2),
    )
    compiled = simulate(p, s, seed=2, seasons=2)
    for name in ("run_season", "draw_hours", "begin", "finish_task", "day_loss", "soonest", "make_days", "rain_loss"):
        monkeypatch.setattr(k, name, getattr(k, name).py_func)
    finish, hours = np.empty((2, 3)), np.empty((2, 7))
    with np.errstate(over="ignore"):
        k.run_seasons.py_func(2, 0, *kernel_input(p, s), np.empty((0, 3, HORIZON + AHEAD)), finish, hours)
    assert np.allclose(finish, compiled.finish, atol=1e-12)
    assert np.allclose(hours, compiled.hours, atol=1e-9)
