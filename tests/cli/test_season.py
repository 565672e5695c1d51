"""`cordwright season` as the owner runs it, and what stands under [season] in their file."""

import json

import pytest

from cordwright.project import read


def variant(examples, tmp_path, old, new, name="weaving-studio"):
    import shutil

    folder = tmp_path / name
    shutil.copytree(examples[name], folder, ignore=shutil.ignore_patterns(".cache", "book"))
    file = folder / "building.toml"
    text = file.read_text(encoding="utf-8")
    assert old in text
    file.write_text(text.replace(old, new, 1), encoding="utf-8")
    return folder


def test_the_answer_first_then_the_tables(run_here, examples):
    run = run_here("season", examples["weaving-studio"], "--seasons", "500")
    assert run.code == 0
    lines = run.out.splitlines()
    assert lines[1].startswith("Roof first: all laid by ")
    assert any(line.startswith("walls first, bare") for line in lines)


def test_json_is_alone_on_stdout(run_here, examples):
    run = run_here(
        "season",
        examples["weaving-studio"],
        "--seasons",
        "300",
        "--seed",
        "5",
        "--whole-day",
        "--pace",
        "0.9 m2/day",
        "--json",
    )
    content = json.loads(run.out)
    assert content["schema"] == 1
    assert set(key.partition(".")[0] for key in content["figures"]) == {"season"}
    assert content["figures"]["season.roof_first.closed_p50"]["value"].startswith("2028-07")
    assert content["figures"]["season.hours.laying"]["unit"] == "h"


@pytest.mark.parametrize(
    "options", [("--strategy", "roof last"), ("--pace", "quick"), ("--seed", str(2**63)), ("--seasons", "0")]
)
def test_wrong_use_is_told_in_a_line(run_here, examples, options):
    run = run_here("season", examples["weaving-studio"], *options)
    assert run.code == 2
    assert run.out == ""
    assert len(run.err.strip().splitlines()[-1]) > 20


NASTY = [
    ('days = ["Thu", "Fri", "Sat", "Sun"]', 'days = ["Thursday", "someday"]', "season.days", "no day of the week"),
    ('days = ["Thu", "Fri", "Sat", "Sun"]', 'days = "Sat"', "season.days", "no list of days"),
    ('pace = "0.9 m2/day"', "pace = 0.9", "season.pace", "no pace"),
    ('pace = "0.9 m2/day"', 'pace = "0.9 m2"', "season.pace", "no pace"),
    ('pace = "0.9 m2/day"', 'pace = "900 m2/h"', "season.pace", "m2 laid in an hour"),
    ('pace_spread = "0.35 m2/day"', 'pace_spread = "-1 m2/day"', "season.pace_spread", ""),
    ('strategy = "roof first"', 'strategy = "roof"', "season.strategy", "none of the words"),
    ('rain = "partial day"', 'rain = "some"', "season.rain", "none of the words"),
    ("factor = 1.8", 'factor = "twice"', "season.helpers[0].factor", "no factor"),
    ("start = 2027-01-10", 'start = "soon"', "season.start", "not a date"),
    ("start = 2027-01-10", "start = 9999-01-01", "season.start", "1900 to 2200"),
    ('before = ["laying"]', 'before = ["layers"]', "season.tasks[4].before", "no task"),
    ('hours = "7 h"', "hours = 7", "season.hours", ""),
    ('likely = "9 h"', 'likely = "9 h"\nweekdays = 3', "season.tasks[4].weekdays", "no key"),
]  # fmt: skip


@pytest.mark.parametrize(("old", "new", "field", "words"), NASTY)
def test_what_cannot_be_read_is_named_with_line_and_way_out(  # noqa: PLR0917 - a column of the table each
    examples, tmp_path, old, new, field, words
):
    problems = read(variant(examples, tmp_path, old, new)).problems
    told = [p for p in problems if p.field == field and p.severity == "error"]
    assert told, problems
    assert words in told[0].message
    assert told[0].hint
    assert told[0].line > 1


def test_a_fault_ends_the_check_with_one(run_here, examples, tmp_path):
    run = run_here("check", variant(examples, tmp_path, 'hours = "7 h"', 'hours = "70 h"'))
    assert run.code == 1
    assert "season.hours: 70 h a day; at most 16 h of a day are worked" in run.out + run.err
