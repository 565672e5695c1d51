"""What does masonry practice ask of today's air, cold or hot?"""

from typing import Any, Literal

from cordwright.base import table
from cordwright.mortar.advice import MILE_H, Advice, celsius, fahrenheit, printed


def construction_band(air: float) -> Advice:
    """What to do while laying, by the temperature of the air.

    Args:
        air: while laying [degC].

    Sources: cold-weather masonry (`cold-masonry-2004`), bands at 40, 32, 25 and 20 degF.
    """
    return printed(_band("construction", air)["words"])


def protection_band(low: float, high: float) -> Advice:
    """What to do with the finished work, by the mean of the day.

    Args:
        low: lowest air temperature of the forecast [degC].
        high: highest air temperature of the forecast [degC].

    Sources: cold-weather masonry (`cold-masonry-2004`); mean halfway between low and high.
    """
    return printed(_band("protection", (low + high) / 2)["words"])


def _band(name: str, air: float) -> dict[str, Any]:
    # Whole-degree Fahrenheit limits must not be missed by the last bit of a conversion.
    degrees = fahrenheit(air) + 1e-9
    return next(
        (b for b in table("curing")[name]["bands"] if degrees >= b["from_F"]), table("curing")[name]["bands"][-1]
    )


def hot_band(air: float, wind: float | None) -> Advice | None:
    """What heat asks for, None when it asks nothing; without a wind reading the still-air limits count.

    Args:
        air: highest air temperature while laying [degC].
        wind: speed [m/s], None when unknown.

    Sources: hot-weather masonry (`hot-masonry-2004`): over 100 degF or 90 with 8 mph; over 115 or 105 with 8 mph.
    """
    degrees = fahrenheit(air)
    for band in table("curing")["hot"]["bands"]:
        windy = wind is not None and wind > band["wind_mph"] * MILE_H
        if degrees > band["over_F"] + 1e-9 or (windy and degrees > band["windy_over_F"] + 1e-9):
            return printed(band["words"])
    return None


def all_bands(name: Literal["construction", "protection"]) -> tuple[tuple[float | None, Advice], ...]:
    """A whole table of cold-weather bands, warmest first: least temperature [degC], None for the coldest, and the rule.

    Args:
        name: construction goes by the air while laying, protection by the mean of the day.

    Sources: cold-weather masonry (`cold-masonry-2004`).
    """
    bands = table("curing")[name]["bands"]
    return tuple(
        (celsius(b["from_F"]) if n < len(bands) - 1 else None, printed(b["words"])) for n, b in enumerate(bands)
    )
