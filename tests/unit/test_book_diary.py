"""Do the card for helpers and the yearly sheet say what stands, in the owner's units, and leave room for what comes?"""

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta

import pytest

import book_samples as samples
from cordwright.base import Cite, Entry, InputError, Records
from cordwright.base.records import Crack, Laid, Moisture, Weighing
from cordwright.book.content import Row, Table
from cordwright.book.diary_words import days_left_words, pace_words, record_words, trend_words
from cordwright.book.lettering import Lettering
from cordwright.book.sheets.diary import BLANK_ROWS, helper_sheet, year_sheet
from cordwright.diary import Guess, WholeWall, believe, looks, plan_helper_day, reckon_diary
from cordwright.diary.inputs import Expected
from cordwright.mortar import MortarInput

METRIC = Lettering(units="metric", locale="en_GB", tags={})
IMPERIAL = Lettering(units="imperial", locale="en_US", tags={})
PACE = believe(Guess(mean=0.9, sd=0.35, source=Cite("laying-pace-prior")), [])
RATE = believe(Guess(mean=0.09, sd=0.02, source=Cite("plan-spread")), [])
DAY = date(2028, 5, 11)


def diary(*said):
    made = datetime(2028, 5, 11, tzinfo=UTC)
    entries = [Entry(id=str(n), day=DAY + timedelta(days=400 * n), made=made, said=each) for n, each in enumerate(said)]
    return reckon_diary(Records(entries=tuple(entries)), WholeWall(net_area=30.0), Expected())


def helpers(mortar=None, **more):
    stated = {"people": 4, "hours": 7.0, "day_hours": 7.0, "end": 17.0, "cover_up": 0.5, "batch_volume": 0.05}
    return plan_helper_day(mortar or MortarInput(), PACE, RATE, **{**stated, **more})


def test_the_day_is_counted_back_from_its_end():
    day = helpers(MortarInput(pot_life=1.5))
    assert (day.lay_until, day.last_early, day.last_late) == (16.5, 15.0, 15.0)
    usual = helpers()
    assert (usual.last_early, usual.last_late) == (14.0, 15.0)
    assert "pot-life-practice" in [c.key for c in usual.sources]
    assert "pot-life-practice" not in [c.key for c in day.sources]


def test_without_an_end_the_mix_says_when_laying_stops_or_nobody_does():
    assert helpers(MortarInput(pot_life=2.0, stop=16.0), end=None).last_late == 14.0
    assert helpers(end=None).last_late is None


def test_hands_multiply_wall_and_batches():
    two, four = helpers(people=2), helpers(people=4)
    assert four.area == pytest.approx([2 * v for v in two.area])
    assert four.batches == pytest.approx([v * RATE.median / 0.05 for v in four.area])
    assert two.area[1] == pytest.approx(2 * PACE.median * 6.5 / 7.0)
    assert [len(day.roles) for day in (two, four)] == [2, 4]


@pytest.mark.parametrize("wrong", [{"people": 0}, {"hours": 0.0}, {"cover_up": 7.0}, {"cover_up": -1.0}])
def test_no_day_is_refused(wrong):
    with pytest.raises(InputError):
        helpers(**wrong)


def tables(sheet):
    return [block for block in sheet.blocks if isinstance(block, Table)]


def test_the_card_in_the_book_has_a_row_for_each_number_of_hands():
    sheet = helper_sheet(samples.sample_project(), samples.sample_reckoning(), METRIC)
    roles, hands = tables(sheet)
    assert [row.cells[0] for row in hands.rows] == ["2", "3", "4", "5"]
    assert all(row.cells[2] == "" for row in roles.rows), "names are for the day itself"


def test_the_yearly_sheet_has_every_look_and_last_times_figures_beside_blanks():
    told = diary(Crack(place="N under W2", width=4e-4), Moisture(share=0.16, log="T1-3"), Weighing(end="E1", mass=4.2))
    walk, measured = tables(year_sheet(replace(samples.sample_reckoning(), diary=told), METRIC))
    assert [r.cells[0] for r in walk.rows if r.manner == "row"] == [look.what for look in looks()]
    assert walk.tick
    first, second, third, *blank = measured.rows
    assert first.cells[:4] == ("Crack at N under W2", "0.4\u00a0mm", "2028-05-11", "too few readings")
    assert second.cells[1] == "16\u00a0%"
    assert third.cells[0] == "Test end E1"
    assert all(row.cells[4:] == ("", "") for row in measured.rows)
    assert len(blank) == BLANK_ROWS - 3


def test_before_the_first_record_the_yearly_sheet_is_all_blanks():
    _, measured = tables(year_sheet(samples.sample_reckoning(), METRIC))
    assert measured.rows == (Row(cells=("\u00a0", "", "", "", "", "")),) * BLANK_ROWS


def test_feet_and_pounds_for_who_measures_so():
    assert record_words(Laid(area=0.74322432, hours=6.0, people=2), IMPERIAL) == "laid 8.00 ft², 6 h by 2 people"
    assert record_words(Crack(place="N", width=0.0254 / 50), IMPERIAL) == "crack at N: 0.020 in"


def test_the_sentences_say_whose_pace_it_is_and_how_cracks_go():
    assert "no day of laying is written down" in pace_words(diary(Moisture(share=0.16)), METRIC)
    assert "from the third day on your own days lead" in pace_words(diary(Laid(area=0.8)), METRIC)
    assert "your own 3 days" in pace_words(diary(*[Laid(area=0.8)] * 3), METRIC)
    assert days_left_words(diary(Laid(area=30.0)), METRIC) == "By the diary the whole wall is laid."
    (opening,) = diary(*(Crack(place="N", width=w * 1e-3) for w in (0.2, 0.31, 0.39, 0.5))).cracks
    assert "opening: 0.1\u00a0mm a year" in trend_words(opening, METRIC)


def test_a_wet_reading_is_told_as_wet():
    assert record_words(Moisture(share=0.38), METRIC).startswith("moisture wet, the meter's 38")
