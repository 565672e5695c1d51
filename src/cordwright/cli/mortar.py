"""Will this sand do, what goes in the bucket, and how long is it kept wet?"""

from typing import TYPE_CHECKING, Annotated

import typer

from cordwright.cli.app import (
    FAULTY,
    MISUSED,
    AsJson,
    File,
    app,
    dump,
    problems_json,
    put,
    read_or_stop,
    say,
    stop,
)

if TYPE_CHECKING:
    pass


@app.command()
def sand(file: File, as_json: AsJson = False) -> None:
    """Will this sand do? Each sand judged, the blends, the order of them."""
    reading, project = read_or_stop(file, as_json=as_json)
    from cordwright.mortar import reckon_sands

    sands = reckon_sands(project.mortar.sands)
    if as_json:
        from cordwright.reckon import check_json, figure_json

        figures = {f.key: figure_json(f) for f in sands.figures}
        checks = [check_json(c) for c in sands.checks]
        dump({"schema": 1, "figures": figures, "checks": checks, "problems": problems_json(reading.problems)})
        return
    from cordwright.book.sand_page import sand_lines

    for line in sand_lines(project, sands):
        put(line)


@app.command()
def batch(file: File, as_json: AsJson = False) -> None:
    """What goes into the tub, in which order and for how long: one batch of mortar in your own buckets."""
    _, project = read_or_stop(file, as_json=as_json)
    from cordwright.book.batch_words import batch_json, batch_lines
    from cordwright.book.lettering import plain_lettering
    from cordwright.mortar import batch_card, reckon_mix

    if not project.mortar.parts:
        say("the file states no mix; write its parts under [[mix.parts]]")
        stop(FAULTY)
    card = batch_card(project.mortar, reckon_mix(project.mortar))
    if as_json:
        dump(batch_json(project.mortar, card))
        return
    for line in batch_lines(project.mortar, card, plain_lettering(project)):
        put(line)


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
        say(f"{day!r} is no date; write 2028-05-11")
        stop(MISUSED)
    typed = read_weather(when, {"low": low, "high": high, "humidity": humidity, "wind": wind, "rain": rain})
    if isinstance(typed, tuple):
        for problem in typed:
            say(f"{problem.field}: {problem.message}; {problem.hint}")
        stop(MISUSED)
    _, project = read_or_stop(file, as_json=as_json)
    from cordwright.book.curing_words import curing_json, curing_lines
    from cordwright.book.lettering import plain_lettering
    from cordwright.mortar import reckon_curing

    curing, lettering = reckon_curing(project.site, project.mortar, when, typed), plain_lettering(project)
    if as_json:
        dump(curing_json(curing, lettering))
        return
    for line in curing_lines(curing, lettering):
        put(line)
