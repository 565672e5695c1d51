"""How does the building look from outside, each side in turn? Ground, plinth, posts, panels, openings, eaves, levels.

Seen square from four sides; what stands oblique is foreshortened. Only what the file states is drawn.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby, pairwise
from math import atan2, cos, pi, sin
from typing import Final

import numpy as np

from cordwright.book.drawing import (
    BOLD_PEN,
    DASHED,
    FINE_PEN,
    OUTLINE_PEN,
    THIN_PEN,
    Drawing,
    Layer,
    Point,
    Shape,
    Text,
    Tone,
    line,
    outline,
    text_width,
)
from cordwright.book.formats import show_level, show_millimetres
from cordwright.book.marks import dimension, level
from cordwright.book.model.roofs import Corner, roof_faces
from cordwright.book.model.walls import Bent, bent, turn_at
from cordwright.book.scale import ToPaper, choose_scale, extent, show_scale
from cordwright.case import Project
from cordwright.plan.inputs import RoundOutline
from cordwright.plan.results import Panel, PlacedOpening, Plan

ROOM: Final = (180.0, 110.0)
LEFT, FOOT, RIGHT, TOP = 8.0, 16.0, 50.0, 6.0
BESIDE: Final = 0.5
"""The ground line runs on so far beside the building [m]."""
EDGE_ON: Final = 0.02
"""A face turned so far away that this share of it or less is seen is left out."""
FINE: Final = 0.05
"""Lines along a curved wall are read off this close together [m]."""
LEAST_MARK: Final = 2.5
"""An opening's mark is written no smaller than this [mm]; where it finds no room the panel's sheet has it."""
MOST_SLOPES: Final = 8
"""More slopes than this at once stand for a round roof."""
WINDS: Final = ("north", "north-east", "east", "south-east", "south", "south-west", "west", "north-west")


@dataclass(frozen=True, slots=True, kw_only=True)
class View:
    """Looking square at the building: the way toward the one who looks, on the plan."""

    toward: Point

    @property
    def right(self) -> Point:
        """The way to the right on the sheet, on the plan."""
        return (-self.toward[1], self.toward[0])

    def across(self, point: Sequence[float]) -> float:
        """How far right a point of the plan lies [m]."""
        return point[0] * self.right[0] + point[1] * self.right[1]

    def depth(self, point: Sequence[float]) -> float:
        """How near to the one who looks [m]."""
        return point[0] * self.toward[0] + point[1] * self.toward[1]

    def seen(self, outward: Sequence[float]) -> float:
        """Share of a face that is seen; negative from behind."""
        return outward[0] * self.toward[0] + outward[1] * self.toward[1]


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """A closed outline seen [m], how near it is, and how it is drawn."""

    ring: tuple[Point, ...]
    depth: float
    pen: float
    layer: Layer
    tone: Tone = "white"


def draw_elevations(project: Project, plan: Plan) -> tuple[Drawing, ...]:
    """The building seen from its four sides, all to one scale."""
    views = [(n, View(toward=(round(sin(n * pi / 2)), -round(cos(n * pi / 2))))) for n in range(4)]
    parts = {n: tuple(_parts(project, plan, view)) for n, view in views}
    scale = max(_scale(project, rings) for rings in parts.values())
    return tuple(_draw(project, plan, view, parts[n], scale) for n, view in views)


def _scale(project: Project, parts: Sequence[Part]) -> float:
    left, foot, right, top = extent(p for part in parts for p in part.ring)
    room = (ROOM[0] - LEFT - RIGHT, ROOM[1] - FOOT - TOP)
    return choose_scale(right - left + 2 * BESIDE, top - min(foot, _ground(project)), room, project.units)


def _ground(project: Project) -> float:
    """Height of the ground over the bed [m]; the bed itself when no plinth is stated."""
    return -(project.plan.plinth_height or 0.0)


def _parts(project: Project, plan: Plan, view: View) -> Iterator[Part]:
    """What is seen, the farthest first."""
    walls = [*_plinth(project, plan, view), *_frame(project, plan, view)]
    for panel in plan.panels:
        walls += _panel(panel, project.plan.section.thickness, view)
    yield from sorted(walls, key=lambda part: part.depth)
    yield from sorted(_roof(project, plan, view), key=lambda part: part.depth)


def _plinth(project: Project, plan: Plan, view: View) -> Iterator[Part]:
    stated = project.plan
    if stated.plinth_height and stated.plinth_width:
        from shapely import Polygon

        base = Polygon(plan.centre_face).buffer(stated.plinth_width / 2, join_style="mitre").exterior.coords
        yield from _sides(base, (-stated.plinth_height, 0.0), view, FINE_PEN, "wall")


def _sides(
    ring: Sequence[Sequence[float]], heights: tuple[float, float], view: View, pen: float, layer: Layer
) -> Iterator[Part]:
    """The sides of an upright body that face the one who looks; `ring` closed, either way round."""
    import shapely

    points = list(shapely.LinearRing(ring).coords)[:-1]
    if not shapely.LinearRing(points).is_ccw:
        points.reverse()
    low, high = heights
    for a, b in pairwise([*points, points[0]]):
        if view.seen((b[1] - a[1], a[0] - b[0])) > 1e-9:
            xa, xb = view.across(a), view.across(b)
            depth = (view.depth(a) + view.depth(b)) / 2
            yield Part(ring=((xa, low), (xb, low), (xb, high), (xa, high)), depth=depth, pen=pen, layer=layer)


def _frame(project: Project, plan: Plan, view: View) -> Iterator[Part]:
    from shapely import Polygon, box
    from shapely.affinity import rotate

    frame, height = project.plan.frame, project.plan.height
    if frame.post_width and frame.post_depth:
        for x, y in plan.posts:
            wide, deep = frame.post_width / 2, frame.post_depth / 2
            post = rotate(box(x - wide, y - deep, x + wide, y + deep), turn_at(plan, (x, y)))
            yield from _sides(post.exterior.coords, (0.0, height), view, THIN_PEN, "frame")
    if frame.beam_depth and frame.post_depth:
        beam = Polygon(plan.centre_face).buffer(frame.post_depth / 2, join_style="mitre").exterior.coords
        head = height + (project.plan.wall_head_gap or 0.0)
        yield from _sides(beam, (head, head + frame.beam_depth), view, THIN_PEN, "frame")


def _panel(panel: Panel, thickness: float, view: View) -> Iterator[Part]:
    """The outer face of a panel where it is seen, with its openings on it."""
    where = bent(panel)
    for ends in _seen_runs(where, view):
        face = _face(panel, where, thickness, view, ends)
        yield face
        for placed in panel.openings:
            if _within(placed, ends):
                yield _opening(placed, where, thickness, view, face.depth)


def _seen_runs(where: Bent, view: View) -> Iterator[tuple[float, float]]:
    """From where to where along a panel its outer face is seen; a closed round is seen at both its ends at once."""
    shown = [view.seen(_out(where, n)) > EDGE_ON for n in range(len(where.stations) - 1)]
    for seen, run in groupby(range(len(shown)), key=shown.__getitem__):
        if seen:
            numbers = list(run)
            yield float(where.stations[numbers[0]]), float(where.stations[numbers[-1] + 1])


def _out(where: Bent, n: int) -> Point:
    way = where.centre[n + 1] - where.centre[n]
    length = float(np.hypot(*way))
    return (-way[1] / length, way[0] / length)


def _within(placed: PlacedOpening, ends: tuple[float, float]) -> bool:
    opening = placed.opening
    return bool(ends[0] <= opening.from_left and opening.from_left + opening.width <= ends[1])


def _face(panel: Panel, where: Bent, thickness: float, view: View, ends: tuple[float, float]) -> Part:
    from shapely import Polygon, box

    high = max(v for _, v in panel.outline) + 1.0
    part = Polygon(panel.outline).intersection(box(ends[0], -1.0, ends[1], high)).exterior.coords
    ring, depth = _projected(part, where, thickness, view)
    return Part(ring=ring, depth=depth, pen=OUTLINE_PEN, layer="wall")


def _opening(placed: PlacedOpening, where: Bent, thickness: float, view: View, depth: float) -> Part:
    ring, _ = _projected([*placed.outline, placed.outline[0]], where, thickness, view)
    # A hair nearer than its panel, so that it is drawn after it.
    return Part(ring=ring, depth=depth + 1e-6, pen=BOLD_PEN, layer="opening", tone="grey")


def _projected(
    ring: Sequence[Sequence[float]], where: Bent, thickness: float, view: View
) -> tuple[tuple[Point, ...], float]:
    """A closed outline of the panel's face as it is seen on the outer face, and how near it is on average."""
    from shapely import LineString

    fine = LineString(ring).segmentize(FINE).coords if len(where.stations) > 2 else ring
    along, up = np.asarray(fine)[:-1].T
    plan = where.place(along, np.full(len(along), thickness / 2))
    points = tuple((view.across(p), float(v)) for p, v in zip(plan, up, strict=True))
    return points, float(np.mean([view.depth(p) for p in plan]))


def _roof(project: Project, plan: Plan, view: View) -> Iterator[Part]:
    if project.plan.roof is None:
        return
    head = project.plan.height + (project.plan.wall_head_gap or 0.0) + (project.plan.frame.beam_depth or 0.0)
    slopes = [s for s in roof_faces(project.plan.roof, plan, head) if view.seen(_downhill(s)) > -1e-6]
    rings = [tuple((view.across(c), c[2]) for c in slope) for slope in slopes]
    if len(rings) > MOST_SLOPES:
        rings, slopes = [_silhouette(rings)], slopes[:1]
    for ring, slope in zip(rings, slopes, strict=True):
        yield Part(ring=ring, depth=max(view.depth(c) for c in slope), pen=OUTLINE_PEN, layer="wall")


def _silhouette(rings: Sequence[tuple[Point, ...]]) -> tuple[Point, ...]:
    """A round roof's outline alone: its slopes stand for a cone."""
    from shapely import MultiPoint

    return tuple(MultiPoint([p for ring in rings for p in ring]).convex_hull.exterior.coords)[:-1]


def _downhill(slope: Sequence[Corner]) -> Point:
    """The level way in which a slope falls."""
    a, b, c = (np.asarray(corner) for corner in slope[:3])
    normal = np.cross(b - a, c - b)
    return (float(normal[0]), float(normal[1])) if normal[2] > 0 else (-float(normal[0]), -float(normal[1]))


def _draw(project: Project, plan: Plan, view: View, parts: Sequence[Part], denominator: float) -> Drawing:
    left, _, right, top = extent(p for part in parts for p in part.ring)
    ground, per_metre = _ground(project), 1000 / denominator
    origin = (LEFT + (BESIDE - left) * per_metre, FOOT - ground * per_metre)
    to_paper = ToPaper(denominator=denominator, origin=origin)
    width = LEFT + RIGHT + (right - left + 2 * BESIDE) * per_metre
    height = FOOT + TOP + (top - ground) * per_metre
    wind = _wind(project, view)
    shapes: list[Shape] = [outline(to_paper.all(p.ring), p.pen, p.layer, p.tone) for p in parts]
    shapes += [
        line(to_paper((left - BESIDE, ground)), to_paper((right + BESIDE, ground)), BOLD_PEN, "ground"),
        *_marks(plan, view, to_paper),
        *_width(project, plan, view, ground, to_paper),
        *_levels(project, right + BESIDE, top, to_paper),
    ]
    label = f"Seen from the {wind}, {show_scale(denominator, project.units)}"
    return Drawing(
        name=f"elevation-{wind}", label=label, width=width, height=height, shapes=tuple(shapes), denominator=denominator
    )


def _wind(project: Project, view: View) -> str:
    """From which of the eight winds one looks."""
    bearing = project.plan.north + atan2(view.toward[0], view.toward[1])
    return WINDS[round(bearing / (pi / 4)) % 8]


def _marks(plan: Plan, view: View, to_paper: ToPaper) -> Iterator[Shape]:
    """Each opening's mark in its middle where there is room for it."""
    for panel in plan.panels:
        where = bent(panel)
        for placed in panel.openings:
            opening = placed.opening
            middle = opening.from_left + opening.width / 2
            station = int(np.searchsorted(where.stations, middle)) - 1
            share = view.seen(_out(where, max(0, station)))
            size = min(3.7, to_paper.length(opening.width * share) * 0.6 / text_width(opening.id, 1.0))
            if share > EDGE_ON and size >= LEAST_MARK:
                (foot,) = where.place(np.array([middle]), np.array([0.0]))
                x, y = to_paper((view.across(foot), opening.sill + opening.height / 2))
                yield Text(text=opening.id, at=(x, y - 0.35 * size), size=size, bold=True, layer="opening")


def _width(project: Project, plan: Plan, view: View, ground: float, to_paper: ToPaper) -> Iterator[Shape]:
    """The width over the outer faces; where the plinth's own width is not stated, dashed lines down from them."""
    ends = [view.across(p) for p in plan.outer_face]
    low, high = min(ends), max(ends)
    if isinstance(project.plan.outline, RoundOutline):  # its chords are a hair narrower than the circle
        half = project.plan.outline.inside_diameter / 2 + project.plan.section.thickness
        low, high = (low + high) / 2 - half, (low + high) / 2 + half
    words = show_millimetres(high - low, project.locale, project.units)
    yield from dimension(to_paper((low, ground)), to_paper((high, ground)), -10.0, words)
    if ground < 0 and not project.plan.plinth_width:
        for x in (low, high):
            yield line(to_paper((x, ground)), to_paper((x, 0.0)), FINE_PEN, "wall", DASHED)


def _levels(project: Project, x: float, top: float, to_paper: ToPaper) -> Iterator[Shape]:
    """Ground, bed, wall head and ridge; a level too near the one below it on paper is left to the section."""
    stated = project.plan
    rows = [(0.0, "bed"), (stated.height, "wall head")]
    if stated.plinth_height:
        rows.append((-stated.plinth_height, "ground"))
    if stated.roof is not None and top > stated.height + 1e-6:
        rows.append((top, "top"))
    reached = -1e9
    for height, words in sorted(rows):
        at = to_paper((x, height))
        if at[1] - reached > 4.0:
            reached = at[1]
            said = f"{show_level(height, project.locale, project.units)} {words}"
            yield from level((at[0] + 6, at[1]), said, datum=height == 0.0, reach=34)
