"""What does each stage hand on to the next? The joints between the stages that `reckon` walks through."""

from collections.abc import Mapping
from dataclasses import replace
from datetime import date, timedelta
from typing import TYPE_CHECKING

from cordwright.base import Figure, InputError, Records
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
from cordwright.mortar import Mix, Spread
from cordwright.plan import Plan
from cordwright.season import Season, SeasonInput, Work, as_recorded, hours_of, pace_of, unknown_figures
from cordwright.site import SiteInput, normal_figures, rule_figures, weather_figures
from cordwright.site.weather import WeatherModel
from cordwright.studies import Studies
from cordwright.timber import Building, Timber, fibre_saturation, reckon_timber, season_timber
from cordwright.wall import PlacedWall, Wall, place_wall
from cordwright.wall.laid_study import LayoutStudy

if TYPE_CHECKING:
    from cordwright.diary import Diary, Expected, WholeWall


def read_diary(
    project: Project, plan: Plan, timber: Timber, mix: Mix | None, wall: Wall, *, records: Records | None
) -> "Diary | None":
    """The diary, None before the first record."""
    if not records:
        return None
    from cordwright.diary import reckon_diary

    whole = whole_wall(project, plan, timber, mix, wall)
    return reckon_diary(records, whole, expected(project, wall, whole))


def whole_wall(project: Project, plan: Plan, timber: Timber, mix: Mix | None, wall: Wall) -> "WholeWall":
    """The wall that the diary is about."""
    from cordwright.diary import wall_of

    saturation = fibre_saturation(project.timber)
    return wall_of(plan, timber, wall, mix, currency=project.cost.currency, saturation=saturation)


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


def placed_wall(
    project: Project, plan: Plan, timber: Timber, mix: Mix | None, layout: LayoutStudy | None
) -> PlacedWall | None:
    """The laid wall, None without a layout or when it holds no log at all: then nothing can be carried."""
    if layout is None or not any(p.placements for p in layout.panels):
        return None
    if {p.name for p in plan.panels} != {p.face.name for p in layout.panels}:
        raise InputError("the layout is not of the panels of this plan")
    return place_wall(layout, plan, project.plan.section, timber.stock, mix)


def warmth_of(  # noqa: PLR0917 (what the earlier stages hand on, in the order of the job)
    project: Project,
    plan: Plan,
    timber: Timber,
    mix: Mix | None,
    figures: Mapping[str, Figure],
    records: Records,
    studies: Studies,
) -> Warmth:
    """The building warm and dry, with the owner's readings beside the forecast of its first winter."""
    fraction = figures["wall.wood_fraction"].value
    case = WarmthCase(
        heat=project.heat,
        site=project.site,
        plan=project.plan,
        built=plan,
        timber=project.timber,
        stock=timber.stock,
        mix=mix,
        wood_fraction=fraction if isinstance(fraction, float) else project.wall.wood_fraction,
        figures=figures,
        moistures=moisture_marks(records),
        gaps=gap_marks(records),
    )
    return reckon_warmth(case, studies.house_year)


def heat_of_wall(  # noqa: PLR0917 (what the earlier stages hand on, in the order of the job)
    project: Project,
    plan: Plan,
    timber: Timber,
    mix: Mix | None,
    wall: Wall,
    layout: LayoutStudy | None,
    studies: Studies,
) -> WallHeat:
    """What the wall leads by its section, and as laid where it is laid."""
    section = project.plan.section
    materials, missing = wall_materials(project.heat.wall, section, project.timber, timber.stock, mix)
    study, diameters = None, timber.stock.known_diameters
    if layout is not None:
        diameters = laid_diameters(layout)
        if materials is not None:
            study = studies.wall_heat(laid_wall_of(project, plan, timber, layout, materials))
    return reckon_wall_heat(section, _fraction(wall), materials, missing, diameters, study)


def laid_wall_of(
    project: Project, plan: Plan, timber: Timber, layout: LayoutStudy, materials: WallMaterials
) -> LaidWall:
    """The wall as laid, with all that its heat asks for."""
    grains = grains_of_logs(project.heat.wall, project.timber, timber.stock)
    return LaidWall(
        layout=layout, built=plan, plan=project.plan, heat=project.heat.wall, materials=materials, grains=grains
    )


def _fraction(wall: Wall) -> Spread:
    """Wood fraction as laid, or as planned with its spread."""
    found = next(f for f in wall.figures if f.key == "wall.wood_fraction")
    ends = [v for v in (found.low, found.value, found.high) if isinstance(v, float)]
    return Spread(ends[0], ends[len(ends) // 2], ends[-1])


def season_figures(studies: Studies | None, project: Project, season: Season | None) -> tuple[Figure, ...]:
    """What the seasons say; where studies are asked for and none could be run, what to state."""
    if season is not None:
        return season.figures
    return unknown_figures(project.season, project.site) if studies is not None else ()


def run_seasons(  # noqa: PLR0917 (what the earlier stages hand on, in the order of the job)
    studies: Studies,
    project: Project,
    work: Work,
    weather: WeatherModel | None,
    last_laying: Figure | None,
    diary: "Diary | None",
) -> Season | None:
    """The seasons, from the third recorded day of laying on by the diary."""
    last = last_laying.value if last_laying is not None else None
    seen = project if diary is None else replace(project, season=_overtaken(project.season, work, diary))
    return studies.season(seen, work, weather, last if isinstance(last, date) else None)


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


def reckon_wood(project: Project, plan: Plan) -> Timber:
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
