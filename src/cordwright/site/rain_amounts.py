"""How much falls on a wet day?

The chance of each depth is kept as a table of equally likely steps, each the mean of its step, so that the mean of the
table is the mean of the law.
"""

import math
from functools import cache
from typing import Final

import numpy as np
from numpy.typing import NDArray

from cordwright.base import Cite
from cordwright.site.weather import AMOUNT_STEPS

Floats = NDArray[np.float64]

GAMMA_SHAPE: Final = 0.75
"""Of the depth over the least wet one (`rain-gamma-shape`)."""
SHAPE_SOURCE: Final = Cite("rain-gamma-shape")
_FINE: Final = 20_001


@cache
def gamma_steps(shape: float) -> Floats:
    """Means of the equally likely steps of a gamma law whose mean is 1 (1024,).

    Args:
        shape: of the law, from 0.2 up [1].

    Sources: closed form; integrated by trapezoids in x^shape (in x for a shape over 1), where the density has no pole.
    """
    most = shape + 12.0 * math.sqrt(shape) + 30.0
    power = min(shape, 1.0)
    grid = np.linspace(0.0, most**power, _FINE) ** (1.0 / power)
    steps = _steps(grid, grid**power, grid ** (shape - power) * np.exp(-grid))
    steps = np.asarray(steps / steps.mean())
    steps.setflags(write=False)
    return steps


def mixed_steps(share: float, first: float, second: float) -> Floats:
    """Means of the equally likely steps of two mixed exponential laws (1024,).

    Args:
        share: of the first [1].
        first: mean of the first, in any unit.
        second: mean of the second, in the same unit.
    """
    grid = np.linspace(0.0, 1.0, _FINE) ** 3 * max(first, second) * 40.0
    density = share / first * np.exp(-grid / first) + (1 - share) / second * np.exp(-grid / second)
    steps = _steps(grid, grid, density)
    return np.asarray(steps * (share * first + (1 - share) * second) / steps.mean())


def _steps(value: Floats, measure: Floats, density: Floats) -> Floats:
    """Cut a law into equally likely steps and give the mean of each."""
    chance = _running(measure, density)
    first_moment = _running(measure, density * value)
    edges = np.linspace(0.0, chance[-1], AMOUNT_STEPS + 1)
    return np.asarray(np.diff(np.interp(edges, chance, first_moment)) * AMOUNT_STEPS / chance[-1])


def _running(measure: Floats, density: Floats) -> Floats:
    """Integral from the start to each point."""
    return np.concatenate([[0.0], np.cumsum(np.diff(measure) * (density[1:] + density[:-1]) / 2)])


def amounts_from_normals(mean: Floats, wet_from: float) -> Floats:
    """Depths on a wet day by month and rising chance (12, 1024) [m].

    Args:
        mean: depth on a wet day, each month (12,), not under `wet_from` [m].
        wet_from: depth that makes a day wet [m].

    Sources: threshold plus a gamma law of shape 0.75 (`rain-gamma-shape`).
    """
    return np.asarray(wet_from + (mean - wet_from)[:, None] * gamma_steps(GAMMA_SHAPE))
