"""The place: where it is, its weather month by month, and the local rules that somebody told the owner."""

from cordwright.site.climate import DAYS, MONTHS, DayWeather, MonthlyNormals, Months, on_day
from cordwright.site.file_months import find_weather_faults, months_of, station_figures
from cordwright.site.first_frost import FirstFrost, first_frost, frost_chance
from cordwright.site.generated_hours import generated_year
from cordwright.site.generated_winters import generated_figures
from cordwright.site.inputs import LocalRule, SiteInput, StationWeather
from cordwright.site.measured_cold import measured_figures
from cordwright.site.moist_air import saturation_pressure
from cordwright.site.normals import cold_sum, find_month_faults, normal_figures
from cordwright.site.rules import check_rules, find_faults, rule_figures
from cordwright.site.site_weather import wanting_for_days, weather_model
from cordwright.site.sun import daylight_hours, noon, sun_position
from cordwright.site.weather import WeatherModel
from cordwright.site.weather_calendar import WeatherCalendar, weather_calendar
from cordwright.site.weather_days import Days
from cordwright.site.weather_figures import weather_figures
from cordwright.site.weather_fit import Assumed, fit_normals
from cordwright.site.weather_record_fit import fit_daily
from cordwright.site.weather_year import DailyRecord, WeatherYear, days_of

__all__ = [
    "DAYS",
    "MONTHS",
    "Assumed",
    "DailyRecord",
    "DayWeather",
    "Days",
    "FirstFrost",
    "LocalRule",
    "MonthlyNormals",
    "Months",
    "SiteInput",
    "StationWeather",
    "WeatherCalendar",
    "WeatherModel",
    "WeatherYear",
    "check_rules",
    "cold_sum",
    "daylight_hours",
    "days_of",
    "find_faults",
    "find_month_faults",
    "find_weather_faults",
    "first_frost",
    "fit_daily",
    "fit_normals",
    "frost_chance",
    "generated_figures",
    "generated_year",
    "measured_figures",
    "months_of",
    "noon",
    "normal_figures",
    "on_day",
    "rule_figures",
    "saturation_pressure",
    "station_figures",
    "sun_position",
    "wanting_for_days",
    "weather_calendar",
    "weather_figures",
    "weather_model",
]
