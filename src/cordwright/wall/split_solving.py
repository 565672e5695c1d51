"""How is a region laid that takes halves and quarters beside rounds?

As one of rounds alone (see the laying of one region), with splits pushing and exchanging sizes in the same relaxation.
Once all stands, the splits stand still while single rounds are mended around them.
"""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

import numpy as np

from cordwright.wall import mending, packing
from cordwright.wall import region as regions
from cordwright.wall.layout import Face, Log, Placement
from cordwright.wall.packing import DRAFT, TOLERANCE, Effort, Floats, Packing
from cordwright.wall.rails import rails_of
from cordwright.wall.region import Region
from cordwright.wall.seating import Seating, seat_at_edges, seat_in_field
from cordwright.wall.settle import settle, top_up
from cordwright.wall.solving import TINY, Still
from cordwright.wall.splits import (
    STILL,
    Seat,
    Splits,
    bodies_of,
    ease_bodies,
    grown_of,
    set_splits,
    split_state,
    strays,
    take_out,
)
from cordwright.wall.supports import unheld
from cordwright.wall.taste import PLAIN, Taste

FAVOUR = 0.6
"""A pressed split counts less than a round when one of them has to go: it leaves a larger hole."""

STARTS = 12
"""A region that takes few logs is laid so often and the best kept."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Mixed:
    """What a region of rounds and splits is laid from [m]: `sizes` of the rounds, `fixed` splits that stand already."""

    region: Region
    face: Face
    sizes: Floats
    splits: tuple[Log, ...]
    fixed: tuple[Placement, ...]
    still: tuple[Still, ...]
    joint: float
    edge: float
    taste: Taste = PLAIN

    @property
    def offset(self) -> float:
        """What an edge keeps beyond half a joint [m]."""
        return self.edge - self.joint / 2


def solve_mixed(task: Mixed, effort: Effort, seed: Sequence[int], pulse: Callable[[float], None]) -> Packing:
    """Lay one region with rounds and splits; several times over when it takes few logs.

    Args:
        task: the region and its logs.
        effort: how long to try.
        seed: numbers that fix every choice.
        pulse: told the share done; may raise to stop.
    """
    first = _solve_once(task, effort, [*seed, 0], pulse)
    if first.moving + len(split_state(first).seats) > TINY:
        return first
    tries = [_solve_once(task, DRAFT, [*seed, n], pulse) for n in range(1, STARTS)]
    return max([first, *tries], key=lambda p: (_filled(p) - _loss(p), _filled(p)))


def _filled(laid: Packing) -> float:
    """Grown area of rounds and splits [m2]."""
    return laid.filled + split_state(laid).filled


def _loss(laid: Packing) -> float:
    return 0.5 * float(np.sum(np.pi * laid.radius[unheld(laid)] ** 2))


def _solve_once(task: Mixed, effort: Effort, seed: Sequence[int], pulse: Callable[[float], None]) -> Packing:
    rng = np.random.Generator(np.random.PCG64(np.random.SeedSequence(list(seed))))
    laid = start_mixed(task, effort, rng)
    laid.lean = (np.array(task.taste.heights), np.array(task.taste.lean))
    packing.deal_by_taste(laid)
    laid.pulse = lambda share: pulse(0.6 * share)
    spread = packing.spread_of(task.sizes)
    if laid.moving or split_state(laid).seats:
        packing.press(laid, effort, effort.steps, effort.blur, spread)
        laid.pulse = lambda _: pulse(0.7)
        drop_strays(laid)
        if not shed(laid, effort, spread):
            drop_strays(laid)
            drop_pressed(laid)
    top_up(laid)
    grow(laid, effort, spread)
    laid.pulse = lambda _: pulse(0.9)
    settle(laid)
    top_up(laid)
    settle(laid)
    mending.mend(laid)
    drop_strays(laid)
    drop_pressed(laid)
    pulse(1.0)
    return laid


def start_mixed(task: Mixed, effort: Effort, rng: np.random.Generator) -> Packing:
    """Seat splits flat against the edges, then draw rounds and the splits left over evenly for the rest.

    Args:
        task: the region and its logs.
        effort: how full to start.
        rng: for every choice.
    """
    discs = np.array([s[:3] for s in task.still], float).reshape(-1, 3)
    logs = (*sorted(task.splits, key=lambda g: (g.diameter, g.id)), *(p.log for p in task.fixed))
    seats = [
        Seat(which=len(task.splits) + n, x=p.x, y=p.y, angle=p.angle, rail=STILL) for n, p in enumerate(task.fixed)
    ]
    seating = Seating(
        region=task.region, rails=rails_of(task.region, task.face, task.edge), logs=logs, still=discs,
        wide=task.joint, edge=task.edge, rng=rng, seats=seats,
    )  # fmt: skip
    seat_at_edges(seating)
    laid = _empty(task, seating, rng)
    rest = _rest(task, laid, effort)
    free = regions.room(
        task.region, np.column_stack((laid.x, laid.y, laid.still)), _least(task, seating), task.offset
    )  # fmt: skip
    if rest > 0 and not free.is_empty:
        _scatter(task, seating, laid, free, rest)
    return laid


def _empty(task: Mixed, seating: Seating, rng: np.random.Generator) -> Packing:
    none = np.zeros(0)
    laid = Packing(
        region=task.region, offset=task.offset, joint_half=task.joint / 2, sizes=task.sizes, x=none, y=none,
        which=np.zeros(0, np.int64), still=none, bears=np.zeros(0, bool), rng=rng,
    )  # fmt: skip
    set_splits(
        laid,
        Splits(
            logs=seating.logs, seats=tuple(seating.seats), half=task.joint / 2, still=seating.still,
            bears=np.array([s[3] for s in task.still], bool),
        ),
    )  # fmt: skip
    return laid


def _least(task: Mixed, seating: Seating) -> float:
    """Inflated radius of a small round, or of the round that lies in a small split [m]."""
    if len(task.sizes):
        return float(np.quantile(task.sizes, 0.1))
    return min((0.4 * log.diameter / 2 for log in seating.logs), default=1.0) + task.joint / 2


def _rest(task: Mixed, laid: Packing, effort: Effort) -> float:
    """Grown area of logs that the field takes, splits at the edges and all that stands still left out [m2].

    Where a flat lies on an edge, the edge costs nothing.
    """
    inner = task.region.shape.buffer(-task.offset) if task.offset else task.region.shape
    splits = split_state(laid)
    sizes = np.concatenate((task.sizes, splits.sizes))
    area = float(inner.area) - float(np.sum(np.pi * splits.still.reshape(-1, 3)[:, 2] ** 2))
    edges = max(0.0, float(inner.length) - sum(seat.flat for seat in splits.seats))
    share = packing.reference(area, edges, sizes) - effort.below if len(sizes) else 0.0
    return max(share, 0.3) * area - splits.filled


def _scatter(task: Mixed, seating: Seating, laid: Packing, free: object, rest: float) -> None:
    left = split_state(laid).spare
    area = math.pi * float(np.sum(task.sizes**2))
    supply = area + sum(grown_of(seating.logs[n], task.joint / 2) for n in left)
    share = min(1.0, rest / supply) if supply > 0 else 0.0
    drawn = [left[int(k)] for k in np.floor((np.arange(round(share * len(left))) + 0.5) / max(share, 1e-9))]
    which = packing.draw(task.sizes, share * area, laid.rng) if len(task.sizes) else np.zeros(0, np.int64)
    x, y = packing.scatter(free, len(drawn) + len(which), laid.rng) if len(drawn) + len(which) else (laid.x, laid.y)
    mix = laid.rng.permutation(len(drawn) + len(which))
    seat_in_field(seating, drawn, x[mix[: len(drawn)]], y[mix[: len(drawn)]])
    set_splits(laid, replace(split_state(laid), seats=tuple(seating.seats)))
    laid.add(laid.rng.permutation(which), x[mix[len(drawn) :]], y[mix[len(drawn) :]])


def drop_strays(laid: Packing) -> None:
    """Take out rounds and splits that were pushed out of the region; what was laid before stays."""
    packing.drop_strays(laid)
    fixed = _fixed(laid)
    take_out(laid, [n for n in strays(laid, laid.region) if n not in fixed])


def _fixed(laid: Packing) -> set[int]:
    """Splits that nobody takes out, as the kernels number them."""
    seats = split_state(laid).seats
    return {laid.moving + n for n, seat in enumerate(seats) if seat.rail == STILL}


def _pressure(laid: Packing, p: Floats) -> Floats:
    """Overlaps in sum by which the one to go is chosen [m]."""
    weighed = p.copy()
    weighed[laid.moving :] *= FAVOUR
    weighed[list(_fixed(laid))] = 0.0
    return weighed


def _hot(laid: Packing, p: Floats) -> list[int]:
    """The most pressed body of each spot, as the kernels number them, the worst first."""
    bodies, weighed = bodies_of(laid), _pressure(laid, p)
    picks: list[int] = []
    for i in np.argsort(-weighed, kind="stable").tolist():
        if weighed[i] <= max(TOLERANCE / 2, 0.5 * weighed.max()):
            break
        if all(math.hypot(bodies.x[i] - bodies.x[k], bodies.y[i] - bodies.y[k]) > 0.7 for k in picks):
            picks.append(i)
    return picks[: max(1, bodies.moving // 120)]


def shed(laid: Packing, effort: Effort, spread: float, most: int = 60) -> bool:
    """Take pressed logs out, a few at a time, until every joint holds; False when that cannot be reached."""
    for _ in range(most):
        worst, p = ease_bodies(laid, 1500, 0.0, TOLERANCE)
        if worst <= TOLERANCE:
            return True
        hot = _hot(laid, p)
        if not hot:
            return False
        take_out(laid, hot)
        packing.press(laid, effort, effort.between * 60, 0.0, spread)
    return False


def drop_pressed(laid: Packing) -> None:
    """Take out the most pressed log, one after another, until every joint holds."""
    while laid.moving or split_state(laid).seats:
        worst, p = ease_bodies(laid, 2000, 0.0, TOLERANCE)
        hot = _hot(laid, p)[:1]
        if worst <= TOLERANCE or not hot:
            return
        take_out(laid, hot)


def grow(laid: Packing, effort: Effort, spread: float) -> None:
    """Add rounds and splits in the widest gaps and press again; keep what came out fuller, try fewer when not."""
    share, failures = 0.01, 0
    while failures < effort.failures and (len(laid.spare) or split_state(laid).spare):
        kept, before = laid.keep(), _filled(laid)
        _crowd(laid, max(1, round(share * (laid.moving + len(split_state(laid).seats)))))
        packing.press(laid, effort, effort.between * 100, effort.blur / 4, spread)
        fits = _fits_now(laid, effort, spread)
        if fits:
            top_up(laid)
        if not fits or _filled(laid) <= before:
            laid.put_back(kept)
            failures += 1
            share /= 2


def _fits_now(laid: Packing, effort: Effort, spread: float) -> bool:
    """Whether every joint holds, at the latest once the most pressed log is out."""
    worst, p = ease_bodies(laid, 3000, 0.0, TOLERANCE)
    hot = _hot(laid, p)[:1]
    if worst <= TOLERANCE or not hot:
        return worst <= TOLERANCE
    take_out(laid, hot)
    packing.press(laid, effort, effort.between * 60, 0.0, spread)
    return ease_bodies(laid, 4000, 0.0, TOLERANCE)[0] <= TOLERANCE


def _crowd(laid: Packing, count: int) -> None:
    """Put spare rounds and splits, as many of each as there are, where most room is, fit or not."""
    splits = split_state(laid)
    spare, left = list(laid.spare), splits.spare
    least = 0.25 * float(laid.sizes[0]) if len(laid.sizes) else 0.01
    seating = Seating(
        region=laid.region, rails=(), logs=splits.logs, still=splits.still, wide=0.0, edge=0.0, rng=laid.rng,
        seats=list(splits.seats),
    )  # fmt: skip
    for x, y, _ in packing.find_voids(laid, least)[: min(count, len(spare) + len(left))]:
        pick = int(laid.rng.integers(len(spare) + len(left)))
        if pick < len(spare):
            laid.add(np.array([spare.pop(pick)]), np.array([x]), np.array([y]))
        else:
            seat_in_field(seating, [left.pop(pick - len(spare))], np.array([x]), np.array([y]))
    set_splits(laid, replace(splits, seats=tuple(seating.seats)))
