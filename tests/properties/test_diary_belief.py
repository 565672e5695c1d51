"""The pace of the diary beside a grid, a sum over the whole of the belief, and laws that any such update keeps."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cordwright.base import Cite
from cordwright.diary import Guess, Observed, believe
from cordwright.diary.posterior import LEARNT_FROM, SCATTER, fading, joint_update

PRIOR = Guess(mean=0.9, sd=0.35, source=Cite("laying-pace-prior"))
RATES = st.floats(0.2, 3.0)
DAYS = st.builds(Observed, rate=RATES, whole=st.floats(0.2, 1.4))


def _prior() -> tuple[float, float]:
    spread = math.log1p((PRIOR.sd / PRIOR.mean) ** 2)
    return math.log(PRIOR.mean) - spread / 2, spread


def _quantiles(grid: np.ndarray, density: np.ndarray, chances: tuple[float, ...]) -> np.ndarray:
    cumulated = np.concatenate([[0.0], np.cumsum((density[1:] + density[:-1]) / 2 * np.diff(grid))])
    return np.interp(chances, cumulated / cumulated[-1], grid)


@settings(max_examples=25, deadline=None)
@given(st.lists(DAYS, max_size=LEARNT_FROM - 1))
def test_few_days_agree_with_a_grid_of_paces(days: list[Observed]) -> None:
    middle, spread = _prior()
    grid = np.linspace(middle - 4, middle + 4, 20001)
    log = -((grid - middle) ** 2) / (2 * spread)
    for day in days:
        log = log - (math.log(day.rate) - grid) ** 2 * day.whole / (2 * SCATTER**2)
    low, half, high = np.exp(_quantiles(grid, np.exp(log - log.max()), (0.1, 0.5, 0.9)))
    belief = believe(PRIOR, days)
    assert [belief.quantile(0.1), belief.median, belief.quantile(0.9)] == pytest.approx([low, half, high], rel=2e-3)


@settings(max_examples=8, deadline=None)
@given(st.lists(DAYS, min_size=LEARNT_FROM, max_size=25))
def test_many_days_agree_with_a_grid_of_paces_and_scatters(days: list[Observed]) -> None:
    """The same belief by brute force: every pace with every scatter, weights as told."""
    middle, spread = _prior()
    worth, fades = SCATTER**2 / spread, fading(len(days))
    means = np.linspace(middle - 3, middle + 3, 2001)
    log_variances = np.linspace(-9.0, 3.0, 301)
    mean, variance = np.meshgrid(means, np.exp(log_variances))
    half = LEARNT_FROM / 2
    log = -half * np.log(variance) - half * SCATTER**2 / variance
    log = log - 0.5 * np.log(variance) - worth * (mean - middle) ** 2 / (2 * variance)
    for day, fade in zip(days, fades, strict=True):
        log = log - fade / 2 * np.log(variance) - day.whole * fade * (math.log(day.rate) - mean) ** 2 / (2 * variance)
    density = np.exp(log - log.max()).sum(axis=0)
    low, middle_, high = np.exp(_quantiles(means, density, (0.1, 0.5, 0.9)))
    belief = believe(PRIOR, days)
    assert belief.freedom == pytest.approx(LEARNT_FROM + sum(fades))
    told = [belief.quantile(0.1), belief.median, belief.quantile(0.9)]
    assert told == pytest.approx([low, middle_, high], rel=5e-3)


@settings(max_examples=50, deadline=None)
@given(st.lists(DAYS, max_size=20), st.floats(0.1, 10.0))
def test_another_unit_of_area_scales_the_belief_and_nothing_else(days: list[Observed], unit: float) -> None:
    scaled = Guess(mean=PRIOR.mean * unit, sd=PRIOR.sd * unit, source=PRIOR.source)
    one = believe(PRIOR, days)
    other = believe(scaled, [Observed(rate=d.rate * unit, whole=d.whole) for d in days])
    assert [other.median, other.mean, other.sd] == pytest.approx([v * unit for v in (one.median, one.mean, one.sd)])
    assert (other.own, other.days, other.freedom) == pytest.approx((one.own, one.days, one.freedom))


@settings(max_examples=50, deadline=None)
@given(st.lists(RATES, min_size=1, max_size=LEARNT_FROM - 1))
def test_the_order_of_few_days_and_their_splitting_do_not_matter(rates: list[float]) -> None:
    forth = believe(PRIOR, [Observed(rate=r) for r in rates])
    back = believe(PRIOR, [Observed(rate=r) for r in reversed(rates)])
    assert (forth.middle, forth.scale) == pytest.approx((back.middle, back.scale))
    assert min(*rates, PRIOR.mean * 0.8) <= forth.median <= max(*rates, PRIOR.mean)


@given(st.lists(st.floats(-2, 2), min_size=2, max_size=12), st.integers(1, 11))
def test_a_joint_update_in_two_steps_is_that_in_one(values: list[float], cut: int) -> None:
    cut = min(cut, len(values) - 1)
    start = {"mean": 0.3, "worth": 0.7, "variance": 0.2, "freedom": 3.0}

    def update(begin: dict[str, float], part: list[float]) -> dict[str, float]:
        ones = (1.0,) * len(part)
        joint = joint_update(**begin, values=part, weights=ones, counts=ones)
        return {"mean": joint.mean, "worth": joint.worth, "variance": joint.variance, "freedom": joint.freedom}

    assert update(update(start, values[:cut]), values[cut:]) == pytest.approx(update(start, values))
