"""Does each delivery bring its share, in packs once rounded, and can it be carried?"""

from dataclasses import replace
from datetime import date

import pytest

from cordwright.base import Cite, Figure
from cordwright.cost import CostInput, Delivery, OrderList, PriceRow, order_lines, reckon_cost

SAYS = (Cite("geometry"),)
NEEDS = {
    "mortar.cement": Figure(
        key="mortar.cement", label="cement", value=752.0, unit="kg", low=579.0, high=948.0, sources=SAYS
    ),
    "roof.slope_area": Figure(key="roof.slope_area", label="roof", value=63.0, unit="m2", sources=SAYS),
}
CEMENT = PriceRow(
    item="cement 25 kg", line=2, quantity=None, unit_price=6.9, covers="mortar.cement", unit_amount=25.0, part_of="wall"
)
SHEET = PriceRow(
    item="sheet m2", line=3, quantity=None, unit_price=8.4, covers="roof.slope_area", unit_amount=1.0, part_of="roof"
)
POSTS = PriceRow(item="posts", line=4, quantity=8, unit_price=46.0, part_of="frame", delivery="frame")


def order(*rows: PriceRow, deliveries: tuple[Delivery, ...] = ()) -> OrderList:
    return reckon_cost(CostInput(rows=rows, deliveries=deliveries), NEEDS)


def bought(*rows: PriceRow) -> list[float | None]:
    return [line.quantity for line in order_lines(CostInput(rows=rows), NEEDS)]


@pytest.mark.parametrize(
    ("shares", "bags"),
    [
        ((1.0,), [31]),  # 752 / 25 = 30.08
        ((0.5, 0.5), [16, 15]),  # 15.04 -> 16; 30.08 less 16 -> 14.08 -> 15
        ((1 / 3, 1 / 3, 1 / 3), [11, 10, 10]),  # 10.03 -> 11; 20.05 -> 10 more; 30.08 -> 10 more
        ((0.9, 0.1), [28, 3]),  # 27.07 -> 28; 30.08 less 28 -> 3
    ],
)
def test_packs_are_rounded_up_once_for_all_deliveries(shares: tuple[float, ...], bags: list[float]) -> None:
    """Rounded in each delivery, two halves would be 32 bags and three thirds 33."""
    assert bought(*(replace(CEMENT, share=share, line=n) for n, share in enumerate(shares))) == bags
    assert sum(bags) == 31


def test_a_shared_need_may_come_in_packs_of_two_sizes() -> None:
    """Half a big bag's worth first, the rest in small ones: 752 kg less one tonne bag is nothing."""
    big = replace(CEMENT, item="big bag", unit_amount=1000.0, share=0.5)
    assert bought(big, replace(CEMENT, share=0.5)) == [1, 0]
    assert bought(replace(CEMENT, share=0.5), replace(big, unit_amount=300.0)) == [16, 2]


def test_waste_packs_and_spares_by_hand() -> None:
    assert bought(replace(SHEET, waste=0.10)) == [70]  # 69.3
    assert bought(replace(SHEET, waste=0.10, pack=2.5)) == [70]  # 28 packs
    assert bought(replace(SHEET, pack=2.5)) == [65]  # 25.2 -> 26 packs
    assert bought(replace(CEMENT, spare=2)) == [33]
    assert bought(replace(POSTS, spare=1)) == [9]
    assert bought(replace(POSTS, pack=3)) == [9]
    assert bought(replace(CEMENT, share=0.5, spare=1), replace(CEMENT, share=0.5)) == [17, 15]


def test_deliveries_come_by_their_days_and_what_names_none_comes_last() -> None:
    stated = (
        Delivery(name="wall", day=date(2028, 5, 2), stage="laying"),
        Delivery(name="frame", day=date(2027, 9, 1)),
        Delivery(name="later"),
    )
    rows = (replace(CEMENT, delivery="wall"), SHEET, POSTS, replace(POSTS, item="wedges", delivery="later"))
    made = order(*rows, deliveries=stated)
    assert [g.name for g in made.deliveries] == ["frame", "later", "wall", ""]
    assert [g.key for g in made.deliveries][-1] == "cost.delivery.none"
    assert [line.row.item for line in made.by_delivery] == ["posts", "wedges", "cement 25 kg", "sheet m2"]
    assert made.figure("cost.delivery.wall").value == pytest.approx(31 * 6.9)
    assert made.figure("cost.part.roof").value == pytest.approx(63 * 8.4)


def test_a_list_without_deliveries_has_none() -> None:
    made = order(CEMENT, SHEET)
    assert made.deliveries == ()
    assert not [f.key for f in made.figures if f.key.startswith("cost.delivery")]
    assert made.by_delivery == made.lines


def test_the_load_is_what_is_bought_by_mass_or_stated() -> None:
    made = order(replace(CEMENT, delivery="wall"), replace(POSTS, delivery="wall", unit_mass=52.0))
    mass = made.figure("cost.delivery.wall.mass")
    assert (mass.value, mass.bound) == (31 * 25 + 8 * 52, "exact")
    assert (mass.low, mass.high) == (24 * 25 + 8 * 52, 38 * 25 + 8 * 52)


def test_a_load_not_wholly_known_is_a_lower_limit() -> None:
    mass = order(replace(CEMENT, delivery="frame"), POSTS).figure("cost.delivery.frame.mass")
    assert (mass.value, mass.bound, mass.missing) == (775.0, "at_least", ("mass of posts",))
    assert "cost.delivery.frame.mass" not in {f.key for f in order(POSTS).figures}


@pytest.mark.parametrize(("trips", "word"), [(1, "short"), (2, "close"), (3, "holds")])
def test_a_load_is_held_against_the_trips(trips: int, word: str) -> None:
    """775 kg, at most 950, in a trailer of 450 kg."""
    stated = Delivery(name="wall", carries=450.0, trips=trips)
    made = order(replace(CEMENT, delivery="wall"), deliveries=(stated,))
    (check,) = made.checks
    assert (check.key, check.verdict, check.demand) == ("cost.delivery.wall.load", word, 775.0)
    needed = made.figure("cost.delivery.wall.trips")
    assert (needed.value, needed.bound) == (2.0, "at_least")


def test_a_load_half_known_is_never_said_to_fit() -> None:
    rows = (replace(CEMENT, delivery="wall"), replace(POSTS, delivery="wall"))
    (check,) = order(*rows, deliveries=(Delivery(name="wall", carries=5000.0, trips=1),)).checks
    assert check.verdict == "not judged"
    assert "posts" in check.not_judged


def test_names_that_slug_alike_keep_keys_of_their_own() -> None:
    made = order(replace(POSTS, delivery="May"), replace(POSTS, delivery="may!"))
    assert [g.key for g in made.deliveries] == ["cost.delivery.may", "cost.delivery.may_2"]
