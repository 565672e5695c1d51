"""What in the owner's plan cannot be built as written, and what would fit instead?"""

from collections.abc import Iterable, Iterator

from cordwright.base import Problem
from cordwright.plan.corner_blocks import blocks_of
from cordwright.plan.corner_faults import block_faults, corner_faults, square_faults
from cordwright.plan.frame_faults import frame_faults, outline_faults, roof_faults, size_faults
from cordwright.plan.inputs import PlanInput
from cordwright.plan.narrow_faults import bottle_faults, lintel_warnings, pier_warnings
from cordwright.plan.opening_faults import id_faults, panel_faults, panel_name_faults, things_by_panel
from cordwright.plan.outline import Shape, shape_of
from cordwright.plan.panels import bay_of
from cordwright.plan.results import CornerBlock
from cordwright.plan.size_faults import thing_size_faults
from cordwright.plan.stretches import Stretch, panel_names, stretches


def find_faults(plan: PlanInput) -> tuple[Problem, ...]:
    """Find every fault of a plan, with numbers in millimetres and what would fit.

    Faults of the outline, the names and the posts come first: where the panels are not known, nothing can be placed in
    them. Narrow piers and short lintel bearings are warnings.
    """
    return tuple(_all_faults(plan))


def _all_faults(plan: PlanInput) -> Iterator[Problem]:
    plain, sizes = tuple(size_faults(plan)), tuple(thing_size_faults(plan))
    yield from (*plain, *sizes, *roof_faults(plan), *id_faults(plan))
    outline = tuple(outline_faults(plan))
    yield from outline
    if any(p.field.startswith("plan.") for p in outline):
        return
    shape = shape_of(plan.outline)
    frame = (*corner_faults(plan), *square_faults(plan, shape), *frame_faults(plan, shape))
    yield from frame
    if not frame:
        yield from panel_name_faults(plan, panel_names(plan, shape))
    if not frame and not plain:
        yield from _placing_faults(plan, shape, sizes)


def _blocks(plan: PlanInput, shape: Shape, stretch: Stretch) -> tuple[CornerBlock, ...]:
    return blocks_of(plan, shape, stretch, bay_of(plan, stretch).head)


def _placing_faults(plan: PlanInput, shape: Shape, sizes: Iterable[Problem]) -> Iterator[Problem]:
    """Look at each panel with the things in it that have sizes; bottles are spread last, once all else fits."""
    bad = {p.field.rpartition(".")[0] for p in sizes}
    things = things_by_panel(plan, bad)
    for stretch in stretches(plan, shape):
        bay, here = bay_of(plan, stretch, _blocks(plan, shape, stretch)), things.get(stretch.name, [])
        placing = (*panel_faults(plan, stretch.name, bay, here), *block_faults(plan, shape, stretch, here))
        yield from placing
        yield from pier_warnings(plan, stretch.name, bay, here)
        if not bad:
            yield from lintel_warnings(plan, stretch.name, bay)
        if not bad and not placing:
            yield from bottle_faults(plan, stretch.name, bay)
