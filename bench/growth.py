"""Does the time grow in proportion to the stems and to the openings, or faster?

The weaving studio's case is made larger: its stems over and over, or its openings over and over along one long wall.
The exponent is the slope of log time over log count by least squares; 1 is proportional, 2 is every one against every
other. As a peer, the same sweep of sorting a hundred numbers a stem, whose exponent is known to be just over 1, shows
how straight this machine measures.
"""

import math
import random
import statistics
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

from cordwright.case import Project
from cordwright.plan import PolygonOutline, find_faults, reckon_plan
from cordwright.project import read
from cordwright.reckon import reckon
from timing import machine, seconds

STUDIO = Path(__file__).resolve().parents[1] / "examples" / "weaving-studio"
STEMS = (50, 150, 500, 1500, 5000)
OPENINGS = (5, 15, 50, 150, 500)
REPEATS = 3


def exponent(counts: list[int], times: list[float]) -> float:
    """Slope of log time over log count by least squares."""
    x, y = [math.log(n) for n in counts], [math.log(t) for t in times]
    middle_x, middle_y = statistics.fmean(x), statistics.fmean(y)
    rise = sum((a - middle_x) * (b - middle_y) for a, b in zip(x, y, strict=True))
    return rise / sum((a - middle_x) ** 2 for a in x)


def with_stems(project: Project, count: int) -> Project:
    """The same building with this many stems."""
    own = project.timber.stems
    stems = tuple(replace(own[i % len(own)], name=f"S{i}") for i in range(count))
    return replace(project, timber=replace(project.timber, stems=stems))


def with_openings(project: Project, count: int) -> Project:
    """A long house of the same wall with this many windows, one a metre along its south wall."""
    length, width = 1.0 * count + 2.0, 5.0
    outline = PolygonOutline(corners=((0.0, 0.0), (length, 0.0), (length, width), (0.0, width)))
    window = next(o for o in project.plan.openings if o.use == "window")
    openings = tuple(
        replace(window, id=f"W{i}", panel="S", width=0.5, from_left=0.5 + i, lintel_depth=None, lintel_bearing=None)
        for i in range(count)
    )
    plan = replace(
        project.plan,
        outline=outline,
        side_names=("S", "E", "N", "W"),
        panels=(),
        openings=openings,
        sleeves=(),
        bottles=(),
    )
    return replace(project, plan=plan)


def sweep(name: str, counts: tuple[int, ...], make: Callable[[int], Callable[[], object]]) -> None:
    """Measure one thing at every size and print its exponent, over all sizes and over the larger half."""
    times = []
    for count in counts:
        work = make(count)
        times.append(min(seconds(work) for _ in range(REPEATS)))
    told = "  ".join(f"{n}: {1e3 * t:.1f} ms" for n, t in zip(counts, times, strict=True))
    upper = exponent(list(counts[-3:]), times[-3:])
    print(f"{name:<44} exponent {exponent(list(counts), times):5.2f}  (largest three {upper:5.2f})   {told}")


def main() -> None:
    """Print the exponents."""
    project = read(STUDIO).project
    if project is None:
        raise SystemExit("the weaving studio has errors")
    machine()
    sweep("reckon over stems", STEMS, lambda n: _call(reckon, with_stems(project, n)))
    sweep("reckon over openings", OPENINGS, lambda n: _call(reckon, with_openings(project, n)))
    sweep("reckon_plan over openings", OPENINGS, lambda n: _call(reckon_plan, with_openings(project, n).plan))
    sweep("find_faults(plan) over openings", OPENINGS, lambda n: _call(find_faults, with_openings(project, n).plan))
    sweep("peer: sorting a hundred numbers a stem", STEMS, lambda n: _call(sorted, _numbers(100 * n)))


def _call(function: Callable[..., object], argument: object) -> Callable[[], object]:
    return lambda: function(argument)


def _numbers(count: int) -> list[float]:
    dice = random.Random(1)
    return [dice.random() for _ in range(count)]


if __name__ == "__main__":
    main()
