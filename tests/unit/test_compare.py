"""Variants side by side, levers of a case, and sweeps through executors of other makes."""

import threading
from concurrent.futures import Future, ProcessPoolExecutor, ThreadPoolExecutor
from dataclasses import replace
from datetime import date
from multiprocessing import get_context

import pytest

from cordwright.base import Figure, InputError
from cordwright.compare import Case, Row, compare, difference, grid, sweep
from cordwright.drivers import drivers, levers, moved
from cordwright.project import read
from cordwright.reckon import reckon

KEYS = ("mortar.volume", "wall.wood_volume")


@pytest.fixture(scope="module")
def studio(examples):
    return read(examples["weaving-studio"]).project


def thinner(project, bead):
    """The same building with another bead [m]."""
    return replace(project, plan=replace(project.plan, section=replace(project.plan.section, bead=bead)))


@pytest.fixture(scope="module")
def made(studio):
    return compare({"as it stands": reckon(studio), "thin": reckon(thinner(studio, 0.08))})


def row_of(made, key):
    return next(row for row in made.rows if row.key == key)


def test_only_what_changes_is_kept_and_the_wood_stays(made, studio):
    """Changing only the bead leaves the wood as it is."""
    changed = {row.key for row in made.rows}
    assert {"mortar.volume", "wall.fill_volume", "mortar.cement"} <= changed
    assert not {"timber.solid_volume", "plan.net_wall_area", "wall.wood_fraction"} & changed
    wood = reckon(thinner(studio, 0.08)).figure("wall.wood_volume").value
    assert wood == reckon(studio).figure("wall.wood_volume").value
    assert made.same + len(made.rows) + len(made.unknown) == len(reckon(studio).figures)


def test_a_thinner_bead_takes_its_share_of_the_mortar(made):
    row = row_of(made, "mortar.volume")
    assert row.change(1) == pytest.approx(-0.2 * row.figures[0].value, rel=1e-9)
    assert row.is_clear(1) is False
    assert row_of(made, "wall.fill_volume").change(1) > 0


def test_the_spread_tells_whether_two_figures_stand_apart():
    near = Figure(key="a", label="a", value=1.0, low=0.9, high=1.1, unit="m")
    far = Figure(key="a", label="a", value=2.0, low=1.8, high=2.2, unit="m")
    bare = Figure(key="a", label="a", value=2.0, unit="m")
    blank = Figure(key="a", label="a", value=None, unit="m", bound="unknown", missing=("it",))
    row = Row(key="a", label="a", unit="m", figures=(near, far, near, blank, bare))
    assert [row.is_clear(n) for n in (1, 2, 3, 4)] == [True, False, None, True]
    assert Row(key="a", label="a", unit="m", figures=(bare, bare)).is_clear(1) is None
    assert row.change(3) is None


def test_dates_differ_by_days_and_unknowns_by_nothing_known():
    assert difference(date(2028, 2, 28), date(2028, 3, 1)) == 2.0
    assert difference(2.0, 0.5) == -1.5
    assert difference(None, 1.0) is None


def test_one_building_alone_is_no_comparison(studio):
    with pytest.raises(InputError):
        compare({"as it stands": reckon(studio)})


def test_a_verdict_that_turns_is_told(studio):
    stricter = tuple(replace(rule, number=20.0) if rule.limits else rule for rule in studio.site.rules)
    made = compare(
        {"as it stands": reckon(studio), "there": reckon(replace(studio, site=replace(studio.site, rules=stricter)))}
    )
    (turned,) = made.verdicts
    assert turned.verdicts == ("holds", "short")
    assert [row.key for row in made.rows] == ["site.rule.largest_floor_that_needs_only_a_notice"]


def test_levers_are_found_in_the_case_and_each_moves_its_own_number(studio):
    found = levers(studio)
    paths = [lever.path for lever in found]
    assert len(paths) == len(set(paths))
    assert {"plan.section.bead", "wall.wood_fraction", "mortar.parts[0].parts", "timber.stems[].length"} <= set(paths)
    by_path = {lever.path: lever for lever in found}
    share = by_path["wall.wood_fraction"]
    assert (share.low, share.high, share.basis) == (0.55, 0.65, "stated spread")
    bead = by_path["plan.section.bead"]
    assert moved(studio, bead, 0.08) == thinner(studio, 0.08)
    longer = moved(studio, by_path["timber.stems[].length"], by_path["timber.stems[].length"].value * 1.1)
    pairs = zip(longer.timber.stems, studio.timber.stems, strict=True)
    assert all(new.length == pytest.approx(1.1 * old.length) for new, old in pairs)


def test_wood_fraction_then_bead_matter_most_to_the_mortar(studio):
    """Among what is uncertain or chosen; the sizes of the building itself are no question."""
    wanted = [lever for lever in levers(studio) if lever.path.startswith(("wall.", "plan.section.", "mortar.parts"))]
    with ThreadPoolExecutor(1) as executor:
        told = drivers(studio, "mortar.volume", executor, wanted=wanted)
    assert [d.lever.path for d in told.moving[:2]] == ["wall.wood_fraction", "plan.section.bead"]
    assert told.moving[1].elasticity == pytest.approx(1.0, abs=1e-6)
    assert "mortar.parts[0].parts" in {lever.path for lever in told.idle}
    with ThreadPoolExecutor(1) as executor, pytest.raises(KeyError):
        drivers(studio, "mortar.moat", executor, wanted=wanted)


def test_a_lever_that_cannot_be_built_is_told_and_not_counted_idle(studio):
    wanted = [lever for lever in levers(studio) if lever.path == "plan.openings[4].height"]
    with ThreadPoolExecutor(1) as executor:
        told = drivers(studio, "mortar.volume", executor, wanted=wanted)
    (door,) = told.moving
    assert door.at_low > 0
    assert (door.at_high, len(door.refusals)) == (None, 1)


def cases_of(project, beads=(0.08, 0.09, 0.1)):
    return [Case(settings={"wall.bead": f"{bead} m"}, project=thinner(project, bead)) for bead in beads]


def straight(cases):
    return [{key: reckon(case.project).figure(key) for key in KEYS} for case in cases]


def test_a_grid_runs_through_all_settings_the_last_axis_fastest():
    assert [tuple(s.values()) for s in grid({"a": ["1", "2"], "b": ["x", "y"]})] == [
        ("1", "x"), ("1", "y"), ("2", "x"), ("2", "y"),
    ]  # fmt: skip


def test_a_pool_of_processes_gives_the_same_figures_in_the_same_order(studio):
    cases = cases_of(studio)
    with ProcessPoolExecutor(2, mp_context=get_context("spawn")) as executor:
        points = sweep(cases, executor, KEYS)
    assert [dict(p.figures) for p in points] == straight(cases)
    assert [p.settings for p in points] == [c.settings for c in cases]


@pytest.mark.filterwarnings("ignore::DeprecationWarning:distributed", "ignore::DeprecationWarning:tornado")
def test_an_executor_of_another_make_carries_a_sweep(studio):
    from distributed import Client, LocalCluster

    cases = cases_of(studio)
    with (
        LocalCluster(n_workers=1, threads_per_worker=1, processes=False, dashboard_address=None) as cluster,
        Client(cluster) as client,
    ):
        points = sweep(cases, client.get_executor(), KEYS)
    assert [dict(p.figures) for p in points] == straight(cases)


def test_a_case_that_cannot_be_built_stops_no_other(studio):
    told = []
    beads = cases_of(studio, (0.09, 0.09, 0.1))
    tall = replace(studio.plan.openings[4], height=2.4)
    openings = (*studio.plan.openings[:4], tall, *studio.plan.openings[5:])
    beads[1] = replace(beads[1], project=replace(studio, plan=replace(studio.plan, openings=openings)))
    unread = Case(settings={"wall.bead": "x"}, project=None, refusal="no length")
    with ThreadPoolExecutor(2) as executor:
        points = sweep([*beads, unread], executor, KEYS, progress=lambda share, _what: told.append(share))
    assert [bool(p.refusal) for p in points] == [False, True, False, True]
    assert points[3].refusal == "no length"
    assert told == [0.25, 0.5, 0.75, 1.0]


def test_what_has_not_begun_is_called_off_when_the_waiting_breaks(studio):
    waiting = [Future() for _ in range(3)]

    class Hands(threading.local):
        """An executor that never gets to its second task."""

        def submit(self, _call, *_arguments):
            return next(self.queue)

    hands = Hands()
    hands.queue = iter(waiting)
    waiting[0].set_exception(KeyboardInterrupt())
    with pytest.raises(KeyboardInterrupt):
        sweep(cases_of(studio), hands, KEYS)
    assert [f.cancelled() for f in waiting] == [False, True, True]
