"""Which weather file does the owner name, and what is it: a year of hours, or a list of days?"""

from collections.abc import Mapping
from typing import Final

from cordwright.base import Problem
from cordwright.project.faults import FieldFault, Findings
from cordwright.project.schema import SiteTable, WeatherTable
from cordwright.project.supplies import Folder
from cordwright.project.texts import read_bytes, text_of
from cordwright.project.weather_hours import Kind, kind_of, note_form, read_hours
from cordwright.project.weather_record import read_record
from cordwright.site.climate import MonthlyNormals
from cordwright.site.file_months import months_of
from cordwright.site.inputs import StationWeather
from cordwright.site.weather_year import WeatherYear, days_of

FIELD: Final = "site.weather.file"
ROWS: Final = ("temperature", "low", "high", "humidity", "rain", "rain_days", "wind")
OF_DAYS: Final = ("date", "low", "high", "mean", "rain", "wind")


def station_weather(site: SiteTable, folder: Folder, findings: Findings) -> StationWeather | None:
    """Read the weather file; None when none is named or it has a fault.

    Args:
        site: the place's table.
        folder: of the project; what was understood is added to its echo.
        findings: where faults go.
    """
    table = site.weather
    if table is None:
        return None
    path, where = folder.place(table.file)
    content = read_bytes(path)
    if isinstance(content, tuple):
        findings.add(FIELD, *content)
        return None
    text, problems = text_of(content, where)
    findings.take(problems)
    if text is None:
        return None
    kind = kind_of(text)
    if kind is None:
        named = {name: getattr(table, name) for name in OF_DAYS}
        record = read_record(path, where, named, findings, folder.echo)
        stated = _stated(table)
        return None if record is None else StationWeather(**stated, record=record)  # type: ignore[arg-type]
    return _of_hours(table, where, (content, text, kind), folder, findings)


def file_months(weather: StationWeather | None, echo: list[str]) -> MonthlyNormals | None:
    """The months of the weather file where [site.months] is not stated, and what of them could be had."""
    months = months_of(weather) if weather else None
    if months is None or weather is None:
        return None
    rows = [name for name in ROWS if getattr(months, name) is not None]
    echo.append(f"[site.months] is not stated: its {', '.join(rows)} are taken from {weather.file}")
    return months


def _stated(table: WeatherTable) -> Mapping[str, object]:
    names = ("file", "distance", "height_difference", "wet_from")
    return {name: getattr(table, name) for name in names}


def _of_hours(
    table: WeatherTable,
    where: str,
    found: tuple[bytes, str, Kind],
    folder: Folder,
    findings: Findings,
) -> StationWeather | None:
    content, text, kind = found
    for name in OF_DAYS:
        if getattr(table, name):
            message = f"{name} names a column, but {table.file} is an {kind} file, whose columns are known"
            findings.add(f"site.weather.{name}", message, "leave this key out")
    faults = list(note_form(text, kind))
    findings.take(Problem(field=FIELD, message=f.message, hint=f.hint, where=where, line=n) for n, f in faults)
    if faults:
        return None
    try:
        year = read_hours(content, text, kind, folder.folder)
    except FieldFault as fault:
        findings.add_fault(FIELD, fault)
        return None
    _tell(year, where, findings, folder.echo)
    return StationWeather(
        **_stated(table),  # type: ignore[arg-type]
        latitude=year.latitude,
        longitude=year.longitude,
        elevation=year.elevation,
        year=year,
        record=days_of(year),
    )


def _tell(year: WeatherYear, where: str, findings: Findings, echo: list[str]) -> None:
    """Echo what the file is; name what of it cannot be used and what was not measured."""
    kind, *remarks = year.notes
    place = f"{year.latitude:g} deg north, {year.longitude:g} deg east, {year.elevation:g} m"
    echo.append(f"{where}: {kind}; {year.station}, {place}; {year.hours} hours")
    for remark in remarks:
        findings.add(FIELD, remark, "the other columns are used; state rain and rain_days in [site.months]", "warning")
    for column, hours in year.missing().items():
        message = f"{column.replace('_', ' ')} was not measured in {hours} of {year.hours} hours"
        findings.add(FIELD, message, "those hours stay unknown, and so do their days", "warning")
