"""What text stands in the owner's file, or why can it not be read?"""

from pathlib import Path, PurePosixPath, PureWindowsPath
from typing import Final

from cordwright.base import Problem
from cordwright.project.faults import shown

LARGEST: Final = 4_000_000
"""Bytes of the largest file that is read; a building of ten thousand stems needs a tenth of it."""

Refusal = tuple[str, str]
"""What is wrong and what to do."""


def read_bytes(path: Path) -> bytes | Refusal:
    """Read a file whole, or say why not."""
    try:
        if path.is_dir():
            return "this is a folder", "name a file of text"
        if not path.is_file():
            return ("this is no file of text", "name a plain file") if path.exists() else _absent(path)
        if path.stat().st_size > LARGEST:
            return f"the file is larger than {LARGEST / 1e6:g} MB", "look whether this is the file you mean"
        return path.read_bytes()
    except (OSError, ValueError) as refusal:
        reason = refusal.strerror if isinstance(refusal, OSError) else None
        return f"the file cannot be read ({reason or 'its name is none'})", "look at its name and its permissions"


def _absent(path: Path) -> Refusal:
    return f"there is no file {path.name}", "make it or correct the name; `cordwright start FOLDER` makes a project"


def as_text(content: bytes) -> str | tuple[str, str, int]:
    """Read UTF-8 with or without a byte order mark; else what is wrong, what to do, and the line."""
    if content.startswith((b"\xff\xfe", b"\xfe\xff")):
        return "the file is written in UTF-16", "save it as UTF-8", 1
    if b"\0" in content:
        line = content.count(b"\n", 0, content.index(b"\0")) + 1
        return "a zero byte stands here: this is no text", "save it as plain text in UTF-8", line
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError as fault:
        line = content.count(b"\n", 0, fault.start) + 1
        return f"byte 0x{content[fault.start]:02x} is not UTF-8", "save the file as UTF-8", line


def read_text(path: Path, where: str) -> tuple[str | None, tuple[Problem, ...]]:
    """Read a file as text.

    Args:
        path: the file.
        where: its name in messages.
    """
    content = read_bytes(path)
    if isinstance(content, tuple):
        return None, (Problem(field="file", message=content[0], hint=content[1], where=where),)
    return text_of(content, where)


def text_of(content: bytes, where: str) -> tuple[str | None, tuple[Problem, ...]]:
    """Read bytes as text, or say on which line they are none."""
    text = as_text(content)
    if isinstance(text, str):
        return text, ()
    message, hint, line = text
    return None, (Problem(field="file", message=message, hint=hint, where=where, line=line),)


def inner_path_fault(name: str) -> Refusal | None:
    """Refuse a path that leads out of the project's folder, on any platform."""
    inside = "name a file inside the project's folder, for example stems.csv"
    windows, posix = PureWindowsPath(name), PurePosixPath(name)
    if not name.strip() or "\0" in name or len(name) > 255:
        return f"{shown(name)} names no file", inside
    if windows.is_absolute() or posix.is_absolute() or windows.drive or windows.root:
        return f"{shown(name)} is a place on this computer, not in the project", inside
    if ".." in windows.parts or ".." in posix.parts:
        return f"{shown(name)} leads out of the project's folder", inside
    return None
