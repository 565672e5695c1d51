"""The season from a later day: what is laid is laid, and the diary's pace leads from the third day on."""

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta

import pytest

from cordwright.base import Entry, Records
from cordwright.base.records import Laid
from cordwright.project import read
from cordwright.project.season_study import SeasonStudies
from cordwright.reckon import reckon
from cordwright.season import as_recorded, lift_shares, tasks_of, work_of

FIRST = date(2028, 5, 11)


@pytest.fixture(scope="module")
def studio(examples):
    project = read(examples["weaving-studio"]).project
    done = reckon(project)
    return project, work_of(project.site, project.plan, done.plan, project.timber, done.timber)


def records(*areas, panel="N"):
    """Laying on as many days, seven hours each."""
    made = datetime(2028, 5, 11, 18, tzinfo=UTC)
    said = [Laid(area=area, panel=panel, hours=7.0) for area in areas]
    return Records(
        entries=tuple(Entry(id=str(n), day=FIRST + timedelta(days=n), made=made, said=s) for n, s in enumerate(said))
    )


def seasons_with(project, written):
    quiet = SeasonStudies(200, 1, lambda _share, _words: None)
    return reckon(project, studies=quiet, records=written)


def test_face_fills_the_lifts_of_its_panel_from_the_bed_up(studio):
    _, work = studio
    lifts = [lift for lift in work.lifts if lift.panel == "N"]
    shares = lift_shares(work, {"N": lifts[0].area + 0.5 * lifts[1].area})
    assert shares == pytest.approx({"laying.N.1": 1.0, "laying.N.2": 0.5})
    loose = lift_shares(work, {"": work.lifts[0].area})
    assert loose == {f"laying.{work.lifts[0].panel}.{work.lifts[0].lift}": 1.0}
    assert lift_shares(work, {}) == {}
    everything = lift_shares(work, {"": 2 * work.area})
    assert set(everything.values()) == {1.0}


def test_what_laying_waited_for_is_done_and_nothing_else(studio):
    project, work = studio
    seen = as_recorded(project.season, work, today=date(2028, 6, 1), laid={"N": 2.0}, pace=0.1, pace_spread=0.01)
    tasks = {task.key: task for task in tasks_of(work, seen, "roof first")}
    assert all(tasks[key].hours == (0.0, 0.0, 0.0) for key in ("felling", "plinth", "frame", "cover"))
    assert tasks["pointing"].hours[1] > 0 if "pointing" in tasks else tasks["windows"].hours[1] > 0
    assert (seen.start, seen.pace, seen.learning) == (date(2028, 6, 1), 0.1, 0.0)
    left = sum(task.face for task in tasks.values())
    assert left == pytest.approx(work.area - 2.0)


def test_two_days_change_no_season_and_three_do(studio):
    project, _ = studio
    bare = seasons_with(project, None).figure("season.roof_first.laid_p50").value
    assert seasons_with(project, records(0.62, 0.71)).figure("season.roof_first.laid_p50").value == bare
    done = seasons_with(project, records(0.62, 0.71, 0.80))
    assert done.season.outcomes
    assert done.figure("season.pace").value == pytest.approx(0.73, abs=0.01)
    assert "diary" in {cite.key for cite in done.figure("season.pace").sources}
    assert any("by the diary" in note for note in done.season.notes)
    # 32.7 m2 are left at .73 m2 a day: 45 days of laying, four a week, helpers in July, from the middle of May.
    assert date(2028, 7, 10) < done.figure("season.roof_first.laid_p50").value < date(2028, 8, 15)


def test_a_faster_hand_is_never_later(studio):
    project, _ = studio
    slow, fast = (
        seasons_with(project, records(*areas)).figure("season.roof_first.laid_p50").value
        for areas in ((0.5, 0.5, 0.5), (1.2, 1.2, 1.2))
    )
    assert fast < slow


def test_the_pace_stated_in_the_calendar_is_what_the_diary_begins_from(studio):
    project, _ = studio
    brisk = replace(project, season=replace(project.season, pace=2.0 / 7, pace_spread=0.2 / 7))
    steps = reckon(brisk, records=records(0.7)).figure("diary.pace").steps
    assert steps[0].value == pytest.approx(2.0)
    assert steps[1].value == pytest.approx(0.2)
