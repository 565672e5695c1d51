"""Into which panels do posts and corners divide the wall, and how long is each on its three faces?"""

import math
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from cordwright.plan import oval as ovals
from cordwright.plan import polygon as polygons
from cordwright.plan.inputs import PlanInput, Point, RoundOutline
from cordwright.plan.outline import Shape
from cordwright.plan.oval import Oval
from cordwright.plan.polygon import Polygon

COMPASS = ("N", "NE", "E", "SE", "S", "SW", "W", "NW")


@dataclass(frozen=True, slots=True, kw_only=True)
class Stretch:
    """One clear stretch of wall before anything stands in it; lines run from its left end seen from inside.

    `ends` are the two points on the centre line between which it stands (where its posts are). `closed`: it runs all
    the way round and its two ends meet without a post. `allowance` [m] has been taken off already. `at_corner`: whether
    its left and right end stand at a sharp corner of the outline.
    """

    name: str
    side: str
    allowance: float
    ends: tuple[Point, Point]
    closed: bool
    inner_length: float
    centre_length: float
    outer_length: float
    inner_line: tuple[Point, ...]
    centre_line: tuple[Point, ...]
    outer_line: tuple[Point, ...]
    bearing: float
    inner_radius: float | None
    at_corner: tuple[bool, bool] = (False, False)


def true_bearing(x: float, y: float, north: float) -> float:
    """Give the compass bearing of a plan direction, 0 to 2 pi [rad]; `north` [rad] is the bearing of plan up."""
    return (math.atan2(x, y) + north) % (2 * math.pi)


def compass_names(shape: Polygon, north: float) -> tuple[str, ...]:
    """Name each side by the compass point it faces; several facing the same way are numbered in corner order."""
    facing = [
        COMPASS[round(true_bearing(float(x), float(y), north) / (math.pi / 4)) % len(COMPASS)] for x, y in shape.normals
    ]
    several = Counter(facing)
    seen: Counter[str] = Counter()
    names = []
    for name in facing:
        seen[name] += 1
        names.append(f"{name}{seen[name]}" if several[name] > 1 else name)
    return tuple(names)


def side_names(plan: PlanInput, shape: Shape) -> tuple[str, ...]:
    """Give the names of the sides in corner order; a curved wall is one side, "round" or "oval"."""
    if isinstance(shape, Oval):
        return ("round",) if isinstance(plan.outline, RoundOutline) else ("oval",)
    return plan.side_names or compass_names(shape, plan.north)


def side_length(plan: PlanInput, shape: Shape, side: str) -> float:
    """Give the length of a side along the wall's centre line, corner to corner [m]."""
    middle = plan.section.thickness / 2
    if isinstance(shape, Oval):
        return ovals.perimeter(shape, middle)
    return float(polygons.straight_lengths(shape, middle)[side_names(plan, shape).index(side)])


def posts_of(plan: PlanInput, side: str) -> list[float]:
    """Give where the posts of a side stand along its centre line from the left [m], in order."""
    return sorted(p.from_left for p in plan.frame.posts if p.side == side)


def panel_names(plan: PlanInput, shape: Shape) -> tuple[str, ...]:
    """Give the names of all panels in the order of `stretches`, from names and posts alone."""
    names: list[str] = []
    sides = side_names(plan, shape)
    for index, side in enumerate(sides):
        names += _piece_names(side, len(posts_of(plan, side)) + isinstance(shape, Polygon))
        if isinstance(shape, Polygon) and shape.bends[(index + 1) % len(sides)]:
            names.append(_corner_name(sides, index))
    return tuple(names)


def _piece_names(side: str, count: int) -> list[str]:
    return [side] if count <= 1 else [f"{side}{n}" for n in range(1, count + 1)]


def _corner_name(sides: Sequence[str], right: int) -> str:
    return f"{sides[(right + 1) % len(sides)]}-{sides[right]}"


def allowance_of(plan: PlanInput, panel: str) -> float:
    """Give what posts take off a panel's centre line [m]: its own statement, else the plan's."""
    own = next((p.post_allowance for p in plan.panels if p.name == panel), None)
    return plan.post_allowance if own is None else own


def stretches(plan: PlanInput, shape: Shape) -> tuple[Stretch, ...]:
    """Divide the wall: sides in corner order, left to right seen from inside, each rounded corner after its side."""
    if isinstance(shape, Oval):
        return tuple(_curved(plan, shape))
    sides = side_names(plan, shape)
    divided: list[Stretch] = []
    for index, side in enumerate(sides):
        divided += _straight(plan, shape, index, side)
        corner = (index + 1) % len(sides)
        if shape.bends[corner]:
            divided.append(_arc(plan, shape, corner, _corner_name(sides, index)))
    return tuple(divided)


def _faces(plan: PlanInput) -> tuple[float, float, float]:
    return (0.0, plan.section.thickness / 2, plan.section.thickness)


def _straight(plan: PlanInput, shape: Polygon, index: int, side: str) -> Iterable[Stretch]:
    """Cut a straight side at its posts."""
    cuts = [None, *posts_of(plan, side), None]
    names = _piece_names(side, len(cuts) - 1)
    for name, piece in zip(names, pairwise(cuts), strict=True):
        yield _straight_piece(plan, _SideFrame.of(plan, shape, index), name, side, piece)


@dataclass(frozen=True, slots=True, kw_only=True)
class _SideFrame:
    """A side's own frame: its centre line from the left end, and how far each face runs past it at both ends."""

    start: Point
    along: Point
    outwards: Point
    length: float
    middle: float
    left_lean: float
    right_lean: float

    @classmethod
    def of(cls, plan: PlanInput, shape: Polygon, index: int) -> "_SideFrame":
        left = (index + 1) % len(shape.sides)
        middle = plan.section.thickness / 2
        nx, ny = map(float, shape.normals[index])
        lean = [0.0 if shape.radius > 0 else float(shape.tangents[c]) for c in (left, index)]
        corner = shape.corners[left]
        back = shape.radius * abs(float(shape.tangents[left])) - lean[0] * middle
        return cls(
            start=(float(corner[0]) + middle * nx + back * ny, float(corner[1]) + middle * ny - back * nx),
            along=(ny, -nx),
            outwards=(nx, ny),
            length=float(polygons.straight_lengths(shape, middle)[index]),
            middle=middle,
            left_lean=lean[0],
            right_lean=lean[1],
        )

    def span(self, distance: float, piece: tuple[float | None, float | None]) -> tuple[float, float]:
        """Give from where to where a piece runs on a face [m]; None is the side's own end."""
        past, (left, right) = distance - self.middle, piece
        return (
            -past * self.left_lean if left is None else left,
            self.length + past * self.right_lean if right is None else right,
        )

    def place(self, u: float, distance: float) -> Point:
        """Give a point of a face, `u` [m] from the left end of the centre line."""
        past = distance - self.middle
        return (
            self.start[0] + u * self.along[0] + past * self.outwards[0],
            self.start[1] + u * self.along[1] + past * self.outwards[1],
        )


def _straight_piece(
    plan: PlanInput, frame: _SideFrame, name: str, side: str, piece: tuple[float | None, float | None]
) -> Stretch:
    allowance = allowance_of(plan, name)
    spans = [frame.span(distance, piece) for distance in _faces(plan)]
    clear = [_clear(plan, frame, span, piece, allowance / 2) for span in spans]
    lengths = [end - start for start, end in clear]
    lines = [(frame.place(start, d), frame.place(end, d)) for d, (start, end) in zip(_faces(plan), clear, strict=True)]
    return Stretch(
        name=name,
        side=side,
        allowance=allowance,
        ends=(frame.place(spans[1][0], frame.middle), frame.place(spans[1][1], frame.middle)),
        closed=False,
        inner_length=lengths[0],
        centre_length=lengths[1],
        outer_length=lengths[2],
        inner_line=lines[0],
        centre_line=lines[1],
        outer_line=lines[2],
        bearing=true_bearing(*frame.outwards, plan.north),
        inner_radius=None,
        at_corner=(piece[0] is None, piece[1] is None),
    )


def _clear(
    plan: PlanInput,
    frame: _SideFrame,
    span: tuple[float, float],
    piece: tuple[float | None, float | None],
    half: float,
) -> tuple[float, float]:
    """Take off what stands at the ends [m]: half an allowance for posts, or the other wall where blocks cross it."""
    blocks = plan.corners.kind == "built-up"
    start = frame.middle if blocks and piece[0] is None else span[0] + half
    end = frame.length - frame.middle if blocks and piece[1] is None else span[1] - half
    return start, end


def _arc(plan: PlanInput, shape: Polygon, corner: int, name: str) -> Stretch:
    """Give a rounded corner: the same share of its turn on all three faces."""
    turn = abs(float(shape.turns[corner]))
    inner, centre, outer = (float(polygons.arc_radii(shape, d)[corner]) for d in _faces(plan))
    allowance = allowance_of(plan, name)
    share = allowance / (centre * turn) if centre > 0 else 0.0
    lines = [tuple(reversed(polygons.arc_points(shape, corner, d, share / 2, 1 - share / 2))) for d in _faces(plan)]
    whole = polygons.arc_points(shape, corner, plan.section.thickness / 2)
    bisector = shape.normals[corner - 1] + shape.normals[corner]
    return Stretch(
        name=name,
        side=name,
        allowance=allowance,
        ends=(whole[-1], whole[0]),
        closed=False,
        inner_length=inner * turn * (1 - share),
        centre_length=centre * turn - allowance,
        outer_length=outer * turn * (1 - share),
        inner_line=lines[0],
        centre_line=lines[1],
        outer_line=lines[2],
        bearing=true_bearing(float(bisector[0]), float(bisector[1]), plan.north),
        inner_radius=inner * float(shape.bends[corner]),
    )


def _curved(plan: PlanInput, shape: Oval) -> Iterable[Stretch]:
    """Cut a round or oval wall at its posts, clockwise; without a post it begins and ends due north."""
    middle = plan.section.thickness / 2
    (side,) = side_names(plan, shape)
    origin = ovals.along(shape, ovals.phi_toward(shape, -plan.north, middle), middle)
    posts = posts_of(plan, side)
    whole = ovals.perimeter(shape, middle)
    starts = [origin + p for p in posts or [0.0]]
    names = _piece_names(side, len(starts))
    for name, piece in zip(names, pairwise([*starts, starts[0] + whole]), strict=True):
        yield _curved_piece(plan, shape, name, piece)


def _curved_piece(plan: PlanInput, shape: Oval, name: str, piece: tuple[float, float]) -> Stretch:
    distances = inner, middle, outer = _faces(plan)
    (side,), (left, right) = side_names(plan, shape), piece
    allowance = allowance_of(plan, name)
    start, end = (ovals.phi_at(shape, s, middle) for s in (left + allowance / 2, right - allowance / 2))
    half_way = ovals.phi_at(shape, (left + right) / 2, middle)
    first, last = (ovals.point(shape, ovals.phi_at(shape, s, middle), middle) for s in (left, right))
    lines = [ovals.points(shape, start, end, d) for d in distances]
    lengths = [ovals.along(shape, end, d) - ovals.along(shape, start, d) for d in (inner, outer)]
    return Stretch(
        name=name,
        side=side,
        allowance=allowance,
        ends=(first, last),
        closed=not posts_of(plan, side) and allowance == 0,
        inner_length=lengths[0],
        centre_length=right - left - allowance,
        outer_length=lengths[1],
        inner_line=lines[0],
        centre_line=lines[1],
        outer_line=lines[2],
        bearing=(ovals.normal_bearing(shape, half_way) + plan.north) % (2 * math.pi),
        inner_radius=ovals.least_radius(shape, start, end),
    )
