"""Laid by when, roof first or walls first, and what would one more pair of hands buy?"""

from dataclasses import replace
from typing import TYPE_CHECKING, Annotated

import typer

from cordwright.cli.app import (
    MISUSED,
    AsJson,
    File,
    Watch,
    app,
    dump,
    problems_json,
    put,
    read_or_stop,
    say,
    stop,
)

if TYPE_CHECKING:
    from cordwright.case import Project

MOST_SEASONS = 1_000_000
MOST_SEED = 2**63 - 1


@app.command()
def season(  # noqa: PLR0917 - an option each, named by the owner
    file: File,
    strategy: Annotated[str, typer.Option(help='"roof first", "walls first, tarpaulin" or "walls first, bare"')] = "",
    seasons: Annotated[int, typer.Option(help="how many seasons are run")] = 10_000,
    seed: Annotated[int, typer.Option(help="another number gives other weather, the same number the same")] = 1,
    whole_day: Annotated[bool, typer.Option("--whole-day", help="rain takes whole days, not hours")] = False,
    pace: Annotated[str, typer.Option(help='a pace known for certain: "0.9 m2/day"', show_default=False)] = "",
    as_json: AsJson = False,
) -> None:
    """Laid by when? Thousands of seasons day by day, roof first and walls first side by side."""
    reading, project = read_or_stop(file, as_json=as_json)
    asked = _asked(project, strategy, pace, whole_day=whole_day)
    if not 1 <= seasons <= MOST_SEASONS or not 0 <= seed <= MOST_SEED:
        say(f"from 1 to {MOST_SEASONS} seasons are run, and a seed lies from 0 to {MOST_SEED}")
        stop(MISUSED)
    from cordwright.project.season_study import SeasonStudies
    from cordwright.reckon import reckon as reckon_all

    with Watch() as progress:
        reckoning = reckon_all(asked, studies=SeasonStudies(seasons, seed, progress.part(1.0)))
    if as_json:
        from cordwright.reckon import as_json as reckoning_json

        content = dict(reckoning_json(reckoning))
        figures, checks = content["figures"], content["checks"]
        assert isinstance(figures, dict)
        assert isinstance(checks, list)
        content["figures"] = {key: figure for key, figure in figures.items() if key.startswith("season.")}
        content["checks"] = [check for check in checks if check["key"].startswith("season.")]
        dump({**content, "problems": problems_json(reading.problems)})
        return
    from cordwright.book.season_page import season_lines

    for line in season_lines(asked, reckoning):
        put(line)


def _asked(project: "Project", strategy: str, pace: str, *, whole_day: bool) -> "Project":
    """The case with what is asked for this run, or stop with what is wrong with it."""
    from cordwright.season import STRATEGIES
    from cordwright.season.habits import habits

    stated = project.season
    if strategy:
        if strategy not in STRATEGIES:
            say(f"there is no strategy {strategy!r}; there are {', '.join(repr(s) for s in STRATEGIES)}")
            stop(MISUSED)
        stated = replace(stated, strategy=next(s for s in STRATEGIES if s == strategy))
    if whole_day:
        stated = replace(stated, rain="whole day")
    if pace:
        from cordwright.project.faults import FieldFault
        from cordwright.project.season_schema import read_pace
        from cordwright.project.season_tables import hourly

        try:
            hours = float(habits()["defaults"]["hours"]) if stated.hours is None else stated.hours
            stated = replace(stated, pace=hourly(read_pace(pace), hours), pace_spread=0.0)
        except FieldFault as fault:
            say(f"--pace: {fault.message}; {fault.hint}")
            stop(MISUSED)
    return replace(project, season=stated)
