"""The line through Anscombe's four sets of eleven points (source `anscombe-1973`).

Printed for each set alike: y = 3 + 0.5 x, with a standard error of the slope of 0.118.
"""

import pytest

from cordwright.diary.series import slope_of

X = (10, 8, 13, 9, 11, 14, 6, 4, 12, 7, 5)
SETS = (
    (X, (8.04, 6.95, 7.58, 8.81, 8.33, 9.96, 7.24, 4.26, 10.84, 4.82, 5.68)),
    (X, (9.14, 8.14, 8.74, 8.77, 9.26, 8.10, 6.13, 3.10, 9.13, 7.26, 4.74)),
    (X, (7.46, 6.77, 12.74, 7.11, 7.81, 8.84, 6.08, 5.39, 8.15, 6.42, 5.73)),
    (
        (8, 8, 8, 8, 8, 8, 8, 19, 8, 8, 8),
        (6.58, 5.76, 7.71, 8.84, 8.47, 7.04, 5.25, 12.50, 5.56, 7.91, 6.89),
    ),
)


@pytest.mark.parametrize(("at", "values"), SETS)
def test_one_line_fits_four_shapes(at: tuple[float, ...], values: tuple[float, ...]) -> None:
    slope, error = slope_of([float(x) for x in at], list(values))
    assert slope == pytest.approx(0.5, abs=0.05)
    assert sum(values) / 11 - slope * sum(at) / 11 == pytest.approx(3, abs=0.5)
    assert error == pytest.approx(0.118, abs=0.0005)
