"""What does the whole building come to? Project in, Reckoning out, stage by stage in the order of the job."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

from cordwright.base import Caution, Check, Figure, InputError, Problem, Records, caution
from cordwright.case import Project
from cordwright.cost import OrderList, reckon_cost
from cordwright.heat import (
    LaidWall,
    WallHeat,
    WallMaterials,
    grains_of_logs,
    laid_diameters,
    reckon_wall_heat,
    wall_materials,
)
from cordwright.mortar import Mix, Sands, Spread, last_laying_figure, reckon_mix, reckon_sands
from cordwright.plan import Plan, reckon_plan
from cordwright.site import check_rules, normal_figures, rule_figures, weather_figures, weather_model
from cordwright.studies import Studies
from cordwright.timber import Building, Timber, fibre_saturation, reckon_timber, season_timber
from cordwright.wall import PlacedWall, Wall, place_wall, reckon_wall
from cordwright.wall.laid_study import LayoutStudy

if TYPE_CHECKING:
    from cordwright.diary import Diary, HelperDay, WholeWall

Progress = Callable[[float, str], None]

STAGES = ("site", "plan", "timber", "mortar", "wall", "heat", "cost", "diary")
"""The stages that stand, in the order of the job."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Reckoning:
    """All that follows from the case; figures, checks and cautions in the order of the job, keys unique.

    `layout`: the laid wall that it rests on, None when the wall is reckoned as planned. `refusals`: what the owner
    wished of a study and cannot be. `diary`: None without records.
    """

    plan: Plan
    timber: Timber
    sands: Sands
    mix: Mix | None
    wall: Wall
    wall_heat: WallHeat
    order: OrderList
    figures: tuple[Figure, ...]
    checks: tuple[Check, ...]
    cautions: tuple[Caution, ...]
    layout: LayoutStudy | None = None
    refusals: tuple[Problem, ...] = ()
    diary: "Diary | None" = None

    def figure(self, key: str) -> Figure:
        """One figure by its key.

        Raises:
            KeyError: no such figure.
        """
        for figure in self.figures:
            if figure.key == key:
                return figure
        raise KeyError(key)


def _quiet(_share: float, _stage: str) -> None:
    """Progress that nobody watches."""


def reckon(
    project: Project, *, studies: Studies | None = None, records: Records | None = None, progress: Progress = _quiet
) -> Reckoning:
    """Work out the whole building.

    Args:
        project: the owner's case, without errors (see `project.read`).
        studies: asked for each slow study where the building needs it; None: as planned, none is run.
        records: what the owner wrote down on site (see `project.diary_book.diary_of`); without any, no diary.
        progress: called with the share done [1] and the stage at hand.

    Raises:
        InputError: a value no building can have (reading the owner's file finds these first as problems), or a layout
            of other panels.
    """
    progress(0.0, "plan")
    plan = reckon_plan(project.plan)
    progress(0.2, "timber")
    timber = _timber(project, plan)
    progress(0.5, "mortar")
    sands = reckon_sands(project.mortar.sands)
    mix = reckon_mix(project.mortar) if project.mortar.parts else None
    progress(0.6, "wall")
    section = project.plan.section
    layout = (studies or Studies()).layout(project, plan, timber)
    placed = _placed(project, plan, timber, mix, layout)
    wall = reckon_wall(project.wall, plan, section, mix, project.mortar, timber.stock.known_diameters, placed)
    progress(0.7, "heat")
    heat = _wall_heat(project, plan, timber, mix, wall, layout if placed is not None else None, studies or Studies())
    parts: tuple[Plan | Timber | Sands | Mix | Wall | WallHeat, ...]
    parts = (plan, timber, sands, *((mix,) if mix else ()), wall, heat)
    weather = weather_model(project.site)
    told = (*rule_figures(project.site), *normal_figures(project.site), *weather_figures(project.site, weather))
    figures = {f.key: f for f in (*told, *(f for part in parts for f in part.figures))}
    if mix is not None:
        figures |= {f.key: f for f in (last_laying_figure(project.site, project.mortar),)}
    progress(0.8, "cost")
    order = reckon_cost(project.cost, figures)
    diary = _diary(project, plan, timber, mix, wall, records=records)
    later = (order, diary) if diary else (order,)
    figures |= {f.key: f for part in later for f in part.figures}
    checks = (*check_rules(project.site, figures), *(c for part in (*parts, *later) for c in part.checks))
    harms = (*sands.cautions, *wall.cautions, *(diary.cautions if diary else ()))
    progress(1.0, "done")
    return Reckoning(
        plan=plan,
        timber=timber,
        sands=sands,
        mix=mix,
        wall=wall,
        wall_heat=heat,
        order=order,
        figures=tuple(figures.values()),
        checks=checks,
        cautions=_cautions(project, timber, mix, harms),
        layout=layout if placed is not None else None,
        refusals=layout.refusals if layout is not None else (),
        diary=diary,
    )


def _diary(
    project: Project, plan: Plan, timber: Timber, mix: Mix | None, wall: Wall, *, records: Records | None
) -> "Diary | None":
    """The diary, None before the first record."""
    if not records:
        return None
    from cordwright.diary import expected_of, reckon_diary

    whole = _whole_wall(project, plan, timber, mix, wall)
    return reckon_diary(records, whole, expected_of(wall, whole))


def _whole_wall(project: Project, plan: Plan, timber: Timber, mix: Mix | None, wall: Wall) -> "WholeWall":
    from cordwright.diary import wall_of

    saturation = fibre_saturation(project.timber)
    return wall_of(plan, timber, wall, mix, currency=project.cost.currency, saturation=saturation)


def plan_helpers(
    project: Project, reckoning: Reckoning, *, people: int, hours: float, end: float | None, cover_up: float
) -> "HelperDay":
    """A day with helpers by the pace of the diary, or as expected before the first record.

    Args:
        project: the owner's case.
        reckoning: the building worked out.
        people: how many hands, the owner's among them.
        hours: how long each works [h].
        end: when everyone goes home [h of day]; None: laying stops at the mix's own `stop`.
        cover_up: to cover and wash [h].

    Raises:
        InputError: no hands, no hours, or a cover-up longer than the day.
    """
    from cordwright.diary import expected_of, plan_helper_day
    from cordwright.diary.materials import own_mortar
    from cordwright.diary.pace import own_pace

    whole = _whole_wall(project, reckoning.plan, reckoning.timber, reckoning.mix, reckoning.wall)
    expected = expected_of(reckoning.wall, whole)
    days = reckoning.diary.days if reckoning.diary is not None else ()
    return plan_helper_day(
        project.mortar,
        own_pace(days, expected),
        own_mortar(days, whole, expected),
        people=people,
        hours=hours,
        day_hours=expected.day_hours,
        end=end,
        cover_up=cover_up,
        batch_volume=whole.batch_volume,
    )


def _placed(
    project: Project, plan: Plan, timber: Timber, mix: Mix | None, layout: LayoutStudy | None
) -> PlacedWall | None:
    """The laid wall, None without a layout or when it holds no log at all: then nothing can be carried."""
    if layout is None or not any(p.placements for p in layout.panels):
        return None
    if {p.name for p in plan.panels} != {p.face.name for p in layout.panels}:
        raise InputError("the layout is not of the panels of this plan")
    return place_wall(layout, plan, project.plan.section, timber.stock, mix)


def _wall_heat(  # noqa: PLR0917 (what the earlier stages hand on, in the order of the job)
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
            study = studies.wall_heat(_laid_wall(project, plan, timber, layout, materials))
    return reckon_wall_heat(section, _fraction(wall), materials, missing, diameters, study)


def _laid_wall(project: Project, plan: Plan, timber: Timber, layout: LayoutStudy, materials: WallMaterials) -> LaidWall:
    grains = grains_of_logs(project.heat.wall, project.timber, timber.stock)
    return LaidWall(
        layout=layout, built=plan, plan=project.plan, heat=project.heat.wall, materials=materials, grains=grains
    )


def laid_wall(project: Project, reckoning: Reckoning) -> LaidWall | None:
    """The wall as laid, as far as heat asks for it; None where it is not laid or its materials are not known."""
    layout, materials = reckoning.layout, reckoning.wall_heat.materials
    if layout is None or materials is None:
        return None
    return _laid_wall(project, reckoning.plan, reckoning.timber, layout, materials)


def _fraction(wall: Wall) -> Spread:
    """Wood fraction as laid, or as planned with its spread."""
    found = next(f for f in wall.figures if f.key == "wall.wood_fraction")
    ends = [v for v in (found.low, found.value, found.high) if isinstance(v, float)]
    return Spread(ends[0], ends[len(ends) // 2], ends[-1])


def _timber(project: Project, plan: Plan) -> Timber:
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


def _cautions(project: Project, timber: Timber, mix: Mix | None, later: tuple[Caution, ...]) -> tuple[Caution, ...]:
    """Gather the cautions that this building gives rise to, each once, in the order they arise on site."""
    arising = (
        *_site_cautions(project),
        *timber.cautions,
        *(mix.cautions if mix else ()),
        *later,
        *_building_cautions(project),
        caution("honesty"),
    )
    return tuple({c.key: c for c in arising}.values())


def _site_cautions(project: Project) -> Iterable[Caution]:
    yield caution("permits")
    yield caution("frost-heave")
    if project.plan.plinth_height is not None:
        yield caution("excavation")


def _building_cautions(project: Project) -> Iterable[Caution]:
    plan = project.plan
    if plan.roof is not None:
        yield caution("snow")
        if plan.roof.form in ("hip", "cone"):
            yield caution("thrust")
    if plan.sleeves:
        yield caution("fill-fire")


def as_json(reckoning: Reckoning) -> Mapping[str, object]:
    """Give the reckoning as plain values for `reckon --json`: schema 1, keys permanent, SI units always printed."""
    return {
        "schema": 1,
        "figures": {f.key: figure_json(f) for f in reckoning.figures},
        "checks": [check_json(c) for c in reckoning.checks],
    }


def _plain(value: object) -> object:
    return value.isoformat() if hasattr(value, "isoformat") else value


def figure_json(figure: Figure) -> dict[str, object]:
    """Give one figure as plain values."""
    return {
        "label": figure.label,
        "value": _plain(figure.value),
        "unit": figure.unit,
        "low": _plain(figure.low),
        "high": _plain(figure.high),
        "bound": figure.bound,
        "missing": list(figure.missing),
        "sources": [f"{c.key}: {c.where}" if c.where else c.key for c in figure.sources],
    }


def check_json(check: Check) -> dict[str, object]:
    """Give one check as plain values."""
    return {
        "key": check.key,
        "label": check.label,
        "verdict": check.verdict,
        "demand": check.demand,
        "low": check.low,
        "high": check.high,
        "capacity": check.capacity,
        "unit": check.unit,
        "margin": check.margin,
        "ratio": check.ratio,
        "not_judged": check.not_judged,
        "sources": [f"{c.key}: {c.where}" if c.where else c.key for c in check.sources],
    }
