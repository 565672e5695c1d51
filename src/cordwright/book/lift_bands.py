"""Where does one lift end and the next begin? Each place in the mortar belongs to the lift of the log nearest to it."""

from collections.abc import Mapping, Sequence
from functools import lru_cache
from math import pi, sqrt
from typing import TYPE_CHECKING, Final

import numpy as np

from cordwright.book.drawing import Point, along, shifted
from cordwright.book.log_ends import SPREAD, split_ring
from cordwright.wall.layout import Face, PanelLayout, Placement

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

AROUND: Final = 28
"""So many places on the rim of each log stand for it."""
ON_FLAT: Final = 8
"""In so many parts the flats of a split are cut by places that stand for it; never alike on both, nor on two splits."""
TURN: Final = pi * (3 - sqrt(5))
"""Each rim begins a golden angle further round, so that logs in a row never set four places on one circle [rad]."""
STRAIGHTENED: Final = 0.012
"""Small bends of a lift's end are drawn straight; the joints are wider than what this moves [m]."""
SLIVER: Final = 1e-5
"""Pieces smaller than this are no wall [m2]."""

Bands = Mapping[int, "BaseGeometry"]


@lru_cache(maxsize=16)
def lift_bands(layout: PanelLayout) -> Bands:
    """The part of the face that each lift closes, by its number, in the panel's frame [m].

    Cells about the rims of all logs meet midway in the joints; the cells of a lift's logs together are its band. They
    are kept a while, because a panel is drawn whole and lift by lift with the same ones.
    """
    import shapely

    field = _masonry(layout.face)
    lifts = sorted({p.lift for p in layout.placements})
    if len(lifts) < 2:
        return {n: field for n in lifts}
    rims = [(p.lift, point) for n, p in enumerate(layout.placements) for point in _rim(p, n * TURN)]
    points = shapely.multipoints(np.array([point for _, point in rims]))
    cells = shapely.voronoi_polygons(points, extend_to=field, ordered=True).geoms
    grouped: dict[int, list[BaseGeometry]] = {n: [] for n in lifts}
    for (lift, _), cell in zip(rims, cells, strict=True):
        grouped[lift].append(cell)
    raw = [shapely.coverage_union_all(grouped[n]) for n in lifts]
    straight = shapely.coverage_simplify(raw, STRAIGHTENED, simplify_boundary=False)
    return {n: shapely.intersection(band, field) for n, band in zip(lifts, straight, strict=True)}


def _rim(placement: Placement, turn: float) -> list[Point]:
    centre, radius = (placement.x, placement.y), placement.log.diameter / 2
    if placement.log.shape == "round":
        return [centre, *(shifted(centre, radius, turn + 2 * pi * n / AROUND) for n in range(AROUND))]
    ring = split_ring(centre, radius, placement.angle, SPREAD[placement.log.shape])
    shift = turn % 0.5 + 0.1
    flats = [along(centre, ring[1], (n + shift) / ON_FLAT) for n in range(ON_FLAT - 1)]
    flats += [along(centre, ring[-1], (n + shift * 1.3) / ON_FLAT) for n in range(ON_FLAT - 1)]
    return [*ring, *flats]


def _masonry(face: Face) -> "BaseGeometry":
    import shapely

    holes = shapely.union_all([shapely.Polygon(h.outline) for h in face.openings])
    return shapely.difference(shapely.Polygon(face.outline), holes)


def rings_of(band: "BaseGeometry") -> list[tuple[tuple[Point, ...], tuple[tuple[Point, ...], ...]]]:
    """The pieces of a band, the largest first: each piece's outline and the outlines of what it leaves free [m]."""
    import shapely

    pieces = [p for p in shapely.get_parts(band) if p.area > SLIVER]
    pieces.sort(key=lambda p: (-p.area, p.bounds))
    return [(tuple(p.exterior.coords[:-1]), tuple(tuple(r.coords[:-1]) for r in p.interiors)) for p in pieces]


def end_of_lift(bands: Bands, lift: int) -> list[tuple[Point, ...]]:
    """The lines along which a lift and all before it meet those that come after [m]."""
    import shapely

    below = shapely.union_all([b for n, b in bands.items() if n <= lift])
    above = shapely.union_all([b for n, b in bands.items() if n > lift])
    shared = shapely.intersection(below.boundary, above.boundary)
    lines = [g for g in shapely.get_parts(shared) if g.geom_type == "LineString"]
    merged = shapely.line_merge(shapely.MultiLineString(lines))
    return sorted(tuple(g.coords) for g in shapely.get_parts(merged) if not g.is_empty)


def heights_at(bands: Bands, x: float) -> list[tuple[int, float, float]]:
    """Which lifts meet an upright line, from the bed up: lift, from, to [m]."""
    import shapely

    found: list[tuple[int, float, float]] = []
    for lift, band in bands.items():
        _, low, _, high = band.bounds
        cut = shapely.intersection(band, shapely.LineString([(x, low - 1), (x, high + 1)]))
        spans = [g.bounds for g in shapely.get_parts(cut) if g.length > 0]
        found += [(lift, low, high) for _, low, _, high in spans]
    return sorted(found, key=lambda row: row[1])


def lift_at(bands: Bands, point: Point) -> int:
    """The lift that a place in the mortar belongs to."""
    import shapely

    place = shapely.Point(point)
    return min(bands, key=lambda n: (float(bands[n].distance(place)), n))


def numbers_in_lifts(placements: Sequence[Placement]) -> dict[str, str]:
    """Each log's number in its lift, counted from 1 in the order of laying."""
    counted: dict[int, int] = {}
    numbers: dict[str, str] = {}
    for p in sorted(placements, key=lambda p: p.order):
        counted[p.lift] = counted.get(p.lift, 0) + 1
        numbers[p.log.id] = str(counted[p.lift])
    return numbers
