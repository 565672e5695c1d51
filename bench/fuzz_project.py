"""Does any damage to the owner's files end in a traceback? Many more tries than the tests have time for.

.venv/bin/python bench/fuzz_project.py [TRIES] [FIRST SEED]
"""

import sys
import tempfile
import time
import traceback
from collections import Counter
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(ROOT / "tests"))

from cordwright.project import read  # noqa: E402
from mangling import mangle  # noqa: E402 - found beside the tests

EXAMPLES = sorted(path.parent for path in (ROOT / "examples").glob("*/building.toml"))


def main() -> None:
    """Print how the tries ended, each traceback once by where it arose, and the slowest reading."""
    tries, first = (int(word) for word in (*sys.argv[1:3], *("5000", "1000000")[len(sys.argv) - 1 :]))
    ends: Counter[str] = Counter()
    slowest = (0.0, "")
    with tempfile.TemporaryDirectory() as folder:
        for seed in range(first, first + tries):
            deed = mangle(Path(folder) / "project", EXAMPLES[seed % len(EXAMPLES)], seed)
            start = time.perf_counter()
            ends[_try(Path(folder) / "project", deed, ends)] += 1
            slowest = max(slowest, (time.perf_counter() - start, deed))
    for end, times in ends.most_common():
        print(f"{times:7d}  {end}")
    print(f"slowest reading {slowest[0]:.2f} s, {slowest[1]}")
    sys.exit(any(end.startswith("traceback") for end in ends))


def _try(folder: Path, deed: str, ends: Counter[str]) -> str:
    try:
        reading = read(folder)
    except Exception as fault:  # noqa: BLE001 - whatever it is, it is what is looked for
        place = traceback.extract_tb(fault.__traceback__)[-1]
        end = f"traceback: {type(fault).__name__} in {Path(place.filename).name}:{place.lineno}"
        if end not in ends:
            print(deed, repr(fault)[:200])
        return end
    return "read" if reading.project else "refused"


if __name__ == "__main__":
    main()
