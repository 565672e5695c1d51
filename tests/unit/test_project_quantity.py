"""Are the words an owner types read as the one quantity they mean, and refused when they mean two?"""

import math

import pytest

from cordwright.project import QuantityFault, parse_quantity
from cordwright.project.quantity import parse_share, read_figure, read_number


@pytest.mark.parametrize(
    "typed", ["7 ft 5 in", "7'5\"", "2.2606 m", "89in", "7′5″", "7’5”", "7 ft 5''", "2,2606 m", "2260.6 mm"]
)
def test_every_spelling_of_one_length_is_the_same_float(typed):
    assert parse_quantity(typed, "length") == 2.2606


@pytest.mark.parametrize(
    ("typed", "metres"),
    [
        ("6 ft 10 in", 2.0828),
        ("6'10\"", 2.0828),
        ("350 mm", 0.35),
        ("350mm", 0.35),
        ("350\u00a0mm", 0.35),
        ("1/2 in", 0.0127),
        ("2 1/2 in", 0.0635),
        ("2½ in", 0.0635),
        ("2-1/2 in", 0.0635),
        ('5 1/2"', 0.1397),
        ("14in", 0.3556),
        ('14"', 0.3556),
        ("2,25 m", 2.25),
        ("0,600 m", 0.6),
        (".5 in", 0.0127),
        ("1 m 20 cm", 1.2),
        ("1 yd", 0.9144),
        ("350 MM", 0.35),
        ("14 ft 5 1/2 in", 4.4069),
        ("0 m", 0.0),
    ],
)
def test_lengths(typed, metres):
    assert parse_quantity(typed, "length") == metres


@pytest.mark.parametrize(
    ("typed", "dimension", "si"),
    [
        ("12 L", "volume", 0.012),
        ("1.2 kg/L", "density", 1200.0),
        ("1.2 kg / l", "density", 1200.0),
        ("2 m³", "volume", 2.0),
        ("3.4 t", "mass", 3400.0),
        ("1.5 kN/m2", "pressure", 1500.0),
        ("3 day", "time", 72.0),
        ("-44.2 deg", "degrees", -44.2),
        ("60 m2", "area", 60.0),
    ],
)
def test_other_quantities(typed, dimension, si):
    assert parse_quantity(typed, dimension, "any") == pytest.approx(si, rel=1e-15)


def test_angles_come_in_radians():
    assert parse_quantity("180 deg", "angle") == pytest.approx(math.pi)
    assert parse_quantity("1 rad", "angle") == pytest.approx(1.0)


@pytest.mark.parametrize("typed", ["14", 14, 14.0, " 14 "])
def test_a_bare_length_is_asked_about_with_both_readings(typed):
    with pytest.raises(QuantityFault) as fault:
        parse_quantity(typed, "length")
    assert "14 in (356 mm) or 14 cm (140 mm)?" in fault.value.message
    for form in ('"350 mm"', '"14 in"', '"6 ft 10 in"'):
        assert form in fault.value.hint


@pytest.mark.parametrize(("typed", "guess"), [("2.25", "2.25 m (2250 mm)"), (350, "350 mm"), (3.5, "3.5 in (89 mm)")])
def test_a_bare_length_is_guessed_by_its_size(typed, guess):
    with pytest.raises(QuantityFault, match="has no unit") as fault:
        parse_quantity(typed, "length")
    assert guess in fault.value.message


@pytest.mark.parametrize(
    ("typed", "dimension", "told"),
    [
        ("350 kg", "length", "does not measure a length"),
        ("3 m", "mass", "does not measure a mass"),
        ("1 furlong", "length", "no unit"),
        ("3 ton", "mass", "no unit"),
        ("1,200 mm", "length", "1200 or as 1.200"),
        ("-3 m", "length", "negative"),
        ("1e999 m", "length", "cannot be read"),
        ("1e3 m", "length", "cannot be read"),
        ("9**9**9 m", "length", "cannot be read"),
        ("__import__('os') m", "length", "cannot be read"),
        ("inf m", "length", "cannot be read"),
        ("nan", "length", "cannot be read"),
        ("1/0 m", "length", "not a number"),
        ("6 ft 14 in", "length", "does not add up"),
        ("3 in 2 ft", "length", "does not add up"),
        ("6.5 ft 3 in", "length", "fraction before its last part"),
        ("2 00 mm", "length", "without a unit"),
        ("6 ft 10", "length", "without a unit"),
        ("350 mm wide", "length", "cannot be read"),
        ("999999 m", "length", "more than 10000 m"),
        ("9" * 59, "length", "no unit"),
        ("9" * 5000 + " m", "length", "characters"),
        ("", "length", "nothing written"),
        ("３ m", "length", "cannot be read"),
        ("3 m^2", "length", "cannot be read"),
        ("3 meter/second", "length", "does not measure"),
        ("3 m/m/m", "length", "cannot be read"),
        (True, "length", "true is not a length"),
        ([], "length", "a list is not a length"),
        (float("nan"), "length", "nan is not a length"),
        (float("inf"), "length", "inf is not a length"),
        (10**400, "length", "not a length"),
    ],
)
def test_what_is_not_the_quantity_is_refused_and_says_why(typed, dimension, told):
    with pytest.raises(QuantityFault) as fault:
        parse_quantity(typed, dimension)
    assert told in fault.value.message
    assert fault.value.hint


def test_zero_is_no_size():
    with pytest.raises(QuantityFault, match="more than zero"):
        parse_quantity("0 mm", "length", "positive")


@pytest.mark.parametrize(
    ("typed", "share"), [("60 %", 0.6), ("60%", 0.6), (0.6, 0.6), ("0.6", 0.6), ("0,6", 0.6), (0, 0.0)]
)
def test_shares(typed, share):
    assert parse_share(typed) == share


@pytest.mark.parametrize(
    "typed", [10**400, 60, "60", 1, 1.5, "120 %", -0.1, "-5 %", "x", True, None, float("nan"), "5 kg", "5 % 3 %"]
)
def test_what_is_no_share_is_refused(typed):
    with pytest.raises(QuantityFault):
        parse_share(typed)


def test_moisture_may_be_more_than_the_wood_itself():
    assert parse_share("120 %", most=3.0) == 1.2


@pytest.mark.parametrize(
    ("typed", "read"),
    [
        ("60 m2", (60.0, "m2")),
        ("60 in", (1.524, "m")),
        ("25 kg", (25.0, "kg")),
        ("5 %", (0.05, "1")),
        ("8 h", (8.0, "h")),
        ("1.5 kN/m2", None),
        ("high: an engineer is mandatory", None),
        ("2", None),
        ("x %", None),
    ],
)
def test_rules_are_quantities_where_a_figure_can_carry_them(typed, read):
    assert read_figure(typed) == read


@pytest.mark.parametrize(
    ("typed", "value"), [("12", 12), ("2.25", 2.25), ("2,25", 2.25), ("1/4", 0.25), ("2 1/2", 2.5)]
)
def test_numbers(typed, value):
    assert read_number(typed) == value
