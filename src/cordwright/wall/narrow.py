"""Which strips of a panel are too narrow for the stock to be laid with even joints, and what does the wall's curve ask?

Beside one or two rows of logs every joint is an edge joint: there the laying has no choice of neighbours.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from cordwright.base import Cite
from cordwright.wall.faces import hollow_face
from cordwright.wall.inputs import Joints
from cordwright.wall.layout import Face, Hole, PanelLayout

RULE: Final = Cite("narrow-strip", "three mean log ends")
MEAN_LOGS = 3.0
"""A strip narrower than this many mean log ends is laid unevenly (`RULE`)."""

FEW_SIZES = 20
"""A panel of more logs than this in fewer sizes is told so: the layout evens stress out by exchanging unlike logs."""

TOUCH = 1e-6
Box = tuple[float, float, float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Strip:
    """A strip of wall between two things: what it is called and how wide or high it is [m]."""

    what: str
    width: float


def narrow_strips(face: Face, mean: float) -> tuple[Strip, ...]:
    """Name the strips of a panel, where it is laid, that are narrower than three mean log ends, the narrowest first.

    Args:
        face: the panel on its centre line.
        mean: mean diameter of the log ends [m].
    """
    limit = MEAN_LOGS * mean
    near = hollow_face(face)
    found = dict.fromkeys(s for s in _strips(near) if TOUCH < s.width < limit - TOUCH)
    return tuple(sorted({s.what: s for s in found}.values(), key=lambda s: s.width))


def told(strips: Sequence[Strip], mean: float) -> str:
    """Say in one sentence which strips are narrow."""
    places = ", ".join(f"{s.what} is {_mm(s.width)}" for s in strips)
    return (
        f"{places}, less than three mean log ends (3 x {_mm(mean)}): joints there will be uneven; small logs or splits"
    )


def _mm(length: float) -> str:
    return f"{length * 1000:.0f} mm"


def _strips(face: Face) -> Iterator[Strip]:
    holes = [(hole, _box(hole)) for hole in face.openings]
    left, right = (pick(x for x, _ in face.outline) for pick in (min, max))
    yield Strip(what=f"panel {face.name}", width=right - left)
    for hole, box in holes:
        others = [(o.id, b) for o, b in holes if o is not hole]
        yield from _beside(hole, box, others, (left, right))
        yield from _above_and_below(hole, box, others, face)


def _box(hole: Hole) -> Box:
    xs, ys = zip(*hole.outline, strict=True)
    return min(xs), min(ys), max(xs), max(ys)


def _beside(hole: Hole, box: Box, others: Sequence[tuple[str, Box]], ends: tuple[float, float]) -> Iterator[Strip]:
    """Piers: to the next opening on the right at the same height, and to the panel's ends."""
    level = [(name, b) for name, b in others if min(b[3], box[3]) - max(b[1], box[1]) > TOUCH]
    after = [(b[0] - box[2], name) for name, b in level if b[0] >= box[2] - TOUCH]
    if after:
        gap, name = min(after)
        yield Strip(what=f"the pier between {hole.id} and {name}", width=gap)
    else:
        yield Strip(what=f"the pier right of {hole.id}", width=ends[1] - box[2])
    if not any(b[2] <= box[0] + TOUCH for _, b in level):
        yield Strip(what=f"the pier left of {hole.id}", width=box[0] - ends[0])


def _above_and_below(hole: Hole, box: Box, others: Sequence[tuple[str, Box]], face: Face) -> Iterator[Strip]:
    """Bands: over the opening to the wall head or the next opening, and from the bed up to its sill."""
    over = [(b[1] - box[3], name) for name, b in others if b[1] >= box[3] - TOUCH and _one_above_other(b, box)]
    if over:
        gap, name = min(over)
        yield Strip(what=f"the band between {hole.id} and {name}", width=gap)
    else:
        yield Strip(what=f"the band over {hole.id}", width=_head_above(face, box) - box[3])
    if not any(b[3] <= box[1] + TOUCH and _one_above_other(b, box) for _, b in others):
        yield Strip(what=f"the band under {hole.id}", width=box[1] - min(y for _, y in face.outline))


def _one_above_other(one: Box, other: Box) -> bool:
    return min(one[2], other[2]) - max(one[0], other[0]) > TOUCH


def _head_above(face: Face, box: Box) -> float:
    """Lowest wall head over an opening, at its jambs and at corners of the head between them [m]."""
    xs = [x for x, _ in face.outline]
    left, right = max(box[0], min(xs)) + TOUCH, min(box[2], max(xs)) - TOUCH
    return min(_head_at(face, x) for x in (left, right, *(x for x in xs if left < x < right)))


def _head_at(face: Face, place: float) -> float:
    """Height of the wall head over a place of the panel: the highest line of its outline there [m]."""
    ring = (*face.outline, face.outline[0])
    lines = [(a, b) for a, b in pairwise(ring) if min(a[0], b[0]) <= place <= max(a[0], b[0]) and a[0] != b[0]]
    return max(a[1] + (b[1] - a[1]) * (place - a[0]) / (b[0] - a[0]) for a, b in lines)


def layout_notes(layout: PanelLayout, joints: Joints) -> tuple[str, ...]:
    """Say what the mason should know of a laid panel: narrow strips, joints at the wide face, where a ring is cut.

    Args:
        layout: the laid panel.
        joints: joint widths as stated.
    """
    return (*_strip_notes(layout), *_size_notes(layout), *_curve_notes(layout, joints), *_ring_notes(layout.face))


def _size_notes(layout: PanelLayout) -> Iterator[str]:
    """Logs told in a few round sizes lock into one another worse than logs measured one by one."""
    sizes = {round(p.log.diameter, 4) for p in layout.placements}
    if len(sizes) < FEW_SIZES <= len(layout.placements):
        yield (
            f"its {len(layout.placements)} logs are stated in {len(sizes)} sizes only, so more of them need chips;"
            " measured to the millimetre they can be laid closer"
        )


def _strip_notes(layout: PanelLayout) -> Iterator[str]:
    sizes = [p.log.diameter for p in layout.placements]
    if sizes:
        mean = sum(sizes) / len(sizes)
        if strips := narrow_strips(layout.face, mean):
            yield told(strips, mean)


def _curve_notes(layout: PanelLayout, joints: Joints) -> Iterator[str]:
    report, face = layout.report, layout.face
    if face.wide == 1.0:
        return
    stones = sum(f.face == "wide" for f in layout.fillers)
    more = f"; {stones} stones in its bead alone" if stones else ""
    yield (
        f"curved: joints from {_mm(report.joint_hollow_min)} at the hollow face, up to {_mm(report.joint_wide_max)}"
        f" at the wide face{more}"
    )
    if report.joint_wide_max > joints.largest:
        yield (
            f"at the wide face joints are wider than the largest of {_mm(joints.largest)}: split or taper the ends, and"
            " nails as keys in the wide joints, are common practice"
        )


def _ring_notes(face: Face) -> Iterator[str]:
    if not face.ring:
        return
    beside = [h.id for h in face.openings if abs(max(x for x, _ in h.outline) - max(x for x, _ in face.outline)) < 1e-6]
    if beside:
        yield f"closed on itself: places are counted from the right jamb of {beside[0]}, sunwise, seen from inside"
    else:
        yield "closed on itself without an opening: a straight joint stands where places begin; toothe it by hand"
