"""How full, how even and how well mixed is a laid panel? Measured on the placed logs alone, by plain geometry.

The measures stand apart from the code that lays panels, so that its report can be held against them.
"""

import math
from collections.abc import Iterable, Iterator
from itertools import pairwise
from typing import TYPE_CHECKING, Final

import numpy as np
from numpy.typing import NDArray

from cordwright.wall.judge import SHARE, body_of, gap_between
from cordwright.wall.judged_faces import seen_at
from cordwright.wall.layout import PanelLayout, Placement

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

Floats = NDArray[np.float64]

CLEAR: Final = 0.004
"""A straight run of mortar keeps this far from every log on either side [m]."""
REACH: Final = 0.012
"""Logs are neighbours when their joint is no wider than the usual one by more than this [m]."""
FAR: Final = 0.12
"""Logs farther apart than this are no neighbours [m]."""
LARGEST_SHARE: Final = 0.15
POCKET_TOLERANCE: Final = 1e-4
QUARTER_CHORDS: Final = 32
NEAREST: Final = 24
CHORD: Final = 2e-3
SLIT: Final = 1e-7
"""Lines are drawn this far from a corner, so that none touches two edges at once [m]."""


def wood_fraction(layout: PanelLayout) -> float:
    """Share of the face between bed, posts, head and frames that is log; sleeves, bottles and fillers count as face."""
    return _log_area(layout) / float(_masonry(layout).area)


def mortar_area(layout: PanelLayout) -> float:
    """Face of the joints: outline less openings, logs, sleeves, bottle ends and fillers [m2].

    A filler in the bead of one face of a curved wall takes half its face.
    """
    others = math.fsum(math.pi * radius**2 for _, _, radius in _others(layout))
    half = math.fsum(math.pi / 8 * f.diameter**2 for f in layout.fillers if f.face == "wide")
    return float(_masonry(layout).area) - _log_area(layout) - others + half


def least_joint(layout: PanelLayout) -> float | None:
    """Narrowest clear width between two logs [m]; None for fewer than two logs."""
    gaps = _gaps(layout, math.inf)
    return float(np.min(gaps[np.triu_indices(len(gaps), k=1)])) if len(gaps) > 1 else None


def joint_hollow_min(layout: PanelLayout) -> float | None:
    """Narrowest clear width between two logs at the face where a curved wall's joints close [m]."""
    return least_joint(seen_at(layout, layout.face.hollow))


def joint_wide_max(layout: PanelLayout) -> float | None:
    """Widest clear width between two neighbouring logs at the face where a curved wall's joints open [m]."""
    return widest_joint(seen_at(layout, layout.face.wide))


def widest_joint(layout: PanelLayout) -> float | None:
    """Widest clear width between two neighbours [m]: nothing else reaches into the circle that just spans their joint.

    Only logs no more than `FAR` apart are looked at. None where there are no neighbours.
    """
    x, y, radius = _solids(layout)
    count = len(layout.placements)
    widest: list[float] = []
    for i in range(count):
        away = np.hypot(x - x[i], y - y[i])
        for k in range(i + 1, count):
            gap = float(away[k] - radius[i] - radius[k])
            if gap > FAR:
                continue
            share = (radius[i] + gap / 2) / away[k]
            middle = (x[i] + share * (x[k] - x[i]), y[i] + share * (y[k] - y[i]))
            clear = np.hypot(x - middle[0], y - middle[1]) - radius
            if float(clear.min()) >= gap / 2 - 1e-9:
                widest.append(gap)
    return max(widest, default=None)


def on_chips(layout: PanelLayout) -> tuple[str, ...]:
    """The logs that rest on a chip."""
    return tuple(p.log.id for p in layout.placements if "chip" in p.supports)


def clustering(layout: PanelLayout, *, joint: float) -> float | None:
    """How much the largest logs seek each other: neighbours among the largest 15 % over what chance would give.

    1 is a random mix, 0 keeps them all apart. None where there are no neighbours or fewer than two large logs. Logs
    count by their face: a half is as large as a round of half its parent's face.

    Args:
        layout: the laid panel.
        joint: usual clear width between logs [m].
    """
    faces = [_face_of(p) for p in layout.placements]
    count = len(faces)
    large = round(LARGEST_SHARE * count)
    if large < 2:
        return None
    by_size = sorted(range(count), key=lambda i: (-faces[i], layout.placements[i].log.id))
    among = np.zeros(count, dtype=bool)
    among[by_size[:large]] = True
    first, second = np.nonzero(np.triu(_gaps(layout, joint + REACH) <= joint + REACH, k=1))
    chance = len(first) * large * (large - 1) / (count * (count - 1))
    return float(np.sum(among[first] & among[second])) / chance if chance else None


def _gaps(layout: PanelLayout, within: float) -> Floats:
    """Clear width between every two logs, shape (n, n) [m]; of splits where that of their parents is within a width."""
    x, y, radius = _logs(layout.placements)
    gaps: Floats = np.hypot(x[:, None] - x, y[:, None] - y) - radius[:, None] - radius
    bodies = [body_of(p) for p in layout.placements]
    split = np.array([p.log.shape != "round" for p in layout.placements], dtype=bool)
    for i, k in np.argwhere((gaps <= within) & (split[:, None] | split)).tolist():
        gaps[i, k] = gap_between(bodies[i], bodies[k]) if i != k else gaps[i, k]
    return gaps


def largest_pocket(layout: PanelLayout) -> tuple[float, float, float]:
    """The largest circle of nothing but mortar: its middle and its diameter [m], to a tenth of a millimetre."""
    import shapely

    discs = [_disc(x, y, r) for x, y, r in zip(*_solids(layout), strict=True)]
    solid = shapely.union_all([*discs, *_split_faces(layout)])
    radius = shapely.maximum_inscribed_circle(shapely.difference(_masonry(layout), solid), POCKET_TOLERANCE)
    return (*radius.coords[0], 2 * float(radius.length))


def _disc(x: float, y: float, radius: float) -> "BaseGeometry":
    import shapely

    return shapely.Point(x, y).buffer(radius, quad_segs=QUARTER_CHORDS)


def _masonry(layout: PanelLayout) -> "BaseGeometry":
    """Outline less openings."""
    import shapely

    holes = shapely.union_all([shapely.Polygon(h.outline) for h in layout.face.openings])
    return shapely.difference(shapely.Polygon(layout.face.outline), holes)


def _face_of(placement: Placement) -> float:
    return SHARE[placement.log.shape] * math.pi / 4 * placement.log.diameter**2


def _log_area(layout: PanelLayout) -> float:
    return math.fsum(_face_of(p) for p in layout.placements)


def _logs(placements: Iterable[Placement]) -> tuple[Floats, Floats, Floats]:
    """Middles and radii of placed logs, splits as their parents [m]."""
    rows = [(p.x, p.y, p.log.diameter / 2) for p in placements]
    x, y, radius = np.array(rows, dtype=np.float64).reshape(-1, 3).T
    return x, y, radius


def _solids(layout: PanelLayout) -> tuple[Floats, Floats, Floats]:
    """Middles and radii of all that is round and no mortar: rounds, sleeves, bottle ends, fillers [m]."""
    x, y, radius = np.array(_others(layout), dtype=np.float64).reshape(-1, 3).T
    logs = _logs(p for p in layout.placements if p.log.shape == "round")
    return np.append(logs[0], x), np.append(logs[1], y), np.append(logs[2], radius)


def _split_faces(layout: PanelLayout) -> "list[BaseGeometry]":
    return [body_of(p).core for p in layout.placements if p.log.shape != "round"]


def _others(layout: PanelLayout) -> list[tuple[float, float, float]]:
    """Middles and radii of sleeves, bottle ends and fillers [m]."""
    fixed = [(d.x, d.y, d.diameter / 2) for d in layout.face.obstacles]
    return [*fixed, *((f.x, f.y, f.diameter / 2) for f in layout.fillers)]


def straight_run(layout: PanelLayout, *, edge: float, clear: float = CLEAR) -> float:
    """The longest straight line through the mortar that keeps clear of all logs, sleeves, bottles and fillers [m].

    Lines within the joint along posts, bed, head and frames do not count: the line stays an edge joint away from them.
    A longest line touches two of the things it keeps clear of (else turning or shifting it would lengthen it), so that
    every line that touches two is tried. The bark of a split is taken as chords to two millimetres.

    Args:
        layout: the laid panel.
        edge: joint along outline and frames [m].
        clear: how far the line keeps from a log [m].

    Sources:
        Plane geometry: lines that touch two circles.
    """
    import shapely

    blocked = [face.buffer(clear).simplify(CHORD) for face in _split_faces(layout)]
    field = shapely.difference(
        shapely.buffer(_masonry(layout), -edge, join_style="mitre"), shapely.union_all(blocked)
    )  # fmt: skip
    starts, ends = _edges(field)
    x, y, radius = _solids(layout)
    touched = (
        np.append(x, starts[:, 0]),
        np.append(y, starts[:, 1]),
        np.append(radius + clear, np.full(len(starts), SLIT)),
    )
    best = 0.0
    for i in range(len(touched[0])):
        best = max(best, _longest_at(i, touched, len(x), (starts, ends), best))
    return best


def _edges(field: "BaseGeometry") -> tuple[Floats, Floats]:
    import shapely

    rings = [r for part in shapely.get_parts(field) for r in (part.exterior, *part.interiors)]
    pairs = [pair for ring in rings for pair in pairwise(ring.coords)]
    both = np.array(pairs, dtype=np.float64).reshape(-1, 2, 2)
    return both[:, 0], both[:, 1]


def _longest_at(
    i: int, touched: tuple[Floats, Floats, Floats], solid: int, edges: tuple[Floats, Floats], best: float
) -> float:
    """The longest free line that touches thing i and a later one, or 0 when none beats the best."""
    x, y, radius = touched
    tangents = _common_tangents(x[i + 1 :] - x[i], y[i + 1 :] - y[i], radius[i + 1 :], float(radius[i]))
    lines = np.concatenate(list(tangents))
    lines[:, :2] += (x[i], y[i])
    discs = np.column_stack((x, y, radius))[:solid]
    near = np.argsort(np.hypot(discs[:, 0] - x[i], discs[:, 1] - y[i]))[:NEAREST]
    for some in (discs[near], discs):
        reach = _free_reach(lines, some, edges)
        lines, reach = lines[reach > best], reach[reach > best]
    return float(reach.max(initial=0.0))


def _common_tangents(dx: Floats, dy: Floats, radius: Floats, own: float) -> Iterator[Floats]:
    """Lines that touch a circle at the origin and another one.

    A row each: the place halfway between the touching points, a unit normal, and half the way between those points.
    """
    away = np.hypot(dx, dy)
    toward = np.arctan2(dy, dx)
    for side in (1.0, -1.0):
        share = (own + side * radius) / np.where(away > 0, away, np.inf)
        met = np.abs(share) <= 1.0
        turn = np.arccos(share[met])
        for way in (turn, -turn):
            cos, sin = np.cos(toward[met] + way), np.sin(toward[met] + way)
            half = (dy[met] * cos - dx[met] * sin) / 2
            yield np.column_stack((own * cos - half * sin, own * sin + half * cos, cos, sin, np.abs(half)))


def _free_reach(lines: Floats, discs: Floats, edges: tuple[Floats, Floats]) -> Floats:
    """How long each line runs free about its start; 0 where it is not free from one touching point to the other [m]."""
    start, end = _spans_of_discs(lines, discs)
    crossed = _crossings(lines, edges)
    ahead = np.minimum(_first(np.maximum(start, 0.0), end > 0), _first(crossed, crossed > 0))
    behind = np.minimum(_first(np.maximum(-end, 0.0), start < 0), _first(-crossed, crossed < 0))
    inside = (np.sum(crossed > 0, axis=1) % 2 == 1) & (np.sum(crossed < 0, axis=1) % 2 == 1)
    free = np.minimum(ahead, behind) >= lines[:, 4] - 2 * SLIT
    return np.where(inside & free, ahead + behind, 0.0)


def _first(places: Floats, counted: NDArray[np.bool_]) -> Floats:
    nearest: Floats = np.min(np.where(counted, places, np.inf), axis=1, initial=np.inf)
    return nearest


def _spans_of_discs(lines: Floats, discs: Floats) -> tuple[Floats, Floats]:
    """From where to where each line is inside each disc, along the line from its start [m]; inf: nowhere."""
    off, along = _seen_from(lines, discs)
    met = np.abs(off) < discs[:, 2] - 1e-9
    half = np.sqrt(np.where(met, discs[:, 2] ** 2 - off**2, 0.0))
    return np.where(met, along - half, np.inf), np.where(met, along + half, -np.inf)


def _crossings(lines: Floats, edges: tuple[Floats, Floats]) -> Floats:
    """Where each line crosses each edge of the field, along the line from its start [m]; NaN: nowhere."""
    (off0, along0), (off1, along1) = (_seen_from(lines, corners) for corners in edges)
    met = (off0 > 0) != (off1 > 0)
    share = off0 / np.where(met, off0 - off1, 1.0)
    return np.where(met, along0 + share * (along1 - along0), np.nan)


def _seen_from(lines: Floats, points: Floats) -> tuple[Floats, Floats]:
    """How far each point lies off each line and along it, shapes (lines, points) [m]."""
    dx, dy = points[:, 0] - lines[:, :1], points[:, 1] - lines[:, 1:2]
    cos, sin = lines[:, 2:3], lines[:, 3:4]
    return dx * cos + dy * sin, dy * cos - dx * sin
