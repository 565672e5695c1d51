"""What is a laid panel to the heat that goes through it: which cells lead how well, and which are not there?

The panel lies flat, x along the wall, y up, z from the outside face in. It is cut in z where a bead, a post or anything
of less than the whole depth begins; each such layer has one map of what its cells lead. What is not wall (an opening,
what lies beyond the outline) leads nothing: its edges are closed to heat.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

import numpy as np
from numpy.typing import NDArray

from cordwright.base import InputError
from cordwright.heat.coverage import Cover, Logs, Point, Split, cover, edge_direction, polygon_share
from cordwright.heat.grid import edges_through, graded
from cordwright.heat.multigrid import Conductances

Floats = NDArray[np.float64]
FINEST: Final = 0.005
"""Depth of the cells at the faces of beads and cavity [m]."""
SLIVER: Final = 0.02
"""A cell of which less than this share is wall is none [1]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Box:
    """A timber, a wire or the like: an upright outline from the depth `near` to `far` from the outside face [m].

    `kx`, `ky`, `kz`: what it leads along the wall, upward and through the wall [W/(m K)]. `part`: what its inner face
    counts to: "timber" stands outside the net face, "lintel" within it, "wire" leads along it only, "void" is nothing.
    `share`: of the outline that it really fills; a wire fills little of its row. `capacity`: heat it holds [J/(m3 K)].
    """

    outline: tuple[Point, ...]
    near: float
    far: float
    kx: float
    ky: float
    kz: float
    part: str = "timber"
    share: float = 1.0
    capacity: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class PanelBody:
    """A panel as a body: where it reaches, of what layers, and what stands in it.

    `outline` [m]: the face of the wall that is laid; what lies outside it and outside every box leads nothing. `joint`:
    thickness [m], conductivity [W/(m K)] and heat capacity [J/(m3 K)] of what fills the joint in each layer, outside
    first. `holes`: openings through the whole depth. `x0` and `x1`: from where to where the body reaches along the
    wall, half a post at each end. `log_capacity`: heat that log ends hold [J/(m3 K)].
    """

    name: str
    outline: tuple[Point, ...]
    joint: tuple[tuple[float, float, float], ...]
    logs: Logs
    splits: tuple[Split, ...] = ()
    boxes: tuple[Box, ...] = ()
    holes: tuple[tuple[Point, ...], ...] = ()
    x0: float
    x1: float
    log_capacity: float = 0.0

    @property
    def height(self) -> tuple[float, float]:
        """Lowest and highest point [m]."""
        return min(y for _, y in self.outline), max(y for _, y in self.outline)

    @property
    def thickness(self) -> float:
        """Of the wall [m]."""
        return math.fsum(d for d, _, _ in self.joint)


@dataclass(frozen=True, slots=True, kw_only=True)
class Films:
    """Surface resistances outside and inside [m2 K/W]."""

    outside: float
    inside: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Cells:
    """A panel cut into cells: edges [m], what is log, and what every layer leads.

    `xe`, `ye`: edges of columns and rows. `thick` and `layer`: of the cells in depth. `kind`: of every layer, which of
    the maps it has. `kx`, `ky`, `kz`: maps [W/(m K)], shape (kinds, rows, columns). `wood`: share of every cell that is
    log [1]; `timber`: that is post or frame; `lintel`; `net`: that is the laid wall's own face. `capacity`: heat that
    the cells hold [J/(m3 K)], shape (kinds, rows, columns).
    """

    xe: Floats
    ye: Floats
    thick: Floats
    layer: NDArray[np.int64]
    kind: NDArray[np.int64]
    kx: Floats
    ky: Floats
    kz: Floats
    wood: Floats
    timber: Floats
    lintel: Floats
    net: Floats
    capacity: Floats

    @property
    def face(self) -> Floats:
        """Area of every cell's face [m2], shape (rows, columns)."""
        return np.asarray(np.diff(self.ye)[:, None] * np.diff(self.xe))

    @property
    def count(self) -> int:
        """How many cells there are, holes and all."""
        return int(self.thick.size * self.wood.size)


def planned_shape(body: PanelBody, pitch: float, finest: float = FINEST) -> tuple[int, int, int]:
    """Into how many depths, rows and columns a panel would be cut, before anything is reckoned.

    Args:
        body: the panel.
        pitch: breadth of a cell along the wall [m].
        finest: depth of the cells at the faces of beads and cavity [m].
    """
    xe, ye = _edges(body, pitch)
    thick, _ = graded([d for d, *_ in _layers(body)], finest)
    return thick.size, ye.size - 1, xe.size - 1


def cut(body: PanelBody, pitch: float, finest: float = FINEST, largest: float = math.inf) -> Cells:
    """Cut a panel into cells.

    A cell that is part log, part joint leads the mean of both along their edge and their series across it; through the
    wall it leads the mean, which is exact for paths side by side.

    Args:
        body: the panel.
        pitch: breadth of a cell along the wall [m].
        finest: depth of the cells at the faces of beads and cavity [m].
        largest: depth of no cell is more [m]; about 0.015 where the panel is to be reduced to states.

    Raises:
        InputError: a pitch not above 0.
    """
    if not (pitch > 0 and finest > 0):
        raise InputError("a cell has a breadth and a depth above 0")
    xe, ye = _edges(body, pitch)
    layers = _layers(body)
    thick, layer = graded([d for d, *_ in layers], finest, largest)
    laid = cover(body.logs, body.splits, xe, ye)
    wall = _wall(body, xe, ye)
    edges = edge_direction(laid.share, xe, ye)
    boxes = [(box, box.share * _inside(box.outline, xe, ye)) for box in body.boxes]
    there = _there(wall, boxes)
    kinds: dict[tuple[float, float, tuple[int, ...]], int] = {}
    kind = np.array([kinds.setdefault((k, held, active), len(kinds)) for _, k, held, active in layers])
    maps, holds = [], []
    for k, capacity, active in kinds:
        standing = [boxes[n] for n in active]
        maps.append(_leads(k, standing, laid, edges, there))
        holds.append(_holds(capacity, body.log_capacity, standing, laid) * (maps[-1][2] > 0))
    kx, ky, kz = (np.stack(parts) for parts in zip(*maps, strict=True))
    return Cells(
        xe=xe,
        ye=ye,
        thick=thick,
        layer=layer,
        kind=kind,
        kx=kx,
        ky=ky,
        kz=kz,
        wood=laid.share,
        timber=_part(boxes, "timber", there),
        lintel=_part(boxes, "lintel", there),
        net=wall,
        capacity=np.stack(holds),
    )


def _part(boxes: Sequence[tuple[Box, Floats]], part: str, there: Floats) -> Floats:
    """Share of every cell that is one kind of box [1]."""
    share = np.zeros_like(there)
    for box, f in boxes:
        if box.part == part:
            share = np.maximum(share, f)
        elif box.part == "void":
            share = share * (1 - f)
    return np.where(there > 0, share, 0.0)


def _holds(joint: float, logs: float, boxes: Sequence[tuple[Box, Floats]], laid: Cover) -> Floats:
    """Heat that every cell of one kind of layer holds [J/(m3 K)]."""
    held = np.clip(1 - laid.share, 0.0, 1.0) * joint + laid.share * logs
    for box, f in boxes:
        if box.part in ("timber", "lintel"):
            held = (1 - f) * held + f * box.capacity
    return held


def _edges(body: PanelBody, pitch: float) -> tuple[Floats, Floats]:
    low, high = body.height
    marks = [p for outline in (*(b.outline for b in body.boxes), *body.holes) for p in outline if len(outline) == 4]
    marks.extend(body.outline)
    xs, ys = [x - body.x0 for x, _ in marks], [y - low for _, y in marks]
    return edges_through(body.x1 - body.x0, pitch, xs) + body.x0, edges_through(high - low, pitch, ys) + low


def _layers(body: PanelBody) -> list[tuple[float, float, float, tuple[int, ...]]]:
    """Thickness, what the joint leads and holds, and the boxes of every layer, cut where a box begins or ends."""
    stops = np.concatenate(([0.0], np.cumsum([d for d, *_ in body.joint])))
    depths = {round(float(z), 6) for z in stops}
    depths |= {round(z, 6) for b in body.boxes for z in (b.near, b.far) if 0 < z < stops[-1]}
    ordered = sorted(depths)
    found = []
    for near, far in pairwise(ordered):
        middle = (near + far) / 2
        _, k, held = body.joint[int(np.searchsorted(stops, middle, side="right")) - 1]
        active = tuple(n for n, b in enumerate(body.boxes) if b.near < middle < b.far)
        found.append((far - near, k, held, active))
    return found


def _inside(outline: Sequence[Point], xe: Floats, ye: Floats) -> Floats:
    """Share of every cell in an outline; an upright rectangle that the grid follows fills its cells or not at all."""
    if len(outline) == 4:
        return _rectangle(outline, xe, ye)
    return np.clip(polygon_share(outline, xe, ye), 0.0, 1.0)


def _rectangle(outline: Sequence[Point], xe: Floats, ye: Floats) -> Floats:
    xs, ys = [x for x, _ in outline], [y for _, y in outline]
    if len({round(x, 9) for x in xs}) > 2 or len({round(y, 9) for y in ys}) > 2:
        return np.clip(polygon_share(outline, xe, ye), 0.0, 1.0)
    across = _span(min(xs), max(xs), xe)
    up = _span(min(ys), max(ys), ye)
    return up[:, None] * across


def _span(start: float, end: float, edges: Floats) -> Floats:
    """Which cells a stretch fills once its ends are moved to the nearest edge of the grid."""
    first, last = (int(np.argmin(np.abs(edges - at))) for at in (start, end))
    out = np.zeros(edges.size - 1)
    out[first:last] = 1.0
    return out


def _wall(body: PanelBody, xe: Floats, ye: Floats) -> Floats:
    """Share of every cell that is the laid wall's own face [1]: inside its outline, outside its openings."""
    share = _inside(body.outline, xe, ye)
    for hole in body.holes:
        share = share * (1 - _inside(hole, xe, ye))
    return share


def _there(wall: Floats, boxes: Sequence[tuple[Box, Floats]]) -> Floats:
    """Share of every cell where there is anything at all [1]: the wall, and timbers beyond it or in its openings.

    Where a timber is less deep than the wall, the rest is joint.
    """
    share = wall
    for box, f in boxes:
        if box.part == "timber":
            share = np.maximum(share, f)
        elif box.part == "void":
            share = share * (1 - f)
    return np.where(share < SLIVER, 0.0, share)


def _leads(
    joint: float,
    boxes: Sequence[tuple[Box, Floats]],
    laid: Cover,
    edges: tuple[Floats, Floats],
    there: Floats,
) -> tuple[Floats, Floats, Floats]:
    """What every cell of one kind of layer leads along the wall, upward and through it [W/(m K)]."""
    rest = np.clip(1 - laid.share, 0.0, 1.0)
    side_by_side = rest * joint + laid.across
    in_series = 1 / (rest / joint + laid.inverse)
    nx, ny = edges
    kx = nx * in_series + ny * side_by_side
    ky = ny * in_series + nx * side_by_side
    kz = rest * joint + laid.along
    for box, f in boxes:
        if box.part == "wire":
            kx = kx + f * rest * box.kx
            continue
        if box.part == "void":
            continue
        kx, ky, kz = ((1 - f) * k + f * own for k, own in ((kx, box.kx), (ky, box.ky), (kz, box.kz)))
    return kx * there, ky * there, kz * there


def conductances(cells: Cells, films: Films, shift: Floats | None = None) -> Conductances:
    """What the cells lead to each other and to the air on both sides.

    Args:
        cells: the panel.
        films: surface resistances.
        shift: heat that a cell gives to a temperature of 0 by itself for its volume [W/(m3 K)], shape (kinds,) or maps
            (kinds, rows, columns); None for nothing.

    Sources: closed form, finite volumes; resistances in series between the middles of cells.
    """
    dx, dy = np.diff(cells.xe), np.diff(cells.ye)[:, None]
    faces, pattern, scale = _faces(cells, films)
    own = None
    if shift is not None:
        maps = shift if shift.ndim == 3 else shift[:, None, None] * (cells.kz > 0)
        own = maps * cells.face
    return Conductances(
        across_x=cells.kx * dy / dx,
        across_y=cells.ky * dx / dy,
        faces=faces,
        own=own,
        lay=cells.kind[cells.layer],
        thick=cells.thick,
        pattern=pattern,
        scale=scale,
    )


def _faces(cells: Cells, films: Films) -> tuple[Floats, NDArray[np.int64], Floats]:
    """Maps of the faces in depth, and for each face which map it has and by what number it is multiplied."""
    face, thick = cells.face, cells.thick
    kinds = cells.kind[cells.layer]
    maps: list[Floats] = []
    known: dict[tuple[object, ...], int] = {}
    pattern, scale = np.zeros(thick.size + 1, np.int64), np.ones(thick.size + 1)

    def place(key: tuple[object, ...], made: Floats) -> int:
        if key not in known:
            known[key] = len(maps)
            maps.append(made)
        return known[key]

    for n in range(thick.size + 1):
        if n in (0, thick.size):
            end, film = (0, films.outside) if n == 0 else (thick.size - 1, films.inside)
            pattern[n] = place(("film", n), _to_air(cells.kz[kinds[end]], face, thick[end], film))
            continue
        a, b = kinds[n - 1], kinds[n]
        if a == b:
            pattern[n] = place(("within", a), cells.kz[a] * face)
            scale[n] = 2 / (thick[n - 1] + thick[n])
        else:
            key = ("between", *sorted(((int(a), float(thick[n - 1])), (int(b), float(thick[n])))))
            pattern[n] = place(key, _between(cells.kz[a] / thick[n - 1], cells.kz[b] / thick[n], face))
    return np.stack(maps), pattern, scale


def _to_air(k: Floats, face: Floats, thick: float, film: float) -> Floats:
    """From the middle of the last cell to the air [W/K]; nothing where there is no wall."""
    safe = np.where(k > 0, k, 1.0)
    return np.where(k > 0, face / (film + thick / (2 * safe)), 0.0)


def _between(a: Floats, b: Floats, face: Floats) -> Floats:
    total = a + b
    return 2 * face * np.divide(a * b, total, out=np.zeros_like(total), where=total > 0)


def bounds(cells: Cells, films: Films) -> tuple[float, float]:
    """Heat that would pass for one degree if it kept to its column, and if it spread freely in every layer [W/K].

    The truth lies between them, on any grid.

    Sources: closed form (as the combined method of ISO 6946, column by column and layer by layer).
    """
    return _kept(cells, films), _spread(cells, films)


def _kept(cells: Cells, films: Films) -> float:
    resistance = np.full(cells.wood.shape, films.outside + films.inside)
    dead = np.zeros(cells.wood.shape, bool)
    for layer in range(int(cells.layer.max()) + 1):
        k = cells.kz[cells.kind[layer]]
        dead |= k <= 0
        resistance += float(cells.thick[cells.layer == layer].sum()) / np.where(k > 0, k, 1.0)
    return float(np.where(dead, 0.0, cells.face / resistance).sum())


def _spread(cells: Cells, films: Films) -> float:
    resistance = 0.0
    for layer in range(int(cells.layer.max()) + 1):
        k = cells.kz[cells.kind[layer]]
        resistance += float(cells.thick[cells.layer == layer].sum()) / float((k * cells.face).sum())
    ends = [cells.kz[cells.kind[layer]] > 0 for layer in (0, int(cells.layer.max()))]
    outer, inner = (float((cells.face * end).sum()) for end in ends)
    return 1 / (resistance + films.outside / outer + films.inside / inner)


def rectangle(x0: float, x1: float, y0: float, y1: float) -> tuple[Point, ...]:
    """An upright rectangle as an outline [m]."""
    return ((x0, y0), (x1, y0), (x1, y1), (x0, y1))


def wires(body: PanelBody, diameter: float, spacing: float, conductivity: float, pitch: float) -> Iterator[Box]:
    """Level wires in the outer and the inner bead, every so much of the height, each as a row of cells it hardly fills.

    Args:
        body: the panel.
        diameter: of the wire [m].
        spacing: between wires in height [m].
        conductivity: of the wire [W/(m K)].
        pitch: height of the row that stands for it [m].
    """
    low, high = body.height
    total = body.thickness
    beads = [(0.0, body.joint[0][0]), (total - body.joint[-1][0], total)]
    for n in range(1, math.ceil((high - low) / spacing)):
        y = low + n * spacing
        if y + pitch / 2 >= high:
            break
        for near, far in beads:
            share = math.pi / 4 * diameter**2 / ((far - near) * pitch)
            yield Box(
                outline=rectangle(body.x0, body.x1, y - pitch / 2, y + pitch / 2),
                near=near,
                far=far,
                kx=conductivity,
                ky=0.0,
                kz=0.0,
                part="wire",
                share=share,
            )
