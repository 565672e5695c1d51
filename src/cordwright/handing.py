"""What does each stage hand on to the next? The joints between the stages that `reckon` walks through."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import TYPE_CHECKING, Protocol

from cordwright.base import Figure, InputError, Problem, Records
from cordwright.case import Project
from cordwright.heat import (
    LaidWall,
    WallHeat,
    WallMaterials,
    grains_of_logs,
    laid_diameters,
    reckon_wall_heat,
    wall_materials,
)
from cordwright.heat.house_reckoning import Warmth, WarmthCase, reckon_warmth
from cordwright.heat.winter import gap_marks, moisture_marks
from cordwright.mortar import Mix, Sands, Spread, last_laying_figure, reckon_mix, reckon_sands
from cordwright.plan import Plan, WallSection, reckon_plan
from cordwright.season import Season, SeasonInput, Work, as_recorded, hours_of, pace_of, work_of
from cordwright.site import SiteInput, normal_figures, rule_figures, weather_figures
from cordwright.site.weather import WeatherModel
from cordwright.studies import Studies
from cordwright.timber import Building, Timber, fibre_saturation, reckon_timber, season_timber
from cordwright.wall import PlacedWall, Wall, place_wall, reckon_wall
from cordwright.wall.laid_study import LayoutStudy

if TYPE_CHECKING:
    from cordwright.diary import Diary, Expected, WholeWall


@dataclass(frozen=True, slots=True, kw_only=True)
class Body:
    """What the stages up to the wall give; `layout`: what it is laid by, None as planned; `refusals`: of wishes."""

    plan: Plan
    timber: Timber
    sands: Sands
    mix: Mix | None
    wall: Wall
    layout: LayoutStudy | None
    refusals: tuple[Problem, ...]

    @property
    def parts(self) -> tuple[Plan | Timber | Sands | Mix | Wall, ...]:
        """The stages' results in the order of the job."""
        return (self.plan, self.timber, self.sands, *((self.mix,) if self.mix else ()), self.wall)


class Built(Protocol):
    """Anything that knows the building's body, as `Body` and the whole reckoning do."""

    @property
    def plan(self) -> Plan:
        """The plan worked out."""
        ...

    @property
    def timber(self) -> Timber:
        """The wood worked out."""
        ...

    @property
    def mix(self) -> Mix | None:
        """The mix worked out, None when none is stated."""
        ...

    @property
    def wall(self) -> Wall:
        """The wall worked out."""
        ...

    @property
    def layout(self) -> LayoutStudy | None:
        """What the wall is laid by, None as planned."""
        ...


def body_of(project: Project, studies: Studies, progress: Callable[[float, str], None]) -> Body:
    """Plan, wood, mortar and wall, as laid where a layout is to be had.

    Args:
        project: the owner's case.
        studies: asked for the layout.
        progress: told the share done [1] and the stage at hand.
    """
    progress(0.0, "plan")
    plan = reckon_plan(project.plan)
    progress(0.2, "timber")
    timber = _wood(project, plan)
    progress(0.5, "mortar")
    sands = reckon_sands(project.mortar.sands)
    mix = reckon_mix(project.mortar) if project.mortar.parts else None
    progress(0.6, "wall")
    section, logs = project.plan.section, timber.stock.known_diameters
    layout = studies.layout(project, plan, timber)
    placed = _placed(layout, plan, timber, section, mix)
    return Body(
        plan=plan,
        timber=timber,
        sands=sands,
        mix=mix,
        wall=reckon_wall(project.wall, plan, section, mix, project.mortar, logs, placed),
        layout=layout if placed is not None else None,
        refusals=layout.refusals if layout is not None else (),
    )


def read_diary(project: Project, built: Built, records: Records | None) -> "Diary | None":
    """The diary, None before the first record."""
    if not records:
        return None
    from cordwright.diary import reckon_diary

    whole = whole_wall(project, built)
    return reckon_diary(records, whole, expected(project, built.wall, whole))


def whole_wall(project: Project, built: Built) -> "WholeWall":
    """The wall that the diary is about."""
    from cordwright.diary import wall_of

    saturation, currency = fibre_saturation(project.timber), project.cost.currency
    return wall_of(built.plan, built.timber, built.wall, built.mix, currency=currency, saturation=saturation)


def expected(project: Project, wall: Wall, whole: "WholeWall") -> "Expected":
    """What plan, mix and layout lead one to expect of a day; the pace by the owner's calendar where it states one."""
    from cordwright.diary import Guess, expected_of

    season = project.season
    if season.pace is None:
        return expected_of(wall, whole)
    stated, day = pace_of(season), hours_of(season)
    one = day / season.people
    guess = Guess(mean=stated.mean * one, sd=stated.sd * one, source=stated.sources[0])
    return expected_of(wall, whole, guess, day)


def site_figures(site: SiteInput, weather: WeatherModel | None) -> tuple[Figure, ...]:
    """What is known of the place: rules as told, the usual year, and what the weather brings."""
    return (*rule_figures(site), *normal_figures(site), *weather_figures(site, weather))


def _placed(
    layout: LayoutStudy | None, plan: Plan, timber: Timber, section: WallSection, mix: Mix | None
) -> PlacedWall | None:
    """The laid wall, None without a layout or when it holds no log at all: then nothing can be carried."""
    if layout is None or not any(p.placements for p in layout.panels):
        return None
    if {p.name for p in plan.panels} != {p.face.name for p in layout.panels}:
        raise InputError("the layout is not of the panels of this plan")
    return place_wall(layout, plan, section, timber.stock, mix)


def warmth_of(
    project: Project, built: Built, figures: Mapping[str, Figure], records: Records, studies: Studies
) -> Warmth:
    """The building warm and dry, with the owner's readings beside the forecast of its first winter."""
    fraction = figures["wall.wood_fraction"].value
    case = WarmthCase(
        heat=project.heat,
        site=project.site,
        plan=project.plan,
        built=built.plan,
        timber=project.timber,
        stock=built.timber.stock,
        mix=built.mix,
        wood_fraction=fraction if isinstance(fraction, float) else project.wall.wood_fraction,
        figures=figures,
        moistures=moisture_marks(records),
        gaps=gap_marks(records),
    )
    return reckon_warmth(case, studies.house_year)


def heat_of_wall(project: Project, built: Built, studies: Studies) -> WallHeat:
    """What the wall leads by its section, and as laid where it is laid."""
    section, stock = project.plan.section, built.timber.stock
    materials, missing = wall_materials(project.heat.wall, section, project.timber, stock, built.mix)
    laid = laid_wall_of(project, built, materials)
    study = studies.wall_heat(laid) if laid is not None else None
    diameters = laid_diameters(built.layout) if built.layout is not None else stock.known_diameters
    return reckon_wall_heat(section, _fraction(built.wall), materials, missing, diameters, study)


def laid_wall_of(project: Project, built: Built, materials: WallMaterials | None) -> LaidWall | None:
    """The wall as laid, as far as heat asks for it; None where it is not laid or its materials are not known."""
    if built.layout is None or materials is None:
        return None
    return LaidWall(
        layout=built.layout,
        built=built.plan,
        plan=project.plan,
        heat=project.heat.wall,
        materials=materials,
        grains=grains_of_logs(project.heat.wall, project.timber, built.timber.stock),
    )


def _fraction(wall: Wall) -> Spread:
    """Wood fraction as laid, or as planned with its spread."""
    found = next(f for f in wall.figures if f.key == "wall.wood_fraction")
    ends = [v for v in (found.low, found.value, found.high) if isinstance(v, float)]
    return Spread(ends[0], ends[len(ends) // 2], ends[-1])


def last_laying(project: Project) -> tuple[Figure, ...]:
    """The last day to lay before the frost; none without a mix."""
    return (last_laying_figure(project.site, project.mortar),) if project.mortar.parts else ()


def seasons_of(
    project: Project, built: Built, studies: Studies, diary: "Diary | None", weather: WeatherModel | None
) -> Season | None:
    """The seasons, from the third recorded day of laying on by the diary; None when none is run."""
    work = work_of(project.site, project.plan, built.plan, project.timber, built.timber)
    seen = project if diary is None else replace(project, season=_overtaken(project.season, work, diary))
    days = [figure.value for figure in last_laying(project) if isinstance(figure.value, date)]
    return studies.season(seen, work, weather, days[0] if days else None)


def _overtaken(season: SeasonInput, work: Work, diary: "Diary") -> SeasonInput:
    """The calendar as the diary has overtaken it, once own days lead."""
    if season.start is None or not diary.pace.leads:
        return season
    together = season.people / diary.day_hours
    return as_recorded(
        season,
        work,
        today=diary.days[-1].day + timedelta(days=1),
        laid=diary.laid,
        pace=diary.pace.mean * together,
        pace_spread=diary.pace.sd * together,
    )


def _wood(project: Project, plan: Plan) -> Timber:
    """The wood for this plan, with its drying by the months of the site."""
    net_area = plan.figure("plan.net_wall_area").value
    assert isinstance(net_area, float)
    length = project.plan.section.log_end_length
    wood = reckon_timber(
        project.timber,
        log_end_length=length,
        net_area=net_area,
        wood_fraction=project.wall.wood_fraction,
        wood_fraction_low=project.wall.wood_fraction_low,
        wood_fraction_high=project.wall.wood_fraction_high,
    )
    return season_timber(project.timber, wood, project.site.months, _building(project, plan, net_area), length)


def _building(project: Project, plan: Plan, net_area: float) -> Building:
    """What the gaps round the log ends open into."""
    floor, stated = plan.figure("plan.inner_area").value, project.plan
    assert isinstance(floor, float)
    ceiling = stated.ceiling_height
    return Building(
        volume=floor * (stated.height if ceiling is None else ceiling),
        room="inner area x wall height (no ceiling height is stated)" if ceiling is None else "inner area x ceiling",
        path=stated.section.mortar_depth,
        wood_face=net_area * project.wall.wood_fraction,
        panel_width=max(panel.centre_length for panel in plan.panels),
        wood_fraction=project.wall.wood_fraction,
    )
