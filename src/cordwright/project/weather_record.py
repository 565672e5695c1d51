"""What does the owner's own list of days hold: rain in the can, lowest and highest on the thermometer?

Columns go by the owner's headings, named in [site.weather]; a unit stands in the heading or after " in " in the name.
What was not measured is unknown. No value is mended: one that cannot be stops the reading with its line.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from fractions import Fraction
from pathlib import Path
from typing import Final

import numpy as np
from numpy.typing import NDArray

from cordwright.project.faults import FieldFault, Findings, nearest, shown
from cordwright.project.months import celsius
from cordwright.project.quantity import unit_size
from cordwright.project.sheets import Layout, Row, Sheet, read_sheet
from cordwright.site.rain_screen import screen_daily_rain
from cordwright.site.weather_year import DailyRecord

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

FIELD: Final = "site.weather"
COLUMNS: Final[Mapping[str, str]] = {
    "low": "temperature",
    "high": "temperature",
    "mean": "temperature",
    "rain": "length",
    "wind": "speed",
}
UNITS: Final[Mapping[str, tuple[str, ...]]] = {
    "temperature": ("degC", "degF", "°C", "°F", "C", "F"),
    "length": ("mm", "cm", "in", "inches"),
    "speed": ("m/s", "km/h", "mph", "ft/s", "knots"),
}
RANGES: Final[Mapping[str, tuple[float, float, str, float]]] = {
    "temperature": (-70.0, 60.0, "degC", 1.0),
    "length": (0.0, 1.9, "mm", 1000.0),
    "speed": (0.0, 75.0, "m/s", 1.0),
}
"""Least and most of a day on Earth (`month-limits`), the unit a message speaks in, its count in one SI unit."""
NOT_MEASURED: Final = frozenset(
    {"", "na", "nan", "n/a", "null", "none", "-", "--", "m", "-99", "-99.9", "-999", "-999.9", "-9999", "9999", "99999"}
)
TRACES: Final = frozenset({"t", "trace", "tr"})
DATES: Final = "write year-month-day in every row: 2027-06-07"
FEW_DAYS: Final = 30
MANY_GAPS: Final = 0.05


@dataclass(frozen=True, slots=True, kw_only=True)
class RecordLayout(Layout):
    """The owner's headings: which of them is which of our columns, and its unit; the others are left alone."""

    named: Mapping[str, tuple[str, str]] = field(default_factory=dict)

    def column(self, heading: str) -> tuple[str, str] | None:
        """Give a heading's column and its unit; one that nobody named keeps its own name."""
        return self.named.get(_plain(heading), (f" {heading.strip()}", ""))

    def holds_numbers(self, column: str) -> bool:
        """Whether mere numbers stand in a column."""
        return column in COLUMNS


def _plain(heading: str) -> str:
    return " ".join(heading.strip().strip('"').lower().split())


def read_record(
    path: Path, where: str, named: Mapping[str, str], findings: Findings, echo: list[str]
) -> DailyRecord | None:
    """Read a list of days; None after a fault.

    Args:
        path: the CSV.
        where: its name in messages.
        named: the owner's heading of `date` and of the columns of COLUMNS.
        findings: where faults go.
        echo: what was understood is added here.
    """
    before = findings.count
    headings = _headings(path)
    layout = _layout(named, headings, findings)
    if layout is None:
        return None
    sheet = read_sheet(path, where, layout, findings, field=f"{FIELD}.days")
    if sheet is None or findings.count > before:
        return None
    echo.append(sheet.echo())
    dates = _dates(sheet, findings)
    columns = {name: _column(sheet, name, findings) for name in COLUMNS if name in sheet.columns}
    if findings.count > before:
        return None
    return _record(sheet, dates, columns, findings, echo)


def _headings(path: Path) -> list[str]:
    """The headings of a file, cut at whatever delimiter cuts most; faults of the file come out when it is read."""
    try:
        with path.open(encoding="utf-8-sig", errors="replace") as lines:
            first = next((line for line in lines if line.strip()), "")[:10_000]
    except OSError:
        return []
    return [_plain(heading) for heading in first.rstrip("\r\n").split(max(",;\t", key=first.count))]


def _layout(named: Mapping[str, str], headings: list[str], findings: Findings) -> RecordLayout | None:
    """Find the owner's headings in the file and their units; note what is not there."""
    before = findings.count
    found: dict[str, tuple[str, str]] = {}
    for name, words in named.items():
        if not words:
            continue
        heading, unit = _heading(words, headings)
        if headings and heading not in headings:
            findings.add(f"{FIELD}.{name}", f"the file has no column {shown(words)}", nearest(words, headings))
            continue
        kind = COLUMNS.get(name)
        if kind is not None and not unit:
            forms = " or ".join(f'{name} = "{heading} in {u}"' for u in UNITS[kind][:2])
            findings.add(f"{FIELD}.{name}", f"the heading {shown(heading)} has no unit", f"write {forms}")
        found[heading] = (name, unit)
    for name in ("date", "low", "high"):
        if not named.get(name):
            said = f"the file has the columns {', '.join(headings[:20])}" if headings else "name the column's heading"
            findings.add(f"{FIELD}.{name}", "this is missing", f'write {name} = "..."; {said}')
    if findings.count > before:
        return None
    return RecordLayout(what="days", words=("date",), numbers=tuple(COLUMNS), named=found)


def _heading(words: str, headings: list[str]) -> tuple[str, str]:
    """Take the owner's words apart: a heading of the file, and the unit it or the words name."""
    plain = _plain(words)
    if plain in headings:
        return plain, _unit_in(plain)
    base, _, unit = plain.rpartition(" in ")
    return (base, unit) if base in headings else (plain, "")


def _unit_in(heading: str) -> str:
    """The unit at the end of a heading: `rain (mm)`, `tmax [°c]`, `rain_mm`, `wind m/s`."""
    match = re.search(
        r"(?:[\s_(\[,/]|^)\(?\[?(°?[cf]|deg ?[cf]|mm|cm|in|inch|inches|m/s|km/h|mph|ft/s|knots?|kn)[\])]?$", heading
    )
    return match[1] if match else ""


def _dates(sheet: Sheet, findings: Findings) -> list[date | None]:
    """The date of every row; whether day or month stands first is read from the whole column."""
    parts = [_cut(row.text("date")) for row in sheet.rows]
    order = _order(sheet.rows[0].text("date"), parts)
    dates: list[date | None] = []
    for row, cut in zip(sheet.rows, parts, strict=True):
        try:
            dates.append(_date(row.text("date"), cut, order))
        except FieldFault as fault:
            findings.add_fault(row.path, fault)
            dates.append(None)
            if order == "?":
                break
    return dates


def _cut(text: str) -> tuple[int, int, int] | None:
    """Three numbers of a date, as they stand; None when there are not three."""
    words = text.split("T", maxsplit=1)[0].split(" ", maxsplit=1)[0]
    if re.fullmatch(r"\d{8}", words):
        return int(words[:4]), int(words[4:6]), int(words[6:])
    match = re.fullmatch(r"(\d{1,4})[-/.](\d{1,2})[-/.](\d{1,4})\.?", words)
    return (int(match[1]), int(match[2]), int(match[3])) if match else None


def _order(first: str, parts: list[tuple[int, int, int] | None]) -> str:
    """Which number is which: "ymd", "dmy", "mdy"; "?" when the column does not tell."""
    known = [p for p in parts if p is not None]
    if not known or re.match(r"\d{4}", first):
        return "ymd"
    firsts, seconds = max(p[0] for p in known), max(p[1] for p in known)
    if firsts > 12 >= seconds:
        return "dmy"
    return "mdy" if seconds > 12 >= firsts else "?"


def _date(text: str, cut: tuple[int, int, int] | None, order: str) -> date:
    if cut is None:
        raise FieldFault(f"{shown(text)} is no date", DATES)
    if order == "?":
        raise FieldFault(f"{shown(text)}: whether the day or the month comes first cannot be told", DATES)
    year, month, day = {"ymd": cut, "dmy": cut[::-1], "mdy": (cut[2], cut[0], cut[1])}[order]
    try:
        made = date(year, month, day)
    except ValueError:
        raise FieldFault(f"{shown(text)} is no date", DATES) from None
    if not 1700 <= made.year <= 2200:
        raise FieldFault(f"{shown(text)} is in the year {made.year}", DATES)
    return made


def _column(sheet: Sheet, name: str, findings: Findings) -> list[float]:
    """The values of a column in SI; NaN where nothing was measured."""
    scale, shift = _scale(COLUMNS[name], sheet.columns[name])
    least, most, unit, shown_in = RANGES[COLUMNS[name]]
    values: list[float] = []
    for row in sheet.rows:
        try:
            value = _value(sheet, row, name) * scale + shift
            if not np.isnan(value) and not least <= value <= most:
                said = f"{shown(row.text(name))} is {value * shown_in:g} {unit} on one day"
                raise FieldFault(said, f"between {least * shown_in:g} and {most * shown_in:g} {unit}; look at the unit")
        except FieldFault as fault:
            findings.add_fault(f"{row.path}.{name}", fault)
            value = np.nan
        values.append(value)
    return values


def _scale(kind: str, unit: str) -> tuple[float, float]:
    if kind == "temperature":
        zero = celsius(Fraction(0), unit)
        return float(celsius(Fraction(1), unit) - zero), float(zero)
    return float(unit_size({"inch": "in", "inches": "in", "kn": "knots", "knot": "knots"}.get(unit, unit), kind)), 0.0


def _value(sheet: Sheet, row: Row, name: str) -> float:
    cell = row.text(name)
    if cell.lower() in NOT_MEASURED:
        return np.nan
    if name == "rain" and cell.lower() in TRACES:
        return 0.0
    plain = cell.replace(",", ".") if sheet.decimal == "," else cell
    if re.fullmatch(r"-?\d{1,9}(?:\.\d{1,9})?", plain):
        return float(plain)
    return float(sheet.number(cell))


def _record(
    sheet: Sheet, dates: list[date | None], columns: Mapping[str, list[float]], findings: Findings, echo: list[str]
) -> DailyRecord | None:
    """Put the days in order, each once, and look over what they come to."""
    ordinal = np.array([d.toordinal() for d in dates if d is not None], np.int64)
    order = np.argsort(ordinal, kind="stable")
    rising = ordinal[order]
    twice = np.flatnonzero(np.diff(rising) == 0)
    if twice.size:
        row = sheet.rows[int(order[twice[0] + 1])]
        message = f"{date.fromordinal(int(rising[twice[0]]))} stands here a second time"
        findings.add(
            row.path, message + (f", and so do {twice.size - 1} more days" if twice.size > 1 else ""), "keep one"
        )
        return None
    taken = {name: np.array(values)[order] for name, values in columns.items()}
    crossed = np.flatnonzero(taken["low"] > taken["high"])
    if crossed.size:
        row = sheet.rows[int(order[crossed[0]])]
        message = f"low lies over high here, and on {crossed.size} days in all"
        findings.add(row.path, message, "see whether two columns are exchanged")
        return None
    rain, remark = screen_daily_rain(taken["rain"]) if "rain" in taken else (None, "")
    if remark:
        findings.add(f"{FIELD}.rain", remark, "look at the unit and at the gaps; the rest is used", "warning")
    _note_gaps(rising, taken, findings, echo, sheet.where)
    return DailyRecord(
        station=Path(sheet.where).stem,
        ordinal=rising,
        low=taken["low"],
        high=taken["high"],
        mean=taken.get("mean", (taken["low"] + taken["high"]) / 2),
        rain=rain,
        wind=taken.get("wind"),
    )


def _note_gaps(
    ordinal: Ints,
    taken: Mapping[str, Floats],
    findings: Findings,
    echo: list[str],
    where: str,
) -> None:
    """Tell how many days are wanting altogether and in each column; many are a warning."""
    span = int(ordinal[-1] - ordinal[0]) + 1
    absent = span - ordinal.size
    gaps = {name: int(np.isnan(values).sum()) for name, values in taken.items()}
    told = [f"no row for {absent} days"] if absent else []
    told += [f"{name} unknown on {count}" for name, count in gaps.items() if count]
    if told:
        echo.append(f"{where}: of {span} days {', '.join(told)}")
    if span < FEW_DAYS or absent > MANY_GAPS * span or any(n > MANY_GAPS * span for n in gaps.values()):
        what = "; ".join(told) if told else f"there are {span} days"
        findings.add(
            f"{FIELD}.file", f"of {span} days {what}", "a gap stays unknown; years with many are left out", "warning"
        )
