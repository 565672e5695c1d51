"""Which wishes cannot be, what is told of logs as laid, and what the whole study makes of both."""

import math
from dataclasses import replace

import numpy as np
import pytest

from cordwright.plan import reckon_plan
from cordwright.project import read
from cordwright.reckon import reckon
from cordwright.wall.advice import band_notes, stock_notes
from cordwright.wall.inputs import Band, Joints, LaidLog, Lock, Splitting, Swap, Wishes
from cordwright.wall.judge import judge
from cordwright.wall.layout import Disc, Face, Hole, Log
from cordwright.wall.study import lay_study
from cordwright.wall.wish_faults import find_wish_faults
from cordwright.wall.wishes import as_laid, close_pairs, locked, stock_as_laid

JOINTS = Joints(nominal=0.025, least=0.012, largest=0.04, edge=0.0125)


def box(left, bottom, right, top):
    return ((left, bottom), (right, bottom), (right, top), (left, top))


FACE = Face(
    name="S",
    outline=box(0, 0, 3, 2),
    openings=(Hole(id="W1", outline=box(1, 0.8, 2, 1.6)),),
    obstacles=(Disc(id="K1", x=2.5, y=1.0, diameter=0.1),),
)
STOCK = tuple(Log(id=f"T{n:02d}-1", stem=f"T{n:02d}", diameter=0.1 + 0.01 * n) for n in range(1, 16))


def faults(stock=STOCK, **wishes):
    return find_wish_faults(Wishes(**wishes), (FACE,), stock, {log.id for log in stock}, JOINTS)


def only(found):
    (problem,) = found
    return problem


def lock(log, x, y, panel="S"):
    return Lock(log=log, panel=panel, from_left=x, height=y)


def laid(log, x, y, panel="S", diameter=None):
    return LaidLog(log=log, panel=panel, from_left=x, height=y, diameter=diameter)


def test_nothing_wished_is_no_fault():
    assert faults() == ()


def test_wishes_that_can_be_are_no_fault():
    assert (
        faults(
            bands=(Band(low=0.0, high=0.5, sizes="large"), Band(panel="S", low=0.5, high=1.0, sizes="small")),
            locks=(lock("T05-1", 0.5, 0.5), lock("T06-1", 0.9, 0.5)),
            swaps=(Swap(log="T01-1", other="T02-1"),),
            forbidden=("T03-1",),
            splitting=Splitting(over=0.24, logs=("T15-1",)),
            laid=(laid("T07-1", 0.2, 0.1), laid("own", 0.5, 0.12, diameter=0.2)),
        )
        == ()
    )


@pytest.mark.parametrize(
    ("field", "wishes"),
    [
        ("layout.forbid[0]", {"forbidden": ("T051",)}),
        ("layout.locks[0].log", {"locks": (lock("T051", 0.5, 0.5),)}),
        ("layout.swaps[0].log", {"swaps": (Swap(log="T051", other="T01-1"),)}),
        ("layout.swaps[0].other", {"swaps": (Swap(log="T01-1", other="T051"),)}),
        ("layout.splits.logs[0]", {"splitting": Splitting(logs=("T051",))}),
        ("laid[0].log", {"laid": (laid("T051", 0.5, 0.5),)}),
    ],
)
def test_an_unknown_log_names_the_nearest_ones(field, wishes):
    problem = only(faults(**wishes))
    assert problem.field == field
    assert "T051" in problem.message
    assert "T05-1" in problem.hint


def test_a_log_whose_diameter_is_not_known_cannot_be_placed():
    found = find_wish_faults(Wishes(locks=(lock("X1", 0.5, 0.5),)), (FACE,), (), {"X1"}, JOINTS)
    assert "laying_moisture" in only(found).hint


@pytest.mark.parametrize(
    ("field", "wishes"),
    [
        ("layout.bands[0].panel", {"bands": (Band(panel="SS", low=0, high=1, sizes="large"),)}),
        ("layout.locks[0].panel", {"locks": (lock("T05-1", 0.5, 0.5, "SS"),)}),
        ("laid[0].panel", {"laid": (laid("T05-1", 0.5, 0.5, "SS"),)}),
    ],
)
def test_an_unknown_panel_names_the_nearest_and_all(field, wishes):
    problem = only(faults(**wishes))
    assert problem.field == field
    assert "the nearest is S; allowed: S" in problem.hint


@pytest.mark.parametrize(
    ("place", "words"),
    [
        ((0.05, 0.5), ("stands past the edge of panel S by 25 mm", "from_left 0.089 m")),
        ((0.08, 0.5), ("stands 5 mm from the edge of panel S", "12.5 mm is the least")),
        ((0.95, 1.2), ("overlaps opening W1 by 25 mm", "from_left 0.911 m")),
        ((2.4, 1.0), ("overlaps sleeve or bottle end K1 by 25 mm",)),
        ((9.0, 9.0), ("stands past the edge",)),
    ],
)
def test_a_lock_that_does_not_fit_says_by_how_much_and_where_it_would(place, words):
    problem = only(faults(locks=(lock("T05-1", *place),)))
    assert problem.field == "layout.locks[0]"
    assert "log T05-1 of 150 mm" in problem.message
    assert "the nearest place that fits: from_left" in problem.hint
    for word in words:
        assert word in problem.message + problem.hint


def test_the_place_offered_does_fit():
    for x, y in [(0.05, 0.5), (0.95, 1.2), (2.4, 1.0), (1.5, 1.2), (3.4, -2.0)]:
        hint = only(faults(locks=(lock("T05-1", x, y),))).hint
        left, height = (float(part.split()[-2]) for part in hint.split(":")[1].split(","))
        assert faults(locks=(lock("T05-1", left, height),)) == ()


def test_a_log_larger_than_the_panel_has_no_place_in_it():
    giant = Log(id="giant", stem="", diameter=2.5)
    problem = only(faults((*STOCK, giant), locks=(lock("giant", 1.5, 1.0),)))
    assert "no place in panel S takes a log of 2500 mm" in problem.hint


def test_two_locks_may_not_overlap_but_may_stand_a_narrow_joint_apart():
    problem = only(faults(locks=(lock("T05-1", 0.5, 0.5), lock("T10-1", 0.6, 0.5))))
    assert problem.field == "layout.locks[1]"
    assert "overlaps log T05-1 by 75 mm" in problem.message
    assert faults(locks=(lock("T05-1", 0.5, 0.5), lock("T10-1", 0.69, 0.5))) == ()


def test_contradictions_are_told():
    both = Wishes(
        locks=(lock("T05-1", 0.5, 0.5), lock("T05-1", 2.4, 0.5), lock("T06-1", 0.9, 0.3)),
        forbidden=("T05-1",),
        swaps=(Swap(log="T01-1", other="T01-1"), Swap(log="T06-1", other="T05-1")),
        splitting=Splitting(logs=("T06-1",)),
    )
    told = [p.field + ": " + p.message for p in find_wish_faults(both, (FACE,), STOCK, {g.id for g in STOCK}, JOINTS)]
    for line in (
        "layout.locks[0].log: log T05-1 is locked to a place and forbidden",
        "layout.locks[1].log: log T05-1 is locked twice (already by layout.locks[0])",
        "layout.locks[2].log: log T06-1 is locked to a place and to be cleaved",
        "layout.swaps[0].other: log T01-1 is to change places with itself",
        "layout.swaps[1].log: log T06-1 is locked to a place and cannot change it",
        "layout.swaps[1].other: log T05-1 is forbidden and would come into the wall",
    ):
        assert line in told


@pytest.mark.parametrize(
    ("bands", "field", "words"),
    [
        ([Band(low=1.0, high=0.5, sizes="large")], "layout.bands[0].high", "from 1 m up to 0.5 m"),
        ([Band(low=0.5, high=0.5, sizes="large")], "layout.bands[0].high", "from 0.5 m up to 0.5 m"),
        ([Band(low=0.5, high=2.2, sizes="large")], "layout.bands[0].high", "above the wall head"),
        ([Band(panel="S", low=2.1, high=2.2, sizes="large")], "layout.bands[0].low", "wall head of panel S at 2 m"),
        (
            [Band(low=0.2, high=0.8, sizes="large"), Band(panel="S", low=0.5, high=1.0, sizes="small")],
            "layout.bands[1]",
            "between 0.5 m and 0.8 m large logs are wanted and small ones too",
        ),
    ],
)
def test_bands_that_cannot_be(bands, field, words):
    problem = only(faults(bands=tuple(bands)))
    assert problem.field == field
    assert words in problem.message


def test_what_is_harmless_is_a_warning():
    splits = only(faults(splitting=Splitting(over=0.4)))
    twice = only(faults(forbidden=("T01-1", "T01-1")))
    standing = only(faults(forbidden=("T07-1",), laid=(laid("T07-1", 0.2, 0.12),)))
    assert {p.severity for p in (splits, twice, standing)} == {"warning"}
    assert "the largest has 250 mm" in splits.message
    assert "stays where it is" in standing.message


def test_laid_logs_that_cannot_stand_so_are_told():
    assert "twice" in only(faults(laid=(laid("T07-1", 0.2, 0.1), laid("T07-1", 0.5, 0.1)))).message
    nowhere = only(faults(laid=(laid("T07-1", 1.5, 1.2),)))
    assert (nowhere.severity, "in an opening" in nowhere.message) == ("error", True)
    unknown = only(faults(laid=(laid("stranger", 0.2, 0.1),)))
    assert "needs its diameter" in unknown.hint


def test_measuring_may_err_by_six_millimetres_and_no_more():
    first = laid("T05-1", 0.3, 0.1)  # 150 mm
    assert faults(laid=(first, laid("T10-1", 0.3 + 0.175 - 0.005, 0.1))) == ()
    close = only(faults(laid=(first, laid("T10-1", 0.3 + 0.175 - 0.008, 0.1))))
    assert close.severity == "warning"
    assert "overlaps log T05-1 by 8 mm" in close.message
    over = only(faults(laid=(laid("T05-1", 0.06, 0.1),)))
    assert over.severity == "warning"
    assert "stands past the edge of panel S by 15 mm" in over.message


def test_a_log_listed_after_one_that_stands_on_it_is_told():
    problem = only(faults(laid=(laid("T05-1", 0.3, 0.27), laid("T06-1", 0.3, 0.09))))
    assert "T06-1 stands under T05-1 but is listed after it" in problem.message
    assert problem.severity == "warning"


def test_a_lock_may_not_stand_where_a_log_is_laid():
    problem = only(faults(locks=(lock("T05-1", 0.3, 0.3),), laid=(laid("T06-1", 0.3, 0.2),)))
    assert problem.field == "layout.locks[0]"
    assert "T06-1" in problem.message
    assert faults(locks=(lock("T05-1", 0.3, 0.3),), laid=(laid("T05-1", 0.3, 0.2),)) == ()


def test_laid_logs_are_numbered_as_listed_and_stand_on_what_is_under_them():
    rows = (
        laid("T05-1", 0.09, 0.09),
        laid("T06-1", 0.27, 0.095, diameter=0.165),
        laid("own", 0.175, 0.25, diameter=0.15),
        laid("T07-1", 2.0, 0.5),
    )
    stock = stock_as_laid(STOCK, rows)
    placed = as_laid(FACE, rows, stock, joint=0.025, edge=0.0125)
    assert [p.order for p in placed] == [1, 2, 3, 4]
    assert [(p.x, p.y) for p in placed] == [(r.from_left, r.height) for r in rows]
    assert [p.log.diameter for p in placed] == pytest.approx([0.15, 0.165, 0.15, 0.17])
    assert set(placed[2].supports) == {"T05-1", "T06-1"}
    assert "chip" in placed[3].supports
    assert placed[3].note


def test_what_is_listed_later_holds_nothing():
    rows = (laid("own", 0.175, 0.25, diameter=0.15), laid("T05-1", 0.09, 0.09), laid("T06-1", 0.27, 0.095))
    first = as_laid(FACE, rows, stock_as_laid(STOCK, rows), joint=0.025, edge=0.0125)[0]
    assert first.supports == ("chip",)


def test_laid_logs_that_stand_close_are_the_owner_s_fact_and_told():
    rows = [laid("T05-1", 0.3, 0.1), laid("T10-1", 0.484, 0.1), laid("T15-1", 0.9, 0.2), laid("T14-1", 1.14, 0.2)]
    placed = as_laid(FACE, rows, STOCK, joint=0.025, edge=0.0125)
    notes = close_pairs(placed, 0.012)
    assert [n.pieces[0] for n in notes] == ["laid logs T15-1 and T14-1 overlap by ", "laid logs T05-1 and T10-1 stand "]
    assert [n.pieces[1] for n in notes] == pytest.approx([0.005, 0.009])


def test_many_close_pairs_are_counted_not_listed():
    rows = [laid(f"x{n}", 0.1 + 0.1 * n, 0.1, diameter=0.1) for n in range(20)]
    notes = close_pairs(as_laid(FACE, rows, stock_as_laid((), rows), joint=0.025, edge=0.0125), 0.012)
    assert len(notes) == 13
    assert "7 more pairs" in notes[-1].pieces[0]


def test_locks_belong_to_their_panels():
    found = locked(
        Wishes(locks=(lock("T05-1", 0.5, 0.5), lock("T06-1", 1.0, 0.2, "N"))), STOCK, (FACE, replace(FACE, name="N"))
    )
    assert {panel: [(p.log.id, p.x, p.y, p.order) for p in ps] for panel, ps in found.items()} == {
        "S": [("T05-1", 0.5, 0.5, 0)],
        "N": [("T06-1", 1.0, 0.2, 0)],
    }


def even(mean, spread, count=200):
    rng = np.random.Generator(np.random.PCG64(1))
    return [Log(id=str(n), stem="", diameter=float(rng.normal(mean, spread))) for n in range(count)]


def test_an_even_stock_is_told_and_a_mixed_one_not():
    assert len(list(stock_notes(even(0.14, 0.01)))) == 1
    assert list(stock_notes(even(0.14, 0.03))) == []
    assert list(stock_notes([])) == []


@pytest.mark.parametrize(
    ("top", "told"),
    [(1.5, False), (1.65, False), (1.825, False), (1.76, True), (1.93, True), (2.0, False)],
)
def test_a_band_over_a_frame_that_no_log_fits_is_told(top, told):
    """Logs of 150 mm: one row takes 175 mm, two 350; 240 and 70 take neither; 500 takes any mix; 0 is no band."""
    face = Face(name="S", outline=box(0, 0, 3, 2), openings=(Hole(id="W1", outline=box(1, 0.8, 2, top)),))
    notes = list(band_notes((face,), even(0.15, 0.002), JOINTS))
    assert bool(notes) == told
    if told:
        assert "over W1" in notes[0].pieces[0]
        assert notes[0].pieces[1] == pytest.approx(2 - top)


@pytest.fixture(scope="module")
def studio(examples):
    project = read(examples["weaving-studio"]).project
    done = reckon(project)

    def study(**wishes):
        wall = replace(project.wall, wishes=Wishes(**wishes))
        return lay_study(done.plan, done.timber, project.timber, wall, only="W", mortar_depth=0.2)

    return study


def test_the_study_honours_lock_forbid_swap_and_laid_together(studio):
    first = studio()
    plan = first.panels[0]
    out = next(p.log.id for p in plan.placements if p.order == 9)
    wished = studio(forbidden=(out,), locks=(lock("T30-4", 0.3, 1.2, "W"),))
    panel = wished.panels[0]
    there = {p.log.id: p for p in panel.placements}
    assert out not in there
    assert (there["T30-4"].x, there["T30-4"].y) == (0.3, 1.2)
    assert wished.settled == ("T30-4",)
    joint = panel.report.joint_nominal
    assert judge(panel, wished.stock, joint=joint, joint_least=0.012, edge=0.0125, settled=wished.settled) == ()


def test_the_study_lets_the_rest_give_way_to_what_is_laid(studio):
    first = studio()
    plan = first.panels[0]
    rows = tuple(laid(p.log.id, p.x + 0.004, p.y - 0.003, "W", p.log.diameter + 0.002) for p in plan.placements[:12])
    again = studio(laid=rows)
    panel = again.panels[0]
    there = {p.log.id: p for p in panel.placements}
    assert [(there[r.log].x, there[r.log].y, there[r.log].order) for r in rows] == [
        (r.from_left, r.height, n) for n, r in enumerate(rows, 1)
    ]
    assert there[rows[0].log].log.diameter == rows[0].diameter
    joint = panel.report.joint_nominal
    assert judge(panel, again.stock, joint=joint, joint_least=0.012, edge=0.0125, settled=again.settled) == ()
    rest = plan.placements[12:]
    near = [
        p for p in rest if p.log.id in there and math.hypot(there[p.log.id].x - p.x, there[p.log.id].y - p.y) < 0.01
    ]
    assert len(near) >= 0.8 * len(rest)


def test_a_swap_that_cannot_be_is_a_fault_of_its_line(studio):
    plan = studio().panels[0]
    small, large = (f(plan.placements, key=lambda p: p.log.diameter).log.id for f in (min, max))
    done = studio(swaps=(Swap(log=small, other=large),))
    refused = [p.field for p in done.refusals]
    assert refused in ([], ["layout.swaps[0]"])
    there = {p.log.id for p in done.panels[0].placements}
    assert {small, large} <= there
    if refused:
        assert "too large even with joints of 12 mm" in done.refusals[0].message


def test_the_plan_of_an_example_has_the_panels_named(examples):
    project = read(examples["weaving-studio"]).project
    assert "W" in [p.name for p in reckon_plan(project.plan).panels]
