"""Lay or not, cover until when, last day to lay: on cases whose answer is plain."""

from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from cordwright.mortar import (
    MixPart,
    MortarInput,
    curing_by_month,
    frost_clock,
    last_laying_figure,
    laying_months,
    reckon_curing,
)
from cordwright.mortar.inputs import Pat
from cordwright.project import read
from cordwright.site import DayWeather, MonthlyNormals, SiteInput, cold_sum, find_month_faults, first_frost

ROOT = Path(__file__).resolve().parents[2]
STUDIO = read(ROOT / "examples" / "weaving-studio").project
assert STUDIO is not None
SITE, MORTAR = STUDIO.site, STUDIO.mortar
assert SITE.months is not None
MONTHS = SITE.months
DAY = date(2028, 6, 15)


def weather(low: float, high: float, **more: float) -> DayWeather:
    return DayWeather(date=DAY, low=low, high=high, **more)


def turned(months: MonthlyNormals) -> MonthlyNormals:
    rows = {n: v[6:] + v[:6] for n in ("temperature", "low", "high") if (v := getattr(months, n)) is not None}
    return MonthlyNormals(**rows)


def test_degree_days_of_the_studio() -> None:
    assert cold_sum(MONTHS.temperature, 18) == pytest.approx(4566, abs=0.5)
    assert cold_sum(MONTHS.temperature, 0) == pytest.approx(479, abs=0.5)


def test_last_laying_day_is_ten_weeks_before_the_stated_frost() -> None:
    assert last_laying_figure(SITE, MORTAR).value == date(2028, 8, 4)


def test_frost_by_the_nights_lows_comes_near_the_stated_one_with_its_spread() -> None:
    figure = last_laying_figure(replace(SITE, first_hard_frost=None), MORTAR)
    assert isinstance(figure.value, date)
    assert abs((figure.value - date(2028, 8, 4)).days) <= 7
    assert figure.low is not None
    assert figure.low < figure.value < figure.high


def test_south_of_the_equator_the_season_crosses_new_year() -> None:
    south = SiteInput(latitude=-44.0, months=turned(MONTHS), laying_begins=date(2028, 11, 4))
    figure = last_laying_figure(south, MORTAR)
    assert isinstance(figure.value, date)
    assert date(2029, 1, 15) < figure.value < date(2029, 2, 20)
    assert laying_months(south) == (11, 12, 1, 2, 3, 4)
    dates = [c.day for c in curing_by_month(south, MORTAR, date(2028, 11, 4))]
    assert dates == sorted(dates)
    assert (dates[0].year, dates[-1].year) == (2028, 2029)


def test_what_is_missing_is_named_and_no_date_is_made_up() -> None:
    bare = SiteInput()
    figure = last_laying_figure(bare, MORTAR)
    assert figure.value is None
    assert any("laying begins" in m for m in figure.missing)
    assert any("frost" in m for m in figure.missing)
    assert first_frost(bare, DAY) is None
    tropics = SiteInput(months=MonthlyNormals(temperature=(26.0,) * 12, low=(22.0,) * 12), laying_begins=DAY)
    assert last_laying_figure(tropics, MORTAR).value is None


def test_a_mix_richer_in_cement_borrows_the_clock_and_says_so() -> None:
    parts = (
        MixPart(name="c", kind="cement", form="powder", parts=2),
        MixPart(name="l", kind="lime", form="powder", parts=1),
        MixPart(name="s", kind="sand", form="damp sand", parts=8),
    )
    clock = frost_clock(MortarInput(parts=parts))
    assert clock is not None
    assert clock.borrowed
    assert clock.days == 70
    assert frost_clock(MortarInput()) is None


@pytest.mark.parametrize(
    ("low", "high", "lay"),
    [
        (8, 18, "lay"),
        (5, 18, "lay"),
        (4.9, 18, "lay, and keep the night off it"),
        (-0.1, 12, "do not lay"),
        (1, 4.9, "do not lay"),
    ],
)
def test_lay_or_not(low: float, high: float, lay: str) -> None:
    assert reckon_curing(SITE, MORTAR, DAY, weather(low, high)).lay == lay


def test_a_pat_that_crumbles_stops_the_day() -> None:
    pat = Pat(cast=date(2028, 5, 1), looked_at=date(2028, 5, 8), result="crumbles")
    curing = reckon_curing(SITE, replace(MORTAR, pats=(pat,)), DAY, weather(10, 20))
    assert curing.lay == "do not lay"
    assert "crumbles" in curing.reasons[0].words


def test_a_cold_night_ahead_in_the_forecast_counts() -> None:
    night = DayWeather(date=date(2028, 6, 17), low=1.0, high=9.0)
    curing = reckon_curing(replace(SITE, forecast=(night,)), MORTAR, DAY, weather(9, 18))
    assert curing.lay == "lay, and keep the night off it"


def test_a_day_after_the_last_one_and_the_next_spring() -> None:
    after = reckon_curing(SITE, MORTAR, date(2028, 8, 20))
    assert after.lay == "do not lay"
    spring = reckon_curing(SITE, MORTAR, date(2029, 6, 10))
    assert spring.lay == "lay"
    assert spring.origin == "normals"


def test_without_nights_nothing_is_judged() -> None:
    bare = SiteInput(months=MonthlyNormals(temperature=MONTHS.temperature))
    curing = reckon_curing(bare, MORTAR, DAY)
    assert curing.lay == "not judged"
    assert curing.evaporation.value is None
    assert curing.damp_until is not None


def test_beyond_the_chart_there_is_no_rate() -> None:
    curing = reckon_curing(SITE, MORTAR, DAY, weather(20, 42, humidity=0.3, wind=2.0))
    assert curing.evaporation.value is None
    assert "beyond the chart" in curing.evaporation.missing[0]


def test_southern_months_on_a_northern_site_and_the_reverse() -> None:
    (north,) = find_month_faults(replace(SITE, months=turned(MONTHS)))
    assert "these months look southern" in north.message
    (south,) = find_month_faults(replace(SITE, latitude=-44.0))
    assert "these months look northern" in south.message
    assert find_month_faults(replace(SITE, latitude=None)) == ()
    assert find_month_faults(SITE) == ()


def test_exchanged_rows_and_impossible_values_are_named() -> None:
    faults = find_month_faults(replace(SITE, months=replace(MONTHS, low=MONTHS.high, high=MONTHS.low)))
    assert [f.field for f in faults] == ["site.months.temperature", "site.months.high"]
    hot = replace(MONTHS, temperature=(88.0, *MONTHS.temperature[1:]))
    assert any("January has 88 degC" in f.message for f in find_month_faults(replace(SITE, months=hot)))
    dry = replace(MONTHS, rain_days=(35.0, *(MONTHS.rain_days or ())[1:]))
    assert any("35 days" in f.message for f in find_month_faults(replace(SITE, months=dry)))
