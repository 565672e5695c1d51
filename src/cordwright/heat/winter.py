"""How will the wall dry down in its first winter, and what gaps will stand round its log ends when it has?

One face of a log end is in the room, the other outdoors, and its side is shut in mortar: its mean moisture lies
half-way between that of a log end with both faces in the room and one with both outdoors. The owner's own
readings stand on the same chart.
"""

from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import Final

import numpy as np

from cordwright.base import Cite, Figure, Records, Step, table
from cordwright.base.records import Crack, Moisture
from cordwright.heat.damp_air import over_pressure
from cordwright.heat.house_inputs import HouseInput
from cordwright.site import MonthlyNormals, saturation_pressure
from cordwright.timber import Air, LogEnd, TimberInput, air_from, equilibrium_moisture, moisture_on, site_moisture
from cordwright.timber.diffusion import Floats
from cordwright.timber.shrinkage import fibre_saturation, shrinkage_gap

YEARS: Final = 2
STEP: Final = 7
HALF_WAY: Final = Cite("crank-diffusion", "slab between two airs: half of each")
SPEED: Final = Cite("wood-diffusion", "one in ten slower and faster")
SHRINKING: Final = Cite("wood-handbook-2010", "shrinkage at a moisture content")


@dataclass(frozen=True, slots=True, kw_only=True)
class Mark:
    """One reading of the owner's: a moisture [1] or a gap [m], when and where."""

    day: date
    value: float
    where: str = ""


def moisture_marks(records: Records) -> tuple[Mark, ...]:
    """The meter's readings of the diary.

    Args:
        records: all that stand.
    """
    return tuple(Mark(day=day, value=said.share, where=said.log) for day, said in records.of(Moisture))


def gap_marks(records: Records) -> tuple[Mark, ...]:
    """Widths of the diary that were taken round log ends: those whose place speaks of a gap or a ring.

    Args:
        records: all that stand; other cracks are of the mortar.
    """
    return tuple(
        Mark(day=day, value=said.width, where=said.place)
        for day, said in records.of(Crack)
        if any(word in said.place.lower() for word in ("gap", "ring"))
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class WinterCase:
    """What the first winter stands on: house, months, wood; mean log end [m], laying day and moisture, shrinkage [1].

    `volume` of the room [m3]. `heated_from`: the day the room is first warmed. `moistures`, `gaps`: the owner's
    readings. None is unknown.
    """

    house: HouseInput
    months: MonthlyNormals | None
    timber: TimberInput
    diameter: float | None
    length: float
    shrinkage: float | None
    laid: date | None
    laying_moisture: float | None
    volume: float | None = None
    heated_from: date | None = None
    moistures: tuple[Mark, ...] = ()
    gaps: tuple[Mark, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class FirstWinter:
    """Two years from laying: `days` as ordinals and mean moisture of the log ends (3, n) [1], slow, middle and fast.

    `gap` all round the mean log end (3, n) [m], empty where its shrinkage is unknown. `indoor`: moisture that the
    room's air asks for in each month [1]. `missing` says why there is none; `figures` are the owner's answer.
    """

    days: Floats
    moisture: Floats
    gap: Floats
    indoor: tuple[float, ...]
    heated_from: date | None
    moistures: tuple[Mark, ...]
    gaps: tuple[Mark, ...]
    missing: tuple[str, ...]
    figures: tuple[Figure, ...]


def indoor_moisture(house: HouseInput, months: MonthlyNormals, volume: float | None) -> tuple[float, ...]:
    """Moisture to which wood settles in the room in each month, heated as wanted or as warm as outdoors [1].

    Args:
        house: as stated, with a set temperature.
        months: of the site, with humidity.
        volume: of the room [m3].

    Sources: `simpson-1998-emc`; the room's vapour by `humidity-class-memory`.
    """
    assert house.set_temperature is not None
    assert months.humidity is not None
    edge = table("seasoning")["equilibrium"]
    found = []
    for t, h in zip(months.temperature, months.humidity, strict=True):
        inside = max(house.set_temperature, t)
        vapour = h * saturation_pressure(t) + over_pressure(house, volume, t)
        humidity = house.indoor_humidity or vapour / saturation_pressure(inside)
        found.append(equilibrium_moisture(inside, min(max(humidity, edge["driest_air"]), edge["dampest_air"])))
    return tuple(found)


def first_heating(laid: date, months: MonthlyNormals, limit: float) -> date | None:
    """The first day of the first month after laying whose mean is under a limit; None where none is.

    Args:
        laid: day of laying.
        months: of the site.
        limit: mean temperature of a heating month [degC].
    """
    for n in range(1, 13):
        year, month = divmod(laid.year * 12 + laid.month - 1 + n, 12)
        if months.temperature[month] < limit:
            return date(year, month + 1, 1)
    return None


def first_winter(case: WinterCase) -> FirstWinter:
    """Follow the log ends from the day they are laid through the first winter and the next.

    Args:
        case: what it stands on.

    Sources: Crank and Duhamel as the stack's drying (`crank-diffusion`, `duhamel`); see the module.
    """
    missing = _missing(case)
    heated = None
    if case.months is not None and case.laid is not None:
        limit = float(table("house")["season"]["limit"])
        heated = case.heated_from or first_heating(case.laid, case.months, limit)
        missing += () if heated is not None else ("a month cold enough to heat",)
    if missing or heated is None:
        none = np.zeros((3, 0))
        return FirstWinter(
            days=np.zeros(0), moisture=none, gap=none, indoor=(), heated_from=heated, moistures=case.moistures,
            gaps=case.gaps, missing=missing, figures=tuple(_unknown(case, missing)),
        )  # fmt: skip
    return _followed(case, heated)


def _missing(case: WinterCase) -> tuple[str, ...]:
    if not case.house.stated:
        return ("the temperature wanted indoors (heat.set_temperature)",)
    told = {
        "the months' temperatures and humidity (site.months)": site_moisture(case.months) is not None,
        "the day laying begins (site.laying_begins)": case.laid is not None,
        "the moisture at laying (stock.laying_moisture)": case.laying_moisture is not None,
        "the diameters of the log ends": case.diameter is not None,
    }
    return tuple(what for what, known in told.items() if not known)


KEYS: Final = (
    ("timber.moisture_after_winter", "mean moisture of the log ends in the wall at the end of the first winter", "1"),
    ("timber.gap_after_winter", "gap all round the mean log end at the end of the first winter", "m"),
)


def _unknown(case: WinterCase, missing: tuple[str, ...]) -> list[Figure]:
    if not case.house.stated:
        return []
    return [
        Figure(key=key, label=label, value=None, unit=unit, bound="unknown", missing=missing, sources=(HALF_WAY,))
        for key, label, unit in KEYS
    ]


def _followed(case: WinterCase, heated: date) -> FirstWinter:
    assert case.months is not None
    assert case.laid is not None
    assert case.diameter is not None
    assert case.laying_moisture is not None
    indoor = indoor_moisture(case.house, case.months, case.volume)
    outdoor = site_moisture(case.months)
    assert outdoor is not None
    end = LogEnd(diameter=case.diameter, length=case.length, bark=True)
    begins = float(case.laid.toordinal())
    days = np.arange(begins, begins + 365 * YEARS, STEP, dtype=np.float64)
    rates = (float(table("seasoning")["diffusion"]["slow"]), 1.0, float(table("seasoning")["diffusion"]["fast"]))
    outside = air_from(case.laid, YEARS, case.months.temperature, outdoor.months)
    room = _room_air(case, heated, indoor, outdoor.months)
    runs = [
        sum(moisture_on(end, air, days, case.laying_moisture, rate) for air in (room, outside)) / 2 for rate in rates
    ]
    moisture = np.stack([np.asarray(r) for r in runs])
    gap = _gaps(case, moisture)
    made = FirstWinter(
        days=days, moisture=moisture, gap=gap, indoor=indoor, heated_from=heated, moistures=case.moistures,
        gaps=case.gaps, missing=(), figures=(),
    )  # fmt: skip
    return replace(made, figures=tuple(_figures(case, made)))


def _room_air(case: WinterCase, heated: date, indoor: tuple[float, ...], outdoor: tuple[float, ...]) -> Air:
    """The air at the inner face: as outdoors until the room is first heated, then the room's own."""
    assert case.months is not None
    assert case.laid is not None
    air = air_from(case.laid, YEARS, case.months.temperature, outdoor)
    assert case.house.set_temperature is not None
    warm = tuple(max(case.house.set_temperature, t) for t in case.months.temperature)
    room = air_from(case.laid, YEARS, warm, indoor)
    later = air.begins[:-1] >= heated.toordinal()
    return replace(
        air,
        moisture=np.where(later, room.moisture, air.moisture),
        warmth=np.where(later, (room.warmth + air.warmth) / 2, air.warmth),
    )


def _gaps(case: WinterCase, moisture: Floats) -> Floats:
    if case.shrinkage is None or case.diameter is None or case.laying_moisture is None:
        return np.zeros((3, 0))
    saturation, before = fibre_saturation(case.timber), case.laying_moisture
    shrunk = [[shrinkage_gap(case.diameter, case.shrinkage, before, m, saturation) for m in run] for run in moisture]
    return np.asarray(np.maximum(np.array(shrunk), 0.0))


def end_of_winter(made: FirstWinter) -> float:
    """Half a year after the room was first heated, as an ordinal day."""
    assert made.heated_from is not None
    return float((made.heated_from + timedelta(days=182)).toordinal())


def _figures(case: WinterCase, made: FirstWinter) -> list[Figure]:
    at = end_of_winter(made)
    steps = (
        Step(symbol="laid at", value=case.laying_moisture, unit="1", formula=f"{case.laid}",
             source=Cite("owner", "stock.laying_moisture")),
        Step(symbol="room asks for, least", value=min(made.indoor), unit="1", formula="moisture of its driest month",
             source=Cite("simpson-1998-emc", "equation")),
        Step(symbol="heated from", value=None, unit="", formula=f"{made.heated_from}; half a year on"),
    )  # fmt: skip
    sources = (HALF_WAY, SPEED, Cite("humidity-class-memory"), Cite("simpson-1998-emc", "equation"))
    found = []
    for (key, label, unit), rows in zip(KEYS, (made.moisture, made.gap), strict=True):
        if not rows.size:
            missing = ("how the wood shrinks",)
            found.append(
                Figure(key=key, label=label, value=None, unit=unit, bound="unknown", missing=missing, sources=sources)
            )
            continue
        values = [float(np.interp(at, made.days, row)) for row in rows]
        found.append(
            Figure(
                key=key, label=label, value=values[1], low=min(values), high=max(values), unit=unit,
                sources=(*sources, *((SHRINKING,) if unit == "m" else ())), steps=steps,
            )
        )  # fmt: skip
    return found
