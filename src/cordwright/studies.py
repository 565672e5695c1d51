"""Which slow studies may a building ask for, each once, at its place in the order of the job?

`reckon` asks; whoever calls it decides whether a study is run, taken from those kept, or left out.
"""

from datetime import date

from cordwright.case import Project
from cordwright.heat.house_results import HouseYear
from cordwright.heat.laid_wall import LaidWall
from cordwright.heat.panel_heat import HeatStudy
from cordwright.heat.year_shell import Case
from cordwright.plan import Plan
from cordwright.season import Season, Work
from cordwright.site import SiteInput
from cordwright.site.weather import WeatherModel
from cordwright.timber import Timber
from cordwright.wall.laid_study import LayoutStudy


class Studies:
    """No study is run: every answer is None, and the building is reckoned as planned."""

    def layout(self, _project: Project, _plan: Plan, _timber: Timber) -> LayoutStudy | None:
        """Every log end in its place; None when nothing was laid."""
        return None

    def house_year(self, _case: Case, _site: SiteInput) -> HouseYear | None:
        """The building's year hour by hour; None when no weather can be had."""
        return None

    def wall_heat(self, _wall: LaidWall) -> HeatStudy | None:
        """The heat of every laid panel, solved; None when none was."""
        return None

    def season(
        self, _project: Project, _work: Work, _weather: WeatherModel | None, _last_laying: date | None
    ) -> Season | None:
        """The work day by day through thousands of seasons; None when none was run or none can be."""
        return None
