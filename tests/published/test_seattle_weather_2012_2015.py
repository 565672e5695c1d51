"""NOAA daily record of Seattle, 2012 to 2015, as it comes with vega_datasets (`seattle-weather.csv`).

The record's own counts are held against seasons generated from the model fitted to it. Four years are one sample of
many such: where a tolerance is wider than the sample's own scatter, `because` says so.
"""

from functools import cache

import numpy as np
import pytest

from cordwright.site import Days, WeatherModel, fit_daily
from cordwright.site.measured_cold import degree_days, whole_years
from weather_samples import seattle, spells

SEASONS = 200
RECORD = seattle()
assert RECORD.rain is not None
WET = RECORD.rain > 0.00099
MONTH = RECORD.months


@cache
def _fitted() -> tuple[WeatherModel, Days]:
    from datetime import date

    model = fit_daily(RECORD)
    return model, model.days(3, range(SEASONS), date(2012, 1, 1), RECORD.ordinal.size)


def test_the_records_heating_degree_days() -> None:
    """2276 K.d a year under 18 degC, from the middle of low and high."""
    years = [degree_days(year) for year in whole_years(RECORD)]
    assert len(years) == 4
    assert np.mean(years) == pytest.approx(2276, abs=0.5)


def test_wet_days_follow_each_other_as_pooled() -> None:
    # because=0.307 +- 0.03 is the pooled estimate of another count, by months.
    assert _fitted()[0].persistence == pytest.approx(0.307, abs=0.03)


@pytest.mark.parametrize("month", range(12))
def test_wet_days_and_depths_of_each_month(month: int) -> None:
    made = _fitted()[1]
    here = month == MONTH
    assert RECORD.rain is not None
    wet = (made.rain[:, here] > 0).sum(axis=1).mean()
    # because=mean of 200 generated records: standard errors of about 0.4 days in four years, 2 % of the depth and more.
    assert wet == pytest.approx(WET[here].sum(), abs=1.5)
    depth = RECORD.rain[here & WET].sum()
    # July has seven wet days in four years: too few for a mean of its own, so that it takes its half-year's.
    assert made.rain[:, here].sum(axis=1).mean() == pytest.approx(depth, rel=0.1, abs=0.012)


@pytest.mark.parametrize("month", range(12))
def test_means_and_spreads_of_each_month(month: int) -> None:
    made = _fitted()[1]
    here = month == MONTH
    for mine, theirs in ((made.low, RECORD.low), (made.high, RECORD.high)):
        # because=low and high that cross change places, 0.1 K, and whole months have departures in common, 0.05 K; a
        # curve between the months carries some of their spread.
        assert mine[:, here].mean() == pytest.approx(theirs[here].mean(), abs=0.2)
        assert mine[:, here].std() == pytest.approx(theirs[here].std(), abs=0.45)


def test_spells_of_dry_days_but_not_the_longest() -> None:
    made = _fitted()[1]
    theirs = spells(WET, kind=False)
    mine = [n for season in made.rain for n in spells(season > 0, kind=False)]
    assert np.mean(theirs) == pytest.approx(4.70, abs=0.15)  # because=4.70 leaves out the spells cut by the ends
    assert np.mean(mine) == pytest.approx(np.mean(theirs), rel=0.1)
    assert np.percentile(mine, 90) == pytest.approx(np.percentile(theirs, 90), abs=1.5)
    # A chain of the first order has no long memory: the longest droughts stay too short, and that is known.
    longest = np.mean([max(spells(season > 0, kind=False)) for season in made.rain])
    assert 35 < longest < max(theirs)


def test_spells_of_wet_days() -> None:
    made = _fitted()[1]
    mine = [n for season in made.rain for n in spells(season > 0, kind=True)]
    assert np.mean(mine) == pytest.approx(np.mean(spells(WET, kind=True)), rel=0.1)


def _monthly_variance(daily: np.ndarray) -> float:  # type: ignore[type-arg]
    """Variance between the years of the months' sums, added up over the twelve."""
    year = np.array([i for i, n in enumerate((366, 365, 365, 365)) for _ in range(n)])
    sums = np.array([[daily[(year == y) & (month == MONTH)].sum() for month in range(12)] for y in range(4)])
    return float(sums.var(axis=0, ddof=1).sum())


def test_wet_and_dry_months_scatter_as_in_the_record() -> None:
    made = _fitted()[1]
    assert RECORD.rain is not None
    days = _monthly_variance(WET.astype(float)) / np.mean([_monthly_variance((r > 0) * 1.0) for r in made.rain[:60]])
    # because=a variance of 36 degrees of freedom is known to a quarter.
    assert days == pytest.approx(1.0, abs=0.25)
    depths = _monthly_variance(RECORD.rain) / np.mean([_monthly_variance(r) for r in made.rain[:60]])
    # because=depths of wet months stay more alike than in the record: overdispersion that the chain does not have.
    assert 1.0 < depths < 2.0


def test_nights_remember_as_long_as_in_the_record() -> None:
    made = _fitted()[1]

    def memory(low: np.ndarray, apart: int) -> float:  # type: ignore[type-arg]
        off = low - np.array([low[month == MONTH].mean() for month in range(12)])[MONTH]
        return float(np.corrcoef(off[:-apart], off[apart:])[0, 1])

    for apart in (1, 2, 3, 5):
        mine = np.mean([memory(low, apart) for low in made.low[:40]])
        # because=the record has .72 .48 .31 .15; nights where low and high change places forget sooner.
        assert mine == pytest.approx(memory(RECORD.low, apart), abs=0.09)


def test_frost_nights() -> None:
    made = _fitted()[1]
    theirs = float((RECORD.low < 0).sum()) / 4
    assert theirs == 18.0
    # because=between four years frost nights scatter by a quarter.
    assert (made.low < 0).mean() * 365.25 == pytest.approx(theirs, rel=0.15)
