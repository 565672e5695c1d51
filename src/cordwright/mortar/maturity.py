"""How old is the mortar really, when the nights were cold?

Warmth times time hardens it: a month in a cool autumn is less than three weeks in July.
"""

import math
from collections.abc import Callable
from datetime import date, timedelta
from typing import Final

from cordwright.base import OutOfRangeError, table

KELVIN: Final = 273.15
LONGEST: Final = 400
"""Days after which no ripening is followed any further."""


def nurse_saul(temperature: float, days: float) -> float:
    """Maturity gained at a steady temperature: degrees over the datum times days [K.d]; under the datum none.

    Args:
        temperature: of the mortar [degC].
        days: time at it [d].

    Sources: Nurse and Saul as remembered (`nurse-saul-memory`), datum -10 degC.
    """
    return max(0.0, temperature - float(table("curing")["maturity"]["datum_C"])) * days


def days_at_reference(temperature: float, days: float) -> float:
    """Days at 20 degC that give the same temperature-time maturity [d].

    Args:
        temperature: of the mortar [degC].
        days: time at it [d].

    Sources: as `nurse_saul`; 28 days at 11 degC are about 20 days at 20 degC.
    """
    row = table("curing")["maturity"]
    return nurse_saul(temperature, days) / (float(row["reference_C"]) - float(row["datum_C"]))


def arrhenius_rate(temperature: float, activation: float | None = None) -> float:
    """Speed of hardening over that at 20 degC [1].

    Args:
        temperature: of the mortar [degC].
        activation: activation energy over the gas constant [K]; None takes 5000 K.

    Raises:
        OutOfRangeError: under -10 degC or over 60 degC.

    Sources: Arrhenius (`arrhenius-age`), activation energy over gas constant 5000 K.
    """
    row = table("curing")["maturity"]
    if not float(row["datum_C"]) <= temperature <= 60.0:
        raise OutOfRangeError(f"no hardening rate is given at {temperature:g} degC; from -10 to 60 degC")
    by = float(row["activation_K"]) if activation is None else activation
    return math.exp(by * (1.0 / (float(row["reference_C"]) + KELVIN) - 1.0 / (temperature + KELVIN)))


def equivalent_age(temperature: float, days: float, activation: float | None = None) -> float:
    """Age at 20 degC that hardens mortar as far [d].

    Args:
        temperature: of the mortar [degC].
        days: time at it [d].
        activation: activation energy over the gas constant [K]; None takes 5000 K.

    Raises:
        OutOfRangeError: see `arrhenius_rate`.

    Sources: as `arrhenius_rate`.
    """
    return days * arrhenius_rate(temperature, activation)


def ripe_on(laid: date, wanted: float, gain: Callable[[date], float]) -> date | None:
    """The day on which mortar laid on a day has gained enough; None when a year does not do.

    Args:
        laid: the day of laying, which itself gains nothing.
        wanted: what must be gained, in the unit of `gain`.
        gain: what one day gives.
    """
    have = 0.0
    for n in range(1, LONGEST + 1):
        have += gain(laid + timedelta(days=n))
        if have >= wanted - 1e-9:
            return laid + timedelta(days=n)
    return None
