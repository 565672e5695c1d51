"""What was laid, mixed and measured today? Records into the diary, and what they say."""

from collections.abc import Mapping
from datetime import date, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from cordwright.base import Problem
from cordwright.cli.app import FAULTY, MISUSED, File, app, has_errors, put, say, stop

if TYPE_CHECKING:
    from cordwright.base.records import Said
    from cordwright.case import Project
    from cordwright.project.diary_book import Hand
    from cordwright.project.diary_lines import Draft

diary = typer.Typer(
    no_args_is_help=True,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
    help="The site diary: what was laid, mixed and measured, and how many days that leaves.",
)
app.add_typer(diary, name="diary")

On = Annotated[str, typer.Option("--on", help="the day of work, 2028-05-11; left out: today")]
By = Annotated[str, typer.Option("--by", help="who did it or saw it, in your own words")]
Panel = Annotated[str, typer.Option("--panel", help="the panel by its name")]
HoursOption = Annotated[str, typer.Option("--hours", help='how long each worked: "6", "5 h 30 min"')]
People = Annotated[str, typer.Option("--people", help="how many worked; left out: one")]


@diary.callback()
def _root(context: typer.Context, file: File) -> None:
    """Hold the project's place for every command below."""
    context.obj = file


@diary.command()
def laid(  # noqa: PLR0917 - an option each
    context: typer.Context,
    area: Annotated[str, typer.Argument(help='the face laid: "0.62 m2"; or name the log ends')] = "",
    logs: Annotated[str, typer.Option("--logs", help='marks of the log ends laid: "T1-3 T1-4"')] = "",
    panel: Panel = "",
    hours: HoursOption = "",
    people: People = "",
    on: On = "",
    by: By = "",
) -> None:
    """Wall laid: its face or its log ends, where and in how many hours; says how many days are left."""
    typed = {"area": area, "logs": logs, "panel": panel, "hours": hours, "people": people}
    _record(context, "laid", typed, on, by)
    from cordwright.cli.diary_reading import say_days_left

    say_days_left(context.obj, panel)


@diary.command()
def batches(
    context: typer.Context,
    count: Annotated[str, typer.Argument(help="whole batches, as the mix states one: 5 or 2 1/2")],
    panel: Panel = "",
    on: On = "",
    by: By = "",
) -> None:
    """Batches of mortar mixed."""
    _record(context, "batches", {"count": count, "panel": panel}, on, by)


@diary.command()
def weather(  # noqa: PLR0917 - an option each
    context: typer.Context,
    low: Annotated[str, typer.Option(help='the night\'s lowest at the wall: "2 degC", "36 degF"')] = "",
    high: Annotated[str, typer.Option(help='the day\'s highest: "14 degC"')] = "",
    rain: Annotated[str, typer.Option(help='rain in a can: "4 mm"')] = "",
    sky: Annotated[str, typer.Option(help="dry, shower, rain or frost")] = "",
    lost: Annotated[str, typer.Option(help='hours of work lost to it: "2 h"')] = "",
    on: On = "",
    by: By = "",
) -> None:
    """The day's weather at the wall: temperatures, rain in a can, hours lost."""
    _record(context, "weather", {"low": low, "high": high, "rain": rain, "sky": sky, "lost": lost}, on, by)


@diary.command()
def moisture(  # noqa: PLR0917 - an option each
    context: typer.Context,
    share: Annotated[str, typer.Argument(help='the meter\'s reading: "16 %"')],
    log: Annotated[str, typer.Option(help="the log end by its mark")] = "",
    temperature: Annotated[str, typer.Option(help='of the wood: "12 degC"')] = "",
    on: On = "",
    by: By = "",
) -> None:
    """A moisture reading at a log end."""
    _record(context, "moisture", {"share": share, "log": log, "temperature": temperature}, on, by)


@diary.command()
def weighing(
    context: typer.Context,
    mass: Annotated[str, typer.Argument(help='what the scale shows: "4.2 kg"')],
    end: Annotated[str, typer.Option(help="the test end by its mark")] = "",
    on: On = "",
    by: By = "",
) -> None:
    """A test end on the scale."""
    _record(context, "weighing", {"end": end, "mass": mass}, on, by)


@diary.command()
def crack(
    context: typer.Context,
    width: Annotated[str, typer.Argument(help='its width by the crack card: "0.4 mm"')],
    at: Annotated[str, typer.Option("--at", help='the place, always by the same name: "N under W2"')] = "",
    on: On = "",
    by: By = "",
) -> None:
    """A crack's width; from three readings on it has a trend."""
    _record(context, "crack", {"place": at, "width": width}, on, by)


@diary.command()
def spent(
    context: typer.Context,
    amount: Annotated[str, typer.Argument(help='the sum and its currency: "84.50 EUR"')],
    what: Annotated[str, typer.Argument(help="for what")] = "",
    on: On = "",
    by: By = "",
) -> None:
    """Money paid out."""
    _record(context, "spent", {"amount": amount, "what": what}, on, by)


@diary.command()
def hours(  # noqa: PLR0917 - an option each
    context: typer.Context,
    worked: Annotated[str, typer.Argument(metavar="HOURS", help='how long each worked: "6", "5 h 30 min"')],
    trade: Annotated[str, typer.Option(help="which work: felling, plinth, frame, roof, pointing ...")] = "",
    people: People = "",
    on: On = "",
    by: By = "",
) -> None:
    """Hours of a trade; those of laying go with `laid`."""
    _record(context, "hours", {"trade": trade, "hours": worked, "people": people}, on, by)


@diary.command()
def cover(
    context: typer.Context,
    covering: Annotated[str, typer.Argument(help="damp cloth, sheet, frost mat, uncovered or frozen")],
    panel: Panel = "",
    on: On = "",
    by: By = "",
) -> None:
    """What lies over the fresh work, or that the night froze it."""
    _record(context, "cover", {"covering": covering, "panel": panel}, on, by)


@diary.command()
def note(
    context: typer.Context,
    words: Annotated[str, typer.Argument(help="your own words")],
    on: On = "",
    by: By = "",
) -> None:
    """A note."""
    _record(context, "note", {"words": words}, on, by)


@diary.command()
def photo(  # noqa: PLR0917 - an option each
    context: typer.Context,
    path: Annotated[Path, typer.Argument(help="the picture", show_default=False)],
    words: Annotated[str, typer.Argument(help="what it shows")] = "",
    copy: Annotated[bool, typer.Option("--copy", help="copy it into diary-photos beside building.toml")] = False,
    on: On = "",
    by: By = "",
) -> None:
    """A photo by its path and the hash of its bytes, so that a changed one shows."""
    from cordwright.project.diary_book import folder_of
    from cordwright.project.diary_photos import photo_words

    typed = photo_words(folder_of(context.obj), path, copy=copy)
    if isinstance(typed, Problem):
        _end_with((typed,))
        return
    _record(context, "photo", {**typed, "words": words}, on, by)


@diary.command()
def take(
    context: typer.Context,
    entries: Annotated[str, typer.Argument(help="the file the phone saved; - for pasted text", show_default=False)],
    renamed: Annotated[bool, typer.Option("--renamed", help="the building had another name then")] = False,
) -> None:
    """Take the entries of pocket.html home, each once."""
    import sys

    from cordwright.cli.diary_reading import project_at
    from cordwright.project.diary_book import diary_lines, keep
    from cordwright.project.diary_taking import take as take_entries
    from cordwright.project.texts import read_text

    where = "pasted text" if entries == "-" else entries
    text, problems = (sys.stdin.read(), ()) if entries == "-" else read_text(Path(entries), where)
    if text is None:
        _end_with(problems)
        return
    file, project = context.obj, project_at(context.obj)
    name = project.name if project is not None else None
    taken = take_entries(text, diary_lines(file), _hand(""), where=where, project=name, renamed=renamed)
    if taken.drafts:
        keep(file, taken.drafts)
    put(f"{taken.entries} entries taken home as {len(taken.drafts)} records; {taken.known} were here already")
    for words in taken.words:
        say(words)
    if project is not None:
        _warn_of_names(taken.drafts, project, where)
    _end_with(taken.problems)


def _warn_of_names(drafts: "tuple[Draft, ...]", project: "Project", where: str) -> None:
    """Panels and marks that the building does not know now; they are kept, for what is laid is laid."""
    from dataclasses import replace

    from cordwright.project.diary_checks import taken_name_faults

    for problem in taken_name_faults(drafts, project, where):
        say(str(replace(problem, severity="warning")))


@diary.command()
def correct(
    context: typer.Context,
    record: Annotated[str, typer.Argument(help="its id, or the first letters of it")],
    changes: Annotated[list[str], typer.Argument(metavar="FIELD=VALUE...", help='area="0.71 m2" on=2028-05-12')],
    by: By = "",
) -> None:
    """Correct some fields of a record; the old one stays in the history. A withdrawn one stands again."""
    from cordwright.project.diary_book import correction, diary_lines, find_line, keep

    told: dict[str, str] = {}
    for change in changes:
        name, equals, value = change.partition("=")
        if not equals:
            say(f'{change!r} is not FIELD=VALUE; write for example area="0.71 m2"')
            stop(MISUSED)
        told[name.strip()] = value
    id_, line = find_line(diary_lines(context.obj), record)
    made = correction(line, told, _hand(by))
    if isinstance(made, tuple):
        _end_with(made)
        return
    keep(context.obj, [made])
    _echo(context.obj, made, id_, "corrected")


@diary.command()
def withdraw(
    context: typer.Context,
    record: Annotated[str, typer.Argument(help="its id, or the first letters of it")],
    because: Annotated[str, typer.Option(help="why")] = "",
    by: By = "",
) -> None:
    """Withdraw a record; it stays in the history."""
    from cordwright.project.diary_book import diary_lines, find_line, keep, withdrawal

    id_, line = find_line(diary_lines(context.obj), record)
    keep(context.obj, [withdrawal(line, because, _hand(by))])
    _echo(context.obj, line, id_, "withdrawn")


def _hand(by: str) -> "Hand":
    from cordwright.project.diary_book import Hand

    return Hand(made=datetime.now().astimezone(), who=by)


def _record(context: typer.Context, kind: str, typed: Mapping[str, str], on: str, by: str) -> None:
    """Keep one record, or stop with what is wrong with it."""
    from cordwright.project.diary_book import draft, keep
    from cordwright.project.diary_words import make_record, read_day

    file, hand = context.obj, _hand(by)
    day: date | tuple[Problem, ...] = read_day(on) if on else hand.made.date()
    said = make_record(kind, typed)
    faults = [p for part in (day, said) if isinstance(part, tuple) for p in part]
    if isinstance(day, tuple) or isinstance(said, tuple):
        _end_with(tuple(faults))
        return
    _refuse_names(file, said)
    if day > hand.made.date():
        say(f"command line: on: warning: {day.isoformat()} lies ahead of today; kept as you said it")
    words = " ".join(f"{name}={value}" for name, value in typed.items() if value)
    (line,) = keep(file, [draft(kind, said, day, hand, typed=words)])
    _echo(file, line, line.id, "kept")


def _refuse_names(file: Path, said: "Said") -> None:
    """Stop where a record names a panel or a log end that the building does not know."""
    from cordwright.cli.diary_reading import project_at
    from cordwright.project.diary_checks import marks_in, name_faults

    if not getattr(said, "panel", "") and not marks_in(said):
        return
    project = project_at(file)
    if project is None:
        say("building.toml has errors: panel and log ends were not looked up")
        return
    _end_with(tuple(name_faults(said, project, "command line")))


def _echo(file: Path, line: "Draft", id_: str, deed: str) -> None:
    """Say what was kept, as it was understood."""
    from cordwright.book.diary_words import record_words
    from cordwright.cli.diary_reading import lettering_at
    from cordwright.project.diary_lines import SHORT, read_said

    put(f"{deed} {id_[:SHORT]}  {line.day}  {record_words(read_said(line.kind, line.said), lettering_at(file))}")


def _end_with(problems: tuple[Problem, ...]) -> None:
    """Stop with faults; go on where there are none."""
    for problem in problems:
        say(str(problem))
    if has_errors(problems):
        stop(FAULTY)
