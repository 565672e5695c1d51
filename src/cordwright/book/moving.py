"""How does a finished book come into the owner's folder? As a whole: the old folder makes way for the new in one step.

The new folder is made beside the old. Two renames put it there; a computer that stops between them leaves the old book
whole beside its place, and the next book brings it back first. A folder in which the owner keeps files of their own is
not exchanged: there the finished files are moved in one by one, and put back if any of it fails.
"""

import os
import shutil
import tempfile
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager, suppress
from pathlib import Path
from time import time
from typing import Final

ASIDE: Final = "before"
NEW: Final = "new"
LEFTOVER_AGE: Final = 3600.0
"""What a stopped run left beside the book is cleared away after so long [s]: no run takes an hour."""


def prefix_of(folder: Path) -> str:
    """How the folders are named in which a book is made, beside its own."""
    return f".{folder.name}-"


@contextmanager
def making(folder: Path) -> Iterator[Path]:
    """A folder beside the book's own to make it in; what a stopped run left is put right first.

    Raises:
        OSError: the disk refuses.
    """
    folder.parent.mkdir(parents=True, exist_ok=True)
    put_right(folder)
    with tempfile.TemporaryDirectory(prefix=prefix_of(folder), dir=folder.parent) as beside:
        yield Path(beside)


def put_right(folder: Path) -> None:
    """Bring back the book that a stopped run had set aside, and clear away what else such runs left."""
    for left in sorted(folder.parent.glob(f"{prefix_of(folder)}*")):
        before = left / ASIDE
        if before.is_dir() and not folder.exists():
            before.replace(folder)
        with suppress(OSError):
            if time() - left.stat().st_mtime > LEFTOVER_AGE:
                shutil.rmtree(left)


def nobodys(_path: Path) -> bool:
    """No file in the folder is of an earlier book."""
    return False


def move_in(made: Sequence[Path], folder: Path, beside: Path, ours: Callable[[Path], bool] = nobodys) -> None:
    """Put the finished files in the book's folder, all or none.

    Args:
        made: finished files.
        folder: where they go.
        beside: a folder on the same disk, empty but for the files made.
        ours: whether a file in the folder is of an earlier book; what is not made again then goes.

    Raises:
        OSError: the disk refuses; the folder is then as it was.
    """
    if not _exchangeable(folder, {path.name for path in made}, ours):
        folder.mkdir(exist_ok=True)
        stale = [p for p in sorted(folder.iterdir()) if p.is_file() and ours(p)]
        _one_by_one(made, folder, beside, stale)
        return
    new = beside / NEW
    new.mkdir()
    for path in made:
        path.replace(new / path.name)
    _exchange(new, folder, beside / ASIDE)


def _exchangeable(folder: Path, names: set[str], ours: Callable[[Path], bool]) -> bool:
    """Whether the folder may make way: no link, nobody's place of work, and nothing in it but an earlier book."""
    if not folder.exists():
        return True
    if folder.is_symlink() or os.path.ismount(folder) or Path.cwd().resolve().is_relative_to(folder.resolve()):
        return False
    return all(p.is_file() and not p.is_symlink() and (p.name in names or ours(p)) for p in folder.iterdir())


def _exchange(new: Path, folder: Path, aside: Path) -> None:
    there = folder.exists()
    if there:
        folder.replace(aside)
    try:
        new.replace(folder)
    except BaseException:
        if there:
            aside.replace(folder)
        raise


def _one_by_one(made: Sequence[Path], folder: Path, beside: Path, stale: Sequence[Path]) -> None:
    """Set the old files aside, move the new ones in; if any of it fails or is stopped, put everything back."""
    aside = beside / "aside"
    aside.mkdir()
    moved: list[tuple[Path, Path]] = []
    try:
        for old in dict.fromkeys((*stale, *(folder / p.name for p in made))):
            if old.exists():
                _move(old, aside / old.name, moved)
        for new in made:
            _move(new, folder / new.name, moved)
    except BaseException:
        for source, target in reversed(moved):
            with suppress(OSError):
                target.replace(source)
        raise


def _move(source: Path, target: Path, moved: list[tuple[Path, Path]]) -> None:
    moved.append((source, target))
    source.replace(target)
