"""Where is a picture, and is it still the one that was recorded? Its path and the hash of its bytes."""

import hashlib
import os
import shutil
from pathlib import Path
from typing import Final

from cordwright.base import Problem

FOLDER: Final = "diary-photos"
LARGEST: Final = 200_000_000


def photo_words(folder: Path, path: Path, *, copy: bool) -> dict[str, str] | Problem:
    """The fields of a photo's record.

    Args:
        folder: the project's.
        path: the picture.
        copy: whether it is copied into the project, under a name made of its hash, so that no other takes its place.
    """
    try:
        if not path.is_file() or path.stat().st_size > LARGEST:
            hint = f"name a picture of at most {LARGEST / 1e6:g} MB"
            return Problem(field="photo", message=f"{path} is no picture", hint=hint, where="command line")
        digest = hashlib.sha256(path.read_bytes()).hexdigest()
        kept = _copied(folder, path, digest) if copy else path
        return {"path": _seen_from(folder, kept), "digest": digest}
    except OSError as fault:
        message = f"{path} cannot be read or copied ({fault.strerror or fault})"
        return Problem(field="photo", message=message, hint="look at its permissions", where="command line")


def _copied(folder: Path, path: Path, digest: str) -> Path:
    target = folder / FOLDER / f"{digest[:16]}{path.suffix.lower()[:10]}"
    target.parent.mkdir(exist_ok=True)
    if not target.exists():
        part = target.with_name(f".{target.name}.part")
        shutil.copyfile(path, part)
        with part.open("rb+") as copied:
            os.fsync(copied.fileno())
        part.replace(target)
    return target


def _seen_from(folder: Path, path: Path) -> str:
    """The path from the project's folder where it lies in it, else whole."""
    whole, root = path.resolve(), folder.resolve()
    return whole.relative_to(root).as_posix() if whole.is_relative_to(root) else str(whole)


def photo_state(folder: Path, path: str, digest: str) -> str:
    """What became of a recorded picture: there as recorded, changed, or gone.

    Args:
        folder: the project's.
        path: as recorded.
        digest: the SHA-256 of its bytes as recorded.
    """
    place = folder / path
    if not place.is_file():
        return "gone"
    return "as recorded" if hashlib.sha256(place.read_bytes()).hexdigest() == digest else "changed"
