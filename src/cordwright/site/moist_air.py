"""How much water can air of a given temperature hold?"""

import math

from cordwright.base import OutOfRangeError


def saturation_pressure(temperature: float) -> float:
    """Pressure of water vapour in saturated air, over water from 0 degC up and over ice below [Pa].

    Args:
        temperature: of the air or the wet face [degC].

    Raises:
        OutOfRangeError: outside -40 to 60 degC.

    Sources: ISO 13788 as remembered (`iso-13788-memory`); within 0.6 % of other formulations below 0, 0.2 % above.
    """
    if not -40.0 <= temperature <= 60.0:
        raise OutOfRangeError(f"no vapour pressure is given at {temperature:g} degC; from -40 to 60 degC")
    if temperature >= 0:
        return 610.5 * math.exp(17.269 * temperature / (237.3 + temperature))
    return 610.5 * math.exp(21.875 * temperature / (265.5 + temperature))
