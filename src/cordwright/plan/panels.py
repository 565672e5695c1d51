"""What is each panel's face, what stands in it, and what area is left for log ends?"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from itertools import pairwise

from cordwright.plan.bottles import spread
from cordwright.plan.corner_blocks import as_bodies, blocks_of, toothed
from cordwright.plan.inputs import Head, PlanInput, Point, Sleeve
from cordwright.plan.openings import Body, body, disc, opening_area, opening_outline
from cordwright.plan.outline import Shape
from cordwright.plan.places import Bay, head_line
from cordwright.plan.results import CornerBlock, Obstacle, Panel, PlacedOpening
from cordwright.plan.stretches import Stretch

FINEST = 2.0**-40
"""Areas are kept to this [m2] (a millionth of a square millimetre), so that panels add up to the total exactly,
in whatever order they are added."""


def kept(area: float) -> float:
    """Keep an area [m2] to the finest step that still adds up exactly."""
    return round(area / FINEST) * FINEST


def head_of(plan: PlanInput, panel: str) -> Head:
    """Give the wall head the owner states over a panel, level when nothing is said."""
    return next((p.head for p in plan.panels if p.name == panel), Head())


def bay_of(plan: PlanInput, stretch: Stretch, blocks: Sequence[CornerBlock] = ()) -> Bay:
    """Give the face of a stretch in which things may stand, with its corner blocks."""
    head = head_line(head_of(plan, stretch.name), plan.height, stretch.centre_length)
    return Bay(width=stretch.centre_length, head=head, closed=stretch.closed, blocks=as_bodies(blocks))


def face_area(head: Iterable[Point]) -> float:
    """Give the area between the bed and a wall head drawn from left to right [m2].

    Sources: closed-form-plane (trapezium).
    """
    points = tuple(head)
    return sum((u1 - u0) * (v0 + v1) / 2 for (u0, v0), (u1, v1) in pairwise(points))


def pipe(sleeve: Sleeve) -> Obstacle:
    """Give a sleeve as what the layout goes around."""
    return Obstacle(id=sleeve.id, what=sleeve.what, u=sleeve.from_left, v=sleeve.height, diameter=sleeve.diameter)


def standing(plan: PlanInput, panel: str) -> list[tuple[float, Body]]:
    """Give all holes and pipes of a panel as their axis [m] and edge, holes with their slack."""
    slack = plan.opening_slack or 0.0
    holes = [(o.from_left + o.width / 2, body(o, slack)) for o in plan.openings if o.panel == panel]
    pipes = [(s.from_left, disc(s.diameter, s.height)) for s in plan.sleeves if s.panel == panel]
    return holes + pipes


def bottle_ends(plan: PlanInput, bay: Bay, panel: str) -> Iterator[tuple[int, tuple[Obstacle, ...]]]:
    """Spread each bottle group of a panel in turn, each clear of the ones before, with its number in the plan."""
    others = [*standing(plan, panel), *bay.blocks]
    for n, group in enumerate(plan.bottles):
        if group.panel == panel:
            placed = spread(group, bay, others)
            others += [(b.u, disc(b.diameter, b.v)) for b in placed]
            yield n, placed


def seen_from(panel: Panel, start: float) -> Panel:
    """Give a panel that closes on itself as it is unrolled from another place [m from its left end].

    Lines on the plan stay as they are; openings, sleeves and bottle ends are told from the new place.
    """
    if not start:
        return panel
    wide = panel.centre_length

    def moved(placed: PlacedOpening) -> PlacedOpening:
        axis = placed.opening.from_left + placed.opening.width / 2
        shift = (axis - start) % wide - axis
        opening = replace(placed.opening, from_left=placed.opening.from_left + shift)
        return replace(placed, opening=opening, outline=tuple((u + shift, v) for u, v in placed.outline))

    return replace(
        panel,
        openings=tuple(moved(p) for p in panel.openings),
        obstacles=tuple(replace(o, u=(o.u - start) % wide) for o in panel.obstacles),
    )


def panel_of(plan: PlanInput, shape: Shape, stretch: Stretch) -> Panel:
    """Set a stretch's openings, sleeves, bottle ends and corner blocks into its face."""
    head = head_line(head_of(plan, stretch.name), plan.height, stretch.centre_length)
    blocks = blocks_of(plan, shape, stretch, head)
    bay = bay_of(plan, stretch, blocks)
    placed = tuple(
        PlacedOpening(opening=o, outline=opening_outline(o), area=kept(opening_area(o)))
        for o in plan.openings
        if o.panel == stretch.name
    )
    bottles = (b for _, group in bottle_ends(plan, bay, stretch.name) for b in group)
    return Panel(
        name=stretch.name,
        inner_length=stretch.inner_length,
        centre_length=stretch.centre_length,
        outer_length=stretch.outer_length,
        inner_line=stretch.inner_line,
        centre_line=stretch.centre_line,
        outer_line=stretch.outer_line,
        bearing=stretch.bearing,
        inner_radius=stretch.inner_radius,
        outline=toothed(((0.0, 0.0), (bay.width, 0.0), *reversed(bay.head)), blocks),
        openings=placed,
        obstacles=(*(pipe(s) for s in plan.sleeves if s.panel == stretch.name), *bottles),
        gross_area=kept(face_area(bay.head) - sum((b.right - b.left) * (b.top - b.bottom) for b in blocks)),
        openings_area=sum(p.area for p in placed),
        blocks=blocks,
    )
