"""Where does the sun stand, and how long is a day light enough to work?

Geometric, of the sun's centre over a level horizon: no refraction, no hill, no twilight.
"""

from datetime import date
from typing import Final

import numpy as np
from numpy.typing import NDArray

from cordwright.base import Cite, OutOfRangeError

Floats = NDArray[np.float64]

SUN: Final = Cite("almanac-sun", "low-precision formulas, 0.01 deg from 1950 to 2050")
EPOCH: Final = date(2000, 1, 1).toordinal() + 0.5
"""Ordinal of noon, 1 January 2000, universal time, from which the almanac counts its days."""


def sun_position(latitude: float, longitude: float, moment: Floats) -> tuple[Floats, Floats]:
    """Height of the sun's centre over the horizon, and where it stands.

    Args:
        latitude: north positive [deg].
        longitude: east positive [deg].
        moment: universal time as a date's ordinal plus the share of the day gone, any shape [d].

    Returns:
        elevation [deg], without refraction; azimuth from north over east [deg], both of the moment's shape.

    Raises:
        OutOfRangeError: no such latitude or longitude.

    Sources: Astronomical Almanac's low-precision sun (`almanac-sun`).
    """
    _refuse(latitude, longitude)
    declination, right_ascension = _equatorial(moment)
    hour = np.radians(_sidereal(moment) + longitude) - right_ascension
    north = np.radians(latitude)
    sine = np.sin(north) * np.sin(declination) + np.cos(north) * np.cos(declination) * np.cos(hour)
    east = -np.cos(declination) * np.sin(hour)
    northward = np.sin(declination) * np.cos(north) - np.cos(declination) * np.cos(hour) * np.sin(north)
    return np.degrees(np.arcsin(np.clip(sine, -1, 1))), np.degrees(np.arctan2(east, northward)) % 360.0


def _refuse(latitude: float, longitude: float) -> None:
    if not (abs(latitude) <= 90 and abs(longitude) <= 360):
        raise OutOfRangeError(f"no sun for latitude {latitude:g} and longitude {longitude:g} deg")


def _equatorial(moment: Floats) -> tuple[Floats, Floats]:
    """Declination and right ascension of the sun [rad]."""
    n = np.asarray(moment, np.float64) - EPOCH
    mean_longitude = 280.460 + 0.9856474 * n
    anomaly = np.radians(357.528 + 0.9856003 * n)
    ecliptic = np.radians(mean_longitude + 1.915 * np.sin(anomaly) + 0.020 * np.sin(2 * anomaly))
    tilt = np.radians(23.439 - 0.0000004 * n)
    declination = np.arcsin(np.sin(tilt) * np.sin(ecliptic))
    return declination, np.arctan2(np.cos(tilt) * np.sin(ecliptic), np.cos(ecliptic))


def _sidereal(moment: Floats) -> Floats:
    """Greenwich mean sidereal time [deg]."""
    n = np.asarray(moment, np.float64) - EPOCH
    return np.asarray(280.46062 + 360.98564737 * n)


def daylight_hours(latitude: float, day: date) -> float:
    """How long the sun's centre stands over the level horizon on a day [h]: 0 and 24 beyond the polar circles.

    Args:
        latitude: north positive [deg].
        day: any.

    Raises:
        OutOfRangeError: no such latitude.

    Sources: Astronomical Almanac's low-precision sun at noon (`almanac-sun`), closed form of the hour angle.
    """
    _refuse(latitude, 0.0)
    declination, _ = _equatorial(np.array(day.toordinal() + 0.5))
    cosine = -np.tan(np.radians(latitude)) * np.tan(declination)
    return float(24.0 / np.pi * np.arccos(np.clip(cosine, -1.0, 1.0)))


def noon(longitude: float, day: date, utc_offset: float) -> float:
    """Clock time at which the sun stands highest [h after midnight of standard time].

    Args:
        longitude: east positive [deg].
        day: any.
        utc_offset: of standard time [h].

    Sources: Astronomical Almanac's low-precision sun (`almanac-sun`).
    """
    moment = np.array(day.toordinal() + 0.5 - longitude / 360.0)
    _, right_ascension = _equatorial(moment)
    late = (_sidereal(moment) + longitude - np.degrees(right_ascension) + 180.0) % 360.0 - 180.0
    return float(12.0 + utc_offset - longitude / 15.0 - late / 15.0)
