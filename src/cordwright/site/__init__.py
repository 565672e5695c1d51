"""The place: where it is, its weather month by month, and the local rules that somebody told the owner."""

from cordwright.site.climate import DAYS, MONTHS, DayWeather, MonthlyNormals, Months, on_day
from cordwright.site.first_frost import FirstFrost, first_frost, frost_chance
from cordwright.site.inputs import LocalRule, SiteInput
from cordwright.site.moist_air import saturation_pressure
from cordwright.site.normals import cold_sum, find_month_faults, normal_figures
from cordwright.site.rules import check_rules, find_faults, rule_figures

__all__ = [
    "DAYS",
    "MONTHS",
    "DayWeather",
    "FirstFrost",
    "LocalRule",
    "MonthlyNormals",
    "Months",
    "SiteInput",
    "check_rules",
    "cold_sum",
    "find_faults",
    "find_month_faults",
    "first_frost",
    "frost_chance",
    "normal_figures",
    "on_day",
    "rule_figures",
    "saturation_pressure",
]
