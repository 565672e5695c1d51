"""What length, mass or share did the owner mean by the words typed?

`6 ft 10 in`, `6'10"`, `2 1/2 in`, `350mm` and `2,25 m` become SI. A bare number is refused with what it could be: a
wall of 14 inches and one of 14 centimetres are two different winters. Numbers are kept as exact fractions until the
end, so that every spelling of one length gives the same float. Nothing typed is ever evaluated.
"""

import math
import re
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from importlib.resources import files
from types import MappingProxyType
from typing import TYPE_CHECKING, Final, Literal

from cordwright.project.faults import FieldFault, shown

if TYPE_CHECKING:
    from pint import UnitRegistry

Sign = Literal["any", "not negative", "positive"]
Term = tuple[Fraction, str]

LONGEST: Final = 60
"""Characters in the longest text that is looked at; the longest honest one, "14 ft 5 1/2 in", has 14."""


class QuantityFault(FieldFault):
    """Words that are not the quantity wanted."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Dimension:
    """One kind of quantity: the unit it is kept in, what a bare number of it could be, how to write it, its limit."""

    words: str
    unit: str
    guesses: tuple[str, ...]
    forms: str
    most: float
    figure_unit: str = ""


DIMENSIONS: Final[Mapping[str, Dimension]] = MappingProxyType(
    {
        "length": Dimension(
            words="a length",
            unit="m",
            guesses=("in", "cm"),
            forms='write the unit: "350 mm", "2.25 m", "14 in", "6 ft 10 in" or 6\'10"',
            most=1e4,
            figure_unit="m",
        ),
        "area": Dimension(
            words="an area",
            unit="m2",
            guesses=("m2", "ft2"),
            forms='write the unit: "60 m2" or "650 ft2"',
            most=1e7,
            figure_unit="m2",
        ),
        "volume": Dimension(
            words="a volume",
            unit="m3",
            guesses=("L", "gal", "m3"),
            forms='write the unit: "12 L", "3 gal", "0.5 m3", "1 yd3", "2 cord" or "4.6 stere"',
            most=1e6,
            figure_unit="m3",
        ),
        "mass": Dimension(
            words="a mass",
            unit="kg",
            guesses=("kg", "lb"),
            forms='write the unit: "25 kg", "94 lb" or "3.4 t"',
            most=1e7,
            figure_unit="kg",
        ),
        "density": Dimension(
            words="a density",
            unit="kg/m3",
            guesses=("kg/m3", "lb/ft3"),
            forms='write the unit: "560 kg/m3", "1.2 kg/L" or "35 lb/ft3"',
            most=3e4,
            figure_unit="kg/m3",
        ),
        "angle": Dimension(
            words="an angle", unit="deg", guesses=("deg",), forms='write the unit: "27 deg"', most=360.0
        ),
        "degrees": Dimension(
            words="an angle",
            unit="deg",
            guesses=("deg",),
            forms='write the unit: "57.9 deg"',
            most=360.0,
            figure_unit="deg",
        ),
        "time": Dimension(
            words="a time",
            unit="h",
            guesses=("h", "day"),
            forms='write the unit: "8 h" or "3 day"',
            most=1e6,
            figure_unit="h",
        ),
        "coverage": Dimension(
            words="a coverage",
            unit="m2/m3",
            guesses=("m2/L", "ft2/gal"),
            forms='write the face that one volume covers: "8 m2/L" or "300 ft2/gal"',
            most=1e6,
        ),
        "force": Dimension(words="a force", unit="N", guesses=("N", "kN"), forms='write the unit: "18 kN"', most=1e9),
        "pressure": Dimension(
            words="a load on an area",
            unit="Pa",
            guesses=("kN/m2", "psf"),
            forms='write the unit: "1.5 kN/m2" or "30 psf"',
            most=1e12,
        ),
        "transmittance": Dimension(
            words="a U-value",
            unit="W/m2K",
            guesses=("W/m2K",),
            forms='write the unit: "1.4 W/m2K"',
            most=20.0,
            figure_unit="W/m2K",
        ),
        "conductivity": Dimension(
            words="a conductivity",
            unit="W/mK",
            guesses=("W/mK",),
            forms='write the unit: "0.042 W/mK"',
            most=500.0,
            figure_unit="W/mK",
        ),
        "power": Dimension(
            words="a power",
            unit="W",
            guesses=("kW", "W"),
            forms='write the unit: "5 kW" or "5000 W"',
            most=1e6,
            figure_unit="W",
        ),
        "distance": Dimension(
            words="a distance",
            unit="m",
            guesses=("km", "mi"),
            forms='write the unit: "38 km" or "24 mi"',
            most=2e7,
        ),
        "speed": Dimension(
            words="a speed",
            unit="m/s",
            guesses=("m/s", "km/h", "mph"),
            forms='write the unit: "3.4 m/s", "12 km/h", "8 mph" or "11 ft/s"',
            most=150.0,
        ),
    }
)
"""What can be asked for. `most` [in `unit`] is beyond anything a small building has: a slip of the finger, no size."""


@cache
def _registry() -> "UnitRegistry[Fraction]":
    """Pint with the units of data/units.txt alone; the usual registry takes far longer to build and knows too much."""
    from pint import UnitRegistry

    registry: UnitRegistry[Fraction] = UnitRegistry(None, non_int_type=Fraction)
    registry.load_definitions(files("cordwright.data").joinpath("units.txt").read_text(encoding="utf-8").splitlines())
    return registry


@cache
def _known(unit: str) -> str | None:
    """The unit as the registry spells it: as typed, or whatever the case of its letters; None is no unit."""
    registry = _registry()
    for spelling in (unit, unit.lower()):
        if spelling in registry:
            return spelling
    return next((name for name in dir(registry) if name.lower() == unit.lower() and name in registry), None)


@cache
def _measure(unit: str) -> tuple[Fraction, Mapping[str, int]] | None:
    """Size of a unit in base units and its dimensions, None for no unit we know."""
    parts = [_known(part) for part in unit.split("/")]
    if len(parts) > 2 or None in parts:
        return None
    registry = _registry()
    pint_unit = registry.parse_units("/".join(part for part in parts if part))
    factor, _ = registry.get_base_units(pint_unit)
    return Fraction(str(factor)), {name: int(str(power)) for name, power in pint_unit.dimensionality.items()}


def unit_size(unit: str, dimension: str) -> Fraction:
    """How many SI units (degrees for an angle) one typed unit holds, exactly.

    Raises:
        QuantityFault: no such unit, or one of another dimension.
    """
    kind = DIMENSIONS[dimension]
    measured, wanted = _measure(unit), _measure(kind.unit)
    assert wanted is not None
    if measured is None:
        raise QuantityFault(f"there is no unit {shown(unit)}", kind.forms)
    if measured[1] != wanted[1]:
        raise QuantityFault(f"{shown(unit)} does not measure {kind.words}", kind.forms)
    return measured[0] / wanted[0]


_TYPOGRAPHY: Final = str.maketrans(
    {
        "\u00a0": " ",
        "\u2007": " ",
        "\u2009": " ",
        "\u202f": " ",
        "\t": " ",
        "′": "'",
        "’": "'",
        "″": '"',
        "”": '"',
        "“": '"',
        "−": "-",
        "⁄": "/",
        "²": "2",
        "³": "3",
        "½": " 1/2",
        "¼": " 1/4",
        "¾": " 3/4",
        "⅛": " 1/8",
        "⅜": " 3/8",
        "⅝": " 5/8",
        "⅞": " 7/8",
    }
)
_NUMBER: Final = r"[0-9]+[ -]+[0-9]+/[0-9]+|[0-9]+/[0-9]+|[0-9]+[.,][0-9]+|[.,][0-9]+|[0-9]+"
_UNIT: Final = r"[A-Za-z°%]+[0-9]?(?![0-9])(?: ?/ ?[A-Za-z]+[0-9]?[A-Za-z]?)?|'|\""
_TERM: Final = re.compile(rf" *({_NUMBER}) *({_UNIT})?")
_MARKS: Final = MappingProxyType({"'": "ft", '"': "in"})


def _plain(text: str) -> str:
    """The text in plain signs: one kind of space, prime and fraction."""
    return text.translate(_TYPOGRAPHY).replace("''", '"').strip()


def read_number(text: str) -> Fraction:
    """Read `12`, `2.25`, `2,25`, `1/2` or `2 1/2` exactly.

    Raises:
        QuantityFault: `1,200` (thousands or decimals?), a division by nothing, or no number.
    """
    if re.fullmatch(r"[1-9][0-9]{0,2},[0-9]{3}", text):
        whole, decimals = text.replace(",", ""), text.replace(",", ".")
        raise QuantityFault(f"{text} can be read as {whole} or as {decimals}", f"write {whole} or {decimals}")
    try:
        return sum((Fraction(part.replace(",", ".")) for part in re.split(r"[ -]+", text.strip())), Fraction(0))
    except (ValueError, ZeroDivisionError):
        raise QuantityFault(f"{shown(text)} is not a number", "write digits with one decimal point: 2.25") from None


def _terms(text: str, forms: str) -> tuple[bool, tuple[Term, ...]]:
    """Cut the text into numbers with their units: `-6'10"` gives minus, then 6 ft and 10 in."""
    if len(text) > LONGEST:
        raise QuantityFault(f"{shown(text)} runs to {len(text)} characters", forms)
    plain = _plain(text)
    negative, rest = plain.startswith("-"), plain.removeprefix("-").rstrip()
    terms: list[Term] = []
    position = 0
    while position < len(rest):
        match = _TERM.match(rest, position)
        if not match:
            raise QuantityFault(f"{shown(text)} cannot be read", forms)
        unit = (match[2] or "").replace(" ", "")
        terms.append((read_number(match[1]), _MARKS.get(unit, unit)))
        position = match.end()
    if not terms:
        raise QuantityFault("there is nothing written", forms)
    return negative, tuple(terms)


def _add(text: str, terms: tuple[Term, ...], dimension: str) -> Fraction:
    """Add feet and inches (each next unit smaller, each next number less than one of the unit before)."""
    forms = DIMENSIONS[dimension].forms
    total = Fraction(0)
    before: Fraction | None = None
    for number, unit in terms:
        if not unit:
            raise QuantityFault(f"{shown(text)} holds a number without a unit", forms)
        size = unit_size(unit, dimension)
        if before is not None and number * size >= before:
            message = f"{shown(text)} does not add up: {float(number):g} {unit} is not less than the part before"
            raise QuantityFault(message, forms)
        total += number * size
        before = size
    if any(number.denominator != 1 for number, _ in terms[:-1]):
        raise QuantityFault(f"{shown(text)} has a fraction before its last part", forms)
    return total


def _millimetres(number: Fraction, unit: str) -> str:
    return f"{float(number):g} {unit} ({float(number * unit_size(unit, 'length') * 1000):.0f} mm)"


def _length_guesses(number: Fraction) -> str:
    """What a bare length could be: units in which that number is a size found on a building site."""
    if number >= 100:
        return f"{float(number):g} mm or {_millimetres(number, 'cm')}"
    if number >= 10:
        return " or ".join(_millimetres(number, unit) for unit in DIMENSIONS["length"].guesses)
    return f"{_millimetres(number, 'm')}, {_millimetres(number, 'ft')} or {_millimetres(number, 'in')}"


def bare_number(number: Fraction, dimension: str) -> QuantityFault:
    """Say what a number without a unit could mean."""
    kind = DIMENSIONS[dimension]
    if dimension == "length":
        could = _length_guesses(abs(number))
    else:
        could = " or ".join(f"{float(abs(number)):g} {unit}" for unit in kind.guesses)
    return QuantityFault(f"{float(number):g} has no unit: {could}?", kind.forms)


def bounded(text: str, value: Fraction, dimension: str, sign: Sign) -> float:
    """Give a quantity as a float once its sign and size make sense.

    Args:
        text: the owner's words, for the message.
        value: the quantity [SI, degrees for an angle].
        dimension: one of DIMENSIONS.
        sign: whether zero and negative values make sense here.

    Raises:
        QuantityFault: wrong sign, or beyond anything a small building has.
    """
    kind = DIMENSIONS[dimension]
    if sign != "any" and value < 0:
        raise QuantityFault(f"{shown(text)} is negative", f"{kind.words} here is zero or more")
    if sign == "positive" and value == 0:
        raise QuantityFault(f"{shown(text)} is nothing", f"{kind.words} here is more than zero")
    if abs(value) > kind.most:
        raise QuantityFault(f"{shown(text)} is more than {kind.most:g} {kind.unit}", "look for a slipped digit or unit")
    return float(value)


def parse_quantity(text: object, dimension: str, sign: Sign = "not negative") -> float:
    """Read a quantity with its unit, in SI (`angle` in radians, `degrees` in degrees).

    Args:
        text: what the owner typed; anything but text is a bare number or a fault.
        dimension: one of DIMENSIONS.
        sign: whether zero and negative values make sense here.

    Raises:
        QuantityFault: no unit, a wrong one, not finite, or not to be read; says what is accepted.
    """
    kind = DIMENSIONS[dimension]
    if isinstance(text, int | float) and not isinstance(text, bool) and abs(text) < 1e15:
        raise bare_number(Fraction(str(text)), dimension)
    if not isinstance(text, str):
        raise QuantityFault(f"{shown(text)} is not {kind.words}", kind.forms)
    negative, terms = _terms(text, kind.forms)
    if len(terms) == 1 and not terms[0][1]:
        raise bare_number(-terms[0][0] if negative else terms[0][0], dimension)
    total = _add(text, terms, dimension)
    value = bounded(text, -total if negative else total, dimension, sign)
    return math.radians(value) if dimension == "angle" else value


def read_figure(text: str) -> tuple[float, str] | None:
    """Read a quantity of any dimension that a figure may carry: its SI value and unit, or None for mere words."""
    if text.strip().endswith("%"):
        try:
            return parse_share(text, most=100.0), "1"
        except QuantityFault:
            return None
    for name, kind in DIMENSIONS.items():
        if not kind.figure_unit:
            continue
        try:
            return parse_quantity(text, name, "any"), kind.figure_unit
        except QuantityFault:
            continue
    return None


SHARE_FORMS: Final = 'write "60 %" or 0.6'


def parse_share(value: object, *, most: float = 1.0) -> float:
    """Read a share: `60 %`, or a bare number from 0 to below 1.

    Args:
        value: what the owner typed.
        most: the largest share that makes sense [1]; moisture of green wood is often more than 1.

    Raises:
        QuantityFault: a bare number of 1 or more (percent or not?), negative, too large, or not to be read.
    """
    if isinstance(value, bool) or not isinstance(value, str | int | float):
        raise QuantityFault(f"{shown(value)} is not a share", SHARE_FORMS)
    if not isinstance(value, str) and not abs(value) < 1e15:
        raise QuantityFault(f"{shown(value)} is not a share", SHARE_FORMS)
    negative, terms = _terms(str(value), SHARE_FORMS)
    number, unit = terms[0]
    if len(terms) > 1 or unit not in ("", "%"):
        raise QuantityFault(f"{shown(value)} is not a share", SHARE_FORMS)
    if negative and number:
        raise QuantityFault(f"{shown(value)} is negative", "a share is zero or more")
    if not unit and number >= 1:
        raise QuantityFault(f"{shown(value)} could be {float(number):g} % or {float(number) * 100:g} %", SHARE_FORMS)
    share = number / 100 if unit else number
    if share > most:
        raise QuantityFault(f"{shown(value)} is more than {most * 100:g} %", "look for a slipped digit")
    return float(share)
