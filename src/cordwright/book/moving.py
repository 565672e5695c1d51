"""How do finished files come into the owner's folder? Made beside it, then all moved in, or none."""

from collections.abc import Sequence
from contextlib import suppress
from pathlib import Path


def move_in(made: Sequence[Path], folder: Path, beside: Path, stale: Sequence[Path] = ()) -> None:
    """Set the old files aside, move the new ones in; if any of it fails or is stopped, put everything back.

    Args:
        made: finished files.
        folder: where they go.
        beside: a folder on the same disk where old files can wait.
        stale: files in the folder that are no longer true.

    Raises:
        OSError: the disk refuses; the folder is then as it was.
    """
    aside = beside / "aside"
    aside.mkdir()
    moved: list[tuple[Path, Path]] = []
    try:
        for old in (*stale, *(folder / p.name for p in made)):
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
