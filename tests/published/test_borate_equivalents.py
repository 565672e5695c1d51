"""Borates worth as each other, European Chemicals Agency and others (`borate-equivalents`).

B2O3 to boric acid 1.776, DOT to boric acid 1.199, borax to boric acid 0.6485; borax and boric acid 60 : 40 make DOT. A
farm forestry page (`borate-solutions`): 20 parts borax and 15 of boric acid in 65 of water hold 15.8 % B2O3.
"""

import pytest

from cordwright.timber import as_boric_acid, as_oxide


@pytest.mark.parametrize(("active", "worth"), [("DOT", 1.199), ("borax", 0.6485), ("boric acid", 1.0)])
def test_worth_as_boric_acid(active: str, worth: float) -> None:
    assert as_boric_acid(active, 1.0) == pytest.approx(worth, abs=0.00005)


@pytest.mark.parametrize("active", ["DOT", "borax", "boric acid"])
def test_oxide_is_worth_1_776_of_boric_acid(active: str) -> None:
    assert as_boric_acid(active, 1.0) / as_oxide(active, 1.0) == pytest.approx(1.776, abs=0.0005)


def test_a_printed_mix() -> None:
    oxide = as_oxide("borax", 20) + as_oxide("boric acid", 15)
    acid = as_boric_acid("borax", 20) + as_boric_acid("boric acid", 15)
    because = "with the masses of formula the mix comes to 15.75, which the page rounds up"
    assert oxide == pytest.approx(15.8, abs=0.06), because
    assert acid == pytest.approx(27.97, abs=0.1)
    assert oxide / as_oxide("DOT", 1.0) == pytest.approx(23.3, abs=0.1)
