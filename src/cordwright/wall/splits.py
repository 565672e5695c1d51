"""Where do the halves and quarters of a region stand while it is laid, and what stands in for them among discs?

Splits push and are pushed in the same relaxation as the rounds (`press`, `ease`). All code that knows only discs sees
discs that stand still in their place: the parent's disc for a split flat on an edge, which is exact, else a cover of
small discs a third of a millimetre thick.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from cordwright.wall import _split_kernels as kernels
from cordwright.wall.layout import Log
from cordwright.wall.region import Floats, Region
from cordwright.wall.split_shapes import KINDS, grown_area, placed_stand_ins

if TYPE_CHECKING:
    from cordwright.wall.packing import Effort, Packing

Ints = NDArray[np.int64]

ROW = 15
"""Numbers in a row that says on which rail a split slides."""

FREE = (0.0, *(0.0,) * (ROW - 6), *(-1.0,) * 5)
STILL = (2.0, *FREE[1:])


@dataclass(frozen=True, slots=True, kw_only=True)
class Seat:
    """One split in its place: which of the logs, its parent's centre [m], the way its bark faces [rad].

    `disc`: whether its parent's disc is all that others can meet. `rail`: how it may move; `group`: those that exchange
    sizes with it, -1 none. `flat`: length of edge that its flats take [m].
    """

    which: int
    x: float
    y: float
    angle: float
    disc: bool = False
    rail: tuple[float, ...] = FREE
    group: int = -1
    flat: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Splits:
    """The splits of one region: `logs` by parent's diameter, `seats` those that stand, `half` of the joint [m].

    `still`, `bears`: discs of the region that stand still, without what stands in for splits.
    """

    logs: tuple[Log, ...]
    seats: tuple[Seat, ...]
    half: float
    still: Floats
    bears: NDArray[np.bool_]

    @property
    def sizes(self) -> Floats:
        """Inflated radii of the parents [m]."""
        return np.array([log.diameter / 2 + self.half for log in self.logs], float)

    @property
    def spare(self) -> list[int]:
        """Numbers of the splits that stand nowhere."""
        used = {seat.which for seat in self.seats}
        return [n for n in range(len(self.logs)) if n not in used]

    @property
    def filled(self) -> float:
        """Area of all that stand, grown by half a joint [m2]."""
        return sum(grown_of(self.logs[seat.which], self.half) for seat in self.seats)

    def shapes(self, true: bool = False) -> Floats:
        """Rows of kind, cosine and sine as the kernels take them; `true`: no split counts as its parent's disc."""
        kinds = [0 if s.disc and not true else KINDS[self.logs[s.which].shape] for s in self.seats]
        angles = np.array([s.angle for s in self.seats], float)
        return np.column_stack((np.array(kinds, float), np.cos(angles), np.sin(angles))).reshape(-1, 3)

    def covers(self) -> list[Floats]:
        """By split, the discs that stand in for it, grown by half a joint."""
        return [self._cover(seat) for seat in self.seats]

    def _cover(self, seat: Seat) -> Floats:
        log = self.logs[seat.which]
        if seat.disc:
            return np.array([[seat.x, seat.y, log.diameter / 2 + self.half]])
        return placed_stand_ins(log, seat.x, seat.y, seat.angle, self.half)


def grown_of(log: Log, by: float) -> float:
    """Area of a log end's face grown all around [m2]."""
    return grown_area(log.shape, log.diameter / 2, by)


@dataclass(frozen=True, slots=True, kw_only=True)
class Bodies:
    """All bodies of a region as the kernels take them: rounds, splits, then what stands still."""

    x: Floats
    y: Floats
    radius: Floats
    shape: Floats
    rail: Floats
    moving: int


def bodies_of(packing: "Packing", *, true: bool = False) -> Bodies:
    """Gather the bodies of a region.

    Args:
        packing: the region's state, with splits.
        true: whether splits on edges keep their own shape rather than their parent's disc.
    """
    splits = split_state(packing)
    m, s = packing.moving, len(splits.seats)
    still = splits.still.reshape(-1, 3)
    shape = np.zeros((m + s + len(still), 3))
    rail = np.zeros((m + s, ROW))
    shape[m : m + s] = splits.shapes(true)
    rail[m:] = np.array([seat.rail for seat in splits.seats], float).reshape(-1, ROW)
    sizes = splits.sizes[[seat.which for seat in splits.seats]] if s else np.zeros(0)
    return Bodies(
        x=np.concatenate((packing.x[:m], [seat.x for seat in splits.seats], still[:, 0])),
        y=np.concatenate((packing.y[:m], [seat.y for seat in splits.seats], still[:, 1])),
        radius=np.concatenate((packing.sizes[packing.which], sizes, still[:, 2])),
        shape=shape,
        rail=rail,
        moving=m + s,
    )


def split_state(packing: "Packing") -> Splits:
    """The splits of a region that has some."""
    assert packing.splits is not None
    return packing.splits


def set_splits(packing: "Packing", splits: Splits) -> None:
    """Let other splits, or the same elsewhere, stand in a region; what stands in for them follows."""
    m = packing.moving
    covers = splits.covers()
    discs = np.vstack((splits.still.reshape(-1, 3), *covers))
    packing.splits = splits
    packing.x = np.concatenate((packing.x[:m], discs[:, 0]))
    packing.y = np.concatenate((packing.y[:m], discs[:, 1]))
    packing.still = discs[:, 2].copy()
    packing.bears = np.concatenate((splits.bears, np.ones(len(discs) - len(splits.bears), bool)))


def _take_over(packing: "Packing", bodies: Bodies, which: Ints | None = None) -> None:
    """Read the places (and logs) of rounds and splits back from the kernels."""
    m, splits = packing.moving, split_state(packing)
    packing.x[:m], packing.y[:m] = bodies.x[:m], bodies.y[:m]
    logs = [seat.which for seat in splits.seats] if which is None else (which[m:] - len(packing.sizes)).tolist()
    if which is not None:
        packing.which = which[:m].copy()
    places = zip(splits.seats, logs, bodies.x[m:].tolist(), bodies.y[m:].tolist(), strict=False)
    set_splits(packing, replace(splits, seats=tuple(replace(s, which=w, x=x, y=y) for s, w, x, y in places)))


def ease_bodies(packing: "Packing", steps: int, gravity: float, tolerance: float) -> tuple[float, Floats]:
    """Let logs of true size push one another apart; gives the deepest overlap [m], and rounds' and splits' overlaps."""
    bodies, region = bodies_of(packing), packing.region
    n = bodies.moving
    p = np.zeros(n)
    if not n:
        return 0.0, p
    worst = kernels.relax_bodies(
        bodies.x, bodies.y, bodies.radius, packing.joint_half, bodies.shape, bodies.rail, np.zeros(n), np.zeros(n),
        np.array([0.1, 0.1, 0.0]), region.edges, region.corners, packing.offset, np.full(n, gravity), steps,
        tolerance, p,
    )  # fmt: skip
    _take_over(packing, bodies)
    return float(worst), p


def press_bodies(packing: "Packing", effort: "Effort", fade: Floats, spread: float) -> None:
    """Relax swollen bodies and exchange sizes within each class; `fade` is the blur of wishes by round [m]."""
    bodies, region, splits = bodies_of(packing), packing.region, split_state(packing)
    n, groups = bodies.moving, [0] * packing.moving + [1 + s.group if s.group >= 0 else -1 for s in splits.seats]
    which = np.concatenate((packing.which, [len(packing.sizes) + s.which for s in splits.seats])).astype(np.int64)
    sizes = np.concatenate((packing.sizes, splits.sizes))
    vx, vy, pace = np.zeros(n), np.zeros(n), np.array([0.1, 0.1, 0.0])
    if not n:
        return
    for first in range(0, len(fade), 100):
        level = fade[first : first + 100]
        noise = level[:, None] * packing.rng.standard_normal((len(level), n))
        kernels.anneal_bodies(
            bodies.x, bodies.y, which, sizes, bodies.radius[n:], packing.joint_half, bodies.shape, bodies.rail,
            np.array(groups, np.int64), 1 + max(groups, default=0), region.edges, region.corners, packing.offset,
            noise, effort.swell, effort.give, spread, effort.between, vx, vy, pace,
            *packing.lean,
        )  # fmt: skip
        packing.pulse(min(1.0, (first + 100) / len(fade)))
    _take_over(packing, bodies, which)


def take_out(packing: "Packing", bodies: Sequence[int]) -> None:
    """Take rounds and splits out, numbered as the kernels number them."""
    m, splits = packing.moving, split_state(packing)
    gone = {n - m for n in bodies if n >= m}
    packing.remove(np.array([n for n in bodies if n < m], np.int64))
    set_splits(packing, replace(splits, seats=tuple(s for n, s in enumerate(splits.seats) if n not in gone)))


def middles(splits: Splits) -> Floats:
    """Middles of the splits' faces, shape (n, 2) [m]."""
    from cordwright.wall.split_shapes import MIDDLE

    rows = [
        (s.x + f * np.cos(s.angle), s.y + f * np.sin(s.angle))
        for s in splits.seats
        for f in (MIDDLE[splits.logs[s.which].shape] * splits.logs[s.which].diameter / 2,)
    ]
    return np.array(rows, float).reshape(-1, 2)


def strays(packing: "Packing", region: Region) -> list[int]:
    """Number the splits whose middle lies outside the region, as the kernels number them."""
    from cordwright.wall.region import contains

    places = middles(split_state(packing))
    inside = contains(region, places[:, 0], places[:, 1])
    return [packing.moving + int(n) for n in np.flatnonzero(~inside)]
