"""ISO 10211:2017, validation cases 1 to 4 (`iso-10211`), values as printed in the standard's annex.

Case 1: half a square column, faces held at 20 and 0 degC. Case 2: concrete, wood, insulation and an aluminium web. Case
3: a balcony slab through an L-shaped wall with three airs. Case 4: an iron bar through insulation. Tolerances are the
standard's own: 0.1 K and 0.1 W/m, flows of case 3 and 4 within 1 %, case 4's temperature within 0.005 K.
"""

import numpy as np
import pytest

from cordwright.heat.coverage import Logs
from cordwright.heat.junctions import Air, Block, graded_edges, solve_junction
from cordwright.heat.multigrid import Cycle
from cordwright.heat.panel import Box, Films, PanelBody, conductances, cut, rectangle
from cordwright.heat.surface import entering

CASE_1 = """
9.7 13.4 14.7 15.1  5.3 8.6 10.3 10.8  3.2 5.6 7.0 7.5  2.0 3.6 4.7 5.0
1.3 2.3 3.0 3.2  0.7 1.4 1.8 1.9  0.3 0.6 0.8 0.9
"""


def test_case_1() -> None:
    because = "the standard allows 0.1 K at each of the 28 points; the grid here does better than half of that"
    n = 24
    x, y = np.linspace(-1 / n, 1.0, n + 2), np.linspace(-1 / n, 2 + 1 / n, 2 * n + 3)
    column = Block(low=(0, 0, 0), high=(1, 2, 1), conductivity=1.0)
    cold = Block(low=(-1, -1, 0), high=(1, 3, 1), air="cold")
    hot = Block(low=(0, 2, 0), high=(1, 3, 1), air="hot")
    airs = {"cold": Air(temperature=0.0), "hot": Air(temperature=20.0)}
    found = solve_junction([cold, hot, column], airs, (x, y, np.array([0.0, 1.0])))
    points = [found.at(i / 4, 2 - j / 4, 0.5) for j in range(1, 8) for i in range(1, 5)]
    assert points == pytest.approx([float(v) for v in CASE_1.split()], abs=0.055), because


def _case_2_body() -> PanelBody:
    nothing = np.zeros(0)
    whole = (0.0, 0.5)

    def sheet(x0: float, x1: float, z0: float, z1: float, k: float) -> Box:
        return Box(outline=rectangle(x0, x1, 0.0, 0.01), near=z0, far=z1, kx=k, ky=k, kz=k, part="lintel")

    # Outside (0 degC) is the top of the printed figure: its y runs up, our depth runs in from there.
    return PanelBody(
        name="case 2",
        outline=rectangle(*whole, 0.0, 0.01),
        joint=((0.006, 1.15, 0.0), (0.005, 0.029, 0.0), (0.035, 0.029, 0.0), (0.0015, 230.0, 0.0)),
        logs=Logs(x=nothing, y=nothing, radius=nothing, along=nothing, across=nothing),
        boxes=(
            sheet(0.0, 0.015, 0.006, 0.011, 0.12),
            sheet(0.0, 0.015, 0.011, 0.0125, 230.0),
            sheet(0.0, 0.0015, 0.0125, 0.046, 230.0),
        ),
        x0=whole[0],
        x1=whole[1],
    )


def test_case_2_by_the_panel_solver() -> None:
    films = Films(outside=0.06, inside=0.11)
    cells = cut(_case_2_body(), 0.001, 0.0004)
    panel = conductances(cells, films)
    heat = np.zeros(panel.shape)
    heat[-1] = panel.faces[panel.pattern[-1]]
    found = Cycle(panel).solve(heat, tolerance=1e-6)
    flow = 20 * float(entering(cells, films, found.temperature).sum()) / 0.01
    assert flow == pytest.approx(9.5, abs=0.1), "the standard allows 0.1 W/m"
    inner = 20 * (1 - entering(cells, films, found.temperature) / cells.face * films.inside)
    assert inner[0, 0] == pytest.approx(16.8, abs=0.1), "H; the standard allows 0.1 K"
    assert inner[0, -1] == pytest.approx(18.3, abs=0.1), "I; the standard allows 0.1 K"


def test_case_2_points() -> None:
    because = "the standard allows 0.1 K at each of the nine points, and 0.1 W/m"
    x = graded_edges([0.0, 0.0015, 0.015, 0.5], 0.0003)
    z = np.concatenate(([-0.01], graded_edges([0.0, 0.0015, 0.035, 0.0365, 0.0415, 0.0475], 0.0003), [0.06]))
    y = np.array([0.0, 1.0])

    def block(x0: float, x1: float, z0: float, z1: float, k: float) -> Block:
        return Block(low=(x0 / 1000, 0, z0 / 1000), high=(x1 / 1000, 1, z1 / 1000), conductivity=k)

    blocks = [
        Block(low=(0, 0, -1), high=(0.5, 1, 0), air="in"),
        Block(low=(0, 0, 0.0475), high=(0.5, 1, 1), air="out"),
        block(0, 500, 0, 41.5, 0.029),
        block(0, 500, 41.5, 47.5, 1.15),
        block(0, 15, 36.5, 41.5, 0.12),
        block(0, 500, 0, 1.5, 230),
        block(0, 1.5, 0, 36.5, 230),
        block(0, 15, 35, 36.5, 230),
    ]
    airs = {"in": Air(temperature=20.0, resistance=0.11), "out": Air(temperature=0.0, resistance=0.06)}
    found = solve_junction(blocks, airs, (x, y, z))
    points = {
        "A": (0, 47.5, 7.1), "B": (500, 47.5, 0.8), "C": (0, 41.5, 7.9), "D": (15, 41.5, 6.3), "E": (500, 41.5, 0.8),
        "F": (0, 36.5, 16.4), "G": (15, 36.5, 16.3), "H": (0, 0, 16.8), "I": (500, 0, 18.3),
    }  # fmt: skip
    for name, (at, up, printed) in points.items():
        assert found.at(at / 1000, 0.5, up / 1000) == pytest.approx(printed, abs=0.1), (name, because)
    assert found.heat["in"] == pytest.approx(9.5, abs=0.1), because
    assert found.heat["out"] == pytest.approx(-found.heat["in"], rel=1e-6)


def _case_3() -> tuple[list[Block], dict[str, Air]]:
    def block(low: tuple[float, ...], high: tuple[float, ...], k: float = 0.0, air: str = "") -> Block:
        a, b = (tuple(v / 1000 for v in end) for end in (low, high))
        return Block(low=a, high=b, conductivity=k, air=air)  # type: ignore[arg-type]

    def shell(start: float, k: float) -> list[Block]:
        """All that lies inward of an L-shaped face."""
        return [block((start, start, 0), (1200, 1200, 2150), k)]

    blocks = [
        block((-500, -900, 0), (1200, 1200, 2150), air="gamma"),
        *shell(-100, 1.0),
        *shell(0, 0.04),
        *shell(50, 0.7),
        block((200, 200, 0), (1200, 1200, 1000), air="alpha"),
        block((200, 200, 1150), (1200, 1200, 2150), air="beta"),
        block((50, -700, 1000), (1200, 1200, 1150), 2.5),
        block((200, 200, 1150), (1200, 1200, 1200), 1.0),
    ]
    airs = {
        "alpha": Air(temperature=20.0, resistance=0.20),
        "beta": Air(temperature=15.0, resistance=0.20),
        "gamma": Air(temperature=0.0, resistance=0.05),
    }
    return blocks, airs


def test_case_3() -> None:
    because = "the standard allows 1 % of each flow and 0.1 K"
    blocks, airs = _case_3()
    # Fine at the room's corners alone, where the coldest spots are: there the field has a cusp.
    to_corner, from_corner = [0.05, *(0.2 - np.geomspace(0.1, 0.002, 7)), 0.2], 0.2 + np.geomspace(0.002, 1.0, 13)
    x = np.array([-0.2, -0.1, -0.067, -0.033, 0.0, 0.025, *to_corner, *from_corner])
    y = np.array([-0.8, -0.7, -0.5, -0.3, -0.2, -0.15, *x[1:]])
    below, above = 1.0 - np.geomspace(1.0, 0.002, 12), 1.2 + np.geomspace(0.002, 0.95, 12)
    slab = [1.0, 1.01, 1.03, 1.06, 1.09, 1.12, 1.15, 1.17, 1.19]
    z = np.array([*below, *slab, 1.198, 1.2, *above])
    found = solve_junction(blocks, airs, (x, y, z), tolerance=1e-6)
    assert found.heat["alpha"] == pytest.approx(46.09, rel=0.01), because
    assert found.heat["beta"] == pytest.approx(13.89, rel=0.01), because
    assert found.heat["gamma"] == pytest.approx(-59.98, rel=0.01), because
    assert found.coldest("alpha") == pytest.approx(11.32, abs=0.1), because
    assert found.coldest("beta") == pytest.approx(11.11, abs=0.1), because


def test_case_4() -> None:
    because = "the standard allows 1 % of the flow and 0.005 K"
    # A quarter of the body: the bar's axis is the corner of the grid.
    x = graded_edges([0.0, 0.05, 0.5], 0.003, 1.5)
    y = graded_edges([0.0, 0.025, 0.5], 0.003, 1.5)
    z = np.concatenate(([-0.1], graded_edges([0.0, 0.2, 0.6], 0.003, 1.5), [0.8]))
    blocks = [
        Block(low=(0, 0, -1), high=(0.5, 0.5, 0.0), air="out"),
        Block(low=(0, 0, 0.0), high=(0.5, 0.5, 1), air="in"),
        Block(low=(0, 0, 0.0), high=(0.5, 0.5, 0.2), conductivity=0.1),
        Block(low=(0, 0, 0.0), high=(0.05, 0.025, 0.6), conductivity=50.0),
    ]
    airs = {"out": Air(temperature=0.0, resistance=0.10), "in": Air(temperature=1.0, resistance=0.10)}
    found = solve_junction(blocks, airs, (x, y, z), tolerance=1e-8)
    assert 4 * found.heat["in"] == pytest.approx(0.540, rel=0.01), because
    assert found.warmest("out") == pytest.approx(0.805, abs=0.005), because
