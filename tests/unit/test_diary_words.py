"""Do the words typed for one record become what they say, and nothing else?"""

import math

import pytest

from cordwright.base.records import KINDS, Batches, Laid, Note
from cordwright.diary.faults import record_faults
from cordwright.project.diary_lines import read_said, said_json
from cordwright.project.diary_photos import photo_words
from cordwright.project.diary_words import make_record, read_day, read_helper_day


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ({"area": "0,62 m2", "hours": "5 h 30 min"}, Laid(area=0.62, hours=5.5)),
        ({"area": "1 m2", "hours": "6", "people": "3"}, Laid(area=1.0, hours=6.0, people=3)),
        ({"logs": "T1-3, T1-4; T1-5"}, Laid(logs=("T1-3", "T1-4", "T1-5"))),
    ],
)
def test_wall_laid_as_it_is_typed(typed, said):
    assert make_record("laid", typed) == said


def test_half_batches_and_blanks():
    assert make_record("batches", {"count": "2 1/2", "panel": " "}) == Batches(count=2.5)


@pytest.mark.parametrize(
    ("kind", "said", "field"),
    [
        ("note", Note(words="x" * 5000), "words"),
        ("laid", Laid(logs=("T1-1", "T1-1")), "logs"),
        ("laid", Laid(logs=tuple(map(str, range(3000)))), "logs"),
        ("laid", Laid(area=1.0, hours=0.0), "hours"),
        ("laid", Laid(area=math.inf), "area"),
        ("laid", Laid(area=1.0, people=0), "people"),
        ("batches", Batches(count=math.nan), "count"),
    ],
    ids=range(7),
)
def test_what_no_record_can_say(kind, said, field):
    assert [p.field for p in record_faults(kind, said)] == [field]


def test_bytes_that_are_no_text_are_refused():
    (problem,) = make_record("note", {"words": "a\udcff"})
    assert "no text" in problem.message


@pytest.mark.parametrize("words", ["", "2028-5-1", "2028-02-30", "1900-01-01", "9999-01-01", "today"])
def test_what_is_no_day_of_a_building(words):
    assert isinstance(read_day(words), tuple)


def test_every_kind_comes_back_from_what_is_kept():
    told = {
        "laid": {"area": "0.6 m2", "logs": "a b", "panel": "N"},
        "batches": {"count": "3"},
        "weather": {"low": "-1 degC", "sky": "frost"},
        "moisture": {"share": "16 %"},
        "weighing": {"end": "E1", "mass": "4 kg"},
        "crack": {"place": "N", "width": "0.4 mm"},
        "spent": {"amount": "1 EUR"},
        "hours": {"trade": "roof", "hours": "6"},
        "cover": {"covering": "sheet"},
        "note": {"words": 'quoted " and § and \n'},
        "photo": {"path": "a.jpg", "digest": "0" * 64},
    }
    assert told.keys() == KINDS.keys()
    for kind, typed in told.items():
        said = make_record(kind, typed)
        assert read_said(kind, said_json(said)) == said


def test_a_photo_elsewhere_keeps_its_whole_path(tmp_path):
    folder, picture = tmp_path / "project", tmp_path / "a.jpg"
    folder.mkdir()
    picture.write_bytes(b"x")
    assert photo_words(folder, picture, copy=False)["path"] == str(picture)
    assert "no picture" in photo_words(folder, folder, copy=False).message


def test_a_helper_day_is_read_in_hours():
    assert read_helper_day("7", "17:30", "45 min") == {"hours": 7.0, "until": 17.5, "cover_up": 0.75}
    assert [p.field for p in read_helper_day("x", "25:00", "9")] == ["--hours", "--until", "--cover-up"]
