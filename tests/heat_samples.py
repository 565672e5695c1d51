"""Panels for the tests of heat, and the same equations as a matrix in double precision."""

from dataclasses import replace

import numpy as np
import scipy.sparse as sp
from numpy.typing import NDArray

from cordwright.heat.conductivity import Conductivity, WallMaterials
from cordwright.heat.coverage import Logs
from cordwright.heat.multigrid import Conductances
from cordwright.heat.panel import PanelBody, rectangle
from cordwright.plan.inputs import WallSection

ALONG, ACROSS, MORTAR, FILL = 0.27, 0.115, 0.8, 0.06
WOOD_HELD, MORTAR_HELD, FILL_HELD = 0.72e6, 1.8e6, 0.24e6
SECTION = WallSection(log_end_length=0.40, bead=0.09)


def named(value: float, low: float | None = None, high: float | None = None) -> Conductivity:
    return Conductivity(label="given", value=value, low=low or value, high=high or value)


def materials(
    along: float = ALONG, across: float = ACROSS, mortar: float = MORTAR, fill: float = FILL
) -> WallMaterials:
    return WallMaterials(along=named(along), across=named(across), mortar=named(mortar), fill=named(fill))


def scattered(
    width: float, height: float, *, radius: float = 0.065, joint: float = 0.025, seed: int = 1
) -> NDArray[np.float64]:
    """Discs (x, y, radius) in staggered rows, their sizes drawn about a mean, none touching."""
    rng = np.random.default_rng(seed)
    pitch = 2 * radius + joint
    rows = []
    for n in range(int((height - joint / 2) / (0.9 * pitch))):
        shift = pitch / 2 if n % 2 else 0.0
        for m in range(int((width - shift - joint / 2) / pitch)):
            x, y = joint / 2 + pitch * (m + 0.5) + shift, joint / 2 + 0.9 * pitch * n + pitch / 2
            rows.append((x, y, radius * rng.uniform(0.75, 1.0)))
    return np.array(rows)


def logs(discs: NDArray[np.float64], along: float = ALONG, across: float = ACROSS) -> Logs:
    x, y, radius = (np.ascontiguousarray(c) for c in discs.T)
    return Logs(x=x, y=y, radius=radius, along=np.full(x.size, along), across=np.full(x.size, across))


def panel(
    width: float = 0.6, height: float = 0.6, *, discs: NDArray[np.float64] | None = None, **k: float
) -> PanelBody:
    """A plain panel of scattered logs between two beads."""
    m = {"along": ALONG, "across": ACROSS, "mortar": MORTAR, "fill": FILL} | k
    placed = scattered(width, height) if discs is None else discs
    bead, cavity = SECTION.bead, SECTION.cavity
    return PanelBody(
        name="sample",
        outline=rectangle(0.0, width, 0.0, height),
        joint=((bead, m["mortar"], MORTAR_HELD), (cavity, m["fill"], FILL_HELD), (bead, m["mortar"], MORTAR_HELD)),
        logs=logs(placed, m["along"], m["across"]),
        x0=0.0,
        x1=width,
        log_capacity=WOOD_HELD,
    )


def mirrored(body: PanelBody) -> PanelBody:
    """The same panel seen from the other side of the room."""
    x = np.ascontiguousarray(body.x1 - body.logs.x[::-1])
    turned = {n: np.ascontiguousarray(getattr(body.logs, n)[::-1]) for n in ("y", "radius", "along", "across")}
    return replace(body, logs=Logs(x=x, **turned))


def matrix(panel: Conductances) -> sp.csr_matrix:
    """The solver's own equations as one matrix in double precision, by loops of another make."""
    depths, rows, columns = panel.shape
    number = np.arange(depths * rows * columns).reshape(panel.shape)
    thick = panel.thick[:, None, None]
    x, y = panel.across_x[panel.lay], panel.across_y[panel.lay]

    def series(a: NDArray[np.float64], b: NDArray[np.float64]) -> NDArray[np.float64]:
        with np.errstate(divide="ignore", invalid="ignore"):
            return np.where((a > 0) & (b > 0), 2 / (1 / a + 1 / b), 0.0)

    gx = thick * series(x[..., :-1], x[..., 1:])
    gy = thick * series(y[:, :-1], y[:, 1:])
    gz = panel.faces[panel.pattern] * panel.scale[:, None, None]
    pairs = [
        (number[..., :-1], number[..., 1:], gx),
        (number[:, :-1], number[:, 1:], gy),
        (number[:-1], number[1:], gz[1:-1]),
    ]
    diagonal = np.zeros(number.size)
    diagonal[number[0].ravel()] += gz[0].ravel()
    diagonal[number[-1].ravel()] += gz[-1].ravel()
    entries = []
    for a, b, g in pairs:
        np.add.at(diagonal, a.ravel(), g.ravel())
        np.add.at(diagonal, b.ravel(), g.ravel())
        entries += [(a.ravel(), b.ravel(), -g.ravel()), (b.ravel(), a.ravel(), -g.ravel())]
    diagonal[diagonal == 0] = 1.0
    entries.append((number.ravel(), number.ravel(), diagonal))
    row, column, value = (np.concatenate(part) for part in zip(*entries, strict=True))
    return sp.csr_matrix((value, (row, column)), shape=(number.size, number.size))
