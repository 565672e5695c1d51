"""From what depth on does a day count as a rain day, and do rain and rain days agree?"""

from typing import Final

from cordwright.base import Cite
from cordwright.site.climate import MonthlyNormals

WET_FROM: Final = 0.001
"""Least depth of a rain day where the owner does not say at what depth the station counts one [m]."""
WET_FROM_SOURCE: Final = Cite("rain-day-1-mm")


def thin_months(normals: MonthlyNormals) -> tuple[int, ...]:
    """Months, from 0, whose rain on their rain days comes to less than a rain day is counted from."""
    if normals.rain is None or normals.rain_days is None:
        return ()
    least = WET_FROM if normals.wet_from is None else normals.wet_from
    pairs = enumerate(zip(normals.rain, normals.rain_days, strict=True))
    return tuple(month for month, (rain, days) in pairs if days > 0 and rain < days * least)
