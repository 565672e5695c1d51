"""The season of the weaving studio as the owner gets it: days, chances, what moves them, words, calendar, pages."""

from dataclasses import replace
from datetime import date, timedelta

import pytest

from cordwright.base import StoppedError
from cordwright.book.calendar import to_calendar
from cordwright.book.season_drawing import draw_season
from cordwright.book.season_marks import levels, marks_of
from cordwright.book.season_page import season_lines
from cordwright.book.season_words import in_ten, task_rows, verdict
from cordwright.project import read
from cordwright.project.season_study import SeasonStudies
from cordwright.reckon import reckon
from cordwright.season.season import reckon_season

SEASONS = 600


def run(project, **season):
    told = replace(project, season=replace(project.season, **season))
    return told, reckon(told, studies=SeasonStudies(SEASONS, 1, lambda _share, _words: None))


@pytest.fixture(scope="module")
def project(examples):
    return read(examples["weaving-studio"]).project


@pytest.fixture(scope="module")
def studio(project):
    return run(project)


@pytest.fixture(scope="module")
def known(project):
    """At 0.9 m2 a day, known for certain: by the whole-day rule and by the hour."""
    return {rain: run(project, pace_spread=0.0, rain=rain)[1] for rain in ("whole day", "partial day")}


def day(reckoning, key):
    return reckoning.figure(key).value


def test_whole_days_at_nine_tenths_of_a_square_metre(known):
    whole = known["whole day"]
    assert abs(day(whole, "season.roof_first.closed_p50") - date(2028, 7, 12)) <= timedelta(days=7)
    assert abs(day(whole, "season.walls_first.closed_p50") - date(2028, 8, 25)) <= timedelta(days=7)


def test_hours_instead_of_days_bring_both_forward_and_the_roof_still_wins(known):
    whole, part = known["whole day"], known["partial day"]
    for order in ("roof_first", "walls_first"):
        assert day(part, f"season.{order}.closed_p50") <= day(whole, f"season.{order}.closed_p50")
    ahead = day(part, "season.walls_first.closed_p50") - day(part, "season.roof_first.closed_p50")
    assert ahead >= timedelta(days=10)


def test_the_same_seed_gives_the_same_answer(project, studio):
    again = run(project)[1]
    assert [f.value for f in again.season.figures] == [f.value for f in studio[1].season.figures]


def test_days_stand_in_order_and_chances_between_nothing_and_one(studio):
    _, reckoning = studio
    for order in ("roof_first", "walls_first", "walls_first_bare"):
        for part in ("laid", "closed", "done"):
            days = [day(reckoning, f"season.{order}.{part}_{p}") for p in ("p10", "p50", "p90")]
            assert days == sorted(days)
        assert day(reckoning, f"season.{order}.chance_by_stop") <= day(reckoning, f"season.{order}.laid_by_stop") <= 1


def test_hours_by_trade_add_up(studio):
    _, reckoning = studio
    parts = [f.value for f in reckoning.figures if f.key.startswith("season.hours.")]
    assert sum(parts) == pytest.approx(day(reckoning, "season.hours"))
    assert day(reckoning, "cost.hours") == pytest.approx(sum(parts))
    assert day(reckoning, "cost.hours.laying") == day(reckoning, "season.hours.laying")


def test_every_figure_names_its_sources_and_shows_its_working(studio):
    figures = [f for f in studio[1].season.figures if f.value is not None]
    assert len(figures) > 45
    assert [f.key for f in figures if not f.sources or not f.steps] == []


def test_laying_moves_the_day_most_and_helpers_bring_it_forward(studio):
    season = studio[1].season
    assert season.critical[0].what == "laying"
    by_name = {sway.what: sway.days for sway in season.changes}
    assert by_name["one more helper day"] < 0 < by_name["no helpers"]
    assert by_name["a pace one tenth faster"] < 0 < by_name["a pace one tenth slower"]
    assert day(studio[1], "season.spread_weather") < day(studio[1], "season.spread")


def test_the_verdict_says_when_how_likely_the_other_way_and_what_help_buys(studio):
    project, reckoning = studio
    words = " ".join(verdict(project, reckoning.season))
    for part in (
        "Roof first: all laid by",
        "in one season of two",
        "of ten",
        "walls first under a tarpaulin",
        "helper day buys",
    ):
        assert part in words
    lines = list(season_lines(project, reckoning))
    assert any(line.startswith("roof first") for line in lines)


@pytest.mark.parametrize(
    ("chance", "words"),
    [(1.0, "nearly every season"), (0.0, "hardly any season"), (0.03, "less than one season of ten"),
     (0.97, "more than nine seasons of ten"), (0.1, "1 season of ten"), (0.72, "7 seasons of ten")],
)  # fmt: skip
def test_chances_in_words(chance, words):
    assert in_ten(chance) == words


def test_without_a_start_or_nightly_lows_the_figures_say_what_is_wanted(project):
    bare, reckoning = run(project, start=None)
    figure = reckoning.figure("season.roof_first.closed_p50")
    assert figure.value is None
    assert any("season.start" in text for text in figure.missing)
    assert "season.start" in " ".join(season_lines(bare, reckoning))
    months = replace(project.site.months, low=None)
    cold = replace(project, site=replace(project.site, months=months))
    figure = run(cold)[1].figure("season.walls_first.closed_p50")
    assert any("low" in text for text in figure.missing)


def test_without_studies_no_season_is_run(project):
    assert not [f for f in reckon(project).figures if f.key.startswith("season.roof")]


def test_a_pace_too_slow_for_any_end_has_no_late_day(project):
    _, reckoning = run(project, pace=0.02, pace_spread=0.0)
    assert reckoning.figure("season.roof_first.laid_p50").value is None
    assert reckoning.figure("season.roof_first.laid_p50").missing
    assert next(c for c in reckoning.checks if c.key == "season.laying_check").verdict == "not judged"


def test_a_run_can_be_stopped(project, studio):
    from cordwright.season import work_of
    from cordwright.site import weather_model

    done = studio[1]
    work = work_of(project.site, project.plan, done.plan, project.timber, done.timber)
    with pytest.raises(StoppedError):
        reckon_season(
            project.season, work, project.site, weather_model(project.site), None, seasons=3000, stopped=lambda: True
        )


def test_the_southern_season_runs_across_new_year(examples):
    project = read(examples["bakehouse"]).project
    _, reckoning = run(project)
    assert day(reckoning, "season.roof_first.laid_p50").year == 2029
    assert reckoning.season.outcomes[0].fan.days[0].year == 2028


def test_a_calendar_program_reads_the_days(studio):
    from icalendar import Calendar

    project, reckoning = studio
    read_back = Calendar.from_ical(to_calendar(project, reckoning.season, date(2027, 1, 2)))
    events = {str(e["summary"]): e for e in read_back.walk("VEVENT")}
    assert events["last day to lay mortar"].decoded("dtstart") == date(2028, 8, 4)
    assert events["helpers come"].decoded("dtstart") == date(2028, 7, 8)
    assert events["all laid by now in one season of two"].decoded("dtstart") == reckoning.season.outcomes[0].laid.middle
    assert len({str(e["uid"]) for e in events.values()}) == len(events)
    hostile = replace(project, name="A\r\nBEGIN:VEVENT\r\n;,")
    again = Calendar.from_ical(to_calendar(hostile, reckoning.season, date(2027, 1, 2)))
    assert len(again.walk("VEVENT")) == len(events)


def test_the_chart_holds_everything_within_the_paper(studio):
    from cordwright.book.drawing import Path, Text, every, text_width

    project, reckoning = studio
    drawing = draw_season(reckoning.season, marks_of(project, reckoning.season))
    points = [p for s in every(drawing.shapes) if isinstance(s, Path) for p in s.points]
    assert all(0 <= x <= drawing.width and 0 <= y <= drawing.height for x, y in points)
    for text in (s for s in every(drawing.shapes) if isinstance(s, Text)):
        wide = text_width(text.text, text.size, text.face)
        left = text.at[0] - {"start": 0.0, "middle": wide / 2, "end": wide}[text.anchor]
        assert left >= -1, text.text
        assert left + wide <= drawing.width + 1, text.text


def test_round_levels_reach_over_the_wall():
    assert levels(34.86) == (0.0, 10.0, 20.0, 30.0, 40.0)
    assert levels(7.0)[-1] >= 7.0


def test_the_task_list_has_every_task_and_a_round_of_laying_in_a_row(studio):
    project, reckoning = studio
    rows = task_rows(project, reckoning.season)
    assert [r.middle for r in rows] == sorted(r.middle for r in rows)
    assert len([r for r in rows if r.what.startswith("Laying, lift")]) == 4
    assert {"Plinth", "Floor", "Stove, flue, air", "Test panel, 1 m2"} <= {r.what for r in rows}
