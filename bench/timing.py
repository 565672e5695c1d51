"""Measuring: many runs, ours and a peer's in turn, so that a busy machine slows both alike."""

import platform
import statistics
import time
from collections.abc import Callable


def seconds(work: Callable[[], object]) -> float:
    """How long one call takes [s]."""
    start = time.perf_counter()
    work()
    return time.perf_counter() - start


def interleaved(*works: Callable[[], object], rounds: int) -> list[list[float]]:
    """Times of each piece of work [s], one of each in every round; a first round is thrown away."""
    for work in works:
        work()
    times: list[list[float]] = [[] for _ in works]
    for _ in range(rounds):
        for kept, work in zip(times, works, strict=True):
            kept.append(seconds(work))
    return times


def show(name: str, times: list[float]) -> None:
    """One line: least, median, most."""
    least, middle, most = (1e3 * v for v in (min(times), statistics.median(times), max(times)))
    print(f"{name:<52} min {least:9.2f} ms   median {middle:9.2f} ms   max {most:9.2f} ms   n {len(times)}")


def show_ratio(ours: list[float], peer: list[float]) -> None:
    """How many times the peer's time ours is."""
    middle = statistics.median(ours) / statistics.median(peer)
    print(f"{'ours over the peer':<52} min {min(ours) / min(peer):9.2f}      median {middle:9.2f}")


def machine() -> None:
    """On what this was measured."""
    print(f"{platform.python_implementation()} {platform.python_version()}, {platform.system()} {platform.machine()}")
