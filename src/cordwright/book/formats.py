"""How does a number read in the owner's own system and language?

SI becomes text here and nowhere else. Metric lengths follow the trade: whole millimetres under a metre, metres from
there on. Imperial lengths are feet and inches to the nearest sixteenth. Money has its currency's own decimals.
"""

from collections.abc import Sequence
from datetime import date
from decimal import Decimal
from functools import cache
from math import floor, log10
from typing import Final, Literal

from babel import Locale, UnknownLocaleError
from babel.dates import format_date, format_skeleton
from babel.numbers import format_decimal, format_percent, get_currency_precision

from cordwright.base import Check, Figure, InputError, Value
from cordwright.base.units import (
    BTU_PER_HOUR,
    CUBIC_YARD,
    FOOT,
    INCH,
    POUND,
    POUND_PER_CUBIC_FOOT,
    currency_of,
    is_figure_unit,
)

Units = Literal["metric", "imperial"]

SIXTEENTHS: Final = 16
FAR: Final = 10_000.0
"""From here on [m] a distance is shown in kilometres, or miles."""
MILE: Final = 5280 * FOOT
NB: Final = "\u00a0"
"""No line breaks between a number and its unit."""

PLAIN_UNITS: Final = {
    "h": "h",
    "deg": "°",
    "W": "W",
    "kWh": "kWh",
    "Wh/day": "Wh/day",
    "K.d": "K·d",
    "d": "days",
    "seasons": "seasons",
    "1/h": "air changes an hour",
}
METRIC_UNITS: Final = {
    "m2": ("m²", 1.0),
    "m3": ("m³", 1.0),
    "kg": ("kg", 1.0),
    "kg/m3": ("kg/m³", 1.0),
    "m2/kg": ("m²/kg", 1.0),
    "kg/m2h": ("kg/m²h", 1.0),
    "m/s": ("m/s", 1.0),
    "K": ("K", 1.0),
    "W/K": ("W/K", 1.0),
    "kg/m2": ("kg/m²", 1.0),
    "W/m2K": ("W/m²K", 1.0),
    "W/mK": ("W/mK", 1.0),
    "m2K/W": ("m²K/W", 1.0),
    "m2/day": ("m²/day", 1.0),
    "m3/m2": ("L/m²", 1e-3),
    "m/year": ("mm/year", 1e-3),
}
IMPERIAL_UNITS: Final = {
    "m2": ("ft²", FOOT**2),
    "m3": ("yd³", CUBIC_YARD),
    "kg": ("lb", POUND),
    "kg/m3": ("lb/ft³", POUND_PER_CUBIC_FOOT),
    "kg/m2h": ("lb/ft²h", POUND / FOOT**2),
    "K.d": ("°F·d", 5 / 9),
    "m/s": ("mph", 5280 * FOOT / 3600),
    "m2/kg": ("ft²/lb", FOOT**2 / POUND),
    "K": ("°F", 5 / 9),
    "W/K": ("Btu/h°F", BTU_PER_HOUR * 1.8),
    "kg/m2": ("lb/ft²", POUND / FOOT**2),
    "W/m2K": ("Btu/h·ft²·°F", BTU_PER_HOUR * 1.8 / FOOT**2),
    "W/mK": ("Btu/h·ft·°F", BTU_PER_HOUR * 1.8 / FOOT),
    "m2K/W": ("h·ft²·°F/Btu", FOOT**2 / (BTU_PER_HOUR * 1.8)),
    "m2/day": ("ft²/day", FOOT**2),
    "m3/m2": ("ft³/ft²", FOOT),
    "m/year": ("in/year", INCH),
}


@cache
def the_locale(name: str) -> Locale:
    """The owner's language and country, which set the decimal sign, the date and the money.

    Raises:
        InputError: no such locale.
    """
    try:
        return Locale.parse(name.replace("-", "_"))
    except (UnknownLocaleError, ValueError) as fault:
        raise InputError(f"there is no locale {name!r}; write one such as en_GB or es_CL") from fault


def show_number(value: float | Decimal, decimals: int, locale: str) -> str:
    """A bare number with so many decimals, in the locale's own signs."""
    pattern = "#,##0" + ("." + "0" * decimals if decimals else "")
    return format_decimal(value, format=pattern, locale=the_locale(locale))


def show_count(value: float, locale: str) -> str:
    """A count or a number of parts, with no more decimals than it has."""
    return format_decimal(value, format="#,##0.##", locale=the_locale(locale))


def decimals_for(value: float, unit: str) -> int:
    """How many decimals mean anything to a builder: three or four digits that stand, counts whole."""
    size = abs(value)
    if unit in ("kg/m3", "m3/m2"):
        return 0 if size >= 10 else 2
    if unit in ("", "kg", "h", "d", "W", "kWh") and value == round(value):
        return 0
    if unit in ("kg/m2h", "kg/m2"):
        return 2
    if unit in ("W/m2K", "W/mK"):
        return 2 if size >= 0.2 else 3
    if unit in ("m2", "m3", "m2/day", ""):
        return 2 if size < 100 and not 0 < size < 0.1 else _decimals_of_large_or_tiny(size)
    return 1 if size < 100 else 0


def _decimals_of_large_or_tiny(size: float) -> int:
    if size >= 100:
        return 1 if size < 1000 else 0
    return min(8, 1 - floor(log10(size)))


def show_feet(value: float) -> str:
    """A length [m] in feet and inches to the nearest 1/16 in, as on a tape."""
    total = round(abs(value) / INCH * SIXTEENTHS)
    feet, rest = divmod(total, 12 * SIXTEENTHS)
    inches, parts = divmod(rest, SIXTEENTHS)
    words = [f"{feet} ft"] if feet else []
    if inches or parts or not feet:
        words.append(f"{_with_fraction(inches, parts)} in")
    return ("-" if value < 0 and total else "") + " ".join(words).replace(" ", NB)


def _with_fraction(inches: int, parts: int) -> str:
    if not parts:
        return str(inches)
    below = SIXTEENTHS
    while parts % 2 == 0:
        parts, below = parts // 2, below // 2
    return f"{inches} {parts}/{below}" if inches else f"{parts}/{below}"


def show_millimetres(value: float, locale: str, units: Units = "metric") -> str:
    """A length [m] as it stands on a drawing: millimetres without unit, or feet and inches."""
    if units == "imperial":
        return show_feet(value).replace(NB + "ft", "'").replace(NB + "in", '"').replace(NB, " ")
    return format_decimal(round(value * 1000), format="0", locale=the_locale(locale))


def show_level(height: float, locale: str, units: Units = "metric") -> str:
    """A height [m] as a level on a drawing: its sign first, metres with two decimals, or feet and inches."""
    words = (
        show_millimetres(abs(height), locale, "imperial")
        if units == "imperial"
        else show_number(abs(height), 2, locale)
    )
    return ("±" if not height else "+" if height > 0 else "−") + words


def _show_length(value: float, units: Units, locale: str) -> str:
    if abs(value) >= FAR:
        sign, size = ("mi", MILE) if units == "imperial" else ("km", 1000.0)
        return f"{show_number(value / size, 0 if abs(value) >= 100 * size else 1, locale)}{NB}{sign}"
    if units == "imperial":
        return f"under 1/16{NB}in" if 0 < value < INCH / SIXTEENTHS / 2 else show_feet(value)
    if round(abs(value), 4) < 1:
        decimals = 1 if 0 < abs(value) < 0.01 else 0
        return f"{show_number(value * 1000, decimals, locale)}{NB}mm"
    return f"{show_number(value, 2, locale)}{NB}m"


def show_money(value: float, currency: str, locale: str) -> str:
    """An amount of money with its currency's own decimals (none for CLP)."""
    decimals = get_currency_precision(currency)
    return f"{show_number(value, decimals, locale)}{NB}{currency}"


def show_share(value: float, locale: str) -> str:
    """A fraction as percent: whole from 10 % up when that is near enough, else one decimal."""
    percent = value * 100
    pattern = "0.0" if abs(percent) < 10 and abs(percent - round(percent)) > 0.05 else "0"
    return format_percent(value, format=f"{pattern}{NB}%", locale=the_locale(locale))


def show_temperature(value: float, units: Units, locale: str) -> str:
    """A temperature [degC] to a whole degree Fahrenheit or half a degree Celsius."""
    if units == "imperial":
        return f"{show_number(value * 1.8 + 32, 0, locale)}{NB}°F"
    return f"{show_number(value, 0 if value == round(value) else 1, locale)}{NB}°C"


def show_day(value: date, locale: str) -> str:
    """A day and its month, short, where the year is plain."""
    return format_skeleton("MMMd", value, locale=the_locale(locale))


def show_month(value: date, locale: str) -> str:
    """The name of a day's month."""
    return format_date(value, format="LLLL", locale=the_locale(locale))


def show_date(value: date, locale: str) -> str:
    """A day of the year in words."""
    return format_date(value, format="long", locale=the_locale(locale))


def unit_of(unit: str, units: Units) -> tuple[str, float]:
    """The unit's sign in the owner's system, and how much of the SI unit one of it is."""
    table = IMPERIAL_UNITS if units == "imperial" else METRIC_UNITS
    return table.get(unit, (PLAIN_UNITS.get(unit, unit), 1.0))


def show_in(value: float | None, unit: str, units: Units, locale: str, decimals: int | None = None) -> str:
    """The bare number for a table column headed by its unit; a dash where nothing is known."""
    if value is None:
        return "–"
    amount = value / unit_of(unit, units)[1]
    return show_number(amount, decimals_for(amount, unit) if decimals is None else decimals, locale)


def show_value(value: Value | None, unit: str, units: Units, locale: str) -> str:
    """One value with its unit, in the owner's system and language.

    Raises:
        InputError: a unit no figure carries, or no such locale.
    """
    if value is None:
        return "not known"
    if isinstance(value, date):
        return show_date(value, locale)
    if not is_figure_unit(unit):
        raise InputError(f"no figure carries the unit {unit!r}")
    if unit == "m":
        return _show_length(value, units, locale)
    if unit == "1":
        return show_share(value, locale)
    if unit == "degC":
        return show_temperature(value, units, locale)
    return _show_amount(value, unit, units, locale)


def _show_amount(value: float, unit: str, units: Units, locale: str) -> str:
    if currency := currency_of(unit):
        area, size = unit_of("m2", units) if unit != currency else ("", 1.0)
        return show_money(value * size, currency, locale) + (f"/{area}" if area else "")
    sign, _ = unit_of(unit, units)
    number = show_in(value, unit, units, locale)
    return number + sign if sign == "°" else f"{number}{NB}{sign}".rstrip(NB)


def _alike(values: Sequence[Value], unit: str, units: Units, locale: str) -> list[str] | None:
    """Several values with as many decimals as the middle one, without unit; None where each needs its own unit."""
    numbers = [v for v in values if not isinstance(v, date)]
    if len(numbers) < len(values) or unit in ("m", "1", "degC"):
        return None
    if currency := currency_of(unit):
        size = 1.0 if unit == currency else unit_of("m2", units)[1]
        return [show_number(v * size, get_currency_precision(currency), locale) for v in numbers]
    size = unit_of(unit, units)[1]
    decimals = decimals_for(numbers[0] / size, unit)
    return [show_number(v / size, decimals, locale) for v in numbers]


ROUNDED: Final = frozenset(("W", "kWh", "Wh/day", "W/K", "h", "d", "K.d"))
"""Units of reckoned spans of work, time and heat: their figures end where their spread begins."""


def _rounded(figure: Figure, units: Units, *values: Value) -> list[Value]:
    """Values to the digits that stand beside half the figure's spread: two of its digits up to 35, one above.

    Common practice (rounding of a value to its uncertainty); never finer than the figure is shown without it.
    """
    step = _step(figure, units)
    return [v if isinstance(v, date) or not step else round(v / step) * step for v in values]


def _step(figure: Figure, units: Units) -> float:
    low, high = figure.low, figure.high
    if figure.unit not in ROUNDED or not isinstance(low, float) or not isinstance(high, float) or high <= low:
        return 0.0
    size = unit_of(figure.unit, units)[1]
    half = (high - low) / 2 / size
    power = floor(log10(half))
    return size * 10.0 ** (power - 1 if half / 10.0**power < TWO_DIGITS else power)


TWO_DIGITS: Final = 3.55
"""Up to this first figure of half a spread its second one counts too."""


def show_spread(figure: Figure, units: Units, locale: str) -> str:
    """The figure's spread, low to high, or from where a limit may lie; blank where it has none."""
    if figure.value is None or (figure.low is None and figure.high is None):
        return ""
    low, high = (figure.value if v is None else v for v in (figure.low, figure.high))
    if low == high:
        return ""
    middle, low, high = _rounded(figure, units, figure.value, low, high)
    bare = _alike((middle, low, high), figure.unit, units, locale)
    ends = bare[1:] if bare else [show_value(v, figure.unit, units, locale) for v in (low, high)]
    if ends[0] == ends[1]:
        return ""
    return f"from {ends[0]}" if figure.high is None and figure.bound == "at_least" else f"{ends[0]} to {ends[1]}"


def show_missing(missing: Sequence[str]) -> str:
    """What must be stated or measured before there is a number."""
    words = list(missing)
    if not words:
        return "not known"
    named = words[0] if len(words) == 1 else ", ".join(words[:-1]) + " and " + words[-1]
    return f"not known: {named} {'is' if len(words) == 1 else 'are'} missing"


def show_middle(figure: Figure, units: Units, locale: str) -> str:
    """The figure's value with its bound in words, without the spread."""
    if figure.value is None:
        return show_missing(figure.missing)
    bound = {"at_least": "at least ", "at_most": "at most "}.get(figure.bound, "")
    return bound + show_value(_rounded(figure, units, figure.value)[0], figure.unit, units, locale)


def show_figure(figure: Figure, units: Units, locale: str) -> str:
    """One figure as a line of text: "3.11 m³ (2.73 to 3.51)", "at least 669 EUR", "not known: ... is missing"."""
    spread = show_spread(figure, units, locale)
    return show_middle(figure, units, locale) + (f" ({spread})" if spread else "")


def show_margin(check: Check, units: Units, locale: str) -> str:
    """How much there is to spare or short, as a part of the sentence."""
    if check.margin is None:
        return check.not_judged
    if check.margin == 0:
        return "nothing to spare"
    amount = show_value(abs(check.margin), check.unit, units, locale)
    return f"short by {amount}" if check.margin < 0 else f"{amount} to spare"


def show_check(check: Check, units: Units, locale: str) -> str:
    """One check as a line of text: its word, the demand against the capacity, and the margin."""
    if check.verdict == "not judged":
        return f"not judged: {check.not_judged}"
    demand, capacity = (show_value(v, check.unit, units, locale) for v in (check.demand, check.capacity))
    return f"{check.verdict}: {demand} against {capacity}, {show_margin(check, units, locale)}"


def show_figures(value: float, locale: str) -> str:
    """A number with four figures that count, for the lines of a working."""
    if value == round(value) and abs(value) < 1e6:
        return show_number(value, 0, locale)
    places = 3 - floor(log10(abs(value)))
    return show_number(value, min(8, max(0, places)), locale)
