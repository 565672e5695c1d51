"""How does a sentence of advice carry its numbers, so that each owner reads them in their own units?"""

import re
from dataclasses import dataclass
from typing import Final

from cordwright.base import Value
from cordwright.base.units import FOOT

MILE_H: Final = 5280 * FOOT / 3600
"""Metres a second in one mile an hour."""
_PRINTED: Final = re.compile(r"\{(\d+)(F|mph)\}")


@dataclass(frozen=True, slots=True, kw_only=True)
class Advice:
    """A sentence with a pair of braces where each amount goes, and those amounts with their units, in SI."""

    words: str
    amounts: tuple[tuple[Value, str], ...] = ()


def celsius(temperature: float) -> float:
    """A temperature on the Fahrenheit scale [degF] in degC."""
    return (temperature - 32.0) / 1.8


def fahrenheit(temperature: float) -> float:
    """A temperature [degC] on the Fahrenheit scale [degF]."""
    return temperature * 1.8 + 32.0


def printed(words: str) -> Advice:
    """Turn a table's sentence with its printed units, `over {40F}`, into advice in SI."""
    amounts = tuple(
        (celsius(float(number)), "degC") if unit == "F" else (float(number) * MILE_H, "m/s")
        for number, unit in _PRINTED.findall(words)
    )
    return Advice(words=_PRINTED.sub("{}", words), amounts=amounts)
