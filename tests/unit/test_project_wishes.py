"""Wishes and laid logs as the owner writes them: every form, every fault with its place."""

import shutil
from pathlib import Path

import pytest

from cordwright.project.reading import read
from cordwright.project.wishes import Asked
from cordwright.wall.inputs import Band, LaidLog, Lock, Splitting, Swap

WHOLE = """
[layout]
seed = 5
pattern = "large at the bottom"
forbid = ["T01-1", "T01-2"]
laid = "laid.csv"

[layout.splits]
over = "200 mm"
logs = ["T02-1"]
into = "quarter"

[[layout.bands]]
low = "0 m"
high = "0.5 m"
sizes = "large"

[[layout.bands]]
panel = "S"
low = "0.5 m"
high = "1 m"
sizes = "small"

[[layout.locks]]
log = "T03-1"
panel = "S"
from_left = "0.4 m"
height = "0.6 m"

[[layout.swaps]]
log = "T04-1"
other = "T05-1"
"""
LAID = "log,panel,from_left_mm,height_mm,diameter_mm\nT06-1,W,112,110,\nmine,W,320,108.5,186\n"


@pytest.fixture
def project(tmp_path, examples):
    """Writes a copy of the studio with a [layout] and a list of laid logs, and reads it."""

    def make(layout="", laid=None, asked=None):
        folder = tmp_path / "studio"
        shutil.rmtree(folder, ignore_errors=True)
        shutil.copytree(examples["weaving-studio"], folder)
        file = folder / "building.toml"
        file.write_text(file.read_text(encoding="utf-8") + layout, encoding="utf-8")
        if laid is not None:
            (folder / "laid.csv").write_text(laid, encoding="utf-8")
        return read(folder, asked)

    return make


def errors(reading):
    return [f"{Path(p.where).name}:{p.line} {p.field}: {p.message}; {p.hint}" for p in reading.problems]


def test_every_key_is_read(project):
    reading = project(WHOLE, LAID)
    assert [p for p in reading.problems if p.severity == "error"] == []
    wishes = reading.project.wall.wishes
    assert (wishes.seed, wishes.pattern, wishes.forbidden) == (5, "large at the bottom", ("T01-1", "T01-2"))
    assert wishes.splitting == Splitting(over=0.2, logs=("T02-1",), into="quarter")
    assert wishes.bands == (
        Band(low=0.0, high=0.5, sizes="large"),
        Band(panel="S", low=0.5, high=1.0, sizes="small"),
    )
    assert wishes.locks == (Lock(log="T03-1", panel="S", from_left=0.4, height=0.6),)
    assert wishes.swaps == (Swap(log="T04-1", other="T05-1"),)
    assert wishes.laid == (
        LaidLog(log="T06-1", panel="W", from_left=pytest.approx(0.112), height=pytest.approx(0.11)),
        LaidLog(
            log="mine",
            panel="W",
            from_left=pytest.approx(0.32),
            height=pytest.approx(0.1085),
            diameter=pytest.approx(0.186),
        ),
    )
    assert any("laid.csv: 2 rows, delimiter comma, decimal point" in line for line in reading.echo)


def test_what_is_asked_at_the_command_line_is_added_to_the_file(project, tmp_path):
    (tmp_path / "more.csv").write_text("log;panel;from_left_cm;height_cm\nT07-1;W;12,5;31\n", encoding="utf-8")
    asked = Asked(
        seed=9,
        pattern="mixed",
        forbid=("T08-1",),
        locks=("T09-1 S 4 ft 2 in 0.30 m", "T10-1; S; 2 m; 0.3 m"),
        swaps=("T11-1 T12-1", "T13-1; T14-1"),
        laid=(tmp_path / "more.csv",),
    )
    wishes = project(WHOLE, LAID, asked).project.wall.wishes
    assert (wishes.seed, wishes.pattern) == (9, "mixed")
    assert wishes.forbidden == ("T01-1", "T01-2", "T08-1")
    assert [(lock.log, lock.from_left, lock.height) for lock in wishes.locks] == [
        ("T03-1", 0.4, 0.6),
        ("T09-1", pytest.approx(1.27), 0.3),
        ("T10-1", 2.0, 0.3),
    ]
    assert wishes.swaps[1:] == (Swap(log="T11-1", other="T12-1"), Swap(log="T13-1", other="T14-1"))
    assert [row.log for row in wishes.laid] == ["T06-1", "mine", "T07-1"]
    assert wishes.laid[2].from_left == pytest.approx(0.125)


def test_a_fault_of_what_is_asked_names_the_option(project, tmp_path):
    (tmp_path / "more.csv").write_text("log;panel;from_left_cm;height_cm\nT07-1;Q;53,5;11\n", encoding="utf-8")
    asked = Asked(forbid=("T88-1",), locks=("T09-1 X 1 m 1 m",), swaps=("T11-1 T11-1",), laid=(tmp_path / "more.csv",))
    told = errors(project(WHOLE, LAID, asked))
    for start in (
        "--forbid:1 layout.forbid[2]: there is no log T88-1",
        "--lock:1 layout.locks[1].panel: there is no panel X",
        "--swap:1 layout.swaps[1].other: log T11-1 is to change places with itself",
        "more.csv:2 laid[2].panel: there is no panel Q",
    ):
        assert any(line.startswith(start) for line in told), (start, told)


@pytest.mark.parametrize(
    ("asked", "words"),
    [
        (Asked(locks=("T09-1",)), "is no log with its place"),
        (Asked(locks=("T09-1 S 1.2 m",)), "is no log with its place"),
        (Asked(locks=("T09-1 S 1.2 0.4",)), "is no log with its place"),
        (Asked(locks=("T09-1; S; 1.2 m; zero",)), "layout.locks[0].height"),
        (Asked(locks=("T09-1; S; 1.2 m; -1 m",)), "layout.locks[0].height"),
        (Asked(swaps=("T09-1",)), "does not name two logs"),
        (Asked(swaps=("T09-1 T08-1 T07-1",)), "does not name two logs"),
        (Asked(pattern="pretty"), 'layout.pattern: "pretty" is none of the words'),
        (Asked(seed=-1), "layout.seed: -1 is no count"),
        (Asked(laid=(Path("/nowhere/laid.csv"),)), "/nowhere/laid.csv"),
    ],
)
def test_what_cannot_be_read_at_the_command_line_is_a_problem(project, asked, words):
    reading = project(asked=asked)
    assert reading.project is None
    assert any(words in f"{line}" for line in (str(p) for p in reading.problems))


@pytest.mark.parametrize(
    ("old", "new", "field", "words"),
    [
        ("seed = 5", "sede = 5", "layout.sede", "the nearest is seed"),
        ("seed = 5", 'seed = "5"', "layout.seed", "whole number"),
        ("seed = 5", "seed = 5.5", "layout.seed", "whole number"),
        ('"large at the bottom"', '"large on top"', "layout.pattern", "large at the bottom"),
        ('["T01-1", "T01-2"]', '"T01-1"', "layout.forbid", "a list in brackets"),
        ('["T01-1", "T01-2"]', '["T01-1", 7]', "layout.forbid[1]", "not text"),
        ('over = "200 mm"', "over = 200", "layout.splits.over", "mm"),
        ('over = "200 mm"', 'over = "0 mm"', "layout.splits.over", "0"),
        ('"quarter"', '"third"', "layout.splits.into", "half, quarter"),
        ('sizes = "large"', 'sizes = "huge"', "layout.bands[0].sizes", "large, small"),
        ('low = "0 m"', 'low = "-1 m"', "layout.bands[0].low", "negative"),
        ('high = "0.5 m"', "", "layout.bands[0].high", "missing"),
        ('from_left = "0.4 m"', "from_left = 0.4", "layout.locks[0].from_left", "0.4"),
        ('log = "T03-1"', 'log = ""', "layout.locks[0].log", "empty"),
        ('other = "T05-1"', 'othr = "T05-1"', "layout.swaps[0].othr", "the nearest is other"),
        ('laid = "laid.csv"', 'laid = "../laid.csv"', "layout.laid", "folder"),
        ('laid = "laid.csv"', 'laid = "none.csv"', "", "none.csv"),
        ("[layout]", "[layuot]", "layuot", "layout"),
    ],
)
def test_a_fault_in_the_table_has_its_line_and_what_is_allowed(project, old, new, field, words):
    assert old in WHOLE
    reading = project(WHOLE.replace(old, new, 1), LAID)
    assert reading.project is None
    told = errors(reading)
    assert any(f" {field}" in line and words in line for line in told), told


@pytest.mark.parametrize(
    ("laid", "place", "words"),
    [
        ("log,panel,from_left_mm\nT06-1,W,112\n", "laid.csv:1 laid", "there is no column height"),
        ("log,panel,from_left,height\nT06-1,W,112,110 mm\n", "laid.csv:2 laid[0].from_left", "112"),
        ("log,panel,from_left_mm,height_mm\n,W,112,110\n", "laid.csv:2 laid[0].log", "blank"),
        ("log,panel,from_left_mm,height_mm\nT06-1,W,,110\n", "laid.csv:2 laid[0].from_left", "blank"),
        ("log,panel,from_left_mm,height_mm\nT06-1,W,112,-4\n", "laid.csv:2 laid[0].height", "-4"),
        ("log,panel,from_left_mm,hight_mm\nT06-1,W,112,4\n", "laid.csv:1 laid", "height"),
        (
            "log,panel,from_left_mm,height_mm\nT06-1,W,112,110\nT06-1,W,320,110\n",
            "laid.csv:3 laid[1].log",
            "twice",
        ),
        ("log,panel,from_left_mm,height_mm\nT06,W,112,110\n", "laid.csv:2 laid[0].log", "needs its diameter"),
        ("log,panel,from_left_m,height_m\nT06-1,W,112,110\n", "laid.csv:2 laid[0]", "lies outside panel W"),
    ],
)
def test_a_fault_in_the_laid_list_has_its_line(project, laid, place, words):
    told = errors(project('\n[layout]\nlaid = "laid.csv"\n', laid))
    assert any(line.startswith(place) and words in line for line in told), told


@pytest.mark.parametrize(
    "laid",
    [
        "log;panel;from_left_mm;height_mm\nT06-1;W;112,5;110\n",
        "log\tpanel\tfrom_left_cm\theight_cm\nT06-1\tW\t11.25\t11\n",
        "\ufefflog,panel,from_left,height\nT06-1,W,112.5 mm,0.11 m\n",
        "panel,height_m,log,from_left_m\nW,0.11,T06-1,0.1125\n",
    ],
)
def test_every_dialect_of_a_laid_list_is_read_and_echoed(project, laid):
    reading = project('\n[layout]\nlaid = "laid.csv"\n', laid)
    (row,) = reading.project.wall.wishes.laid
    assert (row.log, row.panel, row.diameter) == ("T06-1", "W", None)
    assert (row.from_left, row.height) == (pytest.approx(0.1125), pytest.approx(0.11))
    assert any("laid.csv: 1 rows, delimiter" in line for line in reading.echo)


def test_a_problem_found_later_gets_its_line(project):
    from cordwright.base import Problem

    reading = project(WHOLE, LAID, Asked(swaps=("T11-1 T12-1",)))
    found = [Problem(field=f"layout.swaps[{n}]", message="m", hint="h") for n in (0, 1)]
    first, second = reading.placed(found)
    line = (reading.files[0]).read_text(encoding="utf-8").splitlines()[first.line - 1]
    assert line == "[[layout.swaps]]"
    assert (second.where, second.line) == ("--swap", 1)
