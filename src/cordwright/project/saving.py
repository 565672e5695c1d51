"""How is a file written so that it is never lost, whatever moment the power fails?

A new file is written whole beside the old one, forced to the disk, and then takes its name in one step.
"""

import contextlib
import os
import tempfile
from pathlib import Path


def save_atomically(path: Path, content: bytes) -> None:
    """Write a file so that at any moment either the old or the new one stands there whole.

    A link is followed, so that the file it points to is renewed. Permissions stay as they were.

    Args:
        path: the file; its folder exists.
        content: all of its bytes.

    Raises:
        OSError: the folder or the disk refuses; the old file then stands untouched.
    """
    target = Path(os.path.realpath(path))
    handle, name = tempfile.mkstemp(prefix=f".{target.name}.", suffix=".part", dir=target.parent)
    fresh = Path(name)
    try:
        with os.fdopen(handle, "wb") as out:
            out.write(content)
            out.flush()
            os.fsync(out.fileno())
        fresh.chmod(_permissions(target))
        fresh.replace(target)
    except BaseException:
        fresh.unlink(missing_ok=True)
        raise
    _settle(target.parent)


def _permissions(target: Path) -> int:
    """The old file's permission bits, or those of any new file in this process."""
    try:
        return target.stat().st_mode & 0o7777
    except FileNotFoundError:
        return 0o644


def _settle(folder: Path) -> None:
    """Force the folder's own entry to the disk where the platform lets a folder be opened."""
    with contextlib.suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
