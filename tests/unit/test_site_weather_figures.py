"""Degree days, freezing index, design winter, frost dates and daylight: by hand and by second ways."""

import warnings
from dataclasses import replace
from datetime import date
from io import StringIO

import numpy as np
import pytest

from cordwright.base import Figure, OutOfRangeError
from cordwright.project.weather_hours import kind_of, note_form, read_hours
from cordwright.site import (
    SiteInput,
    StationWeather,
    WeatherYear,
    daylight_hours,
    days_of,
    find_weather_faults,
    generated_figures,
    measured_figures,
    noon,
    station_figures,
    sun_position,
    wanting_for_days,
    weather_model,
)
from cordwright.site.generated_winters import coldest_of, midsummer, winters
from cordwright.site.measured_cold import degree_days, freezing_index, whole_years
from weather_samples import denver, even_model, pvlib_file, seattle, studio_months

STUDIO = SiteInput(
    latitude=57.9,
    longitude=26.9,
    elevation=205.0,
    months=studio_months(),
    first_hard_frost=(10, 13),
    laying_begins=date(2028, 5, 11),
)


def _year(content: bytes, tmp_path) -> WeatherYear:  # type: ignore[no-untyped-def]
    text = content.decode()
    kind = kind_of(text)
    assert kind is not None
    assert list(note_form(text, kind)) == []
    return read_hours(content, text, kind, tmp_path)


def _keyed(figures: tuple[Figure, ...]) -> dict[str, Figure]:
    return {figure.key: figure for figure in figures}


def test_degree_days_and_mean_of_denver(tmp_path) -> None:  # type: ignore[no-untyped-def]
    year = _year(denver(), tmp_path)
    assert year.temperature.mean() == pytest.approx(10.88, abs=0.005)
    assert year.missing() == {}
    figures = _keyed(measured_figures(SiteInput(weather=StationWeather(year=year, record=days_of(year)))))
    assert figures["site.heating_degree_days_18_daily"].value == pytest.approx(3129, abs=0.5)
    # The header's own 99 % is -14.0 degC of many years, 99.6 % -17.4: a typical year lacks the rare cold.
    cold = figures["site.design_cold_hours"].value
    assert isinstance(cold, float)
    assert -17.4 < cold < -13.0


@pytest.mark.parametrize(
    ("name", "mean", "with_a_day_more"),
    [("703165TY.csv", 4.42, 4980), ("723170TYA.CSV", 14.42, 2096)],
)
def test_typical_years_of_two_stations(name: str, mean: float, with_a_day_more: float, tmp_path) -> None:  # type: ignore[no-untyped-def]
    """Sand Point and Greensboro. The table's degree days stand on days cut by stamps at the end of the hour.

    Its first day has 23 hours and the last hour is a day of its own, the 366th; ours run from midnight to midnight.
    """
    year = _year(pvlib_file(name), tmp_path)
    assert year.temperature.mean() == pytest.approx(mean, abs=0.005)
    means = days_of(year).mean
    assert means.size == 365
    hour = year.temperature
    late = np.concatenate([[hour[:23].mean()], hour[23:-1].reshape(-1, 24).mean(axis=1), [hour[-1]]])
    assert late.size == 366
    assert degree_days(late) == pytest.approx(with_a_day_more, abs=1.0)
    assert degree_days(means) == pytest.approx(_by_pandas(name), rel=2e-3)
    assert with_a_day_more - degree_days(means) == pytest.approx(18 - year.temperature[-1], abs=1.5)


def _by_pandas(name: str) -> float:
    from pvlib.iotools import read_tmy3

    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        frame, _ = read_tmy3(StringIO(pvlib_file(name).decode()), map_variables=True)
    means = frame["temp_air"].groupby([frame.index.month, frame.index.day]).mean()
    return float((18 - means).clip(lower=0).sum())


def test_the_freezing_index_is_the_fall_of_the_running_sum() -> None:
    assert freezing_index(np.array([5.0, -2, -3, 1, -4, 6, -1])) == pytest.approx(8.0)
    assert freezing_index(np.array([5.0, 3, 1])) == 0.0
    both = freezing_index(np.array([[1.0, -1, -1, 9], [-3, 4, -2, -2]]))
    assert both.tolist() == [2.0, 4.0]


def test_winters_of_a_record_are_cut_in_summer() -> None:
    record = seattle()
    assert len(whole_years(record)) == 4
    assert len(whole_years(record, first_month=8)) == 3
    figure = _keyed(measured_figures(SiteInput(weather=StationWeather(record=record))))["site.freezing_index_daily"]
    assert isinstance(figure.value, float)
    assert isinstance(figure.low, float)
    assert isinstance(figure.high, float)
    assert 0 < figure.low < figure.value < figure.high < 30


def test_years_with_many_gaps_are_left_out_and_none_left_is_unknown() -> None:
    record = seattle()
    gappy = replace(record, mean=np.where(record.slots % 3 == 0, np.nan, record.mean))
    figures = measured_figures(SiteInput(weather=StationWeather(record=gappy)))
    assert {f.value for f in figures} == {None}
    assert all("known days" in f.missing[0] for f in figures)


def test_a_design_hour_needs_its_hours(tmp_path) -> None:  # type: ignore[no-untyped-def]
    year = _year(denver(), tmp_path)
    holes = replace(year, temperature=np.where(np.arange(8760) < 200, np.nan, year.temperature))
    (figure,) = measured_figures(SiteInput(weather=StationWeather(year=holes)))
    assert figure.value is None
    assert figure.missing == ("200 hours of temperature in the weather file",)


def test_the_coldest_of_thirty_against_drawing_thirty() -> None:
    draw = np.random.default_rng(2).gumbel(500, 120, 300_000)
    drawn = draw.reshape(-1, 30).max(axis=1)
    assert coldest_of(draw) == pytest.approx(tuple(np.quantile(drawn, (0.1, 0.5, 0.9))), rel=0.01)


def test_the_studios_winters() -> None:
    figures = _keyed(generated_figures(STUDIO, weather_model(STUDIO)))
    index, usual = figures["site.design_freezing_index"], 479.0
    assert isinstance(index.value, float)
    assert index.value > 1.3 * usual  # by the months' means a usual winter has 479
    frost, thaw = figures["site.first_frost_night"], figures["site.last_frost_night"]
    assert isinstance(frost.value, date)
    assert isinstance(frost.low, date)
    assert abs((frost.value - date(2028, 10, 13)).days) <= 3
    assert frost.low < frost.value
    assert isinstance(thaw.value, date)
    assert date(2028, 4, 10) < thaw.value < date(2028, 5, 25)
    spread = next(s for s in index.steps if s.symbol.startswith("spread of single nights"))
    assert spread.source is not None
    assert spread.source.key == "night-spread-solved"


def test_without_a_frost_date_the_range_holds_the_assumed_spreads() -> None:
    known = _keyed(generated_figures(STUDIO, weather_model(STUDIO)))
    guessed_site = replace(STUDIO, first_hard_frost=None)
    guessed = _keyed(generated_figures(guessed_site, weather_model(guessed_site)))
    first = guessed["site.first_frost_night"]
    solved = known["site.first_frost_night"]
    assert isinstance(first.low, date)
    assert isinstance(first.high, date)
    assert isinstance(solved.low, date)
    assert isinstance(solved.high, date)
    assert first.high - first.low > solved.high - solved.low
    assert any(c.key == "day-spread" for c in first.sources)


def test_a_frost_date_that_cannot_be_is_told_in_the_working() -> None:
    site = replace(STUDIO, first_hard_frost=(8, 3))
    figure = generated_figures(site, weather_model(site))[0]
    assert any("no spread of nights brings the first hard frost by 3 August" in s.formula for s in figure.steps)


def test_without_lows_the_winters_are_unknown_and_say_what_is_wanting() -> None:
    site = replace(STUDIO, months=studio_months(low=None, rain=None))
    assert weather_model(site) is None
    assert wanting_for_days(site) == ("site.months.low", "site.months.rain")
    figures = generated_figures(site, None)
    assert len(figures) == 5
    assert {f.missing for f in figures} == {("site.months.low", "site.months.rain")}
    assert generated_figures(SiteInput(), None) == ()


def test_frost_dates_need_a_year_to_stand_in() -> None:
    site = replace(STUDIO, laying_begins=None)
    figures = _keyed(generated_figures(site, weather_model(site)))
    assert figures["site.first_frost_night"].missing == ("site.laying_begins",)
    assert figures["site.design_cold"].value is not None


def test_where_hard_frost_is_rare_there_is_no_date() -> None:
    warm = studio_months(
        temperature=(14.0,) * 12, low=(10.0,) * 12, high=(18.0,) * 12, rain=(0.05,) * 12, rain_days=(8.0,) * 12
    )
    site = replace(STUDIO, months=warm, first_hard_frost=None)
    figures = _keyed(generated_figures(site, weather_model(site)))
    assert figures["site.first_frost_night"].missing == ("a night under -3 degC in at least half of the winters",)
    assert figures["site.design_freezing_index"].value == 0.0
    assert figures["site.frost_nights"].value == 0.0


def test_the_southern_year_is_turned_round() -> None:
    months = studio_months()
    rows = ("temperature", "low", "high", "rain", "rain_days")
    turned = {name: getattr(months, name)[6:] + getattr(months, name)[:6] for name in rows}
    south = replace(
        STUDIO,
        latitude=-50.0,
        months=studio_months(**turned),
        first_hard_frost=(4, 13),
        laying_begins=date(2028, 11, 9),
    )
    model = weather_model(south)
    assert model is not None
    assert midsummer(model, date(2028, 11, 9)).month == 1
    figures = _keyed(generated_figures(south, model))
    frost, thaw = figures["site.first_frost_night"].value, figures["site.last_frost_night"].value
    assert isinstance(frost, date)
    assert isinstance(thaw, date)
    assert abs((frost - date(2029, 4, 13)).days) <= 3
    assert thaw.year == 2028
    assert thaw.month in (10, 11)
    assert winters(model, date(2028, 11, 9)).low.shape == (300, 365)


def test_a_long_record_is_fitted_a_typical_year_gives_only_its_nights(tmp_path) -> None:  # type: ignore[no-untyped-def]
    record = weather_model(SiteInput(weather=StationWeather(record=seattle())))
    assert record is not None
    assert record.sources["mean"].key == "owner"
    year = _year(denver(), tmp_path)
    site = replace(STUDIO, first_hard_frost=None, weather=StationWeather(year=year, record=days_of(year)))
    typical = weather_model(site)
    assert typical is not None
    assert typical.sources["spread"].key == "typical-year-nights"
    assert typical.sources["mean"].key == "mean-preserving-curve"


def test_frost_nights_stand_in_for_a_frost_date() -> None:
    lows = (2.0, 2.0, 3.0, 4.0, 7.0, 10.0, 12.0, 12.0, 10.0, 7.0, 4.0, 3.0)
    mild = studio_months(
        low=lows, high=tuple(v + 9 for v in lows), frost_nights=(12.0, 11.0, 8.0, 4.0, *(0.0,) * 6, 5.0, 9.0)
    )
    model = weather_model(replace(STUDIO, first_hard_frost=None, months=mild))
    assert model is not None
    assert model.sources["spread"].key == "night-spread-solved"


def test_the_station_is_told_and_what_speaks_against_it(tmp_path) -> None:  # type: ignore[no-untyped-def]
    year = _year(denver(), tmp_path)
    weather = StationWeather(
        file="denver.epw", latitude=39.83, longitude=-104.65, elevation=1650.0, year=year, record=days_of(year)
    )
    figures = _keyed(station_figures(replace(STUDIO, weather=weather)))
    # A quarter of the equator.
    quarter = replace(weather, latitude=0.0, longitude=116.9)
    on_equator = replace(STUDIO, latitude=0.0, weather=quarter)
    assert _keyed(station_figures(on_equator))["site.station_distance"].value == pytest.approx(6371e3 * np.pi / 2)
    assert figures["site.station_height_difference"].value == pytest.approx(1445.0)
    said = " ".join(p.message for p in find_weather_faults(replace(STUDIO, weather=weather)))
    assert "1445 m over the site" in said
    assert "km from the site" in said
    south = find_weather_faults(SiteInput(latitude=-40.0, weather=weather))
    assert any("look northern" in p.message for p in south)
    assert find_weather_faults(STUDIO) == ()
    alone = station_figures(SiteInput(weather=StationWeather(record=seattle())))
    assert [f.missing for f in alone] == [("site.weather.distance",), ("site.weather.height_difference",)]


@pytest.mark.parametrize(
    ("latitude", "longitude"), [(57.9, 26.9), (45.0, 0.0), (65.0, 10.0), (-33.0, 150.0), (80.0, 0.0)]
)
def test_the_sun_stands_where_pvlib_has_it(latitude: float, longitude: float) -> None:
    import pandas as pd
    from pvlib.solarposition import get_solarposition

    stamps = pd.date_range("2027-01-01", "2028-12-31", freq="1571min", tz="UTC")
    theirs = get_solarposition(stamps, latitude, longitude)
    moment = np.array([s.toordinal() + (s.hour * 60 + s.minute) / 1440 for s in stamps])
    elevation, azimuth = sun_position(latitude, longitude, moment)
    assert elevation == pytest.approx(theirs["elevation"].to_numpy(), abs=0.02)
    up = (elevation > 0) & (elevation < 75)
    turn = (azimuth - theirs["azimuth"].to_numpy() + 180) % 360 - 180
    assert np.abs(turn[up]).max() < 0.05


@pytest.mark.parametrize(
    ("latitude", "hours"), [(45.0, (8.58, 12.00, 15.42)), (55.0, (6.90, 12.02, 17.10)), (65.0, (2.88, 12.02, 21.12))]
)
def test_length_of_the_day_as_pvlib_gave_it(latitude: float, hours: tuple[float, ...]) -> None:
    for day, expected in zip((date(2027, 12, 21), date(2027, 3, 20), date(2027, 6, 21)), hours, strict=True):
        # The equinox falls on another hour every year: a few minutes at 65 deg.
        assert daylight_hours(latitude, day) == pytest.approx(expected, abs=0.07)


def test_polar_day_polar_night_and_noon() -> None:
    assert daylight_hours(80.0, date(2027, 6, 1)) == 24.0
    assert daylight_hours(-80.0, date(2027, 6, 1)) == 0.0
    clock = noon(26.9, date(2027, 2, 11), 2.0)
    day = date(2027, 2, 11).toordinal()
    heights = sun_position(57.9, 26.9, day + (clock - 2.0 + np.array([-0.05, 0.0, 0.05])) / 24)[0]
    assert heights[1] == max(heights)
    with pytest.raises(OutOfRangeError):
        daylight_hours(91.0, date(2027, 1, 1))


def test_an_even_site_has_no_summer_to_lean_on() -> None:
    assert midsummer(even_model(0.3, 0.3), date(2028, 5, 1)).year in (2027, 2028)


def test_winters_part_in_the_warmest_month_that_was_measured() -> None:
    """A thermometer broken through every March must not make March the summer."""
    whole = seattle()
    mean = whole.mean.copy()
    mean[whole.months == 2] = np.nan
    broken = replace(whole, mean=mean)
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        (_, index) = measured_figures(SiteInput(weather=StationWeather(record=broken)))
    assert index.value is None
    assert "360" in index.missing[0]
