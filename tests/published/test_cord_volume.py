"""A cord of stacked wood (source `cord-solid-share`).

Printed: 128 cubic feet = 3.6246 m3; 70 to 90 cubic feet of it are solid wood, that is 0.55 to 0.70 of the stack.
"""

import pytest

from cordwright.base import table
from cordwright.base.units import CORD
from cordwright.timber import Pile, TimberInput, reckon_timber


def test_a_cord_in_cubic_metres() -> None:
    assert pytest.approx(3.6246, abs=0.00005) == CORD


def test_the_solid_share_of_a_cord() -> None:
    stack = table("stock")["stack"]
    assert stack["low_ft3"] / 128 == pytest.approx(0.55, abs=0.005)
    assert stack["high_ft3"] / 128 == pytest.approx(0.70, abs=0.005)


def test_a_stack_of_one_cord_holds_seventy_to_ninety_cubic_feet() -> None:
    pile = Pile(species="lenga", stacked_volume=CORD, solid_factor=0.62, diameters=(0.15,))
    wood = reckon_timber(
        TimberInput(piles=(pile,)),
        log_end_length=0.4,
        net_area=20.0,
        wood_fraction=0.6,
        wood_fraction_low=0.6,
        wood_fraction_high=0.6,
    )
    solid = wood.figure("timber.solid_volume")
    assert (solid.low, solid.high) == (pytest.approx(70 / 128 * CORD), pytest.approx(90 / 128 * CORD))
