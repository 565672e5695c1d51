"""What does the diary say? Show it, tell a record's history, the pace, and give it all out as plain files."""

from datetime import date, datetime
from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from cordwright.base import CordwrightError
from cordwright.cli.app import FAULTY, MISUSED, OK, AsJson, dump, put, read_or_stop, say, stop
from cordwright.cli.diary import diary

if TYPE_CHECKING:
    from cordwright.base import Records
    from cordwright.book.content import Sheet
    from cordwright.book.lettering import Lettering
    from cordwright.case import Project
    from cordwright.project.diary_lines import Line
    from cordwright.reckon import Reckoning


def lettering_at(file: Path) -> "Lettering":
    """The owner's units and language; metric where building.toml has errors."""
    from cordwright.book.lettering import Lettering, plain_lettering

    project = project_at(file)
    return plain_lettering(project) if project is not None else Lettering(units="metric", locale="en", tags={})


@lru_cache(maxsize=1)
def project_at(file: Path) -> "Project | None":
    """The owner's case, read once a command; None where building.toml has errors."""
    from cordwright.project import read

    return read(file).project


def records_at(file: Path) -> "Records":
    """The records of a project as they stand; a chain that does not hold is told."""
    from cordwright.project.diary_book import diary_lines
    from cordwright.project.diary_lines import chain_fault, records_of

    lines = diary_lines(file)
    fault = chain_fault(lines)
    if fault is not None:
        say(f"diary.sqlite: line {fault.n}: warning: {fault.words}; `cordwright diary FILE verify` tells more")
    return records_of(lines)


def reckoned(file: Path) -> "tuple[Reckoning, Lettering]":
    """The building with its diary, or stop with the problems of building.toml."""
    _, project = read_or_stop(file)
    from cordwright.book.lettering import plain_lettering
    from cordwright.reckon import reckon

    return reckon(project, records=records_at(file)), plain_lettering(project)


def say_days_left(file: Path, panel: str = "") -> None:
    """After wall was laid: how many days are left, where building.toml can be reckoned."""
    from cordwright.book.diary_words import days_left_words, pace_words
    from cordwright.book.lettering import plain_lettering
    from cordwright.project.diary_checks import room_fault
    from cordwright.reckon import reckon

    project = project_at(file)
    if project is None:
        say("building.toml has errors, so what is left was not reckoned; the record is kept")
        return
    records = records_at(file)
    reckoning = reckon(project, records=records)
    told = reckoning.diary
    assert told is not None
    area = next((p.net_area for p in reckoning.plan.panels if p.name == panel), None)
    full = None if area is None else room_fault(records, panel, area, "command line")
    if full is not None:
        say(str(full))
    lettering = plain_lettering(project)
    put(pace_words(told, lettering))
    put(days_left_words(told, lettering))


@diary.command()
def show(
    context: typer.Context,
    kind: Annotated[str, typer.Option(help="one kind alone: laid, batches, weather, crack ...")] = "",
    since: Annotated[str, typer.Option("--from", help="from this day on, 2028-05-11")] = "",
    until: Annotated[str, typer.Option("--to", help="up to this day")] = "",
    as_json: AsJson = False,
) -> None:
    """The records as they stand, day by day."""
    from cordwright.base.records import KINDS
    from cordwright.book.diary_words import record_words
    from cordwright.project.diary_lines import SHORT
    from cordwright.project.faults import nearest

    if kind and kind not in KINDS:
        say(f"there is no kind {kind!r}; {nearest(kind, tuple(KINDS))}")
        stop(MISUSED)
    first, last = _day(since) or date.min, _day(until) or date.max
    entries = [
        e
        for e in records_at(context.obj).entries
        if first <= e.day <= last and (not kind or isinstance(e.said, KINDS[kind]))
    ]
    if as_json:
        from cordwright.book.diary_export import entry_json

        dump({"schema": 1, "records": [entry_json(e) for e in entries]})
        return
    lettering = lettering_at(context.obj)
    for entry in entries:
        who = f"  ({entry.who})" if entry.who else ""
        put(f"{entry.day.isoformat()}  {entry.id[:SHORT]}  {record_words(entry.said, lettering)}{who}")
    if not entries:
        put("nothing is written down yet" if not (kind or since or until) else "nothing of that is written down")


def _day(words: str) -> date | None:
    if not words:
        return None
    from cordwright.project.diary_words import read_day

    day = read_day(words)
    if isinstance(day, tuple):
        say(str(day[0]))
        stop(MISUSED)
    return day


@diary.command()
def history(
    context: typer.Context,
    record: Annotated[str, typer.Argument(help="its id, or the first letters of it")],
    as_json: AsJson = False,
) -> None:
    """Every line about one record, oldest first: as made, corrected, withdrawn."""
    from cordwright.project.diary_book import diary_lines, find_line
    from cordwright.project.diary_lines import history_of

    lines = diary_lines(context.obj)
    told = history_of(lines, find_line(lines, record)[0])
    if as_json:
        from cordwright.book.diary_export import line_json

        dump({"schema": 1, "lines": [line_json(line) for line in told]})
        return
    lettering = lettering_at(context.obj)
    for line in told:
        put(_history_words(line, lettering))


def _history_words(line: "Line", lettering: "Lettering") -> str:
    from cordwright.book.diary_words import record_words
    from cordwright.project.diary_lines import SHORT, read_said

    said = record_words(read_said(line.kind, line.said), lettering)
    by = " ".join(part for part in (line.who, f"at the {line.source}", line.device) if part)
    because = f": {line.typed}" if line.act == "withdrawal" and line.typed else ""
    return f"{line.made}  {line.act:<10}  {line.day}  {said}{because}  [{by}; {line.mark[:SHORT]}]"


@diary.command()
def pace(context: typer.Context, as_json: AsJson = False) -> None:
    """Your own pace, and how many days, batches, bags and log ends are left."""
    reckoning, lettering = reckoned(context.obj)
    told = reckoning.diary
    if told is None:
        say('nothing is written down yet; begin with `cordwright diary FILE laid "0.62 m2" --hours 6`')
        stop(FAULTY)
    if as_json:
        from cordwright.reckon import check_json, figure_json

        figures = {f.key: figure_json(f) for f in told.figures}
        dump({"schema": 1, "figures": figures, "checks": [check_json(c) for c in told.checks]})
        return
    from cordwright.book.diary_words import pace_lines
    from cordwright.book.formats import show_check

    for line in pace_lines(told, lettering):
        put(line)
    for check in told.checks:
        put(f"{check.label}: {show_check(check, lettering.units, lettering.locale)}")


@diary.command()
def year(
    context: typer.Context, output: Annotated[Path | None, typer.Option("-o", "--output", help="a PDF")] = None
) -> None:
    """The yearly walk with last year's figures beside the blanks."""
    reckoning, lettering = reckoned(context.obj)
    if output is not None:
        from cordwright.book.sheets.diary import year_sheet

        _put_paper(context.obj, output, [year_sheet(reckoning, lettering)], lettering)
        return
    from cordwright.book.diary_words import year_lines

    for line in year_lines(reckoning.diary, lettering):
        put(line)


@diary.command()
def helpers(  # noqa: PLR0917 - an option each
    context: typer.Context,
    people: Annotated[int, typer.Option(help="how many hands, yours among them", min=1, max=50)] = 2,
    worked: Annotated[str, typer.Option("--hours", help='how long each works: "7"')] = "7",
    until: Annotated[str, typer.Option(help="when everyone goes home: 17:00")] = "",
    cover_up: Annotated[str, typer.Option(help='to cover and wash: "30 min"')] = "30 min",
    output: Annotated[Path | None, typer.Option("-o", "--output", help="a PDF")] = None,
) -> None:
    """A day with helpers: who does what, how much is mixed, when mixing stops."""
    from cordwright.project.diary_words import read_helper_day

    typed = read_helper_day(worked, until, cover_up)
    if isinstance(typed, tuple):
        for problem in typed:
            say(str(problem))
        stop(MISUSED)
    from cordwright.book.diary_words import helper_lines
    from cordwright.reckon import plan_helpers

    reckoning, lettering = reckoned(context.obj)
    project = read_or_stop(context.obj)[1]
    day = plan_helpers(
        project, reckoning, people=people, hours=typed["hours"], end=typed.get("until"), cover_up=typed["cover_up"]
    )
    if output is None:
        for line in helper_lines(day, lettering):
            put(line)
        return
    from cordwright.book.sheets.diary import helper_card

    _put_paper(context.obj, output, [helper_card(day, lettering)], lettering)


def _put_paper(file: Path, output: Path, sheets: "list[Sheet]", lettering: "Lettering") -> None:
    from cordwright.book.diary_export import paper
    from cordwright.project.saving import save_atomically

    project = read_or_stop(file)[1]
    try:
        save_atomically(output, paper(sheets, project, lettering, datetime.now().astimezone().date()))
    except OSError as fault:
        raise CordwrightError(f"{output} cannot be written: {fault.strerror or fault}") from fault
    put(str(output))


@diary.command()
def export(
    context: typer.Context,
    output: Annotated[
        Path | None, typer.Option("-o", "--output", help="folder; default: diary-export beside building.toml")
    ] = None,
) -> None:
    """Give the diary out as CSV, JSON and PDF, with dates and SHA-256 hashes."""
    from cordwright.book.diary_export import export_diary
    from cordwright.project.diary_book import diary_lines, folder_of
    from cordwright.project.diary_lines import head_of

    file = context.obj
    reckoning, lettering = reckoned(file)
    lines, project = diary_lines(file), read_or_stop(file)[1]
    folder = output or folder_of(file) / "diary-export"
    today = datetime.now().astimezone().date()
    for path in export_diary(lines, project, reckoning, lettering, folder=folder, today=today):
        put(str(path))
    put(f"hash of the whole: {head_of(lines)}")


@diary.command()
def verify(
    context: typer.Context,
    mark: Annotated[str, typer.Option("--hash", help="the hash that an earlier export named")] = "",
) -> None:
    """Was anything changed behind the diary's back? Looks through the chain of hashes and the photos."""
    from cordwright.project.diary_book import diary_lines
    from cordwright.project.diary_lines import FIRST, chain_fault, head_of

    lines = diary_lines(context.obj)
    fault = chain_fault(lines)
    if fault is not None:
        put(f"line {fault.n}: {fault.words}")
        stop(FAULTY)
    put(f"{len(lines)} lines, each after the one before it, none changed")
    put(f"hash of the whole: {head_of(lines)}")
    if mark and mark not in {FIRST, *(line.mark for line in lines)}:
        put(f"no line has the hash {mark}: this is not the diary of that export, or it was written anew")
        stop(FAULTY)
    if mark:
        put("that export is the beginning of this diary")
    stop(FAULTY if _photos_amiss(context.obj, lines) else OK)


def _photos_amiss(file: Path, lines: "tuple[Line, ...]") -> bool:
    """Tell of every recorded picture that is gone or no longer the one recorded."""
    from cordwright.base.records import Photo
    from cordwright.project.diary_book import folder_of
    from cordwright.project.diary_lines import records_of
    from cordwright.project.diary_photos import photo_state

    amiss = False
    for _, said in records_of(lines).of(Photo):
        state = photo_state(folder_of(file), said.path, said.digest)
        if state != "as recorded":
            amiss = True
            put(f"photo {said.path}: {state}")
    return amiss
