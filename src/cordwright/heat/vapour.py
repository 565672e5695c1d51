"""Where in the wall would vapour turn to water in winter, how much, and is it gone by summer?

Vapour goes from the room outwards through each layer. Where its pressure would exceed what the place can hold, water is
left behind. The pressure runs like a string held at both ends and pressed down by the line of saturation; where the
string touches, it is wet. That string is the same however finely the layers are cut.
"""

from dataclasses import dataclass
from itertools import pairwise
from typing import Final

import numpy as np
from numpy.typing import NDArray

from cordwright.site.moist_air import saturation_pressure

Floats = NDArray[np.float64]
PERMEABILITY: Final = 2e-10
"""Of still air to water vapour [kg/(m s Pa)]."""
MOST_RESISTANCE: Final = 0.25
"""A layer that resists more heat than this is cut [m2K/W]."""
INSIDE, OUTSIDE = 0.25, 0.04
"""Surface resistances for damp [m2K/W]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DampLayer:
    """A layer from inside to outside: thickness [m], conductivity [W/mK], vapour resistance factor mu [1]."""

    name: str
    thickness: float
    conductivity: float
    vapour_factor: float

    @property
    def resistance(self) -> float:
        """To heat [m2K/W]."""
        return self.thickness / self.conductivity

    @property
    def air_layer(self) -> float:
        """Still air that hinders vapour as much, sd [m]."""
        return self.thickness * self.vapour_factor


@dataclass(frozen=True, slots=True, kw_only=True)
class Air:
    """The air at one side: temperature [degC] and vapour pressure [Pa]."""

    temperature: float
    pressure: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Path:
    """A way through the wall cut into nodes: `heat` and `sd` from the inner face [m2K/W, m], shape (n,), and names.

    `places` says in words between which layers a node lies; `total` is the whole resistance with surfaces [m2K/W].
    """

    heat: Floats
    sd: Floats
    places: tuple[str, ...]
    total: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Month:
    """One month of a path: temperature and vapour pressure at the nodes, and water left per second [kg/(m2 s)], (n,).

    Negative where stored water leaves.
    """

    temperature: Floats
    saturation: Floats
    pressure: Floats
    gain: Floats


def cut(layers: tuple[DampLayer, ...], most: float = MOST_RESISTANCE) -> Path:
    """Cut a path into nodes, none further apart than a heat resistance.

    Args:
        layers: from inside to outside.
        most: heat resistance between two nodes [m2K/W].
    """
    heat, sd, places = [0.0], [0.0], ["the inner face"]
    for n, layer in enumerate(layers):
        parts = max(1, int(np.ceil(layer.resistance / most - 1e-9)))
        for part in range(1, parts + 1):
            heat.append(heat[-1] + layer.resistance / parts)
            sd.append(sd[-1] + layer.air_layer / parts)
            last = n + 1 == len(layers)
            edge = "the outer face" if last else f"between {layer.name} and {layers[n + 1].name}"
            places.append(edge if part == parts else f"within {layer.name}")
    total = INSIDE + heat[-1] + OUTSIDE
    return Path(heat=np.array(heat) + INSIDE, sd=np.array(sd), places=tuple(places), total=total)


def vapour_month(path: Path, inside: Air, outside: Air, stored: Floats) -> Month:
    """Give the vapour pressures of a month and where water is left or leaves.

    Args:
        path: the way through the wall.
        inside: the air of the room.
        outside: the air outdoors.
        stored: water lying at each node at the month's start [kg/m2], shape (n,); there the air is saturated.

    Sources: ISO 13788 (`iso-13788-memory`); the string is the greatest profile that bends only where water is left.
    """
    temperature = inside.temperature + (outside.temperature - inside.temperature) * path.heat / path.total
    saturation = np.array([saturation_pressure(float(t)) for t in temperature])
    pinned = sorted({0, *(np.flatnonzero(stored[1:-1] > 0) + 1).tolist(), path.sd.size - 1})
    level = saturation.copy()
    level[0], level[-1] = min(inside.pressure, saturation[0]), min(outside.pressure, saturation[-1])
    touched = [pinned[0]]
    for start, end in pairwise(pinned):
        touched += _string(path.sd, level, start, end)[1:]
    pressure = np.interp(path.sd, path.sd[touched], level[touched])
    slope = -np.diff(pressure[touched]) / np.diff(path.sd[touched]) * PERMEABILITY
    gain = np.zeros(path.sd.size)
    gain[touched[1:-1]] = slope[:-1] - slope[1:]
    return Month(temperature=temperature, saturation=saturation, pressure=pressure, gain=gain)


def _string(sd: Floats, level: Floats, start: int, end: int) -> list[int]:
    """Nodes at which a string from one node to another touches the levels it may not exceed."""
    kept = [start]
    for node in range(start + 1, end + 1):
        while len(kept) > 1 and not _bends_down(sd, level, kept[-2], kept[-1], node):
            kept.pop()
        kept.append(node)
    return kept


def _bends_down(sd: Floats, level: Floats, before: int, at: int, after: int) -> bool:
    """Whether the level at a node lies under the straight line past it."""
    if sd[at] <= sd[before] or sd[after] <= sd[at]:
        return bool(level[at] < min(level[before], level[after]))
    straight = level[before] + (level[after] - level[before]) * (sd[at] - sd[before]) / (sd[after] - sd[before])
    return bool(level[at] < straight - 1e-9)


@dataclass(frozen=True, slots=True, kw_only=True)
class VapourYear:
    """Water in a path over a year, in the steady cycle: per node the most [kg/m2] and what is left at the year's end.

    `by_month`: all water in the wall at the end of each month [kg/m2], shape (12,), January first. `wettest` names the
    place with the most water, empty when none is ever wet. `dries` tells whether some month ends dry.
    """

    most: Floats
    by_month: tuple[float, ...]
    wettest: str
    dries: bool


def vapour_year(path: Path, inside: tuple[Air, ...], outside: tuple[Air, ...], years: int = 3) -> VapourYear:
    """Follow the water through the months, from a dry autumn on, until the cycle repeats.

    Args:
        path: the way through the wall.
        inside: air of each month, shape (12,).
        outside: the same outdoors.
        years: how many are followed; water that lasts longer keeps growing and is told as not drying.

    Sources: ISO 13788 (`iso-13788-memory`): months in turn, stored water evaporates first.
    """
    stored = np.zeros(path.sd.size)
    totals: list[Floats] = []
    for n in range(12 * years + 9):
        month = n % 12
        stored = _month_on(path, inside[month], outside[month], stored, SECONDS[month])
        totals.append(stored)
    last = totals[-12:]
    by_month = tuple(float(totals[-12:][(m - (12 * years + 9)) % 12].sum()) for m in range(12))
    most = np.max(last, axis=0)
    wettest = path.places[int(most.argmax())] if most.max() > 0 else ""
    return VapourYear(most=most, by_month=by_month, wettest=wettest, dries=min(by_month) <= 1e-9)


SECONDS: Final = tuple(86400.0 * d for d in (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31))


def _month_on(path: Path, inside: Air, outside: Air, stored: Floats, seconds: float) -> Floats:
    """Water after a month; where a place dries out within it, the rest of the month goes on without that place."""
    left = seconds
    for _ in range(path.sd.size + 1):
        gain = vapour_month(path, inside, outside, stored).gain
        drying = gain < 0
        runs_out = np.where(drying & (stored > 0), stored / np.where(drying, -gain, 1.0), np.inf)
        span = min(left, float(runs_out.min()))
        stored = np.maximum(0.0, stored + gain * span)
        stored[stored < 1e-12] = 0.0
        left -= span
        if left <= 0:
            break
    return stored
