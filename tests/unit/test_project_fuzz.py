"""Does any damage to the owner's files ever end in anything but problems with a place and a way out?"""

from pathlib import Path

import pytest

from cordwright.project import read
from mangling import mangle

ROOT = Path(__file__).resolve().parents[2]
EXAMPLES = sorted(path.parent for path in (ROOT / "examples").glob("*/building.toml"))
TIMES = 500


@pytest.mark.parametrize("part", range(10))
def test_damaged_files_give_problems_and_never_a_traceback(tmp_path, part):
    refused = 0
    for seed in range(part * TIMES // 10, (part + 1) * TIMES // 10):
        deed = mangle(tmp_path / "project", EXAMPLES[seed % len(EXAMPLES)], seed)
        reading = read(tmp_path / "project")
        errors = [p for p in reading.problems if p.severity == "error"]
        assert (reading.project is None) == bool(errors), deed
        assert all(p.where and p.message and p.hint and "\n" not in str(p) for p in reading.problems), deed
        refused += bool(errors)
    assert refused > 10, "the damage is real"
