"""Does the order list buy what is needed, in packs, and does it say what it does not know?"""

from dataclasses import replace

import pytest

from cordwright.base import Cite, Figure
from cordwright.cost import CostInput, OrderLine, OrderList, PriceRow, order_lines, packs, reckon_cost

SAYS = (Cite("geometry"),)


def figure(key: str, value: float | None, unit: str, low: float | None = None, high: float | None = None) -> Figure:
    bound, missing = ("exact", ()) if value is not None else ("unknown", ("the mix",))
    return Figure(
        key=key, label=key, value=value, unit=unit, low=low, high=high, bound=bound, missing=missing, sources=SAYS
    )


NEEDS = {
    f.key: f
    for f in (
        figure("mortar.cement", 752.0, "kg", 579.0, 948.0),
        figure("mortar.lime", 480.2, "kg", 369.0, 605.0),
        figure("mortar.damp_sand_mass", 3364.0, "kg"),
        figure("mortar.damp_sand_volume", 2.5, "m3"),
        figure("mortar.fibre_volume", 0.75, "m3"),
        figure("wall.fill_volume", 2.188, "m3", 1.91, 2.46),
    )
}
CEMENT = PriceRow(
    item="cement 25 kg",
    line=2,
    quantity=None,
    unit_price=6.9,
    covers="mortar.cement",
    unit_amount=25.0,
    unit_text="25 kg",
    part_of="mortar",
)
LIME = replace(CEMENT, item="lime 20 kg", line=3, unit_price=9.0, covers="mortar.lime", unit_amount=20.0)
SAND = replace(
    CEMENT, item="sand t", line=4, unit_price=22.0, covers="mortar.damp_sand_mass", unit_amount=1000.0, step=0.1
)
FIBRE = PriceRow(item="sawdust", line=5, quantity=1, unit_price=40, part_of="mortar")
SHIVE = replace(
    SAND, item="shive m3", line=6, unit_price=28.0, covers="wall.fill_volume", unit_amount=1.0, part_of="fill"
)
FILL_LIME = PriceRow(item="lime for shive", line=7, quantity=6, unit_price=9.0, part_of="fill")
POSTS = PriceRow(item="posts", line=8, quantity=8, unit_price=46.0, part_of="frame")
ROWS = (CEMENT, LIME, SAND, FIBRE, SHIVE, FILL_LIME, POSTS)


def order(*rows: PriceRow, purse: float | None = None, currency: str = "EUR") -> OrderList:
    return reckon_cost(CostInput(rows=rows, purse=purse, currency=currency), NEEDS)


def line(row: PriceRow) -> OrderLine:
    return order_lines(CostInput(rows=(row,)), NEEDS)[0]


def test_weaving_studio_wall_materials_come_to_the_job_study() -> None:
    """31 and 25 bags, 3.4 t, sawdust, 2.2 m3 and six bags: 669.30 EUR."""
    wall = order(*ROWS).figure("cost.wall_materials")
    assert [li.quantity for li in order(*ROWS).lines] == [31, 25, 3.4, 1, 2.2, 6, 8]
    assert wall.value == pytest.approx(669.3, abs=1e-9)
    assert (wall.unit, wall.bound) == ("EUR", "exact")
    assert order(*ROWS).figure("cost.total").value == pytest.approx(669.3 + 368)


def test_spread_is_in_packs_again() -> None:
    total = order(CEMENT).figure("cost.total")
    assert (total.low, total.value, total.high) == pytest.approx((24 * 6.9, 31 * 6.9, 38 * 6.9))
    fixed = order(POSTS).figure("cost.total")
    assert (fixed.low, fixed.high) == (None, None)


def test_share_of_the_wall_materials_stands_in_the_working() -> None:
    step = order(*ROWS).figure("cost.wall_materials").steps[-1]
    assert step.symbol == "share of the total"
    assert step.value == pytest.approx(669.3 / (669.3 + 368))


def test_a_typed_quantity_stands_beside_the_computed_one() -> None:
    typed = line(replace(CEMENT, quantity=30))
    assert (typed.quantity, typed.computed, typed.note) == (31, 31, "typed 30, computed 31")
    assert line(replace(CEMENT, quantity=31)).note == ""
    assert (typed.need, typed.need_unit) == (752.0, "kg")


def test_zero_is_own_and_blank_is_unknown() -> None:
    """Nasty row 7."""
    own = line(replace(CEMENT, unit_price=0.0))
    assert (own.cost, own.note) == (0.0, "own")
    blank = line(replace(CEMENT, unit_price=None))
    assert (blank.cost, blank.note) == (None, "price unknown")
    nothing = line(PriceRow(item="mineral wool", line=9, quantity=None, unit_price=46.0))
    assert (nothing.quantity, nothing.cost, nothing.note) == (None, None, "quantity unknown")


def test_an_unknown_price_makes_the_total_at_least() -> None:
    total = order(CEMENT, replace(POSTS, unit_price=None)).figure("cost.total")
    assert (total.bound, total.missing) == ("at_least", ("posts",))
    assert total.value == pytest.approx(31 * 6.9)
    assert total.high is None


def test_an_own_row_and_an_unknown_one_are_at_least_nothing() -> None:
    total = order(replace(POSTS, unit_price=0.0), replace(CEMENT, unit_price=None)).figure("cost.total")
    assert (total.value, total.bound) == (0.0, "at_least")


def test_only_unknown_rows_have_no_total() -> None:
    total = order(replace(CEMENT, unit_price=None)).figure("cost.total")
    assert (total.value, total.bound, total.missing) == (None, "unknown", ("cement 25 kg",))
    assert order().figure("cost.total").missing == ("rows of the price list",)
    assert order(POSTS).figure("cost.wall_materials").bound == "unknown"


def test_a_need_the_tool_cannot_compute_leaves_the_typed_quantity() -> None:
    unknown = {"mortar.cement": figure("mortar.cement", None, "kg")}
    typed, blank = order_lines(CostInput(rows=(replace(CEMENT, quantity=30), replace(CEMENT, line=3))), unknown)
    assert (typed.need, typed.computed, typed.quantity, typed.note) == (None, None, 30, "")
    assert blank.note == "quantity unknown"


def test_a_need_known_only_as_a_limit_makes_the_total_at_least() -> None:
    limit = Figure(
        key="mortar.cement", label="", value=752.0, unit="kg", bound="at_least", missing=("x",), sources=SAYS
    )
    total = reckon_cost(CostInput(rows=(CEMENT,)), {"mortar.cement": limit}).figure("cost.total")
    assert (total.bound, total.missing) == ("at_least", ("cement 25 kg",))


def test_needs_no_row_buys_are_listed() -> None:
    assert [key for key, *_ in order(POSTS).unpriced] == [
        "mortar.cement",
        "mortar.lime",
        "mortar.damp_sand_volume",
        "mortar.fibre_volume",
        "wall.fill_volume",
    ]
    assert [u[0] for u in order(*ROWS).unpriced] == ["mortar.fibre_volume"]
    assert order(*ROWS).unpriced[0][2:] == (0.75, "m3")


def test_blended_bags_buy_the_cement_and_the_lime() -> None:
    needs = {**NEEDS, "mortar.preblended": figure("mortar.preblended", 1232.0, "kg")}
    bags = replace(CEMENT, item="blend", covers="mortar.preblended")
    unpriced = [key for key, *_ in reckon_cost(CostInput(rows=(bags,)), needs).unpriced]
    assert unpriced == ["mortar.damp_sand_volume", "mortar.fibre_volume", "wall.fill_volume"]


def test_the_purse_is_held_against_the_total() -> None:
    (check,) = order(*ROWS, purse=2000.0).checks
    assert check.verdict == "holds"
    (close,) = order(CEMENT, purse=32 * 6.9).checks
    assert close.verdict == "close"
    (short,) = order(*ROWS, purse=500.0).checks
    assert short.verdict == "short"
    assert order(*ROWS).checks == ()


def test_a_lower_limit_shows_a_purse_short_but_never_enough() -> None:
    rows = (CEMENT, replace(POSTS, unit_price=None))
    (check,) = order(*rows, purse=10_000.0).checks
    assert check.verdict == "not judged"
    assert "posts" in check.not_judged
    (short,) = order(*rows, purse=100.0).checks
    assert short.verdict == "short"
    (unknown,) = order(replace(POSTS, unit_price=None), purse=100.0).checks
    assert unknown.verdict == "not judged"


def test_money_keeps_its_currency_and_is_rounded_once_a_row_to_its_smallest_unit() -> None:
    rows = (replace(CEMENT, unit_price=5290.5), replace(POSTS, quantity=1, unit_price=0.5))
    for decimals, paid in ((0, 164006 + 1), (1, 164005.5 + 0.5)):
        total = reckon_cost(CostInput(rows=rows, currency="CLP", decimals=decimals), NEEDS).figure("cost.total")
        assert (total.value, total.unit) == (paid, "CLP")


@pytest.mark.parametrize(
    ("need", "amount", "step", "units"),
    [
        (752.0, 25.0, 1.0, 31),
        (750.0, 25.0, 1.0, 30),
        (750.001, 25.0, 1.0, 31),
        (3364.0, 1000.0, 0.1, 3.4),
        (3400.0, 1000.0, 0.1, 3.4),
        (0.0, 25.0, 1.0, 0),
        (2.188, 1.0, 0.1, 2.2),
        (2.19, 0.764554857984, 0.5, 3.0),
    ],
)
def test_packs_by_hand(need: float, amount: float, step: float, units: float) -> None:
    assert packs(need, amount, step) == units


def test_totals_name_the_owner_and_the_needs_sources() -> None:
    sources = {c.key for c in order(*ROWS).figure("cost.total").sources}
    assert sources == {"owner", "money-rounding", "order-rounding", "geometry"}
    assert {c.key for c in order(POSTS).figure("cost.total").sources} == {"owner", "money-rounding"}
    assert order().figure("cost.total").sources
