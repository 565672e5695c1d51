"""What is the weather like at the site, month by month, as the nearest station tells it?"""

from dataclasses import dataclass

Months = tuple[float, ...]
"""Twelve values, January first."""


@dataclass(frozen=True, slots=True, kw_only=True)
class MonthlyNormals:
    """Mean weather of each month, January to December; None is unknown.

    Temperatures [degC]: mean of the day, mean of the nightly lows, mean of the daily highs. `humidity`: mean relative
    humidity as a fraction. `rain`: depth in the month [m]. `rain_days`: days with rain. `wind`: mean speed [m/s].
    """

    station: str = ""
    temperature: Months
    low: Months | None = None
    high: Months | None = None
    humidity: Months | None = None
    rain: Months | None = None
    rain_days: Months | None = None
    wind: Months | None = None
