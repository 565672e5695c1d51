"""Something stands otherwise than planned: which logs near it give way, and how far, so that all others stay?

Only a zone around the trouble moves; it grows until every joint holds. Where shifting is not enough the most pressed
log is taken out, one after another, and spare logs go into the gaps. Plans are so full that shifts of a few millimetres
run far, but the logs taken out are few.
"""

from collections.abc import Callable

import numpy as np

from cordwright.wall import mending
from cordwright.wall.packing import (
    TOLERANCE,
    Floats,
    Ints,
    Packing,
    drop_pressed,
    drop_strays,
    ease,
    fill_voids,
)
from cordwright.wall.settle import PULLS
from cordwright.wall.supports import repair, unheld

RINGS = (1.6, 4.0)
"""How far a zone reaches beyond the trouble, in turn, in mean inflated diameters."""

STEPS = 3000
"""Steps of shifting before a zone counts as too small."""

LOOSE_ROUNDS = 2
"""How often the logs that do not rest are gone through."""


def near(packing: Packing, spots: Floats, reach: float) -> Ints:
    """Number the moving logs whose centres lie within a reach of any of some spots.

    Args:
        packing: the region.
        spots: shape (n, 2) [m].
        reach: how far [m].
    """
    if not len(spots):
        return np.zeros(0, np.int64)
    x, y = packing.x[: packing.moving, None], packing.y[: packing.moving, None]
    return np.flatnonzero((np.hypot(x - spots[:, 0], y - spots[:, 1]) <= reach).any(axis=1))


def loosen(packing: Packing, local: Ints) -> tuple[Packing, Ints]:
    """Let some logs move while all others stand still; gives the zone and the number each of its sizes has outside.

    Args:
        packing: the region.
        local: which of its moving logs may move.
    """
    moving = packing.moving
    rest = np.setdiff1d(np.arange(moving), local)
    order = np.concatenate((local, rest, np.arange(moving, len(packing.x))))
    free = np.ones(len(packing.sizes), bool)
    free[packing.which[rest]] = False
    zone = Packing(
        region=packing.region,
        offset=packing.offset,
        joint_half=packing.joint_half,
        sizes=packing.sizes[free],
        x=packing.x[order],
        y=packing.y[order],
        which=(np.cumsum(free) - 1)[packing.which[local]],
        still=packing.radius[order[len(local) :]],
        bears=np.concatenate((np.ones(len(rest), bool), packing.bears)),
        rng=packing.rng,
        pulse=packing.pulse,
    )
    return zone, np.flatnonzero(free)


def put_back(packing: Packing, local: Ints, zone: Packing, numbers: Ints) -> None:
    """Put a zone back into its region."""
    m = zone.moving
    packing.remove(local)
    packing.add(numbers[zone.which], zone.x[:m].copy(), zone.y[:m].copy())


def make_room(packing: Packing, spots: Floats) -> None:
    """Let the logs around some spots give way until every joint holds.

    Args:
        packing: the region; changed in place.
        spots: where the trouble is, shape (n, 2) [m].
    """
    if not len(spots):
        return
    reaches = [ring * 2.0 * float(np.mean(packing.sizes)) for ring in RINGS]
    for reach in reaches:
        if _in_zone(packing, near(packing, spots, reach), _shift):
            return
    _in_zone(packing, np.arange(packing.moving), _take_out)


def _in_zone(packing: Packing, local: Ints, way: Callable[[Packing], bool]) -> bool:
    """Try one way in a zone; the region is changed only when every joint holds then."""
    zone, numbers = loosen(packing, local)
    if not way(zone):
        return False
    put_back(packing, local, zone, numbers)
    return True


def _shift(zone: Packing) -> bool:
    zone.pulse(0.2)
    return ease(zone, STEPS)[0] <= TOLERANCE


def _take_out(zone: Packing) -> bool:
    drop_strays(zone)
    drop_pressed(zone)
    return True


def fill_holes(packing: Packing, spots: Floats, reach: float) -> None:
    """Put spare logs into the gaps that are left; those around them stay.

    Args:
        packing: the region; changed in place.
        spots: where logs were taken out, shape (n, 2) [m].
        reach: how far around them logs may sink onto what is below [m].
    """
    fill_voids(packing)
    if not len(spots):
        return
    local = near(packing, spots, reach)
    _in_zone(packing, local, sink)


def sink(zone: Packing) -> bool:
    """Let the logs of a zone sink onto what is below; says whether every joint holds after."""
    for pull in PULLS:
        ease(zone, 600, gravity=pull)
    return ease(zone, STEPS)[0] <= TOLERANCE


def hold_again(packing: Packing) -> None:
    """Let logs that lost their rest find it again, each within its own neighbourhood.

    Args:
        packing: the region; changed in place.
    """
    for _ in range(LOOSE_ROUNDS):
        loose = unheld(packing)
        for spot in [(float(packing.x[i]), float(packing.y[i])) for i in loose]:
            _hold_spot(packing, spot)
        if len(unheld(packing)) >= len(loose):
            return


def _hold_spot(packing: Packing, spot: tuple[float, float]) -> None:
    here = [i for i in unheld(packing) if np.hypot(packing.x[i] - spot[0], packing.y[i] - spot[1]) < 0.05]
    if not here:
        return
    local = mending.neighbourhood(packing, here[0])
    before = len(unheld(packing))
    kept = packing.keep()
    zone, numbers = loosen(packing, local)
    repair(zone)
    if unheld(zone):
        mending.mend(zone)
    put_back(packing, local, zone, numbers)
    if len(unheld(packing)) >= before:
        packing.put_back(kept)
