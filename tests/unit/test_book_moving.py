"""Is the book's folder always one whole book, the old or the new, whatever stops the work in between?"""

import os
import random
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from cordwright.book import moving
from cordwright.book.moving import ASIDE, making, move_in, put_right

FILES = 40
CHILD = """
import importlib.util, sys
from pathlib import Path
spec = importlib.util.spec_from_file_location("moving", sys.argv[2])  # alone: the whole book is long to load
moving = importlib.util.module_from_spec(spec)
spec.loader.exec_module(moving)
making, move_in = moving.making, moving.move_in
folder, n = Path(sys.argv[1]), 0
print("ready", flush=True)
while True:
    n += 1
    with making(folder) as beside:
        made = [beside / f"{k}.txt" for k in range(int(sys.argv[3]))]
        for path in made:
            path.write_text(str(n) * 2000)
        move_in(made, folder, beside, lambda path: True)
"""


def write(folder, words, ours=lambda path: path.suffix == ".txt"):
    with making(folder) as beside:
        made = [beside / f"{k}.txt" for k in range(FILES)]
        for path in made:
            path.write_text(words, encoding="utf-8")
        move_in(made, folder, beside, ours)


def state(folder):
    return {p.name: p.read_text(encoding="utf-8") for p in folder.iterdir()}


def test_a_killed_book_leaves_the_old_or_the_new_whole(tmp_path):
    """A child makes book upon book; each is killed at a random moment, and its folder looked at."""
    chance, seen = random.Random(4), set()
    for turn in range(8):
        home = tmp_path / str(turn)
        home.mkdir()
        folder = home / "book"
        write(folder, "first")
        child = subprocess.Popen(
            [sys.executable, "-S", "-c", CHILD, str(folder), moving.__file__, str(FILES)], stdout=subprocess.PIPE
        )
        assert child.stdout.readline() == b"ready\n"
        time.sleep(chance.uniform(0.0, 0.12))
        child.send_signal(signal.SIGKILL if os.name == "posix" else signal.SIGTERM)
        child.wait()
        child.stdout.close()
        put_right(folder)
        found = state(folder)
        assert len(found) == FILES
        assert len(set(found.values())) == 1, "files of two books stand side by side"
        seen |= set(found.values())
    assert len(seen) > 1, "the kills fell at different moments"


def test_a_book_set_aside_by_a_stopped_run_comes_back(tmp_path):
    folder = tmp_path / "book"
    write(folder, "first")
    left = tmp_path / ".book-stopped"
    left.mkdir()
    folder.replace(left / ASIDE)
    put_right(folder)
    assert set(state(folder).values()) == {"first"}
    os.utime(left, (0, 0))
    put_right(folder)
    assert [p.name for p in tmp_path.iterdir()] == ["book"]


def test_what_a_run_of_this_hour_has_beside_it_is_left_alone(tmp_path):
    folder = tmp_path / "book"
    write(folder, "first")
    busy = tmp_path / ".book-busy"
    busy.mkdir()
    put_right(folder)
    assert busy.is_dir()


def test_an_exchange_that_fails_brings_the_old_folder_back(tmp_path, monkeypatch):
    folder = tmp_path / "book"
    write(folder, "first")
    replace = Path.replace

    def stubborn(self, target):
        if self.name == "new":
            raise PermissionError(13, "no")
        return replace(self, target)

    monkeypatch.setattr(Path, "replace", stubborn)
    with pytest.raises(PermissionError):
        write(folder, "second")
    assert set(state(folder).values()) == {"first"}
    assert [p.name for p in tmp_path.iterdir()] == ["book"]


def test_a_folder_with_the_owners_own_files_is_never_exchanged(tmp_path):
    folder = tmp_path / "book"
    write(folder, "first")
    (folder / "mine.odt").write_text("mine", encoding="utf-8")
    (folder / "photos").mkdir()
    (folder / "photos" / "one.jpg").write_text("picture", encoding="utf-8")
    (folder / "old.txt").write_text("of the first book", encoding="utf-8")
    mark = folder.stat().st_ino
    write(folder, "second")
    assert folder.stat().st_ino == mark
    assert (folder / "mine.odt").read_text(encoding="utf-8") == "mine"
    assert (folder / "photos" / "one.jpg").read_text(encoding="utf-8") == "picture"
    assert not (folder / "old.txt").exists()
    assert (folder / "0.txt").read_text(encoding="utf-8") == "second"


def test_a_folder_in_which_one_stands_is_never_exchanged(tmp_path, monkeypatch):
    folder = tmp_path / "book"
    write(folder, "first")
    monkeypatch.chdir(folder)
    write(Path("../book"), "second")
    assert Path.cwd() == folder
    assert set(state(Path()).values()) == {"second"}


def test_a_link_to_a_folder_stays_a_link(tmp_path):
    real, link = tmp_path / "real", tmp_path / "book"
    real.mkdir()
    link.symlink_to(real)
    write(link, "first")
    assert link.is_symlink()
    assert set(state(real).values()) == {"first"}
