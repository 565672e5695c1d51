"""Is every coin found again, whichever way the list is summed?"""

from dataclasses import replace
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction

from hypothesis import given, settings
from hypothesis import strategies as st

from cordwright.base import Cite, Figure
from cordwright.cost import CostInput, PriceRow, packs, reckon_cost
from cordwright.cost.money import cost_of

SHARES = ((1.0,), (0.5, 0.5), (0.2, 0.3, 0.5), (1 / 3, 1 / 3, 1 / 3))
SPLIT_NEED = st.tuples(
    st.floats(1.0, 5000.0), st.sampled_from(SHARES), st.sampled_from([1.0, 20.0, 25.0]), st.sampled_from([1.0, 0.1])
)


def _digits(places: int, most: int) -> st.SearchStrategy[float]:
    """Numbers as people type them, with so many decimals."""
    return st.integers(0, most * 10**places).map(lambda n: float(Fraction(n, 10**places)))


@st.composite
def rows(draw: st.DrawFn, line: int) -> PriceRow:
    price = draw(st.none() | _digits(3, 5000))
    paid = draw(st.none() | _digits(2, 9000))
    return PriceRow(
        item=f"row {line}",
        line=line,
        quantity=draw(st.none() | _digits(2, 200)),
        unit_price=price,
        price_spread=draw(st.sampled_from([None, 0.1, 0.25])),
        part_of=draw(st.sampled_from(["", "mortar", "fill", "frame"])),
        delivery=draw(st.sampled_from(["", "May", "June"])),
        trade=draw(st.sampled_from(["", "mason"])),
        paid=paid,
        owed=draw(st.none() | _digits(2, 100)) if paid is not None else None,
    )


@st.composite
def lists(draw: st.DrawFn) -> CostInput:
    several = tuple(draw(rows(n)) for n in range(2, 2 + draw(st.integers(1, 9))))
    return CostInput(rows=several, decimals=draw(st.sampled_from([0, 2, 3])))


def _coins(value: float, decimals: int) -> int:
    """A figure in smallest units; a fraction of one would be a coin lost."""
    coins = Fraction(Decimal(repr(value))) * 10**decimals
    assert coins.denominator == 1, value
    return int(coins)


@settings(max_examples=80, deadline=None)
@given(lists())
def test_deliveries_parts_and_rows_come_to_the_total_to_the_coin(cost: CostInput) -> None:
    order = reckon_cost(cost, {})
    whole = order.figure("cost.total")
    known = [line.cost for line in order.lines if line.cost is not None]
    exact = sum(Fraction(c) for c in known)
    for groups in (order.deliveries, order.parts):
        sums = [_coins(g.planned.value, cost.decimals) for g in groups if g.planned.value is not None]
        if groups:
            assert sum(sums) == exact * 10**cost.decimals
            assert sorted(line.row.line for g in groups for line in g.lines) == [r.line for r in cost.rows]
    if known:
        assert _coins(whole.value, cost.decimals) == exact * 10**cost.decimals
    else:
        assert whole.bound == "unknown"


@settings(max_examples=80, deadline=None)
@given(lists())
def test_paid_and_to_pay_come_to_what_is_expected_to_the_coin(cost: CostInput) -> None:
    order = reckon_cost(cost, {})
    spent, left, expected = (order.figure(f"cost.{k}").value for k in ("spent", "left_to_spend", "expected"))
    parts = [_coins(v, cost.decimals) for v in (spent, left) if v is not None]
    if expected is not None:
        assert sum(parts) == _coins(expected, cost.decimals)
    paid = [row.paid for row in cost.rows if row.paid is not None]
    assert (spent is None) == (not paid)


@settings(max_examples=80, deadline=None)
@given(_digits(2, 10_000), _digits(4, 10_000), st.sampled_from([0, 2, 3]))
def test_a_row_is_the_nearest_coin_by_exact_fractions(quantity: float, price: float, decimals: int) -> None:
    exact = Fraction(repr(quantity)) * Fraction(repr(price)) * 10**decimals
    assert Fraction(cost_of(quantity, price, decimals)) * 10**decimals == (2 * exact + 1) // 2


def test_the_rule_of_rounding_is_the_decimal_arithmetics_own() -> None:
    assert Decimal("0.125").quantize(Decimal("0.01"), ROUND_HALF_UP) == cost_of(1.0, 0.125, 2)


@settings(max_examples=60, deadline=None)
@given(SPLIT_NEED, st.floats(0.0, 0.3))
def test_split_over_deliveries_no_pack_more_is_bought_and_none_runs_short(
    split: tuple[float, tuple[float, ...], float, float], waste: float
) -> None:
    need, shares, amount, step = split
    figure = Figure(key="mortar.cement", label="", value=need, unit="kg", sources=(Cite("geometry"),))
    row = PriceRow(item="x", line=2, quantity=None, unit_price=1.0, covers="mortar.cement", unit_amount=amount)
    each = tuple(replace(row, share=s, step=step, waste=waste, line=n) for n, s in enumerate(shares))
    lines = reckon_cost(CostInput(rows=each), {"mortar.cement": figure}).lines
    bought = [line.quantity or 0.0 for line in lines]
    wanted, slack = need * (1 + waste), 1e-6 * max(need, amount)
    for n in range(1, len(shares) + 1):
        assert sum(bought[:n]) * amount >= sum(shares[:n]) * wanted - slack
    assert abs(sum(bought) - packs(wanted, amount, step)) <= 1e-6


@settings(max_examples=60, deadline=None)
@given(lists())
def test_a_range_holds_its_middle_in_every_sum(cost: CostInput) -> None:
    order = reckon_cost(cost, {})
    for group in (*order.deliveries, *order.parts, *order.trades):
        for figure in (group.planned, group.left, group.expected):
            ends = [v for v in (figure.low, figure.value, figure.high) if v is not None]
            assert ends == sorted(ends)
    for line in order.lines:
        if line.planned is not None:
            assert line.planned.low <= line.planned.value <= line.planned.high
