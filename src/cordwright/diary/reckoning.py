"""What does the diary say of the wall that is left?"""

from collections.abc import Iterator

from cordwright.base import Caution, Figure, Records, Step, caution
from cordwright.base.records import Cover, Moisture, Weather
from cordwright.diary.days import hours_by_trade, laid_by_panel, laying_days
from cordwright.diary.inputs import Expected, WholeWall
from cordwright.diary.keeping import crack_figures, hours_figure, moisture_figure, spent_figure
from cordwright.diary.materials import material_figures, own_logs, own_mortar, stock_check
from cordwright.diary.pace import days_figure, diary_cite, laid_figure, left_figure, own_pace, pace_figure
from cordwright.diary.results import Diary, LayingDay
from cordwright.diary.series import crack_trends, moisture_series, weighing_series

COLD = 5.0
"""Below this night [degC] fresh work is told of (row 16 of the cautions)."""
MOULD = 0.20
"""From this moisture [kg/kg] mould is told of (row 13 of the cautions)."""


def reckon_diary(records: Records, wall: WholeWall, expected: Expected) -> Diary:
    """Work out the diary: pace, days, batches, bags and log ends left, cracks, moisture, hours, money.

    Args:
        records: what the owner wrote down and did not withdraw.
        wall: the wall they are about.
        expected: what was thought before.

    Raises:
        InputError: an expectation that is not more than nothing.
    """
    days = laying_days(records, wall.log_faces)
    pace = own_pace(days, expected)
    mortar, logs = own_mortar(days, wall, expected), own_logs(days, expected)
    trends, trades = crack_trends(records), hours_by_trade(records)
    figures = (
        _count_figure(days),
        laid_figure(days),
        left_figure(days, wall),
        pace_figure(days, pace, expected),
        days_figure(days, pace, wall, expected),
        *material_figures(days, mortar, logs, wall, expected),
        *hours_figure(trades),
        *spent_figure(records, wall.currency),
        *moisture_figure(records, wall.saturation),
        *crack_figures(trends),
    )
    return Diary(
        days=days,
        laid=laid_by_panel(records, wall.log_faces),
        pace=pace,
        day_hours=expected.day_hours,
        mortar=mortar,
        cracks=trends,
        moisture=moisture_series(records),
        weighings=weighing_series(records),
        hours_by_trade=trades,
        figures=figures,
        checks=tuple(stock_check(days, logs, wall)),
        cautions=tuple(_cautions(records)),
    )


def _count_figure(days: tuple[LayingDay, ...]) -> Figure:
    cite = diary_cite(days)
    return Figure(
        key="diary.laying_days",
        label="days of laying written down",
        value=float(len(days)),
        unit="",
        sources=(cite,),
        steps=(Step(symbol="days", value=float(len(days)), unit="", source=cite),),
    )


def _cautions(records: Records) -> Iterator[Caution]:
    """Harms that what was written down gives rise to."""
    cold = any(said.low is not None and said.low < COLD for _, said in records.of(Weather))
    if cold or any(said.covering == "frozen" for _, said in records.of(Cover)):
        yield caution("frost-on-work")
    if any(said.share > MOULD for _, said in records.of(Moisture)):
        yield caution("mould-rot")
