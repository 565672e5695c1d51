"""Where a log end does not rest on two, would another log, or its neighbours laid otherwise, do?

A small neighbourhood is laid anew, all around it standing still: some logs give way to smaller ones, all are shaken,
pressed and settled, and the trial is kept only when every joint holds and more logs rest than before.
"""

import numpy as np

from cordwright.wall import _kernels as kernels
from cordwright.wall.packing import TOLERANCE, Floats, Ints, Packing, at_rest, fatten_one
from cordwright.wall.patching import paste
from cordwright.wall.supports import cut_around, mend_one, repair, unheld

ROUNDS = 4
"""How often all logs that do not rest are gone through."""

TRIALS = 16
"""How often the neighbourhood of one such log is laid anew in one round."""

AREA_LOST = 0.33
"""A trial may cost this share of a mean log's area at most: a resting log is worth that much of a fuller wall."""

EVEN_AREA_LOST = 0.5
"""The same among even sizes, where fewer spares fit a place and less is left loose."""

THINNED = (0.15, 0.3, 0.5)
"""Share of a neighbourhood's logs that give way to smaller ones, in turn, so that there is room to rest."""

MORE = 1.5
"""A patch is cut out so much wider than the neighbourhood in it, and two large logs beyond."""

REACH = 2.2
"""How far a neighbourhood reaches beyond its log, in mean inflated radii."""

BLUR = 0.006
"""How much the sizes of a neighbourhood are mixed before they are laid anew [m]."""

MIXES = 30
"""Rounds of exchange in a neighbourhood."""

SHAKE = 0.02
"""How far its logs are pushed about first [m]."""

SETTLING = ((0.0, 600), (1e-4, 400), (2e-5, 400), (4e-6, 400), (1e-6, 400))
"""Pull and steps in turn: joints made to hold, then logs sunk ever more gently, the last so little that joints hold."""

HOLDS = 1.5 * TOLERANCE
"""Deepest overlap of a neighbourhood that counts as none [m]."""


def mend(packing: Packing, lost: float = AREA_LOST) -> int:
    """Lay neighbourhoods of logs that do not rest anew; gives how many still do not.

    Args:
        packing: the region.
        lost: share of a mean log's area that a trial may cost.
    """
    repair(packing)
    for _ in range(ROUNDS):
        loose = unheld(packing)
        for spot in [(float(packing.x[i]), float(packing.y[i])) for i in loose]:
            _mend_spot(packing, spot, lost)
        if len(unheld(packing)) == len(loose):
            break
    for i in range(packing.moving):
        _fatten_place(packing, i)
    return len(unheld(packing))


def _fatten_place(packing: Packing, i: int) -> None:
    patch = cut_around(packing, float(packing.x[i]), float(packing.y[i]))
    inner, here = patch.packing, int(np.searchsorted(patch.places, i))
    _fatten_held(inner, np.array([here]))
    paste(packing, patch)


def _mend_spot(packing: Packing, spot: tuple[float, float], most_lost: float) -> None:
    patch = cut_around(packing, *spot, MORE * REACH * float(np.mean(packing.radius[: packing.moving])))
    inner = patch.packing
    for trial in range(TRIALS):
        loose = unheld(inner)
        here = [i for i in loose if _away(inner, i, spot) < 0.05]
        if not here or _attempt(inner, here[0], len(loose), trial, most_lost):
            break
    paste(packing, patch)


def _away(packing: Packing, i: int, spot: tuple[float, float]) -> float:
    return float(np.hypot(packing.x[i] - spot[0], packing.y[i] - spot[1]))


def _attempt(packing: Packing, i: int, loose: int, trial: int, most_lost: float) -> bool:
    kept, before = packing.keep(), packing.filled
    local = neighbourhood(packing, i)
    for k in packing.rng.permutation(local)[: int(len(local) * THINNED[trial % len(THINNED)])]:
        _exchange(packing, int(k))
    worst = lay_anew(packing, local)
    if worst > HOLDS:
        packing.put_back(kept)
        return False
    _mend_each(packing, local)
    if len(unheld(packing)) < loose:
        _fatten_held(packing, local)
        lost = before - packing.filled
        if lost <= most_lost * before / packing.moving:
            return True
    packing.put_back(kept)
    return False


def _mend_each(packing: Packing, local: Ints) -> None:
    here = set(local.tolist())
    for i in unheld(packing):
        if i in here:
            mend_one(packing, i)


def _fatten_held(packing: Packing, local: Ints) -> None:
    """Put larger spares where logs stand loose, as long as nobody loses rest."""
    loose = -1
    for i in local:
        kept = packing.keep()
        if fatten_one(packing, int(i)):
            if loose < 0:
                after = packing.keep()
                packing.put_back(kept)
                loose = len(unheld(packing))
                packing.put_back(after)
            if len(unheld(packing)) > loose:
                packing.put_back(kept)


def neighbourhood(packing: Packing, i: int) -> Ints:
    """Number the moving logs near a log: about two rings of neighbours."""
    reach = REACH * float(np.mean(packing.radius[: packing.moving])) + packing.sizes[packing.which[i]]
    away = np.hypot(packing.x[: packing.moving] - packing.x[i], packing.y[: packing.moving] - packing.y[i])
    return np.flatnonzero(away < reach)


def _exchange(packing: Packing, i: int) -> None:
    """Give a place to a spare log of nearly the same size, rather a little smaller."""
    spare = packing.spare
    size = packing.sizes[packing.which[i]]
    near = spare[(packing.sizes[spare] > 0.88 * size) & (packing.sizes[spare] < size)]
    if len(near):
        packing.which[i] = int(packing.rng.choice(near))


def lay_anew(packing: Packing, local: Ints) -> float:
    """Mix the sizes of some logs, press and settle them, all others standing still; gives the deepest overlap [m]."""
    others = np.setdiff1d(_around(packing, local), local)
    order = np.concatenate((local, others))
    x, y, still = packing.x[order], packing.y[order], packing.radius[others]
    which, moving, region = packing.which[local], len(local), packing.region
    x[:moving] += SHAKE * packing.rng.standard_normal(moving)
    y[:moving] += SHAKE * packing.rng.standard_normal(moving)
    noise = np.linspace(BLUR, -BLUR / 4, MIXES).clip(0.0)[:, None] * packing.rng.standard_normal((MIXES, moving))
    vx, vy, pace = at_rest(moving)
    kernels.anneal(
        x, y, which, packing.sizes, still, region.edges, region.corners, packing.offset, noise, 1.01, 0.15, 0.0, 12,
        vx, vy, pace, *packing.lean,
    )  # fmt: skip
    radius = np.concatenate((packing.sizes[which], still))
    worst = 0.0
    for pull, steps in SETTLING:
        worst = _run(packing, (x, y, radius), np.full(moving, pull), steps)
        if worst > 100 * TOLERANCE:
            break
    packing.x[local], packing.y[local], packing.which[local] = x[:moving], y[:moving], which
    return worst


def _around(packing: Packing, local: Ints) -> Ints:
    margin = 2.5 * float(packing.radius.max()) + 0.1
    x, y = packing.x, packing.y
    near = (x > x[local].min() - margin) & (x < x[local].max() + margin)
    near &= (y > y[local].min() - margin) & (y < y[local].max() + margin)
    return np.flatnonzero(near)


def _run(packing: Packing, discs: tuple[Floats, Floats, Floats], pull: Floats, steps: int) -> float:
    x, y, size = discs
    vx, vy, pace = at_rest(len(pull))
    p, region = np.zeros(len(pull)), packing.region
    return float(
        kernels.relax(x, y, size, vx, vy, pace, region.edges, region.corners, packing.offset, pull, steps, TOLERANCE, p)
    )
