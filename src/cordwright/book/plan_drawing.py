"""Where does the wall stand? The plan to scale: three strips of wall, posts, openings, eaves, lengths inside."""

from collections.abc import Sequence
from itertools import pairwise
from math import atan2, ceil, degrees, hypot, pi, radians
from typing import Final

from cordwright.book.drawing import (
    CUT_PEN,
    DASHED,
    FINE_PEN,
    OUTLINE_PEN,
    THIN_PEN,
    Drawing,
    Hatch,
    Path,
    Point,
    Shape,
    Text,
    along,
    distance,
    fitted,
    line,
    outline,
    shifted,
)
from cordwright.book.formats import Units, show_millimetres
from cordwright.book.marks import dimension, north_needle, note, post
from cordwright.book.scale import ToPaper, choose_scale, extent, show_scale, turned
from cordwright.case import Project
from cordwright.plan.inputs import WallSection
from cordwright.plan.results import Panel, PlacedOpening, Plan

ROOM: Final = (180.0, 200.0)
LEFT, FOOT, RIGHT, TOP = 14.0, 14.0, 14.0, 5.0
"""Paper kept free around the building for the outer lengths and the north needle [mm]."""
CURVE_STEPS: Final = 96

Run = tuple[Point, ...]


def quarters_to_north(north: float) -> int:
    """Quarter turns clockwise that bring south to the foot of the sheet; the needle shows what is left."""
    return round(degrees(north) / 90) % 4


def draw_plan(project: Project, plan: Plan) -> Drawing:
    """The plan to the largest scale that fits the sheet."""
    quarters = quarters_to_north(project.plan.north)
    to_paper, width, height = _on_sheet((*plan.eaves, *plan.outer_face), quarters, project.units)
    shapes = [
        *_eaves(plan, to_paper),
        *_walls(plan, project.plan.section, to_paper),
        *_posts(project, plan, to_paper),
        *_inner_lengths(plan, to_paper, project),
        *_outer_lengths(plan, to_paper, project),
        *_names(plan, to_paper, project.plan.section),
        *north_needle((width - 7, height - 14), project.plan.north - quarters * pi / 2),
    ]
    label = f"Plan, {show_scale(to_paper.denominator, project.units)}"
    return Drawing(
        name="plan", label=label, width=width, height=height, shapes=tuple(shapes), denominator=to_paper.denominator
    )


def _on_sheet(points: Sequence[Point], quarters: int, units: Units) -> tuple[ToPaper, float, float]:
    left, foot, right, top = extent(turned(p, quarters) for p in points)
    room = (ROOM[0] - LEFT - RIGHT, ROOM[1] - FOOT - TOP)
    denominator = choose_scale(right - left, top - foot, room, units)
    per_metre = 1000 / denominator
    to_paper = ToPaper(
        denominator=denominator, origin=(LEFT - left * per_metre, FOOT - foot * per_metre), quarters=quarters
    )
    return to_paper, (right - left) * per_metre + LEFT + RIGHT, (top - foot) * per_metre + FOOT + TOP


def _eaves(plan: Plan, to_paper: ToPaper) -> list[Shape]:
    if not plan.eaves:
        return []
    return [Path(points=to_paper.all(plan.eaves), closed=True, pen=FINE_PEN, dash=DASHED, layer="hidden")]


def _walls(plan: Plan, section: WallSection, to_paper: ToPaper) -> list[Shape]:
    shapes: list[Shape] = []
    for panel in plan.panels:
        for start, end in piers(panel):
            shapes += _pier(panel, section, (start, end), to_paper)
        for placed in panel.openings:
            shapes += _opening(panel, placed, section, to_paper)
    return shapes


def piers(panel: Panel) -> tuple[tuple[float, float], ...]:
    """The stretches of wall between the openings in a panel, along its centre line [m]."""
    spans = sorted((p.opening.from_left, p.opening.from_left + p.opening.width) for p in panel.openings)
    edges, reached = [], 0.0
    for start, end in spans:
        edges.append((reached, start))
        reached = max(reached, end)
    edges.append((reached, panel.centre_length))
    return tuple((a, b) for a, b in edges if b - a > 1e-6)


def run_through(panel: Panel, depth: float, start: float, end: float, thickness: float) -> Run:
    """A line through a panel at a depth from its inner face [m], between two places on the centre line [m]."""
    share = depth / thickness
    first = _end_point(panel, share, 0) if start <= 1e-9 else _across(panel, start, depth - thickness / 2)
    last = (
        _end_point(panel, share, -1)
        if end >= panel.centre_length - 1e-9
        else _across(panel, end, depth - thickness / 2)
    )
    if len(panel.centre_line) <= 2:
        return (first, last)
    count = max(2, ceil(CURVE_STEPS * (end - start) / panel.centre_length))
    between = (start + (end - start) * n / count for n in range(1, count))
    return (first, *(_across(panel, u, depth - thickness / 2) for u in between), last)


def _end_point(panel: Panel, share: float, which: int) -> Point:
    return along(panel.inner_line[which], panel.outer_line[which], share)


def _across(panel: Panel, u: float, outward: float) -> Point:
    """The point at u along the centre line, moved outward across the wall."""
    (x, y), angle = _on_line(panel.centre_line, u / panel.centre_length)
    return shifted((x, y), outward, angle + pi / 2)


def _on_line(points: Run, share: float) -> tuple[Point, float]:
    lengths = [distance(a, b) for a, b in pairwise(points)]
    left = share * sum(lengths)
    for (a, b), length in zip(pairwise(points), lengths, strict=True):
        if left <= length or (a, b) == (points[-2], points[-1]):
            return along(a, b, left / length), atan2(b[1] - a[1], b[0] - a[0])
        left -= length
    raise AssertionError("a line has at least two points")


def _pier(panel: Panel, section: WallSection, span: tuple[float, float], to_paper: ToPaper) -> list[Shape]:
    thickness = section.thickness
    depths = (0.0, thickness) if section.solid else (0.0, section.bead, thickness - section.bead, thickness)
    runs = [to_paper.all(run_through(panel, d, *span, thickness)) for d in depths]
    strips = [(*a, *reversed(b)) for a, b in pairwise(runs)]
    shapes: list[Shape] = [outline(strip, 0, "wall", "white") for strip in strips]
    shapes += [Hatch(rings=(strip,), material="fill" if n == 1 else "mortar") for n, strip in enumerate(strips)]
    shapes += [Path(points=run, pen=FINE_PEN) for run in runs[1:-1]]
    return [*shapes, outline((*runs[0], *reversed(runs[-1])), CUT_PEN)]


def _opening(panel: Panel, placed: PlacedOpening, section: WallSection, to_paper: ToPaper) -> list[Shape]:
    opening, thickness = placed.opening, section.thickness
    span = (opening.from_left, opening.from_left + opening.width)
    faces = [
        to_paper.all(run_through(panel, d, *span, thickness))
        for d in (0.0, thickness * 0.45, thickness * 0.55, thickness)
    ]
    middle = faces[1:3] if opening.use == "window" else []
    outer_edge = _across(panel, sum(span) / 2, thickness / 2)
    angle = atan2(
        *reversed(
            [b - a for a, b in zip(to_paper(_across(panel, sum(span) / 2, 0.0)), to_paper(outer_edge), strict=True)]
        )
    )
    mark = shifted(to_paper(outer_edge), 4.5, angle)
    return [
        *(Path(points=face, pen=THIN_PEN, layer="opening") for face in (faces[0], faces[-1])),
        *(Path(points=face, pen=OUTLINE_PEN, layer="opening") for face in middle),
        *(line(faces[0][n], faces[-1][n], 0.7, "opening") for n in (0, -1)),
        note(fitted(opening.id, 22, 3.7), (mark[0], mark[1] - 1.3), bold=True, layer="opening"),
    ]


def _posts(project: Project, plan: Plan, to_paper: ToPaper) -> list[Shape]:
    frame = project.plan.frame
    if frame.post_width is None or frame.post_depth is None:
        return []
    size = (to_paper.length(frame.post_width), to_paper.length(frame.post_depth))
    shapes: list[Shape] = []
    for point in plan.posts:
        turn = _post_turn(point, plan.centre_face) - to_paper.quarters * pi / 2
        shapes += post(to_paper(point), *size, turn)
    return shapes


def _post_turn(point: Point, ring: Run) -> float:
    """A post in a side stands square to it; at a corner it splits the difference of the two sides."""
    edges = sorted(zip(ring, (*ring[1:], ring[0]), strict=True), key=lambda e: _distance_to(point, *e))
    angles = [atan2(b[1] - a[1], b[0] - a[0]) for a, b in edges[:2]]
    if _distance_to(point, *edges[1]) > 1e-3:
        return angles[0]
    square = radians(90)
    return angles[0] + ((angles[1] - angles[0] + square / 2) % square - square / 2) / 2


def _distance_to(point: Point, start: Point, end: Point) -> float:
    dx, dy = end[0] - start[0], end[1] - start[1]
    square = dx * dx + dy * dy
    share = ((point[0] - start[0]) * dx + (point[1] - start[1]) * dy) / square if square else 0.0
    nearest = along(start, end, min(1.0, max(0.0, share)))
    return hypot(point[0] - nearest[0], point[1] - nearest[1])


def _inner_lengths(plan: Plan, to_paper: ToPaper, project: Project) -> list[Shape]:
    places = dict(plan.setting_out.points)
    order = [name for name, _ in plan.setting_out.points]
    shapes: list[Shape] = []
    for kind, start, end, length in plan.setting_out.rows:
        if kind != "side" or start not in places or end not in places:
            continue
        if order[(order.index(start) + 1) % len(order)] != end:
            start, end = end, start  # noqa: PLW2901 the inside lies to the left of the way around
        words = show_millimetres(length, project.locale, project.units)
        shapes += dimension(to_paper(places[start]), to_paper(places[end]), 5.5, words, extend=False)
    return [*shapes, *_inner_extent(plan, to_paper, project)]


def _inner_extent(plan: Plan, to_paper: ToPaper, project: Project) -> list[Shape]:
    """The clear length and width across the middle, where a tape would be held."""
    left, foot, right, top = extent(to_paper.all(plan.inner_face))
    y, x = foot + (top - foot) * 0.36, left + (right - left) * 0.66
    per_paper = to_paper.denominator / 1000
    across = show_millimetres((right - left) * per_paper, project.locale, project.units)
    up = show_millimetres((top - foot) * per_paper, project.locale, project.units)
    if len(plan.setting_out.points) == 4 and len(plan.inner_face) == 4:
        return []
    return [
        *dimension((left, y), (right, y), 0.0, across, extend=False),
        *dimension((x, foot), (x, top), 0.0, up, extend=False),
    ]


def _outer_lengths(plan: Plan, to_paper: ToPaper, project: Project) -> list[Shape]:
    left, foot, right, top = extent(to_paper.all(plan.outer_face))
    edge_left, edge_foot, _, _ = extent(to_paper.all((*plan.eaves, *plan.outer_face)))
    per_paper = to_paper.denominator / 1000
    across = show_millimetres((right - left) * per_paper, project.locale, project.units)
    up = show_millimetres((top - foot) * per_paper, project.locale, project.units)
    return [
        *dimension((left, edge_foot), (right, edge_foot), -6.0, across),
        *dimension((edge_left, foot), (edge_left, top), 6.0, up),
    ]


def _names(plan: Plan, to_paper: ToPaper, section: WallSection) -> list[Shape]:
    inward = section.thickness / 2 + 13.5 * to_paper.denominator / 1000
    shapes: list[Shape] = []
    for panel in plan.panels:
        x, y = to_paper(_across(panel, panel.centre_length / 2, -inward))
        shapes.append(note(fitted(panel.name, 26, 4.2), (x, y - 1.5), size=4.2, bold=True))
    return shapes


def corner_tick(at: Point) -> tuple[Shape, ...]:
    """A small cross where a peg or a nail stands."""
    (x, y) = at
    return (
        line((x - 2, y), (x + 2, y), OUTLINE_PEN, "reference"),
        line((x, y - 2), (x, y + 2), OUTLINE_PEN, "reference"),
    )


def drawn_marks(plan: Plan) -> dict[str, Point]:
    """The marks a drawing has room for: of a circle divided more than once ("8.1", "12.1") only the first division."""
    names = [name for name, _ in plan.setting_out.points]
    first = next((name.partition(".")[0] for name in names if "." in name), "")
    return {name: at for name, at in plan.setting_out.points if "." not in name or name.partition(".")[0] == first}


def draw_setting_out(project: Project, plan: Plan) -> Drawing:
    """The marks to string out, with their letters, the sides and the diagonals between them."""
    quarters = quarters_to_north(project.plan.north)
    points = tuple(p for _, p in plan.setting_out.points)
    to_paper, width, height = _on_sheet((*plan.inner_face, *points), quarters, project.units)
    to_paper, width, height = _shrunk(to_paper, width, height, project.units)
    places = {name: to_paper(p) for name, p in drawn_marks(plan).items()}
    shapes: list[Shape] = [outline(to_paper.all(plan.inner_face), CUT_PEN)]
    for kind, start, end, _ in plan.setting_out.rows:
        if kind != "side" and start in places and end in places:
            shapes.append(Path(points=(places[start], places[end]), pen=FINE_PEN, dash=(4.0, 1.5), layer="reference"))
    middle = (width / 2, height / 2)
    lettered: dict[Point, list[str]] = {}
    for name, at in places.items():
        shapes += corner_tick(at)
        x, y = _name_place(name, at, middle)
        lettered.setdefault((round(x, 2), round(y, 2)), []).append(name)
    for (x, y), names in lettered.items():
        shapes.append(_lettering(names, (x, y - 1.8)))
    shapes += north_needle((width - 6, height - 12), project.plan.north - quarters * pi / 2)
    label = f"Setting out on the inside face, {show_scale(to_paper.denominator, project.units)}"
    return Drawing(
        name="setting-out",
        label=label,
        width=width,
        height=height,
        shapes=tuple(shapes),
        denominator=to_paper.denominator,
    )


def _lettering(names: Sequence[str], at: Point) -> Text:
    """The letters of one mark; two names of one place run to the left, clear of the next mark."""
    words = fitted(" = ".join(names), 14.0 * len(names), 5)
    if len(names) == 1:
        return Text(text=words, at=at, size=5, bold=True, halo=True)
    return Text(text=words, at=(at[0] + 2.5, at[1]), size=5, anchor="end", bold=True, halo=True)


def _name_place(name: str, at: Point, middle: Point) -> Point:
    """Where a mark's letter stands: outward; an oval's middle and foci above, the feet of its ordinates below."""
    if name in ("O", "F1", "F2"):
        return shifted(at, 5.5, pi / 2)
    if name.startswith("X"):
        return shifted(at, 5.5 if name[-1] in "02468" else 10.5, -pi / 2)
    return shifted(at, 5.5, atan2(at[1] - middle[1], at[0] - middle[0]))


def _shrunk(to_paper: ToPaper, width: float, height: float, units: Units) -> tuple[ToPaper, float, float]:
    """The same at a smaller scale, so that the table of lengths has room below."""
    inner = (width - LEFT - RIGHT, height - FOOT - TOP)
    metres = tuple(side * to_paper.denominator / 1000 for side in inner)
    denominator = choose_scale(metres[0], metres[1], (130.0, 90.0), units)
    share = to_paper.denominator / denominator
    origin = (LEFT + (to_paper.origin[0] - LEFT) * share, 10 + (to_paper.origin[1] - FOOT) * share)
    smaller = ToPaper(denominator=denominator, origin=origin, quarters=to_paper.quarters)
    return smaller, inner[0] * share + LEFT + RIGHT, inner[1] * share + 20
