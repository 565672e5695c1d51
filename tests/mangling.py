"""Ways in which an owner's file gets damaged: a slipped key, a lost line, another program's encoding, a wild value."""

import random
import shutil
from collections.abc import Callable
from pathlib import Path

VALUES = (
    '""',
    '"0 mm"',
    '"-1 m"',
    '"1e999 m"',
    '"9999 m"',
    '"1 mm"',
    '"1,200 mm"',
    '"14"',
    "14",
    "-1",
    "0",
    "1.5",
    "nan",
    "inf",
    "true",
    "[]",
    "{}",
    "[[1]]",
    '"300 %"',
    '"0 %"',
    '"100 %"',
    "2027-01-01",
    '"\\u0000"',
    '"é́💧"',
    "'''x'''",
    "1979-05-27T07:32:00Z",
    '"' + "9" * 300 + ' m"',
    "0x" + "f" * 400,
    '"=1+1"',
    '"../../etc/passwd"',
    '"stems.csv"',
    '"building.toml"',
    '"90 deg"',
    '"0.001 mm"',
)
CELLS = (
    "",
    "0",
    "-1",
    "nan",
    "1e308",
    "1,5",
    "1.200,50",
    '"',
    '""""',
    "=1+1",
    "9" * 400,
    "\u2028",
    "x",
    "350 mm",
    "6'10\"",
    "on",
    ";",
    "\t",
    "1.2-1.5 m",
    "0.0001",
    "99999",
    "10000",
)
ALPHABET = "\"'[]{}=,.;#\\\n\r\t 09azé\u00a0\u2028\ufeff💧\x00\x7f"

Mangle = Callable[[random.Random, bytes], bytes]


def flip_bytes(chance: random.Random, content: bytes) -> bytes:
    """A few bytes become others."""
    damaged = bytearray(content)
    for _ in range(chance.randint(1, 8)):
        damaged[chance.randrange(len(damaged))] = chance.randrange(256)
    return bytes(damaged)


def drop_lines(chance: random.Random, content: bytes) -> bytes:
    """Some lines are lost."""
    return b"".join(line for line in content.splitlines(keepends=True) if chance.random() > 0.05)


def repeat_lines(chance: random.Random, content: bytes) -> bytes:
    """Some lines stand twice."""
    return b"".join(line * (2 if chance.random() < 0.05 else 1) for line in content.splitlines(keepends=True))


def swap_lines(chance: random.Random, content: bytes) -> bytes:
    """Two lines change places."""
    lines = content.splitlines(keepends=True)
    a, b = chance.randrange(len(lines)), chance.randrange(len(lines))
    lines[a], lines[b] = lines[b], lines[a]
    return b"".join(lines)


def insert_signs(chance: random.Random, content: bytes) -> bytes:
    """Signs of any kind appear somewhere."""
    place = chance.randrange(len(content))
    return content[:place] + "".join(chance.choices(ALPHABET, k=chance.randint(1, 6))).encode() + content[place:]


def cut_short(chance: random.Random, content: bytes) -> bytes:
    """The end is lost."""
    return content[: chance.randrange(len(content))]


def other_values(chance: random.Random, content: bytes) -> bytes:
    """A few values become wild ones, so that the file stays TOML."""
    lines = content.decode(errors="replace").splitlines()
    for _ in range(chance.randint(1, 3)):
        n = chance.randrange(len(lines))
        key, equals, _ = lines[n].partition(" = ")
        if equals:
            lines[n] = f"{key} = {chance.choice(VALUES)}"
    return "\n".join(lines).encode()


def other_cells(chance: random.Random, content: bytes) -> bytes:
    """A few cells become wild ones."""
    lines = content.decode(errors="replace").splitlines()
    for _ in range(chance.randint(1, 3)):
        n = chance.randrange(len(lines))
        cells = lines[n].split(",")
        cells[chance.randrange(len(cells))] = chance.choice(CELLS)
        lines[n] = ",".join(cells)
    return "\n".join(lines).encode()


ANY: tuple[Mangle, ...] = (flip_bytes, drop_lines, repeat_lines, swap_lines, insert_signs, cut_short)


def mangle(folder: Path, original: Path, seed: int) -> str:
    """Write a damaged copy of an example's folder and tell which file was damaged and how."""
    chance = random.Random(seed)
    shutil.rmtree(folder, ignore_errors=True)
    shutil.copytree(original, folder)
    file = chance.choice(sorted(path.name for path in folder.iterdir() if path.is_file()))
    own = other_values if file.endswith(".toml") else other_cells
    deed = chance.choice((*ANY, own, own, own, own))
    content = deed(chance, (folder / file).read_bytes())
    (folder / file).write_bytes(content)
    return f"seed {seed}: {deed.__name__} in {original.name}/{file}"
