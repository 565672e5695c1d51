"""How does all of it come onto paper?"""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from cordwright.cli.app import (
    File,
    NoStudies,
    Watch,
    app,
    put,
    read_or_stop,
    reckon_whole,
)

if TYPE_CHECKING:
    pass


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

    reading, project = read_or_stop(file)
    from cordwright.book import write_book

    folder = output or (file if file.is_dir() else file.parent) / "book"
    today = datetime.now().astimezone().date()
    reckoning = reckon_whole(file, reading, project, no_studies=no_studies)
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
