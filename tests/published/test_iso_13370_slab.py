"""ISO 13370 (`iso-13370-memory`): slab of 10 x 6 m, walls 0.4 m, as worked out for this project by its formulas.

Values of U with and without insulation, on clay and on sand, with edge insulation upright and level, and the periodic
coefficients of a bare and of an insulated slab, printed to four figures.
"""

import pytest

from cordwright.heat.ground import (
    Edge,
    Slab,
    edge_transmittance,
    ground,
    inside_wave,
    monthly_flow,
    outside_wave,
    slab_transmittance,
)


def slab(soil: str, resistance: float, edge: Edge | None = None) -> Slab:
    return Slab(area=60, perimeter=32, wall=0.4, resistance=resistance, soil=ground(soil), edge=edge or Edge())


@pytest.mark.parametrize(
    ("soil", "resistance", "d", "u"),
    [("sand", 0, 0.82, 0.8673), ("sand", 2.5, 5.82, 0.2655), ("clay", 0, 0.715, 0.6868), ("clay", 2.5, 4.465, 0.2428)],
)
def test_transmittance(soil: str, resistance: float, d: float, u: float) -> None:
    floor = slab(soil, resistance)
    assert floor.characteristic == pytest.approx(3.75, abs=0.005)
    assert floor.equivalent == pytest.approx(d, abs=0.0005)
    assert slab_transmittance(floor) == pytest.approx(u, abs=0.00005)


def test_waves_through_a_bare_slab_on_clay() -> None:
    assert inside_wave(slab("clay", 0)) == pytest.approx(42.41, abs=0.005)
    assert outside_wave(slab("clay", 0)) == pytest.approx(24.96, abs=0.005)


@pytest.mark.parametrize(("kind", "width"), [("vertical", 0.6), ("horizontal", 1.2)])
def test_edge_insulation(kind: str, width: float) -> None:
    edge = Edge(kind=kind, width=width, thickness=0.05, conductivity=0.035)  # type: ignore[arg-type]
    floor = slab("sand", 0, edge)
    assert edge_transmittance(floor) == pytest.approx(-0.392, abs=0.0005)
    assert slab_transmittance(floor) == pytest.approx(0.6582, abs=0.00005)
    assert outside_wave(floor) < outside_wave(slab("sand", 0))


def test_the_months_sum_to_the_steady_flow() -> None:
    floor = slab("clay", 2.5)
    inside, outside = (20.0,) * 12, (-5.0, -4.0, 0.0, 5.0, 10.0, 15.0, 17.0, 16.0, 11.0, 6.0, 1.0, -3.0)
    flows = monthly_flow(floor, inside, outside)
    steady = 60 * slab_transmittance(floor) * (20 - sum(outside) / 12)
    assert sum(flows) / 12 == pytest.approx(steady, rel=1e-12)
    assert max(flows) == flows[0]
