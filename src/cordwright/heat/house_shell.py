"""Through which parts does the house lose heat, how large is each, and what does it lose per kelvin?"""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any, Final

from cordwright.base import Cite, cite, table
from cordwright.heat.ground import Edge, Slab, ground, slab_transmittance
from cordwright.heat.house_inputs import HouseInput, Insulation
from cordwright.heat.leakage import AIR, usual_air_changes
from cordwright.heat.year_elements import Layer
from cordwright.plan.inputs import PlanInput
from cordwright.plan.results import Panel, Plan

Band = tuple[float, float, float]
"""Low, middle and high."""
ROOF_FILMS: Final = 0.10 + 0.04
FLOOR_FILMS: Final = 0.17 + 0.04
WALL_FILMS: Final = 0.13 + 0.04
CLOSED: Final = Cite("closed-form-plane", "areas")
GROUND: Final = Cite("iso-13370-memory", "slab on ground")


@dataclass(frozen=True, slots=True, kw_only=True)
class Loss:
    """One way out for heat: its extent (`amount` in `unit`), what a unit of it loses, and the loss [W/K], low to high.

    `kind`: walls, posts, windows, doors, roof, floor, edges or air. `sources` and `how` tell where it comes from.
    """

    name: str
    kind: str
    amount: float
    unit: str
    each: Band
    how: str
    sources: tuple[Cite, ...]

    @property
    def loss(self) -> Band:
        """Heat lost per kelvin [W/K]: low, middle, high."""
        low, middle, high = (self.amount * u for u in self.each)
        return low, middle, high


@dataclass(frozen=True, slots=True, kw_only=True)
class Wall:
    """What the walls lose and hold: U (low, middle, high) [W/m2K] and where that comes from."""

    u: Band
    how: str
    sources: tuple[Cite, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Leakage:
    """Air that the shrinkage gaps let through, as timber forecasts it: low, middle, high [1/h]; None is unknown."""

    changes: tuple[float | None, float | None, float | None] = (None, None, None)


def insulation_band(layer: Insulation) -> Band | None:
    """Conductivity of an insulation (low, middle, high) [W/mK]; None when neither it nor a known material is stated."""
    if layer.conductivity is not None:
        return (layer.conductivity,) * 3
    rows = table("house")["insulation"]
    if layer.material not in rows:
        return None
    row = rows[layer.material]
    return float(row["low"]), float(row["conductivity"]), float(row["high"])


def insulation_sources(layer: Insulation, key: str) -> tuple[Cite, ...]:
    """Where an insulation's conductivity comes from."""
    told = (Cite("owner", key),)
    if layer.conductivity is not None or not layer.material:
        return told
    row: dict[str, Any] = table("house")["insulation"][layer.material]
    return (*told, *(cite(text) for text in row["sources"]))


def layer_of(insulation: Insulation) -> Layer:
    """An insulation as a layer that holds heat; its density by the table, that of wood fibre for one's own."""
    rows = table("house")["insulation"]
    row = rows.get(insulation.material, rows["wood fibre"])
    band = insulation_band(insulation)
    assert band is not None
    assert insulation.thickness is not None
    return Layer(
        thickness=insulation.thickness,
        conductivity=band[1],
        density=row["density"],
        specific_heat=row["specific_heat"],
    )


def lining(name: str) -> Layer:
    """The boards under a roof or on a floor."""
    row = table("house")["lining"][name]
    return Layer(**row)


def _resisting(layer: Insulation, films: float, boards: Layer) -> Band:
    """U of an insulation with its boards and surfaces: low, middle, high [W/m2K]."""
    band, thickness = insulation_band(layer), layer.thickness
    assert band is not None
    assert thickness is not None
    low, middle, high = (1 / (films + boards.resistance + thickness / k) for k in band)
    return low, middle, high


def losses(
    house: HouseInput, plan: PlanInput, built: Plan, wall: Wall | None, leakage: Leakage
) -> tuple[tuple[Loss, ...], tuple[str, ...]]:
    """Give all ways out for heat that are known, and what must be stated for the others.

    Args:
        house: as the owner states it.
        plan: the shape as stated.
        built: the plan worked out.
        wall: U of the wall as laid or by its section; None while unknown.
        leakage: by the shrinkage gaps.

    Sources: those of each part.
    """
    found: list[Loss] = []
    missing: list[str] = []
    for part in (
        _walls(built, wall),
        _posts(plan, built),
        _windows(house, built),
        _doors(house, built),
        _roof(house, plan, built),
        _roof_lights(house),
        _floor(house, plan, built),
        _edges(built),
        _air(house, plan, built, leakage),
    ):
        for one in part:
            (missing if isinstance(one, str) else found).append(one)  # type: ignore[arg-type]
    return tuple(found), tuple(dict.fromkeys(missing))


Part = Iterator[Loss | str]


def area_of(built: Plan, key: str) -> float:
    """An area or length of the plan by its key, in SI."""
    value = built.figure(key).value
    assert isinstance(value, float)
    return value


def _walls(built: Plan, wall: Wall | None) -> Part:
    if wall is None:
        yield "the wall's U-value (what its log ends, mortar and fill are)"
        return
    area = math.fsum(p.net_area for p in built.panels)
    yield Loss(
        name="log walls",
        kind="walls",
        amount=area,
        unit="m2",
        each=wall.u,
        how=f"net wall area x U {wall.how}",
        sources=(CLOSED, *wall.sources),
    )


def post_area(plan: PlanInput, built: Plan) -> float:
    """Face of posts and corners between the panels, bed to wall head [m2]."""
    between = area_of(built, "plan.centre_perimeter") - math.fsum(p.centre_length for p in built.panels)
    return max(0.0, between) * plan.height


def timber_band(depth: float) -> Band:
    """U of timber of a depth across the grain: low, middle, high [W/m2K]."""
    row = table("house")["posts"]
    low, middle, high = (1 / (WALL_FILMS + depth / row[name]) for name in ("low", "conductivity", "high"))
    return low, middle, high


def _posts(plan: PlanInput, built: Plan) -> Part:
    timber = Cite("iso-10456-memory", "timber of 500 kg/m3")
    frame = plan.frame
    depth = frame.post_depth if frame.post_depth is not None else plan.section.thickness
    area = post_area(plan, built)
    if area > 1e-6:
        yield Loss(
            name="posts and corners",
            kind="posts",
            amount=area,
            unit="m2",
            each=timber_band(depth),
            how="centre line between the panels x height, timber across the grain",
            sources=(Cite("owner", "frame"), timber),
        )
    if frame.beam_depth:
        yield Loss(
            name="ring beam",
            kind="posts",
            amount=area_of(built, "plan.centre_perimeter") * frame.beam_depth,
            unit="m2",
            each=timber_band(depth),
            how="centre line x depth, timber across the grain as deep as a post",
            sources=(Cite("owner", "frame.beam_depth"), timber),
        )


def openings_of(built: Plan, *uses: str) -> tuple[tuple[Panel, float, str], ...]:
    """Openings of some uses: their panel, area [m2] and id."""
    return tuple((p, o.area, o.opening.id) for p in built.panels for o in p.openings if o.opening.use in uses)


def around(value: float) -> Band:
    """A stated U-value with the spread such values have."""
    error = float(table("house")["openings"]["u_error"])
    return value * (1 - error), value, value * (1 + error)


def _windows(house: HouseInput, built: Plan) -> Part:
    area = math.fsum(a for _, a, _ in openings_of(built, "window"))
    if not area:
        return
    if house.windows.u_value is None:
        yield "the windows' U-value (heat.windows.u_value)"
        return
    yield Loss(
        name="windows",
        kind="windows",
        amount=area,
        unit="m2",
        each=around(house.windows.u_value),
        how="frame outer sizes x U stated",
        sources=(CLOSED, Cite("owner", "heat.windows.u_value"), Cite("u-value-error")),
    )


def _doors(house: HouseInput, built: Plan) -> Part:
    area = math.fsum(a for _, a, _ in openings_of(built, "door", "other"))
    if not area:
        return
    if house.door_u_value is None:
        yield "the door's U-value (heat.door_u_value)"
        return
    yield Loss(
        name="doors",
        kind="doors",
        amount=area,
        unit="m2",
        each=around(house.door_u_value),
        how="frame outer sizes x U stated",
        sources=(CLOSED, Cite("owner", "heat.door_u_value"), Cite("u-value-error")),
    )


def roof_area(house: HouseInput, plan: PlanInput, built: Plan) -> float:
    """The insulated area over the room, roof lights taken off [m2]."""
    floor = area_of(built, "plan.inner_area")
    pitch = plan.roof.pitch if plan.roof is not None else 0.0
    whole = floor / math.cos(pitch) if house.roof.follows == "slope" else floor
    return max(0.0, whole - math.fsum(light.width * light.height for light in house.roof_lights))


def roof_band(house: HouseInput) -> Band | None:
    """U of the roof: low, middle, high [W/m2K]; None while unknown."""
    roof = house.roof
    if roof.u_value is not None:
        return around(roof.u_value)
    if roof.insulation.thickness is None or insulation_band(roof.insulation) is None:
        return None
    return _resisting(roof.insulation, ROOF_FILMS, lining("roof"))


def _roof(house: HouseInput, plan: PlanInput, built: Plan) -> Part:
    u = roof_band(house)
    if u is None:
        yield "the roof's insulation (heat.roof) or its U-value"
        return
    stated = house.roof.u_value is not None
    yield Loss(
        name="roof",
        kind="roof",
        amount=roof_area(house, plan, built),
        unit="m2",
        each=u,
        how=f"area along the {house.roof.follows} x U " + ("stated" if stated else "of insulation, boards, surfaces"),
        sources=(
            CLOSED,
            *((Cite("owner", "heat.roof.u_value"),) if stated else _layered(house.roof.insulation, "heat.roof")),
        ),
    )


def _layered(layer: Insulation, key: str) -> tuple[Cite, ...]:
    return (*insulation_sources(layer, key), Cite("iso-6946", "surface resistances"), Cite("lining-assumed"))


def _roof_lights(house: HouseInput) -> Part:
    area = math.fsum(light.width * light.height for light in house.roof_lights)
    if not area:
        return
    known = [light.u_value if light.u_value is not None else house.windows.u_value for light in house.roof_lights]
    if None in known:
        yield "the roof light's U-value (heat.roof_lights.u_value)"
        return
    whole = math.fsum(x.width * x.height * (u or 0.0) for x, u in zip(house.roof_lights, known, strict=True))
    yield Loss(
        name="roof lights",
        kind="windows",
        amount=area,
        unit="m2",
        each=around(whole / area),
        how="frame outer sizes x U stated",
        sources=(CLOSED, Cite("owner", "heat.roof_lights"), Cite("u-value-error")),
    )


def slabs(house: HouseInput, plan: PlanInput, built: Plan) -> tuple[Slab, Slab, Slab] | None:
    """The floor on the ground with its insulation leading little, as usual, and much; None while unknown."""
    floor = house.floor
    if floor.kind != "on ground" or not floor.soil:
        return None
    band: Band | None = (1.0, 1.0, 1.0)
    thickness = floor.insulation.thickness
    if thickness:
        band = insulation_band(floor.insulation)
    if band is None or thickness is None:
        return None
    boards = lining("floor").resistance
    low, middle, high = (_slab(house, plan, built, boards + (thickness / k if thickness else 0.0)) for k in band)
    return low, middle, high


def _slab(house: HouseInput, plan: PlanInput, built: Plan, resistance: float) -> Slab:
    floor = house.floor
    edge_band = insulation_band(floor.edge_insulation)
    edge = Edge()
    if floor.edge != "none" and edge_band and floor.edge_reach and floor.edge_insulation.thickness:
        edge = Edge(
            kind=floor.edge,
            width=floor.edge_reach,
            thickness=floor.edge_insulation.thickness,
            conductivity=edge_band[1],
        )
    return Slab(
        area=area_of(built, "plan.inner_area"),
        perimeter=area_of(built, "plan.inner_perimeter"),
        wall=plan.section.thickness,
        resistance=resistance,
        soil=ground(floor.soil),
        edge=edge,
    )


def floor_band(house: HouseInput, plan: PlanInput, built: Plan) -> Band | None:
    """U of the floor: low, middle, high [W/m2K]; None while unknown."""
    floor = house.floor
    if floor.u_value is not None:
        return around(floor.u_value)
    if floor.kind == "over open air":
        if floor.insulation.thickness is None or insulation_band(floor.insulation) is None:
            return None
        return _resisting(floor.insulation, FLOOR_FILMS, lining("floor"))
    found = slabs(house, plan, built)
    if found is None:
        return None
    low, middle, high = (slab_transmittance(s) for s in found)
    return low, middle, high


def _floor(house: HouseInput, plan: PlanInput, built: Plan) -> Part:
    u = floor_band(house, plan, built)
    if u is None:
        yield "the floor's insulation and the class of the ground (heat.floor)"
        return
    method = (GROUND,) if house.floor.kind == "on ground" and house.floor.u_value is None else ()
    how = "slab on the ground, steady" if method else "U stated or of its layers"
    yield Loss(
        name="floor",
        kind="floor",
        amount=area_of(built, "plan.inner_area"),
        unit="m2",
        each=u,
        how=f"inner area x U, {how}",
        sources=(CLOSED, *method, *insulation_sources(house.floor.insulation, "heat.floor")),
    )


def _edges(built: Plan) -> Part:
    row = table("house")["bridges"]
    assumed = (Cite("edge-loss-assumed"),)
    frames = math.fsum(2 * (o.opening.width + o.opening.height) for p in built.panels for o in p.openings)
    around_wall = area_of(built, "plan.inner_perimeter")
    for name, length, key in (
        ("edges of frames", frames, "frame"),
        ("foot of the wall", around_wall, "foot"),
        ("head of the wall", around_wall, "head"),
    ):
        if length:
            yield Loss(
                name=name,
                kind="edges",
                amount=length,
                unit="m",
                each=tuple(row[key]),
                how="length x loss of the edge",
                sources=assumed,
            )


def room_volume(plan: PlanInput, built: Plan) -> float:
    """Air of the room [m3]."""
    height = plan.ceiling_height if plan.ceiling_height is not None else plan.height
    return area_of(built, "plan.inner_area") * height


def air_band(house: HouseInput, leakage: Leakage) -> tuple[Band, str, tuple[Cite, ...]] | None:
    """Air changes in winter (low, middle, high) [1/h], how they are known and from where; None while unknown."""
    error = float(table("house")["infiltration"]["error"])
    if house.air_changes is not None:
        n = house.air_changes
        return (n * (1 - error), n, n * (1 + error)), "as stated", (
            Cite("owner", "heat.air_changes"), Cite("air-change-spread")
        )  # fmt: skip
    if house.fan_test is not None:
        n = usual_air_changes(house.fan_test)
        return (n * (1 - error), n, n * (1 + error)), "a twentieth of the fan test", (
            Cite("owner", "heat.fan_test"), Cite("n50-twentieth"), Cite("air-change-spread")
        )  # fmt: skip
    low, middle, high = leakage.changes
    if middle is None:
        return None
    found = (middle if low is None else low, middle, middle if high is None else high)
    return found, "through the shrinkage gaps, as forecast", (Cite("parallel-plates", "cube of the gap"),)


def _air(house: HouseInput, plan: PlanInput, built: Plan, leakage: Leakage) -> Part:
    found = air_band(house, leakage)
    if found is None:
        yield "how much air leaks (heat.air_changes, heat.fan_test or the gaps of the log ends)"
        return
    (low, middle, high), how, sources = found
    each = AIR / 3600
    yield Loss(
        name="air",
        kind="air",
        amount=room_volume(plan, built),
        unit="m3",
        each=(low * each, middle * each, high * each),
        how=f"room x {middle:.3g} air changes an hour, {how} x 0.336 Wh/m3K",
        sources=(*sources, Cite("air-memory", "density and heat")),
    )
