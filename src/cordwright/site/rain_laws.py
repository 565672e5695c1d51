"""Which law do the depths of wet days follow: a gamma law, or two exponential ones mixed?"""

from dataclasses import dataclass
from typing import Final, Literal

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

LEAST_SHAPE: Final = 0.2
MOST_SHAPE: Final = 3.0
LEAST_DEPTHS: Final = 30
"""Fewer depths than these do not tell a shape; the law of the normals is taken."""
STEPS_OF_EM: Final = 300


@dataclass(frozen=True, slots=True, kw_only=True)
class RainLaw:
    """A law of depths over the threshold; `criterion` is Akaike's, lower is better.

    Gamma: `shape`, its mean is the month's. Mixed exponential: `share` of the first [1], means `first`, `second` [m].
    """

    name: Literal["gamma", "mixed exponential"]
    criterion: float
    shape: float = 1.0
    share: float = 1.0
    first: float = 1.0
    second: float = 1.0


def likeliest_law(over: Floats) -> RainLaw:
    """The law with the lower criterion of Akaike.

    Args:
        over: depths over the threshold, zero for one just on it [m].

    Sources: maximum likelihood; mixed exponential by expectation and maximisation. Fewer than 30 depths,
        or all of one depth: gamma, .75.
    """
    if over.size < LEAST_DEPTHS:
        return RainLaw(name="gamma", criterion=np.inf, shape=0.75)
    depth = np.maximum(over, resolution(over) / 2)
    if np.ptp(depth) <= 1e-6 * depth.max():
        return RainLaw(name="gamma", criterion=np.inf, shape=0.75)
    return min(gamma_law(depth), mixed_law(depth), key=lambda law: law.criterion)


def resolution(values: Floats) -> float:
    """The step in which depths were read [m]: a depth on the threshold may be half of it over."""
    steps = np.diff(np.unique(np.round(values, 6)))
    return float(steps.min()) if steps.size else 1e-4


def gamma_law(depth: Floats) -> RainLaw:
    """Gamma law of greatest likelihood.

    Args:
        depth: above zero [m].
    """
    from scipy.special import digamma, gammaln, polygamma

    wanted = float(np.log(depth.mean()) - np.log(depth).mean())
    shape = (3 - wanted + np.sqrt((wanted - 3) ** 2 + 24 * wanted)) / (12 * wanted)
    for _ in range(20):
        shape -= (np.log(shape) - digamma(shape) - wanted) / (1 / shape - polygamma(1, shape))
    shape = float(np.clip(shape, LEAST_SHAPE, MOST_SHAPE))
    scale = depth.mean() / shape
    likelihood = ((shape - 1) * np.log(depth) - depth / scale - gammaln(shape) - shape * np.log(scale)).sum()
    return RainLaw(name="gamma", criterion=float(4 - 2 * likelihood), shape=shape)


def mixed_law(depth: Floats) -> RainLaw:
    """Two exponential laws mixed, of greatest likelihood.

    Args:
        depth: above zero [m].
    """
    share, first, second = 0.5, float(depth.mean()) / 3, float(depth.mean()) * 1.7
    for _ in range(STEPS_OF_EM):
        one = share / first * np.exp(-depth / first)
        other = (1 - share) / second * np.exp(-depth / second)
        mine = one / (one + other)
        share = float(np.clip(mine.mean(), 1e-6, 1 - 1e-6))
        first = float((mine * depth).sum() / mine.sum())
        second = float(((1 - mine) * depth).sum() / (1 - mine).sum())
    likelihood = np.log(share / first * np.exp(-depth / first) + (1 - share) / second * np.exp(-depth / second)).sum()
    return RainLaw(
        name="mixed exponential", criterion=float(6 - 2 * likelihood), share=share, first=first, second=second
    )
