"""How does a wall answer to warmth that comes and goes, told by a handful of numbers instead of a million?

The wall is seen from its two sides: temperatures of the air outside and inside go in, heat leaving the air on each side
comes out. Its millions of temperatures are kept as a mix of a few shapes. Of a laid panel: the two steady ones, how
they begin to drift, and how it stands when driven at the pace of a day and of a sixth of it; its answer on one side
errs by hundredths of a percent at 24 h, the small wave that gets through a thick wall by some percent. Of plain layers:
the steady shapes, those of a daily swing itself, and one quicker; their answer at 24 h is exact. What is steady is
always exact, and the small wall can never make heat.
"""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from cordwright.base import InputError
from cordwright.heat.multigrid import Cancelled, Cycle
from cordwright.heat.panel import Cells, Films, conductances

Floats = NDArray[np.float64]
DAY: Final = 86400.0
SHIFTS: Final = (2 * math.pi / DAY, 12 * math.pi / DAY)
"""Paces at which the shapes are taken [1/s]: of a day and of a sixth of it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ReducedWall:
    """A wall of n states between outside (0) and inside (1): C dT/dt = -K T + B u, heat into it q = D u - B' T.

    `capacity` C [J/K] and `conductance` K [W/K] of shape (n, n), `ports` B (n, 2) and `direct` D (2, 2) [W/K]. Heat is
    that of the whole wall that was reduced; divide all by its area for one square metre.
    """

    capacity: Floats
    conductance: Floats
    ports: Floats
    direct: Floats

    @property
    def states(self) -> int:
        """How many states it has."""
        return int(self.capacity.shape[0])

    def scaled(self, factor: float) -> "ReducedWall":
        """The same wall of another size."""
        return ReducedWall(
            capacity=self.capacity * factor,
            conductance=self.conductance * factor,
            ports=self.ports * factor,
            direct=self.direct * factor,
        )

    def steady(self) -> float:
        """Heat through it for one degree that lasts [W/K]."""
        return float(-self.admittance(0.0)[0, 1].real)

    def admittance(self, frequency: float) -> NDArray[np.complex128]:
        """Heat into the wall from the air outside and inside for a swing of one degree of either [W/K], shape (2, 2).

        Args:
            frequency: of the swing [rad/s].
        """
        inner = np.linalg.solve(self.conductance + 1j * frequency * self.capacity, self.ports)
        return np.asarray(self.direct - self.ports.T @ inner)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Body:
    """A wall in full: solve(shift, heat) gives the inverse of A + shift C times heat; apply gives A times temperatures.

    `swings`: shapes of a daily swing where they can be had, for each port two.
    """

    solve: Callable[[float, Floats], Floats]
    capacity: Floats
    apply: Callable[[Floats], Floats]
    ports: tuple[Floats, Floats]
    swings: tuple[Floats, ...] = ()


def reduce_panel(
    cells: Cells, films: Films, *, tolerance: float = 1e-6, cancelled: Cancelled | None = None
) -> ReducedWall:
    """Reduce a laid panel to eight states.

    Args:
        cells: the panel, with what its cells hold.
        films: surface resistances.
        tolerance: of each of the eight solves [1].
        cancelled: asked at every step.

    Raises:
        StoppedError: cancelled.
        InputError: a panel that holds no heat.

    Sources: closed form (Galerkin on rational Krylov shapes).
    """
    body = _panel_body(cells, films, tolerance, cancelled)
    return _reduced(body, _shapes(body))


def reduce_layers(
    thickness: Sequence[float],
    conductivity: Sequence[float],
    capacity: Sequence[float],
    films: Films,
    *,
    finest: float = 0.002,
    largest: float = 0.003,
) -> ReducedWall:
    """Reduce a wall of plain layers to eight states for one square metre.

    Args:
        thickness: of the layers, outside first [m].
        conductivity: [W/(m K)].
        capacity: heat they hold [J/(m3 K)].
        films: surface resistances.
        finest: depth of the thinnest cells [m].
        largest: depth of the thickest [m].

    Raises:
        InputError: layers that hold no heat.

    Sources: closed form, finite volumes; ISO 13786 is its check.
    """
    body = _layers_body(thickness, conductivity, capacity, films, (finest, largest))
    return _reduced(body, _shapes(body))


def _shapes(body: _Body) -> Floats:
    """Shapes that span the answer, columns of unit capacity; shape (cells, at most 8)."""
    if not body.capacity.any():
        raise InputError("a wall that holds no heat cannot be reduced to states")
    found: list[Floats] = []
    for port in body.ports:
        steady = body.solve(0.0, port)
        found += [steady, body.solve(SHIFTS[1], port)]
        if not body.swings:
            found += [body.solve(0.0, body.capacity * steady), body.solve(SHIFTS[0], port)]
    found += body.swings
    return _orthogonal(found, body.capacity)


def _orthogonal(columns: Sequence[Floats], capacity: Floats) -> Floats:
    """The same span in shapes that do not overlap, by capacity; twice, so that single precision does no harm."""
    kept: list[Floats] = []
    for column in columns:
        v = column / math.sqrt(_held(column, column, capacity))
        for _ in range(2):
            for w in kept:
                v = v - _held(v, w, capacity) * w
        left = math.sqrt(max(0.0, _held(v, v, capacity)))
        if left > 1e-6:
            kept.append(v / left)
    return np.stack(kept, axis=-1)


def _held(a: Floats, b: Floats, capacity: Floats) -> float:
    return float(np.einsum("i,i,i->", a, b, capacity))


def _reduced(body: _Body, shapes: Floats) -> ReducedWall:
    """Galerkin: what the full wall does, seen through its shapes; the steady heat comes out as the full one's."""
    out = np.stack([body.apply(column) for column in shapes.T], axis=-1)
    ports = np.stack(body.ports, axis=-1)
    conductance = shapes.T @ out
    return ReducedWall(
        capacity=shapes.T @ (body.capacity[:, None] * shapes),
        conductance=(conductance + conductance.T) / 2,
        ports=shapes.T @ ports,
        direct=np.diag(ports.sum(axis=0)),
    )


def _panel_body(cells: Cells, films: Films, tolerance: float, cancelled: Cancelled | None) -> _Body:
    panel = conductances(cells, films)
    shape = panel.shape
    volume = cells.thick[:, None, None] * cells.face
    held = (cells.capacity[cells.kind[cells.layer]] * volume).ravel()
    cycles: dict[float, Cycle] = {}

    def solve(shift: float, heat: Floats) -> Floats:
        if shift not in cycles:
            cycles.clear()
            cycles[shift] = Cycle(conductances(cells, films, shift * cells.capacity) if shift else panel)
        found = cycles[shift].solve(heat.reshape(shape), tolerance=tolerance, cancelled=cancelled)
        return found.temperature.astype(np.float64).ravel()

    plain = Cycle(panel)
    ends = []
    for depth, pattern in ((0, panel.pattern[0]), (-1, panel.pattern[-1])):
        port = np.zeros(shape)
        port[depth] = panel.faces[pattern]
        ends.append(port.ravel())
    return _Body(
        solve=solve,
        capacity=held,
        apply=lambda t: plain.leaving(t.reshape(shape)).ravel(),
        ports=(ends[0], ends[1]),
    )


def _layers_body(
    thickness: Sequence[float],
    conductivity: Sequence[float],
    capacity: Sequence[float],
    films: Films,
    depths: tuple[float, float],
) -> _Body:
    from scipy.linalg import solve_banded, solveh_banded

    from cordwright.heat.grid import graded

    thick, layer = graded(thickness, *depths)
    k, held = np.array(conductivity)[layer], np.array(capacity)[layer] * thick
    half = thick / (2 * k)
    between = 1 / (half[:-1] + half[1:])
    outside, inside = 1 / (films.outside + half[0]), 1 / (films.inside + half[-1])
    diagonal = np.zeros(thick.size)
    diagonal[:-1] += between
    diagonal[1:] += between
    diagonal[0] += outside
    diagonal[-1] += inside
    ports = np.zeros((2, thick.size))
    ports[0, 0], ports[1, -1] = outside, inside

    def solve(shift: float, heat: Floats) -> Floats:
        bands = np.zeros((2, thick.size))
        bands[0] = diagonal + shift * held
        bands[1, :-1] = -between
        return np.asarray(solveh_banded(bands, heat, lower=True))

    def swing(heat: Floats) -> tuple[Floats, Floats]:
        bands = np.zeros((3, thick.size), np.complex128)
        bands[0, 1:] = bands[2, :-1] = -between
        bands[1] = diagonal + 1j * SHIFTS[0] * held
        found = solve_banded((1, 1), bands, heat.astype(np.complex128))
        return found.real.copy(), found.imag.copy()

    def leaving(t: Floats) -> Floats:
        out = diagonal * t
        out[:-1] -= between * t[1:]
        out[1:] -= between * t[:-1]
        return np.asarray(out)

    swings = (*swing(ports[0]), *swing(ports[1]))
    return _Body(solve=solve, capacity=held, apply=leaving, ports=(ports[0], ports[1]), swings=swings)
