"""Do the phone's entries come home once each, with what is wrong named and nothing guessed?"""

import json

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cordwright.base.records import Cover, Crack, Hours, Laid, Moisture, Note, Spent, Weather, Weighing
from cordwright.project.diary_book import correction, find_line
from cordwright.project.diary_lines import history_of, records_of
from cordwright.project.diary_taking import take
from diary_samples import HAND, chained

HOSTILE = "=cmd|'/c calc'!A1 <script>x</script> #read(\"/etc/passwd\") '; DROP TABLE line; --"


def entry(id_="e1", **told):
    return {"id": id_, "made": "2028-05-14T16:00:00.000Z", "date": "2028-05-14", **told}


def saved(*entries, **more):
    content = {"schema": 1, "kind": "cordwright-diary", "project": "Studio", "laid": {}, "entries": list(entries)}
    return json.dumps({**content, **more})


def taken(text, lines=(), **more):
    return take(text, lines, HAND, where="phone.json", **{"project": "Studio", **more})


def home(*entries, lines=()):
    result = taken(saved(*entries), lines)
    assert result.problems == ()
    return chained(result.drafts, lines)


def test_an_entry_of_the_first_pages_still_comes_home():
    """The form before cracks, money and cover were asked: what is absent is unknown."""
    old = entry(panel="N", area_m2=0.8, logs=["T1-1"], batches=2, sky="dry", hours=None, low_degC=-1.5, high_degC=None,
                moisture_percent=[16, 17.5], note="")  # fmt: skip
    said = [e.said for e in records_of(home(old)).entries]
    assert Laid(area=0.8, logs=("T1-1",), panel="N") in said
    assert Weather(low=-1.5, sky="dry") in said
    assert [m.share for m in said if isinstance(m, Moisture)] == [0.16, 0.175]
    assert len(said) == 5


def test_everything_a_phone_can_say():
    full = entry(panel="N", area_m2=0.8, hours=5, people=2, trade="laying", rain_mm=4, lost_h=1.5, cover="sheet",
                 moisture_percent=[16], moisture_logs=["T2-3"], wood_degC=8, crack_at="N", crack_mm=0.4, end="E1",
                 mass_kg=4.2, spent=12.5, spent_on="lime", currency="EUR", who="Aita", note=HOSTILE)  # fmt: skip
    records = records_of(home(full))
    said = [e.said for e in records.entries]
    assert Laid(area=0.8, panel="N", hours=5, people=2) in said
    assert Weather(rain=0.004, lost=1.5) in said
    assert Moisture(share=0.16, log="T2-3", temperature=8) in said
    assert Crack(place="N", width=0.0004) in said
    assert Weighing(end="E1", mass=4.2) in said
    assert Spent(amount=12.5, currency="EUR", what="lime") in said
    assert Cover(covering="sheet", panel="N") in said
    assert Note(words=HOSTILE) in said
    assert {(e.source, e.device, e.who) for e in records.entries} == {("pocket", "phone", "Aita")}
    assert {e.made.isoformat() for e in records.entries} == {"2028-05-14T16:00:00+00:00"}


def test_hours_of_another_trade_are_no_hours_of_laying():
    said = [e.said for e in records_of(home(entry(area_m2=0.4, hours=3, trade="peeling"))).entries]
    assert set(said) == {Laid(area=0.4), Hours(trade="peeling", hours=3)}
    assert len(said) == 2


def test_the_same_file_taken_again_adds_nothing():
    lines = home(entry(area_m2=0.8, note="a"), entry("e2", note="b"))
    again = taken(saved(entry(area_m2=0.8, note="a"), entry("e2", note="b"), entry("e3", note="c")), lines)
    assert (again.known, again.entries, len(again.drafts)) == (2, 1, 1)


def test_a_change_on_the_phone_corrects_adds_and_withdraws_here():
    first = entry(area_m2=0.8, batches=2)
    change = entry("e2", corrects="e1", area_m2=0.7, note="measured again")
    lines = home(first, change)
    said = {type(e.said).__name__: e.said for e in records_of(lines).entries}
    assert said.keys() == {"Laid", "Note"}
    assert said["Laid"].area == 0.7
    second = entry("e3", corrects="e2", area_m2=0.6, batches=3)
    lines = home(second, lines=lines)
    said = {type(e.said).__name__: e.said for e in records_of(lines).entries}
    assert said.keys() == {"Laid", "Batches"}
    laid = next(e.id for e in records_of(lines).entries if isinstance(e.said, Laid))
    assert [line.act for line in history_of(lines, laid)] == ["record", "correction", "correction"]


def test_a_taking_back_on_the_phone_withdraws_all_of_that_entry():
    lines = home(entry(area_m2=0.8, note="x"), entry("e2", withdraws="e1", logs=[]))
    assert not records_of(lines)
    assert [line.act for line in lines] == ["record", "record", "withdrawal", "withdrawal"]


def test_what_was_corrected_at_home_may_still_be_changed_on_the_phone():
    lines = home(entry(area_m2=0.8))
    lines = chained([correction(find_line(lines, lines[0].id)[1], {"area": "0.75 m2"}, HAND)], lines)
    lines = home(entry("e2", corrects="e1", area_m2=0.7), lines=lines)
    assert [e.said.area for e in records_of(lines).entries] == [0.7]


def test_another_building_is_refused_unless_it_was_renamed():
    text = saved(entry(note="x"), project="Sauna")
    (problem,) = taken(text).problems
    assert "Sauna" in problem.message
    assert taken(text, renamed=True).entries == 1
    assert taken(text, project=None).entries == 1


@pytest.mark.parametrize(
    "text",
    ["", "{", "[]", "null", '{"kind": "other"}', saved()[:-20], saved(schema=2), saved(entries=3), "9" * 5000],
    ids=range(9),
)
def test_what_is_no_file_of_entries_is_told(text):
    result = taken(text)
    assert len(result.problems) == 1
    assert result.drafts == ()
    assert result.problems[0].where == "phone.json"


@pytest.mark.parametrize(
    ("told", "field"),
    [
        ({"area_m2": "0.8"}, "area_m2"),
        ({"area_m2": -1}, "area"),
        ({"area_m2": 1e9}, "area"),
        ({"area_m2": float("nan")}, "area_m2"),
        ({"hours": True}, "hours"),
        ({"people": 1.5}, "people"),
        ({"sky": "hail"}, "sky"),
        ({"cover": ["x"]}, "cover"),
        ({"logs": [1]}, "logs"),
        ({"moisture_percent": ["16"]}, "moisture_percent"),
        ({"crack_mm": 0.4}, "place"),
        ({"end": "E1"}, "mass"),
        ({"low_degC": 9, "high_degC": 1}, "low"),
        ({"note": {"a": 1}}, "note"),
        ({"date": "14 May"}, "date"),
        ({"date": None}, "date"),
    ],
    ids=str,
)
def test_one_faulty_entry_is_named_and_the_others_come_home(told, field):
    result = taken(saved(entry(**told), entry("e2", note="fine")))
    assert result.entries == 1
    assert [d.kind for d in result.drafts] == ["note"]
    assert result.problems
    assert result.problems[0].field.startswith("entries[1]")
    assert field in result.problems[0].field


def test_log_ends_waiting_on_the_phone_are_told():
    result = taken(saved(entry(logs=["T1-1"], area_m2=0.1), laid={"T1-1": "t", "T1-2": "t"}))
    assert result.words[0].startswith("1 log ends are marked")


JSON = st.recursive(
    st.none() | st.booleans() | st.floats() | st.integers() | st.text(max_size=8),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=6), inner, max_size=3),
    max_leaves=6,
)
NAMES = st.sampled_from(["id", "made", "date", "area_m2", "logs", "sky", "hours", "moisture_percent", "moisture_logs",
                         "note", "corrects", "withdraws", "people", "cover", "spent", "currency"])  # fmt: skip


@settings(max_examples=80, deadline=None)
@given(st.lists(st.dictionaries(NAMES, JSON, max_size=6).map(lambda d: {**entry("e9"), **d}) | JSON, max_size=4))
def test_whatever_a_file_holds_it_is_taken_or_told_and_never_breaks(entries):
    result = taken(json.dumps({"schema": 1, "kind": "cordwright-diary", "project": "Studio", "entries": entries}))
    lines = chained(result.drafts)
    records_of(lines)
    assert result.entries + result.known + len(result.problems) >= len(entries)
