"""The whole building in one call: Project in, Reckoning out, stage by stage in the order of the job."""

from collections.abc import Iterator
from dataclasses import dataclass

from cordwright.base import Caution, Check, Figure
from cordwright.case import Project
from cordwright.cost.results import OrderList
from cordwright.mortar.results import Mix
from cordwright.plan.results import Plan
from cordwright.timber.results import Timber
from cordwright.wall.results import Wall


@dataclass(frozen=True, slots=True, kw_only=True)
class Reckoning:
    """All that follows from the case; figures, checks and cautions in the order of the job, keys unique."""

    plan: Plan
    timber: Timber
    mix: Mix
    wall: Wall
    order: OrderList
    figures: tuple[Figure, ...]
    checks: tuple[Check, ...]
    cautions: tuple[Caution, ...]

    def figure(self, key: str) -> Figure:
        """One figure by its key.

        Raises:
            KeyError: no such figure.
        """
        for figure in self.figures:
            if figure.key == key:
                return figure
        raise KeyError(key)
