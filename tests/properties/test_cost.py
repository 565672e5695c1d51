"""Does an order always cover its need, and do totals add up, whatever the list?"""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cordwright.base import Cite, Figure
from cordwright.cost import CostInput, PriceRow, packs, reckon_cost

PRICE = st.floats(0.0, 1e5)


@given(st.floats(1e-3, 1e6), st.floats(0.01, 2000.0), st.sampled_from([1.0, 0.5, 0.25, 0.1, 0.05, 0.01]))
def test_packs_cover_the_need_and_never_a_whole_step_more(need: float, amount: float, step: float) -> None:
    bought = packs(need, amount, step) * amount
    slack = 2e-9 * max(need, amount)
    assert bought >= need - slack
    assert bought < need + step * amount + slack


@given(st.floats(1e-3, 1e6), st.floats(1e-3, 1e6), st.floats(0.01, 2000.0), st.sampled_from([1.0, 0.1]))
def test_more_need_never_fewer_packs(one: float, other: float, amount: float, step: float) -> None:
    low, high = sorted((one, other))
    assert packs(low, amount, step) <= packs(high, amount, step)


@st.composite
def lists(draw: st.DrawFn) -> tuple[CostInput, dict[str, Figure]]:
    need = draw(st.floats(1.0, 5000.0))
    low, high = need * draw(st.floats(0.5, 1.0)), need * draw(st.floats(1.0, 2.0))
    figure = Figure(
        key="mortar.cement", label="", value=need, unit="kg", low=low, high=high, sources=(Cite("geometry"),)
    )
    rows = [
        PriceRow(
            item="cement",
            line=2,
            quantity=None,
            unit_price=draw(PRICE),
            covers="mortar.cement",
            unit_amount=25.0,
            part_of="mortar",
        )
    ]
    for i in range(draw(st.integers(0, 6))):
        rows.append(
            PriceRow(
                item=f"row {i}",
                line=3 + i,
                quantity=draw(st.floats(0.0, 100.0)),
                unit_price=draw(st.none() | PRICE),
                part_of=draw(st.sampled_from(["", "mortar", "fill", "frame"])),
            )
        )
    return CostInput(rows=tuple(rows)), {"mortar.cement": figure}


@settings(max_examples=60, deadline=None)
@given(lists())
def test_the_total_is_the_sum_of_its_lines_exactly(case: tuple[CostInput, dict[str, Figure]]) -> None:
    order = reckon_cost(*case)
    known = [line.cost for line in order.lines if line.cost is not None]
    total, wall = order.figure("cost.total"), order.figure("cost.wall_materials")
    assert total.value == float(sum(known))
    assert wall.value <= total.value
    assert (total.bound == "at_least") == (len(known) < len(order.lines))


@settings(max_examples=60, deadline=None)
@given(lists(), st.integers(0, 6), st.floats(0.01, 1e4))
def test_a_dearer_row_never_makes_a_cheaper_list(
    case: tuple[CostInput, dict[str, Figure]], index: int, more: float
) -> None:
    cost, figures = case
    rows = list(cost.rows)
    i = index % len(rows)
    before = reckon_cost(cost, figures).figure("cost.total").value
    rows[i] = replace(rows[i], unit_price=(rows[i].unit_price or 0.0) + more)
    assert reckon_cost(replace(cost, rows=tuple(rows)), figures).figure("cost.total").value >= before


@settings(max_examples=60, deadline=None)
@given(lists(), st.floats(0.1, 10.0))
def test_money_scales_with_the_prices(case: tuple[CostInput, dict[str, Figure]], times: float) -> None:
    cost, figures = case
    rows = tuple(replace(r, unit_price=None if r.unit_price is None else r.unit_price * times) for r in cost.rows)
    before = reckon_cost(cost, figures).figure("cost.total").value
    after = reckon_cost(replace(cost, rows=rows), figures).figure("cost.total").value
    cent = 0.005 * len(cost.rows)  # every row is rounded to the cent before and after
    assert after == pytest.approx(before * times, rel=1e-9, abs=cent * (1 + times))
