"""Where no post stands at a corner: which squared blocks are built up there, and what do they leave of each panel?

Blocks are as wide as the wall is thick. In one course a block runs along this wall and the end of none but its own
shows; in the next the end of the block that runs along the other wall shows. A panel begins at those ends, which is the
inside corner of the house; the long blocks stand as teeth into it. The blocks are weight that ties two walls; what they
bear is not reckoned here.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import pairwise
from typing import TYPE_CHECKING

from cordwright.base import InputError
from cordwright.plan.inputs import PlanInput, Point
from cordwright.plan.openings import Body
from cordwright.plan.outline import Shape
from cordwright.plan.polygon import Polygon
from cordwright.plan.results import CornerBlock
from cordwright.plan.stretches import Stretch, side_names

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

LEAST_REST = 0.03
"""A rest of a course lower than this [m] is made up in mortar, not with a block."""

FINE = 1e-9


def built_up(plan: PlanInput) -> bool:
    """Whether the corners are built up of blocks."""
    return plan.corners.kind == "built-up"


def tooth(plan: PlanInput) -> float:
    """How far a block that runs along a wall stands into its panel [m]."""
    return (plan.corners.block_length or 0.0) - plan.section.thickness


def courses(plan: PlanInput, height: float) -> tuple[tuple[float, float], ...]:
    """Give foot and top of each course up to a height [m]; the uppermost is cut to the rest.

    Args:
        plan: the plan, its corners built up.
        height: of the corner above the bed [m].
    """
    high, joint = plan.corners.block_height or 0.0, plan.corners.joint or 0.0
    found: list[tuple[float, float]] = []
    while (foot := len(found) * (high + joint)) < height - LEAST_REST + FINE:
        found.append((foot, min(foot + high, height)))
    return tuple(found)


def panel_ends(plan: PlanInput, shape: Shape, stretch: Stretch) -> tuple[int | None, int | None]:
    """Number the corners at which a stretch begins and ends, None where it meets a post."""
    if not (built_up(plan) and isinstance(shape, Polygon)):
        return None, None
    names = side_names(plan, shape)
    index = names.index(stretch.side)
    left, right = stretch.at_corner
    return ((index + 1) % len(names) if left else None), (index if right else None)


def runs_along(course: int, *, left_end: bool) -> bool:
    """Whether the block of a course, counted from 1, runs along the wall whose left (right) end stands at the corner.

    Of the two walls at a corner one stands with its left end, the other with its right: their blocks cross in turn.
    """
    return (course % 2 == 0) is left_end


def blocks_of(plan: PlanInput, shape: Shape, stretch: Stretch, head: Sequence[Point]) -> tuple[CornerBlock, ...]:
    """Give the teeth of a panel: the blocks that run along its wall, bed to wall head, left end first."""
    left, right = panel_ends(plan, shape, stretch)
    found: list[CornerBlock] = []
    width, reach = stretch.centre_length, tooth(plan)
    for corner, ends, is_left in ((left, (0.0, reach), True), (right, (width - reach, width), False)):
        if corner is not None:
            height = min(_height(head, u) for u in ends)
            found += _teeth(plan, width, height, left_end=is_left)
    return tuple(found)


def _height(head: Sequence[Point], place: float) -> float:
    """Height of the wall head over a place of the panel [m]."""
    pieces = [(a, b) for a, b in pairwise(head) if a[0] <= place <= b[0] and b[0] > a[0]]
    (u0, v0), (u1, v1) = pieces[0] if pieces else (head[0], (head[0][0] + 1.0, head[0][1]))
    return v0 + (v1 - v0) * (place - u0) / (u1 - u0)


def _teeth(plan: PlanInput, width: float, height: float, *, left_end: bool) -> Iterator[CornerBlock]:
    reach = tooth(plan)
    for course, (foot, top) in enumerate(courses(plan, height), start=1):
        if runs_along(course, left_end=left_end):
            yield CornerBlock(
                end="left" if left_end else "right",
                course=course,
                left=0.0 if left_end else width - reach,
                right=reach if left_end else width,
                bottom=foot,
                top=top,
            )


def toothed(outline: tuple[Point, ...], blocks: Sequence[CornerBlock]) -> tuple[Point, ...]:
    """Take the blocks out of a panel's outline; counter-clockwise, from the lower left.

    Raises:
        InputError: the blocks part the panel; `find_faults` tells that first.
    """
    if not blocks:
        return outline
    from shapely import Polygon, box, union_all

    width = max(u for u, _ in outline)
    teeth = union_all([box(*_across(b), b.right + (b.right == width), b.top) for b in blocks])
    return _ring(Polygon(outline).difference(teeth))


def clipped(outline: tuple[Point, ...], left: float, right: float) -> tuple[Point, ...]:
    """Cut a stretch out of a panel's outline between two upright lines [m]."""
    from shapely import Polygon, box

    shape = Polygon(outline)
    return _ring(shape.intersection(box(left, shape.bounds[1] - 1, right, shape.bounds[3] + 1)))


def _ring(shape: "BaseGeometry") -> tuple[Point, ...]:
    """Corners counter-clockwise from the lower left.

    Raises:
        InputError: the shape falls apart.
    """
    from shapely import Polygon
    from shapely.geometry.polygon import orient

    if not isinstance(shape, Polygon) or shape.is_empty:
        raise InputError("the corner blocks part the panel; shorter blocks or a longer side")
    ring = list(orient(shape).exterior.coords)[:-1]
    first = min(range(len(ring)), key=lambda n: (ring[n][1], ring[n][0]))
    return tuple((float(x), float(y)) for x, y in (*ring[first:], *ring[:first]))


def _across(block: CornerBlock) -> tuple[float, float]:
    """Lower left of a block, drawn out beyond the panel's end and the bed, so that no sliver is left there."""
    return block.left - (block.left == 0.0), block.bottom - (block.bottom == 0.0)


def as_bodies(blocks: Sequence[CornerBlock]) -> tuple[tuple[float, Body], ...]:
    """Give the blocks as things that stand in the way of bottle ends: axis [m] and edge."""
    return tuple(
        (
            (b.left + b.right) / 2,
            Body(half=(b.right - b.left) / 2, bottom=b.bottom, top=b.top, low=b.bottom, high=b.top, radius=0.0),
        )
        for b in blocks
    )


def within(blocks: Sequence[CornerBlock], left: float, right: float) -> tuple[CornerBlock, ...]:
    """Give the blocks of one bay of a panel in the bay's own frame."""
    kept = (b for b in blocks if b.right > left and b.left < right)
    return tuple(replace(b, left=max(b.left, left) - left, right=min(b.right, right) - left) for b in kept)
