"""Hours made of days: against the measured hours of Denver, against pvlib's split of the sun, and by hand."""

from datetime import date
from pathlib import Path

import numpy as np
import pytest

from cordwright.base import InputError
from cordwright.project.weather_hours import read_hours
from cordwright.site import Days, fit_normals, generated_year
from cordwright.site.generated_hours import diffuse_share, hours_of_day, sun_of_days
from weather_samples import denver, studio_months

DENVER = (39.83, -104.65, 1650.0, -7.0)
STUDIO = (57.9, 26.9, 205.0, 2.0)
FIRST = date(2001, 1, 1)


def test_the_suns_split_is_pvlibs() -> None:
    from pvlib.irradiance import erbs

    clearness = np.linspace(0.05, 0.75, 15)
    level = 1361.0 * 0.7 * clearness
    theirs = erbs(level, np.degrees(np.arccos(0.7)), 100)
    # pvlib's sun beyond the air follows the year: compare at its own clearness.
    assert diffuse_share(np.asarray(theirs["kt"])) == pytest.approx(np.asarray(theirs["dhi"]) / level, rel=1e-6)


def test_hours_made_of_denvers_days_against_its_measured_hours(tmp_path: Path) -> None:
    year = read_hours(denver(), denver().decode(), "EPW", tmp_path)
    hours = year.temperature.reshape(-1, 24)
    low, high = hours.min(axis=1), hours.max(axis=1)
    made = hours_of_day(low, high, FIRST, DENVER)
    assert made.mean() == pytest.approx(year.temperature.mean(), abs=0.7)
    # because=fronts bring the coldest or warmest hour at any time of the day; nearer than the day's mean all the same.
    off = np.sqrt(np.mean((made - year.temperature) ** 2))
    assert off < 3.8
    assert off < 0.75 * np.sqrt(np.mean((hours - hours.mean(axis=1, keepdims=True)) ** 2))
    direct, diffuse = sun_of_days(high - low, np.zeros(365, bool), FIRST, DENVER)
    # because=sun from the range of the day alone is coarse: here the beam comes out 21 % high, the sky 5 %.
    assert direct.sum() == pytest.approx(year.direct_normal.sum(), rel=0.25)
    assert diffuse.sum() == pytest.approx(year.diffuse_horizontal.sum(), rel=0.1)
    dark = year.direct_normal + year.diffuse_horizontal == 0
    assert (direct + diffuse)[dark].sum() < 0.02 * (direct + diffuse).sum()
    alike = [np.corrcoef(np.roll(direct, shift), year.direct_normal)[0, 1] for shift in (-1, 0, 1)]
    assert alike[1] == max(alike)  # the sun rises and sets at its hours


def test_a_generated_year_is_whole_and_keeps_its_days() -> None:
    days = fit_normals(studio_months()).days(1, [0, 1], FIRST, 365)
    year = generated_year(days, 1, STUDIO, humidity=(0.8,) * 12, wind=(3.5,) * 12)
    hours = year.temperature.reshape(-1, 24)
    assert hours.mean() == pytest.approx(((days.low + days.high) / 2)[1].mean(), abs=0.6)
    assert hours.max() <= days.high[1].max() + 1e-9
    assert hours.min() >= days.low[1].min() - 1e-9
    assert year.rain is not None
    assert year.rain.sum() == pytest.approx(days.rain[1].sum())
    assert 0.5 < year.humidity.mean() < 0.85
    assert year.humidity.max() <= 1.0
    assert (year.dew_point <= year.temperature + 3.0).all()
    assert year.missing() == {"wind_direction": 8760}
    assert set(np.unique(year.wind_speed)) == {3.5}
    assert year.direct_normal.max() < 1100


def test_what_is_not_known_stays_unknown_and_half_a_year_is_refused() -> None:
    days = fit_normals(studio_months()).days(1, [0], FIRST, 365)
    year = generated_year(days, 0, STUDIO)
    assert year.missing() == {"wind_speed": 8760, "wind_direction": 8760}
    with pytest.raises(InputError):
        generated_year(fit_normals(studio_months()).days(1, [0], FIRST, 100), 0, STUDIO)
    short = Days(first=date(2000, 1, 1), rain=days.rain, low=days.low, high=days.high, swing=days.swing)
    with pytest.raises(InputError):
        generated_year(short, 0, STUDIO)
