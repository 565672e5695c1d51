"""Portland Cement Association, "Trowel Tips", Masonry Magazine, August 1993, p. 17: limits of ASTM C144.

Printed: share passing each sieve, natural and manufactured masonry sand.
"""

import pytest

from cordwright.mortar.grading_bands import band

NATURAL = {
    "No.4": (100, 100),
    "No.8": (95, 100),
    "No.16": (70, 100),
    "No.30": (40, 75),
    "No.50": (10, 35),
    "No.100": (2, 15),
}
MANUFACTURED = NATURAL | {"No.50": (20, 40), "No.100": (10, 25), "No.200": (0, 10)}


@pytest.mark.parametrize(("name", "printed"), [("c144-natural", NATURAL), ("c144-manufactured", MANUFACTURED)])
def test_limits_of_masonry_sand(name, printed):
    limits = {m.sieve: (100 * m.low, 100 * m.high) for m in band(name).limits}
    assert limits.keys() == printed.keys()
    for sieve, ends in printed.items():
        assert limits[sieve] == pytest.approx(ends)
