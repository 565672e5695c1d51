"""Figures, checks and problems refuse what nobody could read."""

import math
from datetime import date

import pytest

from cordwright.base import (
    Check,
    Cite,
    DataError,
    Figure,
    InputError,
    Problem,
    caution,
    cite,
    source,
    source_keys,
    table,
)


def figure(**changes):
    return Figure(**({"key": "k", "label": "l", "value": 1.0, "unit": "m"} | changes))


def check(**changes):
    return Check(**({"key": "k", "label": "l", "demand": 1.0, "capacity": 2.0, "unit": "m"} | changes))


@pytest.mark.parametrize(
    "changes",
    [
        {"value": math.nan},
        {"high": math.inf},
        {"unit": "cubits"},
        {"value": None},
        {"bound": "unknown"},
        {"value": None, "bound": "unknown"},
        {"low": 1.1},
        {"high": 0.9},
        {"low": 2.0, "high": 0.5, "value": 1.0},
    ],
)
def test_figure_refuses(changes):
    with pytest.raises(InputError):
        figure(**changes)


def test_figure_holds_money_dates_and_unknowns():
    assert figure(unit="CLP").unit == "CLP"
    assert figure(value=date(2028, 8, 4), unit="date", high=date(2028, 8, 9)).value == date(2028, 8, 4)
    assert figure(value=None, bound="unknown", missing=("a price",)).missing == ("a price",)


@pytest.mark.parametrize(
    ("demand", "high", "capacity", "verdict", "margin"),
    [
        (1.0, None, 2.0, "holds", 1.0),
        (1.0, 1.9, 2.0, "holds", 1.0),
        (1.0, 2.1, 2.0, "close", 1.0),
        (2.0, None, 2.0, "holds", 0.0),
        (2.5, 3.0, 2.0, "short", -0.5),
    ],
)
def test_verdict_follows_from_the_sides(demand, high, capacity, verdict, margin):
    made = check(demand=demand, high=high, capacity=capacity)
    assert made.verdict == verdict
    assert made.margin == margin
    assert made.ratio == demand / capacity


def test_a_missing_side_is_never_a_pass():
    with pytest.raises(InputError):
        check(capacity=None)
    made = check(capacity=None, not_judged="no stock listed")
    assert (made.verdict, made.margin, made.ratio) == ("not judged", None, None)
    assert check(not_judged="outside the source's range").verdict == "not judged"


def test_no_capacity_at_all_has_no_ratio_but_is_short():
    made = check(capacity=0.0)
    assert (made.verdict, made.ratio) == ("short", None)


@pytest.mark.parametrize("changes", [{"demand": math.nan}, {"unit": "acre"}, {"low": 1.5}])
def test_check_refuses(changes):
    with pytest.raises(InputError):
        check(**changes)


def test_problem_prints_on_one_line():
    problem = Problem(field="plan.height", message="14 has no unit", hint='write "14 in"', where="b.toml", line=3)
    assert str(problem) == 'b.toml:3: plan.height: 14 has no unit; write "14 in"'
    loose = Problem(field="x", message="m", hint="h", severity="warning", where="b.toml")
    assert str(loose) == "b.toml: x: warning: m; h"


def test_cite_short_form():
    assert cite("wood-handbook: Table 4-3") == Cite("wood-handbook", "Table 4-3")
    assert cite("geometry") == Cite("geometry", "")


def test_tables_and_sources_are_read_once_and_refuse_unknown_names():
    assert table("sources") is table("sources")
    with pytest.raises(DataError):
        table("no-such-table")
    with pytest.raises(DataError):
        source("no-such-source")
    with pytest.raises(DataError):
        caution("no-such-caution")
    assert "owner" in source_keys()
    assert source("owner").kind == "owner"
