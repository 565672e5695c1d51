"""How fast is a record kept, and is any lost under a thousand kills?

The peer writes the same bytes to a plain file and forces them to the disk for each record: the least that any way of
keeping can cost. Kills: a writer is killed at a random moment, again and again, and every record it told as kept is
looked for.
"""

import os
import random
import signal
import sys
import tempfile
import time
from pathlib import Path

from cordwright.project.diary_lines import Draft, chain_fault
from cordwright.project.diary_store import append, read_lines
from timing import interleaved, machine, show, show_ratio

KILLS = 1000
RECORDS = 20
REST = {"act": "record", "of": "", "kind": "note", "day": "2028-05-11", "made": "2028-05-11T18:00:00+00:00", "who": "",
        "source": "cli", "device": "", "said": '{"words": "' + "x" * 300 + '"}', "typed": ""}  # fmt: skip


def main() -> None:
    """Print the times, their ratio, and what the kills left."""
    machine()
    with tempfile.TemporaryDirectory() as folder:
        ours, peer = _times(Path(folder))
        show(f"{RECORDS} records kept one by one", ours)
        show("peer: the same bytes appended, fsync for each", peer)
        show_ratio(ours, peer)
        lost, broken, kept = _killed(Path(folder))
    print(f"kills {KILLS}: records told as kept {kept}, lost {lost}, diaries whose chain broke {broken}")


def _times(folder: Path) -> list[list[float]]:
    diary, plain, count = folder / "times.sqlite", folder / "plain", iter(range(10**9))

    def keep() -> None:
        for _ in range(RECORDS):
            append(diary, [Draft(id=str(next(count)), **REST)])

    def write() -> None:
        for _ in range(RECORDS):
            with plain.open("ab") as out:
                out.write(repr(REST).encode())
                out.flush()
                os.fsync(out.fileno())

    return interleaved(keep, write, rounds=10)


def _killed(folder: Path) -> tuple[int, int, int]:
    diary, told, chance = folder / "killed.sqlite", folder / "told", random.Random(20280511)
    signal.signal(signal.SIGCHLD, signal.SIG_IGN)
    broken = 0
    for kill in range(KILLS):
        child = os.fork()
        if not child:
            _write(diary, told, kill)
        time.sleep(chance.uniform(0, 0.03))
        os.kill(child, signal.SIGKILL)
        _wait(child)
        if kill % 100 == 99:
            broken += chain_fault(read_lines(diary)) is not None
            print(f"  {kill + 1} kills, {len(read_lines(diary))} lines", file=sys.stderr)
    words = told.read_text(encoding="utf-8").split()
    return len(set(words) - {line.id for line in read_lines(diary)}), broken, len(words)


def _write(diary: Path, told: Path, kill: int) -> None:
    out = os.open(told, os.O_WRONLY | os.O_CREAT | os.O_APPEND)
    for n in range(10**9):
        append(diary, [Draft(id=f"{kill}-{n}", **REST)])
        os.write(out, f"{kill}-{n}\n".encode())


def _wait(child: int) -> None:
    while True:
        try:
            os.kill(child, 0)
        except ProcessLookupError:
            return
        time.sleep(0.001)


if __name__ == "__main__":
    main()
