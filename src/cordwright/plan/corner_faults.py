"""Can the corners be built up of squared blocks as stated?"""

import math
from collections.abc import Iterable, Iterator, Sequence

from cordwright.base import Problem
from cordwright.plan.corner_blocks import built_up, panel_ends, tooth
from cordwright.plan.inputs import PlanInput
from cordwright.plan.opening_faults import Thing
from cordwright.plan.outline import Shape
from cordwright.plan.places import TOUCH
from cordwright.plan.polygon import Polygon
from cordwright.plan.stretches import Stretch
from cordwright.plan.words import mm

SQUARE = math.radians(0.5)
"""A corner this near to a right angle is square; a block's end is dressed by a few millimetres."""

SIZES = ("block_length", "block_height", "joint")


def corner_faults(plan: PlanInput) -> Iterator[Problem]:
    """Find sizes that are missing, have no use or do not fit each other."""
    stated = {name: getattr(plan.corners, name) for name in SIZES}
    if not built_up(plan):
        for name in (n for n, size in stated.items() if size is not None):
            yield Problem(
                field=f"corners.{name}",
                message="corners with posts have no blocks",
                hint='kind = "built-up", or leave it',
            )
        return
    for name, size in stated.items():
        if size is None:
            hint = "state block_length, block_height and joint"
            yield Problem(field=f"corners.{name}", message="this is missing for built-up corners", hint=hint)
        elif not 0 < size < math.inf:
            yield Problem(field=f"corners.{name}", message=f"{mm(size)} mm is not a size", hint="more than 0")
    if None not in stated.values():
        yield from _proportions(plan)


def _proportions(plan: PlanInput) -> Iterator[Problem]:
    thick = plan.section.thickness
    length, high, joint = (getattr(plan.corners, name) for name in SIZES)
    if tooth(plan) < TOUCH:
        yield Problem(
            field="corners.block_length",
            message=f"a block of {mm(length)} mm does not reach past a wall {mm(thick)} mm thick: nothing crosses",
            hint=f"more than {mm(thick)} mm; about {mm(2 * thick)} mm is common practice",
        )
    if joint >= high:
        message = f"a joint of {mm(joint)} mm between blocks {mm(high)} mm high"
        yield Problem(field="corners.joint", message=message, hint=f"less than {mm(high)} mm")


def square_faults(plan: PlanInput, shape: Shape) -> Iterator[Problem]:
    """Find outlines whose corners squared blocks cannot turn."""
    if not built_up(plan):
        return
    if not isinstance(shape, Polygon):
        yield _unsquare("a round or oval wall has no corners to build up")
    elif shape.radius > 0:
        yield _unsquare(f"corners rounded to {mm(shape.radius)} mm leave nothing to build up")
    else:
        for n, turn in enumerate(shape.turns.tolist()):
            if abs(abs(turn) - math.pi / 2) > SQUARE:
                yield _unsquare(
                    f"corner {n + 1} turns {math.degrees(turn):.1f} deg: squared blocks need a square corner"
                )


def _unsquare(message: str) -> Problem:
    return Problem(field="corners.kind", message=message, hint='kind = "posts", or an outline with square corners')


def block_faults(plan: PlanInput, shape: Shape, stretch: Stretch, things: Iterable[Thing]) -> Iterator[Problem]:
    """Find panels and openings for which the blocks leave no room."""
    ends = panel_ends(plan, shape, stretch)
    if ends == (None, None):
        return
    if stretch.allowance > 0 and None not in ends:
        yield Problem(
            field="plan.post_allowance",
            message=f"posts take {mm(stretch.allowance)} mm off panel {stretch.name}, whose corners are built up",
            hint='an allowance of 0 there, or corners of kind = "posts"',
        )
    reach = [0.0 if corner is None else tooth(plan) for corner in ends]
    clear = stretch.centre_length - sum(reach)
    if clear < TOUCH:
        yield Problem(
            field="corners.block_length",
            message=f"the blocks of panel {stretch.name} take {mm(sum(reach))} mm of its"
            f" {mm(stretch.centre_length)} mm",
            hint="shorter blocks or a longer side",
        )
        return
    yield from _in_the_way(things, stretch, reach)


def _in_the_way(things: Iterable[Thing], stretch: Stretch, reach: Sequence[float]) -> Iterator[Problem]:
    low, high = reach[0], stretch.centre_length - reach[1]
    for thing in things:
        into = max(low - thing.left, thing.right - high)
        if into > TOUCH:
            first, last = low + thing.stated - thing.left, high + thing.stated - thing.right
            hint = f"from {mm(first)} to {mm(last)} mm" if last >= first else "a narrower one, or shorter blocks"
            yield Problem(
                field=f"{thing.key}.from_left",
                message=f"{thing.id} stands {mm(into)} mm into the corner blocks of panel {stretch.name}",
                hint=hint,
            )
