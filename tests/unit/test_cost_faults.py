"""Is every fault of a price list named at its row, with what is allowed?"""

from dataclasses import replace

import pytest

from cordwright.base import Problem
from cordwright.cost import CostInput, PriceRow, find_faults

KEYS = (
    "mortar.cement",
    "mortar.cement_bags",
    "mortar.lime",
    "mortar.damp_sand_mass",
    "mortar.damp_sand_volume",
    "mortar.preblended",
    "wall.fill_volume",
    "cost.total",
)
CEMENT = PriceRow(item="cement", line=2, quantity=None, unit_price=6.9, covers="mortar.cement", unit_amount=25.0)
POSTS = PriceRow(item="posts", line=3, quantity=8, unit_price=46.0)


def faults(*rows: PriceRow, purse: float | None = None) -> tuple[Problem, ...]:
    return find_faults(CostInput(rows=rows, purse=purse), KEYS)


def only(*rows: PriceRow) -> Problem:
    (fault,) = faults(*rows)
    return fault


def test_a_sound_list_has_no_fault() -> None:
    assert faults(CEMENT, POSTS, purse=100.0) == ()


def test_zero_and_blank_prices_are_no_fault() -> None:
    assert faults(replace(POSTS, unit_price=0.0), replace(CEMENT, unit_price=None)) == ()


@pytest.mark.parametrize(
    ("change", "field"),
    [
        ({"unit_price": -5.0}, "prices[1].unit_price"),
        ({"quantity": -1.0}, "prices[1].quantity"),
        ({"unit_price": float("nan")}, "prices[1].unit_price"),
        ({"unit_price": float("inf")}, "prices[1].unit_price"),
        ({"step": 0.0}, "prices[1].step"),
        ({"step": 2.0}, "prices[1].step"),
    ],
)
def test_numbers_no_price_list_has(change: dict[str, float], field: str) -> None:
    """Nasty row 7: a negative price is refused, never made positive."""
    fault = only(CEMENT, replace(POSTS, **change))
    assert (fault.field, fault.severity) == (field, "error")


def test_a_negative_price_is_named_with_its_currency() -> None:
    fault = only(replace(POSTS, unit_price=-5.0))
    assert "-5 EUR" in fault.message
    assert "0 is your own" in fault.hint


def test_an_unknown_figure_names_the_nearest() -> None:
    fault = only(replace(CEMENT, covers="mortar.cemnt"))
    assert (fault.field, fault.severity) == ("prices[0].covers", "error")
    assert "mortar.cement" in fault.hint
    assert "nomenclature" in only(replace(CEMENT, covers="zzzzzz")).hint


def test_a_list_cannot_buy_its_own_total() -> None:
    assert only(replace(CEMENT, covers="cost.total")).field == "prices[0].covers"


@pytest.mark.parametrize("amount", [None, 0.0, -25.0])
def test_a_covering_row_says_how_much_one_unit_holds(amount: float | None) -> None:
    fault = only(replace(CEMENT, unit_amount=amount))
    assert (fault.field, fault.severity) == ("prices[0].unit", "error")


def test_neither_quantity_nor_covers_is_a_warning() -> None:
    fault = only(replace(POSTS, quantity=None))
    assert (fault.field, fault.severity) == ("prices[0].quantity", "warning")
    assert "unknown" in fault.message


@pytest.mark.parametrize(
    ("first", "second"),
    [
        ("mortar.cement", "mortar.cement"),
        ("mortar.cement", "mortar.cement_bags"),
        ("mortar.damp_sand_mass", "mortar.damp_sand_volume"),
    ],
)
def test_a_need_bought_twice_is_refused(first: str, second: str) -> None:
    other = replace(CEMENT, item="more of it", line=9, covers=second)
    fault = only(replace(CEMENT, covers=first), POSTS, other)
    assert (fault.field, fault.severity) == ("prices[2].covers", "error")
    assert "cement" in fault.message


def test_blended_bags_and_their_cement_are_a_warning() -> None:
    bags = replace(CEMENT, item="blend", covers="mortar.preblended")
    fault = only(CEMENT, bags)
    assert (fault.field, fault.severity) == ("prices[0].covers", "warning")


def test_a_negative_purse_is_refused() -> None:
    (fault,) = faults(POSTS, purse=-1.0)
    assert fault.field == "cost.purse"
