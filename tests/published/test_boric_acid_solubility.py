"""Boric acid in 100 mL of water, open encyclopaedia (`boric-acid-solubility`): 0 C 2.52 g, 20 C 4.72, 25 C 5.7, 80 C
19.10, 100 C 27.53.
"""

import pytest

from cordwright.timber import solubility_bounds


@pytest.mark.parametrize(("temperature", "grams"), [(0, 2.52), (20, 4.72), (25, 5.7), (80, 19.10), (100, 27.53)])
def test_a_printed_row(temperature: float, grams: float) -> None:
    assert solubility_bounds("boric acid", temperature) == pytest.approx((grams / 100, grams / 100))


def test_between_two_rows_nothing_is_interpolated() -> None:
    assert solubility_bounds("boric acid", 50) == (0.057, 0.191)
    assert solubility_bounds("boric acid", 101) is None
