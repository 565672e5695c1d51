"""How much wood, mortar and fill does each panel take, at the planned wood fraction or as laid?

Areas are taken on the wall's centre line. The two beads, the cavity and the wall itself lie evenly about that line, so
area times depth is their exact volume on a curved wall too (Pappus' theorem).
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final, Literal

from cordwright.base import Cite
from cordwright.mortar import Spread
from cordwright.plan.inputs import WallSection
from cordwright.plan.results import Panel, Plan
from cordwright.wall.inputs import WallInput
from cordwright.wall.needs import FRACTION
from cordwright.wall.placed import PlacedPanel, PlacedWall
from cordwright.wall.results import PanelQuantity

LAYOUT: Final = Cite("placed-layout", "what the log ends in their places leave of each panel's face")

Part = Literal["masonry_area", "wood_area", "joint_area", "wood_volume", "mortar_volume", "fill_volume"]


def panel_quantity(panel: Panel, section: WallSection, wood_fraction: float) -> PanelQuantity:
    """What one panel takes, in place and without waste.

    Args:
        panel: a panel of the plan; its sleeves and bottle ends take no wood and no mortar.
        section: the wall's section.
        wood_fraction: share of the face between frames, sleeves and bottles that is log [1].

    Sources: closed form, areas on the centre line times depth.
    """
    masonry = panel.net_area - panel.obstacles_area
    wood = wood_fraction * masonry
    joint = masonry - wood
    return PanelQuantity(
        panel=panel.name,
        masonry_area=masonry,
        wood_area=wood,
        joint_area=joint,
        wood_volume=wood * section.log_end_length,
        mortar_volume=joint * section.mortar_depth,
        fill_volume=joint * section.cavity,
    )


def total(panels: Sequence[PanelQuantity], part: Part) -> float:
    """Sum of one quantity over the panels, exactly rounded, in the quantity's own unit."""
    return math.fsum(getattr(p, part) for p in panels)


@dataclass(frozen=True, slots=True, kw_only=True)
class WallQuantities:
    """All panels at the low, the planned and the high wood fraction; or as laid, which is one number.

    `placed`: the laid wall they come from, None when planned.
    """

    low: tuple[PanelQuantity, ...]
    middle: tuple[PanelQuantity, ...]
    high: tuple[PanelQuantity, ...]
    placed: PlacedWall | None = None

    @property
    def basis(self) -> Cite:
        """What they rest on."""
        return FRACTION if self.placed is None else LAYOUT

    def total(self, part: Part) -> Spread:
        """Total over the wall with the spread of the wood fraction: more wood, less joint."""
        ends = (total(self.low, part), total(self.high, part))
        return Spread(min(ends), total(self.middle, part), max(ends))


def wall_quantities(wall: WallInput, plan: Plan, section: WallSection) -> WallQuantities:
    """What the whole wall takes, panel by panel."""
    at = (wall.wood_fraction_low, wall.wood_fraction, wall.wood_fraction_high)
    low, middle, high = (tuple(panel_quantity(p, section, f) for p in plan.panels) for f in at)
    return WallQuantities(low=low, middle=middle, high=high)


def placed_quantities(placed: PlacedWall) -> WallQuantities:
    """What the whole wall takes as laid, what is not laid carried, panel by panel."""
    panels = tuple(_as_laid(p) for p in placed.panels)
    return WallQuantities(low=panels, middle=panels, high=panels, placed=placed)


def _as_laid(placed: PlacedPanel) -> PanelQuantity:
    whole = placed.whole
    return PanelQuantity(
        panel=placed.panel,
        masonry_area=whole.masonry_area,
        wood_area=whole.wood_area,
        joint_area=whole.joint_area,
        wood_volume=whole.wood_volume,
        mortar_volume=whole.mortar_volume,
        fill_volume=whole.fill_volume,
    )
