"""Does today's sun and wind dry the fresh mortar faster than it can set?

Two published formulas for the water that leaves a wet face; the true rate can lie 40 % to either side.
"""

from typing import Final

from cordwright.base import Cite, Figure, OutOfRangeError, Step, table
from cordwright.site import saturation_pressure

KM_H: Final = 3.6
"""Kilometres an hour in one metre a second."""
UNO: Final = Cite("uno-1998", "metric form as printed")
SPREAD: Final = Cite("hover-2020", "40 % either way")


def uno(face: float, air: float, humidity: float, wind: float) -> float:
    """Water that leaves a wet mortar face [kg/m2h].

    Args:
        face: temperature of the mortar [degC].
        air: temperature of the air [degC].
        humidity: relative humidity of the air [1].
        wind: speed half a metre over the face [m/s].

    Raises:
        OutOfRangeError: beyond the chart that the formula was fitted to.

    Sources: Uno 1998 as read; 4.4 to 40.6 degC, wind to 11.2 m/s (the chart's edges, `aci-305-memory`).
    """
    _refuse_beyond(face, air, humidity, wind)
    drying = (face + 18.0) ** 2.5 - humidity * (air + 18.0) ** 2.5
    return float(max(0.0, 5.0 * drying * (wind * KM_H + 4.0) * 1e-6))


def menzel(face: float, air: float, humidity: float, wind: float) -> float:
    """Water that leaves a wet mortar face, by vapour pressures [kg/m2h].

    Args:
        face: temperature of the mortar [degC].
        air: temperature of the air [degC].
        humidity: relative humidity of the air [1].
        wind: speed half a metre over the face [m/s].

    Raises:
        OutOfRangeError: beyond the chart that the formula was fitted to.

    Sources: Menzel 1954, metric form as remembered; the same limits as `uno`.
    """
    _refuse_beyond(face, air, humidity, wind)
    drying = (saturation_pressure(face) - humidity * saturation_pressure(air)) / 1000.0
    return max(0.0, 0.315 * drying * (0.253 + 0.060 * wind * KM_H))


def _refuse_beyond(face: float, air: float, humidity: float, wind: float) -> None:
    row = table("curing")["evaporation"]
    for what, value in (("mortar", face), ("air", air)):
        if not row["least_C"] <= value <= row["most_C"]:
            raise OutOfRangeError(f"{what} at {value:g} degC lies beyond the chart, 4.4 to 40.6 degC")
    if not 0.0 <= humidity <= 1.0:
        raise OutOfRangeError(f"a relative humidity of {humidity * 100:g} % is none")
    if not 0.0 <= wind <= row["most_wind"]:
        raise OutOfRangeError(f"wind of {wind:g} m/s lies beyond the chart, 0 to 11.2 m/s")


def evaporation_limit() -> float:
    """Rate over which a fresh face is likely to crack by drying [kg/m2h].

    Sources: ACI 305 as remembered (`aci-305-memory`): 1.0 kg/m2h, 0.20 lb/ft2h.
    """
    return float(table("curing")["evaporation"]["limit"])


def evaporation_figure(air: float, humidity: float | None, wind: float | None) -> Figure:
    """The drying of a fresh face that is as warm as the air, with both formulas in its working.

    Args:
        air: temperature of air and mortar [degC].
        humidity: relative humidity [1], None when unknown.
        wind: speed at the wall [m/s], None when unknown.
    """
    missing = [w for w, v in (("the humidity", humidity), ("the wind", wind)) if v is None]
    if humidity is None or wind is None:
        return unknown_evaporation(tuple(missing))
    try:
        rate, other = uno(air, air, humidity, wind), menzel(air, air, humidity, wind)
    except OutOfRangeError as beyond:
        return unknown_evaporation((f"weather within the formula's range ({beyond})",))
    share = float(table("curing")["evaporation"]["uncertainty"])
    return Figure(
        key="mortar.evaporation",
        label="water that leaves a fresh face in an hour, mortar as warm as the air",
        value=rate,
        low=rate * (1 - share),
        high=rate * (1 + share),
        unit="kg/m2h",
        sources=(UNO, Cite("menzel-1954", "metric form"), SPREAD),
        steps=_steps(air, humidity, wind, rate, other),
    )


def _steps(air: float, humidity: float, wind: float, rate: float, other: float) -> tuple[Step, ...]:
    return (
        Step(symbol="air", value=air, unit="degC", formula="and the mortar alike"),
        Step(symbol="relative humidity", value=humidity, unit="1"),
        Step(symbol="wind", value=wind * KM_H, unit="km/h"),
        Step(
            symbol="by Uno",
            value=rate,
            unit="kg/m2h",
            formula="5 ((face + 18)^2.5 - humidity (air + 18)^2.5) (wind + 4) / 1 000 000",
            source=UNO,
        ),
        Step(
            symbol="by Menzel",
            value=other,
            unit="kg/m2h",
            formula="0.315 (vapour pressure at the face - humidity x in the air, kPa) (0.253 + 0.060 wind)",
            source=Cite("menzel-1954", "metric form"),
        ),
        Step(symbol="line", value=evaporation_limit(), unit="kg/m2h", source=Cite("aci-305-memory", "0.20 lb/ft2h")),
    )


def unknown_evaporation(missing: tuple[str, ...]) -> Figure:
    """The drying of a fresh face when it is not known, with what is missing."""
    return Figure(
        key="mortar.evaporation",
        label="water that leaves a fresh face in an hour",
        value=None,
        unit="kg/m2h",
        bound="unknown",
        missing=missing,
        sources=(UNO,),
    )
