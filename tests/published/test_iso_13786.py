"""ISO 13786, answer of a wall to a daily swing, matrix method (Rsi 0.13, Rse 0.04).

Three walls as an independent implementation of the standard's matrices and a time-domain solution give them, alike to a
few hundredths of a percent; the standard's own printed results were not at hand. Layers from inside out: thickness,
conductivity, density, specific heat.
"""

import cmath
import math

import pytest

from cordwright.heat.panel import Films
from cordwright.heat.reduction import ReducedWall, reduce_layers

CONCRETE = [(0.2, 1.8, 2400, 1000)]
BRICK = [(0.015, 0.7, 1400, 1000), (0.2, 0.5, 1200, 1000), (0.1, 0.04, 30, 1400), (0.01, 0.9, 1800, 1000)]
WOOD = [(0.4, 0.24, 450, 1600)]
# U, heat passed on, share of it, delay [h], inside answer and its lead [h], outside answer and its lead, capacities.
PRINTED = {
    "concrete": (CONCRETE, 3.5573, 1.8271, 0.5136, 5.676, 5.7043, 0.948, 11.592, 1.873, 86.17, 170.87),
    "brick": (BRICK, 0.3223, 0.05883, 0.1825, 9.693, 4.0440, 1.602, 1.4525, 4.740, 56.41, 20.63),
    "wood": (WOOD, 0.5445, 0.07206, 0.1324, 14.225, 2.5958, 2.079, 3.2079, 2.653, 36.13, 44.41),
}
BECAUSE = "eight states against the exact answer: a tenth of a percent, two hundredths of an hour"
DAY = 2 * math.pi / 86400


def _wall(layers: list[tuple[float, float, float, float]]) -> ReducedWall:
    thick, k, density, heat = zip(*reversed(layers), strict=True)
    capacity = [d * c for d, c in zip(density, heat, strict=True)]
    return reduce_layers(thick, k, capacity, Films(outside=0.04, inside=0.13))


def _hours(answer: complex) -> float:
    return cmath.phase(answer) / (2 * math.pi) * 24


@pytest.mark.parametrize("name", PRINTED)
def test_daily_answer(name: str) -> None:
    layers, u, passed, share, delay, inside, lead_in, outside, lead_out, held_in, held_out = PRINTED[name]
    wall = _wall(layers)
    y = wall.admittance(DAY)
    through = -y[1, 0]
    assert wall.states == 8
    assert wall.steady() == pytest.approx(u, abs=0.00005)
    assert abs(through) == pytest.approx(passed, rel=0.002), BECAUSE
    assert abs(through) / wall.steady() == pytest.approx(share, rel=0.002), BECAUSE
    assert (-_hours(through)) % 24 == pytest.approx(delay, abs=0.02), BECAUSE
    assert abs(y[1, 1]) == pytest.approx(inside, rel=0.001), BECAUSE
    assert _hours(y[1, 1]) == pytest.approx(lead_in, abs=0.02), BECAUSE
    assert abs(y[0, 0]) == pytest.approx(outside, rel=0.001), BECAUSE
    assert _hours(y[0, 0]) == pytest.approx(lead_out, abs=0.02), BECAUSE
    for node, printed in ((1, held_in), (0, held_out)):
        held = abs(y[node, node] + y[node, 1 - node]) / DAY / 1000
        assert held == pytest.approx(printed, rel=0.001), BECAUSE
