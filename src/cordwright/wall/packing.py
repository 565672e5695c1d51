"""Which logs stand where, so that a region is as full of wood as its joints allow?

Relaxation of a slightly over-full region of soft discs, in which pressed places hand their log on to looser ones; then
single logs are taken out or put in until every joint holds.

Sources: Kim and Hilgenfeldt 2024 (swaps in over-full packings); Bitzek et al. 2006 (relaxation).
"""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from cordwright.wall import _gap_kernels as gap_kernels
from cordwright.wall import _kernels as kernels
from cordwright.wall import region as regions
from cordwright.wall.region import Region
from cordwright.wall.splits import ease_bodies, press_bodies

if TYPE_CHECKING:
    from cordwright.wall.splits import Splits

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Kept = tuple[Floats, Floats, Ints, Floats, NDArray[np.bool_], "Splits | None"]
"""A state noted: places, logs, then what stands still and the splits, which are made new when they change."""

TOLERANCE = 2e-5
"""Deepest overlap [m] that counts as none: a fiftieth of a millimetre of joint."""

CHANCE = 0.35
"""How much chance mixes the sizes that a taste has put in order, beside a full lean of 1."""

EVEN = 0.15 * 0.84
"""Inflated sizes that spread less than this (15 % of the bare diameters) lock into rows and fill a little less."""

EVEN_LOSS = 0.008
"""Share of a region lost to rows of like logs."""

RELIEF = 0.5
"""Relieved at a time: this share of what six neighbours' overlaps take from a disc's radius."""

LEAST_RELIEF = 0.0005
"""Share of the area that is relieved at least."""

SMALLER = 0.8
"""A pressed log gives way to a spare at least so large beside it."""

HEXAGONAL = math.pi / math.sqrt(12.0)
EDGE_LOSS = HEXAGONAL - math.pi / 4.0
"""A row of discs along a straight edge fills pi/4 of a strip as wide as a radius, not the hexagonal share."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Effort:
    """How long to try: relaxation steps in all, steps between exchanges, over-full radii, and how full to start."""

    steps: int
    between: int = 15
    swell: float = 1.015
    give: float = 0.15
    blur: float = 0.004
    below: float = 0.014
    failures: int = 7


DRAFT = Effort(steps=6000, below=0.024, failures=1)
NORMAL = Effort(steps=24000, between=12, failures=5)


@dataclass(slots=True, kw_only=True)
class Packing:
    """The state of one region while it is laid: moving discs first, then those that stand still.

    `sizes`: inflated radii of the whole stock, ascending; `which`: for each moving disc its number in `sizes`.
    `bears`: for each standing disc whether a log may rest on it. `lean`: heights and lean there to large logs [m].
    """

    region: Region
    offset: float
    joint_half: float
    sizes: Floats
    x: Floats
    y: Floats
    which: Ints
    still: Floats
    bears: NDArray[np.bool_]
    rng: np.random.Generator
    lean: tuple[Floats, Floats] = field(default_factory=lambda: (np.zeros(0), np.zeros(0)))
    pulse: Callable[[float], None] = field(default=lambda _: None)
    splits: "Splits | None" = None

    @property
    def moving(self) -> int:
        """Number of discs that move."""
        return len(self.which)

    @property
    def radius(self) -> Floats:
        """Inflated radii of all discs [m]."""
        return np.concatenate((self.sizes[self.which], self.still))

    @property
    def spare(self) -> Ints:
        """Numbers of the logs in stock that stand nowhere, ascending."""
        free = np.ones(len(self.sizes), bool)
        free[self.which] = False
        return np.flatnonzero(free)

    @property
    def filled(self) -> float:
        """Inflated area of the moving discs [m2]."""
        return float(math.pi * np.sum(self.sizes[self.which] ** 2))

    def remove(self, places: Ints) -> None:
        """Take logs out, by place."""
        keep = np.ones(len(self.x), bool)
        keep[places] = False
        self.x, self.y = self.x[keep], self.y[keep]
        self.which = self.which[keep[: self.moving]]

    def add(self, which: Ints, x: Floats, y: Floats) -> None:
        """Put spare logs in."""
        m = self.moving
        self.x = np.concatenate((self.x[:m], x, self.x[m:]))
        self.y = np.concatenate((self.y[:m], y, self.y[m:]))
        self.which = np.concatenate((self.which, which))

    def keep(self) -> Kept:
        """Note where everything stands."""
        return self.x.copy(), self.y.copy(), self.which.copy(), self.still, self.bears, self.splits

    def put_back(self, kept: Kept) -> None:
        """Go back to what was noted."""
        self.x, self.y, self.which = kept[0].copy(), kept[1].copy(), kept[2].copy()
        self.still, self.bears, self.splits = kept[3:]


def reference(area: float, perimeter: float, sizes: Floats) -> float:
    """Share of a region that equal-minded discs fill at best, less what straight edges cost.

    Args:
        area: of the region [m2].
        perimeter: of the region with its openings [m].
        sizes: inflated radii, shape (n,) [m].

    Sources: closed form (hexagonal packing; a row along a straight edge).
    """
    if not len(sizes) or area <= 0:
        return HEXAGONAL
    typical = float(np.sum(sizes**2) / np.sum(sizes))
    return HEXAGONAL - EDGE_LOSS * typical * perimeter / area


def draw(sizes: Floats, target: float, rng: np.random.Generator) -> Ints:
    """Draw logs evenly through the sorted stock until their inflated area reaches a target.

    Args:
        sizes: inflated radii of the stock, ascending, shape (n,) [m].
        target: inflated area wanted [m2].
        rng: where in each step to draw.
    """
    areas = math.pi * sizes**2
    total = float(areas.sum())
    if total <= target:
        return np.arange(len(sizes))
    count = max(1, min(len(sizes), round(len(sizes) * target / total)))
    picks = np.floor((np.arange(count) + rng.random()) * len(sizes) / count).astype(np.int64)
    return np.minimum(picks, len(sizes) - 1)


def scatter(shape: object, count: int, rng: np.random.Generator) -> tuple[Floats, Floats]:
    """Give points spread evenly over a shape (additive recurrence R2).

    Sources: Roberts 2018 (the R2 sequence).
    """
    from shapely import contains_xy, prepare

    plastic = 1.32471795724474602596
    left, bottom, right, top = shape.bounds  # type: ignore[attr-defined]
    prepare(shape)
    many = max(64, int(1.3 * count * (right - left) * (top - bottom) / shape.area) + 32)  # type: ignore[attr-defined]
    start = rng.random(2)
    while True:
        n = np.arange(1.0, many + 1.0)
        x = left + (right - left) * np.mod(start[0] + n / plastic, 1.0)
        y = bottom + (top - bottom) * np.mod(start[1] + n / plastic**2, 1.0)
        inside = contains_xy(shape, x, y)
        if int(inside.sum()) >= count:
            return x[inside][:count], y[inside][:count]
        many *= 2


def press(packing: Packing, effort: Effort, steps: int, blur: float, spread: float) -> None:
    """Relax swollen discs and exchange sizes, the blur of wishes dying away over four fifths of the rounds."""
    blur *= 2.0 if spread > 0.0 else 1.0
    rounds = max(1, steps // effort.between)
    fade = np.clip(1.0 - np.arange(rounds) / (0.8 * rounds), 0.0, None) * blur
    if packing.splits is not None:
        press_bodies(packing, effort, fade, spread)
        return
    vx, vy, pace = at_rest(packing.moving)
    for first in range(0, rounds, 100):
        level = fade[first : first + 100]
        noise = level[:, None] * packing.rng.standard_normal((len(level), packing.moving))
        kernels.anneal(
            packing.x, packing.y, packing.which, packing.sizes, packing.still, packing.region.edges,
            packing.region.corners, packing.offset, noise, effort.swell, effort.give, spread, effort.between,
            vx, vy, pace, *packing.lean,
        )  # fmt: skip
        packing.pulse(min(1.0, (first + 100) / rounds))


def deal_by_taste(packing: Packing) -> None:
    """Hand the drawn logs out anew by height, the larger ones where the lean is to large ones, with some chance."""
    heights, lean = packing.lean
    if not len(heights) or not packing.moving:
        return
    wish = np.interp(packing.y[: packing.moving], heights, lean) / (float(np.max(np.abs(lean))) or 1.0)
    wish += CHANCE * packing.rng.standard_normal(packing.moving)
    packing.which[np.argsort(wish, kind="stable")] = np.sort(packing.which)


def at_rest(moving: int) -> tuple[Floats, Floats, Floats]:
    """Give speeds and pace of discs that start to move."""
    return np.zeros(moving), np.zeros(moving), np.array([0.1, 0.1, 0.0])


def ease(packing: Packing, steps: int, gravity: float = 0.0, tolerance: float = TOLERANCE) -> tuple[float, Floats]:
    """Let logs of true size push one another apart; gives the deepest overlap [m] and each one's overlaps in sum."""
    if packing.splits is not None:
        worst, p = ease_bodies(packing, steps, gravity, tolerance)
        return worst, p[: packing.moving]
    p = np.zeros(packing.moving)
    if not packing.moving:
        return 0.0, p
    vx, vy, pace = at_rest(packing.moving)
    worst = kernels.relax(
        packing.x, packing.y, packing.radius, vx, vy, pace, packing.region.edges, packing.region.corners,
        packing.offset, np.full(packing.moving, gravity), steps, tolerance, p,
    )  # fmt: skip
    return float(worst), p


def drop_strays(packing: Packing) -> None:
    """Take out logs that were pushed out of the region."""
    inside = regions.contains(packing.region, packing.x[: packing.moving], packing.y[: packing.moving])
    packing.remove(np.flatnonzero(~inside))


def drop_pressed(packing: Packing) -> None:
    """Take out the most pressed log, one after another, until every joint holds."""
    while packing.moving:
        worst, p = ease(packing, 2000)
        if worst <= TOLERANCE:
            return
        packing.remove(np.array([int(np.argmax(p))]))


def hot_spots(packing: Packing, p: Floats, apart: float = 0.7) -> Ints:
    """Give the most pressed log of each spot, spots farther apart than a distance [m]."""
    picks: list[int] = []
    for i in np.argsort(-p, kind="stable"):
        if p[i] <= TOLERANCE:
            break
        if all(math.hypot(packing.x[i] - packing.x[k], packing.y[i] - packing.y[k]) > apart for k in picks):
            picks.append(int(i))
    return np.array(picks, np.int64)


def shed(packing: Packing, effort: Effort, spread: float, most: int = 60) -> bool:
    """Relieve pressed places, a few at a time, until every joint holds; False when that cannot be reached.

    Among even sizes pressed logs give way to smaller spares: a whole log out would leave a hole that nothing fills.
    """
    for _ in range(most):
        worst, p = ease(packing, 1500)
        if worst <= TOLERANCE:
            return True
        if spread <= 0.0 or not thin(packing, p):
            _take_hot(packing, p)
        press(packing, effort, effort.between * 60, 0.0, spread)
    return False


def _take_hot(packing: Packing, p: Floats) -> None:
    spots = hot_spots(packing, p)
    hot = spots[p[spots] > 0.5 * p.max()]
    packing.remove(hot[: max(1, packing.moving // 120)])


def thin(packing: Packing, p: Floats) -> bool:
    """Give the most pressed logs' places to smaller spares until enough area is gone; False when spares run out."""
    radius = packing.sizes[packing.which]
    share = max(LEAST_RELIEF, RELIEF * float(np.mean(p)) / (6.0 * float(np.mean(radius))))
    goal = (1.0 - share) * packing.filled
    for i in np.argsort(-p, kind="stable").tolist():
        if packing.filled <= goal or p[i] <= TOLERANCE:
            break
        spare = packing.spare
        low, high = np.searchsorted(packing.sizes[spare], (SMALLER * radius[i], radius[i]))
        if high > low:
            packing.which[i] = spare[int(packing.rng.integers(low, high))]
    return packing.filled <= goal


def fill_voids(packing: Packing) -> int:
    """Put the largest spare log that fits into each gap; gives how many."""
    spare = packing.spare
    if not len(spare):
        return 0
    gaps = find_voids(packing, float(packing.sizes[spare[0]]))
    left = list(spare)
    added = 0
    for x, y, clear in gaps:
        n = int(np.searchsorted(packing.sizes[left], clear, side="right")) - 1
        if n < 0 or not _still_clear(packing, x, y, float(packing.sizes[left[n]])):
            continue
        packing.add(np.array([left.pop(n)]), np.array([x]), np.array([y]))
        added += 1
        if not left:
            break
    return added


def _still_clear(packing: Packing, x: float, y: float, radius: float) -> bool:
    gaps = np.hypot(packing.x - x, packing.y - y) - packing.radius
    return bool(np.all(gaps >= radius - 1e-9))


def find_voids(packing: Packing, least: float, most: int = 10**9) -> Sequence[tuple[float, float, float]]:
    """Give the gaps between inflated discs as circles (centre, radius) of at least some radius [m], largest first."""
    from cordwright.wall.gaps import empty_circles

    return empty_circles(packing.region, packing.offset, (packing.x, packing.y, packing.radius), least, most)


def grow(packing: Packing, effort: Effort, spread: float) -> None:
    """Add logs in the widest gaps and press again; keep what came out fuller, try fewer when it did not."""
    share = 0.01
    failures = 0
    while failures < effort.failures and len(packing.spare):
        kept, before = packing.keep(), packing.filled
        _crowd(packing, max(1, round(share * packing.moving)))
        press(packing, effort, effort.between * 100, effort.blur / 4, spread)
        worst, p = ease(packing, 3000)
        fits = worst <= TOLERANCE or _let_go(packing, effort, spread, p)
        if fits:
            fatten(packing)
            fill_voids(packing)
        if not fits or packing.filled <= before:
            packing.put_back(kept)
            failures += 1
            share /= 2


def fatten(packing: Packing) -> int:
    """Give each loose log's place to the largest spare that fits it; gives how many were exchanged."""
    done = 0
    for i in range(packing.moving):
        done += fatten_one(packing, i)
    return done


def fatten_one(packing: Packing, i: int) -> bool:
    """Give one loose log's place to the largest spare that fits it; says whether there was one."""
    spare = packing.spare
    mine = float(packing.sizes[packing.which[i]])
    if not len(spare) or packing.sizes[spare[-1]] <= mine:
        return False
    spot = np.array([[packing.x[i]], [packing.y[i]], [mine]])
    radius = packing.radius
    radius[i] = -10.0
    gap_kernels.climb(
        spot, 0.004, packing.x, packing.y, radius, packing.region.edges, packing.region.corners, packing.offset
    )
    n = int(np.searchsorted(packing.sizes[spare], spot[2, 0], side="right")) - 1
    strayed = math.hypot(spot[0, 0] - packing.x[i], spot[1, 0] - packing.y[i]) > mine
    if n < 0 or strayed or packing.sizes[spare[n]] <= mine + 1e-5:
        return False
    packing.x[i], packing.y[i], packing.which[i] = spot[0, 0], spot[1, 0], spare[n]
    return True


def _let_go(packing: Packing, effort: Effort, spread: float, p: Floats) -> bool:
    """One more try: the most pressed log out, pressed again."""
    packing.remove(hot_spots(packing, p)[:1])
    press(packing, effort, effort.between * 60, 0.0, spread)
    return ease(packing, 4000)[0] <= TOLERANCE


def _crowd(packing: Packing, count: int) -> None:
    """Put spare logs of middling size where there is most room, without asking whether they fit."""
    spare = packing.spare
    for x, y, _ in find_voids(packing, 0.25 * float(packing.sizes[0]), min(count, len(spare))):
        pick = spare[int(packing.rng.integers(len(spare)))]
        packing.add(np.array([pick]), np.array([x]), np.array([y]))
        spare = spare[spare != pick]


def start(
    region: Region,
    sizes: Floats,
    offset: float,
    joint_half: float,
    *,
    still: Sequence[tuple[float, float, float, bool]],
    effort: Effort,
    rng: np.random.Generator,
) -> Packing:
    """Draw an even share of the stock and spread it over what is free of a region."""
    discs = np.array([s[:3] for s in still]).reshape(-1, 3)
    free = regions.room(region, discs, float(np.quantile(sizes, 0.1)) if len(sizes) else 1.0, offset)
    which = (
        draw(sizes, _target(free, sizes, effort) if not free.is_empty else 0.0, rng)
        if not free.is_empty
        else np.zeros(0, np.int64)
    )
    x, y = scatter(free, len(which), rng) if len(which) else (np.zeros(0), np.zeros(0))
    return Packing(
        region=region,
        offset=offset,
        joint_half=joint_half,
        sizes=sizes,
        x=np.concatenate((x, discs[:, 0])),
        y=np.concatenate((y, discs[:, 1])),
        which=rng.permutation(which),
        still=discs[:, 2].copy(),
        bears=np.array([s[3] for s in still], bool),
        rng=rng,
    )


def _target(free: object, sizes: Floats, effort: Effort) -> float:
    area, perimeter = free.area, free.length  # type: ignore[attr-defined]
    share = reference(area, perimeter, sizes) - effort.below
    return max(share, 0.3) * float(area)


def spread_of(sizes: Floats) -> float:
    """How much large logs wish to stand among small ones: only where sizes are so even that like heaps with like."""
    return 0.02 if sizes.size and float(np.std(sizes) / np.mean(sizes)) < EVEN else 0.0
