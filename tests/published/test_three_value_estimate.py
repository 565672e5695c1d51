"""The three-value estimate of a task's hours (source `pert-beta`).

Given for 2, 5 and 14: mean 6, classic spread (b - a) / 6 = 2.0, spread of the beta distribution 2.138, median 5.766.
"""

import pytest

from cordwright.season.plan import STEPS, pert_quantiles
from cordwright.season.tasks import pert_mean


def test_mean_of_the_rule() -> None:
    assert pert_mean(2, 5, 14) == 6.0


def test_median_of_the_beta_distribution() -> None:
    middle = pert_quantiles(2, 5, 14)[STEPS // 2 - 1 : STEPS // 2 + 1].mean()
    assert middle == pytest.approx(5.766, abs=0.0005)


def test_spread_of_the_beta_distribution() -> None:
    # because: the table has 1024 equally likely parts, each of one value
    assert pert_quantiles(2, 5, 14).std() == pytest.approx(2.138, abs=0.002)


def test_mean_of_the_table_is_the_rule_s() -> None:
    assert pert_quantiles(2, 5, 14).mean() == pytest.approx(6.0, abs=0.0005)
