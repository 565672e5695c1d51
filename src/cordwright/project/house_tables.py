"""What may stand under [heat] in building.toml, and how does it become what the house stands on?"""

import math
from typing import TYPE_CHECKING, Annotated, Final, Literal

from cordwright.base import table
from cordwright.heat.house_inputs import (
    FloorHeat,
    Glazing,
    HouseInput,
    Insulation,
    RoofHeat,
    RoofLight,
    StoveInput,
    WoodInput,
)
from cordwright.heat.inputs import HeatInput
from cordwright.project.fields import (
    Bearing,
    Clock,
    Conductivity,
    Length,
    Mass,
    Moisture,
    Name,
    PartShare,
    Power,
    Share,
    Size,
    Temperature,
    Time,
    Transmittance,
    choice,
    number,
    whole,
)
from cordwright.project.heat_tables import wall_heat
from cordwright.project.schema import Table

if TYPE_CHECKING:
    from cordwright.project.document import Document

MATERIALS: Final = tuple(table("house")["insulation"])
WOODS: Final = tuple(key for key, row in table("firewood").items() if "kind" in row)
Material = Annotated[str, choice(*MATERIALS)]
Rate = Annotated[float, number(0.0, 30.0, "0.4")]
People = Annotated[float, number(0.0, 50.0, "1 or 0.5")]


class RoofHeatTable(Table):
    """[heat.roof]: what keeps the roof warm."""

    insulation: Size | None = None
    material: Material = ""
    conductivity: Conductivity | None = None
    follows: Annotated[Literal["ceiling", "slope"], choice("ceiling", "slope")] = "ceiling"
    u_value: Transmittance | None = None


class FloorHeatTable(Table):
    """[heat.floor]: what lies under the feet."""

    kind: Annotated[Literal["on ground", "over open air"], choice("on ground", "over open air")] = "on ground"
    insulation: Length | None = None
    material: Material = ""
    conductivity: Conductivity | None = None
    u_value: Transmittance | None = None
    ground: Annotated[Literal["clay", "sand", "rock", ""], choice("clay", "sand", "rock")] = ""
    edge: Annotated[Literal["none", "vertical", "horizontal"], choice("none", "vertical", "horizontal")] = "none"
    edge_insulation: Size | None = None
    edge_material: Material = ""
    edge_reach: Size | None = None


class WindowsTable(Table):
    """[heat.windows]: what all windows have in common."""

    u_value: Transmittance | None = None
    g_value: Share | None = None
    frame_share: Share = 0.25
    pane: Annotated[Literal["outside", "middle", "inside"], choice("outside", "middle", "inside")] = "outside"


class RoofLightTable(Table):
    """[[heat.roof_lights]]: a pane in the roof."""

    id: Name
    width: Size
    height: Size
    facing: Bearing = 0.0
    u_value: Transmittance | None = None
    g_value: Share | None = None


class StoveTable(Table):
    """[heat.stove]: the stove as its plate says, and how it is tended."""

    power: Power | None = None
    efficiency: PartShare | None = None
    mass: Mass | None = None
    kind: Annotated[Literal["iron", "soapstone", "masonry"], choice("iron", "soapstone", "masonry")] = "iron"
    fires: tuple[Clock, ...] = (7.0, 17.0)
    most_hours: Time = 5.0


class FirewoodTable(Table):
    """[heat.firewood]: what is burnt."""

    species: Annotated[str, choice(*WOODS)] = ""
    moisture: Moisture | None = None


class HeatTable(Table):
    """[heat]: how warm, when, for how many."""

    set_temperature: Temperature
    design_temperature: Temperature | None = None
    used_share: Share | None = None
    people: People | None = None
    air_changes: Rate | None = None
    fan_test: Rate | None = None
    shelter: Annotated[int, whole(1, 5)] = 3
    indoor_humidity: PartShare | None = None
    summer_air_changes: Rate | None = None
    door_u_value: Transmittance | None = None
    rain_from: Bearing | None = None
    lying_snow: Length | None = None
    roof: RoofHeatTable | None = None
    floor: FloorHeatTable | None = None
    windows: WindowsTable | None = None
    roof_lights: tuple[RoofLightTable, ...] = ()
    stove: StoveTable | None = None
    firewood: FirewoodTable | None = None


def heat_input(document: "Document") -> HeatInput | None:
    """Give all that is stated about heat, of the wall and of the house; None if a table has a fault."""
    wall = wall_heat(document)
    if wall is None or not document.sound("heat"):
        return None
    return HeatInput(wall=wall, house=house_input(document.one("heat", HeatTable)))


def house_input(heat: HeatTable | None) -> HouseInput:
    """Give what the owner states of heating; all blank where there is no [heat].

    Args:
        heat: the table as read.
    """
    if heat is None:
        return HouseInput()
    plain = {name: getattr(heat, name) for name in PLAIN}
    return HouseInput(
        **plain,
        rain_side=None if heat.rain_from is None else heat.rain_from % (2 * math.pi),
        roof=_roof(heat.roof or RoofHeatTable()),
        floor=_floor(heat.floor or FloorHeatTable()),
        windows=Glazing(**dict(heat.windows)) if heat.windows else Glazing(),
        roof_lights=tuple(_roof_light(light) for light in heat.roof_lights),
        stove=StoveInput(**dict(heat.stove)) if heat.stove else StoveInput(),
        firewood=WoodInput(**dict(heat.firewood)) if heat.firewood else WoodInput(),
    )


PLAIN: Final = (
    "set_temperature", "design_temperature", "used_share", "people", "air_changes", "fan_test", "shelter",
    "indoor_humidity", "summer_air_changes", "door_u_value", "lying_snow",
)  # fmt: skip


def _roof(roof: RoofHeatTable) -> RoofHeat:
    layer = Insulation(thickness=roof.insulation, material=roof.material, conductivity=roof.conductivity)
    return RoofHeat(insulation=layer, follows=roof.follows, u_value=roof.u_value)


def _floor(floor: FloorHeatTable) -> FloorHeat:
    return FloorHeat(
        kind=floor.kind,
        insulation=Insulation(thickness=floor.insulation, material=floor.material, conductivity=floor.conductivity),
        edge=floor.edge,
        edge_insulation=Insulation(thickness=floor.edge_insulation, material=floor.edge_material),
        edge_reach=floor.edge_reach,
        u_value=floor.u_value,
        soil=floor.ground,
    )


def _roof_light(light: RoofLightTable) -> RoofLight:
    return RoofLight(
        id=light.id,
        width=light.width,
        height=light.height,
        bearing=light.facing,
        u_value=light.u_value,
        g_value=light.g_value,
    )
