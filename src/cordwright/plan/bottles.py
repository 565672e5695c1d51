"""Where do the bottle ends of a group go, spread evenly within their band?

Rows at even heights, bottles at even steps within each row's clear stretches, at least half a bottle apart from each
other and from everything else: a pattern that can be measured out with a tape.
"""

import math
from collections.abc import Iterable, Sequence

from cordwright.plan.inputs import BottleGroup
from cordwright.plan.openings import Body, disc
from cordwright.plan.places import Bay, Span, free_places, room
from cordwright.plan.results import Obstacle

SPACING = 1.5
"""Least pitch of bottles in diameters: half a bottle of mortar between them (the project's own choice)."""


def spread(group: BottleGroup, bay: Bay, others: Iterable[tuple[float, Body]]) -> tuple[Obstacle, ...]:
    """Spread a group in its band, clear of others; fewer bottles than it counts when no more fit."""
    standing = tuple(others)
    fullest: _Rows | None = None
    for rows in sorted(range(1, _most_rows(group) + 1), key=lambda r: _unevenness(group, bay.width, r)):
        pattern = _Rows(group, bay, standing, rows)
        if pattern.capacity >= group.count:
            return pattern.place(group.count)
        fullest = pattern if fullest is None or pattern.capacity > fullest.capacity else fullest
    return fullest.place(fullest.capacity) if fullest else ()


def _unevenness(group: BottleGroup, width: float, rows: int) -> float:
    """How far the steps along a row differ from the steps between rows, as a logarithm, on an empty panel."""
    step = (group.band_high - group.band_low) / rows
    return abs(math.log(width * rows / group.count / step))


def _most_rows(group: BottleGroup) -> int:
    band = group.band_high - group.band_low
    if band < group.diameter - 1e-9:
        return 0
    return min(group.count, max(1, math.floor(band / (SPACING * group.diameter) + 1e-9)))


class _Rows:
    """One pattern: so many rows, each with its clear stretches for bottle axes."""

    def __init__(self, group: BottleGroup, bay: Bay, others: Sequence[tuple[float, Body]], rows: int) -> None:
        self.group = group
        self.pitch = SPACING * group.diameter
        step = (group.band_high - group.band_low) / rows
        self.heights = [group.band_low + (n + 0.5) * step for n in range(rows)]
        self.free = [_clear(group, bay, others, height) for height in self.heights]

    @property
    def capacity(self) -> int:
        return sum(self._row_capacity(spans) for spans in self.free)

    def _row_capacity(self, spans: Sequence[Span]) -> int:
        return sum(_capacity(span, self.pitch) for span in spans)

    def place(self, count: int) -> tuple[Obstacle, ...]:
        limits = [self._row_capacity(spans) for spans in self.free]
        placed: list[Obstacle] = []
        for height, spans, share in zip(self.heights, self.free, _share(count, limits), strict=True):
            for u in _along(spans, share, self.pitch):
                placed.append(_bottle(self.group, len(placed) + 1, u, height))
        return tuple(placed)


def _bottle(group: BottleGroup, number: int, u: float, v: float) -> Obstacle:
    return Obstacle(id=f"{group.id}.{number}", what="bottle end", u=u, v=v, diameter=group.diameter)


def _clear(group: BottleGroup, bay: Bay, others: Sequence[tuple[float, Body]], height: float) -> tuple[Span, ...]:
    """Give where bottle axes may stand in a row: half a bottle clear of ends, head and all else."""
    wide = disc(2 * group.diameter, height)
    return free_places(room(wide, bay), wide, others)


def _capacity(span: Span, pitch: float) -> int:
    return math.floor(max(span[1] - span[0], 0.0) / pitch + 1e-9) + 1


def _share(count: int, limits: Sequence[int]) -> list[int]:
    """Share a count over rows or stretches as evenly as their limits allow, the fuller ones spread evenly."""
    shares = [0] * len(limits)
    left = count
    open_places = [n for n, limit in enumerate(limits) if limit]
    while left and open_places:
        each, odd = divmod(left, len(open_places))
        extra = set(_evenly(open_places, odd))
        for n in open_places:
            more = min(each + (n in extra), limits[n] - shares[n])
            shares[n] += more
            left -= more
        open_places = [n for n in open_places if shares[n] < limits[n]]
    return shares


def _evenly(places: Sequence[int], count: int) -> Iterable[int]:
    return (places[(2 * n + 1) * len(places) // (2 * count)] for n in range(count))


def _along(spans: Sequence[Span], count: int, pitch: float) -> Iterable[float]:
    """Give the axes of a row's bottles, each stretch taking its part by length."""
    shares = [0] * len(spans)
    limits = [_capacity(span, pitch) for span in spans]
    for _ in range(count):
        open_spans = [n for n in range(len(spans)) if shares[n] < limits[n]]
        roomiest = max(open_spans, key=lambda n: (spans[n][1] - spans[n][0] + pitch) / (shares[n] + 1))
        shares[roomiest] += 1
    for (low, high), share in zip(spans, shares, strict=True):
        yield from _steps(low, high, share, pitch)


def _steps(low: float, high: float, count: int, pitch: float) -> Iterable[float]:
    """Give even steps from low to high: half a step at both ends where there is room, else from end to end."""
    if count == 1 or (count and (high - low) / count >= pitch):
        yield from (low + (n + 0.5) * (high - low) / count for n in range(count))
    elif count:
        yield from (low + n * (high - low) / (count - 1) for n in range(count))
