"""How does a laid panel look at the faces of a curved wall? For the judge and the measures alone.

Written down a second time, apart from the code that lays panels. Log ends, pipes and bottle ends are straight rounds
and frames have parallel jambs: at each face they keep their width, and only their axes come nearer or go apart.
"""

from collections.abc import Collection
from dataclasses import replace

from cordwright.plan.inputs import Point
from cordwright.wall.layout import Hole, PanelLayout


def seen_at(layout: PanelLayout, share: float, fillers: Collection[str] = ("both", "wide")) -> PanelLayout:
    """The panel in widths true at one face, with the fillers that lie in it.

    Args:
        layout: the panel told on its centre line.
        share: width at that face over that on the centre line [1].
        fillers: which fillers are kept, by `Filler.face`.
    """
    kept = tuple(replace(f, x=f.x * share) for f in layout.fillers if f.face in fillers)
    face = layout.face
    length = max(x for x, _ in face.outline) * share
    frames = [_frame_at(hole, share) for hole in face.openings]
    if face.ring:
        frames += [_beside(hole, turn) for hole in frames for turn in (-length, length)]
        frames = [hole for hole in frames if _between(hole, length)]
    changed = replace(
        face,
        outline=tuple((x * share, y) for x, y in face.outline),
        openings=tuple(frames),
        obstacles=tuple(replace(d, x=d.x * share) for d in face.obstacles),
    )
    placements = tuple(replace(p, x=p.x * share) for p in layout.placements)
    return replace(layout, face=changed, placements=placements, fillers=kept)


def _frame_at(hole: Hole, share: float) -> Hole:
    places = [x for x, _ in hole.outline]
    middle = min(places) + (max(places) - min(places)) / 2

    def moved(point: Point) -> Point:
        return (middle * share + point[0] - middle, point[1])

    return replace(hole, outline=tuple(map(moved, hole.outline)))


def _beside(hole: Hole, turn: float) -> Hole:
    return replace(hole, outline=tuple((x + turn, y) for x, y in hole.outline))


def _between(hole: Hole, length: float) -> bool:
    return any(x > 1e-6 for x, _ in hole.outline) and any(x < length - 1e-6 for x, _ in hole.outline)
