"""Weather files as owners have them: hours with codes for missing, days in every dialect, and what is refused."""

import gzip
import shutil
import sys
from datetime import date
from pathlib import Path

import numpy as np
import pytest

from cordwright.base import Problem
from cordwright.project import read
from cordwright.site import DailyRecord, StationWeather, months_of
from cordwright.site.rain_screen import screen_daily_rain, screen_rain
from weather_samples import ROOT, denver, pvlib_file, seattle, seattle_csv

OF_HOURS = '[site.weather]\nfile = "year.epw"\n'
OF_DAYS = """[site.weather]
file = "days.csv"
date = "day"
low = "tmin (degC)"
high = "tmax (degC)"
rain = "rain_mm"
"""
HEADINGS = "day,tmin (degC),tmax (degC),rain_mm\n"


@pytest.fixture
def project(tmp_path: Path, examples: dict[str, Path]) -> Path:
    """A copy of the weaving studio that may name a weather file."""
    folder = tmp_path / "studio"
    shutil.copytree(examples["weaving-studio"], folder)
    return folder


def _name(folder: Path, table: str, *, months: bool = True) -> None:
    file = folder / "building.toml"
    text = file.read_text(encoding="utf-8")
    begin, end = text.index("# Usual weather"), text.index("# Rules as somebody")
    file.write_text(text[:begin] + (text[begin:end] if months else "") + table + "\n" + text[end:], encoding="utf-8")


def _read(folder: Path) -> tuple[StationWeather | None, tuple[Problem, ...], str]:
    reading = read(folder)
    project = reading.project
    return (project.site.weather if project else None), reading.problems, "\n".join(reading.echo)


def _said(folder: Path) -> str:
    return "\n".join(str(p) for p in read(folder).problems)


def _days(folder: Path, text: str, table: str = OF_DAYS) -> tuple[DailyRecord | None, str, str]:
    (folder / "days.csv").write_bytes(text.encode("utf-8"))
    _name(folder, table)
    weather, problems, echo = _read(folder)
    return (weather.record if weather else None), "\n".join(map(str, problems)), echo


# --- hours ------------------------------------------------------------------------------------------------------------


def test_an_epw_is_read_and_what_it_lacks_is_told(project: Path) -> None:
    (project / "year.epw").write_bytes(denver())
    _name(project, OF_HOURS)
    weather, problems, echo = _read(project)
    assert weather is not None
    assert weather.year is not None
    assert weather.latitude == 39.83
    assert weather.year.rain is None
    assert weather.year.wind_direction.max() <= 360
    assert weather.year.direct_normal[12] > 0
    assert "Denver Intl Ap, 39.83 deg north, -104.65 deg east, 1650 m; 8760 hours" in echo
    rain = next(p for p in problems if "rain" in p.message)
    assert rain.severity == "warning"
    assert rain.line is not None
    assert "1974 of 8760 hours, and 138 are sums over other spans" in rain.message


@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("703165TY.csv", "rain is missing in 8011 of 8760 hours, and 481 are sums over other spans than an hour"),
        ("723170TYA.CSV", "rain comes to 8345 mm in the year and 500 mm in one hour, which no place has"),
    ],
)
def test_rain_of_two_typical_years_cannot_be_used(name: str, said: str, project: Path) -> None:
    (project / "year.epw").write_bytes(pvlib_file(name))
    _name(project, OF_HOURS)
    weather, problems, _ = _read(project)
    assert weather is not None
    assert weather.year is not None
    assert weather.year.rain is None
    assert any(said in p.message for p in problems)
    assert not np.isnan(weather.year.temperature).any()


def test_the_second_reading_needs_no_library(project: Path) -> None:
    (project / "year.epw").write_bytes(denver())
    _name(project, OF_HOURS)
    first = _said(project)
    (kept,) = (project / ".cache").glob("weather-*.npz")
    script = (
        "import sys; from pathlib import Path; from cordwright.project import read;"
        f"assert read(Path({str(project)!r})).project; print('pvlib' in sys.modules, 'pandas' in sys.modules)"
    )
    assert _python(script) == "False False"
    kept.write_bytes(b"damaged")
    assert _said(project) == first
    assert kept.stat().st_size > 10_000


def _python(script: str) -> str:
    import subprocess

    done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, timeout=120, check=True)
    return done.stdout.strip()


def test_without_a_weather_file_neither_library_is_loaded(examples: dict[str, Path]) -> None:
    script = (
        "import sys; from pathlib import Path; from cordwright.project import read;"
        f"assert read(Path({str(examples['weaving-studio'])!r})).project;"
        "print(sorted({'pvlib', 'pandas', 'numba'} & set(sys.modules)))"
    )
    assert _python(script) == "[]"


def test_hours_that_were_not_measured_stay_unknown(project: Path) -> None:
    lines = denver().decode().splitlines(keepends=True)
    cells = lines[20].split(",")
    cells[6], cells[8], cells[21] = "99.9", "999", "999"
    lines[20] = ",".join(cells)
    (project / "year.epw").write_text("".join(lines), encoding="utf-8", newline="")
    _name(project, OF_HOURS)
    weather, problems, _ = _read(project)
    assert weather is not None
    assert weather.year is not None
    assert weather.record is not None
    assert np.isnan(weather.year.temperature[12])
    assert np.isnan(weather.record.mean[0])
    assert weather.year.missing() == {"temperature": 1, "humidity": 1, "wind_speed": 1}
    assert any("temperature was not measured in 1 of 8760 hours" in p.message for p in problems)


def test_a_file_cut_short_or_mangled_is_refused_with_its_line(project: Path) -> None:
    whole = denver().decode().splitlines(keepends=True)
    for lines, said in (
        (whole[:5000], "the file has 4992 hours, a year 8760"),
        ([*whole[:99], whole[99][:40] + "\n", *whole[100:]], "year.epw:100: site.weather.file: this hour has"),
        ([*whole[:50], whole[50].replace(",", ",x", 7), *whole[51:]], "site.weather.file: the file cannot be read"),
        (["LOCATION,Nowhere\n", *whole[1:]], "site.weather.file: the file cannot be read"),
    ):
        (project / "year.epw").write_text("".join(lines), encoding="utf-8", newline="")
        _name(project, OF_HOURS)
        assert said in _said(project)
        shutil.copy(ROOT / "examples" / "weaving-studio" / "building.toml", project / "building.toml")


def test_headings_have_no_business_with_a_year_of_hours(project: Path) -> None:
    (project / "year.epw").write_bytes(denver())
    _name(project, OF_HOURS + 'rain = "x"\n')
    assert "site.weather.rain: rain names a column, but year.epw is an EPW file" in _said(project)


@pytest.mark.parametrize(
    ("content", "said"),
    [(None, "there is no file year.epw"), (gzip.compress(b"x", mtime=0), "zero byte"), (b"\xff\xfeL", "UTF-16")],
)
def test_a_file_that_is_none(content: bytes | None, said: str, project: Path) -> None:
    if content is not None:
        (project / "year.epw").write_bytes(content + b"\0" * 3)
    _name(project, OF_HOURS)
    assert said in _said(project)


def test_an_unknown_key_is_a_fault_with_its_line(project: Path) -> None:
    _name(project, OF_HOURS + 'dist = "3 km"\n')
    assert 'site.weather.dist: there is no key "dist" here; the nearest is distance' in _said(project)


def test_months_come_from_the_file_where_none_are_typed(project: Path) -> None:
    (project / "year.epw").write_bytes(denver())
    _name(project, OF_HOURS, months=False)
    reading = read(project)
    assert reading.project is not None
    months = reading.project.site.months
    assert months is not None
    assert months.low is not None
    assert months.humidity is not None
    assert np.mean(months.temperature) == pytest.approx(10.9, abs=0.15)
    assert months.rain is None
    assert any("[site.months] is not stated: its temperature, low, high, humidity, wind" in e for e in reading.echo)


# --- days -------------------------------------------------------------------------------------------------------------


def test_four_years_of_days_by_their_own_headings(project: Path) -> None:
    shutil.copy(seattle_csv(), project / "days.csv")
    table = OF_DAYS.replace('"day"', '"date"').replace("tmin (degC)", "temp_min in degC")
    table = table.replace("tmax (degC)", "temp_max in C").replace("rain_mm", "precipitation in mm")
    _name(project, table)
    weather, _, echo = _read(project)
    assert weather is not None
    assert weather.record is not None
    assert weather.record.rain is not None
    theirs = seattle()
    assert theirs.rain is not None
    assert (weather.record.ordinal == theirs.ordinal).all()
    assert weather.record.rain == pytest.approx(theirs.rain)
    assert "1461 rows, delimiter comma, decimal point" in echo
    months = months_of(weather)
    assert months is not None
    assert months.rain is not None
    assert sum(months.rain) == pytest.approx(1.106, abs=0.001)


@pytest.mark.parametrize(
    "text",
    [
        "day,tmin (degC),tmax (degC),rain_mm\n2027-06-07,-1.5,12.5,0.2\n2027-06-08,2,14,\n",
        "\ufeffday;tmin (degC);tmax (degC);rain_mm\n07.06.2027;-1,5;12,5;0,2\n08.06.2027;2;14;NA\n13.07.2027;2;9;0,0\n",
        "day\ttmin (degC)\ttmax (degC)\train_mm\n20270607\t-1.5\t12.5\t0.2\n20270608\t2\t14\t-9999\n",
        "other,day,tmin (degC),tmax (degC),rain_mm\nx,2027/6/8,2,14,--\nx,2027/6/7,-1.5,12.5,0.2\n",
        "day,tmin (degC),tmax (degC),rain_mm\r\n6/7/2027,-1.5,12.5,0.2\r\n6/8/2027,2,14,\r\n6/29/2027,2,14,T\r\n",
    ],
)
def test_dialects(text: str, project: Path) -> None:
    record, said, _ = _days(project, text)
    assert record is not None, said
    assert record.rain is not None
    assert [date.fromordinal(int(n)) for n in record.ordinal[:2]] == [date(2027, 6, 7), date(2027, 6, 8)]
    assert record.low[0] == -1.5
    assert record.high[0] == 12.5
    assert record.rain[0] == pytest.approx(0.0002)
    assert np.isnan(record.rain[1])
    assert "there are" in said or "of " in said  # so few days are told


def test_units_of_another_country(project: Path) -> None:
    table = OF_DAYS.replace("(degC)", "(F)").replace("rain_mm", "rain (in)") + 'wind = "wind mph"\n'
    record, said, echo = _days(project, "day,tmin (F),tmax (F),rain (in),wind mph\n2027-06-07,32,50,0.5,10\n", table)
    assert record is not None, said
    assert record.rain is not None
    assert record.wind is not None
    assert (record.low[0], record.high[0]) == pytest.approx((0.0, 10.0))
    assert record.rain[0] == pytest.approx(0.0127)
    assert record.wind[0] == pytest.approx(4.4704)
    assert "rain in in" in echo


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (HEADINGS + "01/02/2027,1,2,0\n", "whether the day or the month comes first cannot be told"),
        (HEADINGS + "2027-13-02,1,2,0\n", '"2027-13-02" is no date'),
        (HEADINGS + "yesterday,1,2,0\n", '"yesterday" is no date'),
        (HEADINGS + "0027-01-02,1,2,0\n", "is in the year 27"),
        (
            HEADINGS + "2027-01-02,1,2,0\n2027-01-02,1,2,0\n",
            "days.csv:3: site.weather.days[1]: 2027-01-02 stands here a second",
        ),
        (HEADINGS + "2027-01-02,9,2,0\n", "low lies over high here, and on 1 days in all; see whether two columns"),
        (HEADINGS + "2027-01-02,1,95,0\n", '"95" is 95 degC on one day; between -70 and 60 degC; look at the unit'),
        (HEADINGS + "2027-01-02,1,2,-3\n", '"-3" is -3 mm on one day'),
        (HEADINGS + "2027-01-02,1,2,4000\n", '"4000" is 4000 mm on one day'),
        (HEADINGS + "2027-01-02,1,two,0\n", '"two"'),
        (HEADINGS + "2027-01-02,1,2\n", "this row has 3 cells, the headings are 4"),
        (HEADINGS, "there is a line of headings and nothing below"),
        ("", "is empty"),
        ("day,tmin,tmax (degC),rain_mm\n2027-01-02,1,2,0\n", "site.weather.low: the file has no column"),
    ],
)
def test_a_list_of_days_that_cannot_be_right(text: str, said: str, project: Path) -> None:
    record, problems, _ = _days(project, text)
    assert record is None
    assert said in problems


def test_a_heading_without_a_unit_asks_for_one(project: Path) -> None:
    table = OF_DAYS.replace("rain_mm", "rain")
    _, said, _ = _days(project, "day,tmin (degC),tmax (degC),rain\n2027-01-02,1,2,0\n", table)
    assert 'site.weather.rain: the heading "rain" has no unit; write rain = "rain in mm" or rain = "rain in cm"' in said


def test_columns_must_be_named(project: Path) -> None:
    _, said, _ = _days(project, HEADINGS + "2027-01-02,1,2,0\n", '[site.weather]\nfile = "days.csv"\n')
    assert 'site.weather.date: this is missing; write date = "..."; the file has the columns day, tmin (degc)' in said


def test_gaps_are_told_and_stay_gaps(project: Path) -> None:
    rows = [
        f"{date.fromordinal(730000 + n)},1,2,{'' if n % 5 == 0 else '1'}\n" for n in range(0, 120) if not 40 < n < 60
    ]
    record, said, echo = _days(project, HEADINGS + "".join(rows))
    assert record is not None
    assert record.rain is not None
    assert np.isnan(record.rain).sum() == 21
    assert "of 120 days no row for 19 days, rain unknown on 21" in echo
    assert "site.weather.file: warning: of 120 days no row for 19 days" in said


def test_rain_in_the_wrong_unit_is_left_out_and_said() -> None:
    seattle_rain = seattle().rain
    assert seattle_rain is not None
    assert screen_daily_rain(seattle_rain) == (seattle_rain, "")
    assert "in inches" in screen_daily_rain(seattle_rain / 25.4)[1]
    tenths = screen_daily_rain(seattle_rain * 10)
    assert tenths[0] is None
    assert "mm a year, which no place has" in tenths[1]
    few = seattle_rain[:100] * 100
    assert screen_daily_rain(few) == (few, "")


def test_hourly_rain_that_can_be_rain_is_kept() -> None:
    depth = np.zeros(8760)
    depth[::40] = 3.0
    depth[7] = 999.0
    rain, said = screen_rain(depth, np.ones(8760))
    assert said == ""
    assert rain is not None
    assert np.isnan(rain).sum() == 1
    assert np.nansum(rain) == pytest.approx(0.657)


def test_months_that_contradict_each_other_are_warned_of(project: Path) -> None:
    file = project / "building.toml"
    text = file.read_text(encoding="utf-8")
    file.write_text(
        text.replace('rain = "44, 34', 'rain = "4, 34').replace("11, 9, 8, 8, 9", "11, 9, 8, 0, 9"), "utf-8"
    )
    said = _said(project)
    assert "site.months.rain_days: warning: in January a rain day has 0.4 mm on the mean, less than the 1 mm" in said
    assert 'wet_from = "0.1 mm"' in said
    assert "site.months.rain_days: warning: April has 37 mm of rain and no rain day" in said
