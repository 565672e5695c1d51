"""How are twelve values of a year read, January first, with their one unit?

`"-5.4, -5.7, ... degC"`, or a list of twelve with the unit in each.
"""

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from cordwright.project.faults import FieldFault, shown
from cordwright.project.quantity import read_number, unit_size
from cordwright.site.climate import DAYS, MONTHS

_ENTRY: Final = re.compile(r"\s*([-−]?)\s*([0-9][0-9.,]*)\s*([^\s0-9].*)?")

DEGREES: Final[Mapping[str, tuple[Fraction, Fraction]]] = {
    "c": (Fraction(1), Fraction(0)),
    "f": (Fraction(5, 9), Fraction(-160, 9)),
}
"""Scale and shift from a scale's degrees to degC."""

Reading = Callable[[Fraction, str], Fraction]


def celsius(number: Fraction, unit: str) -> Fraction:
    """A temperature in degC.

    Raises:
        FieldFault: no scale, or none that is known here.
    """
    bare = unit.lower().replace("°", "").replace("degrees", "").replace("deg", "").strip()
    if not unit:
        raise FieldFault(
            f"{float(number):g} has no unit: {float(number):g} degC or {float(number):g} degF?", TEMPERATURES
        )
    if bare not in DEGREES:
        raise FieldFault(f"{shown(unit)} is no scale of temperature", TEMPERATURES)
    scale, shift = DEGREES[bare]
    return number * scale + shift


TEMPERATURES: Final = 'write the scale: "-5.4 degC" or "22 degF"'
HUMIDITIES: Final = 'write per cent: "88 %"'
DAY_COUNTS: Final = 'write days: "11 days"'


def _percent(number: Fraction, unit: str) -> Fraction:
    if unit not in ("%", "percent"):
        said = f"{float(number):g} has no per cent sign" if not unit else f"{shown(unit)} is no per cent sign"
        raise FieldFault(said, HUMIDITIES)
    return number / 100


def _day_count(number: Fraction, unit: str) -> Fraction:
    if unit not in ("", "d", "day", "days"):
        raise FieldFault(f"{shown(unit)} does not count days", DAY_COUNTS)
    return number


def _sized(dimension: str) -> Reading:
    def read(number: Fraction, unit: str) -> Fraction:
        if not unit:
            raise FieldFault("no unit stands after the last value", FORMS[dimension])
        return number * unit_size(unit.replace(" ", ""), dimension)

    return read


FORMS: Final[Mapping[str, str]] = {
    "temperature": 'write twelve values and their unit: "-5.4, -5.7, ... degC" (or degF)',
    "humidity": 'write twelve values in per cent: "88, 86, ... %"',
    "length": 'write twelve values and their unit: "44, 34, ... mm" (or in)',
    "days": 'write twelve counts: "11, 9, ... days"',
    "speed": 'write twelve values and their unit: "4.1, 3.9, ... m/s" (or km/h, mph, ft/s)',
}
_READINGS: Final[Mapping[str, Reading]] = {
    "temperature": celsius,
    "humidity": _percent,
    "length": _sized("length"),
    "days": _day_count,
    "speed": _sized("speed"),
}


@dataclass(frozen=True, slots=True)
class _Entry:
    number: Fraction
    unit: str


def read_months(value: object, kind: str) -> tuple[float, ...]:
    """Read twelve monthly values, January first, in SI (degC, shares).

    Args:
        value: one text with the unit at its end, or a list of twelve texts.
        kind: one of FORMS.

    Raises:
        FieldFault: not twelve, units mixed or left out, or not to be read.
    """
    forms = FORMS[kind]
    pieces = _pieces(value, forms)
    if len(pieces) != 12:
        raise FieldFault(f"there are {len(pieces)} values, not twelve", f"{forms}; January first, decimal points")
    entries = [_entry(piece, forms) for piece in pieces]
    unit = _one_unit(entries, forms, listed=isinstance(value, list))
    try:
        return tuple(float(_READINGS[kind](entry.number, unit)) for entry in entries)
    except FieldFault as fault:
        raise FieldFault(fault.message, forms) from None


def _pieces(value: object, forms: str) -> list[str]:
    if isinstance(value, list):
        if not all(isinstance(piece, str) for piece in value):
            raise FieldFault("the list holds bare numbers", f'{forms}, or a list of twelve such as ["-5.4 degC", ...]')
        return value
    if not isinstance(value, str):
        raise FieldFault(f"{shown(value)} is not twelve values", forms)
    if len(value) > 500:
        raise FieldFault(f"the text has {len(value)} characters", forms)
    text = value.strip().removeprefix("[").replace("]", "")
    if ";" in text:
        return text.split(";")
    return text.split(",")


def _entry(piece: str, forms: str) -> _Entry:
    match = _ENTRY.fullmatch(piece)
    if not match or len(piece) > 60:
        raise FieldFault(f"{shown(piece.strip())} cannot be read", forms)
    number = read_number(match[2])
    return _Entry(-number if match[1] else number, (match[3] or "").strip())


def _one_unit(entries: list[_Entry], forms: str, *, listed: bool) -> str:
    """The unit all values share: in one text it stands at the end, in a list at every value."""
    units = [entry.unit for entry in entries]
    named = list(dict.fromkeys(u for u in units if u))
    if len(named) > 1:
        raise FieldFault(f"the units are mixed: {', '.join(named)}", f"{forms}, one unit for all twelve")
    if listed and named and "" in units:
        raise FieldFault("some of the values have no unit", forms)
    if not listed and named and not units[-1]:
        raise FieldFault(f"{named[0]} does not stand at the end", forms)
    return named[0] if named else ""


def read_temperature(value: object) -> float:
    """Read one temperature with its scale, `-2.5 degC` or `28 degF` [degC].

    Raises:
        FieldFault: no scale, or not to be read.
    """
    if isinstance(value, bool) or not isinstance(value, str):
        raise FieldFault(f"{shown(value)} has no scale", TEMPERATURES)
    entry = _entry(value, TEMPERATURES)
    degrees = float(celsius(entry.number, entry.unit))
    if not -70.0 <= degrees <= 60.0:
        raise FieldFault(f"{shown(value)} is a temperature of no site", "from -70 degC to 60 degC")
    return degrees


DAY_FORMS: Final = 'write day and month: "13 Oct"'
_MONTH_DAY: Final = re.compile(r"\s*(?:([0-9]{1,2})\.?\s+([A-Za-z]{3,9})|([A-Za-z]{3,9})\s+([0-9]{1,2}))\s*")


def read_month_day(value: object) -> tuple[int, int]:
    """Read a day that comes every year, `13 Oct` or `October 13`: its month and day.

    Raises:
        FieldFault: no such day.
    """
    match = _MONTH_DAY.fullmatch(value) if isinstance(value, str) else None
    if match is None:
        raise FieldFault(f"{shown(value)} is no day of the year", DAY_FORMS)
    word, day = (match[2] or match[3]).lower(), int(match[1] or match[4])
    month = next((n for n, name in enumerate(MONTHS, start=1) if name.lower().startswith(word)), None)
    if month is None or not 1 <= day <= (29 if month == 2 else DAYS[month - 1]):
        raise FieldFault(f"{shown(value)} is no day of the year", DAY_FORMS)
    return month, day


CLOCK_FORMS: Final = 'write the time of day: "17:00"'
_CLOCK: Final = re.compile(r"([01]?[0-9]|2[0-3]):([0-5][0-9])")


def read_clock(value: object) -> float:
    """Read a time of day, `17:00` [h after midnight].

    Raises:
        FieldFault: none.
    """
    match = _CLOCK.fullmatch(value.strip()) if isinstance(value, str) else None
    if match is None:
        raise FieldFault(f"{shown(value)} is no time of day", CLOCK_FORMS)
    return int(match[1]) + int(match[2]) / 60
