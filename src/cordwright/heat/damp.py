"""Where would this house be damp: within the wall, on its inner face, in the rain, at its foot, and what cures it?"""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

import numpy as np

from cordwright.base import Caution, Check, Cite, Figure, Step, caution, table
from cordwright.heat.conductivity import WallMaterials
from cordwright.heat.decay import decay_hazard, decay_index
from cordwright.heat.house_inputs import HouseInput
from cordwright.heat.house_shell import room_volume
from cordwright.heat.mould import FACE, needed_factor, plain_factor
from cordwright.heat.rain import (
    Eaves,
    PanelRain,
    driving_rain,
    eaves_of,
    exposures,
    fall_speeds,
    needed_overhang,
    panel_rain,
)
from cordwright.heat.section import layers_of
from cordwright.heat.vapour import SECONDS, Air, DampLayer, VapourYear, cut, vapour_year
from cordwright.mortar import Mix
from cordwright.plan.inputs import PlanInput, WallSection
from cordwright.plan.results import Panel, Plan
from cordwright.site import MonthlyNormals, saturation_pressure
from cordwright.site.climate import DAYS, MONTHS
from cordwright.site.weather_year import WeatherYear

GLASER = Cite("iso-13788-memory", "monthly vapour balance")
DRIFT = Cite("rain-drift")
RAIN_INDEX = Cite("iso-15927-3-memory", "hours of wind and rain")
RANKED = (Cite("panel-ranking"), Cite("damp-cures"))
"""What stands behind the order of the panels and their cures."""
PLINTH = Cite("plinth-practice", "13 to 14 in over the ground")
MONTHLY = Cite("owner", "site.months")
STORMY = 1.0
"""The windiest month's mean is taken as the wind with rain, times this [1]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DampCase:
    """What the damp is reckoned from: house, shape, months, materials; None is unknown.

    `face_factor`: least temperature factor of the inner face as resolved [1], and `u` of the wall [W/m2K].
    `mortar_volume` in place [m3]. `wind_year`: hours of wind and rain of the nearest station.
    """

    house: HouseInput
    plan: PlanInput
    built: Plan
    months: MonthlyNormals | None = None
    materials: WallMaterials | None = None
    u: float | None = None
    face_factor: float | None = None
    face_how: str = ""
    mix: Mix | None = None
    mortar_volume: float | None = None
    laying_month: int | None = None
    wind_year: WeatherYear | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class PanelRisk:
    """One panel's place in the ranking: `score` (higher is damper) [1], why in words, and the cheapest cure."""

    panel: str
    score: float
    rain: PanelRain | None
    why: tuple[str, ...]
    cure: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Damp:
    """The damp worked out: vapour by path ("log", "joint"), panels by risk, eaves, figures, checks.

    `rain_index`: driving rain of each panel in the open [L/m2 a year], None where nobody measured wind with rain.
    """

    vapour: dict[str, VapourYear]
    panels: tuple[PanelRisk, ...]
    eaves: Eaves | None
    wind: float | None
    rain_index: tuple[float | None, ...]
    hazard: str
    figures: tuple[Figure, ...]
    checks: tuple[Check, ...]
    cautions: tuple[Caution, ...]

    def figure(self, key: str) -> Figure:
        """One figure by its key."""
        return next(f for f in self.figures if f.key == key)


def reckon_damp(case: DampCase) -> Damp:
    """Work out where the house would be damp.

    Args:
        case: what it stands on.

    Sources: those of each part; each figure says its own.
    """
    vapour = _vapour(case)
    eaves, wind = eaves_of(case.plan), _wind(case.months)
    side = case.house.rain_side
    panels = case.built.panels
    rain = panel_rain(panels, eaves, wind, exposures(panels, side)) if eaves and wind is not None else ()
    hazard = _decay(case.months)
    figures = (
        *_vapour_figures(case, vapour),
        *_drying_figures(case),
        *_rain_figures(case, rain, eaves, wind),
        *hazard,
    )
    return Damp(
        vapour=vapour,
        panels=ranking(case, rain),
        eaves=eaves,
        wind=wind,
        rain_index=_indices(case),
        hazard=decay_hazard(hazard[0].value) if hazard and isinstance(hazard[0].value, float) else "",
        figures=figures,
        checks=(*_mould_check(case), *_foot_checks(case), *_eaves_check(case, eaves, wind)),
        cautions=(caution("mould-rot"),) if case.house.stated else (),
    )


def _wind(months: MonthlyNormals | None) -> float | None:
    return None if months is None or months.wind is None else STORMY * max(months.wind)


def room_air(house: HouseInput, months: MonthlyNormals, volume: float | None) -> tuple[Air, ...]:
    """The air of the room in each month: its warmth as wanted, its vapour as stated or by how it is used.

    Args:
        house: as stated, with a set temperature.
        months: of the site, with humidity.
        volume: of the room [m3], None where it is not known.

    Sources: humidity classes as remembered (`humidity-class-memory`).
    """
    assert house.set_temperature is not None
    assert months.humidity is not None
    found = []
    for t, h in zip(months.temperature, months.humidity, strict=True):
        inside = max(house.set_temperature, t)
        outside = h * saturation_pressure(t)
        if house.indoor_humidity is not None:
            pressure = max(outside, house.indoor_humidity * saturation_pressure(inside))
        else:
            pressure = outside + over_pressure(house, volume, t)
        found.append(Air(temperature=inside, pressure=min(pressure, saturation_pressure(inside))))
    return tuple(found)


GAS: Final = 461.5
"""Gas constant of water vapour [J/(kg K)]."""


def over_pressure(house: HouseInput, volume: float | None, outside: float) -> float:
    """How much more vapour the room's air holds than the air outdoors [Pa].

    By the people in it and the air that changes where both are stated, else as in a dwelling; with the windows opened
    as it grows warm it falls to nothing.

    Args:
        house: as stated.
        volume: of the room [m3].
        outside: temperature of the month [degC].

    Sources: humidity classes as remembered (`humidity-class-memory`); vapour of people (`people-memory`).
    """
    row = table("house")
    most, none_at = float(row["vapour"]["over_pressure"]), row["vapour"]["none_at"]
    changes = house.air_changes if house.air_changes is not None else (house.n50 or 0.0) / 20
    if house.people is not None and changes and volume and house.set_temperature is not None:
        given = house.people * row["people"]["vapour"] / (changes * volume)
        most = given * GAS * (house.set_temperature + 273.15)
    return most * min(1.0, max(0.0, (none_at - outside) / none_at))


def outer_air(months: MonthlyNormals) -> tuple[Air, ...]:
    """The air outdoors in each month."""
    assert months.humidity is not None
    return tuple(
        Air(temperature=t, pressure=h * saturation_pressure(t))
        for t, h in zip(months.temperature, months.humidity, strict=True)
    )


def paths_of(section: WallSection, materials: WallMaterials) -> dict[str, tuple[DampLayer, ...]]:
    """The two ways through the wall, from inside to outside: along a log end, and through the joint.

    Args:
        section: of the wall.
        materials: what it is made of.

    Sources: `iso-10456-memory`, `along-grain-vapour-memory`.
    """
    row = table("house")["vapour"]
    fill = materials.fill if materials.fill is not None else materials.mortar
    names = ("the inner bead", "the fill", "the outer bead")
    joint = layers_of(section)
    log = DampLayer(
        name="the log end",
        thickness=section.thickness,
        conductivity=materials.along.value,
        vapour_factor=row["along_grain"][1],
    )
    through = tuple(
        DampLayer(
            name=names[n] if len(joint) == 3 else "the joint",
            thickness=d,
            conductivity=(materials.mortar if mortar else fill).value,
            vapour_factor=row["mortar" if mortar else "fill"][1],
        )
        for n, (d, mortar) in enumerate(joint)
    )
    return {"log": (log,), "joint": through}


def _known(case: DampCase) -> tuple[str, ...]:
    lacking = () if case.materials is not None else ("what the wall is made of",)
    lacking += () if case.house.stated else ("the temperature wanted indoors (heat.set_temperature)",)
    told = case.months is not None and case.months.humidity is not None
    return lacking + (() if told else ("temperature and humidity of the months (site.months)",))


def _vapour(case: DampCase) -> dict[str, VapourYear]:
    if _known(case) or case.materials is None or case.months is None:
        return {}
    inside, outside = room_air(case.house, case.months, room_volume(case.plan, case.built)), outer_air(case.months)
    return {
        name: vapour_year(cut(layers), inside, outside)
        for name, layers in paths_of(case.plan.section, case.materials).items()
    }


def _vapour_figures(case: DampCase, vapour: dict[str, VapourYear]) -> Iterator[Figure]:
    labels = {"log": "along the log ends", "joint": "through the joints"}
    for name, words in labels.items():
        key, label = f"damp.winter_water.{name}", f"most water that winter leaves within the wall {words}"
        if name not in vapour:
            if case.house.stated:
                yield Figure(
                    key=key, label=label, value=None, unit="kg/m2", bound="unknown", missing=_known(case),
                    sources=(GLASER,),
                )  # fmt: skip
            continue
        year = vapour[name]
        dries = "none is ever left" if not year.wettest else ("dry again by" if year.dries else "never dry, least in")
        least = int(np.argmin(year.by_month))
        yield Figure(
            key=key,
            label=label + ("" if year.dries else ", and it does not dry out in summer"),
            value=float(max(year.by_month)),
            unit="kg/m2",
            sources=(GLASER, MONTHLY, Cite("iso-10456-memory", "vapour factors"), Cite("humidity-class-memory")),
            steps=(
                *(
                    Step(symbol=f"at the end of {MONTHS[m]}", value=w, unit="kg/m2", formula="left in the wall")
                    for m, w in enumerate(year.by_month) if w > 1e-6
                ),
                Step(symbol=dries, value=None, unit="", formula=f"{MONTHS[least]}; {year.wettest or 'no place wet'}"),
            ),
        )  # fmt: skip


def _drying_figures(case: DampCase) -> Iterator[Figure]:
    """How long the mortar's own water takes to leave as vapour, the longest way."""
    if not case.house.stated:
        return
    key, label = "damp.building_water", "until the mortar's own water has left, by vapour alone (in fact sooner)"
    lacking = _known(case)
    lacking += () if case.mix is not None and case.mortar_volume is not None else ("the mix and the mortar's volume",)
    lacking += () if case.laying_month is not None else ("when laying begins (site.laying_begins)",)
    days = None if lacking else drying_days(case)
    if days is None:
        missing = lacking or ("a wall that dries within three years by vapour alone",)
        yield Figure(key=key, label=label, value=None, unit="d", bound="unknown", missing=missing, sources=(GLASER,))
        return
    water = free_water(case)
    yield Figure(
        key=key,
        label=label,
        value=days,
        unit="d",
        bound="at_most",
        sources=(GLASER, Cite("bound-water-memory"), MONTHLY),
        steps=(
            Step(symbol="free water", value=water, unit="kg/m2", formula="mixing water less what the cement binds"),
            Step(symbol="from the middle of each bead", value=None, unit="",
                 formula="to the air on its side, room warm as wanted, beads half as thick to the vapour"),
        ),
    )  # fmt: skip


def free_water(case: DampCase) -> float:
    """Water the mortar brings into a square metre of wall, less what its cement binds [kg/m2].

    Sources: `bound-water-memory`.
    """
    assert case.mix is not None
    assert case.mortar_volume is not None
    area = math.fsum(p.net_area for p in case.built.panels)
    cement = math.fsum(a.cement_mass for a in case.mix.amounts)
    bound = float(table("house")["water"]["bound"]) * cement
    brought = case.mix.water + math.fsum(a.delivered_mass - a.dry_mass for a in case.mix.amounts)
    return max(0.0, brought - bound) * case.mortar_volume / area


def drying_days(case: DampCase) -> float | None:
    """Days until the free water has left both beads by vapour alone, from the month laying begins; None beyond three years.

    Sources: ISO 13788 flow of vapour from a wet plane at the middle of each bead.
    """
    assert case.months is not None
    assert case.laying_month is not None
    left = free_water(case)
    joint = 1 - _wood(case)
    sd = case.plan.section.bead * table("house")["vapour"]["mortar"][1] / 2
    inside, outside = room_air(case.house, case.months, room_volume(case.plan, case.built)), outer_air(case.months)
    passed = 0.0
    for n in range(36):
        month = (case.laying_month - 1 + n) % 12
        rate = joint * 2e-10 / sd * sum(
            max(0.0, saturation_pressure(a.temperature) - a.pressure) for a in (inside[month], outside[month])
        )  # fmt: skip
        if rate * SECONDS[month] >= left:
            return passed + left / (rate * 86400)
        left -= rate * SECONDS[month]
        passed += DAYS[month]
    return None


def _wood(case: DampCase) -> float:
    """Share of the face that is wood, by the mortar in place: what is not joint."""
    assert case.mortar_volume is not None
    area = math.fsum(p.net_area for p in case.built.panels)
    depth = case.plan.section.mortar_depth
    return min(0.95, max(0.05, 1 - case.mortar_volume / (area * depth)))


def _mould_check(case: DampCase) -> Iterator[Check]:
    if not case.house.stated:
        return
    key, label = "damp.mould", "temperature factor that the inner face needs against mould, beside what it has"
    actual = case.face_factor
    if actual is None and case.u is not None:
        actual = plain_factor(case.u, FACE)
    lacking = _known(case) + (() if actual is not None else ("the wall's U-value",))
    if lacking or case.months is None:
        yield Check(
            key=key, label=label, demand=None, capacity=actual, unit="1", sources=(GLASER,),
            not_judged="missing: " + ", ".join(dict.fromkeys(lacking)),
        )  # fmt: skip
        return
    inside, outside = room_air(case.house, case.months, room_volume(case.plan, case.built)), outer_air(case.months)
    needs = [
        (needed_factor(i.pressure, i.temperature, o.temperature), m)
        for m, (i, o) in enumerate(zip(inside, outside, strict=True))
        if i.temperature - o.temperature > 5
    ]
    worst, month = max(needs)
    how = "straight through the wall; beside large logs it is less" if case.face_factor is None else case.face_how
    yield Check(
        key=key,
        label=label,
        demand=max(0.0, worst),
        capacity=actual,
        unit="1",
        sources=(GLASER, Cite("humidity-class-memory")),
        steps=(
            Step(symbol="hardest month", value=None, unit="", formula=MONTHS[month]),
            Step(symbol="vapour in the room", value=inside[month].pressure, unit="", formula="Pa"),
            Step(symbol="factor of the face", value=actual, unit="1", formula=how),
        ),
    )


def _foot_checks(case: DampCase) -> Iterator[Check]:
    """The wall's foot over the ground beside splash and lying snow."""
    plinth, snow = case.plan.plinth_height, case.house.lying_snow
    low, high = table("house")["rain"]["splash"]
    yield Check(
        key="damp.splash",
        label="height of the plinth against splash from the ground (common practice)",
        demand=low,
        low=low,
        high=high,
        capacity=plinth,
        unit="m",
        sources=(PLINTH, Cite("owner", "plinth.height")),
        not_judged="" if plinth is not None else "the plinth's height is not stated",
    )
    if snow is None and not case.house.stated:
        return
    yield Check(
        key="damp.snow",
        label="height of the plinth beside lying snow",
        demand=snow,
        capacity=plinth,
        unit="m",
        sources=(Cite("owner", "heat.lying_snow"), PLINTH),
        not_judged="" if None not in (plinth, snow) else "the plinth's height or heat.lying_snow is not stated",
    )


def _eaves_check(case: DampCase, eaves: Eaves | None, wind: float | None) -> Iterator[Check]:
    if eaves is None:
        return
    needed = None
    if wind is not None:
        needed = [needed_overhang(eaves, wind, f) for f in sorted(fall_speeds(), reverse=True)]
    yield Check(
        key="damp.eaves",
        label="eaves that keep driving rain of the windiest month off the whole wall",
        demand=None if needed is None else needed[1],
        low=None if needed is None else needed[0],
        high=None if needed is None else needed[2],
        capacity=eaves.overhang,
        unit="m",
        sources=(DRIFT, Cite("gunn-kinzer-1949", "drops"), Cite("eaves-edge"), Cite("owner", "roof.overhang")),
        steps=(
            Step(symbol="wind", value=wind, unit="m/s", formula="mean of the windiest month", source=MONTHLY),
            Step(symbol="drops fall", value=fall_speeds()[1], unit="m/s", source=Cite("gunn-kinzer-1949", "1.6 mm")),
        ),
        not_judged="" if wind is not None else "the wind of the months is not stated (site.months.wind)",
    )


def _rain_figures(
    case: DampCase, rain: tuple[PanelRain, ...], eaves: Eaves | None, wind: float | None
) -> Iterator[Figure]:
    if eaves is None:
        return
    key, label = "damp.wetted_height", "height of wall that driving rain wets under these eaves in the windiest month"
    if wind is None:
        yield Figure(
            key=key, label=label, value=None, unit="m", bound="unknown",
            missing=("the wind of the months (site.months.wind)",), sources=(DRIFT,),
        )  # fmt: skip
        return
    worst = max((r.wetted for r in rain), key=lambda b: b[1])
    side = "square to the wall" if case.house.rain_side is None else "from the side stated"
    yield Figure(
        key=key,
        label=label,
        value=worst[1],
        low=worst[0],
        high=worst[2],
        unit="m",
        sources=(
            DRIFT,
            Cite("gunn-kinzer-1949", "drops"),
            Cite("eaves-edge"),
            MONTHLY,
            *RANKED,
            *((RAIN_INDEX,) if case.wind_year is not None and case.wind_year.rain is not None else ()),
        ),
        steps=(
            Step(symbol="wind", value=wind, unit="m/s", formula=f"mean of the windiest month, {side}", source=MONTHLY),
            Step(symbol="edge of the roof", value=eaves.edge, unit="m", formula="over the bed: head - overhang x slope",
                 source=Cite("eaves-edge")),
            Step(symbol="drops fall", value=fall_speeds()[1], unit="m/s", formula="edge - overhang x fall / wind",
                 source=Cite("gunn-kinzer-1949", "1.6 mm")),
        ),
    )  # fmt: skip


def _decay(months: MonthlyNormals | None) -> tuple[Figure, ...]:
    key, label = "damp.decay_index", "climate index of decay of wood above the ground"
    source = (Cite("scheffer-index"), Cite("scheffer-classes"), MONTHLY)
    if months is None or months.rain_days is None:
        missing = ("the months' temperatures and rain days (site.months)",)
        return (Figure(key=key, label=label, value=None, unit="", bound="unknown", missing=missing, sources=source),)
    index = decay_index(months.temperature, months.rain_days)
    return (
        Figure(
            key=key,
            label=f"{label}: {decay_hazard(index)} ({'under 35 low, over 65 high'})",
            value=index,
            unit="",
            bound="at_least",
            sources=source,
            steps=tuple(
                Step(symbol=MONTHS[m], value=(t - 2) * (d - 3) / 16.7, unit="", formula="(T - 2) x (days - 3) / 16.7")
                for m, (t, d) in enumerate(zip(months.temperature, months.rain_days, strict=True))
                if t > 2 and d > 3
            )
            + (Step(symbol="rain days", value=None, unit="", formula="as the station counts them, often from 1 mm:"
                    " days from 0.25 mm are more"),),
        ),
    )  # fmt: skip


def _indices(case: DampCase) -> tuple[float | None, ...]:
    """Driving rain of each panel over the year of the station, where wind and rain were measured hour by hour."""
    year = case.wind_year
    if year is None or year.rain is None:
        return (None,) * len(case.built.panels)
    known = ~(np.isnan(year.rain) | np.isnan(year.wind_speed) | np.isnan(year.wind_direction))
    if known.mean() < 0.98:
        return (None,) * len(case.built.panels)
    wind, rain = year.wind_speed[known], year.rain[known] * 1000
    comes = np.radians(year.wind_direction[known])
    return tuple(driving_rain(wind, comes, rain, p.bearing) for p in case.built.panels)


def ranking(case: DampCase, rain: tuple[PanelRain, ...]) -> tuple[PanelRisk, ...]:
    """The panels, the dampest first, each with why and the cheapest cure.

    Args:
        case: what the damp is reckoned from.
        rain: on each panel.

    Sources: the order is an assumption (`panel-ranking`): wetted share of the panel times how much it faces the rain,
    with a tenth for each sill within the wetted part and for a foot within splash or snow.
    """
    by_name = {r.panel: r for r in rain}
    found = [_risk(case, p, by_name.get(p.name)) for p in case.built.panels]
    return tuple(sorted(found, key=lambda r: -r.score))


def _risk(case: DampCase, panel: Panel, rain: PanelRain | None) -> PanelRisk:
    score, why = 0.0, []
    if rain is not None and rain.wetted[1] > 0.01:
        face = 1.0 if rain.exposure is None else rain.exposure
        score += face * rain.wetted[1] / case.plan.height
        why.append("rain reaches its foot")
        sills = [o for o in panel.openings if o.opening.use == "window" and o.opening.sill < rain.wetted[1]]
        score += 0.1 * face * len(sills)
        why += [f"sill of {o.opening.id} stands in it" for o in sills]
    score, why = _at_foot(case, score, why)
    return PanelRisk(
        panel=panel.name, score=score, rain=rain, why=tuple(why) or ("nothing found",), cure=cure_of(case, rain)
    )


def _at_foot(case: DampCase, score: float, why: list[str]) -> tuple[float, list[str]]:
    plinth, snow = case.plan.plinth_height, case.house.lying_snow
    splash = table("house")["rain"]["splash"][0]
    if plinth is None:
        return score, [*why, "height of the plinth unknown"]
    if plinth < splash:
        return score + 0.1, [*why, "foot within splash"]
    if snow is not None and plinth < snow:
        return score + 0.1, [*why, "foot within lying snow"]
    return score, why


def cure_of(case: DampCase, rain: PanelRain | None) -> str:
    """The cheapest cure for a panel: before the roof is on wider eaves cost least, for a low foot gravel and a gutter.

    Args:
        case: what the damp is reckoned from.
        rain: on the panel.

    Sources: common practice (`damp-cures`).
    """
    plinth, snow = case.plan.plinth_height, case.house.lying_snow
    if plinth is not None and plinth < table("house")["rain"]["splash"][0]:
        return "coarse gravel at the foot and a gutter; a higher plinth while nothing is laid"
    if plinth is not None and snow is not None and plinth < snow:
        return "keep the snow shovelled off this wall; a higher plinth while nothing is laid"
    if rain is not None and rain.wetted[1] > 0.01:
        return "wider eaves before the roof is on; later a porch, a woodpile's roof or a hedge on this side"
    return "nothing but a look each spring"
