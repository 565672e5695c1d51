"""US Geological Survey, text on grain-size statistics: words for the sorting of sediments, after Folk and Ward.

Printed limits [phi]: under 0.35 very well sorted, 0.50 well, 0.71 moderately well, 1.0 moderately, 2 poorly, 4 very
poorly, beyond extremely poorly sorted. Known to us as quoted in the project's list of reference values.
"""

import pytest

from cordwright.mortar.grain_statistics import SORTING, word


@pytest.mark.parametrize(
    ("sorting", "printed"),
    [
        (0.34, "very well sorted"),
        (0.36, "well sorted"),
        (0.49, "well sorted"),
        (0.51, "moderately well sorted"),
        (0.70, "moderately well sorted"),
        (0.72, "moderately sorted"),
        (0.99, "moderately sorted"),
        (1.01, "poorly sorted"),
        (1.99, "poorly sorted"),
        (2.01, "very poorly sorted"),
        (3.99, "very poorly sorted"),
        (4.01, "extremely poorly sorted"),
    ],
)
def test_words_for_sorting(sorting, printed):
    assert word(sorting, SORTING, "extremely poorly sorted") == printed
