"""Which units may a figure carry, and what is the exact size of the units people type?

Inside, everything is SI. Text becomes SI in `project`; SI becomes text in `book`. Both use the exact definitions here.

Sources: international yard and pound agreement (1959), exact by definition; US liquid gallon 231 cubic inches;
international table Btu 1055.05585262 J.
"""

from typing import Final

INCH: Final = 0.0254
FOOT: Final = 12 * INCH
YARD: Final = 3 * FOOT
POUND: Final = 0.45359237
CUBIC_FOOT: Final = FOOT**3
CUBIC_YARD: Final = YARD**3
CORD: Final = 128 * CUBIC_FOOT
US_GALLON: Final = 231 * INCH**3
LITRE: Final = 1e-3
POUND_PER_CUBIC_FOOT: Final = POUND / CUBIC_FOOT
BTU_PER_HOUR: Final = 1055.05585262 / 3600

FIGURE_UNITS: Final = frozenset(
    {
        "",
        "1",
        "m",
        "m2",
        "m3",
        "kg",
        "kg/m3",
        "m2/kg",
        "h",
        "deg",
        "date",
        "W",
        "kWh",
        "Wh/day",
        "K",
        "K.d",
        "seasons",
        "1/h",
        "degC",
        "d",
        "kg/m2h",
        "W/m2K",
        "W/mK",
        "W/K",
        "m2K/W",
        "m/s",
        "m2/day",
        "m3/m2",
        "m/year",
    }
)
"""Units a figure may carry besides money; shares are fractions with unit "1", counts have ""."""


def currency_of(unit: str) -> str:
    """The ISO 4217 code of a sum of money (`EUR`) or of money to an area (`EUR/m2`); empty for any other unit."""
    code = unit.removesuffix("/m2")
    return code if len(code) == 3 and code.isascii() and code.isalpha() and code.isupper() else ""


def is_figure_unit(unit: str) -> bool:
    """Tell whether a figure may carry this unit: a listed one, a currency's code, or that to a square metre."""
    return unit in FIGURE_UNITS or bool(currency_of(unit))
