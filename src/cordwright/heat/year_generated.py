"""Which drawn year is a usual one, where no weather file is at hand?

Days are drawn as the months have them; of twenty such years the middle one by its cold is taken, hour by hour.
"""

from datetime import date
from typing import Final

import numpy as np

from cordwright.site import generated_year
from cordwright.site.inputs import SiteInput
from cordwright.site.site_weather import wanting_for_days, weather_model
from cordwright.site.weather_days import Days
from cordwright.site.weather_year import WeatherYear

FIRST: Final = date(2001, 1, 1)
SEASONS: Final = 20
SEED: Final = 1
HEATING_LIMIT: Final = 12.0
"""Mean of a day under which it counts as cold [degC]."""


def wanting_for_hours(site: SiteInput) -> tuple[str, ...]:
    """What must be stated before a year of hours can be drawn; empty when nothing is wanting."""
    place = () if site.latitude is not None else ("the latitude (site.latitude)",)
    return (*place, *wanting_for_days(site))


def drawn_year(site: SiteInput) -> WeatherYear | None:
    """Draw a usual year of hours from the site's months; None where `wanting_for_hours` names something.

    Args:
        site: the place.

    Sources: those of `site.generated_year`; the middle of twenty is an assumption (`middle-year`).
    """
    model = weather_model(site)
    if model is None or site.latitude is None:
        return None
    days = model.days(SEED, range(SEASONS), FIRST, 365)
    longitude = 0.0 if site.longitude is None else site.longitude
    place = (site.latitude, longitude, site.elevation or 0.0, float(round(longitude / 15)))
    months = site.months
    return generated_year(
        days,
        middle_year(days),
        place,
        humidity=None if months is None else months.humidity,
        wind=None if months is None else months.wind,
    )


def middle_year(days: Days) -> int:
    """Which of some years is the middle one by its degree days [index].

    Args:
        days: of some years.
    """
    cold = np.maximum(0.0, HEATING_LIMIT - (days.low + days.high) / 2).sum(axis=1)
    return int(np.argsort(cold)[cold.size // 2])
