"""Masonry and Concrete (2004), figure 5-33, cold-weather masonry (source `cold-masonry-2004`).

Printed: over 40 °F normal and a cover; 40-32 heat water, mortar 40-120 °F, cover; 32-25 heat water and sand, wind break
over 15 mph, over 32 °F for 16 h; 25-20 mortar on boards over 40 °F, enclose, over 32 °F for 24 h; colder heat too.
Construction goes by the air, protection by (low + high) / 2 of the forecast.
"""

import pytest

from cordwright.mortar import construction_band, protection_band
from cordwright.mortar.advice import MILE_H, celsius


@pytest.mark.parametrize(
    ("air", "words"),
    [
        (41, "nothing special"),
        (40, "nothing special"),
        (39, "heat the mixing water;"),
        (32, "heat the mixing water;"),
        (31, "a wind break"),
        (25, "a wind break"),
        (24, "on its board over"),
        (20, "on its board over"),
        (19, "enclose and heat the work"),
        (-20, "enclose and heat the work"),
    ],
)
def test_while_laying(air: float, words: str) -> None:
    assert words in construction_band(celsius(air)).words


@pytest.mark.parametrize(
    ("low", "high", "words"),
    [
        (30, 52, "against rain"),
        (24, 54, "against rain and snow"),
        (20, 40, "16 hours"),
        (10, 36, "24 hours"),
        (0, 30, "enclose and heat"),
    ],
)
def test_afterwards_by_the_days_mean(low: float, high: float, words: str) -> None:
    assert words in protection_band(celsius(low), celsius(high)).words


def test_printed_units_become_si() -> None:
    mortar, break_at = construction_band(celsius(35)), construction_band(celsius(28))
    assert mortar.amounts == (
        (pytest.approx(celsius(40)), "degC"),
        (pytest.approx(celsius(120)), "degC"),
    )
    assert break_at.amounts == ((pytest.approx(15 * MILE_H), "m/s"),)
