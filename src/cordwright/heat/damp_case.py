"""What does the damp of a house follow from?"""

from dataclasses import dataclass

from cordwright.heat.conductivity import WallMaterials
from cordwright.heat.house_inputs import HouseInput
from cordwright.mortar import Mix
from cordwright.plan.inputs import PlanInput
from cordwright.plan.results import Plan
from cordwright.site import MonthlyNormals
from cordwright.site.weather_year import WeatherYear


@dataclass(frozen=True, slots=True, kw_only=True)
class DampCase:
    """What the damp is reckoned from: house, shape, months, materials; None is unknown.

    `face_factor`: least temperature factor of the inner face as resolved [1], and `u` of the wall [W/m2K].
    `mortar_volume` in place [m3]. `wind_year`: hours of wind and rain of the nearest station.
    """

    house: HouseInput
    plan: PlanInput
    built: Plan
    months: MonthlyNormals | None = None
    materials: WallMaterials | None = None
    u: float | None = None
    face_factor: float | None = None
    face_how: str = ""
    mix: Mix | None = None
    mortar_volume: float | None = None
    laying_month: int | None = None
    wind_year: WeatherYear | None = None


def lacking_for_vapour(case: DampCase) -> tuple[str, ...]:
    """What must be stated before vapour can be followed; empty when nothing is wanting."""
    lacking: tuple[str, ...] = () if case.materials is not None else ("what the wall is made of",)
    lacking += () if case.house.stated else ("the temperature wanted indoors (heat.set_temperature)",)
    told = case.months is not None and case.months.humidity is not None
    return lacking + (() if told else ("temperature and humidity of the months (site.months)",))
