"""How is one value of building.toml read? Readers with the forms they accept, for the models to use."""

import math
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, datetime
from fractions import Fraction
from typing import Annotated, Final, Literal

from pydantic import PlainValidator

from cordwright.project.faults import FieldFault, nearest, shown
from cordwright.project.months import (
    CLOCK_FORMS,
    DAY_FORMS,
    FORMS,
    TEMPERATURES,
    read_clock,
    read_month_day,
    read_months,
    read_temperature,
)
from cordwright.project.quantity import DIMENSIONS, SHARE_FORMS, Sign, parse_quantity, parse_share, read_number
from cordwright.project.texts import inner_path_fault

LONGEST_TEXT: Final = 2000


@dataclass(frozen=True, slots=True)
class Reader:
    """A reader of one kind of value, with the forms it accepts."""

    forms: str
    read: Callable[[object], object]

    def __call__(self, value: object) -> object:
        """Read one value.

        Raises:
            FieldFault: it cannot be taken.
        """
        return self.read(value)


def _quantity(dimension: str, sign: Sign = "not negative") -> PlainValidator:
    return PlainValidator(Reader(DIMENSIONS[dimension].forms, lambda value: parse_quantity(value, dimension, sign)))


def _share(most: float = 1.0, *, positive: bool = False) -> PlainValidator:
    def read(value: object) -> float:
        share = parse_share(value, most=most)
        if positive and not 0 < share < 1:
            raise FieldFault(f"{shown(value)} leaves nothing of one or the other", "a share between 0 and 100 %")
        return share

    return PlainValidator(Reader(SHARE_FORMS, read))


def _text(value: object) -> str:
    if not isinstance(value, str):
        raise FieldFault(f"{shown(value)} is not text", "write text in quotes")
    if len(value) > LONGEST_TEXT:
        raise FieldFault(f"the text has {len(value)} characters", f"at most {LONGEST_TEXT} are taken")
    return value


def _name(value: object) -> str:
    if not _text(value).strip():
        raise FieldFault("the text is empty", "write a name")
    return _text(value)


def _file(value: object) -> str:
    fault = inner_path_fault(_text(value))
    if fault:
        raise FieldFault(*fault)
    return _text(value)


def _date(value: object) -> date:
    if isinstance(value, datetime) or not isinstance(value, date):
        raise FieldFault(f"{shown(value)} is not a date", "write year-month-day without quotes: 2027-06-07")
    return value


def choice(*words: str) -> PlainValidator:
    """A reader of one of a few words."""

    def read(value: object) -> str:
        if isinstance(value, str) and value in words:
            return value
        raise FieldFault(f"{shown(value)} is none of the words known here", nearest(str(value), words))

    return PlainValidator(Reader(f"allowed: {', '.join(words)}", read))


def whole(least: int, most: int) -> PlainValidator:
    """A reader of a count."""
    forms = f"write a whole number from {least} to {most} without quotes"

    def read(value: object) -> int:
        if isinstance(value, bool) or not isinstance(value, int) or not least <= value <= most:
            raise FieldFault(f"{shown(value)} is no count that makes sense here", forms)
        return value

    return PlainValidator(Reader(forms, read))


def yes_no() -> PlainValidator:
    """A reader of true and false."""
    forms = "write true or false without quotes"

    def read(value: object) -> bool:
        if not isinstance(value, bool):
            raise FieldFault(f"{shown(value)} is neither true nor false", forms)
        return value

    return PlainValidator(Reader(forms, read))


def number(least: float, most: float, example: str) -> PlainValidator:
    """A reader of a bare number above `least`, up to `most`."""
    forms = f"write a number above {least:g} and at most {most:g}, such as {example}"

    def read(value: object) -> float:
        try:
            amount = float(read_number(value)) if isinstance(value, str) else value
        except FieldFault:
            amount = math.nan
        if isinstance(amount, bool) or not isinstance(amount, int | float) or not least < amount <= most:
            raise FieldFault(f"{shown(value)} is no number that makes sense here", forms)
        return float(amount)

    return PlainValidator(Reader(forms, read))


def _degrees(most: float) -> PlainValidator:
    def read(value: object) -> float:
        angle = parse_quantity(value, "degrees", "any")
        if abs(angle) > most:
            raise FieldFault(
                f"{shown(value)} is beyond {most:g} degrees", f"an angle from -{most:g} deg to {most:g} deg"
            )
        return angle

    return PlainValidator(Reader(DIMENSIONS["degrees"].forms, read))


def read_money(value: object) -> tuple[Fraction, str]:
    """Read `11000 EUR`: the amount and the currency's code.

    Raises:
        FieldFault: no sum of money, or a negative one.
    """
    forms = 'write the amount and the currency: "11000 EUR"'
    amount, _, code = value.strip().rpartition(" ") if isinstance(value, str) else ("", "", "")
    if len(code) != 3 or not code.isalpha() or not code.isascii() or not 0 < len(amount) <= 20:
        raise FieldFault(f"{shown(value)} is no sum of money", forms)
    if amount.strip().startswith("-"):
        raise FieldFault(f"{shown(value)} is negative", forms)
    return read_number(amount.strip()), code.upper()


def _locale(value: object) -> str:
    from babel import Locale, UnknownLocaleError

    text = _name(value)
    try:
        Locale.parse(text.replace("-", "_"))
    except (UnknownLocaleError, ValueError, TypeError):
        raise FieldFault(f"there is no locale {shown(text)}", 'write language and country, such as "en_GB"') from None
    return text


def _currency(value: object) -> str:
    from babel.numbers import is_currency

    text = _name(value)
    if not (len(text) == 3 and text.isascii() and text.isupper() and is_currency(text)):
        raise FieldFault(f"there is no currency {shown(text)}", "write its three letters of ISO 4217: EUR, USD, CLP")
    return text


def currency_decimals(currency: str) -> int:
    """How many decimals money of a currency has (2 for EUR, 0 for CLP)."""
    from babel.numbers import get_currency_precision

    return int(get_currency_precision(currency))


def _months(kind: str) -> PlainValidator:
    return PlainValidator(Reader(FORMS[kind], lambda value: read_months(value, kind)))


Twelve = tuple[float, ...]
MonthTemperatures = Annotated[Twelve, _months("temperature")]
MonthShares = Annotated[Twelve, _months("humidity")]
MonthDepths = Annotated[Twelve, _months("length")]
MonthDays = Annotated[Twelve, _months("days")]
MonthSpeeds = Annotated[Twelve, _months("speed")]
Temperature = Annotated[float, PlainValidator(Reader(TEMPERATURES, read_temperature))]
YearDay = Annotated[tuple[int, int], PlainValidator(Reader(DAY_FORMS, read_month_day))]
Clock = Annotated[float, PlainValidator(Reader(CLOCK_FORMS, read_clock))]
Speed = Annotated[float, _quantity("speed")]
Distance = Annotated[float, _quantity("distance")]
Time = Annotated[float, _quantity("time", "positive")]
Strength = Annotated[float, _quantity("pressure", "positive")]
Text = Annotated[str, PlainValidator(Reader("write text in quotes", _text))]
Name = Annotated[str, PlainValidator(Reader("write a name in quotes", _name))]
FileName = Annotated[str, PlainValidator(Reader("name a file in the project's folder in quotes", _file))]
Date = Annotated[date, PlainValidator(Reader("write year-month-day without quotes: 2027-06-07", _date))]
Size = Annotated[float, _quantity("length", "positive")]
Length = Annotated[float, _quantity("length")]
Level = Annotated[float, _quantity("length", "any")]
Volume = Annotated[float, _quantity("volume", "positive")]
Mass = Annotated[float, _quantity("mass", "positive")]
Weighed = Annotated[float, _quantity("mass")]
Density = Annotated[float, _quantity("density", "positive")]
Coverage = Annotated[float, _quantity("coverage", "positive")]
Bearing = Annotated[float, _quantity("angle", "any")]
Pitch = Annotated[float, _quantity("angle")]
Transmittance = Annotated[float, _quantity("transmittance", "positive")]
Conductivity = Annotated[float, _quantity("conductivity", "positive")]
Power = Annotated[float, _quantity("power", "positive")]
Latitude = Annotated[float, _degrees(90.0)]
Longitude = Annotated[float, _degrees(180.0)]
Share = Annotated[float, _share()]
PartShare = Annotated[float, _share(positive=True)]
Moisture = Annotated[float, _share(3.0)]
Parts = Annotated[float, number(0.0, 1000.0, "2 or 0.5")]
Bulking = Annotated[float, number(0.0, 3.0, "1.18")]
Money = Annotated[
    tuple[Fraction, str], PlainValidator(Reader('write the amount and the currency: "11000 EUR"', read_money))
]
Locale = Annotated[str, PlainValidator(Reader('write language and country, such as "en_GB"', _locale))]
Currency = Annotated[str, PlainValidator(Reader("write its three letters of ISO 4217: EUR, USD, CLP", _currency))]
Units = Annotated[Literal["metric", "imperial"], choice("metric", "imperial")]
