"""What do I order for the next delivery, and what is left to spend?"""

from datetime import date
from typing import TYPE_CHECKING, Annotated

import typer

from cordwright.cli.app import (
    MISUSED,
    AsJson,
    File,
    NoStudies,
    app,
    dump,
    put,
    read_or_stop,
    reckon_whole,
    say,
    stop,
)

if TYPE_CHECKING:
    from pathlib import Path

    from cordwright.case import Project
    from cordwright.cost.results import OrderList
    from cordwright.reckon import Reckoning


@app.command()
def order(
    file: File,
    delivery: Annotated[str, typer.Option(help="only the delivery of this name in the price list")] = "",
    as_json: AsJson = False,
    no_studies: NoStudies = False,
) -> None:
    """What to order, delivery by delivery, in whole packs."""
    from dataclasses import replace

    project, reckoning = _reckoned(file, as_json=as_json, no_studies=no_studies)
    if delivery:
        reckoning = replace(reckoning, order=_only(delivery, reckoning.order))
    if as_json:
        from cordwright.book.cost_page import order_json

        dump(order_json(project, reckoning.order))
        return
    from cordwright.book.cost_page import sheet_lines
    from cordwright.book.lettering import plain_lettering
    from cordwright.book.sheets.order import order_sheet

    sheet = order_sheet(project, reckoning, plain_lettering(project), _today())
    for line in sheet_lines(project, sheet):
        put(line)


@app.command()
def budget(file: File, as_json: AsJson = False, no_studies: NoStudies = False) -> None:
    """What it comes to, what is paid and what is left, by delivery and by part of the building."""
    project, reckoning = _reckoned(file, as_json=as_json, no_studies=no_studies)
    if as_json:
        from cordwright.book.cost_page import budget_json

        dump(budget_json(project, reckoning.order))
        return
    from cordwright.book.cost_page import sheet_lines
    from cordwright.book.lettering import plain_lettering
    from cordwright.book.sheets.budget import budget_sheet

    sheet = budget_sheet(project, reckoning, plain_lettering(project), _today())
    for line in sheet_lines(project, sheet):
        put(line)


def _today() -> date:
    return date.today()  # noqa: DTZ011 the owner's own day


def _reckoned(file: "Path", *, as_json: bool, no_studies: bool) -> "tuple[Project, Reckoning]":
    reading, project = read_or_stop(file, as_json=as_json)
    return project, reckon_whole(file, reading, project, as_json=as_json, no_studies=no_studies)


def _only(name: str, order: "OrderList") -> "OrderList":
    """The order list of one delivery, or stop with the names there are."""
    from dataclasses import replace

    chosen = tuple(group for group in order.deliveries if group.name == name)
    if not chosen:
        names = ", ".join(group.name for group in order.deliveries if group.name)
        say(f"there is no delivery {name!r}; " + (f"there are: {names}" if names else "the price list names none"))
        stop(MISUSED)
    return replace(order, deliveries=chosen, lines=chosen[0].lines, unpriced=())
