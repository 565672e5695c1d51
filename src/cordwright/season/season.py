"""Laid by when, with what chance, roof first or walls first: the whole answer in one call."""

from collections.abc import Callable, Iterator
from datetime import date
from typing import Final

from cordwright.base import Caution, Figure, caution
from cordwright.season.crew import hours_of
from cordwright.season.figures import hour_figures, outcome_figures, pace_figure, spread_figures, stop_check
from cordwright.season.inputs import STRATEGIES, SeasonInput
from cordwright.season.outcomes import outcome_of
from cordwright.season.plan import SeasonPlan, plan_of
from cordwright.season.results import Outcome, Season
from cordwright.season.simulate import Setting, setting_of, simulate
from cordwright.season.sway import changes, critical, spreads, trial_of
from cordwright.season.tasks import tasks_of
from cordwright.season.work import Work
from cordwright.site.inputs import SiteInput
from cordwright.site.weather import WeatherModel

SEASONS: Final = 10_000
SEED: Final = 1

Progress = Callable[[float, str], None]


def _quiet(_share: float, _words: str) -> None:
    """Progress that nobody watches."""


def reckon_season(
    season: SeasonInput,
    work: Work,
    site: SiteInput,
    weather: WeatherModel | None,
    last_laying: date | None,
    *,
    seasons: int = SEASONS,
    seed: int = SEED,
    progress: Progress = _quiet,
    stopped: Callable[[], bool] | None = None,
) -> Season | None:
    """Run every strategy through the same seasons; None where no season can be run (see `unknown_figures`).

    Args:
        season: the owner's calendar, without faults.
        work: how much there is to do.
        site: the place.
        weather: its weather generator.
        last_laying: last day to lay before the frost.
        seasons: how many.
        seed: the same seed gives the same seasons.
        progress: told the share done [1] and what is done.
        stopped: asked between a thousand seasons and the next.

    Raises:
        StoppedError: the run was stopped.
        InputError: tasks that wait for each other.
    """
    if weather is None or season.start is None:
        return None
    stop = _stop(season, last_laying)
    setting = setting_of(season, site, weather)
    outcomes = []
    for n, strategy in enumerate(STRATEGIES):
        plan = plan_of(tasks_of(work, season, strategy), season.start)
        part = _part(progress, 0.2 * n, 0.2)
        runs = simulate(plan, setting, seed=seed, seasons=seasons, progress=part, stopped=stopped)
        outcomes.append(outcome_of(runs, strategy, stop))
    progress(0.6, "trying what moves the day")
    plan = plan_of(tasks_of(work, season, season.strategy), season.start)
    return _swayed(tuple(outcomes), plan, setting, work, stop, seed=seed, seasons=seasons)


def _part(progress: Progress, start: float, share: float) -> Progress:
    def tell(done: float, words: str) -> None:
        progress(start + share * done, words)

    return tell


def _stop(season: SeasonInput, last_laying: date | None) -> date | None:
    """The earlier of the owner's own stop date and the one that the frost gives."""
    return min((day for day in (season.stop, last_laying) if day is not None), default=None)


def _swayed(
    outcomes: tuple[Outcome, ...],
    plan: SeasonPlan,
    setting: Setting,
    work: Work,
    stop: date | None,
    *,
    seed: int,
    seasons: int,
) -> Season:
    trial = trial_of(plan, setting, seed, stop, seasons)
    season, pace = setting.season, setting.pace
    chosen = next(o for o in outcomes if o.strategy == season.strategy)
    figures: list[Figure] = [f for o in outcomes for f in outcome_figures(o, stop, seed, seasons)]
    figures += [pace_figure(season, pace, hours_of(season)), *hour_figures(plan.tasks, pace, season.people)]
    figures += spread_figures(*spreads(trial), (seed, len(trial.base.finish)))
    late = work.ready_late if work.ready_late and work.begins and work.ready_late > work.begins else None
    return Season(
        outcomes=outcomes,
        chosen=season.strategy,
        stop=stop,
        critical=critical(trial),
        changes=changes(trial),
        logs_late=late,
        seasons=seasons,
        seed=seed,
        figures=tuple(figures),
        checks=(stop_check(chosen, work.begins, stop),),
        cautions=tuple(_cautions(plan)),
        notes=(*_notes(work, season), *setting.weather.notes),
    )


def _cautions(plan: SeasonPlan) -> Iterator[Caution]:
    """The harms that lie in the work of this plan."""
    keys = {task.key for task in plan.tasks}
    if "felling" in keys:
        yield caution("felling")
    if keys & {"raising", "rafters", "cover"}:
        yield caution("heights")
    if "raising" in keys:
        yield caution("lifting")
    yield caution("frost-on-work")


def _notes(work: Work, season: SeasonInput) -> Iterator[str]:
    """What the builder should know of the reckoning itself."""
    if not work.framed and season.strategy == "roof first":
        yield "no posts stand in this plan: roof first wants something that carries the roof before the walls stand"
    if season.recorded_to is not None:
        yield (
            f"by the diary: what is laid by {season.recorded_to.isoformat()} is laid, what laying waited for counts as "
            "done, and the pace is your own; the rest begins on that day"
        )
    if work.ready is None:
        yield "no day is known on which the logs are dry: nothing waits for them here"
