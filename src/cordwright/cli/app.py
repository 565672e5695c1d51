"""What do all commands share: how they read the owner's file, speak, show progress and end?"""

import gc
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, NoReturn

import typer

from cordwright.base import Problem

if TYPE_CHECKING:
    from cordwright.case import Project
    from cordwright.project import Reading
    from cordwright.project.wishes import Asked
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
NoStudies = Annotated[
    bool, typer.Option("--no-studies", help="run no slow study and read none: the wall as planned, not as laid")
]
AsJson = Annotated[bool, typer.Option("--json", help="print JSON on stdout and nothing else there")]


def put(text: str = "") -> None:
    """Print a line for the person or program that reads stdout."""
    sys.stdout.write(text + "\n")


def say(text: str) -> None:
    """Speak to the person, not to the program that reads stdout."""
    sys.stderr.write(text + "\n")


def stop(code: int) -> NoReturn:
    """End here with an exit code."""
    raise typer.Exit(code)


def has_errors(problems: tuple[Problem, ...]) -> bool:
    """Whether any problem is an error."""
    return any(p.severity == "error" for p in problems)


def read_or_stop(file: Path, *, as_json: bool = False, asked: "Asked | None" = None) -> "tuple[Reading, Project]":
    """Read the project, with what was asked here, or stop with its problems."""
    from cordwright.project import read

    reading = read(file, asked)
    if not as_json:
        for problem in reading.problems:
            say(str(problem))
    if reading.project is None:
        if as_json:
            dump({"schema": 1, "figures": {}, "checks": [], "problems": problems_json(reading.problems)})
        stop(FAULTY)
    return reading, reading.project


def reckon_whole(
    file: Path, reading: "Reading", project: "Project", *, as_json: bool = False, no_studies: bool = False
) -> "Reckoning":
    """Work out the building with the studies it asks for, or stop with what was wished of them and cannot be."""
    from time import perf_counter

    from cordwright.cli.diary_reading import records_at
    from cordwright.project.studies import KeptStudies
    from cordwright.reckon import reckon

    records = records_at(file)
    with Watch() as progress:
        kept = KeptStudies(file, progress=progress.part(1.0), clock=perf_counter, say=say)
        reckoning = reckon(project, studies=None if no_studies else kept, records=records)
    refuse(reading.placed(reckoning.refusals), as_json=as_json)
    return reckoning


def refuse(problems: tuple[Problem, ...], *, as_json: bool) -> None:
    """Stop with what cannot be, before anything is written."""
    if not problems:
        return
    if as_json:
        dump({"schema": 1, "panels": [], "problems": problems_json(problems)})
    for problem in problems:
        say(str(problem))
    stop(FAULTY)


def dump(content: object) -> None:
    """Print a value as JSON."""
    import json

    put(json.dumps(content, ensure_ascii=False, allow_nan=False, indent=1))


def problems_json(problems: tuple[Problem, ...]) -> list[dict[str, object]]:
    """Give problems as plain values."""
    names = ("where", "line", "field", "message", "hint", "severity")
    return [{name: getattr(p, name) for name in names} for p in problems]


class Watch:
    """A bar on stderr while a person watches; silent when nobody does."""

    def __enter__(self) -> "Watch":
        from rich.console import Console
        from rich.progress import Progress

        console = Console(stderr=True)
        self._bar = Progress(console=console, transient=True, disable=not console.is_terminal)
        self._bar.start()
        self._task = self._bar.add_task("", total=1.0)
        return self

    def __exit__(self, *_: object) -> None:
        self._bar.stop()

    def part(self, share: float) -> "Share":
        """Report the first share of the whole."""
        return Share(self, 0.0, share)

    def rest(self, share: float) -> "Share":
        """Report what comes after the first share."""
        return Share(self, share, 1.0 - share)

    def set(self, done: float, text: str) -> None:
        """Move the bar."""
        self._bar.update(self._task, completed=done, description=text)


class Share:
    """A progress callback for one share of the bar."""

    def __init__(self, progress: Watch, start: float, share: float) -> None:
        self._progress, self._start, self._share = progress, start, share

    def __call__(self, done: float, text: str) -> None:
        """Tell the share done and what is done."""
        self._progress.set(self._start + self._share * done, text)
