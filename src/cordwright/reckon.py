"""What does the whole building come to? Project in, Reckoning out, stage by stage in the order of the job."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

from cordwright.base import Caution, Check, Figure, Problem, Records, caution
from cordwright.case import Project
from cordwright.cost import OrderList, reckon_cost
from cordwright.handing import (
    Body,
    body_of,
    expected,
    heat_of_wall,
    laid_wall_of,
    last_laying,
    read_diary,
    seasons_of,
    site_figures,
    warmth_of,
    whole_wall,
)
from cordwright.heat import (
    LaidWall,
    WallHeat,
)
from cordwright.heat.house_reckoning import Warmth
from cordwright.mortar import Mix, Sands
from cordwright.plan import Plan
from cordwright.season import Season, hours_by_trade, unknown_figures
from cordwright.site import check_rules, weather_model
from cordwright.studies import Studies
from cordwright.timber import Timber
from cordwright.wall import Wall
from cordwright.wall.laid_study import LayoutStudy

if TYPE_CHECKING:
    from cordwright.diary import Diary, HelperDay

Progress = Callable[[float, str], None]

STAGES = ("site", "plan", "timber", "mortar", "wall", "heat", "damp", "season", "cost", "diary")
"""The stages that stand, in the order of the job."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Reckoning:
    """All that follows from the case; figures, checks and cautions in the order of the job, keys unique.

    `layout`: the laid wall that it rests on, None when the wall is reckoned as planned. `season`: the seasons run, None
    when none was. `refusals`: what the owner wished of a study and cannot be. `diary`: None without records.
    """

    plan: Plan
    timber: Timber
    sands: Sands
    mix: Mix | None
    wall: Wall
    wall_heat: WallHeat
    warmth: Warmth
    order: OrderList
    figures: tuple[Figure, ...]
    checks: tuple[Check, ...]
    cautions: tuple[Caution, ...]
    layout: LayoutStudy | None = None
    season: Season | None = None
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
    asked, written = studies or Studies(), records or Records()
    body = body_of(project, asked, progress)
    progress(0.7, "heat")
    heat, weather = heat_of_wall(project, body, asked), weather_model(project.site)
    figures = _by_key(site_figures(project.site, weather), *(part.figures for part in (*body.parts, heat)))
    figures |= _by_key(last_laying(project))
    warmth = warmth_of(project, body, figures, written, asked)
    progress(0.75, "season")
    diary = read_diary(project, body, records)
    season = seasons_of(project, body, asked, diary, weather)
    unrun = () if studies is None or season else unknown_figures(project.season, project.site)
    figures |= _by_key(warmth.figures, season.figures if season else unrun)
    progress(0.8, "cost")
    order = reckon_cost(project.cost, figures, hours_by_trade(season.figures) if season else None)
    later = tuple(part for part in (warmth, season, order, diary) if part is not None)
    figures |= _by_key(*(part.figures for part in later))
    judged = (check for part in (*body.parts, heat, *later) for check in part.checks)
    harms = (c for part in (body.sands, body.wall, warmth, season, diary) if part for c in part.cautions)
    progress(1.0, "done")
    return Reckoning(
        plan=body.plan,
        timber=body.timber,
        sands=body.sands,
        mix=body.mix,
        wall=body.wall,
        wall_heat=heat,
        warmth=warmth,
        order=order,
        figures=tuple(figures.values()),
        checks=(*check_rules(project.site, figures), *judged),
        cautions=_cautions(project, body, harms),
        layout=body.layout,
        season=season,
        refusals=body.refusals,
        diary=diary,
    )


def _by_key(*groups: Iterable[Figure]) -> dict[str, Figure]:
    return {figure.key: figure for group in groups for figure in group}


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
    from cordwright.diary import plan_helper_day
    from cordwright.diary.materials import own_mortar
    from cordwright.diary.pace import own_pace

    whole = whole_wall(project, reckoning)
    hoped = expected(project, reckoning.wall, whole)
    days = reckoning.diary.days if reckoning.diary is not None else ()
    return plan_helper_day(
        project.mortar,
        own_pace(days, hoped),
        own_mortar(days, whole, hoped),
        people=people,
        hours=hours,
        day_hours=hoped.day_hours,
        end=end,
        cover_up=cover_up,
        batch_volume=whole.batch_volume,
    )


def laid_wall(project: Project, reckoning: Reckoning) -> LaidWall | None:
    """The wall as laid, as far as heat asks for it; None where it is not laid or its materials are not known."""
    return laid_wall_of(project, reckoning, reckoning.wall_heat.materials)


def _cautions(project: Project, body: Body, later: Iterable[Caution]) -> tuple[Caution, ...]:
    """Gather the cautions that this building gives rise to, each once, in the order they arise on site."""
    arising = (
        *_site_cautions(project),
        *body.timber.cautions,
        *(body.mix.cautions if body.mix else ()),
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
