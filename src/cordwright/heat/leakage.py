"""How much outside air does the wind and the warmth of the room draw through the shell?"""

import math
from typing import Final

import numpy as np
from numpy.typing import NDArray

from cordwright.base import OutOfRangeError, table

Floats = NDArray[np.float64]
AIR: Final = 1.204 * 1006.0
"""Heat that a cubic metre of air at 20 degC holds per kelvin [J/m3K]."""
FLOW_POWER: Final = 0.65
DRAUGHT: Final = 4.0
"""Pressure at which a leakage area is told [Pa]."""


def usual_air_changes(n50: float) -> float:
    """Air changes an hour in winter from those at 50 Pa [1/h].

    Args:
        n50: air changes at 50 Pa of a fan in the door [1/h].

    Sources: rule of the twentieth (`n50-twentieth`).
    """
    return n50 / 20


def leakage_area(n50: float, volume: float) -> float:
    """Area of one hole that leaks as much as the whole shell at 4 Pa [m2].

    Args:
        n50: air changes at 50 Pa [1/h].
        volume: of the room [m3].

    Sources: power law of 0.65, orifice without contraction (`leakage-area`).
    """
    flow = n50 * volume / 3600 * (DRAUGHT / 50) ** FLOW_POWER
    return float(flow / math.sqrt(2 * DRAUGHT / 1.2))


def shelter_factors(shelter: int) -> tuple[float, float]:
    """Stack and wind coefficients of a one-storey house [(m3/s)2/(cm4 K), ... per (m/s)2].

    Args:
        shelter: 1 in the open to 5 among many houses.

    Raises:
        OutOfRangeError: another class.

    Sources: LBL model (`lbl-infiltration`).
    """
    row = table("house")["infiltration"]
    if shelter not in range(1, 6):
        raise OutOfRangeError(f"no shelter class {shelter}; from 1, in the open, to 5, among houses")
    return float(row["stack"]), float(row["wind"][shelter - 1])


def infiltration(area: float, difference: Floats, wind: Floats, shelter: int) -> Floats:
    """Air that comes in, shape of `wind` [m3/s].

    Args:
        area: leakage area at 4 Pa [m2].
        difference: of the temperatures indoors and outdoors [K].
        wind: speed at the weather station [m/s].
        shelter: 1 to 5.

    Sources: LBL model (`lbl-infiltration`).
    """
    stack, blow = shelter_factors(shelter)
    return np.asarray(area * 1e4 / 1000 * np.sqrt(stack * np.abs(difference) + blow * wind**2))
