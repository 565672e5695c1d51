"""What is known of a laid panel once its heat is solved? Plain values, read without the solver."""

from dataclasses import dataclass
from typing import Literal

from cordwright.heat.field import Field
from cordwright.heat.surface_values import Spot, Surface


@dataclass(frozen=True, slots=True, kw_only=True)
class Slice:
    """Temperatures [1] in one plane, with the edges of its cells [m]: "level" at a height, "upright" at a place along.

    `field` has the depths, outside first, as its rows.
    """

    kind: Literal["level", "upright"]
    at: float
    along: tuple[float, ...]
    depth: tuple[float, ...]
    field: Field


@dataclass(frozen=True, slots=True, kw_only=True)
class PanelHeat:
    """A laid panel solved: heat [W/K], U of its net face [W/(m2 K)] and where it is cold.

    `flow`: through all; `flow_timber`: of it through posts and the timbers of frames; `area` of the net face [m2].
    `low`, `high`: the bounds of the whole flow. `error`: of U from two grids [W/(m2 K)]. `surface`: the inner face with
    the resistance at which U is taken; `checked`: with the one at which mould is judged. `imbalance`: heat in less heat
    out over heat in [1].
    """

    name: str
    pitch: float
    shape: tuple[int, int, int]
    flow: float
    flow_timber: float
    area: float
    low: float
    high: float
    error: float
    imbalance: float
    iterations: int
    xe: tuple[float, ...]
    ye: tuple[float, ...]
    surface: Surface
    checked: Surface
    level: Slice
    upright: Slice

    @property
    def u_value(self) -> float:
        """U of the net face [W/(m2 K)]."""
        return (self.flow - self.flow_timber) / self.area

    @property
    def cells(self) -> int:
        """How many cells were solved."""
        depths, rows, columns = self.shape
        return depths * rows * columns


@dataclass(frozen=True, slots=True, kw_only=True)
class HeatStudy:
    """All panels solved as they are laid."""

    panels: tuple[PanelHeat, ...]

    @property
    def area(self) -> float:
        """Net face of the panels [m2]."""
        return sum(p.area for p in self.panels)

    @property
    def u_value(self) -> float:
        """U of their net face, weighted by area [W/(m2 K)]."""
        return sum(p.u_value * p.area for p in self.panels) / self.area

    @property
    def error(self) -> float:
        """How sure the grid lets that be [W/(m2 K)]."""
        return sum(p.error * p.area for p in self.panels) / self.area

    @property
    def timber(self) -> float:
        """Heat through posts and frame timbers [W/K]."""
        return sum(p.flow_timber for p in self.panels)

    def coldest(self) -> tuple[str, Spot]:
        """The coldest spot of all, where mould is judged, and its panel."""
        panel = min(self.panels, key=lambda p: p.checked.coldest().factor)
        return panel.name, panel.checked.coldest()
