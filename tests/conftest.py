"""What many tests share: where the checkout and its examples stand, and the command line in a process of its own."""

import os
import subprocess
import sys
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1]
EXAMPLES = ("weaving-studio", "bakehouse", "sauna")


@dataclass(frozen=True, slots=True, kw_only=True)
class Run:
    """How one call of the command line ended."""

    code: int
    out: str
    err: str


@pytest.fixture(scope="session")
def root() -> Path:
    """The checkout."""
    return ROOT


@pytest.fixture(scope="session")
def examples() -> dict[str, Path]:
    """The folders of the example projects by name."""
    return {name: ROOT / "examples" / name for name in EXAMPLES}


@pytest.fixture(params=EXAMPLES)
def example(request: pytest.FixtureRequest) -> Path:
    """Each example project's folder in turn."""
    return ROOT / "examples" / request.param


@pytest.fixture(scope="session")
def run_cli() -> Callable[..., Run]:
    """Runs `python -m cordwright ARGS` as its own process: exit code, stdout, stderr."""

    def run(*args: str | Path, cwd: Path | None = None, timeout: float = 60.0) -> Run:
        done = subprocess.run(
            [sys.executable, "-m", "cordwright", *map(str, args)],
            cwd=cwd,
            env=_environment(),
            capture_output=True,
            encoding="utf-8",
            timeout=timeout,
            check=False,
        )
        return Run(code=done.returncode, out=done.stdout, err=done.stderr)

    return run


@pytest.fixture
def run_here(monkeypatch: pytest.MonkeyPatch, capfd: pytest.CaptureFixture[str]) -> Callable[..., Run]:
    """Runs the command line as `run_cli` does, within this process: for what needs no process of its own."""
    from cordwright.cli import main

    def run(*args: str | Path, timeout: float = 60.0) -> Run:
        monkeypatch.setattr(sys, "argv", ["cordwright", *map(str, args)])
        capfd.readouterr()
        code = 0
        try:
            main()
        except SystemExit as end:
            code = end.code if isinstance(end.code, int) else int(end.code is not None)
        sys.stdout.flush()
        sys.stderr.flush()
        told = capfd.readouterr()
        return Run(code=code, out=told.out, err=told.err)

    return run


def _environment() -> dict[str, str]:
    """The caller's environment with a relative PYTHONPATH made absolute, so that it holds from any working folder."""
    paths = [p for p in os.environ.get("PYTHONPATH", "").split(os.pathsep) if p]
    environment = {**os.environ, "PYTHONUTF8": "1"}
    if paths:
        environment["PYTHONPATH"] = os.pathsep.join(str(Path(p).resolve()) for p in paths)
    return environment
