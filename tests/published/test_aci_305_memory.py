"""ACI 305, the chart of evaporation, as remembered (source `aci-305-memory`).

Its worked example: concrete 87 °F, air 80 °F, humidity 50 %, wind 12 mph give about 0.24 lb/ft2h; the line is 0.20.
Menzel's and Uno's formulas are fits to that chart; the chart is read to half of its last digit, a formula to 0.01.
"""

import pytest

from cordwright.base.units import FOOT, POUND
from cordwright.mortar import evaporation_limit, menzel, uno
from cordwright.mortar.advice import MILE_H, celsius

IMPERIAL = POUND / FOOT**2


@pytest.mark.parametrize("formula", [menzel, uno])
def test_the_charts_example(formula) -> None:
    rate = formula(celsius(87), celsius(80), 0.50, 12 * MILE_H) / IMPERIAL
    assert rate == pytest.approx(0.24, abs=0.01)  # because: a chart read by eye, and formulas fitted to it


def test_the_line() -> None:
    assert evaporation_limit() / IMPERIAL == pytest.approx(0.20, abs=0.005)
