"""How does a project begin, and what is wrong with its files?"""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from cordwright.cli.app import (
    FAULTY,
    MISUSED,
    OK,
    File,
    app,
    has_errors,
    put,
    say,
    stop,
)

if TYPE_CHECKING:
    pass


@app.command()
def start(
    folder: Annotated[Path, typer.Argument(help="a new folder for the project", show_default=False)],
    like: Annotated[str, typer.Option(help="begin as one of the examples: weaving-studio, bakehouse, sauna")] = "",
) -> None:
    """Begin a project: a folder with building.toml, its stock and its prices as plain text."""
    from cordwright.project.starting import start_project

    for path in start_project(folder, like):
        put(str(path))


@app.command()
def check(file: File) -> None:
    """Name every fault of the project's files, one a line; exit 1 if any is an error."""
    from cordwright.project import read

    reading = read(file)
    for line in reading.echo:
        say(line)
    for problem in reading.problems:
        put(str(problem))
    stop(FAULTY if has_errors(reading.problems) else OK)


@app.command("set")
def set_value(
    file: File,
    change: Annotated[str, typer.Argument(metavar="KEY=VALUE", help='for example plan.height="2.3 m"')],
) -> None:
    """Change one value in building.toml; every other line stays as it was."""
    from cordwright.project import change as change_file

    key, equals, value = change.partition("=")
    if not equals or not key.strip():
        say(f'{change!r} is not KEY=VALUE; write for example plan.height="2.3 m"')
        stop(MISUSED)
    problems = change_file(file, key.strip(), value.strip())
    for problem in problems:
        put(str(problem))
    stop(FAULTY if has_errors(problems) else OK)
