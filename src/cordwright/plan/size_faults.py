"""Are the openings, sleeves and bottle ends things that can be made, before asking where they stand?"""

import math
from collections.abc import Iterator

from cordwright.base import Problem
from cordwright.plan.inputs import BottleGroup, Opening, PlanInput, Sleeve
from cordwright.plan.words import mm

SMALLEST_BOTTLE = 0.01
"""A bottle end less than this [m] across is a slip of the unit."""


def thing_size_faults(plan: PlanInput) -> Iterator[Problem]:
    """Find sizes no opening, sleeve or bottle end can have."""
    for n, opening in enumerate(plan.openings):
        yield from _opening_faults(f"openings[{n}]", opening)
    for n, sleeve in enumerate(plan.sleeves):
        yield from _sleeve_faults(f"sleeves[{n}]", sleeve)
    for n, group in enumerate(plan.bottles):
        yield from _bottle_faults(f"bottles[{n}]", group)


def _positive(key: str, sizes: dict[str, float]) -> Iterator[Problem]:
    for name, size in sizes.items():
        if not 0 < size < math.inf:
            yield Problem(field=f"{key}.{name}", message=f"{mm(size)} mm is not a size", hint="state a length above 0")


def _finite(key: str, sizes: dict[str, float]) -> Iterator[Problem]:
    for name, size in sizes.items():
        if not math.isfinite(size):
            yield Problem(field=f"{key}.{name}", message="not a place on the wall", hint="state a length")


def _opening_faults(key: str, opening: Opening) -> Iterator[Problem]:
    sizes = tuple(_positive(key, {"width": opening.width, "height": opening.height}))
    yield from sizes
    yield from _finite(key, {"sill": opening.sill, "from_left": opening.from_left})
    if not sizes:
        yield from _shape_faults(key, opening)
    for name, size in (("lintel_depth", opening.lintel_depth), ("lintel_bearing", opening.lintel_bearing)):
        if size is not None and not 0 <= size < math.inf:
            hint = "0 or more, or leave it out"
            yield Problem(field=f"{key}.{name}", message=f"{mm(size)} mm is not a size", hint=hint)


def _shape_faults(key: str, opening: Opening) -> Iterator[Problem]:
    width, height, rise = opening.width, opening.height, opening.rise
    if opening.shape == "round" and abs(width - height) > 1e-6:
        yield Problem(
            field=f"{key}.height",
            message=f"{opening.id} is round but {mm(width)} mm wide and {mm(height)} mm high",
            hint="give its diameter as both width and height",
        )
    if opening.shape == "arched":
        most = min(width / 2, height)
        if not 0 < rise <= most + 1e-9:
            message = f"an arch {mm(width)} mm wide and {mm(height)} mm high cannot rise {mm(rise)} mm"
            yield Problem(field=f"{key}.rise", message=message, hint=f"more than 0 and at most {mm(most)} mm")
    elif rise != 0:
        message = f"{opening.id} has a rise of {mm(rise)} mm but is not arched"
        yield Problem(field=f"{key}.rise", message=message, hint='shape = "arched", or leave the rise out')


def _sleeve_faults(key: str, sleeve: Sleeve) -> Iterator[Problem]:
    yield from _positive(key, {"diameter": sleeve.diameter})
    yield from _finite(key, {"from_left": sleeve.from_left, "height": sleeve.height})


def _bottle_faults(key: str, group: BottleGroup) -> Iterator[Problem]:
    sizes = tuple(_positive(key, {"diameter": group.diameter}))
    yield from sizes
    if not sizes and group.diameter < SMALLEST_BOTTLE:
        message = f"bottle ends {mm(group.diameter)} mm across"
        yield Problem(field=f"{key}.diameter", message=message, hint=f"at least {mm(SMALLEST_BOTTLE)} mm: see the unit")
    if group.count < 1:
        yield Problem(
            field=f"{key}.count", message=f"{group.count} bottle ends", hint="1 or more, or leave the group out"
        )
    if not (math.isfinite(group.band_low) and math.isfinite(group.band_high)):
        yield Problem(field=f"{key}.band_low", message="not a band on the wall", hint="state two heights above the bed")
    elif group.band_low < 0:
        message = f"the band begins {mm(-group.band_low)} mm below the bed"
        yield Problem(field=f"{key}.band_low", message=message, hint="at least 0 mm")
    elif group.band_high <= group.band_low:
        message = f"the band runs from {mm(group.band_low)} mm down to {mm(group.band_high)} mm"
        yield Problem(field=f"{key}.band_high", message=message, hint=f"more than {mm(group.band_low)} mm")
    elif not sizes and group.band_high - group.band_low < group.diameter - 1e-6:
        message = f"a band {mm(group.band_high - group.band_low)} mm high for bottles {mm(group.diameter)} mm across"
        yield Problem(
            field=f"{key}.band_high", message=message, hint=f"at least {mm(group.band_low + group.diameter)} mm"
        )
