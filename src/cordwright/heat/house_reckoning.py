"""How warm and how dry is this building, all told: losses and wood, its year, its damp, its first winter?"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Final

import numpy as np

from cordwright.base import Caution, Check, Figure
from cordwright.heat.damp import Damp, reckon_damp
from cordwright.heat.damp_case import DampCase
from cordwright.heat.house import Surroundings, reckon_house
from cordwright.heat.house_changes import Now, house_changes
from cordwright.heat.house_results import House, HouseYear
from cordwright.heat.house_shell import Leakage, Wall, room_volume
from cordwright.heat.house_wall import Section, best_wall, section_wall
from cordwright.heat.inputs import HeatInput
from cordwright.heat.materials import wall_materials
from cordwright.heat.winter import FirstWinter, Mark, WinterCase, first_winter
from cordwright.heat.year_cell import mean_diameter
from cordwright.heat.year_shell import Case
from cordwright.mortar import Mix
from cordwright.plan.inputs import PlanInput
from cordwright.plan.results import Plan
from cordwright.site import SiteInput
from cordwright.timber import TimberInput
from cordwright.timber.results import Stock
from cordwright.timber.species import wood_of

COLD: Final = "site.design_cold_hours"
FACE: Final = "wall.temperature_factor"
RunYear = Callable[[Case, SiteInput], HouseYear | None]


@dataclass(frozen=True, slots=True, kw_only=True)
class WarmthCase:
    """What warmth and damp stand on: the stages' inputs and what followed from them.

    `figures`: all so far, by key.
    `moistures`, `gaps`: the owner's readings in the wall.
    """

    heat: HeatInput
    site: SiteInput
    plan: PlanInput
    built: Plan
    timber: TimberInput
    stock: Stock
    mix: Mix | None
    wood_fraction: float
    figures: Mapping[str, Figure]
    moistures: tuple[Mark, ...] = ()
    gaps: tuple[Mark, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Warmth:
    """The building warm and dry: `house` with its losses, `damp`, and the `winter` in which it dries down."""

    house: House
    damp: Damp
    winter: FirstWinter

    @property
    def figures(self) -> tuple[Figure, ...]:
        """All figures, in the order of the job."""
        return (*self.house.figures, *self.damp.figures, *self.winter.figures)

    @property
    def checks(self) -> tuple[Check, ...]:
        """All checks."""
        return (*self.house.checks, *self.damp.checks)

    @property
    def cautions(self) -> tuple[Caution, ...]:
        """All cautions."""
        return (*self.house.cautions, *self.damp.cautions)


def reckon_warmth(case: WarmthCase, run_year: RunYear) -> Warmth:
    """Work out warmth and damp.

    Args:
        case: what they stand on.
        run_year: asked for the year of hours where all that it needs is known; None leaves it out.

    Sources: those of each part.
    """
    materials, _ = wall_materials(case.heat.wall, case.plan.section, case.timber, case.stock, case.mix)
    section = None
    if materials is not None:
        known = case.stock.known_diameters
        section = Section(
            section=case.plan.section,
            wood_fraction=case.wood_fraction,
            materials=materials,
            diameter=mean_diameter(known) if known.size else None,
        )
    wall = best_wall(tuple(case.figures.values())) or (section_wall(section) if section else None)
    house = _house(case, wall, section, run_year)
    damp = reckon_damp(
        DampCase(
            house=case.heat.house,
            plan=case.plan,
            built=case.built,
            months=case.site.months,
            materials=materials,
            u=None if wall is None else wall.u[1],
            face_factor=number(case.figures, FACE),
            face_how="coldest spot of the panels as laid",
            mix=case.mix,
            mortar_volume=number(case.figures, "wall.mortar_in_place"),
            laying_month=case.site.laying_begins.month if case.site.laying_begins else None,
            wind_year=case.site.weather.year if case.site.weather else None,
        )
    )
    return Warmth(house=house, damp=damp, winter=first_winter(_winter_case(case)))


def number(figures: Mapping[str, Figure], key: str) -> float | None:
    """A figure's value, None where it is unknown or not there."""
    found = figures.get(key)
    return found.value if found is not None and isinstance(found.value, float) else None


def _house(case: WarmthCase, wall: Wall | None, section: Section | None, run_year: RunYear) -> House:
    stated, leakage = case.heat.house, _leakage(case.figures)
    around = Surroundings(months=case.site.months, leakage=leakage, cold=case.figures.get(COLD))
    plain = reckon_house(stated, case.plan, case.built, wall, around)
    if not stated.stated or not plain.whole or wall is None:
        return plain
    year = None
    if section is not None:
        hours = Case(
            house=stated,
            plan=case.plan,
            built=case.built,
            wall=wall,
            section=section,
            leakage=leakage,
        )
        year = run_year(hours, case.site)
    whole = reckon_house(stated, case.plan, case.built, wall, around, year)
    wood = whole.figure("heat.firewood_stacked").value
    now = Now(
        house=stated, plan=case.plan, built=case.built, wall=wall, section=section, leakage=leakage,
        wood=wood if isinstance(wood, float) else None,
    )  # fmt: skip
    return reckon_house(stated, case.plan, case.built, wall, around, year, house_changes(now))


def _leakage(figures: Mapping[str, Figure]) -> Leakage:
    found = figures.get("timber.leakage")
    if found is None:
        return Leakage()
    low, middle, high = (v if isinstance(v, float) else None for v in (found.low, found.value, found.high))
    return Leakage(changes=(low, middle, high))


def _winter_case(case: WarmthCase) -> WinterCase:
    green = case.stock.green_diameter[np.isfinite(case.stock.green_diameter)]
    shrinkages = [wood_of(case.timber, name).shrinkage for name in dict.fromkeys(case.stock.species)]
    known = [s for s in shrinkages if s is not None]
    moisture = number(case.figures, "timber.laying_moisture")
    return WinterCase(
        house=case.heat.house,
        months=case.site.months,
        timber=case.timber,
        diameter=float(green.mean()) if green.size else None,
        length=case.plan.section.log_end_length,
        shrinkage=sum(known) / len(known) if known and len(known) == len(shrinkages) else None,
        laid=case.site.laying_begins,
        laying_moisture=case.timber.laying_moisture if case.timber.laying_moisture is not None else moisture,
        volume=room_volume(case.plan, case.built),
        moistures=case.moistures,
        gaps=case.gaps,
    )
