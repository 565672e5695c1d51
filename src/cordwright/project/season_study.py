"""How are seasons run when they alone are asked for?"""

from collections.abc import Callable
from datetime import date

from cordwright.case import Project
from cordwright.season import Season, Work
from cordwright.site.weather import WeatherModel
from cordwright.studies import Studies


class SeasonStudies(Studies):
    """No study but the seasons.

    Args:
        seasons: how many are run.
        seed: the same seed gives the same seasons.
        progress: told the share done [1] and what is done.
    """

    def __init__(self, seasons: int, seed: int, progress: Callable[[float, str], None]) -> None:
        self._seasons, self._seed, self._progress = seasons, seed, progress

    def season(
        self, project: Project, work: Work, weather: WeatherModel | None, last_laying: date | None
    ) -> Season | None:
        """The work day by day through as many seasons as asked."""
        from cordwright.season.season import reckon_season

        return reckon_season(
            project.season,
            work,
            project.site,
            weather,
            last_laying,
            seasons=self._seasons,
            seed=self._seed,
            progress=self._progress,
        )
