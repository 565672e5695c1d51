"""Studies that run the house's year and nothing else, for tests."""

from cordwright.heat.house_results import HouseYear
from cordwright.heat.house_year import run_house
from cordwright.heat.year_shell import Case
from cordwright.heat.year_weather import usual_weather
from cordwright.site import SiteInput
from cordwright.studies import Studies


class HouseYears(Studies):
    """Runs the year and nothing else; remembers what it was asked with."""

    def __init__(self) -> None:
        self.cases: list[Case] = []

    def house_year(self, case: Case, site: SiteInput) -> HouseYear | None:
        """The year by the file's weather or one drawn from the months."""
        self.cases.append(case)
        weather = usual_weather(site)
        return None if weather is None else run_house(case, weather)
