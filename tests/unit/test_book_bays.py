"""A long panel is cut where nothing stands, and its bays are drawn to one readable scale."""

import math

import pytest

from cordwright.book.bays import READABLE, bay_of, bays
from cordwright.book.panel_drawing import draw_panel
from cordwright.plan import reckon_plan
from cordwright.project import read


@pytest.fixture(scope="module")
def sauna(examples):
    return read(examples["sauna"]).project


@pytest.fixture(scope="module")
def round_panel(sauna):
    (panel,) = reckon_plan(sauna.plan).panels
    return panel


@pytest.mark.parametrize("count", [2, 3, 4])
def test_bays_share_the_panel_and_all_that_stands_in_it(round_panel, count):
    ends = bays(round_panel, count)
    parts = [bay_of(round_panel, e) for e in ends]
    assert (ends[0][0], ends[-1][1]) == (0.0, round_panel.centre_length)
    assert math.fsum(p.centre_length for p in parts) == pytest.approx(round_panel.centre_length, abs=1e-12)
    assert sorted(o.opening.id for p in parts for o in p.openings) == ["D1", "W1"]
    for (left, right), part in zip(ends, parts, strict=True):
        for placed in part.openings:
            assert 0 <= placed.opening.from_left <= right - left - placed.opening.width
        expected = [(0, 0), (right - left, 0), (right - left, 2.0828), (0, 2.0828)]
        assert [c for p in part.outline for c in p] == pytest.approx([c for p in expected for c in p])


def test_bays_of_a_round_wall_are_drawn_to_one_larger_scale(sauna, round_panel):
    drawings = draw_panel(sauna, round_panel, "panel-round")
    assert len(drawings) == 2
    # In one piece it would be 3/16 in to the foot; the door in the middle keeps the halves from being equal.
    assert {d.denominator for d in drawings} == {48.0}
    assert [d.name for d in drawings] == ["panel-round-bay-1", "panel-round-bay-2"]
    assert all("from" in d.label for d in drawings)


def test_a_short_panel_stays_in_one_piece(examples):
    project = read(examples["weaving-studio"]).project
    for panel in reckon_plan(project.plan).panels:
        (drawing,) = draw_panel(project, panel, "p")
        assert drawing.denominator <= READABLE["metric"]


def test_the_head_of_a_gable_is_cut_where_it_stands(examples, round_panel):
    from dataclasses import replace

    gable = replace(round_panel, centre_length=6.0, outline=((0, 0), (6, 0), (6, 2), (3, 5), (0, 2)), openings=())
    left, right = (bay_of(gable, e) for e in ((0.0, 2.0), (2.0, 6.0)))
    assert left.outline == ((0, 0), (2, 0), (2, pytest.approx(4)), (0, 2))
    assert right.outline == ((0, 0), (4, 0), (4, 2), (1, 5), (0, pytest.approx(4)))
