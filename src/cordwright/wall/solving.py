"""How is one region laid, from the first scatter of logs to the last one at rest?"""

from collections.abc import Callable, Sequence
from functools import partial

import numpy as np

from cordwright.wall import mending, packing, tiny
from cordwright.wall.packing import Effort, Floats, Packing
from cordwright.wall.region import Region
from cordwright.wall.settle import settle, top_up
from cordwright.wall.taste import PLAIN, Taste

TINY = 12
"""A region that takes no more logs than this is laid many times over and the best kept."""

TINY_STARTS = 24

Still = tuple[float, float, float, bool]
"""A disc that stands still: centre and inflated radius [m], and whether a log may rest on it."""


def solve(
    region: Region,
    sizes: Floats,
    offset: float,
    joint_half: float,
    *,
    still: Sequence[Still],
    effort: Effort,
    seed: Sequence[int],
    pulse: Callable[[float], None],
    taste: Taste = PLAIN,
) -> Packing:
    """Lay one region; several times over when it takes few logs, and by search too when it takes a handful.

    Args:
        region: what is to be laid.
        sizes: inflated radii of the stock, ascending, shape (n,) [m].
        offset: what edges keep beyond half a joint [m].
        joint_half: half the joint, part of each radius [m].
        still: discs that stand still.
        effort: how long to try.
        seed: numbers that fix every choice.
        pulse: told the share done; may raise to stop.
        taste: where large and small logs are wanted.
    """
    once = partial(_solve_once, region, sizes, offset, joint_half, still=still, pulse=pulse, taste=taste)
    first = once(effort=effort, seed=[*seed, 0])
    if first.moving > TINY:
        return first
    tries = [once(effort=packing.DRAFT, seed=[*seed, n]) for n in range(1, TINY_STARTS)]
    best = max([first, *tries], key=_worth)
    return max([best, tiny.enumerate_few(best)], key=_worth) if best.moving <= tiny.MOST else best


def _worth(tried: Packing) -> tuple[float, float]:
    return tiny.worth(tried), tried.filled


def _solve_once(
    region: Region,
    sizes: Floats,
    offset: float,
    joint_half: float,
    *,
    still: Sequence[Still],
    effort: Effort,
    seed: Sequence[int],
    pulse: Callable[[float], None],
    taste: Taste = PLAIN,
) -> Packing:
    rng = np.random.Generator(np.random.PCG64(np.random.SeedSequence(list(seed))))
    laid = packing.start(region, sizes, offset, joint_half, still=still, effort=effort, rng=rng)
    laid.lean = (np.array(taste.heights), np.array(taste.lean))
    packing.deal_by_taste(laid)
    laid.pulse = lambda share: pulse(0.6 * share)
    spread = packing.spread_of(sizes)
    if laid.moving:
        packing.press(laid, effort, effort.steps, effort.blur, spread)
        laid.pulse = lambda _: pulse(0.7)
        packing.drop_strays(laid)
        if not packing.shed(laid, effort, spread):
            packing.drop_strays(laid)
            packing.drop_pressed(laid)
    top_up(laid)
    if spread <= 0.0:
        packing.grow(laid, effort, spread)
    laid.pulse = lambda _: pulse(0.9)
    settle(laid)
    top_up(laid)
    settle(laid)
    mending.mend(laid, mending.EVEN_AREA_LOST if spread > 0.0 else mending.AREA_LOST)
    packing.drop_strays(laid)
    pulse(1.0)
    return laid
