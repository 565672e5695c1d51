"""Does a laid panel keep every rule a mason must keep? Brute force: every log against every other, edge and support.

Nothing here comes from the code that lays panels: the rules are written down a second time, in the plainest way.
Rounds are measured exactly, the arc of a split as so many tangents that it is judged no smaller than it is and at most
a thousandth of a millimetre larger.
"""

import math
from collections import Counter
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING, Final, Literal

import numpy as np

from cordwright.base import Cite, InputError
from cordwright.plan.inputs import Point
from cordwright.wall.judged_faces import seen_at
from cordwright.wall.layout import Filler, Log, PanelLayout, Placement, Violation

if TYPE_CHECKING:
    from shapely import Polygon
    from shapely.geometry.base import BaseGeometry

SUPPORT_RULE: Final = Cite("judge-support-rule", "angles and widest joint of a support")
WIDEST_SUPPORT: Final = 0.012
"""A joint wider than the usual one by more than this carries nothing while it is wet [m]."""
STEEPEST_PAIR: Final = math.radians(75.0)
"""Of the two supports of a log, one at least stands no further from straight below."""
STEEPEST_SIDE: Final = math.radians(95.0)
"""A post or frame beside a log still steadies it."""
HALF_SPREAD: Final[Mapping[str, float]] = {"half": math.pi / 2, "quarter": math.pi / 4}
PLAY: Final = 1e-3
"""A split that stands on a log so near below its middle is steadied by anything else beside it [m]."""
SHARE: Final[Mapping[str, float]] = {"round": 1.0, "half": 0.5, "quarter": 0.25}
"""Share of its parent that a split is."""
OUTSIDE: Final = 1e-6
"""The tangents that stand for an arc lie outside of it by no more than this [m]."""
SURFACES: Final = ("bed", "post", "frame")


@dataclass(frozen=True, slots=True, kw_only=True)
class Body:
    """A placed log as a shape: what lies within `radius` of `core` (a round: its centre; a split: its outline) [m]."""

    placement: Placement
    core: "BaseGeometry"
    radius: float

    @property
    def id(self) -> str:
        """The log's id."""
        return self.placement.log.id

    @property
    def middle(self) -> Point:
        """The middle of the face, where its weight hangs [m]."""
        point = self.core.centroid
        return (point.x, point.y)


@dataclass(frozen=True, slots=True, kw_only=True)
class Contact:
    """One support: the way from it to the log, from where it touches to the log's middle, and the clear joint [m].

    For a round both ways are one (`arm` None); a split may be touched on its flat, aside of its middle.
    """

    kind: Literal["bed", "post", "frame", "log"]
    away: Point
    gap: float
    arm: Point | None = None

    @property
    def lean(self) -> float:
        """Angle of the way to the log's middle from straight up, positive leaning right [rad]."""
        return math.atan2(*(self.arm or self.away))

    def leans(self, way: float) -> bool:
        """Whether it pushes the log left (-1) or right (1); one under a split's very middle does either."""
        return self.lean * way > 0 or (self.kind == "log" and self.arm is not None and abs(self.arm[0]) <= PLAY)

    @property
    def from_below(self) -> bool:
        """Whether the push has a share upward, and the log's middle lies higher than where it is touched."""
        return abs(math.atan2(*self.away)) < math.pi / 2 and abs(self.lean) < math.pi / 2


@dataclass(frozen=True, slots=True, kw_only=True)
class _Rules:
    joint: float
    joint_least: float
    edge: float
    tolerance: float

    def lacks(self, gap: float, wanted: float) -> bool:
        """Whether a clear joint is too narrow; one that is no number is."""
        return not gap >= wanted - self.tolerance


def judge(
    layout: PanelLayout,
    stock: Sequence[Log],
    *,
    joint: float,
    joint_least: float,
    edge: float,
    tolerance: float = 5e-5,
    settled: Collection[str] = (),
) -> tuple[Violation, ...]:
    """All that is wrong with a laid panel; an empty answer says only that these rules were kept.

    A half or quarter log is the part of its parent's disc about the direction `angle` (counter-clockwise from the
    right) in which its bark faces. A log that rests on a chip need not rest on two logs, but its note names the chip.
    A curved wall is judged at the face where its joints close; stones are judged at its wide face too.

    Args:
        layout: the laid panel.
        stock: the log ends that were in hand, ids unique.
        joint: clear width between two logs, and between a log and a sleeve or bottle end [m].
        joint_least: clear width around a filler, towards edges no more than `edge` [m].
        edge: clear width to the outline and to the frames of openings [m].
        tolerance: what a width may lack [m].
        settled: ids of logs laid or locked, whose places the owner decided: how they stand to each other and to the
            panel is the owner's fact, how all others stand to them is judged.

    Raises:
        InputError: two logs of the stock share an id, or an outline that crosses itself.

    Sources:
        The support rule is the project's own (see `SUPPORT_RULE`); all else is plane geometry.
    """
    rules = _Rules(joint=joint, joint_least=joint_least, edge=edge, tolerance=tolerance)
    far = seen_at(layout, layout.face.wide)
    layout = seen_at(layout, layout.face.hollow, ("both",))
    nowhere = [p for p in layout.placements if not _has_place(p)]
    bodies, spread = ([body_of(p) for p in each.placements if _has_place(p)] for each in (layout, far))
    return (
        *_unlike_stock(layout, stock),
        *used_twice((layout,)),
        *(Violation(rule="edge", ids=(p.log.id,), amount=math.inf) for p in nowhere),
        *_disturbed_fillers(bodies, layout, rules),
        *(_disturbed_fillers(spread, far, rules) if layout.face.wide > 1 else ()),
        *_undecided(
            (
                *_narrow_joints(bodies, rules),
                *_narrow_at_the_cut(bodies, layout, rules),
                *_out_of_bounds(bodies, layout, rules),
                *_faults_of_order(layout.placements),
                *_faults_of_support(bodies, layout, rules),
                *_faults_of_lift(layout.placements),
            ),
            settled,
        ),
    )


def _undecided(violations: Iterable[Violation], settled: Collection[str]) -> Iterator[Violation]:
    """Leave out what the owner decided: between two settled logs, or between a settled one and panel or chip."""
    for v in violations:
        concerned = v.ids if v.rule in ("joint", "order") else v.ids[:1]
        if not set(concerned) <= set(settled):
            yield v


def used_twice(layouts: Iterable[PanelLayout]) -> tuple[Violation, ...]:
    """Logs that stand in more than one place of the house, or stand in the wall and are named as left over too.

    A round that stands beside its own halves or quarters is used twice, and so is one of which more pieces stand than
    it gives.
    """
    layouts = tuple(layouts)
    counts = Counter(p.log.id for layout in layouts for p in layout.placements)
    left_over = {i for layout in layouts for i in layout.unused} if len(layouts) == 1 else set()
    twice = (
        Violation(rule="double use", ids=(i,), amount=float(n - 1 + (i in left_over)))
        for i, n in counts.items()
        if n > 1 or i in left_over
    )
    return (*twice, *_cleft_and_whole([p.log for layout in layouts for p in layout.placements]))


def _cleft_and_whole(logs: Sequence[Log]) -> Iterator[Violation]:
    whole = {log.id for log in logs}
    pieces: dict[str, dict[str, float]] = {}
    for log in logs:
        if log.parent:
            pieces.setdefault(log.parent, {})[log.id] = SHARE[log.shape]
    for parent, parts in pieces.items():
        used = math.fsum(parts.values()) + (parent in whole)
        if used > 1:
            yield Violation(rule="double use", ids=(parent, *sorted(parts)), amount=used - 1)


def _has_place(placement: Placement) -> bool:
    return all(math.isfinite(v) for v in (placement.x, placement.y, placement.angle, placement.log.diameter))


def body_of(placement: Placement) -> Body:
    """The shape of a placed log, from its place, its size and the way its bark faces alone."""
    import shapely

    x, y, radius = placement.x, placement.y, placement.log.diameter / 2
    if placement.log.shape == "round":
        return Body(placement=placement, core=shapely.Point(x, y), radius=radius)
    ring = [(x + r * math.cos(a), y + r * math.sin(a)) for r, a in _bark(placement, radius)]
    return Body(placement=placement, core=shapely.Polygon([(x, y), *ring]), radius=0.0)


def _bark(placement: Placement, radius: float) -> Iterator[tuple[float, float]]:
    """The bark of a split as tangents to its arc: both ends, and where tangents cross; each as radius and angle."""
    spread = HALF_SPREAD[placement.log.shape]
    first = placement.angle - spread
    count = max(1, math.ceil(spread / math.acos(radius / (radius + OUTSIDE))))
    step = 2 * spread / count
    yield radius, first
    yield from ((radius / math.cos(step / 2), first + (n + 0.5) * step) for n in range(count))
    yield radius, first + 2 * spread


def _unlike_stock(layout: PanelLayout, stock: Sequence[Log]) -> Iterator[Violation]:
    in_hand = {log.id: log for log in stock}
    if len(in_hand) != len(stock):
        raise InputError("two logs of the stock share an id")
    for log in (p.log for p in layout.placements):
        own = in_hand.get(log.id)
        if own is None or (own.stem, own.shape) != (log.stem, log.shape):
            yield Violation(rule="not in stock", ids=(log.id,), amount=1.0)
        elif own.diameter != log.diameter:
            yield Violation(rule="not in stock", ids=(log.id,), amount=abs(own.diameter - log.diameter))


def gap_between(a: Body, b: Body) -> float:
    """Clear joint between two logs [m]; negative where the discs of two rounds overlap."""
    return float(a.core.distance(b.core)) - a.radius - b.radius


def _narrow_joints(bodies: Sequence[Body], rules: _Rules) -> Iterator[Violation]:
    """Every pair; a split lies within its parent's disc, so only pairs whose discs come near are looked at twice."""
    x, y = (np.array([getattr(b.placement, axis) for b in bodies]) for axis in "xy")
    radius = np.array([b.placement.log.diameter / 2 for b in bodies])
    for i, body in enumerate(bodies):
        gaps = np.hypot(x[i + 1 :] - x[i], y[i + 1 :] - y[i]) - radius[i + 1 :] - radius[i]
        for k in np.flatnonzero(gaps < rules.joint - rules.tolerance):
            other = bodies[i + 1 + int(k)]
            if rules.lacks(gap := gap_between(body, other), rules.joint):
                yield Violation(rule="joint", ids=(body.id, other.id), amount=rules.joint - gap)


def _narrow_at_the_cut(bodies: Sequence[Body], layout: PanelLayout, rules: _Rules) -> Iterator[Violation]:
    """Across the place where a wall that closes on itself was cut, logs are neighbours too."""
    if not layout.face.ring:
        return
    from shapely.affinity import translate

    length = max(x for x, _ in layout.face.outline)
    for right in bodies:
        turned = translate(right.core, -length)
        for left in bodies:
            gap = float(turned.distance(left.core)) - right.radius - left.radius
            if left is not right and rules.lacks(gap, rules.joint):
                yield Violation(rule="joint", ids=(right.id, left.id), amount=rules.joint - gap)


def _polygon(outline: Sequence[Point], name: str) -> "Polygon":
    import shapely

    polygon = shapely.Polygon(outline)
    if not polygon.is_valid:
        raise InputError(f"the outline of {name} crosses itself")
    return polygon


def _depth_inside(core: "BaseGeometry", radius: float, outline: "Polygon") -> float:
    """Clear width from a shape to the outline it should lie in, negative outside [m]."""
    away = float(outline.exterior.distance(core))
    return (away if outline.contains(core) else -away) - radius


def _out_of_bounds(bodies: Sequence[Body], layout: PanelLayout, rules: _Rules) -> Iterator[Violation]:
    import shapely

    face = layout.face
    outline = _polygon(face.outline, face.name)
    frames = [(hole.id, _polygon(hole.outline, hole.id)) for hole in face.openings]
    discs = [(disc.id, shapely.Point(disc.x, disc.y), disc.diameter / 2) for disc in face.obstacles]
    for body in bodies:
        if rules.lacks(gap := _depth_inside(body.core, body.radius, outline), rules.edge):
            yield Violation(rule="edge", ids=(body.id,), amount=rules.edge - gap)
        for name, frame in frames:
            if rules.lacks(gap := float(frame.distance(body.core)) - body.radius, rules.edge):
                yield Violation(rule="opening", ids=(body.id, name), amount=rules.edge - gap)
        for name, centre, radius in discs:
            if rules.lacks(gap := float(centre.distance(body.core)) - radius - body.radius, rules.joint):
                yield Violation(rule="obstacle", ids=(body.id, name), amount=rules.joint - gap)


def _disturbed_fillers(bodies: Sequence[Body], layout: PanelLayout, rules: _Rules) -> Iterator[Violation]:
    at_edge = min(rules.edge, rules.joint_least)
    for n, filler in enumerate(layout.fillers):
        if not filler.diameter > 0:
            yield Violation(rule="filler", ids=(f"filler {n + 1}",), amount=math.inf)
            continue
        for name, gap, wanted in _around(filler, n, bodies, layout, (rules.joint_least, at_edge)):
            if rules.lacks(gap, wanted):
                yield Violation(rule="filler", ids=(f"filler {n + 1}", name), amount=wanted - gap)


def _around(
    filler: Filler, n: int, bodies: Sequence[Body], layout: PanelLayout, wanted: tuple[float, float]
) -> Iterator[tuple[str, float, float]]:
    """All that stands around a filler: its name, the clear width to it and the width wanted [m]."""
    import shapely

    (joint, edge), radius = wanted, filler.diameter / 2
    centre, face = shapely.Point(filler.x, filler.y), layout.face
    yield face.name, _depth_inside(centre, radius, _polygon(face.outline, face.name)), edge
    for hole in face.openings:
        yield hole.id, float(_polygon(hole.outline, hole.id).distance(centre)) - radius, edge
    for disc in face.obstacles:
        yield disc.id, math.hypot(disc.x - filler.x, disc.y - filler.y) - disc.diameter / 2 - radius, joint
    for body in bodies:
        yield body.id, float(body.core.distance(centre)) - body.radius - radius, joint
    for m, other in enumerate(layout.fillers[n + 1 :], start=n + 2):
        gap = math.hypot(other.x - filler.x, other.y - filler.y) - other.diameter / 2 - radius
        yield f"filler {m}", gap, joint


def _faults_of_order(placements: Sequence[Placement]) -> Iterator[Violation]:
    """The order counts 1 to n, each number once."""
    counts = Counter(p.order for p in placements)
    wrong = tuple(p.log.id for p in placements if counts[p.order] > 1 or not 1 <= p.order <= len(placements))
    if wrong:
        yield Violation(rule="order", ids=wrong, amount=float(len(wrong)))


def _faults_of_lift(placements: Sequence[Placement]) -> Iterator[Violation]:
    lifts = {p.log.id: p.lift for p in placements}
    for p in placements:
        if p.lift < 1:
            yield Violation(rule="lift", ids=(p.log.id,), amount=float(1 - p.lift))
        for name in p.supports:
            if lifts.get(name, p.lift) > p.lift:
                yield Violation(rule="lift", ids=(p.log.id, name), amount=float(lifts[name] - p.lift))


def _faults_of_support(bodies: Sequence[Body], layout: PanelLayout, rules: _Rules) -> Iterator[Violation]:
    by_id = {b.id: b for b in bodies}
    surfaces = list(_surfaces(layout))
    for body in bodies:
        faults: list[Violation] = []
        contacts: list[Contact] = []
        for name in body.placement.supports:
            if name == "chip":
                faults += _faults_of_chip(body)
            elif name in SURFACES:
                faults += _rest_on_surface(body, name, surfaces, rules, contacts)
            else:
                faults += _rest_on_log(body, name, by_id, rules, contacts)
        yield from faults
        if not faults and "chip" not in body.placement.supports and not holds(contacts, rules.tolerance):
            yield Violation(rule="support", ids=(body.id, *body.placement.supports), amount=1.0)


def _faults_of_chip(body: Body) -> list[Violation]:
    noted = bool(body.placement.note.strip())
    return [] if noted else [Violation(rule="support", ids=(body.id, "chip"), amount=1.0)]


def _surfaces(layout: PanelLayout) -> Iterator[tuple[bool, Point, Point]]:
    """Every straight piece of the outline and of the frames: whether of a frame, from, to."""
    rings = [(False, layout.face.outline), *((True, hole.outline) for hole in layout.face.openings)]
    for of_frame, ring in rings:
        yield from ((of_frame, a, b) for a, b in pairwise((*ring, ring[0])))


def _rest_on_surface(
    body: Body,
    name: str,
    surfaces: Iterable[tuple[bool, Point, Point]],
    rules: _Rules,
    contacts: list[Contact],
) -> list[Violation]:
    """The pieces of that name on which the log rests are added to the contacts."""
    met = [c for c in (_contact(body, surface, rules.tolerance) for surface in surfaces) if c.kind == name]
    limit = rules.edge + WIDEST_SUPPORT + rules.tolerance
    near = [c for c in met if c.gap <= limit and abs(math.atan2(*c.away)) <= STEEPEST_SIDE]
    contacts += near
    if near:
        return []
    short = min((c.gap for c in met), default=math.inf) - rules.edge - WIDEST_SUPPORT
    return [Violation(rule="support", ids=(body.id, name), amount=short)]


def _contact(body: Body, surface: tuple[bool, Point, Point], tolerance: float) -> Contact:
    import shapely

    of_frame, start, end = surface
    way = shapely.shortest_line(shapely.LineString([start, end]), body.core)
    (x0, y0), (x1, y1) = way.coords[0], way.coords[-1]
    if way.length == 0:
        x1, y1 = body.middle
    away = (x1 - x0, y1 - y0)
    level = abs(away[0]) <= tolerance and away[1] > 0
    kind: Literal["bed", "post", "frame"] = "frame" if of_frame else "bed" if level else "post"
    gap = float(way.length) - body.radius
    arm = None if body.radius else _arm_from(shapely.LineString([start, end]), body, gap, away)
    return Contact(kind=kind, away=away, arm=arm, gap=gap)


def _arm_from(surface: "BaseGeometry", body: Body, gap: float, away: Point) -> Point:
    """The way to a split's middle from where it is touched: of all such places on it the one nearest the middle."""
    import shapely

    middle = shapely.Point(body.middle)
    touched = shapely.intersection(surface, shapely.buffer(body.core, gap + OUTSIDE, quad_segs=64))
    foot = shapely.shortest_line(surface if touched.is_empty else touched, middle).coords[0]
    return (middle.x - foot[0] - away[0], middle.y - foot[1] - away[1])


def _rest_on_log(
    body: Body, name: str, by_id: Mapping[str, Body], rules: _Rules, contacts: list[Contact]
) -> list[Violation]:
    """A log that is there, pushes from below, was laid before and is near enough is added to the contacts."""
    import shapely

    under, ids = by_id.get(name), (body.id, name)
    if under is None:
        return [Violation(rule="support", ids=ids, amount=math.inf)]
    if under.placement.order >= body.placement.order:
        return [Violation(rule="order", ids=ids, amount=float(under.placement.order - body.placement.order))]
    way = shapely.shortest_line(under.core, body.core).coords
    away, gap = (way[-1][0] - way[0][0], way[-1][1] - way[0][1]), gap_between(body, under)
    if not away[1] > 0 or gap > rules.joint + WIDEST_SUPPORT + rules.tolerance:
        return [Violation(rule="support", ids=ids, amount=max(-away[1], gap - rules.joint - WIDEST_SUPPORT))]
    arm = None if body.radius else _arm_on_log(body, under, gap, way)
    contacts.append(Contact(kind="log", away=away, arm=arm, gap=gap))
    return []


def _arm_on_log(body: Body, under: Body, gap: float, way: Sequence[Sequence[float]]) -> Point:
    """The way to a split's middle from where a log touches it; along a flat that lies on a flat as on a surface."""
    (x0, y0), (x1, y1) = way[0], way[-1]
    if not under.radius:
        return _arm_from(under.core, body, gap, (x1 - x0, y1 - y0))
    return (body.middle[0] - x1, body.middle[1] - y1)


def holds(contacts: Iterable[Contact], tolerance: float) -> bool:
    """Whether a log rests still: on a level surface, or between a push that leans left and one that leans right.

    Args:
        contacts: what the log rests on.
        tolerance: a surface whose push leans sideways by no more than this at the log's middle is level [m].
    """
    contacts = tuple(contacts)
    arms = [c.arm or c.away for c in contacts if c.kind != "log"]
    if any(abs(sideways) <= tolerance and up > 0 for sideways, up in arms):
        return True
    pushing = [c for c in contacts if c.kind != "log" or c.from_below]
    left, right = [c for c in pushing if c.leans(-1.0)], [c for c in pushing if c.leans(1.0)]
    return any(a is not b and min(abs(a.lean), abs(b.lean)) <= STEEPEST_PAIR for a in left for b in right)
