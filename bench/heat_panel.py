"""How fast is the heat of a laid panel, beside the methods one would take instead?

Peers, on the same cells, to the same residual, one thread, in turn: trilinear finite elements (assembly and a smoothed
aggregation multigrid) and a finite-volume matrix with a classical multigrid. Seconds are of the processor. Memory is
what each holds while it solves, counted. Then the growth with cells, the traffic against the machine's own triad, and
the round cell against the finite elements.
"""

# ruff: noqa: E402 - the number of threads is set before any library asks for it

import os

for name in ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "NUMBA_NUM_THREADS"):
    os.environ.setdefault(name, "1")

import argparse
import math
import time
import tracemalloc
from collections.abc import Callable
from pathlib import Path
from sys import path

import numpy as np
import scipy.sparse as sp

path.insert(0, str(Path(__file__).resolve().parents[1] / "tests"))

from cordwright.heat.multigrid import Cycle
from cordwright.heat.panel import Cells, Films, conductances, cut
from cordwright.heat.unit_cell import unit_cell
from heat_samples import SECTION, materials, matrix, panel, scattered
from timing import machine

FILMS = Films(outside=0.04, inside=0.13)
TOLERANCE = 1e-6


def cpu(work: Callable[[], object]) -> tuple[float, object]:
    start = time.process_time()
    found = work()
    return time.process_time() - start, found


def best(work: Callable[[], object], rounds: int) -> float:
    return min(cpu(work)[0] for _ in range(rounds))


def heat_in(maps: object) -> np.ndarray:
    heat = np.zeros(maps.shape)
    heat[-1] = maps.faces[maps.pattern[-1]]
    return heat


def ours(cells: Cells) -> tuple[float, int]:
    maps = conductances(cells, FILMS)
    found = Cycle(maps).solve(heat_in(maps), tolerance=TOLERANCE)
    flow = float((maps.faces[maps.pattern[-1]] * (1 - found.temperature[-1])).sum())
    return flow / float(cells.face.sum()), found.iterations


def by_matrix(cells: Cells) -> tuple[float, int]:
    """Finite volumes as a matrix, classical multigrid."""
    import pyamg

    maps = conductances(cells, FILMS)
    system = matrix(maps)
    residuals: list[float] = []
    solver = pyamg.ruge_stuben_solver(system)
    t = solver.solve(heat_in(maps).ravel(), tol=TOLERANCE, accel="cg", residuals=residuals)
    last = t.reshape(maps.shape)[-1]
    return float((maps.faces[maps.pattern[-1]] * (1 - last)).sum()) / float(cells.face.sum()), len(residuals) - 1


def by_elements(cells: Cells) -> tuple[float, float, float, sp.csr_matrix]:
    """Trilinear elements on the same cells: U, seconds of assembly and of solving, and the matrix."""
    import pyamg
    from skfem import Basis, BilinearForm, ElementHex1, FacetBasis, LinearForm, MeshHex

    start = time.process_time()
    depth = np.concatenate(([0.0], np.cumsum(cells.thick)))
    mesh = MeshHex.init_tensor(cells.xe, cells.ye, depth)
    middle = mesh.p[:, mesh.t].mean(axis=1)
    i, j, k = (np.searchsorted(e, m) - 1 for e, m in zip((cells.xe, cells.ye, depth), middle, strict=True))
    kind = cells.kind[cells.layer[k]]
    kx, ky, kz = (maps[kind, j, i] for maps in (cells.kx, cells.ky, cells.kz))
    basis = Basis(mesh, ElementHex1(), intorder=3)

    @BilinearForm
    def conduct(u, v, w):
        return w.kx * u.grad[0] * v.grad[0] + w.ky * u.grad[1] * v.grad[1] + w.kz * u.grad[2] * v.grad[2]

    @BilinearForm
    def film(u, v, _w):
        return u * v

    @LinearForm
    def air(v, _w):
        return v

    shape = (mesh.nelements, 1)
    fields = {"kx": kx.reshape(shape), "ky": ky.reshape(shape), "kz": kz.reshape(shape)}
    total = conduct.assemble(basis, **{n: np.broadcast_to(f, basis.dx.shape) for n, f in fields.items()})
    outer = FacetBasis(mesh, ElementHex1(), intorder=3, facets=mesh.facets_satisfying(lambda x: x[2] < 1e-9))
    inner = FacetBasis(
        mesh, ElementHex1(), intorder=3, facets=mesh.facets_satisfying(lambda x: x[2] > depth[-1] - 1e-9)
    )
    source = air.assemble(inner) / FILMS.inside
    total = (total + film.assemble(outer) / FILMS.outside + film.assemble(inner) / FILMS.inside).tocsr()
    assembled = time.process_time() - start
    start = time.process_time()
    solver = pyamg.smoothed_aggregation_solver(total)
    t = solver.solve(source, tol=TOLERANCE, accel="cg")
    solved = time.process_time() - start
    leaving = float((air.assemble(outer) / FILMS.outside) @ t)
    return leaving / float(cells.face.sum()), assembled, solved, total


def memory_of_ours(cells: Cells) -> float:
    """Bytes the solver holds, at its most."""
    maps = conductances(cells, FILMS)
    tracemalloc.start()
    Cycle(maps).solve(heat_in(maps).astype(np.float32), tolerance=TOLERANCE)
    most = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    return float(most)


def memory_of(work: Callable[[], object]) -> float:
    tracemalloc.start()
    work()
    most = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    return float(most)


def triad() -> float:
    """What this machine moves in a plain a = b + s c of single floats, one thread [B/s]."""
    from numba import njit

    @njit
    def run(a, b, c, s):
        for i in range(a.size):
            a[i] = b[i] + s * c[i]

    a, b, c = (np.ones(24_000_000, np.float32) for _ in range(3))
    run(a, b, c, np.float32(0.5))
    return 3 * 4 * a.size / best(lambda: run(a, b, c, np.float32(0.5)), 5)


def counted_traffic(cells: Cells) -> float:
    """Bytes a step moves, counted from what its passes read and write of the finest grid, coarse grids a third more.

    Vectors, each once a pass: way down reads source and pivots and writes the answer; way up reads source and pivots
    and reads and writes the answer; direction reads z, reads and writes p and writes A p; the step reads p and A p and
    reads and writes x and r. Maps are two-dimensional: those of sides and depth faces on each of three passes.
    """
    depth = cells.thick.size
    maps = (cells.kx.shape[0] * 2 + cells.kind.size * 2 + 2) / depth
    cycle = 3 + 4 + 2 * maps
    return 4 * cells.count * (cycle * 4 / 3 + 4 + 6 + maps)


def compare(pitch: float, rounds: int) -> None:
    cells = cut(panel(1.0, 1.0), pitch, 0.005)
    print(f"\n1 x 1 m at {pitch * 1000:g} mm, {cells.count:,} cells")
    ours(cells)
    (u, steps), (u_fv, steps_fv), (u_fem, assembly, solving, _) = ours(cells), by_matrix(cells), by_elements(cells)
    times: list[list[float]] = [[], [], [], []]
    for _ in range(rounds):
        times[0] += [cpu(lambda: ours(cells))[0] for _ in range(3)]
        times[1].append(cpu(lambda: by_matrix(cells))[0])
        _, assembly, solving, _ = by_elements(cells)
        times[2].append(assembly + solving)
        times[3].append(solving)
    mine, fv, fem, fem_solve = (min(t) for t in times)
    print(f"  ours      {mine:8.4f} s  {steps} steps  U {u:.5f}")
    print(f"  matrix    {fv:8.4f} s  {steps_fv} steps  U {u_fv:.5f}   {fv / mine:6.1f} times ours (wanted 25)")
    print(f"  elements  {fem:8.4f} s  U {u_fem:.5f}   {fem / mine:6.1f} times ours (wanted 250)")
    print(f"    their solve alone {fem_solve:8.4f} s   {fem_solve / mine:6.1f} times ours (wanted 30)")
    held = memory_of_ours(cells)
    print(f"  memory: ours {held / 2**20:.1f} MiB, {held / cells.count:.0f} B a cell", end="")
    for name, work in (("matrix", lambda: by_matrix(cells)), ("elements", lambda: by_elements(cells))):
        peer = memory_of(work)
        print(f"; {name} {peer / 2**20:.0f} MiB, {peer / held:.1f} times", end="")
    print(" (wanted 5)")
    diameters = 2 * scattered(1.0, 1.0)[:, 2]
    fraction = float((cells.wood * cells.face).sum() / cells.face.sum())
    round_cell = best(lambda: unit_cell(SECTION, fraction, materials(), diameters), 20)
    print(f"  round cells {round_cell * 1000:.2f} ms: elements take {fem / round_cell:.0f} times (wanted 1000)")


def growth() -> None:
    print("\ngrowth, wall of 5 x 2.2 m")
    body = panel(5.0, 2.2)
    moved = triad()
    print(f"  triad {moved / 1e9:.1f} GB/s")
    rows = []
    for pitch in (0.030, 0.020, 0.010, 0.005):
        cells = cut(body, pitch, 0.005)
        maps = conductances(cells, FILMS)
        heat = heat_in(maps)
        setting, cycle = cpu(lambda m=maps: Cycle(m))
        runs = [cpu(lambda c=cycle, h=heat: c.solve(h, tolerance=TOLERANCE)) for _ in range(3 if pitch > 0.006 else 2)]
        seconds, found = min(runs, key=lambda r: r[0])
        share = counted_traffic(cells) * found.iterations / seconds / moved
        kilobytes = counted_traffic(cells) * found.iterations / cells.count / 1000
        rows.append((cells.count, setting + seconds))
        print(
            f"  {pitch * 1000:4.0f} mm {cells.count:>12,} cells: set up {setting:.3f} s, solved {seconds:.3f} s, "
            f"{found.iterations} steps, {share:.0%} of the triad, {kilobytes:.2f} kB a cell"
        )
    (first, t_first), (last, t_last) = rows[0], rows[-1]
    print(f"  exponent {math.log(t_last / t_first) / math.log(last / first):.2f} (1 is proportional)")


def main() -> None:
    asked = argparse.ArgumentParser()
    asked.add_argument("--rounds", type=int, default=3)
    asked.add_argument("--pitch", type=float, default=0.010)
    rounds = asked.parse_args()
    machine()
    compare(rounds.pitch, rounds.rounds)
    growth()


if __name__ == "__main__":
    main()
