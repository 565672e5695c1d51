"""Which slow studies are kept from an earlier run, and how are the others run and kept?

A study's result is kept in `.cache` beside building.toml under a name made of all that it stands on; a file that is
damaged or of another make is passed over and the study done anew. The folder is safe to delete.
"""

import contextlib
import hashlib
import json
from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import Any, Final, TypeVar

from cordwright import __version__
from cordwright.base import DataError
from cordwright.case import Project
from cordwright.heat.house_results import HouseYear
from cordwright.heat.house_year import run_house
from cordwright.heat.laid_wall import QUICK, LaidWall
from cordwright.heat.panel_heat import HeatStudy
from cordwright.heat.year_shell import Case
from cordwright.heat.year_weather import usual_weather
from cordwright.plan.results import Plan
from cordwright.project.codec import decode, encode
from cordwright.project.reading import building_file
from cordwright.project.saving import save_atomically
from cordwright.season import Season, Work
from cordwright.site import SiteInput
from cordwright.site.weather import WeatherModel
from cordwright.studies import Studies
from cordwright.timber.results import Timber
from cordwright.wall.laid_study import SIZE_CLASSES, LayoutStudy
from cordwright.wall.layout import Progress, quiet

FOLDER: Final = ".cache"
KEPT: Final = 8
"""So many results of one study are kept; the oldest make room."""
LAYOUT_VERSION: Final = 2
"""Of the layout study: another number whenever the same input may be laid otherwise."""
HEAT_VERSION: Final = 1
"""Of the heat of the panels: another number whenever the same input may give other heat."""
SEASON_VERSION: Final = 1
"""Of the seasons: another number whenever the same input may run otherwise."""

Say = Callable[[str], None]
Clock = Callable[[], float]
Result = TypeVar("Result")


class KeptStudies(Studies):
    """The studies of one project: those kept are read, the others run and kept.

    Args:
        file: the project's building.toml, or its folder.
        progress: told the share done of the study at hand.
        clock: seconds of a running clock, to time each panel.
        say: told when nothing can be kept.
    """

    def __init__(self, file: Path, *, progress: Progress = quiet, clock: Clock, say: Say) -> None:
        self._folder = building_file(file).parent / FOLDER
        self._progress, self._clock, self._say = progress, clock, say

    def layout(self, project: Project, plan: Plan, timber: Timber) -> LayoutStudy | None:
        """Every log end in its place; None when no size of a log end is known."""
        if not timber.stock.known_diameters.size:
            return None
        return self._study(
            "layout", LayoutStudy, layout_key(project, plan, timber), lambda: self._lay(project, plan, timber)
        )

    def season(
        self, project: Project, work: Work, weather: WeatherModel | None, last_laying: date | None
    ) -> Season | None:
        """The work through thousands of seasons; None when none can be run."""
        if weather is None or project.season.start is None:
            return None

        def run() -> Season:
            from cordwright.season.season import reckon_season

            found = reckon_season(project.season, work, project.site, weather, last_laying, progress=self._progress)
            assert found is not None
            return found

        return self._study("season", Season, season_key(project, work, weather, last_laying), run)

    def _lay(self, project: Project, plan: Plan, timber: Timber) -> LayoutStudy:
        from cordwright.wall.study import lay_study

        return lay_study(
            plan,
            timber,
            project.timber,
            project.wall,
            mortar_depth=project.plan.section.mortar_depth,
            size_class=SIZE_CLASSES[project.units],
            progress=self._progress,
            clock=self._clock,
        )

    def wall_heat(self, wall: LaidWall) -> HeatStudy | None:
        """The heat of every laid panel on the quick grid; None when no panel holds a log."""
        return self.panels_heat(wall, QUICK)

    def panels_heat(self, wall: LaidWall, pitch: float, only: str = "") -> HeatStudy | None:
        """The heat of the laid panels, or of one, on a grid [m]; None when there is none."""
        if not any(only in ("", p.face.name) for p in wall.laid):
            return None

        def run() -> HeatStudy:
            from cordwright.heat.solve import solve_wall

            return solve_wall(wall, pitch=pitch, only=only, progress=self._progress)

        return self._study("heat", HeatStudy, heat_key(wall, pitch, only), run)

    def house_year(self, case: Case, site: SiteInput) -> HouseYear | None:
        """The building's year by the file's weather or one drawn from the months; quick, so that none is kept."""
        weather = usual_weather(site)
        return None if weather is None else run_house(case, weather)

    def _study(self, name: str, kind: type[Result], key: str, run: Callable[[], Result]) -> Result:
        """Give a study's result as kept, else run it and keep what it gives."""
        path = self._folder / f"{name}-{key[:32]}.json"
        kept = read_kept(path, kind, key)
        if kept is None:
            kept = run()
            keep(path, key, kept, self._say)
        return kept


def key_of(*stands_on: object) -> str:
    """Name a study's result by all it stands on, the package's version with it: plain values or frozen dataclasses."""
    return hashlib.sha256(json.dumps(encode((__version__, *stands_on)), sort_keys=True).encode()).hexdigest()


def layout_key(project: Project, plan: Plan, timber: Timber) -> str:
    """Name a layout by all it stands on: versions, plan, log ends, joints, wishes with their seed, shares kept back.

    Args:
        project: the owner's case.
        plan: the plan worked out.
        timber: the wood worked out.
    """
    stock = timber.stock
    return key_of(
        ("layout", LAYOUT_VERSION),
        plan.panels,
        plan.posts,
        (stock.id, stock.stem, stock.shape, [repr(d) for d in stock.diameter.tolist()]),
        project.units,
        (project.timber.cull_share, project.timber.spare_share),
        project.plan.section,
        project.wall.joints,
        project.wall.wishes,
    )


def heat_key(wall: LaidWall, pitch: float, only: str) -> str:
    """Name the heat of a laid wall by all it stands on: versions, layout, plan, materials, grid.

    Args:
        wall: the laid wall.
        pitch: breadth of a cell along the wall [m].
        only: the one panel solved, "" for all.
    """
    plan = wall.plan
    materials = wall.materials
    return key_of(
        ("heat", HEAT_VERSION),
        [(p.face, p.placements, p.closed) for p in wall.laid],
        [(p.name, p.centre_line, [o.opening for o in p.openings]) for p in wall.built.panels],
        (wall.built.posts, plan.section, plan.frame, plan.post_allowance, wall.heat),
        [
            None if c is None else (c.value, c.heat_capacity)
            for c in (materials.along, materials.across, materials.mortar)
        ],
        None if materials.fill is None else (materials.fill.value, materials.fill.heat_capacity),
        {log: (across.value, along.value) for log, (across, along) in wall.grains.items()},
        (pitch, only),
    )


def season_key(project: Project, work: Work, weather: WeatherModel, last_laying: date | None) -> str:
    """Name the seasons by all they stand on: versions, calendar, work, place, its weather, the last day to lay.

    Args:
        project: the owner's case.
        work: how much there is to do.
        weather: the generator.
        last_laying: last day to lay before the frost.
    """
    site = project.site
    wind = None if site.months is None else site.months.wind
    return key_of(("season", SEASON_VERSION), project.season, work, (site.latitude, wind), weather, last_laying)


def read_kept(path: Path, kind: type[Result], key: str) -> Result | None:
    """Give what is kept, None where there is none or the file is damaged or of another make."""
    try:
        content: Any = json.loads(path.read_bytes())
        if content["key"] != key:
            return None
        return decode(kind, content["result"])
    except (OSError, ValueError, KeyError, TypeError, RecursionError, DataError):
        return None


def keep(path: Path, key: str, result: object, say: Say) -> None:
    """Keep a study's result for the next run; a folder that cannot be written is told and worked without."""
    content = json.dumps({"key": key, "result": encode(result)}, ensure_ascii=False).encode()
    try:
        path.parent.mkdir(exist_ok=True)
        save_atomically(path, content)
    except OSError as fault:
        name = path.name.partition("-")[0]
        say(f"the {name} is not kept for the next run: {path.parent} cannot be written ({fault.strerror or fault})")
        return
    _make_room(path)


def _make_room(path: Path) -> None:
    """Delete the oldest results of the same study beyond those that are kept."""
    with contextlib.suppress(OSError):
        like = path.parent.glob(path.name.partition("-")[0] + "-*.json")
        files = sorted(like, key=lambda p: (p.stat().st_mtime, p.name), reverse=True)
        for old in files[KEPT:]:
            old.unlink(missing_ok=True)
