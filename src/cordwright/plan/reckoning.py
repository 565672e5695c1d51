"""What does the plan come to: faces, panels, what stands in them, setting-out, roof and the figures of it all?"""

from collections.abc import Iterable

from cordwright.base import Check, Cite, InputError
from cordwright.plan.build_in import build_in
from cordwright.plan.corner_blocks import built_up
from cordwright.plan.faults import find_faults
from cordwright.plan.figures import block_figures, outline_figures, roof_figures, wall_figures
from cordwright.plan.inputs import PlanInput, Point
from cordwright.plan.outline import Face, Shape, face, shape_of
from cordwright.plan.panels import panel_of
from cordwright.plan.results import Plan
from cordwright.plan.setting_out import setting_out
from cordwright.plan.stretches import Stretch, posts_of, stretches

LEAST_PLINTH = 0.3
"""Common practice for the plinth's height [m]; lower, and splash and snow reach the bottom row."""

LEAST_OVERHANG = 0.4
"""Common practice for the eaves [m]."""


def reckon_plan(plan: PlanInput) -> Plan:
    """Work out the plan of a building from what the owner states.

    Raises:
        InputError: the plan has faults; `find_faults` names them all.
    """
    errors = [p for p in find_faults(plan) if p.severity == "error"]
    if errors:
        raise InputError("; ".join(f"{p.field}: {p.message}" for p in errors))
    shape = shape_of(plan.outline)
    inner, centre, outer = (face(shape, share * plan.section.thickness) for share in (0.0, 0.5, 1.0))
    eaves = None if plan.roof is None else face(shape, plan.section.thickness + plan.roof.overhang)
    return _plan(plan, shape, (inner, centre, outer), eaves)


def _plan(plan: PlanInput, shape: Shape, faces: tuple[Face, Face, Face], eaves: Face | None) -> Plan:
    divided = stretches(plan, shape)
    panels = tuple(panel_of(plan, shape, stretch) for stretch in divided)
    figures = (
        *outline_figures(plan, shape, *faces),
        *wall_figures(panels),
        *block_figures(plan, panels),
        *roof_figures(plan, shape, eaves),
    )
    return Plan(
        inner_face=faces[0].ring,
        centre_face=faces[1].ring,
        outer_face=faces[2].ring,
        eaves=() if eaves is None else eaves.ring,
        posts=_posts(plan, divided),
        panels=panels,
        setting_out=setting_out(plan, shape),
        build_in=build_in(plan, panels, _held(plan, divided)),
        figures=figures,
        checks=(_plinth(plan), _overhang(plan)),
    )


def _held(plan: PlanInput, divided: Iterable[Stretch]) -> frozenset[str]:
    """Name the panels that stand between posts: those with an allowance for them, or on a side with stated posts."""
    return frozenset(s.name for s in divided if (s.allowance > 0 and not built_up(plan)) or posts_of(plan, s.side))


def _posts(plan: PlanInput, divided: Iterable[Stretch]) -> tuple[Point, ...]:
    """Give where posts stand on the centre line: at both ends of each panel with an allowance, and where stated."""
    places: dict[tuple[int, int], Point] = {}
    for stretch in divided:
        stated = posts_of(plan, stretch.side)
        left, right = stretch.ends
        posts_at_both = stretch.allowance > 0 and not built_up(plan)
        ends = (left, right) if posts_at_both else _stated_ends(stretch, len(stated))
        places |= {(round(x * 1e5), round(y * 1e5)): (x, y) for x, y in ends}
    return tuple(places.values())


def _stated_ends(stretch: Stretch, posts: int) -> tuple[Point, ...]:
    """Give the ends of a panel without allowance where a stated post stands; the side's own corners have none."""
    if not posts:
        return ()
    if stretch.side in ("round", "oval"):
        return stretch.ends
    number = int(stretch.name.removeprefix(stretch.side))
    return tuple(p for p, stands in zip(stretch.ends, (number > 1, number <= posts), strict=True) if stands)


def _plinth(plan: PlanInput) -> Check:
    return Check(
        key="plan.plinth_height",
        label="plinth high enough to keep the bottom row out of splash and snow",
        demand=LEAST_PLINTH,
        capacity=plan.plinth_height,
        unit="m",
        sources=(Cite("practice-plinth", "300 mm"),),
        not_judged="" if plan.plinth_height is not None else "the plinth's height is not stated",
    )


def _overhang(plan: PlanInput) -> Check:
    return Check(
        key="roof.overhang",
        label="eaves wide enough to throw rain clear of the logs",
        demand=LEAST_OVERHANG,
        capacity=None if plan.roof is None else plan.roof.overhang,
        unit="m",
        sources=(Cite("practice-overhang", "400 mm"),),
        not_judged="" if plan.roof is not None else "the roof is not stated",
    )
