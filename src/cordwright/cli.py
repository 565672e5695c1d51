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
    from cordwright.reckon import Reckoning

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
    only: Annotated[str, typer.Option(help="one stage: site, plan, roof, timber, sand, mortar, wall, cost")] = "",
    no_studies: Annotated[
        bool, typer.Option("--no-studies", help="run no slow study and read none (none is built yet)")
    ] = False,
) -> None:
    """Give every figure and check of the building."""
    del no_studies  # the layout, heat, daylight and season studies come with their stages
    reading, project = _read(file, as_json=as_json)
    from cordwright.reckon import STAGES
    from cordwright.reckon import reckon as reckon_all

    if only and only not in (*STAGES, "roof", "sand"):
        _say(f"there is no stage {only!r}; the stages are {', '.join((*STAGES, 'roof', 'sand'))}")
        _stop(MISUSED)
    reckoning = reckon_all(project)
    if as_json:
        _print_json(reckoning, reading, only)
    else:
        _print_reckoning(project, reckoning, only)


def _read(file: Path, *, as_json: bool = False) -> "tuple[Reading, Project]":
    """Read the project or stop with its problems."""
    from cordwright.project import read

    reading = read(file)
    if not as_json:
        for problem in reading.problems:
            _say(str(problem))
    if reading.project is None:
        if as_json:
            _dump({"schema": 1, "figures": {}, "checks": [], "problems": _problems_json(reading.problems)})
        _stop(FAULTY)
    return reading, reading.project


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
) -> None:
    """Make the build book: PDF and page, drawings, order list as XLSX and CSV."""
    from datetime import datetime

    reading, project = _read(file)
    from cordwright.book import write_book
    from cordwright.reckon import reckon as reckon_all

    folder = output or (file if file.is_dir() else file.parent) / "book"
    today = datetime.now().astimezone().date()
    with _Progress() as progress:
        reckoning = reckon_all(project, progress=progress.part(0.1))
        written = write_book(
            project,
            reckoning,
            folder,
            today=today,
            source_bytes_hash=reading.digest,
            progress=progress.rest(0.1),
        )
    for path in written:
        _print(str(path))


@app.command()
def lay(
    file: File,
    panel: Annotated[str, typer.Option(help="lay this panel only, from its share of the stock")] = "",
    output: Annotated[Path | None, typer.Option("-o", "--output", help="folder for one drawing a panel (SVG)")] = None,
    seed: Annotated[int, typer.Option(help="another number gives another wall, the same number the same one")] = 1,
    as_json: AsJson = False,
) -> None:
    """Lay the log ends out, panel by panel, each at its true size and traceable to its stem."""
    reading, project = _read(file, as_json=as_json)
    del reading
    from time import perf_counter

    from cordwright.reckon import reckon as reckon_all
    from cordwright.wall.study import lay_study

    reckoning = reckon_all(project)
    names = [p.name for p in reckoning.plan.panels]
    if panel and panel not in names:
        _say(f"there is no panel {panel!r}; the panels are {', '.join(names)}")
        _stop(MISUSED)
    with _Progress() as progress:
        study = lay_study(
            reckoning.plan,
            reckoning.timber,
            project.timber,
            project.wall,
            seed=seed,
            only=panel,
            progress=progress.part(1.0),
            clock=perf_counter,
        )
    if output is not None:
        from cordwright.book.laid_files import write_laid_drawings

        for path in write_laid_drawings(project, reckoning.plan, reckoning.timber, study, output):
            _say(str(path))
    if as_json:
        from cordwright.wall.layout_json import layout_json

        depth = project.plan.section.mortar_depth
        _dump(layout_json(study.panels, study.stock, study.unused, mortar_depth=depth, seconds=study.seconds))
        return
    from cordwright.book.laid_page import laid_lines

    for line in laid_lines(project, study):
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
