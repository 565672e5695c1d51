"""What is told of the inner face of a panel: its coldest spots and its maps, as plain values?"""

from dataclasses import dataclass
from typing import Final, Literal

from cordwright.base import Cite
from cordwright.heat.field import Field

Ground = Literal["log", "mortar", "timber"]

CHECKED: Final = 0.25
"""Surface resistance inside for judging mould [m2 K/W] (`iso-13788-memory`)."""
CHECKED_SOURCE: Final = Cite("iso-13788-memory", "0.25 inside, for surfaces behind furniture or in corners")


@dataclass(frozen=True, slots=True, kw_only=True)
class Spot:
    """One place on the inner face: what it is of, where [m], and its temperature factor [1]."""

    ground: Ground
    x: float
    y: float
    factor: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Surface:
    """The inner face: its maps of the temperature factor [1] and of the heat that enters for one degree [W/m2].

    `worst` and `mean`: the coldest spot and the mean factor of logs, mortar and timbers, as far as there are any.
    """

    factor: Field
    flux: Field
    worst: tuple[Spot, ...]
    mean: tuple[tuple[Ground, float], ...]

    def coldest(self) -> Spot:
        """The coldest spot of all."""
        return min(self.worst, key=lambda spot: spot.factor)
