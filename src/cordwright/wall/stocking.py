"""Which logs go to which panel, and how wide must the joint be for the stock to close the wall?"""

import math
from collections.abc import Callable, Mapping, Sequence

import numpy as np

from cordwright.wall.layout import Log
from cordwright.wall.packing import EVEN, EVEN_LOSS, Floats, reference
from cordwright.wall.region import Region
from cordwright.wall.split_shapes import grown_area

CLOSES = 0.968
"""Share of the finite-wall reference at which a region counts as full (`layout-density`)."""

FILLED = 0.85
"""Share of a panel that logs with half a joint fill: tells what splits leave for rounds (`layout-density`)."""


def round_logs(stock: Sequence[Log]) -> tuple[Log, ...]:
    """Give the logs that can be laid as rounds."""
    return tuple(log for log in stock if log.shape == "round")


def inflated(stock: Sequence[Log], joint: float) -> Floats:
    """Give the radii with half a joint, shape (n,) [m].

    Args:
        stock: log ends.
        joint: clear joint between them [m].
    """
    return np.array([log.diameter / 2 + joint / 2 for log in stock], float)


def spread_is_even(sizes: Floats) -> bool:
    """Say whether sizes are so much alike that logs lock into rows."""
    return bool(np.std(sizes) < EVEN * np.mean(sizes))


def wanted(regions: Sequence[Region], sizes: Floats, offset: float) -> float:
    """Give the inflated area of logs that closes some regions [m2].

    Args:
        regions: what is to be laid.
        sizes: inflated radii of the stock, shape (n,) [m].
        offset: what edges keep beyond half a joint [m]; may be negative.
    """
    if not len(sizes):
        return sum(r.area for r in regions)
    loss = EVEN_LOSS if spread_is_even(sizes) else 0.0
    return sum(
        (CLOSES * reference(r.area - offset * r.perimeter, r.perimeter, sizes) - loss) * (r.area - offset * r.perimeter)
        for r in regions
    )


def supplied(sizes: Floats) -> float:
    """Give the inflated area of a stock of rounds [m2]."""
    return float(math.pi * np.sum(sizes**2))


def split_area(stock: Sequence[Log], joint: float) -> float:
    """Give the area of the halves and quarters in a stock, each grown by half a joint [m2]."""
    return sum(grown_area(log.shape, log.diameter / 2, joint / 2) for log in stock if log.shape != "round")


def lacking(regions: Sequence[Region], stock: Sequence[Log], joint: float, edge: float, taken: float = 0.0) -> float:
    """Give by how much a stock falls short of closing some regions [m2 of inflated area]; negative: left over.

    Args:
        regions: what is to be laid.
        stock: log ends for it.
        joint: clear joint between logs [m].
        edge: joint at edges [m].
        taken: inflated area that pipes, bottles and laid logs fill already [m2].
    """
    rounds = inflated(round_logs(stock), joint)
    gap = wanted(regions, inflated(stock, joint), edge - joint / 2) - taken - supplied(rounds)
    return gap - split_area(stock, joint)


def even_joint(short: Callable[[float], float], nominal: float, largest: float) -> float:
    """Give the narrowest even joint, from nominal up, with which nothing is short; the largest when even that is not.

    Args:
        short: what is short for a joint [m].
        nominal: joint wanted [m].
        largest: widest joint allowed [m].
    """
    if short(nominal) <= 0:
        return nominal
    if short(largest) > 0:
        return largest
    low, high = nominal, largest
    while high - low > 1e-5:
        middle = (low + high) / 2
        low, high = (low, middle) if short(middle) <= 0 else (middle, high)
    return high


def share_out(
    stock: Sequence[Log], shares: Mapping[str, float], largest: Mapping[str, float]
) -> dict[str, tuple[Log, ...]]:
    """Deal the stock out in proportion, so that every share gets the same mix of sizes.

    From the largest log down, each goes to the share that is farthest behind among those it fits into.

    Args:
        stock: log ends.
        shares: area of each share [m2].
        largest: largest diameter that fits into each [m].
    """
    total = sum(shares.values())
    dealt: dict[str, list[Log]] = {name: [] for name in shares}
    got = dict.fromkeys(shares, 0.0)
    passed = 0.0
    for log in sorted(stock, key=lambda g: (-g.diameter, g.id)):
        fits = [name for name in shares if shares[name] > 0 and log.diameter <= largest[name]]
        if not fits:
            continue
        passed += log.diameter**2
        name = max(fits, key=lambda n: passed * shares[n] / total - got[n])
        dealt[name].append(log)
        got[name] += log.diameter**2
    return {name: tuple(logs) for name, logs in dealt.items()}
