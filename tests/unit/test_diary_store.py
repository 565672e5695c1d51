"""Is nothing that was written down ever lost or changed, whatever happens to the file?"""

import hashlib
import os
import random
import signal
import sqlite3
import subprocess
import sys
import threading
import time
from dataclasses import replace
from pathlib import Path

import pytest

import cordwright
from cordwright.base import CordwrightError, DataError
from cordwright.base.records import Laid
from cordwright.project import diary_store
from cordwright.project.diary_book import correction, find_line, withdrawal
from cordwright.project.diary_lines import chain_fault, head_of, history_of, records_of
from cordwright.project.diary_store import append, read_lines
from diary_samples import HAND, chained, laid, note

KILLS = 100
NURSERY = """
import os, signal, sys
from pathlib import Path
from cordwright.project.diary_lines import Draft
from cordwright.project.diary_store import append
signal.signal(signal.SIGCHLD, signal.SIG_IGN)
rest = dict(act="record", of="", kind="note", day="2028-05-11", made="2028-05-11T18:00:00+00:00", who="", source="cli",
            device="", said='{"words": "' + "x" * 3000 + '"}', typed="")
def write(path, name, told):
    out = os.open(told, os.O_WRONLY | os.O_CREAT | os.O_APPEND)
    for n in range(10**9):
        append(Path(path), [Draft(id=f"{name}-{n}-{part}", **rest) for part in "ab"])
        os.write(out, f"{name}-{n}\\n".encode())
for order in sys.stdin:
    child = os.fork()
    if not child:
        write(*order.split())
    print(child, flush=True)
"""


@pytest.fixture
def path(tmp_path):
    return tmp_path / "diary.sqlite"


def bytes_of(path):
    return hashlib.sha256(path.read_bytes()).hexdigest(), path.stat().st_mtime_ns


def test_a_killed_writer_loses_nothing_that_was_told_as_kept(tmp_path):
    """Writers are killed at random moments, two at a time, each with a diary of its own; the diary lives on."""
    chance = random.Random(20280511)
    environment = {**os.environ, "PYTHONPATH": str(Path(cordwright.__file__).parents[1])}
    paths, told = [tmp_path / "a.sqlite", tmp_path / "b.sqlite"], tmp_path / "told"
    command = [sys.executable, "-S", "-c", NURSERY]
    with subprocess.Popen(
        command, env=environment, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
    ) as nursery:
        for kill in range(KILLS // 2):
            pids = [_born(nursery, path, f"{kill}{path.stem}", told) for path in paths]
            for pid, path in zip(pids, paths, strict=True):
                time.sleep(chance.uniform(0, 0.04))
                os.kill(pid, signal.SIGKILL)
                _wait_for_death(pid)
                _check_whole(path, told)
        nursery.stdin.close()
    lines = sum(len(read_lines(path)) for path in paths)
    assert lines > KILLS, "the kills fell while lines were kept"
    assert lines <= 2 * (len(told.read_text().split()) + KILLS), "at most one deed a kill was kept untold"


def _born(nursery, path, name, told):
    nursery.stdin.write(f"{path} {name} {told}\n")
    nursery.stdin.flush()
    return int(nursery.stdout.readline())


def _wait_for_death(pid):
    for _ in range(2000):
        try:
            os.kill(pid, 0)
        except ProcessLookupError:
            return
        time.sleep(0.001)
    raise AssertionError("the child lives on")


def _check_whole(path, told):
    lines = read_lines(path)
    assert chain_fault(lines) is None
    assert len(lines) % 2 == 0, "both lines of a deed or none"
    words = told.read_text().split() if told.exists() else []
    ids = {f"{word}-{part}" for word in words if word.partition("-")[0].endswith(path.stem) for part in "ab"}
    assert ids <= {line.id for line in lines}


def test_reading_never_changes_the_file_even_where_a_writer_died(path):
    append(path, [laid()])
    for name in ("whole", "cut"):
        if name == "cut":
            _die_while_writing(path)
        before, files = bytes_of(path), sorted(p.name for p in path.parent.iterdir())
        assert [line.kind for line in read_lines(path)] == ["laid"]
        assert bytes_of(path) == before
        assert sorted(p.name for p in path.parent.iterdir()) == files
    append(path, [note("after")])
    assert [line.kind for line in read_lines(path)] == ["laid", "note"]
    assert not Path(f"{path}-journal").exists()


def _die_while_writing(path):
    """Leave a journal that is still to be rolled back, as a process does that is killed while pages go to the disk."""
    script = (
        "import os, sqlite3, sys\n"
        "base = sqlite3.connect(sys.argv[1], isolation_level=None)\n"
        "base.execute('PRAGMA cache_size = 1')\n"
        "base.execute('PRAGMA cache_spill = 1')\n"
        "base.execute('BEGIN IMMEDIATE')\n"
        "for n in range(2, 400):\n"
        "    row = (n, f'x{n}', 'record', '', 'note', '', '', '', '', '', 'y' * 2000, '', '', '')\n"
        "    base.execute('INSERT INTO line VALUES (' + ', '.join('?' * 14) + ')', row)\n"
        "os._exit(9)\n"
    )
    assert subprocess.run([sys.executable, "-c", script, str(path)], check=False).returncode == 9
    assert Path(f"{path}-journal").stat().st_size > 0


def test_there_is_no_diary_before_the_first_record(path):
    assert read_lines(path) == ()
    assert not path.exists()


def test_lines_are_only_ever_added(path):
    append(path, [laid()])
    base = sqlite3.connect(path)
    for deed in ("UPDATE line SET said = '{}'", "DELETE FROM line"):
        with pytest.raises(sqlite3.IntegrityError, match="only added"):
            base.execute(deed)
    base.close()


def test_one_file_holds_it_all_and_a_copy_reads_alike(path, tmp_path):
    append(path, [laid(), note("a")])
    assert [p.name for p in tmp_path.iterdir()] == ["diary.sqlite"]
    copy = tmp_path / "copy.sqlite"
    copy.write_bytes(path.read_bytes())
    assert read_lines(copy) == read_lines(path)
    base = sqlite3.connect(path)
    assert base.execute("PRAGMA journal_mode").fetchone() == ("delete",)
    base.close()


def test_all_or_none_are_kept(path):
    first = laid()
    append(path, [first])
    with pytest.raises(CordwrightError, match="nothing was written"):
        append(path, [note("new"), first])
    assert len(read_lines(path)) == 1


@pytest.mark.parametrize("harm", ["stump", "cut short", "noise", "page"])
def test_a_damaged_diary_is_told_and_left_untouched(path, harm):
    append(path, [note("x" * 3000) for _ in range(20)])
    whole = path.read_bytes()
    damaged = {
        "stump": b"",
        "cut short": whole[: len(whole) // 2],
        "noise": b"not a diary" * 500,
        "page": whole[:4096] + os.urandom(4096) + whole[8192:],
    }[harm]
    path.write_bytes(damaged)
    for deed in (lambda: read_lines(path), lambda: append(path, [laid()])):
        with pytest.raises(DataError, match=r"damaged|empty"):
            deed()
    assert path.read_bytes() == damaged


def test_a_newer_release_and_a_stranger_are_refused_in_words(path):
    append(path, [laid()])
    base = sqlite3.connect(path)
    base.execute("PRAGMA user_version = 2")
    base.commit()
    base.close()
    for deed in (lambda: read_lines(path), lambda: append(path, [laid()])):
        with pytest.raises(DataError, match=r"newer release.*nothing was written"):
            deed()
    path.unlink()
    other = sqlite3.connect(path)
    other.execute("CREATE TABLE other (x)")
    other.close()
    with pytest.raises(DataError, match="no diary"):
        read_lines(path)


def test_another_process_that_holds_the_diary_is_told(path, monkeypatch):
    append(path, [laid()])
    monkeypatch.setattr(diary_store, "PATIENCE", 0.1)
    holder = sqlite3.connect(path, isolation_level=None)
    holder.execute("BEGIN IMMEDIATE")
    with pytest.raises(CordwrightError, match="another process holds"):
        append(path, [laid()])
    assert len(read_lines(path)) == 1
    holder.execute("ROLLBACK")
    holder.close()
    append(path, [laid()])


def test_two_writers_at_once_both_keep_theirs(path):
    def write(name):
        for n in range(10):
            append(path, [replace(note("x"), id=f"{name}{n}")])

    writers = [threading.Thread(target=write, args=(name,)) for name in "ab"]
    for writer in writers:
        writer.start()
    for writer in writers:
        writer.join()
    lines = read_lines(path)
    assert sorted(line.id for line in lines) == sorted(f"{name}{n}" for name in "ab" for n in range(10))
    assert chain_fault(lines) is None


@pytest.mark.parametrize("deed", ["change", "take out", "put in", "exchange"])
def test_tampering_shows(path, deed):
    append(path, [laid(0.5), laid(0.6), laid(0.7)])
    assert chain_fault(read_lines(path)) is None
    base = sqlite3.connect(path)
    for trigger in ("only_added_1", "only_added_2"):
        base.execute(f"DROP TRIGGER {trigger}")
    base.executescript(
        {
            "change": "UPDATE line SET said = '{\"area\": 9.0}' WHERE n = 2;",
            "take out": "DELETE FROM line WHERE n = 2; UPDATE line SET n = 2 WHERE n = 3;",
            "put in": "UPDATE line SET n = 4 WHERE n = 3; INSERT INTO line SELECT 3, 'new', act, of, kind, day, made,"
            " who, source, device, said, typed, before, mark FROM line WHERE n = 2;",
            "exchange": "UPDATE line SET n = 9 WHERE n = 2; UPDATE line SET n = 2 WHERE n = 3;"
            " UPDATE line SET n = 3 WHERE n = 9;",
        }[deed]
    )
    base.commit()
    base.close()
    fault = chain_fault(read_lines(path))
    assert fault is not None
    assert fault.n == (3 if deed == "put in" else 2)


def test_corrections_and_withdrawals_keep_the_history():
    lines = chained([laid(0.62)])
    root = lines[0].id
    made = correction(find_line(lines, root[:6])[1], {"area": "0.71 m2", "hours": "6", "on": "2028-05-12"}, HAND)
    lines = chained([made], lines)
    ((day, said),) = records_of(lines).of(Laid)
    assert (said.area, said.hours, day.day) == (0.71, 6.0, 12)
    lines = chained([withdrawal(find_line(lines, root)[1], "wrong wall", HAND)], lines)
    assert not records_of(lines)
    back = correction(find_line(lines, root)[1], {"hours": ""}, HAND)
    lines = chained([back], lines)
    ((_, said),) = records_of(lines).of(Laid)
    assert (said.area, said.hours) == (0.71, None)
    assert [line.act for line in history_of(lines, root)] == ["record", "correction", "withdrawal", "correction"]
    assert {e.id for e in records_of(lines).entries} == {root}


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"area": "0.71"}, "has no unit"),
        ({"aera": "0.7 m2"}, "has no aera"),
        ({"area": ""}, "neither an area nor log ends"),
        ({"on": "yesterday"}, "is no day"),
        ({"hours": "25"}, "nothing a day brings"),
    ],
)
def test_a_correction_that_cannot_be_is_told(changes, words):
    problems = correction(chained([laid()])[0], changes, HAND)
    assert any(words in str(p) for p in problems)


@pytest.mark.parametrize(("start", "words"), [("ab", "too short"), ("zzzz", "no record"), ("", "too short")])
def test_an_id_that_names_no_one_record_is_told(start, words):
    with pytest.raises(CordwrightError, match=words):
        find_line(chained([laid()]), start)


def test_an_ambiguous_id_is_told():
    two = chained([replace(laid(), id="abcd1" + "0" * 27), replace(laid(), id="abcd2" + "0" * 27)])
    with pytest.raises(CordwrightError, match="2 records begin"):
        find_line(two, "abcd")


def test_the_hash_can_be_reckoned_without_this_tool():
    """The rule that docs/guide.md tells, followed from there."""
    import json

    before = "0" * 64
    lines = chained([laid(), note('§ "quoted" \u2028 Ä')])
    for line in lines:
        told = [before, line.id, line.act, line.of, line.kind, line.day, line.made, line.who, line.source]
        told += [line.device, line.said, line.typed]
        before = hashlib.sha256(json.dumps(told, separators=(",", ":")).encode()).hexdigest()
        assert line.mark == before
    assert head_of(lines) == before
