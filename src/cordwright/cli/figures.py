"""What does the building come to, and could I?"""

from typing import TYPE_CHECKING, Annotated

import typer

from cordwright.cli.app import (
    MISUSED,
    AsJson,
    File,
    NoStudies,
    app,
    dump,
    problems_json,
    put,
    read_or_stop,
    reckon_whole,
    say,
    stop,
)

if TYPE_CHECKING:
    from cordwright.base import Figure
    from cordwright.book.formats import Units
    from cordwright.case import Project
    from cordwright.project import Reading
    from cordwright.reckon import Reckoning


@app.command()
def reckon(
    file: File,
    as_json: AsJson = False,
    only: Annotated[
        str, typer.Option(help="one stage: site, plan, roof, timber, sand, mortar, wall, season, cost, diary")
    ] = "",
    no_studies: NoStudies = False,
) -> None:
    """Give every figure and check of the building, of the wall as it is laid."""
    reading, project = read_or_stop(file, as_json=as_json)
    from cordwright.reckon import STAGES

    if only and only not in (*STAGES, "roof", "sand", "season"):
        say(f"there is no stage {only!r}; the stages are {', '.join((*STAGES, 'roof', 'sand', 'season'))}")
        stop(MISUSED)
    reckoning = reckon_whole(file, reading, project, as_json=as_json, no_studies=no_studies)
    if as_json:
        _print_json(reckoning, reading, only)
    else:
        _print_reckoning(project, reckoning, only)


def _of_stage(key: str, only: str) -> bool:
    return not only or key.partition(".")[0] == only


def _print_json(reckoning: "Reckoning", reading: "Reading", only: str) -> None:
    from cordwright.reckon import as_json

    content = dict(as_json(reckoning))
    figures = content["figures"]
    assert isinstance(figures, dict)
    content["figures"] = {key: figure for key, figure in figures.items() if _of_stage(key, only)}
    content["problems"] = problems_json(reading.problems)
    dump(content)


def _print_reckoning(project: "Project", reckoning: "Reckoning", only: str) -> None:
    from cordwright.book.formats import show_check

    put(f"{project.name}  (not reviewed by an engineer; figures for review)")
    _print_figures([f for f in reckoning.figures if _of_stage(f.key, only)], project.units, project.locale)
    checks = [c for c in reckoning.checks if _of_stage(c.key, only)]
    if checks:
        put("\nchecks")
    for each in checks:
        put(f"  {each.label}: {show_check(each, project.units, project.locale)}")


def _print_figures(figures: "list[Figure]", units: "Units", locale: str) -> None:
    from cordwright.book.formats import show_figure

    shown = {f.key: show_figure(f, units, locale) for f in figures}
    key_width = max(map(len, shown), default=0)
    value_width = min(48, max(map(len, shown.values()), default=0))
    stage = ""
    for figure in figures:
        if figure.key.partition(".")[0] != stage:
            stage = figure.key.partition(".")[0]
            put(f"\n{stage}")
        put(f"  {figure.key:<{key_width}}  {shown[figure.key]:<{value_width}}  {figure.label}")


@app.command()
def idea(
    floor: Annotated[str, typer.Option(help='inside floor: "6.6 m x 4.8 m", or "9 ft" for a round one')],
    wall: Annotated[str, typer.Option(help='log-end length: "350 mm", "16 in"')],
    height: Annotated[str, typer.Option(help='wall height from bed to head, when you know it: "2.2 m"')] = "",
    days: Annotated[float | None, typer.Option(help="days a week you have for the wall, when you know it")] = None,
    as_json: AsJson = False,
) -> None:
    """Could I? What a footprint comes to, as ranges, and whom to ask what."""
    from cordwright.idea import IdeaInput, sketch
    from cordwright.project.footprint import read_footprint

    footprint = read_footprint(floor, wall, height)
    for problem in footprint.problems:
        say(str(problem))
    if footprint.problems:
        stop(MISUSED)
    answer = sketch(
        IdeaInput(
            inside_length=footprint.length,
            inside_width=footprint.width,
            log_end_length=footprint.log_end_length,
            height=footprint.height,
            days_per_week=days,
        )
    )
    if as_json:
        from cordwright.reckon import figure_json

        questions = {"authority": answer.authority, "insurer": answer.insurer}
        dump({"schema": 1, "figures": {f.key: figure_json(f) for f in answer.figures}, "questions": questions})
        return
    from cordwright.book.idea_page import idea_lines

    for line in idea_lines(answer, "imperial" if footprint.imperial else "metric"):
        put(line)
