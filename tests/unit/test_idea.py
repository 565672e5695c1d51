"""The first sketch: ranges from a footprint, overtaken by any real plan."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cordwright.base import InputError
from cordwright.idea import IdeaInput, sketch


def figures(**changes):
    base = {"inside_length": 6.6, "inside_width": 4.8, "log_end_length": 0.35}
    return {f.key: f for f in sketch(IdeaInput(**(base | changes))).figures}


def test_a_studio_sized_footprint_holds_the_worked_plan_of_the_same_size():
    # The weaving studio's octagon cuts this rectangle's corners; its worked figures must lie within the ranges.
    got = figures()
    for key, value in [
        ("wall_area", 34.9),
        ("wood_volume", 7.3),
        ("mortar_volume", 3.1),
        ("log_ends", 804),
        ("hours", 346),
    ]:
        figure = got[f"idea.{key}"]
        assert figure.low <= value <= figure.high, key
    assert got["idea.floor_area"].value == pytest.approx(31.68)


def test_round_floor_by_its_closed_forms():
    got = figures(inside_length=2.7, inside_width=None, log_end_length=0.3, height=2.0)
    assert got["idea.floor_area"].value == pytest.approx(math.pi * 1.35**2)
    assert got["idea.wall_area"].value == pytest.approx(math.pi * 3.0 * 2.0 * 0.82 * 0.95)


@given(st.floats(1.5, 20), st.floats(1.5, 20), st.floats(0.2, 0.6))
def test_every_range_holds_its_value_and_grows_with_the_floor(length, width, log_end):
    small = figures(inside_length=length, inside_width=width, log_end_length=log_end)
    large = figures(inside_length=length * 1.1, inside_width=width, log_end_length=log_end)
    for key, figure in small.items():
        assert large[key].value >= figure.value
        if figure.low is not None:
            assert figure.low <= figure.value <= figure.high


def test_stated_days_narrow_the_seasons():
    free, stated = figures()["idea.seasons"], figures(days_per_week=3)["idea.seasons"]
    assert stated.high - stated.low < free.high - free.low


@pytest.mark.parametrize(
    "changes", [{"inside_length": 0.5}, {"log_end_length": 3.5}, {"days_per_week": 8}, {"height": 20}]
)
def test_out_of_range_is_refused_not_clipped(changes):
    with pytest.raises(InputError, match="outside"):
        figures(**changes)


def test_questions_end_as_questions():
    answer = sketch(IdeaInput(inside_length=5, inside_width=4, log_end_length=0.4))
    assert all(q.endswith("?") for q in (*answer.authority, *answer.insurer))
    assert {c.key for c in answer.cautions} >= {"permits", "honesty"}
