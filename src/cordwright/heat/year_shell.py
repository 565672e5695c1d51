"""How is the house laid out for its year of hours: what stores heat, what loses it, and what sun comes in?"""

import math
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from cordwright.base import table
from cordwright.heat.ground import monthly_flow, slab_transmittance
from cordwright.heat.house_inputs import HouseInput
from cordwright.heat.house_shell import (
    FLOOR_FILMS,
    ROOF_FILMS,
    Leakage,
    Loss,
    Wall,
    area_of,
    floor_band,
    layer_of,
    lining,
    openings_of,
    roof_area,
    roof_band,
    room_volume,
    slabs,
)
from cordwright.heat.house_wall import Section, section_modes
from cordwright.heat.leakage import AIR, leakage_area, shelter_factors
from cordwright.heat.sunlight import Floats, on_plane
from cordwright.heat.windows import Hole, angle_gain, diffuse_gain, window_gain
from cordwright.heat.year_elements import Layer, gathered, layered
from cordwright.heat.year_run import Draught, Shell, ShellPart, Vents
from cordwright.heat.year_weather import Weather, by_month
from cordwright.plan.inputs import Opening, PlanInput
from cordwright.plan.results import Plan

SOIL: Final = Layer(thickness=0.5, conductivity=2.0, density=2000.0, specific_heat=1000.0)


NEAR_FACE: Final = 0.03
"""How far a pane near a face stands in from it [m]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Case:
    """All that a year of hours stands on but the weather: the house, its shape, its wall with its section, air."""

    house: HouseInput
    plan: PlanInput
    built: Plan
    wall: Wall
    section: Section
    leakage: Leakage


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
    if house.air_changes is None and house.fan_test is not None:
        stack, blow = shelter_factors(house.shelter)
        return Draught(leak=leakage_area(house.fan_test, volume) * 10 * AIR, stack=stack, wind=blow)
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
    made = [
        ShellPart(name="walls", area=float(area.sum()), modes=section_modes(case.section, case.wall.u[1]), outer=outer)
    ]
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
