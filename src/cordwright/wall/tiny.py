"""How is a region laid that takes only a handful of log ends? By trying them one beside the other, not by chance.

Depth first: the next log is set where it touches two things (edges, corners, pipes, logs set before), the largest size
and the lowest place first. First every such first choice is taken, then ever more departures from it are allowed; then
two or three logs of the best are taken out and the room searched anew. A branch is left when even a full region could
not beat the best found. Both searches end after so many partly laid regions, the same on every machine.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from itertools import combinations

import numpy as np

from cordwright.wall.packing import Floats, Packing
from cordwright.wall.region import Region
from cordwright.wall.supports import unheld

MOST = 8
"""A region that takes no more logs than this is searched."""

NODES = 400
"""So many partly laid regions are looked at from nothing."""

NODES_OUT = 10
"""So many are looked at each time that logs have been taken out."""

OUT = (2, 3)
"""So many logs are taken out of the best at a time."""

CLASS = 0.0025
"""Logs whose radii differ by less than this [m] are tried as one: the largest of them that is left."""

DEPARTURES = 24
"""At most so many steps away from the first choice, over all logs, are allowed."""

PLACES = 3
"""So many of the lowest places are tried for each size."""

NEAR = 1e-9
BARE_LOSS = 0.5
"""A log that does not rest counts by so much of its area less."""

Disc = tuple[float, float, float]
Line = tuple[float, float, float, float, float, float, float]


@dataclass(slots=True, kw_only=True)
class _Search:
    """What the search goes by, and the best it has found: stock numbers and middles, and what they are worth [m2]."""

    packing: Packing
    lines: tuple[Line, ...]
    still: tuple[Disc, ...]
    most: float
    nodes: int = NODES
    worth: float = 0.0
    best: tuple[tuple[int, float, float], ...] = ()
    seen: dict[tuple[tuple[int, int, int], ...], int] = field(default_factory=dict)


def enumerate_few(start: Packing) -> Packing:
    """Lay a region that takes few logs by search, from nothing and from what is laid; the result is never worse.

    Args:
        start: the region as laid in some other way, with its stock and what stands still in it.
    """
    search = _begin(start)
    for departures in range(DEPARTURES):
        _deepen(search, (), departures)
    for count in OUT:
        for kept in combinations(search.best, max(0, len(search.best) - count)):
            search.nodes = NODES_OUT
            search.seen.clear()
            _deepen(search, kept, DEPARTURES)
    return replace_logs(start, search.best)


def _begin(start: Packing) -> _Search:
    empty = replace_logs(start, ())
    lines = tuple(tuple(row) for row in start.region.edges.tolist())
    corners = [(x, y, start.offset) for x, y in start.region.corners.tolist()]
    logs = zip(start.which.tolist(), start.x.tolist(), start.y.tolist(), strict=False)
    return _Search(
        packing=empty,
        lines=lines,
        still=(*corners, *zip(empty.x.tolist(), empty.y.tolist(), empty.still.tolist(), strict=True)),
        most=_room(start.region, start.offset),
        worth=worth(start),
        best=tuple(logs),
    )


def worth(packing: Packing) -> float:
    """What a laid region counts for: the area of its logs, those that do not rest at half of it [m2]."""
    loose = packing.radius[unheld(packing)]
    return packing.filled - BARE_LOSS * float(math.pi * np.sum(loose**2))


def replace_logs(packing: Packing, logs: Sequence[tuple[int, float, float]]) -> Packing:
    """Give the same region with other logs: each its number in the stock and its middle [m]."""
    still = slice(packing.moving, None)
    which = np.array([n for n, _, _ in logs], np.int64)
    x = np.concatenate((np.array([u for _, u, _ in logs], float), packing.x[still]))
    y = np.concatenate((np.array([v for _, _, v in logs], float), packing.y[still]))
    return replace(packing, which=which, x=x, y=y)


def _room(region: Region, offset: float) -> float:
    """Area that inflated logs can cover at most [m2]: the region grown by what edges leave of half a joint."""
    return float(region.shape.buffer(-offset, join_style="mitre").area) if offset else region.area


def _deepen(search: _Search, laid: tuple[tuple[int, float, float], ...], departures: int) -> None:
    """Judge what is laid, then set one log more in every way that could still be the best."""
    if search.nodes <= 0:
        return
    search.nodes -= 1
    _judge(search, laid)
    for step, logs in enumerate(_further(search, laid)):
        if step > departures:
            break
        key = tuple(sorted((n, round(x * 1e5), round(y * 1e5)) for n, x, y in logs))
        if search.seen.get(key, -1) < departures - step and _bound(search, logs) > search.worth:
            search.seen[key] = departures - step
            _deepen(search, logs, departures - step)


def _judge(search: _Search, laid: tuple[tuple[int, float, float], ...]) -> None:
    if _area(search, laid) <= search.worth + 1e-12:
        return
    value = worth(replace_logs(search.packing, laid))
    if value > search.worth + 1e-12:
        search.worth, search.best = value, laid


def _area(search: _Search, laid: Sequence[tuple[int, float, float]]) -> float:
    sizes = search.packing.sizes
    return math.pi * sum(float(sizes[n]) ** 2 for n, _, _ in laid)


def _bound(search: _Search, laid: Sequence[tuple[int, float, float]]) -> float:
    """No more than this can come of what is laid: the stock used up, or all the room that is left."""
    filled = _area(search, laid)
    used = {n for n, _, _ in laid}
    left = math.pi * sum(float(r) ** 2 for n, r in enumerate(search.packing.sizes) if n not in used)
    return filled + min(left, max(0.0, search.most - filled))


def _further(
    search: _Search, laid: tuple[tuple[int, float, float], ...]
) -> Iterator[tuple[tuple[int, float, float], ...]]:
    """All ways to set one log more: sizes from large to small, the lowest places first."""
    sizes = search.packing.sizes
    discs = [*search.still, *((x, y, float(sizes[n])) for n, x, y in laid)]
    for n in _classes(sizes, {m for m, _, _ in laid}):
        places = sorted(set(_free_places(search, discs, float(sizes[n]))), key=lambda p: (p[1], p[0]))
        for x, y in places[:PLACES]:
            yield (*laid, (n, x, y))


def _classes(sizes: Floats, used: set[int]) -> Iterator[int]:
    """The largest log left of each class of sizes, from large to small."""
    last = math.inf
    for n in range(len(sizes) - 1, -1, -1):
        if n not in used and sizes[n] <= last - CLASS:
            last = float(sizes[n])
            yield n


def _free_places(search: _Search, discs: Sequence[Disc], size: float) -> Iterator[tuple[float, float]]:
    """Places at which a log touches two things and nothing else stands in its way, to a thousandth of a millimetre."""
    for x, y in _touching_two(search, discs, size):
        if _free(search, discs, (x, y, size)):
            yield round(x, 9), round(y, 9)


def _touching_two(search: _Search, discs: Sequence[Disc], size: float) -> Iterator[tuple[float, float]]:
    away = search.packing.offset + size
    moved = [(ax - away * ty, ay + away * tx, tx, ty) for ax, ay, tx, ty, *_ in search.lines]
    rings = [(x, y, r + size) for x, y, r in discs]
    for one, other in combinations(moved, 2):
        yield from _lines_meet(one, other)
    for line in moved:
        for ring in rings:
            yield from _line_meets_ring(line, ring)
    for first, second in combinations(rings, 2):
        yield from _rings_meet(first, second)


def _lines_meet(
    one: tuple[float, float, float, float], other: tuple[float, float, float, float]
) -> Iterator[tuple[float, float]]:
    (ax, ay, tx, ty), (bx, by, sx, sy) = one, other
    turn = tx * sy - ty * sx
    if abs(turn) > 1e-9:
        along = ((bx - ax) * sy - (by - ay) * sx) / turn
        yield ax + along * tx, ay + along * ty


def _line_meets_ring(line: tuple[float, float, float, float], ring: Disc) -> Iterator[tuple[float, float]]:
    (ax, ay, tx, ty), (cx, cy, r) = line, ring
    along = (cx - ax) * tx + (cy - ay) * ty
    off = (cx - ax) * ty - (cy - ay) * tx
    if abs(off) <= r:
        half = math.sqrt(r * r - off * off)
        for step in (along - half, along + half):
            yield ax + step * tx, ay + step * ty


def _rings_meet(first: Disc, second: Disc) -> Iterator[tuple[float, float]]:
    (ax, ay, ra), (bx, by, rb) = first, second
    apart = math.hypot(bx - ax, by - ay)
    if not abs(ra - rb) <= apart <= ra + rb or apart < NEAR:
        return
    along = (apart * apart + ra * ra - rb * rb) / (2 * apart)
    off = math.sqrt(max(0.0, ra * ra - along * along))
    ux, uy = (bx - ax) / apart, (by - ay) / apart
    for side in (off, -off):
        yield ax + along * ux - side * uy, ay + along * uy + side * ux


def _free(search: _Search, discs: Sequence[Disc], log: Disc) -> bool:
    x, y, size = log
    if any(math.hypot(x - a, y - b) < r + size - NEAR for a, b, r in discs):
        return False
    away = search.packing.offset + size - NEAR
    for ax, ay, tx, ty, length, nx, ny in search.lines:
        along = (x - ax) * tx + (y - ay) * ty
        if 0.0 <= along <= length and -size < (x - ax) * nx + (y - ay) * ny < away:
            return False
    return _inside(search.packing.region, x, y)


def _inside(region: Region, x: float, y: float) -> bool:
    from shapely import contains_xy

    return bool(contains_xy(region.shape, x, y))
