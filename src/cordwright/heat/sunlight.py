"""How much sun falls on each wall, roof and pane in each hour?"""

from dataclasses import dataclass
from datetime import date
from typing import Final

import numpy as np
from numpy.typing import NDArray

from cordwright.site.sun import sun_position
from cordwright.site.weather_year import TYPICAL_YEAR

Floats = NDArray[np.float64]

EPS_BINS: Final = np.array([1.065, 1.23, 1.5, 1.95, 2.8, 4.5, 6.2])
"""Clearness at which the sky's class changes [1]."""
SKY: Final = np.array(
    [
        [-0.008, 0.588, -0.062, -0.060, 0.072, -0.022],
        [0.130, 0.683, -0.151, -0.019, 0.066, -0.029],
        [0.330, 0.487, -0.221, 0.055, -0.064, -0.026],
        [0.568, 0.187, -0.295, 0.109, -0.152, -0.014],
        [0.873, -0.392, -0.362, 0.226, -0.462, 0.001],
        [1.132, -1.237, -0.412, 0.288, -0.823, 0.056],
        [1.060, -1.600, -0.359, 0.264, -1.127, 0.131],
        [0.678, -0.327, -0.250, 0.156, -1.377, 0.251],
    ]
)
"""Brightness round the sun (three) and at the horizon (three) in each class (`perez-1990`)."""
GROUND: Final = 0.2
"""Share of the light that grass throws back [1] (`albedo-memory`)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Sun:
    """Where the sun stands in each hour: `height` over the horizon and `bearing` from north by east [rad], (hours,)."""

    height: Floats
    bearing: Floats


@dataclass(frozen=True, slots=True, kw_only=True)
class Sunlight:
    """Sun on a plane in each hour: the beam and all diffuse light, the ground's too [W/m2], (hours,).

    `incidence`: angle between the beam and the plane's normal [rad].
    """

    beam: Floats
    diffuse: Floats
    incidence: Floats

    @property
    def all(self) -> Floats:
        """Beam and diffuse [W/m2]."""
        return self.beam + self.diffuse


def sun_at(hours: int, latitude: float, longitude: float, offset: float) -> Sun:
    """Where the sun stands in the middle of each hour of a year of the calendar alone.

    Args:
        hours: of the year.
        latitude: north positive [deg].
        longitude: east positive [deg].
        offset: of the clock from universal time [h].

    Sources: those of `site.sun`.
    """
    first = date(TYPICAL_YEAR[hours], 1, 1).toordinal()
    height, bearing = sun_position(latitude, longitude, first + (np.arange(hours) + 0.5 - offset) / 24)
    return Sun(height=np.radians(height), bearing=np.radians(bearing))


def incidence(sun: Sun, tilt: float, bearing: float) -> Floats:
    """Cosine of the angle between the sun and a plane's normal, shape (hours,) [1].

    Args:
        sun: where it stands.
        tilt: of the plane from level [rad]; a wall has a right angle.
        bearing: that the plane faces [rad].
    """
    return np.asarray(
        np.sin(sun.height) * np.cos(tilt) + np.cos(sun.height) * np.sin(tilt) * np.cos(sun.bearing - bearing)
    )


def extraterrestrial(day: Floats) -> Floats:
    """Sun outside the atmosphere, shape of `day` [W/m2].

    Args:
        day: of the year, from 1.

    Sources: `spencer-1971`.
    """
    turn = 2 * np.pi * (day - 1) / 365
    return np.asarray(
        1366.1 * (1.00011 + 0.034221 * np.cos(turn) + 0.00128 * np.sin(turn) + 0.000719 * np.cos(2 * turn)
                  + 0.000077 * np.sin(2 * turn))
    )  # fmt: skip


def air_mass(height: Floats) -> Floats:
    """How many atmospheres thick the air is that the sun's beam crosses [1], shape of `height`.

    Args:
        height: of the sun over the horizon [rad].

    Sources: `kasten-young-1989`.
    """
    degrees = np.degrees(np.maximum(height, 0.0))
    return np.asarray(1 / (np.sin(np.radians(degrees)) + 0.50572 * (degrees + 6.07995) ** -1.6364))


def on_plane(
    sun: Sun, direct: Floats, diffuse: Floats, day: Floats, *, tilt: float, bearing: float, ground: float = GROUND
) -> Sunlight:
    """Sun on a plane.

    Args:
        sun: where it stands.
        direct: sun square to its beam [W/m2], shape (hours,).
        diffuse: light of the sky on level ground [W/m2], shape (hours,).
        day: of the year, from 1, shape (hours,).
        tilt: of the plane from level [rad].
        bearing: that the plane faces [rad].
        ground: share of the light that the ground throws back [1].

    Sources: anisotropic sky (`perez-1990`).
    """
    cosine = incidence(sun, tilt, bearing)
    up = np.maximum(np.sin(sun.height), 0.0)
    beam = direct * np.where(up > 0, np.maximum(cosine, 0.0), 0.0)
    around, horizon = _brightness(sun, direct, diffuse, day)
    circle = np.maximum(cosine, 0.0) / np.maximum(np.cos(np.radians(85)), up)
    sky = diffuse * ((1 - around) * (1 + np.cos(tilt)) / 2 + around * circle + horizon * np.sin(tilt))
    below = (direct * up + diffuse) * ground * (1 - np.cos(tilt)) / 2
    return Sunlight(beam=beam, diffuse=np.maximum(sky, 0.0) + below, incidence=np.arccos(np.clip(cosine, -1.0, 1.0)))


def _brightness(sun: Sun, direct: Floats, diffuse: Floats, day: Floats) -> tuple[Floats, Floats]:
    """How much of the sky's light stands round the sun and along the horizon [1]."""
    zenith = np.pi / 2 - sun.height
    light = diffuse > 0
    ratio = np.divide(direct, diffuse, out=np.zeros_like(diffuse), where=light)
    cube = 1.041 * zenith**3
    clear = (1 + ratio + cube) / (1 + cube)
    bright = diffuse * air_mass(sun.height) / extraterrestrial(day)
    row = SKY[np.searchsorted(EPS_BINS, clear, side="right")]
    around = np.maximum(row[:, 0] + row[:, 1] * bright + row[:, 2] * zenith, 0.0)
    horizon = row[:, 3] + row[:, 4] * bright + row[:, 5] * zenith
    return np.where(light, around, 0.0), np.where(light, horizon, 0.0)
