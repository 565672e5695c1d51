"""What does the owner state about how the wall leads heat? All may be left out; conductivities in W/(m K)."""

from dataclasses import dataclass, field

from cordwright.heat.house_inputs import HouseInput


@dataclass(frozen=True, slots=True, kw_only=True)
class WallHeatInput:
    """What the owner knows of the wall's materials; None is taken from tables, with their spread.

    `fill`: which loose fill of the table stands in the cavity, "none" for an empty one, "" when not stated.
    `frame_timber`: thickness of the timber that frames each opening, within the opening's outer size [m].
    `wire_diameter` and `wire_spacing`: of steel wires that run level in both beads [m].
    """

    along_grain: float | None = None
    across_grain: float | None = None
    mortar: float | None = None
    fill: str = ""
    fill_conductivity: float | None = None
    frame_timber: float | None = None
    wire_diameter: float | None = None
    wire_spacing: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class HeatInput:
    """All the owner states about heat."""

    wall: WallHeatInput = field(default_factory=WallHeatInput)
    house: HouseInput = field(default_factory=HouseInput)
