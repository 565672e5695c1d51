"""USDA CLIGEN station parameters, 459074 Wenatchee, Washington: May.

5.167 wet days in the mean, variance 7.504; a dry window of 1, 3 and 5 days begins on any day with a chance of .833,
.645 and .500. The chances are of two decimals; .12 of a wet day after a dry one and .40 after a wet one give all five.
"""

import pytest

from cordwright.site.wet_chain import dry_window, wet_day_variance

AFTER_DRY, AFTER_WET = 0.12, 0.40
SHARE = AFTER_DRY / (1 + AFTER_DRY - AFTER_WET)
PERSISTENCE = AFTER_WET - AFTER_DRY


def test_wet_days_of_may() -> None:
    assert pytest.approx(5.167, abs=0.0005) == SHARE * 31
    assert wet_day_variance(SHARE, PERSISTENCE, 31) == pytest.approx(7.504, abs=0.0005)


@pytest.mark.parametrize(("days", "chance"), [(1, 0.833), (3, 0.645), (5, 0.500)])
def test_dry_windows_of_may(days: int, chance: float) -> None:
    assert dry_window(SHARE, PERSISTENCE, days) == pytest.approx(chance, abs=0.0005)
