"""What does a panel lose as it is laid, log by log, and how sure is that number?

The panel is solved on two grids; how far their answers lie apart is the error of the finer one. Before it starts it
says what it will take, and refuses what this machine should not be asked to do.
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final, Literal

import numpy as np

from cordwright.base import InputError
from cordwright.heat.coverage import Logs
from cordwright.heat.field import field_of
from cordwright.heat.laid_wall import LaidWall
from cordwright.heat.multigrid import Cycle, Single
from cordwright.heat.panel import FINEST, Cells, Films, PanelBody, bounds, conductances, cut, planned_shape
from cordwright.heat.panel_heat import HeatStudy, PanelHeat, Slice
from cordwright.heat.section import INSIDE, OUTSIDE
from cordwright.heat.surface import entering, inner_surface, leaving
from cordwright.heat.surface_values import CHECKED

Progress = Callable[[float, str], None]
Cancelled = Callable[[], bool]

GRID: Final = 0.010
"""Breadth of a cell along the wall [m] where the owner asks for none."""
ORDER: Final = 1.4
"""By which power of the cell the answer comes nearer to the truth [1]: measured, `bench/heat_panel.py`."""
TOLERANCE: Final = 1e-6
BYTES: Final = 40
"""Memory a cell takes [B], maps and coarse grids included."""
SECONDS: Final = 3e-7
"""Time a cell takes [s] of an ordinary processor, both grids and both films included."""
MOST_CELLS: Final = 16_000_000
"""More cells than this are refused: two thirds of a gigabyte."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Estimate:
    """What a panel will take: its grid (depths, rows, columns), memory [B] and time [s]."""

    shape: tuple[int, int, int]
    memory: float
    seconds: float

    @property
    def cells(self) -> int:
        """How many cells."""
        depths, rows, columns = self.shape
        return depths * rows * columns


def estimate(body: PanelBody, pitch: float = GRID) -> Estimate:
    """What solving a panel will take, before it is begun.

    Args:
        body: the panel.
        pitch: breadth of a cell along the wall [m].

    Sources: measured (`bench/heat_panel.py`).
    """
    shape = planned_shape(body, pitch, finest_for(pitch))
    cells = shape[0] * shape[1] * shape[2]
    return Estimate(shape=shape, memory=1.0 * BYTES * cells, seconds=SECONDS * cells)


def finest_for(pitch: float) -> float:
    """Depth of the cells at the faces of beads and cavity that suits a grid [m]."""
    return min(2 * FINEST, FINEST * pitch / GRID)


def refuse_too_large(body: PanelBody, pitch: float, most: int = MOST_CELLS) -> None:
    """Refuse a panel that would take more than its share of the machine, and say what would do.

    Args:
        body: the panel.
        pitch: breadth of a cell along the wall [m].
        most: cells allowed.

    Raises:
        InputError: too many cells.
    """
    wanted = estimate(body, pitch)
    if wanted.cells <= most:
        return
    coarser = pitch
    while estimate(body, coarser).cells > most:
        coarser *= 1.25
    raise InputError(
        f"panel {body.name} at {pitch * 1000:.3g} mm would be {wanted.cells / 1e6:.0f} million cells and "
        f"{wanted.memory / 2**30:.1f} GiB, over the {most / 1e6:.0f} million allowed; a grid of "
        f"{round(coarser * 1000 + 0.5):d} mm keeps within them"
    )


def solve_panel(
    body: PanelBody,
    *,
    pitch: float = GRID,
    films: Films | None = None,
    most: int = MOST_CELLS,
    progress: Progress | None = None,
    cancelled: Cancelled | None = None,
) -> PanelHeat:
    """Solve a laid panel on two grids, and once more with the surface resistance at which mould is judged.

    Args:
        body: the panel.
        pitch: breadth of a cell along the wall [m].
        films: surface resistances; None for those of ISO 6946.
        most: cells allowed.
        progress: told the share done and the panel's name.
        cancelled: asked at every step.

    Raises:
        InputError: more cells than allowed, or no wall at all.
        StoppedError: cancelled.

    Sources: closed form (conduction, finite volumes); Richardson's extrapolation for the error.
    """
    refuse_too_large(body, pitch, most)
    usual = films or Films(outside=OUTSIDE, inside=INSIDE)
    told = _Told(progress, body.name)
    coarse = _run(cut(body, 2 * pitch, finest_for(2 * pitch)), usual, told.part(0.0, 0.1), cancelled)
    cells = cut(body, pitch, finest_for(pitch))
    if not (cells.kz > 0).any():
        raise InputError(f"panel {body.name} holds nothing that could lead heat")
    fine = _run(cells, usual, told.part(0.1, 0.6), cancelled)
    mould = Films(outside=usual.outside, inside=CHECKED)
    judged = _run(cells, mould, told.part(0.6, 1.0), cancelled, fine.temperature)
    return _result(body, cells, pitch, usual, coarse=coarse, fine=fine, judged=judged)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Run:
    """One solve: the cells, the films, the temperatures and what follows at once."""

    cells: Cells
    films: Films
    temperature: Single
    iterations: int

    @property
    def timber(self) -> float:
        return float((entering(self.cells, self.films, self.temperature) * self.cells.timber).sum())

    @property
    def flow(self) -> float:
        return float(entering(self.cells, self.films, self.temperature).sum())

    @property
    def area(self) -> float:
        return float((self.cells.face * self.cells.net * (1 - self.cells.timber)).sum())


class _Told:
    """Tells the share of a panel that is done."""

    def __init__(self, progress: Progress | None, name: str) -> None:
        self._progress, self._name = progress, name

    def part(self, start: float, end: float) -> Callable[[int, float], None]:
        """A teller for one solve, which takes about seven steps."""

        def told(step: int, _lacking: float) -> None:
            if self._progress is not None:
                self._progress(start + (end - start) * min(1.0, step / 8), self._name)

        return told


def _run(
    cells: Cells,
    films: Films,
    told: Callable[[int, float], None],
    cancelled: Cancelled | None,
    start: Single | None = None,
) -> _Run:
    panel = conductances(cells, films)
    heat = np.zeros(panel.shape)
    heat[-1] = panel.faces[panel.pattern[-1]]
    found = Cycle(panel).solve(heat, tolerance=TOLERANCE, start=start, told=told, cancelled=cancelled)
    return _Run(cells=cells, films=films, temperature=found.temperature, iterations=found.iterations)


def _result(
    body: PanelBody, cells: Cells, pitch: float, films: Films, *, coarse: _Run, fine: _Run, judged: _Run
) -> PanelHeat:
    low, high = bounds(cells, films)
    out = float(leaving(cells, films, fine.temperature).sum())
    checked = inner_surface(cells, judged.films, judged.temperature)
    spot = checked.coldest()
    per_area = [(run.flow - run.timber) / run.area for run in (coarse, fine)]
    return PanelHeat(
        name=body.name,
        pitch=pitch,
        shape=(int(cells.thick.size), *cells.wood.shape),
        flow=fine.flow,
        flow_timber=fine.timber,
        area=fine.area,
        low=low,
        high=high,
        error=abs(per_area[1] - per_area[0]) / (2**ORDER - 1),
        imbalance=(fine.flow - out) / fine.flow,
        iterations=fine.iterations,
        xe=tuple(cells.xe.tolist()),
        ye=tuple(cells.ye.tolist()),
        surface=inner_surface(cells, films, fine.temperature),
        checked=checked,
        level=_slice(cells, fine.temperature, "level", spot.y),
        upright=_slice(cells, fine.temperature, "upright", spot.x),
    )


def _slice(cells: Cells, temperature: Single, kind: Literal["level", "upright"], at: float) -> Slice:
    edges, along = (cells.ye, cells.xe) if kind == "level" else (cells.xe, cells.ye)
    n = min(int(np.searchsorted(edges, at, side="right")) - 1, edges.size - 2)
    field = temperature[:, n, :] if kind == "level" else temperature[:, :, n]
    kz = cells.kz[cells.kind[cells.layer]]
    there = (kz[:, n, :] if kind == "level" else kz[:, :, n]) > 0
    return Slice(
        kind=kind,
        at=at,
        along=tuple(along.tolist()),
        depth=(0.0, *np.cumsum(cells.thick).tolist()),
        field=field_of(np.where(there, field, np.nan)),
    )


def solve_wall(
    wall: LaidWall,
    *,
    pitch: float = GRID,
    only: str = "",
    most: int = MOST_CELLS,
    progress: Progress | None = None,
    cancelled: Cancelled | None = None,
) -> HeatStudy:
    """Solve all laid panels, or one of them.

    Args:
        wall: the laid wall.
        pitch: breadth of a cell along the wall [m].
        only: the name of one panel; "" for all.
        most: cells allowed in a panel.
        progress: told the share done and the panel at hand.
        cancelled: asked at every step.

    Raises:
        InputError: a panel of more cells than allowed; nothing is solved then.
        StoppedError: cancelled.

    Sources: see `solve_panel`.
    """
    bodies = [wall.body(panel, pitch) for panel in wall.laid if only in ("", panel.face.name)]
    for body in bodies:
        refuse_too_large(body, pitch, most)
    shares = np.cumsum([0.0, *(estimate(body, pitch).cells for body in bodies)])
    done = []
    for n, body in enumerate(bodies):
        start, part = shares[n] / shares[-1], (shares[n + 1] - shares[n]) / shares[-1]

        def told(share: float, what: str, start: float = start, part: float = part) -> None:
            if progress is not None:
                progress(float(start + part * share), f"heat of panel {what}")

        done.append(solve_panel(body, pitch=pitch, most=most, progress=told, cancelled=cancelled))
    return HeatStudy(panels=tuple(done))


def warm_up() -> None:
    """Compile the loops and keep them, by solving a small panel of one log, so that nobody waits for it later."""
    one, quarter = np.ones(1), np.full(1, 0.25)
    square = ((0.0, 0.0), (0.5, 0.0), (0.5, 0.5), (0.0, 0.5))
    body = PanelBody(
        name="warm-up",
        outline=square,
        joint=((0.1, 0.8, 0.0), (0.2, 0.05, 0.0), (0.1, 0.8, 0.0)),
        logs=Logs(x=quarter, y=quarter, radius=0.1 * one, along=0.2 * one, across=0.1 * one),
        x0=0.0,
        x1=0.5,
    )
    solve_panel(body, pitch=0.02)
