"""Lime suppliers' notes for winter work (source `lime-winter-notes`).

Printed: hydraulic lime about 90 days at 18-20 °C to frost resistance, a quarter more time for each 5 °C colder, not
below 5 °C; cement-lime 1:1:6 has failed by freezing up to ten weeks after placing.
"""

from datetime import date, timedelta

import pytest

from cordwright.mortar import MixPart, MortarInput, frost_clock, lime_rate

LIME = MixPart(name="NHL", kind="lime", form="powder", parts=1)
CEMENT = MixPart(name="cement", kind="cement", form="powder", parts=1)
SAND = MixPart(name="sand", kind="sand", form="damp sand", parts=6)


def test_hydraulic_lime_ninety_days_and_a_quarter_more() -> None:
    assert 90 / lime_rate(19) == pytest.approx(90)
    assert 90 / lime_rate(14) == pytest.approx(112.5)
    assert 90 / lime_rate(9) == pytest.approx(135)
    assert lime_rate(4.9) == 0


def test_ninety_days_at_nineteen_degrees_on_the_calendar() -> None:
    clock = frost_clock(MortarInput(parts=(LIME, SAND)))
    assert clock is not None
    assert clock.until(date(2028, 5, 1), lambda _: 19.0) == date(2028, 5, 1) + timedelta(days=90)
    assert clock.until(date(2028, 5, 1), lambda _: 4.0) is None


def test_cement_lime_ten_weeks() -> None:
    clock = frost_clock(MortarInput(parts=(CEMENT, LIME, SAND)))
    assert clock is not None
    assert not clock.borrowed
    assert clock.until(date(2028, 8, 4), lambda _: 0.0) == date(2028, 10, 13)
