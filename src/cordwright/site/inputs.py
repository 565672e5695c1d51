"""What does the owner know of the site, and which local rules have they been told?"""

from dataclasses import dataclass
from datetime import date
from typing import Literal

from cordwright.base import Cite
from cordwright.site.climate import DayWeather, MonthlyNormals
from cordwright.site.weather_year import DailyRecord, WeatherYear


@dataclass(frozen=True, slots=True, kw_only=True)
class LocalRule:
    """A rule as somebody told it to the owner: never looked up, never assumed.

    `number` and `unit` are set when the value reads as a quantity (SI, a unit a figure may carry). `limits` names the
    figure the rule bounds; `sense` tells whether the figure may be at most or must be at least that much.
    """

    slug: str
    rule: str
    value: str
    said_by: str
    said_on: date
    number: float | None = None
    unit: str = ""
    limits: str = ""
    sense: Literal["at most", "at least"] = "at most"

    @property
    def cite(self) -> Cite:
        """The rule as a source."""
        return Cite("local-rule", f"{self.rule}: {self.said_by}, {self.said_on.isoformat()}")


@dataclass(frozen=True, slots=True, kw_only=True)
class StationWeather:
    """A weather file the owner named: a year of hours, or a record of days.

    `distance` of the station, and its `height_difference` over the site [m]. `latitude` as the file has it [deg].
    `wet_from`: depth that makes a day wet [m]. None is unknown.
    """

    file: str = ""
    distance: float | None = None
    height_difference: float | None = None
    latitude: float | None = None
    longitude: float | None = None
    elevation: float | None = None
    wet_from: float | None = None
    year: WeatherYear | None = None
    record: DailyRecord | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class SiteInput:
    """The place. Angles in degrees (north and east positive), elevation in metres above sea level; None is unknown.

    `first_hard_frost`: month and day by which, in one year of two, a night has been colder than -3 degC.
    `laying_begins`: the day the first log end is to be laid. `forecast`: the days ahead, in any order. `weather`: what
    the weather file holds that the owner named.
    """

    place: str = ""
    latitude: float | None = None
    longitude: float | None = None
    elevation: float | None = None
    soil: str = ""
    rules: tuple[LocalRule, ...] = ()
    months: MonthlyNormals | None = None
    first_hard_frost: tuple[int, int] | None = None
    laying_begins: date | None = None
    forecast: tuple[DayWeather, ...] = ()
    weather: StationWeather | None = None
