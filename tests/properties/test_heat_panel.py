"""What holds of every laid panel: bounds, balance, symmetry, monotony, and a second opinion of another make."""

import math
from dataclasses import replace

import numpy as np
import pytest
import scipy.sparse as sp
import scipy.sparse.linalg as spl
from hypothesis import given, settings
from hypothesis import strategies as st

from cordwright.heat.coverage import disc_area, polygon_share
from cordwright.heat.junctions import Air, Block, solve_junction
from cordwright.heat.multigrid import Cycle
from cordwright.heat.panel import Box, Films, PanelBody, bounds, conductances, cut, rectangle, wires
from cordwright.heat.reduction import reduce_panel
from cordwright.heat.solve import solve_panel
from cordwright.heat.surface import entering, leaving
from cordwright.heat.unit_cell import unit_cell
from heat_samples import SECTION, logs, materials, matrix, mirrored, panel, scattered

FILMS = Films(outside=0.04, inside=0.13)
HOLE = rectangle(0.2, 0.42, 0.15, 0.4)
LINTEL = Box(outline=rectangle(0.1, 0.5, 0.4, 0.5), near=0.0, far=0.4, kx=2.0, ky=2.0, kz=2.0, part="lintel")
STEEL = Box(outline=rectangle(0.1, 0.5, 0.4, 0.42), near=0.0, far=0.09, kx=50.0, ky=50.0, kz=50.0, part="lintel")


def _flow(body: PanelBody, pitch: float = 0.02, finest: float = 0.005) -> tuple[float, float, float, float, int]:
    """Heat in, heat out, the two bounds [W/K], and the steps it took."""
    cells = cut(body, pitch, finest)
    maps = conductances(cells, FILMS)
    heat = np.zeros(maps.shape)
    heat[-1] = maps.faces[maps.pattern[-1]]
    found = Cycle(maps).solve(heat, tolerance=1e-6)
    t = found.temperature
    low, high = bounds(cells, FILMS)
    return float(entering(cells, FILMS, t).sum()), float(leaving(cells, FILMS, t).sum()), low, high, found.iterations


BODIES = {
    "plain": panel(),
    "opening": replace(panel(), holes=(HOLE,)),
    "lintel over an opening": replace(panel(), holes=(HOLE,), boxes=(LINTEL,)),
    "steel over an opening": replace(panel(), holes=(HOLE,), boxes=(STEEL,)),
    "round opening": replace(
        panel(), holes=(tuple((0.3 + 0.1 * math.cos(a), 0.3 + 0.1 * math.sin(a)) for a in np.linspace(0, 6.2, 40)),)
    ),
    "gable": replace(panel(), outline=((0.0, 0.0), (0.6, 0.0), (0.6, 0.4), (0.3, 0.6), (0.0, 0.4))),
    "wires": replace(panel(), boxes=tuple(wires(panel(), 0.006, 0.15, 50.0, 0.02))),
    "post": replace(
        panel(),
        x0=-0.1,
        boxes=(Box(outline=rectangle(-0.1, 0.0, 0.0, 0.6), near=0.15, far=0.4, kx=0.13, ky=0.23, kz=0.13),),
    ),
}


@pytest.mark.parametrize("name", BODIES)
def test_heat_lies_within_its_bounds_and_balances(name: str) -> None:
    within, out, low, high, steps = _flow(BODIES[name])
    assert low * (1 - 1e-6) <= within <= high * (1 + 1e-6)
    assert out == pytest.approx(within, rel=1e-5)
    assert steps <= 20


@pytest.mark.parametrize("what", ["along", "across", "mortar", "fill"])
def test_better_leading_stuff_loses_more(what: str) -> None:
    base, *_ = _flow(panel())
    usual = {"along": 0.27, "across": 0.115, "mortar": 0.8, "fill": 0.06}[what]
    more, *_ = _flow(panel(**{what: 1.3 * usual}))
    assert more > base


def test_a_mirrored_panel_loses_the_same() -> None:
    body = panel()
    assert _flow(mirrored(body))[0] == pytest.approx(_flow(body)[0], rel=2e-6)


def test_a_finer_grid_comes_nearer_by_an_order_above_one_and_a_fifth() -> None:
    """Over three layouts together: one alone is erratic, by how its discs happen to lie on the grid."""
    bodies = [panel(0.5, 0.5, discs=scattered(0.5, 0.5, seed=seed)) for seed in (1, 2, 3)]
    flows = np.array([[_flow(body, pitch, 0.0025)[0] for pitch in (0.04, 0.02, 0.01, 0.005)] for body in bodies])
    steps = np.abs(np.diff(flows, axis=1)).sum(axis=0)
    assert math.log2(steps[0] / steps[2]) / 2 > 1.2


@pytest.mark.parametrize("name", ["plain", "steel over an opening", "gable"])
def test_single_precision_against_a_matrix_solved_directly(name: str) -> None:
    cells = cut(BODIES[name], 0.04, 0.02)
    maps = conductances(cells, FILMS)
    heat = np.zeros(maps.shape)
    heat[-1] = maps.faces[maps.pattern[-1]]
    found = Cycle(maps).solve(heat, tolerance=1e-7)
    exact = spl.spsolve(matrix(maps).tocsc(), heat.ravel()).reshape(maps.shape)
    ours, theirs = (float(entering(cells, FILMS, t).sum()) for t in (found.temperature, exact.astype(np.float32)))
    assert ours == pytest.approx(theirs, rel=1e-5)
    assert np.abs(found.temperature - exact).max() < 1e-5


def test_blocks_of_another_solver_agree() -> None:
    """A panel without curves, on the same cells, by the solver that the standard's cases were solved with."""
    nothing = logs(np.zeros((0, 3)))
    beam = Box(outline=rectangle(0.1, 0.3, 0.1, 0.2), near=0.0, far=0.4, kx=0.9, ky=0.9, kz=0.9, part="lintel")
    body = replace(panel(0.4, 0.3, discs=np.zeros((0, 3))), logs=nothing, boxes=(beam,))
    cells = cut(body, 0.02, 0.01)
    maps = conductances(cells, FILMS)
    heat = np.zeros(maps.shape)
    heat[-1] = maps.faces[maps.pattern[-1]]
    t = Cycle(maps).solve(heat, tolerance=1e-7).temperature
    depth = np.concatenate(([-0.1], np.concatenate(([0.0], np.cumsum(cells.thick))), [0.5]))
    blocks = [
        Block(low=(0, 0, -1), high=(1, 1, 0), air="out"),
        Block(low=(0, 0, 0.4), high=(1, 1, 1), air="in"),
        Block(low=(0, 0, 0), high=(1, 1, 0.4), conductivity=0.8),
        Block(low=(0, 0, 0.09), high=(1, 1, 0.31), conductivity=0.06),
        Block(low=(0.1, 0.1, 0), high=(0.3, 0.2, 0.4), conductivity=0.9),
    ]
    airs = {"out": Air(temperature=0.0, resistance=0.04), "in": Air(temperature=1.0, resistance=0.13)}
    other = solve_junction(blocks, airs, (cells.xe, cells.ye, depth))
    assert float(entering(cells, FILMS, t).sum()) == pytest.approx(other.heat["in"], rel=1e-5)


@pytest.mark.parametrize(("length", "radius", "seed"), [(0.4, 0.065, 1), (0.3, 0.065, 2), (0.4, 0.09, 3)])
def test_round_cells_against_the_panel_as_laid(length: float, radius: float, seed: int) -> None:
    """Within a percent and a half of the whole panel, whose edges here leave a wider joint."""
    section = replace(SECTION, log_end_length=length)
    pitch = 2 * radius + 0.025
    width, height = 4 * pitch, 4 * 0.9 * pitch
    discs = scattered(width + pitch, height + 0.1 * pitch, radius=radius, seed=seed)
    wrapped = np.concatenate((discs, discs - [width, 0, 0], discs - [0, height, 0]))
    body = panel(width, height, discs=wrapped)
    joint = ((0.09, 0.8, 0.0), (length - 0.18, 0.06, 0.0), (0.09, 0.8, 0.0))
    cells = cut(replace(body, joint=joint), 0.01, 0.005)
    fraction = float((cells.wood * cells.face).sum() / cells.face.sum())
    maps = conductances(cells, FILMS)
    heat = np.zeros(maps.shape)
    heat[-1] = maps.faces[maps.pattern[-1]]
    t = Cycle(maps).solve(heat).temperature
    laid = float(entering(cells, FILMS, t).sum() / cells.face.sum())
    cell = unit_cell(section, fraction, materials(), 2 * discs[:, 2]).u_value
    assert cell == pytest.approx(laid, rel=0.015)


def test_the_whole_study_of_a_panel() -> None:
    found = solve_panel(panel(), pitch=0.01)
    assert found.low <= found.flow <= found.high
    assert abs(found.imbalance) < 1e-5
    assert 0 < found.error < 0.01 * found.u_value
    grounds = {spot.ground: spot for spot in found.checked.worst}
    # A bead leads heat sideways into the log beneath it: the mortar is the colder surface.
    assert grounds["mortar"].factor < grounds["log"].factor
    assert found.checked.coldest().factor < found.surface.coldest().factor
    means = dict(found.surface.mean)
    assert means["mortar"] < means["log"] < 1


def test_eight_states_answer_as_the_whole_panel_does() -> None:
    cells = cut(panel(0.4, 0.4), 0.04, 0.02, 0.03)
    maps = conductances(cells, FILMS)
    wall = reduce_panel(cells, FILMS, tolerance=1e-7)
    exact = matrix(maps).astype(complex).tocsc()
    volume = cells.thick[:, None, None] * cells.face
    held = (cells.capacity[cells.kind[cells.layer]] * volume).ravel()
    ports = np.zeros((held.size, 2))
    ports[: cells.wood.size, 0] = maps.faces[maps.pattern[0]].ravel()
    ports[-cells.wood.size :, 1] = maps.faces[maps.pattern[-1]].ravel()
    assert wall.states == 8
    for hours, allowed in ((168, 2e-4), (24, 1e-3), (6, 5e-3)):
        w = 2 * math.pi / (3600 * hours)
        t = spl.splu((exact + 1j * w * sp.diags(held)).tocsc()).solve(ports.astype(complex))
        full = np.diag(ports.sum(axis=0)) - ports.T @ t
        assert abs(wall.admittance(w)[1, 1]) == pytest.approx(abs(full[1, 1]), rel=allowed)
    steady = spl.splu(matrix(maps).tocsc()).solve(ports)
    assert wall.steady() == pytest.approx(float(ports[:, 1] @ steady[:, 0]), rel=1e-5)
    assert np.linalg.eigvalsh(wall.conductance).min() > 0
    assert wall.scaled(2.0).steady() == pytest.approx(2 * wall.steady())


@settings(max_examples=60, deadline=None)
@given(x0=st.floats(-1, 1), y0=st.floats(-1, 1), w=st.floats(0.01, 1.5), h=st.floats(0.01, 1.5), r=st.floats(0.05, 1.2))
def test_disc_and_rectangle_share_what_shapely_says(x0: float, y0: float, w: float, h: float, r: float) -> None:
    from shapely import Point, box

    disc = Point(0, 0).buffer(r, quad_segs=512)
    assert disc_area(x0, x0 + w, y0, y0 + h, r) == pytest.approx(
        disc.intersection(box(x0, y0, x0 + w, y0 + h)).area, abs=2e-5 * r * r + 1e-9
    )


@settings(max_examples=40, deadline=None)
@given(corners=st.lists(st.tuples(st.floats(0.05, 0.95), st.floats(0.05, 0.95)), min_size=3, max_size=7))
def test_polygons_cover_what_shapely_says(corners: list[tuple[float, float]]) -> None:
    from shapely import MultiPoint, box

    hull = MultiPoint(corners).convex_hull
    if hull.geom_type != "Polygon" or hull.area < 1e-3:
        return
    edges = np.linspace(0, 1, 8)
    share = polygon_share(tuple(hull.exterior.coords)[:-1], edges, edges)
    cells = [[hull.intersection(box(a, b, a + 1 / 7, b + 1 / 7)).area * 49 for a in edges[:-1]] for b in edges[:-1]]
    assert share == pytest.approx(np.array(cells), abs=1e-9)
