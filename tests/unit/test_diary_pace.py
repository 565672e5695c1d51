"""Does the diary tell the builder's own pace, and what is left, as worked by hand?"""

import math
from datetime import UTC, date, datetime, timedelta

import pytest

from cordwright.base import Cite, Entry, InputError, Records
from cordwright.base.records import Batches, Crack, Hours, Laid, Moisture, Spent, Weather
from cordwright.diary import Bag, Expected, Guess, Observed, WholeWall, believe, reckon_diary
from cordwright.diary.posterior import fading
from cordwright.diary.series import crack_trends, spans_a_year

FIRST = date(2028, 5, 11)
MADE = datetime(2028, 5, 11, 18, tzinfo=UTC)
PLANNED = Cite("plan-spread")
WALL = WholeWall(
    net_area=34.87,
    panels={"N": 4.0},
    log_faces={"T1-1": 0.04, "T1-2": 0.05},
    batch_volume=0.05,
    bags=(Bag(name="cement", per_volume=10.0), Bag(name="lime", per_volume=8.0)),
    stock=900.0,
)
EXPECTED = Expected(mortar=Guess(mean=0.09, sd=0.02, source=PLANNED), logs=Guess(mean=24.0, sd=5.0, source=PLANNED))


def records(*said):
    """Records a day apart, or on the day named in a pair."""
    days = [(s if isinstance(s, tuple) else (FIRST + timedelta(days=n), s)) for n, s in enumerate(said)]
    return Records(entries=tuple(Entry(id=str(n), day=d, made=MADE, said=s) for n, (d, s) in enumerate(days)))


def told(*said, wall=WALL, expected=EXPECTED):
    return reckon_diary(records(*said), wall, expected)


def test_the_story_of_three_days():
    """Worked by hand in the project's notes: prior .9 +- .35, records .62 .71 .80, 32.74 m2 left."""
    diary = told(Laid(area=0.62), Laid(area=0.71), Laid(area=0.80))
    assert (diary.pace.middle, diary.pace.scale) == (pytest.approx(-0.3257, abs=5e-5), pytest.approx(0.1347, abs=5e-5))
    assert (diary.pace.mean, diary.pace.sd) == (pytest.approx(0.729, abs=5e-4), pytest.approx(0.099, abs=5e-4))
    left, days = diary.figure("diary.area_left"), diary.figure("diary.days_left")
    assert left.value == pytest.approx(32.74)
    assert [days.low, days.value, days.high] == [pytest.approx(v, abs=0.05) for v in (38.2, 45.3, 53.9)]
    assert diary.pace.leads
    assert diary.figure("diary.pace").label.endswith("by your own days")


def test_before_the_first_day_it_is_as_expected():
    diary = told(Weather(low=2.0))
    assert diary.figure("diary.pace").value == pytest.approx(0.9)
    assert diary.figure("diary.pace").label.endswith("as expected")
    assert diary.figure("diary.laid_area").value == 0
    assert [c.key for c in diary.cautions] == ["frost-on-work"]


def test_half_a_day_is_no_slow_hand_and_tells_half_as_much():
    whole, half = told(Laid(area=0.7, hours=7.0)), told(Laid(area=0.35, hours=3.5))
    assert half.pace.median > 0.7
    assert half.pace.own == pytest.approx(0.5 / (0.5 + 0.25**2 / math.log1p((0.35 / 0.9) ** 2)))
    assert half.pace.own < whole.pace.own


def test_helpers_count_as_hands_and_not_as_speed():
    alone, four = told(Laid(area=0.7, hours=7.0)), told(Laid(area=2.8, hours=7.0, people=4))
    assert (four.pace.middle, four.pace.scale) == (alone.pace.middle, alone.pace.scale)


def test_two_records_of_one_day_are_one_day():
    diary = told((FIRST, Laid(area=0.4, hours=3.0)), (FIRST, Laid(area=0.5, hours=4.0)))
    (day,) = diary.days
    assert (day.area, day.hours, day.clock) == (pytest.approx(0.9), 7.0, 7.0)
    assert diary.pace.days == 1


def test_log_ends_named_alone_count_by_the_wall_they_close():
    diary = told(Laid(logs=("T1-1", "T1-2")), Laid(logs=("T9-9",), area=None))
    figure = diary.figure("diary.laid_area")
    assert (figure.value, figure.bound) == (pytest.approx(0.09), "at_least")
    assert figure.missing == ("the face of log end T9-9",)
    assert diary.figure("diary.area_left").bound == "at_most"


def test_the_newest_eight_days_count_whole_and_older_ones_fade():
    assert fading(8) == (1.0,) * 8
    assert fading(10) == pytest.approx((0.95**2, 0.95, *(1.0,) * 8))


def test_clumsy_first_days_do_not_drag_for_ever():
    slow, steady = [Observed(rate=0.4)] * 6, [Observed(rate=0.9)] * 30
    later = believe(EXPECTED.pace, [*slow, *steady])
    assert later.median > believe(EXPECTED.pace, [*steady, *slow]).median
    assert later.median == pytest.approx(0.9, rel=0.07)


def test_even_days_narrow_the_spread_and_wild_ones_widen_it():
    even = believe(EXPECTED.pace, [Observed(rate=0.8)] * 12)
    wild = believe(EXPECTED.pace, [Observed(rate=r) for r in (0.3, 2.1) * 6])
    assert even.spread < wild.spread
    assert even.freedom == pytest.approx(8 + sum(fading(12)))


@pytest.mark.parametrize("bad", [Observed(rate=0.0), Observed(rate=1.0, whole=0.0)])
def test_no_rate_and_no_time_are_refused(bad):
    with pytest.raises(InputError):
        believe(EXPECTED.pace, [bad])


def test_batches_tell_the_mortar_and_what_is_left_of_it():
    day = FIRST
    diary = told((day, Laid(area=1.0)), (day, Batches(count=3.0)))
    mortar = diary.mortar
    assert 0.09 < mortar.median < 0.15
    left = diary.figure("diary.area_left").value
    batches, bags = diary.figure("diary.batches_left"), diary.figure("diary.bags_left")
    assert batches.value == pytest.approx(left * mortar.median / 0.05)
    assert bags.value == pytest.approx(left * mortar.median * 18.0)
    assert batches.low < batches.value < batches.high


def test_log_ends_left_stand_against_the_stock():
    diary = told(Laid(area=1.0, logs=tuple(f"T1-{n}" for n in range(20))))
    (check,) = diary.checks
    assert check.capacity == 880
    assert check.demand == math.ceil(diary.figure("diary.logs_left").value)


def test_without_a_mix_or_a_stock_nothing_is_guessed():
    diary = told(Laid(area=1.0), wall=WholeWall(net_area=10.0), expected=Expected())
    unknown = [f.key for f in diary.figures if f.value is None]
    expected = ["diary.mortar_per_area", "diary.batches_left", "diary.bags_left", "diary.logs_left"]
    assert unknown == expected
    assert diary.checks == ()


def test_more_laid_than_there_is_leaves_nothing():
    diary = told(Laid(area=40.0))
    assert diary.figure("diary.area_left").value == 0
    assert diary.figure("diary.days_left").value == 0


def test_hours_by_trade_and_money_by_currency():
    diary = told(
        Laid(area=1.0, hours=6.0, people=2),
        Hours(trade="roof", hours=5.0),
        Hours(trade="laying", hours=1.0),
        Spent(amount=12.5, currency="EUR", what="lime"),
        Spent(amount=3.0, currency="SEK"),
    )
    assert diary.hours_by_trade == (("laying", 13.0), ("roof", 5.0))
    assert diary.figure("diary.hours").value == 18.0
    spent = diary.figure("diary.spent")
    assert (spent.value, spent.unit, spent.bound) == (12.5, "EUR", "at_least")
    assert spent.missing == ("what was paid in SEK",)


def test_a_meter_past_its_range_gives_a_least_value():
    dry, wet = told(Moisture(share=0.16), Moisture(share=0.17)), told(Moisture(share=0.38))
    assert dry.figure("diary.moisture").value == pytest.approx(0.17)
    assert wet.figure("diary.moisture").bound == "at_least"
    assert [c.key for c in wet.cautions] == ["mould-rot"]


def crack(*widths, step=200):
    return records(
        *((FIRST + timedelta(days=step * n), Crack(place="N", width=w * 1e-3)) for n, w in enumerate(widths))
    )


def test_a_crack_has_a_trend_from_three_readings_on():
    (few,) = crack_trends(crack(0.3, 0.4))
    (opening,) = crack_trends(crack(0.2, 0.31, 0.39, 0.5))
    (still,) = crack_trends(crack(0.3, 0.4, 0.3, 0.4))
    assert (few.slope, few.word) == (None, "too few readings")
    assert opening.word == "opening"
    assert opening.slope == pytest.approx(0.098e-3 / 200 * 365.25, rel=1e-6)
    assert opening.low < opening.slope < opening.high
    assert still.word == "no trend shown"


def test_a_crack_read_for_less_than_a_year_may_show_the_season():
    diary = reckon_diary(crack(0.2, 0.3, 0.4, step=30), WALL, EXPECTED)
    assert "may show the season" in diary.figure("diary.crack.n.trend").label
    (long,) = crack_trends(crack(0.2, 0.3, 0.4))
    assert spans_a_year(long.series)


def test_two_places_of_one_slug_have_two_keys():
    both = records(Crack(place="N 1", width=1e-3), Crack(place="N-1", width=1e-3))
    keys = [f.key for f in reckon_diary(both, WALL, EXPECTED).figures if ".crack." in f.key]
    assert keys == ["diary.crack.n_1.trend", "diary.crack.n_1_2.trend"]


def test_a_day_with_log_ends_of_unknown_face_tells_no_pace():
    """The unknown face is no face of nothing: the day would read as a slow hand."""
    known = told(Laid(area=0.7, hours=7.0))
    both = told(Laid(area=0.7, hours=7.0), Laid(logs=("T1-1", "X9-9"), hours=7.0))
    assert both.pace == known.pace
    assert both.figure("diary.laid_area").value == pytest.approx(0.74)
