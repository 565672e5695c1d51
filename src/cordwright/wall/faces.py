"""Which faces are to be laid, with which log ends, and where does a curved wall draw its joints together?

A log end is a straight round of one diameter: on a curved wall the joints close toward the hollow face and open toward
the other. A panel is therefore laid at its hollow face and its places are told on the centre line.
"""

import math
from collections.abc import Iterable, Iterator
from dataclasses import replace

from cordwright.plan.inputs import Point
from cordwright.plan.results import Panel, Plan
from cordwright.timber.results import Stock
from cordwright.wall.joints import hollow_radius
from cordwright.wall.layout import Disc, Face, Hole, Log, Shape

MEETS = 1e-6
"""Ends of a wall nearer than this [m] are one place."""


def faces_of(plan: Plan) -> tuple[Face, ...]:
    """Give the faces of all panels on the wall's centre line, bed to wall head, with their holes and fixed discs.

    A wall that closes on itself without a post is cut at the right jamb of its highest opening, so that no straight
    joint runs up the wall where the two ends meet: only the band over (and under) that opening is cut. Without an
    opening it is cut where the plan begins; a straight joint then stands there, which no house with a door has.
    """
    return tuple(_face(panel, _closes(panel, plan.posts)) for panel in plan.panels)


def _face(panel: Panel, ring: bool) -> Face:
    start = _cut(panel) if ring else 0.0
    width = panel.centre_length
    hollow, wide = _widths(panel)
    return Face(
        name=panel.name,
        outline=panel.outline,
        openings=tuple(Hole(id=p.opening.id, outline=_rolled(p.outline, start, width)) for p in panel.openings),
        obstacles=tuple(
            Disc(id=o.id, x=_from_cut(o.u, start, width), y=o.v, diameter=o.diameter) for o in panel.obstacles
        ),
        hollow=hollow,
        wide=wide,
        ring=ring,
        start=start,
    )


def _closes(panel: Panel, posts: Iterable[Point]) -> bool:
    """Whether a panel runs all the way round and no post stands where its ends meet."""
    first, last = panel.centre_line[0], panel.centre_line[-1]
    return math.dist(first, last) < MEETS and all(math.dist(first, post) > 1e-3 for post in posts)


def _cut(panel: Panel) -> float:
    """Right jamb of the opening that leaves least masonry above and below it [m from the panel's left end]."""
    tallest = max(panel.openings, key=lambda p: (p.opening.height, -p.opening.from_left), default=None)
    return 0.0 if tallest is None else max(u for u, _ in tallest.outline) % panel.centre_length


def _from_cut(place: float, start: float, width: float) -> float:
    return (place - start) % width if start else place


def _rolled(outline: tuple[Point, ...], start: float, width: float) -> tuple[Point, ...]:
    """An opening's outline seen from the cut; the opening that is cut beside stands whole at the right end."""
    if not start:
        return outline
    middle = (min(u for u, _ in outline) + max(u for u, _ in outline)) / 2
    shift = _from_cut(middle, start, width) - middle
    return tuple((u + shift, v) for u, v in outline)


def _widths(panel: Panel) -> tuple[float, float]:
    """Widths at the hollow and the wide face over the centre line; the tightest place of an oval governs all of it.

    Sources: closed form (arcs about one centre).
    """
    if panel.inner_radius is None:
        return 1.0, 1.0
    thickness = math.dist(panel.inner_line[0], panel.outer_line[0])
    radius = hollow_radius(panel, thickness)
    assert radius is not None
    middle = radius + thickness / 2
    return radius / middle, (radius + thickness) / middle


def at_face(face: Face, share: float) -> Face:
    """Give a panel as it is seen at one of its faces, in widths true there.

    Places are turned about the centre of the curve: the axes of frames, pipes and bottle ends move with the face. Their
    own width stays: jambs and pipes are straight and square to the wall. A frame's width is taken along the face, which
    a flat frame on a curve falls short of by width cubed over 24 radii squared (6 mm at a 760 mm door on 1.4 m), within
    the joint at the frame. A frame at the cut of a ring reaches around it.

    Args:
        face: the panel on its centre line.
        share: width at the face wanted over that on the centre line [1].
    """
    if share == 1.0:
        return face
    width = share * max(u for u, _ in face.outline)
    holes = [replace(hole, outline=_moved(hole.outline, share)) for hole in face.openings]
    around = [_shifted(hole, way * width) for hole in holes for way in (-1, 1) if face.ring]
    return replace(
        face,
        outline=tuple((share * u, v) for u, v in face.outline),
        openings=(*holes, *(hole for hole in around if _reaches(hole, width))),
        obstacles=tuple(replace(disc, x=share * disc.x) for disc in face.obstacles),
        hollow=face.hollow / share,
        wide=face.wide / share,
    )


def _moved(outline: tuple[Point, ...], share: float) -> tuple[Point, ...]:
    axis = (min(u for u, _ in outline) + max(u for u, _ in outline)) / 2
    return tuple((u + axis * (share - 1.0), v) for u, v in outline)


def _shifted(hole: Hole, way: float) -> Hole:
    return replace(hole, outline=tuple((u + way, v) for u, v in hole.outline))


def _reaches(hole: Hole, width: float) -> bool:
    return max(u for u, _ in hole.outline) > MEETS and min(u for u, _ in hole.outline) < width - MEETS


def hollow_face(face: Face) -> Face:
    """Give a panel as it is laid: at the face where its joints close."""
    return at_face(face, face.hollow)


def seamed(face: Face, gap: float) -> Face:
    """Narrow a ring by what the joint across its cut needs beyond the joints at both edges [m]."""
    if not face.ring or gap <= 0:
        return face
    width = max(u for u, _ in face.outline)
    return replace(face, outline=tuple((min(u, width - gap), v) for u, v in face.outline))


def place_in(face: Face, from_left: float) -> float:
    """Give where a place of the plan lies in the face's own frame [m].

    Args:
        face: the panel.
        from_left: the place as the plan counts it [m].
    """
    return _from_cut(from_left, face.start, max(u for u, _ in face.outline))


def told_from_left(face: Face, x: float) -> float:
    """Give where a place in the face's own frame lies as the plan counts it [m].

    Args:
        face: the panel.
        x: the place in the face's frame [m].
    """
    width = max(u for u, _ in face.outline)
    return (x + face.start) % width if face.start else x


def logs_of(stock: Stock) -> tuple[Log, ...]:
    """Give the log ends in stock whose diameter at laying is known, each with the stem it came from."""
    return tuple(_logs(stock))


def _logs(stock: Stock) -> Iterator[Log]:
    whole: tuple[Shape, ...] = ("round",)
    shapes = stock.shape or whole * len(stock.id)
    for name, stem, diameter, shape in zip(stock.id, stock.stem, stock.diameter.tolist(), shapes, strict=True):
        if not math.isnan(diameter):
            yield Log(id=name, stem=stem, diameter=diameter, shape=shape)
