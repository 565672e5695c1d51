"""What do all panels lose as they are laid, one after another?"""

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

import numpy as np
from numpy.typing import NDArray

from cordwright.heat.conductivity import WallMaterials
from cordwright.heat.inputs import WallHeatInput
from cordwright.heat.materials import Grain
from cordwright.plan.inputs import PlanInput
from cordwright.plan.results import Plan
from cordwright.timber.inputs import SHARES
from cordwright.wall.laid_study import LayoutStudy
from cordwright.wall.layout import PanelLayout

if TYPE_CHECKING:
    from cordwright.heat.panel import PanelBody

Progress = Callable[[float, str], None]
Cancelled = Callable[[], bool]

QUICK: Final = 0.020
"""Grid along the wall [m] for the reckoning of the whole building; U within half a percent."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LaidWall:
    """A laid wall as far as heat asks for it: the layout, the plan, what the wall is made of.

    `grains`: by log id, what its wood leads across and along.
    """

    layout: LayoutStudy
    built: Plan
    plan: PlanInput
    heat: WallHeatInput
    materials: WallMaterials
    grains: dict[str, Grain]

    @property
    def laid(self) -> tuple[PanelLayout, ...]:
        """The panels in which anything is laid."""
        return tuple(p for p in self.layout.panels if p.placements)

    def body(self, layout: PanelLayout, pitch: float) -> "PanelBody":
        """One of its panels as a body for heat.

        Args:
            layout: the panel as laid.
            pitch: breadth of a cell along the wall [m].
        """
        from cordwright.heat.laid_body import body_of

        panel = next(p for p in self.built.panels if p.name == layout.face.name)
        return body_of(layout, panel, self.built, self.plan, self.heat, self.materials, self.grains, pitch=pitch)


def laid_diameters(layout: LayoutStudy) -> NDArray[np.float64]:
    """Diameters of the log ends laid [m]; a split counts as the round of its face."""
    return np.array(
        [p.log.diameter * math.sqrt(SHARES[p.log.shape]) for panel in layout.panels for p in panel.placements]
    )
