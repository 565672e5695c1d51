"""Curves of the year, laws of rain, and the generator fitted to normals: what is kept exactly and what is refused."""

from dataclasses import replace
from datetime import date
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from cordwright.base import InputError
from cordwright.site import Assumed, DailyRecord, fit_daily, fit_normals
from cordwright.site.climate import DAYS
from cordwright.site.night_spread import spread_by_date, spread_by_nights
from cordwright.site.rain_amounts import gamma_steps, mixed_steps
from cordwright.site.rain_laws import gamma_law, likeliest_law, mixed_law
from cordwright.site.weather import normal_steps
from cordwright.site.weather_fit import corrected_odds, missing_for_days, mixture, standardised
from cordwright.site.weather_record_fit import too_short
from cordwright.site.year_curve import LEAP_DAY, year_curve
from weather_samples import seattle, studio_months

ENDS = np.cumsum((0, *DAYS))
NEAR = date(2028, 5, 11)
MONTHS = st.lists(st.floats(-40, 40), min_size=12, max_size=12)


def _month_means(curve: np.ndarray) -> list[float]:  # type: ignore[type-arg]
    common = np.delete(curve, LEAP_DAY)
    return [float(common[a:b].mean()) for a, b in pairwise(ENDS)]


@given(months=MONTHS)
def test_each_months_mean_is_kept_exactly(months: list[float]) -> None:
    assert _month_means(year_curve(months)) == pytest.approx(months, abs=1e-9)


@given(months=st.lists(st.floats(0, 1), min_size=12, max_size=12))
def test_bounds_are_kept_and_the_means_too(months: list[float]) -> None:
    curve = year_curve(months, 0.0, 1.0)
    assert curve.min() >= -1e-12
    assert curve.max() <= 1 + 1e-12
    assert _month_means(curve) == pytest.approx(months, abs=1e-9)


def test_a_year_that_is_none_is_refused() -> None:
    for months in ([1.0] * 11, [float("nan")] * 12, [-0.1] * 12):
        with pytest.raises(InputError):
            year_curve(months, least=0.0)


@pytest.mark.parametrize("shape", [0.3, 0.75, 1.0, 1.8])
def test_gamma_steps_are_the_means_of_equally_likely_parts(shape: float) -> None:
    edges = stats.gamma(shape, scale=1 / shape).ppf(np.arange(1025) / 1024)
    means = np.diff(stats.gamma(shape + 1, scale=1 / shape).cdf(edges)) * 1024
    assert gamma_steps(shape) == pytest.approx(means, abs=2e-3)
    assert gamma_steps(shape).mean() == pytest.approx(1.0, abs=1e-12)


def test_mixed_steps_have_the_mean_and_nearly_the_spread_of_the_law() -> None:
    steps = mixed_steps(0.6, 2.0, 9.0)
    assert steps.mean() == pytest.approx(4.8, abs=1e-12)
    assert steps.var() == pytest.approx(2 * (0.6 * 4 + 0.4 * 81) - 4.8**2, rel=0.005)


def test_normal_steps_have_mean_nothing_and_spread_one() -> None:
    steps = normal_steps()
    assert steps.mean() == pytest.approx(0.0, abs=1e-12)
    assert steps.std() == pytest.approx(1.0, abs=1e-12)
    assert stats.kstest(steps, "norm").statistic < 1e-3


def test_laws_find_what_was_drawn() -> None:
    draw = np.random.default_rng(3)
    depth = draw.gamma(0.75, 8e-3, 4000)
    fitted = gamma_law(depth)
    theirs = stats.gamma.fit(depth, floc=0)
    assert fitted.shape == pytest.approx(theirs[0], rel=1e-4)
    likelihood = stats.gamma(*theirs).logpdf(depth).sum()
    assert fitted.criterion == pytest.approx(4 - 2 * likelihood, rel=1e-9)
    mixed = np.where(draw.random(8000) < 0.7, draw.exponential(2e-3, 8000), draw.exponential(15e-3, 8000))
    found = mixed_law(mixed)
    assert sorted((found.first, found.second)) == pytest.approx([2e-3, 15e-3], rel=0.15)
    assert likeliest_law(mixed).name == "mixed exponential"
    assert likeliest_law(draw.gamma(2.0, 5e-3, 4000)).name == "gamma"
    assert likeliest_law(np.array([0.001, 0.002])).shape == 0.75


def test_odds_are_lowered_so_that_the_share_comes_out() -> None:
    share = np.linspace(0.02, 0.95, 366)
    draws = np.random.default_rng(1).standard_normal(40_000)
    odds = corrected_odds(share, 0.5)
    for slot in (0, 150, 365):
        swung = odds[slot] * np.exp(0.5 * draws)
        assert (swung / (1 + swung)).mean() == pytest.approx(share[slot], abs=0.003)
    assert corrected_odds(np.array([0.0, 0.5]), 0.35)[0] == 0.0


def test_dry_and_wet_days_together_are_all_days() -> None:
    usual, whole = np.full((366, 2), 8.0), np.full((366, 2), 4.0)
    share = np.full(366, 0.3)
    mean, spread = mixture(usual, whole, np.full((366, 2), -5.0), share)
    together = 0.7 * mean[:, 0] + 0.3 * mean[:, 1]
    square = 0.7 * (spread[:, 0] ** 2 + mean[:, 0] ** 2) + 0.3 * (spread[:, 1] ** 2 + mean[:, 1] ** 2)
    assert together == pytest.approx(usual)
    assert np.sqrt(square - together**2) == pytest.approx(whole)


def test_a_process_is_scaled_to_a_spread_of_one_and_one_that_grows_is_refused() -> None:
    a, b = standardised(np.array([[0.5, 0.1], [0.2, 0.4]]), np.array([[2.0, 0.0], [0.7, 3.0]]))
    covariance = np.eye(2)
    for _ in range(200):
        covariance = a @ covariance @ a.T + b @ b.T
    assert np.diag(covariance) == pytest.approx([1.0, 1.0])
    with pytest.raises(InputError):
        standardised(np.eye(2), np.eye(2))


def test_normals_come_out_of_the_days() -> None:
    made = fit_normals(studio_months()).days(1, range(1500), date(2027, 1, 1), 365)
    months = studio_months()
    assert months.rain is not None
    assert months.rain_days is not None
    assert months.low is not None
    assert months.high is not None
    for m, (a, b) in enumerate(pairwise(ENDS)):
        rain = made.rain[:, a:b]
        assert (rain > 0).sum(axis=1).mean() == pytest.approx(months.rain_days[m], abs=0.35)
        assert rain.sum(axis=1).mean() == pytest.approx(months.rain[m], rel=0.05)
        # Where high and low lie close they change places now and then: at most 0.25 K.
        assert made.low[:, a:b].mean() == pytest.approx(months.low[m], abs=0.3)
        assert made.high[:, a:b].mean() == pytest.approx(months.high[m], abs=0.3)


def test_the_frost_date_is_met_by_the_spread_of_nights() -> None:
    spread = spread_by_date(studio_months(), (10, 13), NEAR)
    assert spread is not None
    assert 3.0 < spread < 7.0
    model = fit_normals(studio_months(), Assumed(night_spread=spread))
    hard = model.days(9, range(1000), date(2028, 7, 15), 200).low < -3
    half = date.fromordinal(date(2028, 7, 15).toordinal() + int(np.median(np.argmax(hard, axis=1))))
    assert abs((half - date(2028, 10, 13)).days) <= 3
    later = spread_by_date(studio_months(), (10, 25), NEAR)
    assert later is not None
    assert later < spread


def test_a_frost_date_that_no_spread_brings_is_not_forced() -> None:
    assert spread_by_date(studio_months(), (8, 1), NEAR) is None
    assert spread_by_nights(studio_months(), 10.0) is None


def test_frost_nights_give_the_spread_too() -> None:
    lows = (2.0, 2.0, 3.0, 4.0, 7.0, 10.0, 12.0, 12.0, 10.0, 7.0, 4.0, 3.0)
    mild = studio_months(low=lows, high=tuple(low + 9.0 for low in lows))
    spread = spread_by_nights(mild, 60.0)
    assert spread is not None
    model = fit_normals(mild, Assumed(night_spread=spread, slow=0.0))
    made = model.days(9, range(600), date(2027, 1, 1), 365)
    # Nights that change places with their day are colder: a few more.
    assert (made.low < 0).sum(axis=1).mean() == pytest.approx(60, abs=5)


def test_what_is_wanting_is_named() -> None:
    assert missing_for_days(None) == tuple(f"site.months.{n}" for n in ("low", "high", "rain", "rain_days"))
    assert missing_for_days(studio_months(low=None)) == ("site.months.low",)
    assert missing_for_days(studio_months(rain=(0.004,) * 12)) == ("site.months.wet_from",)
    assert missing_for_days(studio_months(rain=(0.004,) * 12, wet_from=0.0001)) == ()
    with pytest.raises(InputError, match=r"site\.months\.high"):
        fit_normals(studio_months(high=None))


def test_a_month_without_rain_and_one_of_rain_alone() -> None:
    months = studio_months(rain_days=(0.0, *(11.0,) * 10, 31.0), rain=(0.0, *(0.05,) * 11))
    made = fit_normals(months).days(1, range(300), date(2027, 1, 1), 365)
    # Wet weather of December may reach into January's first days.
    assert (made.rain[:, 7:31] > 0).sum() < 3
    assert (made.rain[:, :31] > 0).sum(axis=1).mean() < 0.5
    assert (made.rain[:, 334:] > 0).mean() > 0.95


def test_records_too_short_or_without_rain_say_so() -> None:
    record = seattle()
    assert too_short(record) == ""
    assert too_short(replace(record, rain=None)) == "the record has no rain"
    assert "typical year" in too_short(replace(record, typical=True))
    with pytest.raises(InputError, match="400 days"):
        fit_daily(_first(record, 400))
    summers = np.isin(record.months, (4, 5, 6, 7, 8, 9))
    gaps = replace(record, low=np.where(summers, record.low, np.nan))
    assert "730 are needed" in too_short(_first(gaps, 1461)) or "40 are needed" in too_short(gaps)


def _first(record: DailyRecord, days: int) -> DailyRecord:
    assert record.rain is not None
    return DailyRecord(
        ordinal=record.ordinal[:days].copy(),
        low=record.low[:days].copy(),
        high=record.high[:days].copy(),
        mean=record.mean[:days].copy(),
        rain=record.rain[:days].copy(),
    )


def test_two_years_take_the_assumed_scatter_of_months() -> None:
    short = fit_daily(_first(seattle(), 800), wet_from=0.0002)
    assert short.wetness == 0.35
    assert short.sources["wetness"].key == "wetness-by-month"
    assert short.sources["wet_from"].key == "owner"
    assert short.wet_share.mean() > fit_daily(_first(seattle(), 800)).wet_share.mean()


def test_rain_read_in_one_depth_alone_tells_no_shape() -> None:
    law = likeliest_law(np.full(40, 0.004))
    assert (law.name, law.shape) == ("gamma", 0.75)
