"""International yard and pound agreement of 1959 (national standards laboratories of six countries): 1 yard = 0.9144 m
and 1 pound = 0.45359237 kg, exactly. Customary measures derived from them: a foot is a third of a yard, an inch a
twelfth of a foot, a US liquid gallon 231 cubic inches, a quart a fourth of it, an ounce a sixteenth of a pound, a cord
128 cubic feet, printed as 3.6246 m3.
"""

from fractions import Fraction

import pytest

from cordwright.project.quantity import parse_quantity, unit_size

YARD = Fraction(9144, 10000)
POUND = Fraction(45359237, 100000000)


@pytest.mark.parametrize(("unit", "metres"), [("yd", YARD), ("ft", YARD / 3), ("in", YARD / 36)])
def test_lengths_are_exact(unit, metres):
    assert unit_size(unit, "length") == metres


@pytest.mark.parametrize(("unit", "kilograms"), [("lb", POUND), ("oz", POUND / 16)])
def test_masses_are_exact(unit, kilograms):
    assert unit_size(unit, "mass") == kilograms


@pytest.mark.parametrize(
    ("unit", "cubic_metres"),
    [
        ("gal", 231 * (YARD / 36) ** 3),
        ("quart", 231 * (YARD / 36) ** 3 / 4),
        ("ft3", (YARD / 3) ** 3),
        ("yd3", YARD**3),
        ("cord", 128 * (YARD / 3) ** 3),
        ("stere", Fraction(1)),
        ("litre", Fraction(1, 1000)),
    ],
)
def test_volumes_are_exact(unit, cubic_metres):
    assert unit_size(unit, "volume") == cubic_metres


def test_a_cord_as_printed():
    assert parse_quantity("1 cord", "volume") == pytest.approx(3.6246, abs=0.00005)
