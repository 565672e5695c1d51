"""What is written on the chart of the season, in the owner's language and units?"""

from math import ceil, floor, log10

from cordwright.book.formats import NB, show_number, unit_of
from cordwright.book.season_drawing import SeasonMarks
from cordwright.book.season_words import SPOKEN, day
from cordwright.case import Project
from cordwright.season import Season


def marks_of(project: Project, season: Season) -> SeasonMarks:
    """Levels, the last laying day, the middle season and each order's day of closing."""
    fan, locale = season.chosen_outcome.fan, project.locale
    sign, size = unit_of("m2", project.units)
    rows = tuple((f"closed, {SPOKEN[o.strategy]}: {day(o.closed.middle, locale)}", o.closed) for o in season.outcomes)
    return SeasonMarks(
        levels=tuple(
            (face * size, f"{show_number(face, 0, locale)}{NB}{sign}") for face in levels(float(fan.high.max()) / size)
        ),
        stop_words="" if season.stop is None else f"last laying day {day(season.stop, locale)}",
        middle_words=f"all laid {day(season.chosen_outcome.laid.middle, locale)} in one season of two",
        rows=rows,
    )


def levels(most: float) -> tuple[float, ...]:
    """Round faces from nothing to just over the whole wall, four or five of them, in the owner's unit."""
    rough = most / 4
    scale = 10.0 ** floor(log10(rough))
    step = next(s * scale for s in (1.0, 2.0, 2.5, 5.0, 10.0) if s * scale >= rough * 0.999)
    return tuple(step * n for n in range(ceil(most / step - 1e-9) + 1))
