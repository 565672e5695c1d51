"""Coastal Engineering Manual, Part III, Chapter 1, US Army Corps of Engineers 2002, Example III-1-1."""

import pytest

from cordwright.mortar.grain_statistics import folk_ward


def test_example_iii_1_1():
    found = folk_ward(0.56, 0.80, 0.93, 1.37, 1.87, 2.08, 2.48)
    assert found.mean == pytest.approx(1.417, abs=0.0005)
    # The manual prints 0.64 with 6.0 in place of Folk and Ward's 6.6, which give 0.611.
    assert found.sorting == pytest.approx(0.611, abs=0.0005)
    assert found.skewness == pytest.approx(0.13, abs=0.005)
    assert found.kurtosis == pytest.approx(0.84, abs=0.005)
    assert found.words == ("medium sand", "moderately well sorted", "fine-skewed", "platykurtic")
