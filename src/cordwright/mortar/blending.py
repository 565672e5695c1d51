"""In which shares do two or three sands make a better one?"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import product
from typing import Final

import numpy as np
from numpy.typing import NDArray

from cordwright.base import Cite
from cordwright.mortar.grading import Grading, blend
from cordwright.mortar.grading_bands import Band, reading

MIDDLE_PULL: Final = 1e-3
"""Weight of the distance from the band's middle: it only chooses among blends that are equally far outside."""
FULLER_EXPONENT: Final = 0.5
"""Exponent of the curve of dense packing (`fuller-memory`)."""

SOLVER_SOURCE: Final = Cite("scipy-highs", "linprog and minimize")
DENSE_SOURCE: Final = Cite("fuller-memory")

Shares = tuple[float, ...]
Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True, kw_only=True)
class Blend:
    """Sands by dry mass, in whole per cents [1], their common curve and how far off what was sought it stays [1]."""

    sands: tuple[str, ...]
    shares: Shares
    curve: Grading
    off: float


def off_band(curve: Grading, wanted: Band) -> float:
    """Sum of what the curve lies outside a band, over the band's sieves that were reached [1]."""
    reads = [(reading(curve, limit), limit) for limit in wanted.limits]
    return sum(max(0.0, has - lim.high, lim.low - has) for has, lim in reads if has is not None)


def blend_to_band(names: Sequence[str], curves: Sequence[Grading], wanted: Band) -> Blend:
    """Shares that lie least outside a band, by linear programme, then rounded to the best whole per cents.

    Args:
        names: of the sands.
        curves: of the sands.
        wanted: the band.

    Sources: linear programme, solved by HiGHS (`scipy-highs`).
    """
    rows = [[curve.at(limit.opening) for curve in curves] for limit in wanted.limits]
    known = [i for i, row in enumerate(rows) if None not in row]
    passing = np.array([rows[i] for i in known], dtype=float)
    low = np.array([wanted.limits[i].low for i in known])
    high = np.array([wanted.limits[i].high for i in known])
    best = _least_excursion(passing, low, high)

    def objective(shares: Shares) -> float:
        read = passing @ np.array(shares)
        outside = np.maximum(0, np.maximum(read - high, low - read)).sum()
        return float(outside + MIDDLE_PULL * np.abs(read - (low + high) / 2).sum())

    shares = min(_whole_percents(best), key=objective)
    mixed = blend(tuple(curves), shares)
    return Blend(sands=tuple(names), shares=shares, curve=mixed, off=off_band(mixed, wanted))


def _least_excursion(passing: Floats, low: Floats, high: Floats) -> Shares:
    """Shares with the least total excursion; unknowns: shares, excursion and distance from the middle by sieve."""
    from scipy.optimize import linprog

    sieves, sands = passing.shape
    eye, nil = np.eye(sieves), np.zeros((sieves, sieves))
    middle = (low + high) / 2
    upper = np.block(
        [[passing, -eye, nil], [-passing, -eye, nil], [passing, nil, -eye], [-passing, nil, -eye]],
    )
    limits = np.concatenate([high, -low, middle, -middle])
    cost = np.concatenate([np.zeros(sands), np.ones(sieves), np.full(sieves, MIDDLE_PULL)])
    whole = np.concatenate([np.ones(sands), np.zeros(2 * sieves)])[None, :]
    found = linprog(cost, A_ub=upper, b_ub=limits, A_eq=whole, b_eq=[1.0], method="highs")
    return tuple(float(x) for x in found.x[:sands])


def blend_to_least_voids(names: Sequence[str], curves: Sequence[Grading]) -> Blend:
    """Shares whose curve lies nearest the curve of dense packing, by quadratic programme, in whole per cents.

    The sum of the squared distances on all sieves that the sands share is least. How many voids are left is for the
    bucket of water to tell: no model is trusted with that.

    Sources: Fuller's curve as remembered (`fuller-memory`); sequential quadratic programming (`scipy-highs`).
    """
    whole = blend(tuple(curves), tuple(1 / len(curves) for _ in curves))
    sizes = np.array(whole.openings)
    passing = np.array([[curve.at(size) for curve in curves] for size in whole.openings], dtype=float)
    dense = np.minimum(1.0, (sizes / sizes[0]) ** FULLER_EXPONENT)

    def objective(shares: Sequence[float]) -> float:
        return float(((passing @ np.asarray(shares) - dense) ** 2).sum())

    shares = min(_whole_percents(_least_square(passing, dense, objective)), key=objective)
    mixed = blend(tuple(curves), shares)
    return Blend(sands=tuple(names), shares=shares, curve=mixed, off=(objective(shares) / len(sizes)) ** 0.5)


def _least_square(passing: Floats, dense: Floats, objective: Callable[[Sequence[float]], float]) -> Shares:
    from scipy.optimize import minimize

    count = passing.shape[1]
    found = minimize(
        objective,
        np.full(count, 1 / count),
        jac=lambda shares: 2 * passing.T @ (passing @ shares - dense),
        bounds=[(0, 1)] * count,
        constraints={"type": "eq", "fun": lambda shares: shares.sum() - 1, "jac": lambda _: np.ones(count)},
        method="SLSQP",
        options={"ftol": 1e-12},
    )
    return tuple(float(x) for x in found.x)


def _whole_percents(shares: Shares) -> Iterator[Shares]:
    """All shares in whole per cents next to the given ones."""
    steps = [range(max(0, int(100 * s) - 1), min(100, int(100 * s) + 2) + 1) for s in shares[:-1]]
    for counts in product(*steps):
        last = 100 - sum(counts)
        if 0 <= last <= 100:
            yield tuple(n / 100 for n in (*counts, last))


def in_buckets(shares: Shares, loose_densities: Sequence[float | None]) -> tuple[int, ...] | None:
    """The blend in whole buckets of dry loose sand, at most ten in all, nearest by volume; None without the densities.

    Args:
        shares: by dry mass [1].
        loose_densities: dry sand over loose volume [kg/m3].
    """
    if any(density is None for density in loose_densities):
        return None
    room = np.array([s / d for s, d in zip(shares, loose_densities, strict=True) if d is not None])
    volumes = room / room.sum()
    counts = [np.array(c) for c in product(range(11), repeat=len(shares)) if 0 < sum(c) <= 10]
    nearest = min(counts, key=lambda c: (round(float(np.abs(c / c.sum() - volumes).max()), 3), int(c.sum())))
    return tuple(int(n) for n in nearest)
