"""How does the owner write down the calendar of the work: days, hours, pace, helpers, tasks?"""

from cordwright.project.document import Document
from cordwright.project.season_schema import SeasonTable
from cordwright.season.habits import habits
from cordwright.season.inputs import Helpers, OwnTask, SeasonInput


def season_input(document: Document) -> SeasonInput | None:
    """Give the calendar; None if a table has a fault."""
    if not document.sound("season"):
        return None
    table = document.one("season", SeasonTable) or SeasonTable()
    stated = dict(table)
    hours = float(habits()["defaults"]["hours"]) if table.hours is None else table.hours
    for key in ("pace", "pace_spread"):
        stated[key] = hourly(stated[key], hours)
    stated["helpers"] = tuple(Helpers(**dict(row)) for row in table.helpers)
    stated["tasks"] = tuple(_task(dict(row)) for row in table.tasks)
    return SeasonInput(**stated)


def hourly(pace: tuple[float, str] | None, hours: float) -> float | None:
    """A pace in an hour [m2/h]: a day's is spread over the hours of a working day.

    Args:
        pace: face [m2] and "day" or "h"; None is unknown.
        hours: of a working day [h].
    """
    if pace is None:
        return None
    return pace[0] / (hours if pace[1] == "day" else 1.0)


def _task(row: dict[str, object]) -> OwnTask:
    wait = row["wait"]
    days = None if wait is None else float(str(wait)) / 24.0
    return OwnTask(**{**row, "wait": days})  # type: ignore[arg-type]
