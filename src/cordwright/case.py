"""The owner's whole case: the stages' inputs together."""

from dataclasses import dataclass, field
from typing import Literal

from cordwright.cost.inputs import CostInput
from cordwright.heat.inputs import HeatInput
from cordwright.mortar.inputs import MortarInput
from cordwright.plan.inputs import PlanInput
from cordwright.season.inputs import SeasonInput
from cordwright.site.inputs import SiteInput
from cordwright.timber.inputs import TimberInput
from cordwright.wall.inputs import WallInput


@dataclass(frozen=True, slots=True, kw_only=True)
class Project:
    """Everything the owner states, in SI; to change is to make a new one.

    `units` and `locale` only tell how to show it. `notes` are the owner's own remarks about choices made.
    """

    name: str
    units: Literal["metric", "imperial"]
    locale: str
    revision: str
    notes: tuple[str, ...]
    site: SiteInput
    plan: PlanInput
    timber: TimberInput
    mortar: MortarInput
    wall: WallInput
    heat: HeatInput
    cost: CostInput
    season: SeasonInput = field(default_factory=SeasonInput)
