"""The command line: thin, one command for each question the builder asks."""

import gc
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, NoReturn

import typer

from cordwright import __version__
from cordwright.base import CordwrightError, Problem

if TYPE_CHECKING:
    from cordwright.base import Figure
    from cordwright.book.formats import Units
    from cordwright.case import Project
    from cordwright.project import Reading
    from cordwright.project.wishes import Asked
    from cordwright.reckon import Reckoning
    from cordwright.wall.laid_study import LayoutStudy
    from cordwright.wall.placed import PlacedWall

OK, FAULTY, MISUSED = 0, 1, 2
"""Exit codes: done; the owner's file has errors; wrong use."""

gc.set_threshold(100_000, 50, 50)
"""A command is over in a second and loads many small classes: to seek dead cycles among them is a tenth of `check`."""

app = typer.Typer(
    add_completion=False,
    no_args_is_help=True,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
    help="From a wood, a sand pit and a site to a cordwood wall. Figures are for review; nothing here is engineering.",
)

File = Annotated[Path, typer.Argument(help="building.toml, or the folder that holds it", show_default=False)]
NoStudies = Annotated[
    bool, typer.Option("--no-studies", help="run no slow study and read none: the wall as planned, not as laid")
]
AsJson = Annotated[bool, typer.Option("--json", help="print JSON on stdout and nothing else there")]


def main() -> None:
    """Run the command line and leave with its exit code."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(encoding="utf-8", errors="replace")
    try:
        app()
    except CordwrightError as refusal:
        _say(str(refusal))
        sys.exit(MISUSED)


def _print(text: str = "") -> None:
    sys.stdout.write(text + "\n")


def _say(text: str) -> None:
    """Speak to the person, not to the program that reads stdout."""
    sys.stderr.write(text + "\n")


def _stop(code: int) -> NoReturn:
    raise typer.Exit(code)


def _errors(problems: tuple[Problem, ...]) -> bool:
    return any(p.severity == "error" for p in problems)


def _show_version(wanted: bool) -> None:
    if wanted:
        _print(f"cordwright {__version__}")
        _stop(OK)


@app.callback()
def _root(
    version: Annotated[
        bool, typer.Option("--version", callback=_show_version, is_eager=True, help="say which")
    ] = False,
) -> None:
    """Hold the options that stand before any command."""


@app.command()
def start(
    folder: Annotated[Path, typer.Argument(help="a new folder for the project", show_default=False)],
    like: Annotated[str, typer.Option(help="begin as one of the examples: weaving-studio, bakehouse, sauna")] = "",
) -> None:
    """Begin a project: a folder with building.toml, its stock and its prices as plain text."""
    from cordwright.project.starting import start_project

    for path in start_project(folder, like):
        _print(str(path))


@app.command()
def check(file: File) -> None:
    """Name every fault of the project's files, one a line; exit 1 if any is an error."""
    from cordwright.project import read

    reading = read(file)
    for line in reading.echo:
        _say(line)
    for problem in reading.problems:
        _print(str(problem))
    _stop(FAULTY if _errors(reading.problems) else OK)


@app.command("set")
def set_value(
    file: File,
    change: Annotated[str, typer.Argument(metavar="KEY=VALUE", help='for example plan.height="2.3 m"')],
) -> None:
    """Change one value in building.toml; every other line stays as it was."""
    from cordwright.project import change as change_file

    key, equals, value = change.partition("=")
    if not equals or not key.strip():
        _say(f'{change!r} is not KEY=VALUE; write for example plan.height="2.3 m"')
        _stop(MISUSED)
    problems = change_file(file, key.strip(), value.strip())
    for problem in problems:
        _print(str(problem))
    _stop(FAULTY if _errors(problems) else OK)


@app.command()
def reckon(
    file: File,
    as_json: AsJson = False,
    only: Annotated[
        str, typer.Option(help="one stage: site, plan, roof, timber, sand, mortar, wall, season, cost")
    ] = "",
    no_studies: NoStudies = False,
) -> None:
    """Give every figure and check of the building, of the wall as it is laid."""
    reading, project = _read(file, as_json=as_json)
    from cordwright.reckon import STAGES
    from cordwright.reckon import reckon as reckon_all

    if only and only not in (*STAGES, "roof", "sand", "season"):
        _say(f"there is no stage {only!r}; the stages are {', '.join((*STAGES, 'roof', 'sand', 'season'))}")
        _stop(MISUSED)
    studies = {} if no_studies else _studies(file, project)
    _refuse(_refusals(reading, studies), as_json=as_json)
    reckoning = reckon_all(project, studies=studies)
    if as_json:
        _print_json(reckoning, reading, only)
    else:
        _print_reckoning(project, reckoning, only)


def _read(file: Path, *, as_json: bool = False, asked: "Asked | None" = None) -> "tuple[Reading, Project]":
    """Read the project, with what was asked here, or stop with its problems."""
    from cordwright.project import read

    reading = read(file, asked)
    if not as_json:
        for problem in reading.problems:
            _say(str(problem))
    if reading.project is None:
        if as_json:
            _dump({"schema": 1, "figures": {}, "checks": [], "problems": _problems_json(reading.problems)})
        _stop(FAULTY)
    return reading, reading.project


def _studies(file: Path, project: "Project") -> "dict[str, LayoutStudy]":
    """Run the studies the building asks for, or read those that are kept."""
    from time import perf_counter

    from cordwright.project.studies import find_studies

    with _Progress() as progress:
        return find_studies(file, project, progress=progress.part(1.0), clock=perf_counter, say=_say)


def _refusals(reading: "Reading", studies: "dict[str, LayoutStudy]") -> tuple[Problem, ...]:
    """What the owner wished of the layout and cannot be."""
    return reading.placed(studies["layout"].refusals) if "layout" in studies else ()


def _dump(content: object) -> None:
    import json

    _print(json.dumps(content, ensure_ascii=False, allow_nan=False, indent=1))


def _problems_json(problems: tuple[Problem, ...]) -> list[dict[str, object]]:
    names = ("where", "line", "field", "message", "hint", "severity")
    return [{name: getattr(p, name) for name in names} for p in problems]


def _of_stage(key: str, only: str) -> bool:
    return not only or key.partition(".")[0] == only


def _print_json(reckoning: "Reckoning", reading: "Reading", only: str) -> None:
    from cordwright.reckon import as_json

    content = dict(as_json(reckoning))
    figures = content["figures"]
    assert isinstance(figures, dict)
    content["figures"] = {key: figure for key, figure in figures.items() if _of_stage(key, only)}
    content["problems"] = _problems_json(reading.problems)
    _dump(content)


def _print_reckoning(project: "Project", reckoning: "Reckoning", only: str) -> None:
    from cordwright.book.formats import show_check

    _print(f"{project.name}  (not reviewed by an engineer; figures for review)")
    _print_figures([f for f in reckoning.figures if _of_stage(f.key, only)], project.units, project.locale)
    checks = [c for c in reckoning.checks if _of_stage(c.key, only)]
    if checks:
        _print("\nchecks")
    for each in checks:
        _print(f"  {each.label}: {show_check(each, project.units, project.locale)}")


def _print_figures(figures: "list[Figure]", units: "Units", locale: str) -> None:
    from cordwright.book.formats import show_figure

    shown = {f.key: show_figure(f, units, locale) for f in figures}
    key_width = max(map(len, shown), default=0)
    value_width = min(48, max(map(len, shown.values()), default=0))
    stage = ""
    for figure in figures:
        if figure.key.partition(".")[0] != stage:
            stage = figure.key.partition(".")[0]
            _print(f"\n{stage}")
        _print(f"  {figure.key:<{key_width}}  {shown[figure.key]:<{value_width}}  {figure.label}")


@app.command()
def book(
    file: File,
    output: Annotated[
        Path | None, typer.Option("-o", "--output", help="folder for the book; default: book beside it")
    ] = None,
    no_studies: NoStudies = False,
) -> None:
    """Make the build book: PDF and page, drawings, order list as XLSX and CSV."""
    from datetime import datetime

    reading, project = _read(file)
    from cordwright.book import write_book
    from cordwright.reckon import reckon as reckon_all

    folder = output or (file if file.is_dir() else file.parent) / "book"
    today = datetime.now().astimezone().date()
    studies = {} if no_studies else _studies(file, project)
    _refuse(_refusals(reading, studies), as_json=False)
    reckoning = reckon_all(project, studies=studies)
    with _Progress() as progress:
        written = write_book(
            project,
            reckoning,
            folder,
            today=today,
            source_bytes_hash=reading.digest,
            progress=progress.part(1.0),
        )
    for path in written:
        _print(str(path))


@app.command()
def dry(file: File, as_json: AsJson = False) -> None:
    """When are the logs ready? How the stack dries, what gap it leaves, how it is stacked and treated."""
    reading, project = _read(file, as_json=as_json)
    from cordwright.reckon import as_json as reckoning_json
    from cordwright.reckon import reckon as reckon_all

    reckoning = reckon_all(project)
    if as_json:
        from cordwright.timber.drying_json import drying_json

        content = dict(reckoning_json(reckoning))
        keys = {f.key for f in reckoning.timber.figures}
        figures, checks = content["figures"], [c.key for c in reckoning.timber.checks]
        assert isinstance(figures, dict)
        content["figures"] = {key: figure for key, figure in figures.items() if key in keys}
        content["checks"] = [c for c in content["checks"] if c["key"] in checks]  # type: ignore[attr-defined]
        _dump({**content, "drying": drying_json(reckoning.timber.drying), "problems": _problems_json(reading.problems)})
        return
    from cordwright.book.drying_page import drying_lines

    for line in drying_lines(project, reckoning):
        _print(line)


@app.command()
def lay(  # noqa: PLR0917 - an option each, named by the owner
    file: File,
    panel: Annotated[str, typer.Option(help="lay this panel only, from its share of the stock")] = "",
    output: Annotated[Path | None, typer.Option("-o", "--output", help="folder for one drawing a panel (SVG)")] = None,
    seed: Annotated[
        int | None, typer.Option(help="another number gives another wall, the same number the same one")
    ] = None,
    pattern: Annotated[str, typer.Option(help='"mixed" or "large at the bottom"', show_default=False)] = "",
    forbid: Annotated[list[str] | None, typer.Option(metavar="LOG", help="a log not to be used; repeatable")] = None,
    lock: Annotated[
        list[str] | None,
        typer.Option(metavar='"LOG PANEL 1.20 m 0.45 m"', help="a log at a place, from left and height; repeatable"),
    ] = None,
    swap: Annotated[
        list[str] | None, typer.Option(metavar='"LOG OTHER"', help="two logs that change places; repeatable")
    ] = None,
    laid: Annotated[
        list[Path] | None, typer.Option(metavar="FILE.csv", help="logs as really laid; repeatable", show_default=False)
    ] = None,
    day: Annotated[str, typer.Option(help='what a day of laying so much needs: "0.8 m2"', show_default=False)] = "",
    as_json: AsJson = False,
) -> None:
    """Lay the log ends out, panel by panel, each at its true size and traceable to its stem.

    What is asked here is added, for this run, to what stands in [layout] of building.toml.
    """
    from cordwright.project.wishes import Asked

    asked = Asked(
        seed=seed,
        pattern=pattern,
        forbid=tuple(forbid or ()),
        locks=tuple(lock or ()),
        swaps=tuple(swap or ()),
        laid=tuple(laid or ()),
    )
    reading, project = _read(file, as_json=as_json, asked=asked)
    from cordwright.reckon import reckon as reckon_all
    from cordwright.wall.placed import place_wall

    reckoning = reckon_all(project)
    names = [p.name for p in reckoning.plan.panels]
    if panel and panel not in names:
        _say(f"there is no panel {panel!r}; the panels are {', '.join(names)}")
        _stop(MISUSED)
    area = _day_area(day) if day else None
    study = _lay(file, project, reckoning, panel)
    _refuse(reading.placed(study.refusals), as_json=as_json)
    placed = place_wall(study, reckoning.plan, project.plan.section, reckoning.timber.stock, reckoning.mix)
    if output is not None:
        from cordwright.book.laid_files import write_laid_drawings

        for path in write_laid_drawings(project, reckoning.plan, reckoning.timber, study, output):
            _say(str(path))
    if as_json:
        _dump(_layout_json(project, study, placed))
        return
    from cordwright.book.laid_page import laid_lines
    from cordwright.book.needs_page import needs_lines

    for line in (*laid_lines(project, study), *needs_lines(project, reckoning.mix, placed, area)):
        _print(line)


def _lay(file: Path, project: "Project", reckoning: "Reckoning", panel: str) -> "LayoutStudy":
    """The whole wall from the studies that are kept; one panel alone is laid anew."""
    if not panel and (kept := _studies(file, project)):
        return kept["layout"]
    from time import perf_counter

    from cordwright.wall.laid_study import SIZE_CLASSES
    from cordwright.wall.study import lay_study

    with _Progress() as progress:
        return lay_study(
            reckoning.plan,
            reckoning.timber,
            project.timber,
            project.wall,
            only=panel,
            mortar_depth=project.plan.section.mortar_depth,
            size_class=SIZE_CLASSES[project.units],
            progress=progress.part(1.0),
            clock=perf_counter,
        )


def _layout_json(project: "Project", study: "LayoutStudy", placed: "PlacedWall") -> object:
    from cordwright.wall.layout_json import layout_json, quantities_json

    shown = layout_json(
        study.panels,
        study.stock,
        study.unused,
        mortar_depth=project.plan.section.mortar_depth,
        seconds=study.seconds,
        shortage=study.shortage,
        widened=study.widened,
        settled=study.settled,
    )
    return {**shown, "quantities": quantities_json(placed)}


def _refuse(problems: tuple[Problem, ...], *, as_json: bool) -> None:
    """Stop with what cannot be, before anything is written."""
    if not problems:
        return
    if as_json:
        _dump({"schema": 1, "panels": [], "problems": _problems_json(problems)})
    for problem in problems:
        _say(str(problem))
    _stop(FAULTY)


def _day_area(text: str) -> float:
    """Read the face to lay in a day, or stop with what is wrong with it."""
    from cordwright.project.quantity import QuantityFault, parse_quantity

    try:
        return parse_quantity(text, "area", "positive")
    except QuantityFault as fault:
        _say(f"--day: {fault}")
        _stop(MISUSED)


@app.command()
def batch(file: File, as_json: AsJson = False) -> None:
    """What goes into the tub, in which order and for how long: one batch of mortar in your own buckets."""
    _, project = _read(file, as_json=as_json)
    from cordwright.book.batch_words import batch_json, batch_lines
    from cordwright.book.lettering import plain_lettering
    from cordwright.mortar import batch_card, reckon_mix

    if not project.mortar.parts:
        _say("the file states no mix; write its parts under [[mix.parts]]")
        _stop(FAULTY)
    card = batch_card(project.mortar, reckon_mix(project.mortar))
    if as_json:
        _dump(batch_json(project.mortar, card))
        return
    for line in batch_lines(project.mortar, card, plain_lettering(project)):
        _print(line)


@app.command()
def cure(  # noqa: PLR0917 (one option a reading of the weather)
    file: File,
    day: Annotated[str, typer.Option("--date", help="the day of laying, 2028-05-11; left out: today")] = "",
    low: Annotated[str, typer.Option(help='lowest air temperature of that night: "6 degC", "43 degF"')] = "",
    high: Annotated[str, typer.Option(help='highest of the day: "17 degC"')] = "",
    humidity: Annotated[str, typer.Option(help='the day\'s mean relative humidity: "68 %"')] = "",
    wind: Annotated[str, typer.Option(help='at the wall: "3.4 m/s", "8 mph"')] = "",
    rain: Annotated[str, typer.Option(help='rain of the day: "4 mm"')] = "",
    as_json: AsJson = False,
) -> None:
    """Lay today or not; damp cover until when, out of the frost until when."""
    from datetime import date

    from cordwright.project.weather import read_weather

    try:
        when = date.fromisoformat(day) if day else date.today()  # noqa: DTZ011 the owner's own day
    except ValueError:
        _say(f"{day!r} is no date; write 2028-05-11")
        _stop(MISUSED)
    typed = read_weather(when, {"low": low, "high": high, "humidity": humidity, "wind": wind, "rain": rain})
    if isinstance(typed, tuple):
        for problem in typed:
            _say(f"{problem.field}: {problem.message}; {problem.hint}")
        _stop(MISUSED)
    _, project = _read(file, as_json=as_json)
    from cordwright.book.curing_words import curing_json, curing_lines
    from cordwright.book.lettering import plain_lettering
    from cordwright.mortar import reckon_curing

    curing, lettering = reckon_curing(project.site, project.mortar, when, typed), plain_lettering(project)
    if as_json:
        _dump(curing_json(curing, lettering))
        return
    for line in curing_lines(curing, lettering):
        _print(line)


@app.command()
def sand(file: File, as_json: AsJson = False) -> None:
    """Will this sand do? Each sand judged, the blends, the order of them."""
    reading, project = _read(file, as_json=as_json)
    from cordwright.mortar import reckon_sands

    sands = reckon_sands(project.mortar.sands)
    if as_json:
        from cordwright.reckon import check_json, figure_json

        figures = {f.key: figure_json(f) for f in sands.figures}
        checks = [check_json(c) for c in sands.checks]
        _dump({"schema": 1, "figures": figures, "checks": checks, "problems": _problems_json(reading.problems)})
        return
    from cordwright.book.sand_page import sand_lines

    for line in sand_lines(project, sands):
        _print(line)


class _Progress:
    """A bar on stderr while a person watches; silent when nobody does."""

    def __enter__(self) -> "_Progress":
        from rich.console import Console
        from rich.progress import Progress

        console = Console(stderr=True)
        self._bar = Progress(console=console, transient=True, disable=not console.is_terminal)
        self._bar.start()
        self._task = self._bar.add_task("", total=1.0)
        return self

    def __exit__(self, *_: object) -> None:
        self._bar.stop()

    def part(self, share: float) -> "_Report":
        """Report the first share of the whole."""
        return _Report(self, 0.0, share)

    def rest(self, share: float) -> "_Report":
        """Report what comes after the first share."""
        return _Report(self, share, 1.0 - share)

    def set(self, done: float, text: str) -> None:
        """Move the bar."""
        self._bar.update(self._task, completed=done, description=text)


class _Report:
    """A progress callback for one share of the bar."""

    def __init__(self, progress: _Progress, start: float, share: float) -> None:
        self._progress, self._start, self._share = progress, start, share

    def __call__(self, done: float, text: str) -> None:
        self._progress.set(self._start + self._share * done, text)


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
        _say(str(problem))
    if footprint.problems:
        _stop(MISUSED)
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
        _dump({"schema": 1, "figures": {f.key: figure_json(f) for f in answer.figures}, "questions": questions})
        return
    from cordwright.book.idea_page import idea_lines

    for line in idea_lines(answer, "imperial" if footprint.imperial else "metric"):
        _print(line)
