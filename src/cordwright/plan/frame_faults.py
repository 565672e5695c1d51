"""Can this outline be built with this wall, and do its posts, panels and roof fit it?"""

import math
from collections import Counter
from collections.abc import Iterable, Iterator
from itertools import pairwise

import numpy as np

from cordwright.base import Problem
from cordwright.plan import polygon as polygons
from cordwright.plan.inputs import OvalOutline, PlanInput, PolygonOutline, RoundOutline
from cordwright.plan.outline import Shape
from cordwright.plan.oval import Oval
from cordwright.plan.polygon import Polygon
from cordwright.plan.stretches import panel_names, posts_of, side_length, side_names, stretches
from cordwright.plan.words import known_names, mm

SMALLEST_CLEAR = 1e-3
"""A panel needs some clear length; less than this [m] is none."""


def outline_faults(plan: PlanInput) -> Iterator[Problem]:
    """Find what keeps an outline from being a wall at all; the first reason is enough."""
    match plan.outline:
        case RoundOutline(inside_diameter=d):
            yield from _not_positive((("plan.inside_diameter", d),))
        case OvalOutline(inside_length=a, inside_width=b):
            yield from _not_positive((("plan.inside_length", a), ("plan.inside_width", b)))
        case PolygonOutline() as outline:
            yield from _polygon_faults(plan, outline)


def _not_positive(sizes: Iterable[tuple[str, float]]) -> Iterator[Problem]:
    for field, size in sizes:
        if not 0 < size < math.inf:
            yield Problem(field=field, message=f"{mm(size)} mm is not a size", hint="state a length above 0")


def _polygon_faults(plan: PlanInput, outline: PolygonOutline) -> Iterator[Problem]:
    fault = _corner_fault(outline)
    if fault is not None:
        yield Problem(field="plan.corners", message=fault[0], hint=fault[1])
        return
    shape = polygons.polygon(outline)
    rounding = tuple(_rounding_faults(plan, shape))
    yield from rounding
    if not rounding:
        yield from _thickness_faults(plan, shape)


def _corner_fault(outline: PolygonOutline) -> tuple[str, str] | None:
    """Tell what is wrong with the corners alone: message and hint, or None."""
    if len(outline.corners) < 3:
        return f"an outline of {len(outline.corners)} corners encloses nothing", "give at least three corners"
    shape = polygons.measured(outline)
    if shape is None:
        n = _short_side(outline)
        return f"side {n + 1}, from corner {n + 1}, has no length", "leave out corners that stand on one another"
    if polygons.folds_back(shape):
        n = int(np.abs(shape.turns).argmax())
        return f"at corner {n + 1} the outline runs back along itself", "leave out the corner or move it"
    if polygons.crosses(shape.corners):
        return "sides of the outline cross or touch", "list the corners in order around the building"
    if polygons.area(shape, 0.0) <= 0:
        return "the corners run clockwise", "list them counter-clockwise seen from above"
    return None


def _short_side(outline: PolygonOutline) -> int:
    ring = (*outline.corners, outline.corners[0])
    lengths = [math.dist(a, b) for a, b in pairwise(ring)]
    return next((n for n, length in enumerate(lengths) if not length > 1e-6), 0)


def _rounding_faults(plan: PlanInput, shape: Polygon) -> Iterator[Problem]:
    field = "plan.corner_radius"
    if not 0 <= shape.radius < math.inf:
        yield Problem(
            field=field, message=f"{mm(shape.radius)} mm is not a radius", hint="0 for sharp corners, or more"
        )
    elif shape.radius > 0:
        t = plan.section.thickness
        if (shape.bends < 0).any() and shape.radius < t:
            yield Problem(
                field=field,
                message=f"the wall, {mm(t)} mm thick, cannot turn a re-entrant corner of {mm(shape.radius)} mm radius",
                hint=f"at least {mm(t)} mm, or 0 for sharp corners",
            )
        yield from _tight_sides(plan, shape)


def _tight_sides(plan: PlanInput, shape: Polygon) -> Iterator[Problem]:
    runs = polygons.straight_lengths(shape, 0.0)
    worst = int(runs.argmin())
    if runs[worst] > -SMALLEST_CLEAR / 2:
        return
    tangents = np.abs(shape.tangents)
    most = float((shape.sides / (tangents + np.roll(tangents, -1))).min())
    names = side_names(plan, shape)
    name = names[worst] if len(names) == len(shape.sides) else str(worst + 1)
    need, have = mm(float(shape.sides[worst] - runs[worst])), mm(float(shape.sides[worst]))
    yield Problem(
        field="plan.corner_radius",
        message=f"corners of {mm(shape.radius)} mm radius take {need} mm of side {name}, which is {have} mm long",
        hint=f"less than {mm(most)} mm",
    )


def _thickness_faults(plan: PlanInput, shape: Polygon) -> Iterator[Problem]:
    """Find where the outer face, or the eaves, close up a notch."""
    if _closes_up(shape, plan.section.thickness):
        yield Problem(
            field="plan.corners",
            message=f"the wall, {mm(plan.section.thickness)} mm thick, closes up a notch of the outline",
            hint="widen the notch to more than twice the wall's thickness, or leave it out",
        )
    elif plan.roof is not None and _closes_up(shape, plan.section.thickness + max(0.0, plan.roof.overhang)):
        yield Problem(
            field="roof.overhang",
            message=f"eaves {mm(plan.roof.overhang)} mm wide meet in a notch of the outline",
            hint="a smaller overhang, or a wider notch",
        )


def _closes_up(shape: Polygon, distance: float) -> bool:
    if (shape.turns >= 0).all():
        return False
    runs = polygons.straight_lengths(shape, distance)
    return bool((runs <= 0).any()) or polygons.crosses(polygons.ring(shape, distance))


def frame_faults(plan: PlanInput, shape: Shape) -> Iterator[Problem]:
    """Find what is wrong with names, posts, allowances and heads of a sound outline."""
    named = tuple(_name_faults(plan, shape))
    yield from named
    if named:
        return
    posts = tuple(_post_faults(plan, shape))
    specs = tuple(_spec_faults(plan, panel_names(plan, shape)))
    yield from (*posts, *specs)
    if not posts and not specs:
        yield from _clear_faults(plan, shape)


def _name_faults(plan: PlanInput, shape: Shape) -> Iterator[Problem]:
    if isinstance(shape, Polygon) and plan.side_names and len(plan.side_names) != len(shape.sides):
        yield Problem(
            field="plan.side_names",
            message=f"{len(plan.side_names)} names for {len(shape.sides)} sides",
            hint="one name for each side in the order of the corners, or none at all",
        )
        return
    if any(not name.strip() for name in plan.side_names):
        yield Problem(
            field="plan.side_names", message="a side has an empty name", hint="name every side, or none at all"
        )
        return
    for name, count in Counter(panel_names(plan, shape)).items():
        if count > 1:
            yield Problem(
                field="plan.side_names",
                message=f"{count} panels would be called {name}",
                hint="choose names that stay different when posts number the panels of a side",
            )


def _post_faults(plan: PlanInput, shape: Shape) -> Iterator[Problem]:
    sides = side_names(plan, shape)
    for n, post in enumerate(plan.frame.posts):
        field = f"posts[{n}]"
        if post.side not in sides:
            message = f"there is no side {post.side}"
            yield Problem(field=f"{field}.side", message=message, hint=known_names(post.side, sides))
            continue
        length = side_length(plan, shape, post.side)
        inside = 0 <= post.from_left < length if isinstance(shape, Oval) else 0 < post.from_left < length
        if not inside:
            yield Problem(
                field=f"{field}.from_left",
                message=f"{mm(post.from_left)} mm is not within side {post.side} (centre line {mm(length)} mm)",
                hint=f"more than 0 and less than {mm(length)} mm",
            )


def _spec_faults(plan: PlanInput, known: tuple[str, ...]) -> Iterator[Problem]:
    if not 0 <= plan.post_allowance < math.inf:
        message = f"{mm(plan.post_allowance)} mm is not an allowance"
        yield Problem(field="plan.post_allowance", message=message, hint="0 or more")
    times = Counter(p.name for p in plan.panels)
    for n, spec in enumerate(plan.panels):
        if spec.name not in known:
            message = f"there is no panel {spec.name}"
            yield Problem(field=f"panels[{n}].name", message=message, hint=known_names(spec.name, known))
        elif times[spec.name] > 1:
            message = f"panel {spec.name} is described {times[spec.name]} times"
            yield Problem(field=f"panels[{n}].name", message=message, hint="describe each panel once")
        if spec.post_allowance is not None and not 0 <= spec.post_allowance < math.inf:
            message = f"{mm(spec.post_allowance)} mm is not an allowance"
            yield Problem(field=f"panels[{n}].post_allowance", message=message, hint="0 or more")


def _clear_faults(plan: PlanInput, shape: Shape) -> Iterator[Problem]:
    """Find panels whose posts leave nothing, then heads that do not fit their panel."""
    named = {spec.name: n for n, spec in enumerate(plan.panels)}
    for stretch in stretches(plan, shape):
        clear = min(stretch.inner_length, stretch.centre_length, stretch.outer_length)
        own = named.get(stretch.name)
        if clear < SMALLEST_CLEAR and not (
            stretch.outer_length >= 0 and stretch.inner_radius and stretch.inner_radius < 0
        ):
            yield Problem(
                field=_allowance_field(plan, own, stretch.side),
                message=f"panel {stretch.name} has {mm(clear)} mm left after {mm(stretch.allowance)} mm for posts",
                hint="a smaller allowance, fewer posts, or a longer side",
            )
        elif own is not None:
            yield from _head_faults(plan, own, stretch.centre_length)


def _allowance_field(plan: PlanInput, own: int | None, side: str) -> str:
    if own is not None and plan.panels[own].post_allowance is not None:
        return f"panels[{own}].post_allowance"
    return "posts[0].from_left" if posts_of(plan, side) else "plan.post_allowance"


def _head_faults(plan: PlanInput, n: int, width: float) -> Iterator[Problem]:
    head, field = plan.panels[n].head, f"panels[{n}]"
    if head.kind == "gable":
        if not 0 < head.rise < math.inf:
            yield Problem(field=f"{field}.rise", message=f"a gable rising {mm(head.rise)} mm", hint="more than 0")
        if head.peak_from_left is not None and not 0 <= head.peak_from_left <= width:
            message = f"the peak at {mm(head.peak_from_left)} mm is not over the panel"
            yield Problem(field=f"{field}.peak_from_left", message=message, hint=f"from 0 to {mm(width)} mm")
    if head.kind == "sloping":
        for side, height in (("left", head.left), ("right", head.right)):
            if height is None or not 0 < height < math.inf:
                told = "no height" if height is None else f"{mm(height)} mm"
                message = f"a sloping head with {told} at its {side} end"
                yield Problem(field=f"{field}.{side}", message=message, hint="state the height above the bed")


def size_faults(plan: PlanInput) -> Iterator[Problem]:
    """Find heights, gaps and slacks that are no sizes."""
    yield from _not_positive((("plan.height", plan.height),))
    sizes = (
        ("plan.wall_head_gap", plan.wall_head_gap),
        ("plan.opening_slack", plan.opening_slack),
        ("plinth.height", plan.plinth_height),
        ("plinth.width", plan.plinth_width),
        ("frame.post_width", plan.frame.post_width),
        ("frame.post_depth", plan.frame.post_depth),
        ("frame.beam_depth", plan.frame.beam_depth),
    )
    for field, size in sizes:
        if size is not None and not 0 <= size < math.inf:
            yield Problem(field=field, message=f"{mm(size)} mm is not a size", hint="0 or more, or leave it out")
    if plan.wall_head_gap is not None and plan.wall_head_gap >= plan.height > 0:
        message = f"a gap of {mm(plan.wall_head_gap)} mm leaves nothing of a wall {mm(plan.height)} mm high"
        yield Problem(field="plan.wall_head_gap", message=message, hint=f"less than {mm(plan.height)} mm")


def roof_faults(plan: PlanInput) -> Iterator[Problem]:
    """Find what is wrong with the roof's own statements."""
    roof = plan.roof
    if roof is None:
        return
    if not 0 < roof.pitch < math.pi / 2:
        message = f"a pitch of {math.degrees(roof.pitch):.1f} deg is no roof"
        yield Problem(field="roof.pitch", message=message, hint="more than 0 and less than 90 deg")
    if not 0 <= roof.overhang < math.inf:
        yield Problem(field="roof.overhang", message=f"{mm(roof.overhang)} mm is not an overhang", hint="0 or more")
    if roof.form == "cone" and not isinstance(plan.outline, RoundOutline):
        message = "a cone stands on a round wall only"
        yield Problem(field="roof.form", message=message, hint="hip, gable or shed on this outline")
    if roof.form in ("gable", "shed") and roof.ridge is None:
        line = "ridge" if roof.form == "gable" else "fall line"
        yield Problem(
            field="roof.ridge",
            message=f"the bearing of the {line} is not stated, so the ridge's height stays unknown",
            hint="state it clockwise from plan up, for example 90 deg",
            severity="warning",
        )
