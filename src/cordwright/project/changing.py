"""How is one value of building.toml changed without touching anything else the owner wrote?"""

import re
import tomllib
from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Any

from cordwright.base import FileChangedError, InputError, Problem
from cordwright.project.faults import FieldFault, nearest, shown
from cordwright.project.reading import Reading, building_file, digest_of, read_content
from cordwright.project.saving import save_atomically
from cordwright.project.texts import read_bytes

if TYPE_CHECKING:
    from tomlkit import TOMLDocument

BOM = b"\xef\xbb\xbf"


def change(path: Path, key: str, text: str, *, expected: str = "") -> tuple[Problem, ...]:
    """Set one value and save the file; every other line stays byte for byte what it was.

    A change that brings a new error is refused: its problems are given and the file is not touched. After a change
    that is saved, only new warnings are given.

    Args:
        path: the project's folder, or its building.toml.
        key: a key path that stands in the file, `plan.height` or `openings[1].sill`.
        text: the new value as typed; in TOML's own signs where the old one is no text.
        expected: the digest of the file as last read, empty for whatever stands there.

    Raises:
        FileChangedError: the file is not the one read before.
        OSError: the disk refuses.
    """
    file = building_file(path)
    content = read_bytes(file)
    if isinstance(content, tuple):
        return (Problem(field="file", message=content[0], hint=content[1], where=str(file)),)
    if expected and digest_of(content) != expected:
        raise FileChangedError(f"{file} has changed since it was read; read it again, nothing was written")
    old = read_content(file, content)
    if not old.lines:
        return old.problems
    try:
        fresh = changed_content(content, key, text, old.lines)
    except FieldFault as fault:
        line = old.lines.get(key)
        return (Problem(field=key, message=fault.message, hint=fault.hint, where=str(file), line=line),)
    new = _new_problems(old, read_content(file, fresh))
    if any(problem.severity == "error" for problem in new):
        return new
    if read_bytes(file) != content:
        raise FileChangedError(f"{file} has changed while it was being edited; nothing was written")
    save_atomically(file, fresh)
    return new


def _new_problems(old: Reading, new: Reading) -> tuple[Problem, ...]:
    """Those of the changed document that were not there before."""
    before = {(p.field, p.message) for p in old.problems}
    return tuple(p for p in new.problems if (p.field, p.message) not in before)


def changed_content(content: bytes, key: str, text: str, lines: Mapping[str, int]) -> bytes:
    """The file's bytes with one value set.

    Args:
        content: of building.toml.
        key: a key path that stands in it.
        text: the new value as typed.
        lines: line of each key path.

    Raises:
        FieldFault: no such key, a table instead of a value, or a value that cannot be read.
    """
    import tomlkit

    mark = BOM if content.startswith(BOM) else b""
    document = tomlkit.parse(content.removeprefix(BOM).decode("utf-8"))
    if key not in lines:
        raise FieldFault(f"there is no key {shown(key)} in the file", _where_to_write(key, lines))
    *above, last = steps(key)
    holder: Any = document
    for step in above:
        holder = holder[step]
    if isinstance(holder[last], dict):
        raise FieldFault(f"{shown(key)} is a table", "name one of its keys")
    before = _lines_of_value(holder[last])
    holder[last] = _value(text, holder[last])
    fresh = mark + _dumped(document)
    _refuse_spill((content, fresh), lines[key], (before, _lines_of_value(holder[last])))
    return fresh


def _lines_of_value(value: Any) -> int:
    """How many lines a value takes; true and false, which the document gives as such, take one."""
    return 1 if isinstance(value, bool) else int(value.as_string().count("\n")) + 1


def _dumped(document: "TOMLDocument") -> bytes:
    return document.as_string().encode("utf-8")


def _where_to_write(key: str, lines: Mapping[str, int]) -> str:
    table = key.rpartition(".")[0]
    if table in lines:
        return f"write it below line {lines[table]}, or check its name: {nearest(key, _siblings(table, lines))}"
    return nearest(key, [path for path in lines if "." not in path])


def _siblings(table: str, lines: Mapping[str, int]) -> list[str]:
    return [path for path in lines if path.rpartition(".")[0] == table]


def steps(key: str) -> list[str | int]:
    """Cut a key path into names and places: `openings[1].sill` is openings, 1, sill.

    Raises:
        FieldFault: not a key path.
    """
    token = re.compile(r'\.?([A-Za-z0-9_-]+)|\[(\d+)\]|\.?"((?:[^"\\]|\\.)*)"')
    found: list[str | int] = []
    position = 0
    while position < len(key):
        match = token.match(key, position)
        if not match:
            raise FieldFault(f"{shown(key)} is no key path", "write it as in plan.height or openings[1].sill")
        name, place, quoted = match.groups()
        found.append(int(place) if place else re.sub(r"\\(.)", r"\1", quoted) if quoted is not None else name)
        position = match.end()
    return found


def _value(text: str, old: Any) -> Any:
    """The new value: text where text stood, else what TOML reads in it."""
    import tomlkit

    try:
        read = tomllib.loads(f"value = {text}")
    except (tomllib.TOMLDecodeError, RecursionError, ValueError):
        read = {}
    if isinstance(old, str):
        return tomlkit.string(read["value"] if _is_one(read, str) else text)
    if not _is_one(read, object):
        raise FieldFault(
            f"{shown(text)} is no value here", 'write it as in the file: 2, true, 2027-06-07 or ["S", "E"]'
        )
    return tomlkit.value(text.strip())


def _is_one(read: dict[str, Any], kind: type) -> bool:
    return set(read) == {"value"} and isinstance(read["value"], kind)


def _refuse_spill(files: tuple[bytes, bytes], line: int, spans: tuple[int, int]) -> None:
    """Make sure that nothing but the value changed, whatever the editor of the document did.

    Args:
        files: the old and the new bytes.
        line: where the value begins.
        spans: lines it takes in the old and in the new file.

    Raises:
        InputError: other lines would change; nothing was written.
    """
    old, new = (file.split(b"\n") for file in files)
    if old[: line - 1] != new[: line - 1] or old[line - 1 + spans[0] :] != new[line - 1 + spans[1] :]:
        raise InputError(f"line {line} cannot be changed alone; edit the file by hand, nothing was written")
