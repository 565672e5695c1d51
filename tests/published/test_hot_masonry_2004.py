"""Masonry and Concrete (2004), hot-weather masonry (source `hot-masonry-2004`).

Printed: over 100 °F, or over 90 °F with more than 8 mph, sand damp, mortar under 120 °F, fog spray at least three times
a day for three days; over 115 °F, or over 105 °F with 8 mph, shade everything.
"""

import pytest

from cordwright.mortar import hot_band
from cordwright.mortar.advice import MILE_H, celsius


@pytest.mark.parametrize(
    ("air", "mph", "start"),
    [
        (90, 9, None),
        (91, 8, None),
        (91, 9, "sand damp"),
        (100, None, None),
        (101, None, "sand damp"),
        (106, 8, "sand damp"),
        (106, 9, "shade everything"),
        (116, 0, "shade everything"),
    ],
)
def test_bands(air: float, mph: float | None, start: str | None) -> None:
    band = hot_band(celsius(air), None if mph is None else mph * MILE_H)
    assert (band is None) if start is None else (band is not None and band.words.startswith(start))
