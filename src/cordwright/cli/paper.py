"""How does all of it come onto paper?"""

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from cordwright.cli.app import (
    MISUSED,
    File,
    NoStudies,
    Watch,
    app,
    put,
    read_or_stop,
    reckon_whole,
    say,
    stop,
)

if TYPE_CHECKING:
    from datetime import date

    from cordwright.book.content import Book

Only = Annotated[
    str | None,
    typer.Option("--only", help="single sheets by their marks, with commas: PLAN,MIX,SW; one PDF, nothing else"),
]


@app.command()
def book(
    file: File,
    output: Annotated[
        Path | None, typer.Option("-o", "--output", help="folder for the book; default: book beside it")
    ] = None,
    only: Only = None,
    no_studies: NoStudies = False,
) -> None:
    """Make the build book: PDF and page, drawings, order list as XLSX and CSV; or single sheets."""
    from datetime import datetime

    reading, project = read_or_stop(file)
    from cordwright.book import assemble, write_book

    folder = output or (file if file.is_dir() else file.parent) / "book"
    today = datetime.now().astimezone().date()
    reckoning = reckon_whole(file, reading, project, no_studies=no_studies)
    if only is not None:
        whole = assemble(project, reckoning, today, reading.digest)
        _single(whole, [name for name in only.split(",") if name.strip()], folder, today)
        return
    with Watch() as progress:
        written = write_book(
            project,
            reckoning,
            folder,
            today=today,
            source_bytes_hash=reading.digest,
            progress=progress.part(1.0),
        )
    for path in written:
        put(str(path))


def _single(whole: "Book", names: Sequence[str], folder: Path, today: "date") -> None:
    """Write the named sheets as one PDF, or say which there are."""
    from cordwright.book import find_unknown, only_sheets, write_sheets

    unknown = find_unknown(whole, names or [""])
    for problem in unknown:
        say(str(problem))
    if unknown:
        stop(MISUSED)
    with Watch() as progress:
        path = write_sheets(only_sheets(whole, names), folder, today=today, progress=progress.part(1.0))
    put(str(path))
