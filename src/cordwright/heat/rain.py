"""Which wall does the rain hit, how high does it wet it under these eaves, and how wide would eaves have to be?

A drop falls and drifts with the wind. What drifts in under the eaves before it has fallen past the wall wets its lower
part. It is plain geometry, and no more: gusts, rain that runs down and splash come on top.
"""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from cordwright.base import InputError, table
from cordwright.plan.inputs import PlanInput
from cordwright.plan.results import Panel

Floats = NDArray[np.float64]
Band = tuple[float, float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Eaves:
    """Eaves over a wall: `overhang` from the outer face, `head` of the wall over its bed [m], `pitch` [rad]."""

    overhang: float
    head: float
    pitch: float = 0.0

    @property
    def edge(self) -> float:
        """Height of the roof's edge over the bed [m]."""
        return self.head - self.overhang * math.tan(self.pitch)


def eaves_of(plan: PlanInput) -> Eaves | None:
    """The eaves of a building, None where no roof is stated.

    Args:
        plan: the shape as stated.

    Sources: assumption (`eaves-edge`): the roof's slope runs through the wall's head.
    """
    if plan.roof is None:
        return None
    return Eaves(overhang=plan.roof.overhang, head=plan.height, pitch=plan.roof.pitch)


def wetted_height(eaves: Eaves, wind: float, falls: float) -> float:
    """Height from the bed up to which drops reach the wall [m]; none where they all fall past it.

    Args:
        eaves: over the wall.
        wind: square to the wall [m/s], not negative.
        falls: speed at which drops fall [m/s].

    Raises:
        InputError: a wind below nothing, or drops that do not fall.

    Sources: closed form (`rain-drift`).
    """
    if wind < 0 or falls <= 0:
        raise InputError("wind blows at zero or more and drops fall")
    if wind == 0:
        return 0.0 if eaves.overhang > 0 else max(0.0, eaves.edge)
    return min(eaves.head, max(0.0, eaves.edge - eaves.overhang * falls / wind))


def needed_overhang(eaves: Eaves, wind: float, falls: float) -> float:
    """Overhang under which no drop reaches the wall [m].

    Args:
        eaves: over the wall; its overhang does not count.
        wind: square to the wall [m/s].
        falls: speed at which drops fall [m/s].

    Sources: closed form (`rain-drift`).
    """
    return eaves.head / (falls / wind + math.tan(eaves.pitch)) if wind > 0 else 0.0


def fall_speeds() -> Band:
    """Speed of small, usual and large drops [m/s].

    Sources: `gunn-kinzer-1949`.
    """
    low, middle, high = table("house")["rain"]["falls"]
    return float(low), float(middle), float(high)


def driving_rain(wind: Floats, comes_from: Floats, rain: Floats, bearing: float) -> float:
    """Rain driven through an upright plane in the open over all hours [L/m2].

    Args:
        wind: speed in each hour [m/s], shape (hours,).
        comes_from: direction of the wind [rad], shape (hours,).
        rain: fallen in each hour [mm], shape (hours,).
        bearing: that the plane faces [rad].

    Sources: ISO 15927-3 (`iso-15927-3-memory`): 2/9 v r^(8/9) cos(D - theta), hours from behind left out.
    """
    toward = np.cos(comes_from - bearing)
    return float(2 / 9 * (wind * np.maximum(rain, 0.0) ** (8 / 9) * np.maximum(toward, 0.0)).sum())


def even_rose(wind: tuple[float, ...], rain: tuple[float, ...], wet_hours: tuple[float, ...]) -> float:
    """Rain driven through an upright plane in a year when the wind blows from everywhere alike [L/m2].

    Args:
        wind: mean of each month [m/s], shape (12,).
        rain: of each month [mm], shape (12,).
        wet_hours: hours with rain in each month, shape (12,).

    Sources: ISO 15927-3 (`iso-15927-3-memory`) at the month's mean intensity; the mean of cosine over a circle is 1/pi.
    """
    months = (v * h * (r / h) ** (8 / 9) if h > 0 else 0.0 for v, r, h in zip(wind, rain, wet_hours, strict=True))
    return 2 / 9 / math.pi * math.fsum(months)


@dataclass(frozen=True, slots=True, kw_only=True)
class PanelRain:
    """Driving rain on one panel: share of the worst side's [1], None unknown, and how high it is wetted [m]."""

    panel: str
    bearing: float
    exposure: float | None
    wetted: Band


def exposures(panels: tuple[Panel, ...], side: float | None) -> tuple[float | None, ...]:
    """How much each panel faces the side that driving rain comes from, 1 square to it; None where it is unknown.

    Args:
        panels: of the wall.
        side: bearing it comes from [rad].
    """
    if side is None:
        return (None,) * len(panels)
    return tuple(max(0.0, math.cos(p.bearing - side)) for p in panels)


def panel_rain(panels: tuple[Panel, ...], eaves: Eaves, wind: float, shares: tuple[float | None, ...]) -> tuple[
    PanelRain, ...
]:  # fmt: skip
    """How high rain wets each panel at a wind; square to the wall where the side is unknown.

    Args:
        panels: of the wall.
        eaves: over them.
        wind: with the rain [m/s].
        shares: how much each faces the rain.

    Sources: those of `wetted_height`.
    """
    large_first = sorted(fall_speeds(), reverse=True)
    return tuple(
        PanelRain(
            panel=panel.name,
            bearing=panel.bearing,
            exposure=share,
            wetted=_band(eaves, wind * (1.0 if share is None else share), large_first),
        )
        for panel, share in zip(panels, shares, strict=True)
    )


def _band(eaves: Eaves, wind: float, falls: list[float]) -> Band:
    low, middle, high = (wetted_height(eaves, wind, f) for f in falls)
    return low, middle, high
