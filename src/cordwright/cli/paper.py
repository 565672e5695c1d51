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
    refusals_in,
    refuse,
    seasoned,
    studies_of,
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
    from cordwright.reckon import reckon as reckon_all

    folder = output or (file if file.is_dir() else file.parent) / "book"
    today = datetime.now().astimezone().date()
    studies = {} if no_studies else studies_of(file, project)
    refuse(refusals_in(reading, studies), as_json=False)
    reckoning = reckon_all(project, studies=studies)
    if not no_studies:
        reckoning = seasoned(project, reckoning)
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
