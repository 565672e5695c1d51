"""Is the file whole, old or new, whatever moment the work is cut off?"""

import os
import random
import subprocess
import sys
import time
from pathlib import Path

import pytest

import cordwright
from cordwright.project.saving import save_atomically

KILLS = 100
CHILD = """
import sys
from pathlib import Path
from cordwright.project.saving import save_atomically
target = Path(sys.argv[1])
for n in range(10**9):
    save_atomically(target, bytes([65 + n % 26]) * 200_000 + b"end")
    if n == 0:
        print("on", flush=True)
"""


def test_a_killed_save_leaves_the_old_or_the_new_file_whole(tmp_path):
    """Two children at a time; each is killed at a random moment while it saves again and again."""
    chance = random.Random(20270607)
    environment = {**os.environ, "PYTHONPATH": str(Path(cordwright.__file__).parents[1])}
    seen = set()
    for _ in range(KILLS // 2):
        files = [tmp_path / "a.toml", tmp_path / "b.toml"]
        children = [
            subprocess.Popen([sys.executable, "-S", "-c", CHILD, str(file)], env=environment, stdout=subprocess.PIPE)
            for file in files
        ]
        for child in children:
            assert child.stdout is not None
            assert child.stdout.readline() == b"on\n"
        for child, file in zip(children, files, strict=True):
            time.sleep(chance.uniform(0, 0.01))
            child.kill()
            child.communicate()
            content = file.read_bytes()
            assert content == content[:1] * 200_000 + b"end"
            seen.add(content[:1])
    assert len(seen) > 1, "the kills fell at different moments"


def test_a_new_file_is_written(tmp_path):
    save_atomically(tmp_path / "new.toml", b"a\r\n")
    assert (tmp_path / "new.toml").read_bytes() == b"a\r\n"
    assert [p.name for p in tmp_path.iterdir()] == ["new.toml"]


@pytest.mark.parametrize("mode", [0o600, 0o644, 0o664])
def test_permissions_are_kept(tmp_path, mode):
    path = tmp_path / "building.toml"
    path.write_bytes(b"old")
    path.chmod(mode)
    before = path.stat().st_mode
    save_atomically(path, b"new")
    assert path.stat().st_mode == before
    assert path.read_bytes() == b"new"


def test_a_link_is_followed_and_stays_a_link(tmp_path):
    target, link = tmp_path / "kept" / "building.toml", tmp_path / "building.toml"
    target.parent.mkdir()
    target.write_bytes(b"old")
    link.symlink_to(target)
    save_atomically(link, b"new")
    assert link.is_symlink()
    assert target.read_bytes() == b"new"


def test_a_refused_save_leaves_nothing_behind(tmp_path, monkeypatch):
    path = tmp_path / "building.toml"
    path.write_bytes(b"old")

    def full(_handle):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(OSError, match="No space"):
        save_atomically(path, b"new")
    assert path.read_bytes() == b"old"
    assert [p.name for p in tmp_path.iterdir()] == ["building.toml"]
