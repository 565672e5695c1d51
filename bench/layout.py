"""How full, how well rested and how fast is a wall laid, beside other ways to lay the same logs?

Five seeds, each with its own stock, three stocks. Wall with door and window: ours beside a pour and level courses.
Plain wall: ours beside L-BFGS on the same soft discs, sizes not exchanged. Then growth with the wall, an unbroken panel
beside it, and the weaving studio whole as a process. CPU seconds throughout. `layout.py A growth` runs some parts only.
"""

import math
import os
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Sequence
from pathlib import Path

from cordwright.wall.engine import lay_panel
from cordwright.wall.judge import judge
from cordwright.wall.layout import Face, Log, PanelLayout
from layout_peers import FRICTIONS, courses, poured, relaxed
from layout_walls import EDGE, JOINT, LONG, PLAIN, STOCKS, W2, W11, W50, stock_for
from timing import machine

STUDIO = Path(__file__).resolve().parents[1] / "examples" / "weaving-studio"
SEEDS = (1, 2, 3, 4, 5)
WANTED = {"A": 0.982, "B": 0.968, "C": 0.982}


def lay(face: Face, stock: Sequence[Log], seed: int) -> tuple[PanelLayout, float]:
    """One panel laid, and its CPU seconds."""
    started = time.process_time()
    laid = lay_panel(face, stock, joint=JOINT, joint_least=JOINT, joint_largest=JOINT, edge=EDGE, seed=seed)
    return laid, time.process_time() - started


def show(name: str, values: Sequence[float], form: str = "8.3f", note: str = "") -> None:
    """One line of a table: mean, least and most over the seeds."""
    mean, least, most = (format(f(values), form) for f in (statistics.fmean, min, max))
    print(f"  {name:<44} mean {mean}   min {least}   max {most}   {note}", flush=True)


def with_openings(stock: str) -> None:
    """Ours on the wall with door and window, beside a pour and courses."""
    rows, by_size, random = [], [], []
    pours: dict[float, list[float]] = {friction: [] for friction in FRICTIONS}
    violations = 0
    for seed in SEEDS:
        logs = stock_for(W11, stock, seed)
        laid, seconds = lay(W11, logs, seed)
        violations += len(judge(laid, logs, joint=JOINT, joint_least=JOINT, edge=EDGE))
        diameter = statistics.fmean(p.log.diameter for p in laid.placements)
        rows.append((laid.report, len(laid.placements), diameter, seconds))
        ours = laid.report.effectiveness
        for friction, ratios in pours.items():
            ratios.append(ours / poured(W11, logs, seed, friction))
        by_size.append(ours / courses(W11, logs, by_size=True, seed=seed))
        random.append(ours / courses(W11, logs, by_size=False, seed=seed))
    print(f"stock {stock}, 5 x 2.2 m with door and window; rules broken: {violations}")
    show("effectiveness", [r.effectiveness for r, *_ in rows])
    shares = [r.effectiveness / r.reference for r, *_ in rows]
    show("over the finite-wall reference", shares, "8.4f", f"wanted {WANTED[stock]}")
    show("Florian bound", [r.florian_bound for r, *_ in rows])
    show("on fewer than two supports, %", [100 * r.unsupported / n for r, n, *_ in rows], "8.2f")
    show("longest straight run over mean diameter", [r.straight_run / d for r, _, d, _ in rows], "8.2f")
    show("clustering of the largest", [r.clustering for r, *_ in rows], "8.2f")
    show("CPU s", [s for *_, s in rows], "8.2f")
    for friction, ratios in pours.items():
        show(f"effectiveness over the pour's, friction {friction}", ratios)
    show("over courses by size", by_size)
    show("over courses at random", random)


def plain(stock: str) -> None:
    """Ours on the plain wall beside L-BFGS without exchange, in turn."""
    denser, times, seconds = [], [], []
    for seed in SEEDS:
        logs = stock_for(PLAIN, stock, seed)
        laid, ours = lay(PLAIN, logs, seed)
        theirs, took = relaxed(PLAIN, logs, seed)
        denser.append(laid.report.effectiveness / theirs)
        times.append(ours / took)
        seconds.append(ours)
    print(f"stock {stock}, 5 x 2.2 m plain, beside L-BFGS without exchange")
    show("CPU s", seconds, "8.2f")
    show("effectiveness over the peer's", denser, note="wanted 1.06")
    show("CPU time over the peer's", times, "8.2f", "wanted at most 1.5")


def growth(stock: str) -> None:
    """CPU time over area, with openings and in one unbroken panel."""
    areas = {"W2": 1.98, "W11": 11.0, "W50": 49.94, "plain": 11.0, "four times as long": 44.0}
    took = {
        face.name: min(lay(face, stock_for(face, stock, seed), seed)[1] for seed in (1, 2))
        for face in (W2, W11, W50, PLAIN, LONG)
    }
    print(f"stock {stock}, growth; CPU s: " + ", ".join(f"{name} {seconds:.2f}" for name, seconds in took.items()))
    for small, large in (("W2", "W11"), ("W11", "W50"), ("plain", "four times as long")):
        slope = math.log(took[large] / took[small]) / math.log(areas[large] / areas[small])
        print(f"  exponent {small} to {large}: {slope:.2f}", flush=True)


def studio() -> None:
    """The weaving studio whole, as a process, kernels compiled before."""
    with tempfile.TemporaryDirectory() as folder:
        command = [sys.executable, "-m", "cordwright", "lay", str(STUDIO), "-o", folder]
        before = os.times()
        subprocess.run(command, check=True, capture_output=True)
        after = os.times()
    used = after.children_user - before.children_user + after.children_system - before.children_system
    wall_clock = after.elapsed - before.elapsed
    print(f"weaving studio, all panels as a process: CPU {used:.2f} s, wall clock {wall_clock:.2f} s")


def main(parts: Sequence[str]) -> None:
    """Print the tables named: stocks, `growth`, `studio`."""
    machine()
    lay(W2, stock_for(W2, "A"), 1)
    for stock in STOCKS:
        if stock in parts:
            with_openings(stock)
            plain(stock)
    if "growth" in parts:
        growth("A")
    if "studio" in parts:
        studio()


if __name__ == "__main__":
    main(sys.argv[1:] or (*STOCKS, "growth", "studio"))
