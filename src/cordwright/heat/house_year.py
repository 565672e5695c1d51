"""How does the year of hours go in this house: what does the stove give, how cold is the morning, how hot the summer?"""

import math
from dataclasses import dataclass, replace
from typing import Any, Final

import numpy as np

from cordwright.base import Cite, OutOfRangeError, table
from cordwright.heat.ground import monthly_flow, slab_transmittance
from cordwright.heat.house import total
from cordwright.heat.house_inputs import HouseInput
from cordwright.heat.house_results import HouseYear
from cordwright.heat.house_shell import (
    FLOOR_FILMS,
    ROOF_FILMS,
    Band,
    Loss,
    layer_of,
    lining,
    losses,
    openings_of,
    post_area,
    roof_area,
    roof_band,
    room_volume,
    slabs,
)
from cordwright.heat.house_shell import Leakage, Wall, area_of, floor_band
from cordwright.heat.leakage import AIR, leakage_area, shelter_factors
from cordwright.heat.sunlight import Floats, Sun, on_plane, sun_at
from cordwright.heat.windows import Hole, diffuse_gain, angle_gain, window_gain
from cordwright.heat.year_elements import INDOORS, Layer, Modes, areal_capacity, gathered, layered
from cordwright.heat.year_generated import generated_year
from cordwright.heat.year_run import Draught, Hours, Person, Shell, ShellPart, StoveBody, Vents, YearRun, run_year
from cordwright.plan.inputs import Opening, PlanInput
from cordwright.plan.results import Plan
from cordwright.site.climate import DAYS
from cordwright.site.inputs import SiteInput
from cordwright.site.weather_year import WeatherYear

MOST_BRIDGED: Final = 0.02
"""Share of hours not measured beyond which a year is not run."""
SOIL: Final = Layer(thickness=0.5, conductivity=2.0, density=2000.0, specific_heat=1000.0)
SUN_SOURCES: Final = (
    Cite("perez-1990"),
    Cite("kasten-young-1989"),
    Cite("spencer-1971", "sun outside the atmosphere"),
    Cite("albedo-memory"),
    Cite("glass-by-angle"),
    Cite("reveal-shade"),
    Cite("parallel-rectangles"),
    Cite("reveal-light"),
)
"""What stands behind the sun on walls and through panes."""
ROOM_SOURCES: Final = (
    Cite("iso-13786-memory"),
    Cite("iso-13790-memory", "air and faces"),
    Cite("iso-52016-memory", "ground"),
    Cite("mean-layers"),
    Cite("leakage-area"),
    Cite("days-in-a-row"),
)
"""What stands behind room, walls and use."""
DRAWN_SOURCES: Final = (Cite("hargreaves-fao56"), Cite("erbs-1982"))
"""What stands behind the sun of a year that is drawn from the months."""
NEAR_FACE: Final = 0.03
"""How far a pane near a face stands in from it [m]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Case:
    """All that a year of hours stands on but the weather: the house, its shape, its wall with its shapes, air."""

    house: HouseInput
    plan: PlanInput
    built: Plan
    wall: Wall
    wall_modes: Modes
    leakage: Leakage


@dataclass(frozen=True, slots=True, kw_only=True)
class Weather:
    """The hours as they are used: gaps bridged, with day, clock and month of each, and where the sun stands."""

    year: WeatherYear
    temperature: Floats
    direct: Floats
    diffuse: Floats
    wind: Floats
    day: Floats
    month: Floats
    sun: Sun
    bridged: int


def weather_of(year: WeatherYear) -> Weather:
    """Ready a year of weather.

    Args:
        year: hours of a station.

    Raises:
        OutOfRangeError: more hours were not measured than may be filled between their neighbours.
    """
    names = ("temperature", "direct_normal", "diffuse_horizontal", "wind_speed")
    columns = [getattr(year, name) for name in names]
    gaps = int(np.any([np.isnan(c) for c in columns], axis=0).sum())
    if gaps > MOST_BRIDGED * year.hours:
        raise OutOfRangeError(f"{gaps} hours of the year were not measured; a year is run with up to 2 % of them")
    temperature, direct, diffuse, wind = (_bridged(c) for c in columns)
    hours = np.arange(year.hours)
    day = hours // 24 + 1.0
    lengths = np.array(DAYS) + (np.array([0, 1, *[0] * 10]) if year.hours > 8760 else 0)
    return Weather(
        year=year,
        temperature=temperature,
        direct=direct,
        diffuse=diffuse,
        wind=wind,
        day=day,
        month=np.repeat(np.arange(12), lengths * 24).astype(np.float64),
        sun=sun_at(year.hours, year.latitude, year.longitude, year.utc_offset),
        bridged=gaps,
    )


def _bridged(column: Floats) -> Floats:
    known = np.flatnonzero(~np.isnan(column))
    return np.interp(np.arange(column.size), known, column[known]) if known.size < column.size else column


def by_month(values: Floats, weather: Weather) -> tuple[float, ...]:
    """Sum of hourly values in each month, shape (12,)."""
    return tuple(float(values[weather.month == m].sum()) for m in range(12))


def usual_weather(site: SiteInput) -> WeatherYear | None:
    """The year of the file that the owner named, else one drawn from the months; None where neither can be.

    Args:
        site: the place.
    """
    if site.weather is not None and site.weather.year is not None:
        return site.weather.year
    return generated_year(site)


def run_house(case: Case, year: WeatherYear) -> HouseYear:
    """Run the year of a house three times, losing little, as usual and much.

    Args:
        case: all it stands on; every way out for heat is known.
        year: hours of weather.

    Raises:
        OutOfRangeError: a year of weather with too many gaps.

    Sources: `two-port-galerkin`; the stove by `sensible-fire`.
    """
    weather = weather_of(year)
    parts, missing = losses(case.house, case.plan, case.built, case.wall, case.leakage)
    if missing:
        raise OutOfRangeError("a year is not run while this is unknown: " + ", ".join(missing))
    loss = total(parts)
    shell = shell_of(case, parts, weather)
    hours = hours_of(case, weather)
    body, person = stove_of(case, loss, shell)
    runs = [run_year(_eased(shell, x - loss[1]), hours, body, replace(person, loss=x)) for x in loss]
    shut = run_year(replace(shell, vents=Vents()), hours, body, person) if shell.vents.conductance else runs[1]
    return _summary(case, weather, hours, runs, shut)


def _eased(shell: Shell, by: float) -> Shell:
    """The shell with another loss per kelvin, put where heat is lost at once [W/K]."""
    return replace(shell, past=max(0.0, shell.past + by))


def shell_of(case: Case, parts: tuple[Loss, ...], weather: Weather) -> Shell:
    """Build the shell for the hours: what stores heat as parts, all else as plain losses.

    Args:
        case: all it stands on.
        parts: the ways out for heat.
        weather: made ready.
    """
    kinds = {kind: math.fsum(p.loss[1] for p in parts if p.kind == kind) for kind in ("windows", "doors", "edges")}
    made = (*_walls(case, parts, weather), _roof(case, weather), _floor(case, weather), _things(case, weather))
    shared = _sun_shared(tuple(made))
    volume = room_volume(case.plan, case.built)
    changes = case.house.summer_air_changes
    over = float(table("house")["overheating"]["vents_over"])
    panes = math.fsum(a for _, a, _ in openings_of(case.built, "window", "door", "other"))
    return Shell(
        parts=shared,
        past=math.fsum(kinds.values()),
        air=volume * AIR,
        faces=math.fsum(p.area for p in shared) + panes,
        draught=_draught(case, parts, volume),
        vents=Vents() if changes is None else Vents(conductance=changes * volume * AIR / 3600, over=over),
    )


def _draught(case: Case, parts: tuple[Loss, ...], volume: float) -> Draught:
    house = case.house
    if house.air_changes is None and house.n50 is not None:
        stack, blow = shelter_factors(house.shelter)
        return Draught(leak=leakage_area(house.n50, volume) * 10 * AIR, stack=stack, wind=blow)
    return Draught(fixed=math.fsum(p.loss[1] for p in parts if p.kind == "air"))


def _felt_outside(weather: Weather, light: Floats, sees: float) -> Floats:
    """Temperature that an outer face feels: the air, warmed by sun and cooled by the sky [degC]."""
    row = table("house")["surfaces"]
    sky = row["emits"] * row["radiates"] * row["sky_colder"] * sees
    return np.asarray(weather.temperature + 0.04 * (row["absorbs"] * light - sky))


def _walls(case: Case, parts: tuple[Loss, ...], weather: Weather) -> tuple[ShellPart, ...]:
    """Walls of one section answer alike, so they are one part under the mean of their suns; posts likewise."""
    sees = table("house")["surfaces"]["wall_sees"]
    area = np.array([p.net_area for p in case.built.panels])
    suns = [
        on_plane(weather.sun, weather.direct, weather.diffuse, weather.day, tilt=math.pi / 2, bearing=p.bearing).all
        for p in case.built.panels
    ]
    light = np.asarray(area @ np.stack(suns) / area.sum())
    outer = _felt_outside(weather, light, sees)
    made = [ShellPart(name="walls", area=float(area.sum()), modes=case.wall_modes, outer=outer)]
    timber = math.fsum(p.amount for p in parts if p.kind == "posts")
    if timber:
        row = table("house")["posts"]
        depth = case.plan.frame.post_depth or case.plan.section.thickness
        layer = Layer(
            thickness=depth, conductivity=row["conductivity"], density=row["density"],
            specific_heat=row["specific_heat"],
        )  # fmt: skip
        made.append(ShellPart(name="posts", area=timber, modes=gathered(layered((layer,))), outer=outer))
    return tuple(made)


def _matched(layers: tuple[Layer, ...], films: float, u: float, at: int) -> tuple[Layer, ...]:
    """The layers with one of them leading so that the whole has a U-value."""
    others = films + math.fsum(x.resistance for n, x in enumerate(layers) if n != at)
    wanted = max(1e-3, 1 / u - others)
    return tuple(replace(x, conductivity=x.thickness / wanted) if n == at else x for n, x in enumerate(layers))


def _roof(case: Case, weather: Weather) -> ShellPart:
    house = case.house
    u = roof_band(house)
    assert u is not None
    stuffed = replace(house.roof.insulation, thickness=house.roof.insulation.thickness or 0.042 / u[1])
    known = stuffed if stuffed.material or stuffed.conductivity else replace(stuffed, material="wood fibre")
    layers = _matched((lining("roof"), layer_of(known)), ROOF_FILMS, u[1], 1)
    pitch = case.plan.roof.pitch if case.plan.roof is not None else 0.0
    light = on_plane(weather.sun, weather.direct, weather.diffuse, weather.day, tilt=pitch, bearing=0.0)
    around = on_plane(weather.sun, weather.direct, weather.diffuse, weather.day, tilt=pitch, bearing=math.pi)
    sees = table("house")["surfaces"]["roof_sees"]
    return ShellPart(
        name="roof",
        area=roof_area(house, case.plan, case.built),
        modes=gathered(layered(layers, inside=0.10)),
        outer=_felt_outside(weather, (light.all + around.all) / 2, sees),
        face=0.10,
    )


def _floor(case: Case, weather: Weather) -> ShellPart:
    u = floor_band(case.house, case.plan, case.built)
    assert u is not None
    stated = case.house.floor
    resists = stated.insulation if stated.insulation.thickness else None
    layers: tuple[Layer, ...] = (lining("floor"), *((layer_of(resists),) if resists else ()))
    area = area_of(case.built, "plan.inner_area")
    if stated.kind == "on ground":
        outer, tie = _ground_beneath(case, weather, u[1], layers)
        modes = gathered(layered((*layers, SOIL), inside=0.17, outside=tie))
        return ShellPart(name="floor", area=area, modes=modes, outer=outer, face=0.17)
    matched = _matched(layers, FLOOR_FILMS, u[1], len(layers) - 1)
    return ShellPart(
        name="floor", area=area, modes=gathered(layered(matched, inside=0.17)), outer=weather.temperature, face=0.17
    )


def _ground_beneath(case: Case, weather: Weather, u: float, layers: tuple[Layer, ...]) -> tuple[Floats, float]:
    """Temperature beneath half a metre of soil in each hour [degC], and the resistance down to it [m2K/W].

    Sources: ISO 13370 monthly flow; the virtual layer beneath is that of ISO 52016 as remembered
    (`iso-52016-memory`).
    """
    above = 0.17 + math.fsum(x.resistance for x in (*layers, SOIL))
    tie = max(0.05, 1 / u - above)
    found = slabs(case.house, case.plan, case.built)
    months = by_month(weather.temperature, weather)
    hours = by_month(np.ones_like(weather.temperature), weather)
    outside = tuple(t / h for t, h in zip(months, hours, strict=True))
    wanted = case.house.set_temperature
    assert wanted is not None
    inside = tuple(max(wanted, t) for t in outside)
    whole = above + tie
    if found is None:
        mean = sum(outside) / 12
        return np.full_like(weather.temperature, mean), tie
    area = found[1].area
    flows = monthly_flow(found[1], inside, outside)
    steady = slab_transmittance(found[1])
    flows = tuple(q * u / steady for q in flows)
    below = [t - q / area * whole for t, q in zip(inside, flows, strict=True)]
    return np.asarray(np.array(below)[weather.month.astype(int)]), tie


def _things(case: Case, weather: Weather) -> ShellPart:
    """Furniture and inner walls, as boards that lose nothing."""
    capacity = float(table("house")["furniture"]["capacity"])
    board = Layer(thickness=0.02, conductivity=0.13, density=capacity / 0.02 / 1600, specific_heat=1600.0)
    modes = gathered(layered((board,), outside=math.inf))
    area = area_of(case.built, "plan.inner_area")
    return ShellPart(name="things", area=area, modes=modes, outer=np.zeros_like(weather.temperature))


def _sun_shared(parts: tuple[ShellPart, ...]) -> tuple[ShellPart, ...]:
    """Let the floor take its share of the sun that came in, and walls, posts and roof the rest by their area."""
    share = float(table("house")["surfaces"]["floor_share"])
    others = math.fsum(p.area for p in parts if p.name not in ("floor", "things"))
    by_name = {"floor": share, "things": 0.0}
    return tuple(replace(p, sun_share=by_name.get(p.name, (1 - share) * p.area / others)) for p in parts)


def hole_of(opening: Opening, case_plan: PlanInput, pane: str) -> Hole:
    """A window as the sun sees it: its reveal, and the eaves over it.

    Args:
        opening: the window.
        case_plan: the shape as stated.
        pane: near which face it stands.
    """
    thickness = case_plan.section.thickness
    setback = {"outside": NEAR_FACE, "middle": thickness / 2, "inside": thickness - NEAR_FACE}[pane]
    roof = case_plan.roof
    over = case_plan.height - opening.sill - opening.height + (case_plan.frame.beam_depth or 0.0)
    return Hole(
        width=opening.width,
        height=opening.height,
        setback=setback,
        eaves=roof.overhang if roof else 0.0,
        above=over - roof.overhang * math.tan(roof.pitch) if roof else 0.0,
    )


def sun_through(case: Case, weather: Weather) -> Floats:
    """Sun that comes in through all panes in each hour [W]; none where no g-value is stated.

    Args:
        case: all it stands on.
        weather: made ready.

    Sources: those of `windows`.
    """
    glass = case.house.windows
    whole = np.zeros_like(weather.temperature)
    for panel in case.built.panels:
        lit = [o for o in panel.openings if o.opening.use == "window"]
        if not lit or glass.g_value is None:
            continue
        light = on_plane(
            weather.sun, weather.direct, weather.diffuse, weather.day, tilt=math.pi / 2, bearing=panel.bearing
        )
        for o in lit:
            gain = window_gain(
                hole_of(o.opening, case.plan, glass.pane), light, weather.sun, panel.bearing, glass.g_value
            )
            whole += o.area * (1 - glass.frame_share) * gain
    return whole + _sun_from_above(case, weather)


def _sun_from_above(case: Case, weather: Weather) -> Floats:
    pitch = case.plan.roof.pitch if case.plan.roof is not None else 0.0
    whole = np.zeros_like(weather.temperature)
    for pane in case.house.roof_lights:
        g = pane.g_value if pane.g_value is not None else case.house.windows.g_value
        if g is None:
            continue
        light = on_plane(weather.sun, weather.direct, weather.diffuse, weather.day, tilt=pitch, bearing=pane.bearing)
        through = light.beam * angle_gain(light.incidence) + light.diffuse * diffuse_gain()
        whole += pane.width * pane.height * (1 - case.house.windows.frame_share) * g * through
    return whole


def days_in_use(share: float, days: int) -> Floats:
    """Which days the house is in use (1) or not (0): as many whole days in each week as the share asks for, in a row.

    Args:
        share: of the days [1].
        days: of the year.

    Sources: assumption (`days-in-a-row`).
    """
    week = np.arange(days) // 7
    so_far = np.floor((week + 1) * 7 * share + 1e-9) - np.floor(week * 7 * share + 1e-9)
    return np.asarray((np.arange(days) % 7 >= 7 - so_far).astype(np.float64))


def hours_of(case: Case, weather: Weather) -> Hours:
    """Weather, sun and use in each hour.

    Args:
        case: all it stands on.
        weather: made ready.
    """
    house, row = case.house, table("house")
    share = 1.0 if house.used_share is None else house.used_share
    used = np.repeat(days_in_use(share, weather.year.hours // 24), 24)
    clock = np.arange(used.size) % 24
    awake = (clock >= row["night"]["morning"]) & (clock < row["night"]["evening"])
    people = (house.people or 0.0) * row["people"]["warmth"]
    gains = used * (people + np.where(awake & (people > 0), row["people"]["lamps"], 0.0))
    return Hours(
        outside=weather.temperature,
        sun=sun_through(case, weather),
        gains=gains,
        wind=weather.wind,
        in_use=used,
    )


def stove_of(case: Case, loss: Band, shell: Shell) -> tuple[StoveBody, Person]:
    """The stove and who tends it.

    Args:
        case: all it stands on.
        loss: of the building [W/K].
        shell: for the hours.

    Sources: `stove-memory`; a stove that is not stated is as large as half-way between least and most.
    """
    stated, row = case.house.stove, table("house")
    kind: dict[str, Any] = row["stove"][stated.kind]
    wanted = case.house.set_temperature
    assert wanted is not None
    power = stated.power if stated.power is not None else assumed_power(case.house, loss[1])
    mass = stated.mass if stated.mass is not None else kind["mass"]
    body = StoveBody(
        capacity=mass * kind["specific_heat"],
        conductance=mass * kind["gives"],
        power=power,
        most=power * stated.most_hours * 3600,
        least=power * row["stove"]["least_share"] * row["stove"]["least_hours"] * 3600,
        slowest=power * row["stove"]["least_share"],
        lasts=stated.most_hours * 3600,
        radiant=kind["radiant"],
    )
    stored = math.fsum(p.area * areal_capacity(p.modes) for p in shell.parts) + shell.air
    person = Person(
        wanted=wanted,
        fires=tuple(int(h) for h in stated.fires),
        wakes=row["night"]["morning"],
        sleeps=row["night"]["evening"],
        loss=loss[1],
        capacity=stored,
        free=(case.house.people or 0.0) * row["people"]["warmth"],
    )
    return body, person


def assumed_power(house: HouseInput, loss: float) -> float:
    """Power of a stove that is not stated: half-way between the least and the most for the coldest days [W]."""
    assert house.set_temperature is not None
    design = -15.0 if house.design_temperature is None else house.design_temperature
    load = loss * (house.set_temperature - design)
    tended = min(24.0, len(house.stove.fires) * house.stove.most_hours)
    return load * (1 + 24 / tended) / 2


def _summary(case: Case, weather: Weather, hours: Hours, runs: list[YearRun], shut: YearRun) -> HouseYear:
    run = runs[1]
    row = table("house")
    low, middle, high = (float(r.fire.sum() * 3600) for r in runs)
    nights = _nights(run, hours, weather)
    over = row["overheating"]["over"]
    used = hours.in_use > 0
    lit = run.charges > 0
    clock = np.arange(used.size) % 24
    usual = np.isin(clock, [int(h) for h in case.house.stove.fires])
    per_month = [_band(np.array([m for m, _, month in nights if month == n])) for n in range(12)]
    return HouseYear(
        run=run,
        outside=weather.temperature,
        season_energy=(min(low, middle), middle, max(high, middle)),
        morning=_band(np.array([m for m, _, _ in nights])),
        drop=_band(np.array([d for _, d, _ in nights if not math.isnan(d)])),
        warm_hours=float((used & (run.felt > over)).sum()),
        warm_hours_shut=float((used & (shut.felt > over)).sum()),
        fire=by_month(run.fire * 3600, weather),
        sun=by_month(hours.sun * 3600, weather),
        gains=by_month(hours.gains * 3600, weather),
        mornings_by_month=tuple(per_month),
        fires=int((lit & usual).sum()),
        extra_fires=int((lit & ~usual).sum()),
        weather=f"weather of {weather.year.station or 'the file named'}",
        bridged=weather.bridged,
        sources=(
            weather.year.source,
            *(DRAWN_SOURCES if weather.year.source.key == "day-curve" else ()),
            *SUN_SOURCES,
            *ROOM_SOURCES,
        ),
    )


def _nights(run: YearRun, hours: Hours, weather: Weather) -> list[tuple[float, float, int]]:
    """Morning temperature, fall since the evening (NaN when nobody was there) and month of each winter day in use."""
    row = table("house")["night"]
    limit = float(table("house")["season"]["limit"])
    mean = np.array(by_month(weather.temperature, weather)) / np.array(by_month(np.ones_like(run.felt), weather))
    found = []
    for day in range(1, run.felt.size // 24):
        at, before = 24 * day + row["morning"] - 1, 24 * day - 24 + row["evening"] - 1
        month = int(weather.month[at])
        if hours.in_use[at] and hours.in_use[before] and mean[month] < limit:
            fall = float(run.felt[before] - run.felt[at])
            found.append((float(run.felt[at]), fall, month))
    return found


def _band(values: Floats) -> Band | None:
    """One in twenty, mean, and nineteen in twenty of some values; None of none."""
    if not values.size:
        return None
    low, high = (float(v) for v in np.percentile(values, (5, 95)))
    middle = float(values.mean())
    return min(low, middle), middle, max(high, middle)


def layered_wall(
    thicknesses: tuple[float, ...], conductivities: tuple[float, ...], capacities: tuple[float, ...], u: float
) -> Modes:
    """A wall as plane layers of mean stuff, leading as a whole as its U-value says.

    Args:
        thicknesses: from inside to outside [m].
        conductivities: mean over log ends and joints [W/mK].
        capacities: mean of the same [J/m3K].
        u: of the wall [W/m2K].

    Sources: area means (`mean-layers`); the swing comes out larger than that of the wall as laid.
    """
    plain = math.fsum(d / k for d, k in zip(thicknesses, conductivities, strict=True))
    scale = plain / (1 / u - INDOORS - 0.04)
    layers = tuple(
        Layer(thickness=d, conductivity=k * scale, density=c / 1000.0, specific_heat=1000.0)
        for d, k, c in zip(thicknesses, conductivities, capacities, strict=True)
    )
    return gathered(layered(layers))
