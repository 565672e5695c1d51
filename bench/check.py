"""Does `cordwright check` answer in half a second, and how does it stand beside a bare import of three libraries?

Ours and the peer are whole processes of the same interpreter, one after the other in every round.
"""

import subprocess
import sys
from pathlib import Path

from timing import interleaved, machine, show, show_ratio

STUDIO = Path(__file__).resolve().parents[1] / "examples" / "weaving-studio"
OURS = [sys.executable, "-m", "cordwright", "check", str(STUDIO)]
PEER = [sys.executable, "-c", "import numpy, pydantic, pint"]


def main() -> None:
    """Print both times and their ratio."""
    machine()
    ours, peer = interleaved(lambda: _run(OURS), lambda: _run(PEER), rounds=12)
    show("cordwright check examples/weaving-studio", ours)
    show('peer: python -c "import numpy, pydantic, pint"', peer)
    show_ratio(ours, peer)


def _run(command: list[str]) -> None:
    subprocess.run(command, check=True, capture_output=True)


if __name__ == "__main__":
    main()
