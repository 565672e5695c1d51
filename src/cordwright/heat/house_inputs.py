"""What does the owner state about roof, floor, windows, air, stove and use? A blank is unknown, and stays so.

Temperatures [degC], lengths [m], U-values [W/m2K], shares as fractions.
"""

from dataclasses import dataclass, field
from typing import Literal

FloorKind = Literal["on ground", "over open air"]
EdgeKind = Literal["none", "vertical", "horizontal"]
StoveKind = Literal["iron", "soapstone", "masonry"]
Pane = Literal["outside", "middle", "inside"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Insulation:
    """A layer of insulation: `thickness` and either a `material` of the table or a `conductivity` of one's own."""

    thickness: float | None = None
    material: str = ""
    conductivity: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class RoofHeat:
    """The roof: insulated over a level ceiling or along its slope; `u_value` where it is known as a whole."""

    insulation: Insulation = field(default_factory=Insulation)
    follows: Literal["ceiling", "slope"] = "ceiling"
    u_value: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class FloorHeat:
    """The floor: on the ground or over open air; `edge`: insulation along its edge, `edge_reach` in or down."""

    kind: FloorKind = "on ground"
    insulation: Insulation = field(default_factory=Insulation)
    edge: EdgeKind = "none"
    edge_insulation: Insulation = field(default_factory=Insulation)
    edge_reach: float | None = None
    u_value: float | None = None
    soil: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Glazing:
    """Windows: U-value of the whole, g-value of the pane, share of the opening that is frame, where the pane stands."""

    u_value: float | None = None
    g_value: float | None = None
    frame_share: float = 0.25
    pane: Pane = "outside"


@dataclass(frozen=True, slots=True, kw_only=True)
class RoofLight:
    """A pane in the roof: size [m] and the bearing it faces [rad]; U and g are the windows' where not stated."""

    id: str
    width: float
    height: float
    bearing: float = 0.0
    u_value: float | None = None
    g_value: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class StoveInput:
    """The stove as its plate and its owner say: nominal `power` to the room [W], `efficiency` [1], `mass` [kg].

    `fires`: clock hours at which it is lit on a usual day. `most_hours`: longest it is tended at one firing [h].
    """

    power: float | None = None
    efficiency: float | None = None
    mass: float | None = None
    kind: StoveKind = "iron"
    fires: tuple[float, ...] = (7.0, 17.0)
    most_hours: float = 5.0


@dataclass(frozen=True, slots=True, kw_only=True)
class WoodInput:
    """The firewood: a wood of the table and its moisture on the oven-dry mass [1]."""

    species: str = ""
    moisture: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class HouseInput:
    """How the building is heated and used.

    `set_temperature` while in use, `design_temperature` of the coldest days the heating is sized for. `used_share` of
    the days it is in use [1]; `people` in it then. `air_changes` in winter [1/h], or those of a `fan_test` at 50 Pa;
    `shelter` from wind, 1 to 5. `indoor_humidity` in winter [1]. `summer_air_changes` with windows open [1/h].
    `rain_side`: the bearing that driving rain comes from [rad]; `lying_snow` in a usual winter [m].
    """

    set_temperature: float | None = None
    design_temperature: float | None = None
    used_share: float | None = None
    people: float | None = None
    air_changes: float | None = None
    fan_test: float | None = None
    shelter: int = 3
    indoor_humidity: float | None = None
    summer_air_changes: float | None = None
    door_u_value: float | None = None
    rain_side: float | None = None
    lying_snow: float | None = None
    roof: RoofHeat = field(default_factory=RoofHeat)
    floor: FloorHeat = field(default_factory=FloorHeat)
    windows: Glazing = field(default_factory=Glazing)
    roof_lights: tuple[RoofLight, ...] = ()
    stove: StoveInput = field(default_factory=StoveInput)
    firewood: WoodInput = field(default_factory=WoodInput)

    @property
    def stated(self) -> bool:
        """Whether anything is said of heating at all."""
        return self.set_temperature is not None
