"""Is every fault of a price list named at its row, with what is allowed?"""

from dataclasses import replace
from datetime import date

import pytest

from cordwright.base import Problem
from cordwright.cost import CostInput, Delivery, PriceRow, find_faults

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


@pytest.mark.parametrize(
    ("change", "field", "severity", "told"),
    [
        ({"price_low": 50.0}, "price_low", "error", "does not hold its price"),
        ({"price_high": 40.0}, "price_high", "error", "does not hold its price"),
        ({"price_high": 50.0, "price_spread": 0.1}, "price_spread", "error", "stated twice"),
        ({"unit_price": None, "price_high": 50.0}, "unit_price", "warning", "counts as unknown"),
        ({"paid": -1.0}, "paid", "error", "-1 EUR"),
        ({"owed": 20.0}, "owed", "error", "paid is blank"),
        ({"paid_date": date(2028, 1, 1)}, "paid_date", "error", "paid is blank"),
        ({"spare": -1.0}, "spare", "error", "spares"),
        ({"unit_mass": 0.0}, "mass", "error", "mass of one"),
        ({"pack": 2.5, "step": 0.5}, "pack", "error", "by the pack"),
        ({"waste": 0.1}, "waste", "warning", "changes nothing"),
        ({"share": 0.5}, "share", "error", "covers no figure"),
    ],
)
def test_a_row_that_contradicts_itself(change: dict[str, object], field: str, severity: str, told: str) -> None:
    fault = only(CEMENT, replace(POSTS, **change))  # type: ignore[arg-type]
    assert (fault.field, fault.severity) == (f"prices[1].{field}", severity)
    assert told in fault.message


def test_waste_upon_waste_is_told() -> None:
    fault = only(replace(CEMENT, waste=0.1))
    assert (fault.field, fault.severity) == ("prices[0].waste", "warning")
    assert "10% more" in fault.message


@pytest.mark.parametrize(
    ("shares", "severity"), [((0.5, 0.5), ""), ((0.5, 0.4), "warning"), ((0.6, 0.6), "error"), ((0.333333,) * 3, "")]
)
def test_shares_come_to_the_whole(shares: tuple[float, ...], severity: str) -> None:
    found = faults(*(replace(CEMENT, share=share) for share in shares))
    assert [f.severity for f in found] == ([severity] if severity else [])


def test_a_row_without_a_share_buys_it_all() -> None:
    fault = only(replace(CEMENT, share=0.5), CEMENT)
    assert (fault.field, fault.severity) == ("prices[1].covers", "error")
    assert "share" in fault.hint
    bags = replace(CEMENT, share=0.5, covers="mortar.cement_bags")
    assert "prices[1].covers" in [f.field for f in faults(replace(CEMENT, share=0.5), bags)]


def test_deliveries_are_those_stated() -> None:
    stated = (Delivery(name="spring"), Delivery(name="summer"))
    rows = (replace(CEMENT, delivery="sprng"), replace(POSTS, delivery="summer"))
    found = find_faults(CostInput(rows=rows, deliveries=stated), KEYS)
    assert [(f.field, f.severity) for f in found] == [
        ("cost.deliveries[0].name", "warning"),
        ("prices[0].delivery", "warning"),
    ]
    assert "spring" in found[1].hint
    (twice,) = find_faults(CostInput(deliveries=(Delivery(name="a"), Delivery(name="a"))), KEYS)
    assert (twice.field, twice.severity) == ("cost.deliveries[1].name", "error")
    (heavy,) = find_faults(CostInput(deliveries=(Delivery(name="a", carries=0.0),)), KEYS)
    assert heavy.field == "cost.deliveries[0].carries"


def test_old_prices_are_told_once_and_days_to_come_each() -> None:
    rows = (
        replace(CEMENT, price_date=date(2026, 1, 1)),
        replace(POSTS, price_date=date(2025, 1, 1)),
        replace(POSTS, price_date=date(2024, 1, 1), paid=1.0),
        replace(POSTS, price_date=date(2027, 6, 1)),
    )
    (fault,) = find_faults(CostInput(rows=rows, as_of=date(2027, 6, 1)), KEYS)
    assert (fault.field, fault.severity) == ("prices[1].price_date", "warning")
    assert "2 prices are" in fault.message
    (early,) = find_faults(CostInput(rows=rows[3:], as_of=date(2027, 5, 1)), KEYS)
    assert (early.field, early.severity) == ("prices[0].price_date", "warning")
    assert find_faults(CostInput(rows=rows), KEYS) == ()
