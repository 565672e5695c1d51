"""Where do splits stand at first: in square corners, flat along bed, posts and frames, and only then in the field?

Sizes are dealt in a shuffled order, so that large and small are spread along every edge. Relaxation moves them after.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from cordwright.wall._kernels import DEPTH
from cordwright.wall.layout import Log
from cordwright.wall.rails import Rail, square_corners
from cordwright.wall.region import Floats, Region
from cordwright.wall.split_shapes import MIDDLE
from cordwright.wall.splits import FREE, STILL, Seat

HALF_ON_RAIL, QUARTER_IN_CORNER, QUARTER_ON_RAIL, HALF_IN_FIELD, QUARTER_IN_FIELD = range(5)
"""Classes within which sizes are exchanged."""

GIVE = 0.1
"""Splits are seated though they overlap what stands by this share of the radius: they slide apart."""


@dataclass(slots=True, kw_only=True)
class Seating:
    """The seats given out so far in a region, and what is left to stand on: `wide` is what joint logs keep [m]."""

    region: Region
    rails: tuple[Rail, ...]
    logs: tuple[Log, ...]
    still: Floats
    wide: float
    edge: float
    rng: np.random.Generator
    seats: list[Seat]

    def radius(self, which: int) -> float:
        """Radius of a split's parent [m]."""
        return self.logs[which].diameter / 2

    def of_shape(self, shape: str) -> list[int]:
        """Numbers of the splits of a shape that have no seat, shuffled."""
        used = {seat.which for seat in self.seats}
        free = [n for n, log in enumerate(self.logs) if log.shape == shape and n not in used]
        return [free[k] for k in self.rng.permutation(len(free))]

    def clear(self, seat: Seat, skip: set[int], corners: set[int]) -> bool:
        """Whether a parent's disc is clear of other edges, of what stands still and of seats, but for a little."""
        radius = self.radius(seat.which)
        give = GIVE * radius
        if not _clear_of_edges(self.region, (seat.x, seat.y, radius + self.edge - give), skip, corners):
            return False
        others = [(s.x, s.y, self.radius(s.which) + self.wide) for s in self.seats if s.disc]
        others += [(x, y, r + self.wide / 2) for x, y, r in self.still.tolist()]
        return all(math.hypot(seat.x - x, seat.y - y) >= r + radius - give for x, y, r in others)


def _clear_of_edges(region: Region, disc: tuple[float, float, float], skip: set[int], corners: set[int]) -> bool:
    x, y, radius = disc
    e = region.edges
    dx, dy = x - e[:, 0], y - e[:, 1]
    along, above = dx * e[:, 2] + dy * e[:, 3], dx * e[:, 5] + dy * e[:, 6]
    met = (along >= 0) & (along <= e[:, 4]) & (above > -DEPTH) & (above < radius)
    met[list(skip)] = False
    away = np.hypot(region.corners[:, 0] - x, region.corners[:, 1] - y) < radius
    away[[c for c in corners if c >= 0]] = False
    return not (met.any() or away.any())


def seat_at_edges(seating: Seating) -> None:
    """Seat quarters in square corners, then halves and the other quarters along the edges."""
    corners = square_corners(seating.rails)
    quarters = seating.of_shape("quarter")
    taken: dict[int, float] = {}
    for k in seating.rng.permutation(len(corners)):
        before, after = corners[int(k)]
        which = next((n for n in quarters if _seat_in_corner(seating, before, after, n)), None)
        if which is not None:
            quarters.remove(which)
            taken[after.edge] = seating.radius(which) + seating.wide
    _seat_on_rails(seating, [*seating.of_shape("half"), *quarters], taken)


def _seat_in_corner(seating: Seating, before: Rail, after: Rail, which: int) -> bool:
    """The tip an edge joint from both edges, if both flats lie on them."""
    radius, joint = seating.radius(which), after.joint
    if radius + joint > min(before.length, after.length):
        return False
    x, y = after.at(joint)
    row = (*STILL[:10], float(after.edge), float(before.edge), -1.0, float(after.start_corner), -1.0)
    largest = max(seating.radius(n) for n, log in enumerate(seating.logs) if log.shape == "quarter")
    swaps = largest + joint <= min(before.length, after.length)
    seat = Seat(
        which=which, x=x, y=y, angle=after.facing - math.pi / 4, disc=True, rail=row,
        group=QUARTER_IN_CORNER if swaps else -1, flat=2 * radius,
    )  # fmt: skip
    if not seating.clear(seat, {before.edge, after.edge}, set()):
        return False
    seating.seats.append(seat)
    return True


def _need(seating: Seating, which: int) -> float:
    """Length of edge that a split takes with its joint [m]."""
    halves = 2 if seating.logs[which].shape == "half" else 1
    return halves * seating.radius(which) + seating.wide


def _budgets(seating: Seating, splits: Sequence[int], taken: dict[int, float]) -> dict[int, tuple[float, float]]:
    """By edge, from where to where splits may lie [m]; in a corner the first of both edges keeps clear of the next."""
    typical = float(np.mean([seating.radius(n) for n in splits]))
    spans = {}
    for rail in seating.rails:
        start, end = rail.ends()[0][1], rail.length - rail.ends()[1][1]
        start += taken.get(rail.edge, 0.0)
        if rail.end_angle < 0.9 * math.pi:
            end -= taken.get(rail.after, typical)
        spans[rail.edge] = (start, end)
    return spans


def _seat_on_rails(seating: Seating, splits: Sequence[int], taken: dict[int, float]) -> None:
    """Deal splits to the edges, each to the one farthest behind its share, and set them out evenly along it."""
    if not splits or not seating.rails:
        return
    spans = _budgets(seating, splits, taken)
    room = {rail.edge: max(0.0, spans[rail.edge][1] - spans[rail.edge][0]) for rail in seating.rails}
    supply = sum(_need(seating, n) for n in splits)
    share = min(1.0, supply / max(sum(room.values()), 1e-9))
    dealt: dict[int, list[int]] = {rail.edge: [] for rail in seating.rails}
    got = dict.fromkeys(dealt, 0.0)
    for n in (splits[k] for k in seating.rng.permutation(len(splits))):
        need = _need(seating, n)
        fits = [e for e in room if got[e] + need <= room[e] + seating.wide]
        if fits:
            edge = max(fits, key=lambda e: share * room[e] - got[e])
            dealt[edge].append(n)
            got[edge] += need
    for rail in seating.rails:
        _set_out(seating, rail, dealt[rail.edge], spans[rail.edge])


def _set_out(seating: Seating, rail: Rail, splits: Sequence[int], span: tuple[float, float]) -> None:
    if not splits:
        return
    loose = span[1] - span[0] + seating.wide - sum(_need(seating, n) for n in splits)
    gap = max(0.0, loose) / (len(splits) + 1)
    at = span[0] + gap
    for n in splits:
        need = _need(seating, n)
        seat = _on_rail(seating, rail, n, at)
        if seat is not None and seating.clear(
            seat, {rail.edge, rail.before, rail.after}, {rail.start_corner, rail.end_corner}
        ):
            seating.seats.append(seat)
        at += need + gap


def _on_rail(seating: Seating, rail: Rail, which: int, start: float) -> Seat | None:
    """A split whose flat starts at a place on a rail, if the edge can take it."""
    radius, shape = seating.radius(which), seating.logs[which].shape
    upright = 0 if shape == "half" else int(seating.rng.choice((-1, 1)))
    low, high = rail.reach(radius, upright)
    if low > high:
        return None
    along = start + (0.0 if upright < 0 else radius)
    x, y = rail.at(min(max(along, low), high))
    largest = max(log.diameter / 2 for log in seating.logs if log.shape == shape)
    low, high = rail.reach(largest, upright)
    group = HALF_ON_RAIL if shape == "half" else QUARTER_ON_RAIL
    return Seat(
        which=which, x=x, y=y, angle=rail.facing + upright * math.pi / 4, disc=shape == "half",
        rail=rail.kernel_row(upright), group=group if low <= high else -1, flat=_need(seating, which) - seating.wide,
    )  # fmt: skip


def seat_in_field(seating: Seating, splits: Sequence[int], x: Floats, y: Floats) -> None:
    """Seat splits with the middles of their faces at some points: halves flat down, quarters on one flat."""
    for n, px, py in zip(splits, x.tolist(), y.tolist(), strict=True):
        shape = seating.logs[n].shape
        angle = math.pi / 2 if shape == "half" else float(seating.rng.choice((math.pi / 4, 3 * math.pi / 4)))
        away = MIDDLE[shape] * seating.radius(n)
        group = HALF_IN_FIELD if shape == "half" else QUARTER_IN_FIELD
        seating.seats.append(
            Seat(
                which=n, x=px - away * math.cos(angle), y=py - away * math.sin(angle), angle=angle, rail=FREE,
                group=group,
            )
        )  # fmt: skip
