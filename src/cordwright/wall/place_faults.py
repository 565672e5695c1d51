"""Does a log that is locked to a place, or told as laid there, fit in it, and if not, where is the nearest place?"""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from cordwright.base import Problem
from cordwright.wall.faces import place_in, told_from_left
from cordwright.wall.inputs import Joints, LaidLog, Lock, Wishes
from cordwright.wall.layout import Face, Log
from cordwright.wall.wishes import MEASURING, stock_as_laid

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

MARGIN = 1e-3
"""Places are told in whole millimetres; they are looked for this much farther in [m]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Spot:
    """A log at a place: its field in the file, centre and radius [m]."""

    field: str
    log: str
    x: float
    y: float
    radius: float


def _spots(wanted: Sequence[Lock | LaidLog], prefix: str, face: Face, logs: Mapping[str, Log]) -> list[_Spot]:
    return [
        _Spot(
            field=f"{prefix}[{i}]",
            log=w.log,
            x=place_in(face, w.from_left),
            y=w.height,
            radius=logs[w.log].diameter / 2,
        )
        for i, w in enumerate(wanted)
        if w.panel == face.name
    ]


def lock_place_faults(wishes: Wishes, faces: Sequence[Face], stock: Sequence[Log], joints: Joints) -> Iterator[Problem]:
    """Name the locks that do not fit in their places, by how much, and the nearest place that does.

    Args:
        wishes: as stated, every log and panel known.
        faces: the panels.
        stock: the logs whose diameter is known.
        joints: joint widths as stated.
    """
    if not wishes.locks:
        return
    whole = {log.id: log for log in stock}
    measured = {log.id: log for log in stock_as_laid(stock, wishes.laid)}
    done = {row.log for row in wishes.laid}
    for face in faces:
        laid = _spots(wishes.laid, "laid", face, measured)
        locks = [s for s in _spots(wishes.locks, "layout.locks", face, whole)]
        for n, spot in enumerate(locks):
            others = [*locks[:n], *(s for s in laid if s.log != spot.log)]
            if spot.log not in done:
                yield from _lock_fault(spot, face, others, locks[:n] + locks[n + 1 :] + laid, joints)


def _lock_fault(
    spot: _Spot, face: Face, before: Sequence[_Spot], around: Sequence[_Spot], joints: Joints
) -> Iterator[Problem]:
    wrong = [
        *_face_words(spot, face, joints.edge, 0.0),
        *_disc_words(spot, face, before, joints.least, 0.0),
    ]
    if wrong:
        yield Problem(
            field=spot.field,
            message=f"log {spot.log} of {_mm(2 * spot.radius)} mm {' and '.join(wrong)}",
            hint=_nearest_place(spot, face, [s for s in around if s.log != spot.log], joints),
        )


def _face_words(spot: _Spot, face: Face, edge: float, slack: float) -> Iterator[str]:
    """What a log stands over or too close to, of the panel's own: edges and frames."""
    from shapely import Point, Polygon

    centre, outline = Point(spot.x, spot.y), Polygon(face.outline)
    away = float(outline.exterior.distance(centre))
    gap = (away if outline.contains(centre) else -away) - spot.radius
    if gap < edge - slack - 1e-6:
        yield _words(gap, edge, f"the edge of panel {face.name}", "stands past")
    for hole in face.openings:
        frame = Polygon(hole.outline)
        inside = -float(frame.exterior.distance(centre)) if frame.contains(centre) else float(frame.distance(centre))
        if inside - spot.radius < edge - slack - 1e-6:
            yield _words(inside - spot.radius, edge, f"opening {hole.id}", "overlaps")


def _disc_words(spot: _Spot, face: Face, others: Sequence[_Spot], least: float, slack: float) -> Iterator[str]:
    """What a log overlaps or stands too close to, of what is round: sleeves, bottle ends, other logs."""
    discs = [(f"sleeve or bottle end {o.id}", o.x, o.y, o.diameter / 2) for o in face.obstacles]
    discs += [(f"log {s.log}", s.x, s.y, s.radius) for s in others]
    for name, x, y, radius in discs:
        gap = math.hypot(x - spot.x, y - spot.y) - radius - spot.radius
        if gap < least - slack - 1e-6:
            yield _words(gap, least, name, "overlaps")


def _words(gap: float, wanted: float, what: str, verb: str) -> str:
    if gap < 0:
        return f"{verb} {what} by {_mm(-gap)} mm"
    return f"stands {_mm(gap)} mm from {what}, where a joint of {_mm(wanted)} mm is the least"


def _mm(length: float) -> str:
    return f"{round(length * 1000, 1):g}"


def _nearest_place(spot: _Spot, face: Face, others: Sequence[_Spot], joints: Joints) -> str:
    from shapely import Point
    from shapely.ops import nearest_points

    free = _room(spot.radius + MARGIN, face, others, joints)
    if free.is_empty:
        return f"no place in panel {face.name} takes a log of {_mm(2 * spot.radius)} mm; choose a smaller one"
    place = nearest_points(free, Point(spot.x, spot.y))[0]
    from_left = told_from_left(face, place.x)
    return f"the nearest place that fits: from_left {from_left:.3f} m, height {place.y:.3f} m"


def _room(radius: float, face: Face, others: Sequence[_Spot], joints: Joints) -> "BaseGeometry":
    """Where the centre of a log may stand."""
    from shapely import Point, Polygon, union_all

    free: BaseGeometry = Polygon(face.outline).buffer(-(radius + joints.edge))
    taken = [Polygon(hole.outline).buffer(radius + joints.edge) for hole in face.openings]
    discs = [(o.x, o.y, o.diameter / 2) for o in face.obstacles] + [(s.x, s.y, s.radius) for s in others]
    taken += [Point(x, y).buffer(r + radius + joints.nominal, quad_segs=32) for x, y, r in discs]
    return free.difference(union_all(taken)) if taken else free


def laid_place_faults(wishes: Wishes, faces: Sequence[Face], stock: Sequence[Log], joints: Joints) -> Iterator[Problem]:
    """Name laid logs that cannot stand where they are told to stand, beyond what measuring in the wall may err.

    Args:
        wishes: as stated, every log and panel known.
        faces: the panels.
        stock: the logs whose diameter is known.
        joints: joint widths as stated.

    Sources: assumption (`as-laid-error`).
    """
    if not wishes.laid:
        return
    logs = {log.id: log for log in stock_as_laid(stock, wishes.laid)}
    for face in faces:
        spots = _spots(wishes.laid, "laid", face, logs)
        for n, spot in enumerate(spots):
            yield from _laid_fault(spot, face, spots[:n])
            yield from _order_fault(spot, spots[:n], joints)


def _laid_fault(spot: _Spot, face: Face, before: Sequence[_Spot]) -> Iterator[Problem]:
    if not _centre_in_wall(spot, face):
        message = f"the middle of laid log {spot.log} lies outside panel {face.name} or in an opening"
        hint = "measure from the panel's left end, seen from inside, and from the bed"
        yield Problem(field=spot.field, message=message, hint=hint)
        return
    wrong = [*_face_words(spot, face, 0.0, MEASURING), *_disc_words(spot, face, before, 0.0, MEASURING)]
    if wrong:
        hint = f"more than {_mm(MEASURING)} mm is no error of the tape: measure both again"
        message = f"laid log {spot.log} {' and '.join(wrong)}"
        yield Problem(field=spot.field, message=message, hint=hint, severity="warning")


def _centre_in_wall(spot: _Spot, face: Face) -> bool:
    from shapely import Point, Polygon

    centre = Point(spot.x, spot.y)
    return bool(Polygon(face.outline).contains(centre)) and not any(
        Polygon(hole.outline).contains(centre) for hole in face.openings
    )


def _order_fault(spot: _Spot, before: Sequence[_Spot], joints: Joints) -> Iterator[Problem]:
    """A log told as laid after one that rests on it, straight from below, cannot have been."""
    reach = joints.largest + MEASURING
    for other in before:
        dx, dy = abs(other.x - spot.x), other.y - spot.y
        touching = math.hypot(dx, dy) < other.radius + spot.radius + reach
        if touching and dy > 0 and dx < 0.3 * (other.radius + spot.radius):
            message = f"log {spot.log} stands under {other.log} but is listed after it"
            yield Problem(
                field=spot.field,
                message=message,
                hint="list the logs as they were laid, lower first",
                severity="warning",
            )
            return
