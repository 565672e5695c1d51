"""Twelve values with one unit, and the ways in which they are not."""

import pytest

from cordwright.project.faults import FieldFault
from cordwright.project.months import read_clock, read_month_day, read_months, read_temperature

COUNT = ", ".join(str(n) for n in range(1, 13))


def test_one_text_or_a_list_of_twelve() -> None:
    assert read_months(f"{COUNT} degC", "temperature") == tuple(float(n) for n in range(1, 13))
    assert read_months([f"{n} degC" for n in range(1, 13)], "temperature") == tuple(float(n) for n in range(1, 13))
    assert read_months("; ".join(f"{n},5" for n in range(1, 13)) + " °C", "temperature")[0] == 1.5
    assert read_months("-5.4, -5.7, -1.6, 4.9, 11, 15, 17.4, 15.9, 11, 5.5, 0.4, -3.3 degC", "temperature")[1] == -5.7


@pytest.mark.parametrize(
    ("text", "kind", "first"),
    [
        (", ".join(["50"] * 12) + " degF", "temperature", 10.0),
        (", ".join(["88"] * 12) + " %", "humidity", 0.88),
        (", ".join(["2"] * 12) + " in", "length", 0.0508),
        (", ".join(["36"] * 12) + " km/h", "speed", 10.0),
        (", ".join(["10"] * 12) + " mph", "speed", 4.4704),
        (", ".join(["10"] * 12) + " ft/s", "speed", 3.048),
        (", ".join(["9"] * 12), "days", 9.0),
    ],
)
def test_units_become_si(text: str, kind: str, first: float) -> None:
    assert read_months(text, kind)[0] == pytest.approx(first, rel=1e-12)


@pytest.mark.parametrize(
    ("value", "kind", "said"),
    [
        ("1, 2, 3 degC", "temperature", "there are 3 values, not twelve"),
        ("-5,4, " * 11 + "-5,7 degC", "temperature", "there are 24 values"),
        (["1 degC"] * 11 + ["1 degF"], "temperature", "the units are mixed"),
        (["1 degC"] * 11 + ["1"], "temperature", "no unit"),
        (COUNT, "temperature", "has no unit"),
        (COUNT, "humidity", "no per cent sign"),
        (COUNT + " mm", "speed", "does not measure"),
        (COUNT + " kelvin", "temperature", "no scale"),
        ([1.0] * 12, "temperature", "bare numbers"),
        (12, "temperature", "not twelve values"),
        ("x" * 600, "temperature", "characters"),
    ],
)
def test_what_cannot_be_taken(value: object, kind: str, said: str) -> None:
    with pytest.raises(FieldFault, match=said):
        read_months(value, kind)


def test_single_readings() -> None:
    assert read_temperature("-2,5 °C") == -2.5
    assert read_temperature("28 degF") == pytest.approx(-2.2222, abs=1e-4)
    assert read_month_day("13 Oct") == read_month_day("October 13") == (10, 13)
    assert read_clock("16:30") == 16.5
    for reader, value in ((read_temperature, "5"), (read_temperature, "900 degC"), (read_month_day, "31 Feb"),
                          (read_month_day, "soon"), (read_clock, "25:00"), (read_clock, 17)):  # fmt: skip
        with pytest.raises(FieldFault):
            reader(value)
