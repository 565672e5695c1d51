"""The command line: thin, one command for each question the builder asks."""

import sys
from typing import Annotated

import typer

from cordwright import __version__
from cordwright.base import CordwrightError

# Imported in the order of the job, which is the order in which `--help` lists the commands.
# isort: off
from cordwright.cli import files, figures, wood, mortar, heat, money, diary, diary_reading, compare, paper

# isort: on
from cordwright.cli.app import MISUSED, OK, app, put, say, stop

__all__ = [
    "app",
    "compare",
    "diary",
    "diary_reading",
    "figures",
    "files",
    "heat",
    "main",
    "money",
    "mortar",
    "paper",
    "wood",
]


def main() -> None:
    """Run the command line and leave with its exit code."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(encoding="utf-8", errors="replace")
    try:
        app()
    except CordwrightError as refusal:
        say(str(refusal))
        sys.exit(MISUSED)


def _show_version(wanted: bool) -> None:
    if wanted:
        put(f"cordwright {__version__}")
        stop(OK)


@app.callback()
def _root(
    version: Annotated[
        bool, typer.Option("--version", callback=_show_version, is_eager=True, help="say which")
    ] = False,
) -> None:
    """Hold the options that stand before any command."""
