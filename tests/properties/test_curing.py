"""Does mortar harden faster warm and dry faster in wind, whatever the day? And do others find the same air?"""

from datetime import date, timedelta

import psychrolib
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cordwright.mortar import (
    arrhenius_rate,
    days_at_reference,
    equivalent_age,
    lime_rate,
    menzel,
    nurse_saul,
    reckon_curing,
    uno,
)
from cordwright.mortar.batch_card import first_share
from cordwright.mortar.inputs import MortarInput
from cordwright.site import DayWeather, MonthlyNormals, SiteInput, first_frost, on_day, saturation_pressure

psychrolib.SetUnitSystem(psychrolib.SI)  # once: it compiles all of its functions anew
AIR = st.floats(4.5, 40.0)
SHARE = st.floats(0.0, 1.0)
WIND = st.floats(0.0, 11.0)
YEAR = MonthlyNormals(
    temperature=(-5.4, -5.7, -1.6, 4.9, 11.0, 15.0, 17.4, 15.9, 11.0, 5.5, 0.4, -3.3),
    low=(-8.6, -9.2, -5.6, 0.0, 5.1, 9.5, 12.1, 10.9, 6.9, 2.6, -1.9, -6.1),
    high=(-2.6, -2.2, 2.7, 10.4, 16.9, 20.4, 22.7, 21.2, 15.6, 8.6, 2.6, -0.9),
)


@given(AIR, SHARE, WIND, st.floats(0.0, 0.1), st.sampled_from([uno, menzel]))
@settings(max_examples=60)
def test_wind_and_dry_air_take_more_water(air, humidity, wind, more, formula) -> None:
    rate = formula(air, air, humidity, wind)
    assert rate >= 0
    assert formula(air, air, humidity, wind + more) >= rate
    assert formula(air, air, humidity * (1 - more), wind) >= rate - 1e-12
    assert formula(air, air, 1.0, wind) == pytest.approx(0.0, abs=1e-12)


@given(st.floats(10.0, 38.0), st.floats(0.2, 0.7), st.floats(2.0, 9.0))
@settings(max_examples=60)
def test_the_two_formulas_agree_within_the_known_uncertainty(air, humidity, wind) -> None:
    assert uno(air, air, humidity, wind) / menzel(air, air, humidity, wind) == pytest.approx(1.0, abs=0.4)


@given(st.floats(-10.0, 50.0), st.floats(0.1, 9.0), st.floats(0.1, 100.0))
@settings(max_examples=60)
def test_warmer_is_faster_and_longer_is_more(temperature, warmer, days) -> None:
    assert nurse_saul(temperature + warmer, days) > nurse_saul(temperature, days)
    assert arrhenius_rate(temperature + warmer) > arrhenius_rate(temperature)
    assert equivalent_age(temperature, 2 * days) == pytest.approx(2 * equivalent_age(temperature, days))
    assert lime_rate(temperature + warmer) >= lime_rate(temperature)


def test_rates_in_closed_form() -> None:
    assert arrhenius_rate(20) == pytest.approx(1)
    assert arrhenius_rate(5) == pytest.approx(0.3986, abs=5e-5)
    by_energy = 41_500 / 8.314462618
    assert arrhenius_rate(10, by_energy) == pytest.approx(0.548, abs=5e-4)
    assert arrhenius_rate(30, by_energy) == pytest.approx(1.754, abs=1e-3)  # because: the third digit was rounded twice
    assert days_at_reference(11, 28) == pytest.approx(19.6)
    assert nurse_saul(-12, 30) == 0


@pytest.mark.parametrize(
    ("weather", "by_uno", "by_menzel"),
    [
        ((30.56, 26.67, 0.5, 19.31 / 3.6), 1.138, 1.171),
        ((30, 30, 0.5, 15 / 3.6), 0.758, 0.771),
        ((15, 5, 0.8, 20 / 3.6), 0.507, 0.461),
        ((35, 35, 0.2, 30 / 3.6), 2.781, 2.909),
    ],
)
def test_a_second_hand_at_the_formulas(weather, by_uno, by_menzel) -> None:
    assert uno(*weather) == pytest.approx(by_uno, abs=1e-3)
    assert menzel(*weather) == pytest.approx(by_menzel, rel=2e-3)  # because: another formula of vapour pressure there


@given(st.floats(-20.0, 45.0))
@settings(max_examples=60, deadline=None)
def test_moist_air_by_psychrolib(temperature) -> None:
    share = 0.006 if temperature < 0 else 0.002  # because: the two formulations differ by so much
    assert saturation_pressure(temperature) == pytest.approx(psychrolib.GetSatVapPres(temperature), rel=share)


@pytest.mark.parametrize(("temperature", "pressure"), [(10, 1228.20), (20, 2339.32), (30, 4246.97)])
def test_moist_air_by_coolprop_as_stored(temperature, pressure) -> None:
    assert saturation_pressure(temperature) == pytest.approx(pressure, rel=0.002)


@given(st.floats(0.5, 40.0))
def test_the_first_of_the_aggregate_is_three_quarters_to_five_sixths(count) -> None:
    assert 0.75 * count - 1e-9 <= first_share(count) <= count * 5 / 6 + 1e-6


@given(st.integers(0, 364))
@settings(max_examples=50)
def test_six_months_on_is_the_other_hemisphere(n) -> None:
    """The same year turned by half a year gives the same day on the other side of the world, but for uneven months."""
    turned = YEAR.temperature[6:] + YEAR.temperature[:6]
    day = date(2027, 1, 1) + timedelta(days=n)
    other = date(2027, 1, 1) + timedelta(days=(n + 184) % 365)
    assert on_day(YEAR.temperature, day) == pytest.approx(on_day(turned, other), abs=1.0)


@given(st.floats(0.0, 8.0))
@settings(max_examples=30, deadline=None)
def test_milder_nights_bring_the_frost_later(milder) -> None:
    def frost(shift: float) -> date:
        lows = tuple(v + shift for v in YEAR.low or ())
        found = first_frost(SiteInput(months=MonthlyNormals(temperature=YEAR.temperature, low=lows)), date(2028, 5, 1))
        assert found is not None
        return found.middle

    assert frost(milder) >= frost(0.0)


@given(st.floats(5.0, 20.0), st.floats(0.0, 10.0))
@settings(max_examples=40)
def test_colder_is_kept_damp_longer(low, warmer) -> None:
    def until(shift: float) -> date:
        day = DayWeather(date=date(2028, 6, 1), low=low + shift, high=low + 6 + shift)
        found = reckon_curing(SiteInput(), MortarInput(), day.date, day).damp_until
        assert found is not None
        return found

    assert until(0.0) >= until(warmer)
