"""Where every command begins and, when the owner stops it, ends: at once, with one line and no half-written file."""

import signal
import sys
from types import FrameType

STOPPED = 130
"""Exit code of a command that was stopped with Ctrl-C, as shells count it."""


class Stop(BaseException):
    """Ctrl-C, as something that no command takes for a fault of its own; files being made are taken back on its way."""


def _stop(_number: int, _frame: FrameType | None) -> None:
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # a second one would disturb the taking back
    raise Stop


def main() -> None:
    """Run the command line and leave with its exit code."""
    signal.signal(signal.SIGINT, _stop)
    try:
        from cordwright.cli import main as run

        run()
    except Stop:
        mark = "\n" if sys.stderr.isatty() else ""  # a terminal has just shown ^C there
        sys.stderr.write(f"{mark}stopped; no half-written file is left\n")
        sys.exit(STOPPED)


if __name__ == "__main__":
    main()
