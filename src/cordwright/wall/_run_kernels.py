"""How far can one look along a straight joint? Compiled."""

import math

import numpy as np

from cordwright.base.kernel import kernel
from cordwright.wall._kernels import Floats


@kernel
def crossings(sides: Floats, c: float, s: float, offset: float, at: Floats) -> int:
    """Note where a line (direction c, s; distance of it from the origin) crosses the sides; gives how often."""
    count = 0
    for e in range(sides.shape[0]):
        d0 = -s * sides[e, 0] + c * sides[e, 1] - offset
        d1 = -s * sides[e, 2] + c * sides[e, 3] - offset
        if (d0 < 0.0) != (d1 < 0.0):
            t0 = c * sides[e, 0] + s * sides[e, 1]
            t1 = c * sides[e, 2] + s * sides[e, 3]
            at[count] = t0 + (t1 - t0) * d0 / (d0 - d1)
            count += 1
    return count


@kernel
def run_on_line(
    along: Floats, across: Floats, radius: Floats, inside: Floats, count: int, offset: float, low: Floats, high: Floats
) -> float:
    """Give the longest stretch of one line that lies inside and meets no disc [m]."""
    blocks = 0
    for k in range(along.size):
        d = across[k] - offset
        if abs(d) < radius[k]:
            half = math.sqrt(radius[k] * radius[k] - d * d)
            low[blocks], high[blocks] = along[k] - half, along[k] + half
            blocks += 1
    stops = np.sort(inside[:count])
    order = np.argsort(low[:blocks])
    best = 0.0
    for q in range(0, count - 1, 2):
        at = stops[q]
        for o in order:
            if high[o] <= at:
                continue
            best = max(best, min(low[o], stops[q + 1]) - at)
            at = high[o]
            if at >= stops[q + 1]:
                break
        best = max(best, stops[q + 1] - at)
    return best


@kernel
def longest_run(x: Floats, y: Floats, radius: Floats, sides: Floats, directions: int, pitch: float) -> float:
    """Give the longest straight stretch inside closed sides (e, 4) that meets no disc, over a fan of directions [m].

    Discs are sorted across each direction, so that a line looks only at those it may meet.
    """
    best = 0.0
    at = np.empty(sides.shape[0] + 2)
    low, high = np.empty(x.size + 1), np.empty(x.size + 1)
    widest = radius.max() if x.size else 0.0
    for n in range(directions):
        c, s = math.cos(n * math.pi / directions), math.sin(n * math.pi / directions)
        order = np.argsort(c * y - s * x)
        size = radius[order]
        along, across = (c * x + s * y)[order], (c * y - s * x)[order]
        ends = c * sides[:, 1] - s * sides[:, 0]
        first, last = ends.min(), ends.max()
        a, b = 0, 0
        for q in range(int((last - first) / pitch)):
            offset = first + (q + 0.5) * pitch
            while a < x.size and across[a] < offset - widest:
                a += 1
            while b < x.size and across[b] <= offset + widest:
                b += 1
            count = crossings(sides, c, s, offset, at)
            best = max(best, run_on_line(along[a:b], across[a:b], size[a:b], at, count, offset, low, high))
    return best
