"""Does the budget keep apart what is planned, paid, owed, own and not known?"""

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest

from cordwright.base import Cite, Figure
from cordwright.cost import CostInput, OrderList, PriceRow, reckon_cost
from cordwright.cost.money import cost_of

SAYS = (Cite("geometry"),)


def figure(key: str, value: float, unit: str, low: float | None = None, high: float | None = None) -> Figure:
    return Figure(key=key, label=key, value=value, unit=unit, low=low, high=high, sources=SAYS)


NEEDS = {
    f.key: f
    for f in (
        figure("mortar.cement", 752.0, "kg", 579.0, 948.0),
        figure("plan.inner_area", 20.0, "m2"),
        figure("plan.net_wall_area", 40.0, "m2"),
    )
}
CEMENT = PriceRow(
    item="cement", line=2, quantity=None, unit_price=6.9, covers="mortar.cement", unit_amount=25.0, part_of="mortar"
)
POSTS = PriceRow(item="posts", line=3, quantity=8, unit_price=46.0, part_of="frame")


def order(*rows: PriceRow, hours: dict[str, Figure] | None = None, **stated: object) -> OrderList:
    return reckon_cost(CostInput(rows=rows, **stated), NEEDS, hours)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("quantity", "price", "decimals", "amount"),
    [
        (31, 6.9, 2, "213.90"),
        (3, 0.335, 2, "1.01"),  # 1.005 exactly, which binary floats hold as less
        (1, 2.675, 2, "2.68"),
        (1, 2.665, 2, "2.67"),  # halves up, not to even
        (3.4, 22.0, 2, "74.80"),
        (1, 0.5, 0, "1"),
        (31, 5290, 0, "163990"),
        (2.5, 1.4567, 3, "3.642"),
        (1e9, 99999999.99, 2, "99999999990000000.00"),
    ],
)
def test_a_row_is_rounded_once_halves_up(quantity: float, price: float, decimals: int, amount: str) -> None:
    assert str(cost_of(quantity, price, decimals)) == amount


def test_the_wall_alone_against_the_whole() -> None:
    made = order(CEMENT, POSTS)
    share = made.figure("cost.wall_share")
    assert share.value == pytest.approx(213.9 / (213.9 + 368))
    assert (share.bound, share.unit) == ("exact", "1")
    floor, wall = made.figure("cost.per_floor_area"), made.figure("cost.per_wall_area")
    assert (floor.value, floor.unit) == (pytest.approx(581.9 / 20), "EUR/m2")
    assert (wall.value, wall.low, wall.high) == pytest.approx((213.9 / 40, 24 * 6.9 / 40, 38 * 6.9 / 40))


def test_an_unknown_price_leaves_the_share_a_limit() -> None:
    share = order(CEMENT, replace(POSTS, unit_price=None), replace(POSTS, item="beam")).figure("cost.wall_share")
    assert (share.bound, share.missing) == ("at_most", ("posts",))
    assert order(replace(CEMENT, unit_price=None), POSTS).figure("cost.wall_share").bound == "unknown"


@pytest.mark.parametrize(
    ("changes", "span"),
    [
        ({"price_low": 40.0, "price_high": 60.0}, (320.0, 368.0, 480.0)),
        ({"price_high": 60.0}, (368.0, 368.0, 480.0)),
        ({"price_spread": 0.25}, (276.0, 368.0, 460.0)),
    ],
)
def test_a_range_of_the_price_is_a_range_of_the_total(
    changes: dict[str, float], span: tuple[float, float, float]
) -> None:
    total = order(replace(POSTS, **changes)).figure("cost.total")  # type: ignore[arg-type]
    assert (total.low, total.value, total.high) == span


def test_range_of_price_and_of_need_go_together() -> None:
    total = order(replace(CEMENT, price_low=6.0, price_high=8.0)).figure("cost.total")
    assert (total.low, total.value, total.high) == pytest.approx((24 * 6.0, 31 * 6.9, 38 * 8.0))


def test_nothing_recorded_is_not_nothing_paid() -> None:
    made = order(CEMENT, POSTS)
    assert made.figure("cost.spent").bound == "unknown"
    assert made.figure("cost.left_to_spend").value == made.figure("cost.total").value
    assert made.figure("cost.expected").value == made.figure("cost.total").value


def test_what_is_paid_is_no_longer_a_range() -> None:
    made = order(replace(CEMENT, paid=220.5, paid_date=date(2028, 5, 3)), POSTS)
    spent, left, expected = (made.figure(f"cost.{k}") for k in ("spent", "left_to_spend", "expected"))
    assert spent.value == 220.5
    assert "2028-05-03" in spent.steps[0].formula
    assert (left.value, left.low) == (368.0, None)
    assert (expected.value, expected.low, expected.high) == (588.5, None, None)
    assert made.figure("cost.total").value == pytest.approx(581.9)


def test_a_deposit_leaves_what_is_owed() -> None:
    made = order(replace(POSTS, paid=100.0, owed=290.0))
    assert [made.figure(f"cost.{k}").value for k in ("total", "spent", "left_to_spend", "expected")] == [
        368.0,
        100.0,
        290.0,
        390.0,
    ]


def test_paid_without_a_price_is_known_in_the_end_but_not_as_planned() -> None:
    made = order(CEMENT, replace(POSTS, unit_price=None, paid=350.0))
    assert (made.figure("cost.total").bound, made.figure("cost.expected").bound) == ("at_least", "exact")
    assert made.figure("cost.unknown_items").value == 0
    assert order(CEMENT, replace(POSTS, unit_price=None)).figure("cost.unknown_items").value == 1


def test_the_purse_stands_against_what_is_paid_and_to_pay() -> None:
    (before,) = order(POSTS, purse=380.0).checks
    (after,) = order(replace(POSTS, paid=400.0), purse=380.0).checks
    assert (before.verdict, after.verdict) == ("holds", "short")
    assert after.demand == 400.0


def test_own_and_free_cost_nothing_and_say_so() -> None:
    rows = (replace(POSTS, unit_price=0.0, given="free"), replace(POSTS, unit_price=0.0, given="own"))
    made = order(*rows)
    assert [line.note for line in made.lines] == ["free", "own"]
    assert made.figure("cost.total").value == 0.0


def test_parts_and_trades() -> None:
    rows = (replace(CEMENT, trade="mason"), replace(POSTS, trade="carpenter"), replace(POSTS, part_of=""))
    made = order(*rows)
    assert [(g.name, g.planned.value) for g in made.parts] == [("mortar", 213.9), ("frame", 368.0), ("", 368.0)]
    assert [(g.name, g.key) for g in made.trades] == [
        ("mason", "cost.trade.mason"),
        ("carpenter", "cost.trade.carpenter"),
    ]


def test_a_part_keeps_paid_left_and_expected() -> None:
    (part,) = order(replace(POSTS, paid=300.0), replace(POSTS, item="beam")).parts
    assert (part.planned.value, part.paid, part.left.value, part.expected.value) == (736.0, Decimal(300), 368.0, 668.0)


def test_the_oldest_price_that_is_still_to_pay() -> None:
    rows = (
        replace(CEMENT, price_date=date(2027, 1, 10)),
        replace(POSTS, price_date=date(2027, 3, 10)),
        replace(POSTS, item="paid", price_date=date(2020, 1, 1), paid=1.0),
    )
    oldest = order(*rows, as_of=date(2027, 4, 10)).figure("cost.oldest_price")
    assert (oldest.value, oldest.unit, oldest.steps[0].symbol) == (90.0, "d", "cement")
    assert "cost.oldest_price" not in {f.key for f in order(*rows).figures}


def test_hours_are_unknown_until_the_season_tells_them() -> None:
    hours = order(CEMENT).figure("cost.hours")
    assert (hours.bound, hours.unit) == ("unknown", "h")
    assert "season" in hours.missing[0]


def test_hours_by_trade_come_to_the_hours() -> None:
    told = {"laying": figure("x", 240.0, "h", 200.0, 320.0), "carpentry": figure("y", 90.0, "h")}
    made = order(CEMENT, hours=told)
    whole = made.figure("cost.hours")
    assert (whole.value, whole.low, whole.high, whole.bound) == (330.0, 290.0, 410.0, "exact")
    assert made.figure("cost.hours.laying").value == 240.0
    assert made.figure("cost.hours.carpentry").sources == SAYS


def test_hours_of_a_trade_not_known_make_the_hours_at_least() -> None:
    unknown = Figure(key="z", label="", value=None, unit="h", bound="unknown", missing=("its tasks",), sources=SAYS)
    whole = order(CEMENT, hours={"laying": figure("x", 240.0, "h"), "roofing": unknown}).figure("cost.hours")
    assert (whole.value, whole.bound, whole.missing) == (240.0, "at_least", ("hours of roofing",))
