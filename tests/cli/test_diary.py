"""Is a day written down in one line, seen at once in what is left, mended without losing anything, and given out?"""

import csv
import hashlib
import io
import json
import shutil
import subprocess
import sys
from collections import namedtuple

import pypdf
import pytest

from cordwright.cli import main
from cordwright.cli.diary_reading import project_at
from cordwright.project.diary_lines import chain_fault
from cordwright.project.diary_store import read_lines

Run = namedtuple("Run", "code out err")

HOSTILE = '=HYPERLINK("x") <script>alert(1)</script> #read("/etc/passwd") \'; DROP TABLE line; --'


@pytest.fixture(scope="module")
def studio(tmp_path_factory, examples):
    folder = tmp_path_factory.mktemp("diary") / "studio"
    shutil.copytree(examples["weaving-studio"], folder)
    return folder


@pytest.fixture
def bare(tmp_path):
    """A project whose building.toml has an error: what was seen today is written down all the same."""
    (tmp_path / "building.toml").write_text('[project]\nname = "Bare"\n', encoding="utf-8")
    return tmp_path


@pytest.fixture
def run_here(capsys, monkeypatch):
    """Runs the command line in this process, which has its libraries loaded: exit code, stdout, stderr."""

    def run(*args):
        monkeypatch.setattr(sys, "argv", ["cordwright", *map(str, args)])
        project_at.cache_clear()
        capsys.readouterr()
        with pytest.raises(SystemExit) as end:
            main()
        told = capsys.readouterr()
        return Run(code=end.value.code or 0, out=told.out.replace("\u00a0", " "), err=told.err)

    return run


def write_down(run, folder, *words):
    done = run("diary", folder, *words)
    assert done.code == 0, done.err
    return done


def test_the_story_of_three_days(run_here, studio):
    """Written down, the days left come at once; they are in `reckon --json`, and `pace` says whose pace it is."""
    for day, area in ((11, "0.62 m2"), (12, "0.71 m2"), (13, "0,80 m2")):
        run = write_down(run_here, studio, "laid", area, "--panel", "N", "--on", f"2028-05-{day}", "--by", "Aita")
    assert "32,73 m² left to lay: about 45 days of laying for one person (38 to 54, four chances in five)." in run.out
    assert "your own 3 days of laying carry 87 % of it" in run.out
    figures = json.loads(run_here("reckon", studio, "--json", "--no-studies", "--only", "diary").out)["figures"]
    days, pace = figures["diary.days_left"], figures["diary.pace"]
    assert (pace["value"], pace["unit"]) == (pytest.approx(0.729, abs=5e-4), "m2/day")
    assert [days["low"], days["value"], days["high"]] == [pytest.approx(v, abs=0.06) for v in (38.15, 45.33, 53.88)]
    told = run_here("diary", studio, "pace")
    assert "Batches of mortar left: about " in told.out
    assert "log ends at hand for the rest of the wall: short" in told.out


def test_every_kind_is_written_down_and_shown(run_here, bare):
    (bare / "look.jpg").write_bytes(b"picture")
    commands = {
        "laid": ["laid", "6.7 ft2", "--hours", "5 h 30 min", "--people", "2"],
        "batches": ["batches", "3"],
        "weather": [
            "weather",
            "--low",
            "28 degF",
            "--high",
            "9 degC",
            "--rain",
            "4 mm",
            "--sky",
            "rain",
            "--lost",
            "2",
        ],
        "moisture": ["moisture", "16 %", "--log", "T1-3"],
        "weighing": ["weighing", "4.2 kg", "--end", "E1"],
        "crack": ["crack", "0.4 mm", "--at", "N under W2"],
        "spent": ["spent", "84,50 EUR", "lime"],
        "hours": ["hours", "6", "--trade", "roof"],
        "cover": ["cover", "damp cloth"],
        "note": ["note", HOSTILE],
        "photo": ["photo", bare / "look.jpg", "the bed", "--copy"],
    }
    for words in commands.values():
        write_down(run_here, bare, *words, "--on", "2028-05-11")
    shown = json.loads(write_down(run_here, bare, "show", "--json").out)["records"]
    assert sorted(r["kind"] for r in shown) == sorted(commands)
    said = {r["kind"]: r["said"] for r in shown}
    assert said["laid"] == {"area": pytest.approx(0.62245, abs=1e-5), "hours": 5.5, "people": 2}
    assert said["weather"] == {
        "low": pytest.approx(-2.22, abs=0.01),
        "high": 9,
        "rain": 0.004,
        "sky": "rain",
        "lost": 2,
    }
    assert said["spent"] == {"amount": 84.5, "currency": "EUR", "what": "lime"}
    digest = hashlib.sha256(b"picture").hexdigest()
    assert said["photo"] == {"path": f"diary-photos/{digest[:16]}.jpg", "digest": digest, "words": "the bed"}
    assert HOSTILE in run_here("diary", bare, "show", "--kind", "note").out
    (bare / said["photo"]["path"]).write_bytes(b"another")
    run = run_here("diary", bare, "verify")
    assert (run.code, "changed" in run.out) == (1, True)


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["laid", "0.62"], "has no unit: 0.62 m2 or 0.62 ft2?"),
        (["laid"], "neither an area nor log ends are said"),
        (["laid", "0.6 m2", "--hours", "nan"], "cannot be read"),
        (["laid", "0.6 m2", "--people", "1.5"], "no number of people"),
        (["laid", "0.6 m2", "--on", "11.5.2028"], "is no day"),
        (["laid", "0.6 m2", "--on", "1028-05-11"], "no day of this building"),
        (["laid", "900 m2"], "nothing a day brings"),
        (["weather", "--low", "2"], "has no unit: 2 degC or 2 degF?"),
        (["weather", "--low", "9 degC", "--high", "2 degC"], "exchange them"),
        (["weather"], "nothing is said"),
        (["moisture", "16"], "has no per cent sign"),
        (["crack", "0.4 mm"], "place: this is missing"),
        (["spent", "80"], "no sum of money"),
        (["spent", "--", "-80 EUR"], "is negative"),
        (["cover", "tarp"], "allowed: damp cloth"),
        (["photo", "no-such.jpg"], "is no picture"),
        (["batches", "--", "-1"], "is not a number"),
        (["note", " "], "words: this is missing"),
    ],
    ids=str,
)
def test_what_cannot_be_taken_is_told_and_nothing_is_written(run_here, bare, words, told):
    run = run_here("diary", bare, *words)
    assert run.code in (1, 2)
    assert told in run.err
    assert "Traceback" not in run.err
    assert not (bare / "diary.sqlite").exists()


def test_a_panel_or_log_end_that_is_not_there_is_told_with_the_nearest(run_here, studio):
    before = (studio / "diary.sqlite").read_bytes() if (studio / "diary.sqlite").exists() else b""
    run = run_here("diary", studio, "laid", "0.5 m2", "--panel", "Nort")
    assert (run.code, "allowed: S, SE" in run.err) == (1, True)
    run = run_here("diary", studio, "laid", "--logs", "T1-l")
    assert (run.code, 'no log end "T1-l"' in run.err) == (1, True)
    assert ((studio / "diary.sqlite").read_bytes() if before else b"") == before


def test_more_on_a_panel_than_it_has_is_kept_and_told(run_here, studio):
    run = write_down(run_here, studio, "laid", "49 m2", "--panel", "SE", "--on", "2028-05-20")
    assert "49.00 m2 are now laid on panel SE, which has" in run.err
    write_down(run_here, studio, "withdraw", run.out.split()[1])


def test_a_record_is_corrected_withdrawn_and_told(run_here, bare):
    run = write_down(run_here, bare, "laid", "0.62 m2", "--on", "2028-05-11")
    record = run.out.split()[1]
    write_down(run_here, bare, "correct", record, "area=0.71 m2", "hours=6")
    write_down(run_here, bare, "withdraw", record, "--because", "wrong wall")
    assert "nothing is written down yet" in write_down(run_here, bare, "show").out
    told = write_down(run_here, bare, "history", record).out.splitlines()
    assert [line.split()[1] for line in told] == ["record", "correction", "withdrawal"]
    assert "wrong wall" in told[-1]
    write_down(run_here, bare, "correct", record, "on=2028-05-12")
    assert "2028-05-12" in write_down(run_here, bare, "show").out
    assert run_here("diary", bare, "correct", record, "area").code == 2
    assert run_here("diary", bare, "withdraw", "0000000").code == 2


def test_entries_come_home_from_a_file_and_as_pasted_text(run_here, bare, monkeypatch):
    entry = {"id": "e", "made": "2028-05-14T16:00:00Z", "date": "2028-05-14", "area_m2": 0.8, "note": HOSTILE}
    content = {"schema": 1, "kind": "cordwright-diary", "project": "Bare", "laid": {}, "entries": [entry]}
    file = bare / "phone.json"
    file.write_text(json.dumps(content), encoding="utf-8")
    assert "1 entries taken home as 2 records; 0 were here already" in write_down(run_here, bare, "take", file).out
    monkeypatch.setattr(sys, "stdin", io.StringIO(file.read_text(encoding="utf-8")))
    assert "0 entries taken home as 0 records; 1 were here already" in write_down(run_here, bare, "take", "-").out
    file.write_text("{", encoding="utf-8")
    run = run_here("diary", bare, "take", file)
    assert (run.code, "a part of it is missing" in run.err) == (1, True)


def test_the_diary_is_given_out_with_hashes_and_no_formula(run_here, studio, tmp_path):
    write_down(run_here, studio, "note", HOSTILE, "--on", "2028-05-14")
    run = write_down(run_here, studio, "export", "-o", tmp_path / "out")
    head = run.out.split()[-1]
    sums = dict(line.split()[::-1] for line in (tmp_path / "out" / "diary.sha256").read_text().splitlines())
    assert sorted(sums) == ["diary.csv", "diary.json", "diary.pdf"]
    for name, digest in sums.items():
        assert hashlib.sha256((tmp_path / "out" / name).read_bytes()).hexdigest() == digest
    rows = list(csv.reader(io.StringIO((tmp_path / "out" / "diary.csv").read_text(encoding="utf-8"))))
    assert not [cell for row in rows for cell in row if cell.startswith(("=", "+", "-", "@", "\t", "\r"))]
    assert any(cell == f"'{HOSTILE}" for row in rows for cell in row)
    content = json.loads((tmp_path / "out" / "diary.json").read_text(encoding="utf-8"))
    assert (content["hash"], len(content["lines"])) == (head, len(rows) - 1)
    text = "".join(p.extract_text() for p in pypdf.PdfReader(tmp_path / "out" / "diary.pdf").pages)
    assert HOSTILE.replace(" ", "")[:30] in "".join(text.replace("\u200b", "").split())
    assert "root:x:0" not in text
    assert run_here("diary", studio, "verify", "--hash", head).code == 0
    assert run_here("diary", studio, "verify", "--hash", "f" * 64).code == 1


def test_papers_for_helpers_and_for_the_year(run_here, studio, tmp_path):
    run = write_down(run_here, studio, "helpers", "--people", "4", "--until", "17:00")
    assert "stop mixing at 14:00 (15:00 by the shorter habit; read the bag)" in run.out
    assert "stop laying at 16:30" in run.out
    write_down(run_here, studio, "crack", "0.4 mm", "--at", "N under W2", "--on", "2029-05-11")
    assert "crack at N under W2: 0,4 mm" in write_down(run_here, studio, "year").out
    for name in ("helpers", "year"):
        path = tmp_path / f"{name}.pdf"
        write_down(run_here, studio, name, "-o", path)
        assert "Not reviewed by an engineer" in pypdf.PdfReader(path).pages[0].extract_text()
    for wrong in (["--until", "25:00"], ["--hours", "x"], ["--hours", "0"], ["--cover-up", "9 h"]):
        run = run_here("diary", studio, "helpers", *wrong)
        assert run.code == 2, wrong
        assert "Traceback" not in run.err


def test_a_damaged_diary_stops_every_command_in_words_and_stays(run_here, bare):
    (bare / "diary.sqlite").write_bytes(b"not a diary" * 500)
    for words in (["show"], ["note", "x"], ["verify"]):
        run = run_here("diary", bare, *words)
        assert run.code == 2
        assert "damaged" in run.err
        assert "Traceback" not in run.err
    assert (bare / "diary.sqlite").read_bytes() == b"not a diary" * 500


def test_two_command_lines_at_once_keep_both_records(bare):
    command = [sys.executable, "-m", "cordwright", "diary", str(bare), "note"]
    writers = [subprocess.Popen([*command, word], stdout=subprocess.DEVNULL) for word in "ab"]
    assert [w.wait(60) for w in writers] == [0, 0]
    lines = read_lines(bare / "diary.sqlite")
    assert len(lines) == 2
    assert chain_fault(lines) is None
