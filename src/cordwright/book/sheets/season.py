"""By when is it laid, what is to be done when, and what keeps the building sound in the years after?"""

from collections.abc import Iterator

from cordwright.base import Cite
from cordwright.book.content import Block, Column, Heading, Items, Paragraph, Picture, Row, Sheet, table
from cordwright.book.formats import show_value
from cordwright.book.keeping import EVERY, KEEPING, YEARLY
from cordwright.book.lettering import Lettering, capped
from cordwright.book.season_drawing import draw_season
from cordwright.book.season_marks import marks_of
from cordwright.book.season_words import (
    CHANGE_HEADS,
    LOST_HEADS,
    MODEL_WORDS,
    change_rows,
    day,
    hours_rows,
    lost_rows,
    missing_words,
    strategy_rows,
    task_rows,
    verdict,
)
from cordwright.book.sheets.building import caution_box
from cordwright.case import Project
from cordwright.reckon import Reckoning
from cordwright.season import Season
from cordwright.season.habits import habits

CHART_WORDS = (
    "Thin threads: forty single seasons. Thick: the middle of all. Grey: four seasons of five. The plumb line is the "
    "last day to lay. Striped boxes: closed, walls laid and roof on, from one season in ten to nine in ten."
)
RULES = (Cite("walls-first-order"), Cite("season-weather-classes"), Cite("night-forecast-error"))
"""Sources that the sheet itself names."""


def season_sheets(project: Project, reckoning: Reckoning, lettering: Lettering) -> Iterator[Sheet]:
    """The season, and its task list where seasons were run."""
    season = reckoning.season
    if season is None:
        words = Paragraph(text=missing_words(reckoning), manner="lead")
        yield Sheet(mark="SEASON", title="By when", slug="season", blocks=(words,))
    else:
        yield _season_sheet(project, season, lettering)
        yield _task_sheet(project, reckoning, season, lettering)


def _season_sheet(project: Project, season: Season, lettering: Lettering) -> Sheet:
    said = verdict(project, season)
    blocks: list[Block] = [Paragraph(text=said[0], manner="lead"), *(Paragraph(text=text) for text in said[1:])]
    if season.chosen_outcome.fan.days:
        blocks += [Picture(drawing=draw_season(season, marks_of(project, season)))]
        blocks += [Paragraph(text=CHART_WORDS, manner="small")]
    blocks += [*_orders(project, season), *_losses(project, season), *_changes(project, season)]
    blocks += [Paragraph(text=f"{capped(note)}.", manner="small") for note in season.notes]
    blocks += [Paragraph(text=text, manner="small") for text in MODEL_WORDS]
    runs = f"{season.seasons} seasons, seed {season.seed}; {lettering.tag(RULES)}"
    return Sheet(mark="SEASON", title="By when", slug="season", blocks=tuple(blocks), aside=runs)


def _orders(project: Project, season: Season) -> list[Block]:
    columns = (
        Column(title="Order of work", share=2.2),
        Column(title="Laid, 1 in 2", measure=True, share=1.7),
        Column(title="9 in 10", measure=True, share=1.7),
        Column(title="by stop", measure=True, share=0.9),
        Column(title="Closed, 1 in 2", measure=True, share=1.7),
        Column(title="by stop", measure=True, share=0.9),
    )
    rows = [(r[0], r[2], r[3], r[4], r[5], r[7]) for r in strategy_rows(project, season)]
    return [Heading(text="Roof first or walls first"), table("Orders of work", columns, rows)]


def _losses(project: Project, season: Season) -> list[Block]:
    hours = project.season.hours or float(habits()["defaults"]["hours"])
    columns = tuple(
        Column(title=head, measure=n > 0, share=share)
        for n, (head, share) in enumerate(zip(LOST_HEADS, (1.8, 2.0, 1.8, 1.6), strict=True))
    )
    return [
        Heading(text="What takes the time"),
        table("Hours lost", columns, lost_rows(season, season.chosen, hours, project.locale)),
    ]


def _changes(project: Project, season: Season) -> list[Block]:
    columns = tuple(
        Column(title=head, measure=n > 0, share=share)
        for n, (head, share) in enumerate(zip(CHANGE_HEADS, (2.6, 1.8, 1.8, 1.8), strict=True))
    )
    critical = [("a tenth more hours on", *(("",) * 3)), *change_rows(season.critical[:6], project.locale)]
    rows: list[tuple[str, ...] | Row] = [*change_rows(season.changes, project.locale)]
    if season.critical:
        rows += [Row(cells=(capped(critical[0][0]),), manner="group"), *critical[1:]]
    return [Heading(text="What moves the day"), table("What moves the day of closing", columns, rows)]


def _task_sheet(project: Project, reckoning: Reckoning, season: Season, lettering: Lettering) -> Sheet:
    columns = (
        Column(title="Task", share=2.9),
        Column(title="Work", measure=True, share=1.1),
        Column(title="Least, most", measure=True, share=1.4),
        Column(title="Done: 1 in 2", measure=True, share=1.5),
        Column(title="9 in 10", measure=True, share=1.5),
        Column(title="Minds", share=2.1),
    )
    trades = tuple(Column(title=head, measure=n > 0, share=2.0) for n, head in enumerate(("Work", "Hours", "From to")))
    keys = ("felling", "heights", "lifting")
    blocks: tuple[Block, ...] = (
        Paragraph(text=_task_words(project, season), manner="lead"),
        table("Tasks", columns, tuple(_by_year(project, season, lettering)), tick=True),
        Heading(text="Hours by trade"),
        table("Hours by trade", trades, hours_rows(project, reckoning)),
        *(caution_box(c) for c in season.cautions if c.key in keys),
    )
    return Sheet(mark="TASKS", title="What is done when", slug="tasks", blocks=blocks)


def _by_year(project: Project, season: Season, lettering: Lettering) -> Iterator[Row]:
    """The tasks under the year of their middle day."""
    year = 0
    for row in task_rows(project, season):
        if row.middle.year != year:
            year = row.middle.year
            yield Row(cells=(str(year),), manner="group")
        late = lettering.day(row.late) if row.late.year == year else lettering.value(row.late, "date")
        yield Row(cells=(row.what, row.amount, row.spread, lettering.day(row.middle), late, row.minds))


def _task_words(project: Project, season: Season) -> str:
    start = day(project.season.start, project.locale) if project.season.start else ""
    hours = sum(task.mean_hours for task, _ in season.chosen_outcome.tasks) * project.season.people
    rest = show_value(float(round(hours)), "h", project.units, project.locale)
    return f"{capped(season.chosen)}, from {start}: {rest} of work besides the laying itself."


def keeping_sheet() -> Sheet:
    """The years after: what moves, what is looked at, and when."""
    columns = (Column(title="When", share=1.2), Column(title="What", share=4.0), Column(title="Seen, done", share=2.0))
    blocks: tuple[Block, ...] = (
        Paragraph(text="A wall of log ends moves for years. Look, write down, then mend.", manner="lead"),
        Heading(text="The first years"),
        table("The first years", columns, [(when, what, "") for when, what in KEEPING], tick=True),
        Heading(text="Every year, the same walk"),
        Items(items=YEARLY, tick=True),
        Heading(text="At longer times"),
        table("At longer times", columns, [(when, what, "") for when, what in EVERY], tick=True),
        Paragraph(text="Common practice, no source. What the record shows goes before any interval.", manner="small"),
    )
    return Sheet(mark="YEARS", title="Keeping it", slug="keeping", blocks=blocks)
