"""The first sheet answers what changes most builds: by when, what buys a day, and from then on the owner's own pace."""

from collections import defaultdict
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta

import pytest

from cordwright.base import Entry, Records
from cordwright.base.records import Laid
from cordwright.book.content import Paragraph
from cordwright.book.lettering import Lettering
from cordwright.book.sheets.front import cover
from cordwright.project import read
from cordwright.project.season_study import SeasonStudies
from cordwright.reckon import reckon

FIRST = date(2028, 5, 11)


@pytest.fixture(scope="module")
def studio(examples):
    return read(examples["weaving-studio"]).project


def records(*areas):
    made = datetime(2028, 5, 11, 18, tzinfo=UTC)
    return Records(
        entries=tuple(
            Entry(id=str(n), day=FIRST + timedelta(days=n), made=made, said=Laid(area=a, panel="N", hours=7.0))
            for n, a in enumerate(areas)
        )
    )


def words(project, written=None):
    done = reckon(project, studies=SeasonStudies(200, 1, lambda _share, _words: None), records=written)
    sheet = cover(project, done, Lettering(units=project.units, locale=project.locale, tags=defaultdict(int)), ())
    return " ".join(block.text for block in sheet.blocks if isinstance(block, Paragraph))


def test_what_one_more_helper_day_buys_stands_on_the_first_sheet(studio):
    told = words(studio)
    assert "one more helper day buys" in told
    assert "By the diary" not in told


def test_own_days_stand_there_once_they_are_written(studio):
    told = words(replace(studio, locale="en_GB"), records(0.62, 0.71, 0.80))
    assert "By the diary: one person lays 0.73" in told
    assert "45" in told.partition("By the diary")[2]
