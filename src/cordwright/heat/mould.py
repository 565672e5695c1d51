"""How warm must the inner face be so that no mould grows there?"""

import math
from typing import Final

from cordwright.base import OutOfRangeError
from cordwright.site.moist_air import saturation_pressure

MOST_HUMIDITY: Final = 0.8
"""Monthly humidity at the face over which mould grows [1]."""
FACE: Final = 0.25
"""Inner surface resistance for damp, where furniture stands near [m2K/W]."""


def dew_point(pressure: float) -> float:
    """Temperature at which air of a vapour pressure is saturated [degC].

    Args:
        pressure: of the vapour [Pa].

    Raises:
        OutOfRangeError: a pressure beyond the range of the saturation formula.

    Sources: ISO 13788 as remembered (`iso-13788-memory`), solved for the temperature.
    """
    least, most = saturation_pressure(-40.0), saturation_pressure(60.0)
    if not least <= pressure <= most:
        raise OutOfRangeError(f"no dew point is given at {pressure:g} Pa; from {least:.0f} to {most:.0f} Pa")
    ln = math.log(pressure / 610.5)
    return 237.3 * ln / (17.269 - ln) if pressure >= 610.5 else 265.5 * ln / (21.875 - ln)


def least_face_temperature(pressure: float) -> float:
    """Temperature of the face at which its humidity is just at the limit of mould [degC].

    Args:
        pressure: of the vapour indoors [Pa].

    Sources: ISO 13788 (`iso-13788-memory`): 80 % at the face.
    """
    return dew_point(pressure / MOST_HUMIDITY)


def needed_factor(pressure: float, inside: float, outside: float) -> float:
    """Temperature factor the face needs against mould: 0 as cold as outdoors, 1 as warm as the room [1].

    Args:
        pressure: of the vapour indoors [Pa].
        inside: air temperature [degC].
        outside: air temperature [degC], colder than inside.

    Raises:
        OutOfRangeError: it is as warm outdoors.

    Sources: ISO 13788 (`iso-13788-memory`).
    """
    if outside >= inside:
        raise OutOfRangeError("a temperature factor speaks of a room warmer than the air outdoors")
    return (least_face_temperature(pressure) - outside) / (inside - outside)


def plain_factor(transmittance: float, face: float = FACE) -> float:
    """Temperature factor of a face with straight heat flow [1].

    Args:
        transmittance: U-value with the surface resistance of the heat loss, 0.13 [W/m2K].
        face: surface resistance for damp [m2K/W].

    Sources: closed form; U is taken anew with the damp surface.
    """
    anew = 1 / (1 / transmittance - 0.13 + face)
    return 1 - anew * face
