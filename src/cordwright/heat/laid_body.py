"""Which body is a panel of this plan, laid as in this layout? Logs, posts, lintels, frame timbers, openings."""

import math
from collections.abc import Iterator, Mapping
from typing import Final

import numpy as np

from cordwright.heat.conductivity import ALONG, Conductivity, WallMaterials, row
from cordwright.heat.coverage import Logs, Point, Split
from cordwright.heat.inputs import WallHeatInput
from cordwright.heat.materials import Grain
from cordwright.heat.panel import Box, PanelBody, rectangle, wires
from cordwright.heat.section import layers_of
from cordwright.plan.inputs import Opening, PlanInput, WallSection
from cordwright.plan.results import Panel, Plan
from cordwright.wall.layout import Face, Hole, PanelLayout, Placement
from cordwright.wall.level_cuts import height_of_share
from cordwright.wall.split_shapes import SPREAD

ARC: Final = 24
"""So many chords stand for the arc of a split; its radius is set so that its area is exact."""
REACH: Final = 0.30
"""A post belongs to a panel's end when it stands no farther from it than this beyond half the allowance [m]."""


def body_of(  # noqa: PLR0917 (what the earlier stages hand on)
    layout: PanelLayout,
    panel: Panel,
    plan: Plan,
    stated: PlanInput,
    heat: WallHeatInput,
    materials: WallMaterials,
    grains: Mapping[str, Grain],
    *,
    pitch: float,
) -> PanelBody:
    """Give a laid panel as a body for heat.

    Pipes, bottle ends and gap stones count as joint. A curved panel is unrolled on its centre line. Posts stand flush
    with the inner face; what is left of the wall's depth before them is joint. Of a panel that the stock does not
    close, the part that is laid is taken.

    Args:
        layout: the panel as laid.
        panel: the same of the plan.
        plan: the plan worked out, for its posts.
        stated: the plan as stated.
        heat: what the owner states of the wall.
        materials: what the wall is made of.
        grains: by log id, what its wood leads across and along; others are taken at the mean.
        pitch: breadth of a cell along the wall [m].

    Sources: assumption (`panel-as-body`) for what is left out.
    """
    section = stated.section
    face = layout.face
    outline = _laid_outline(layout)
    left, right = (_post_half(panel, plan, stated, face, end) for end in (0, -1))
    width = max(x for x, _ in face.outline)
    uses = {p.opening.id: p.opening for p in panel.openings}
    frame = row("timber")
    body = PanelBody(
        name=face.name,
        outline=outline,
        joint=_joint(section, materials),
        logs=_logs(layout, materials, grains),
        splits=tuple(_splits(layout, materials, grains)),
        boxes=(
            *_posts(stated, outline, (-left, width + right), width, frame),
            *_lintels(face, uses, section.thickness, frame),
            *_frames(face, heat, section.thickness, frame),
        ),
        holes=tuple(_clear(hole, heat.frame_timber) for hole in face.openings),
        x0=-left,
        x1=width + right,
        log_capacity=materials.along.heat_capacity,
    )
    return _wired(body, heat, pitch)


def _wired(body: PanelBody, heat: WallHeatInput, pitch: float) -> PanelBody:
    if heat.wire_diameter is None or heat.wire_spacing is None:
        return body
    steel = row("steel").value
    run = tuple(wires(body, heat.wire_diameter, heat.wire_spacing, steel, pitch))
    return PanelBody(**{name: getattr(body, name) for name in body.__slots__} | {"boxes": (*body.boxes, *run)})


def _joint(section: WallSection, materials: WallMaterials) -> tuple[tuple[float, float, float], ...]:
    mortar, fill = materials.mortar, materials.fill
    parts = ((d, mortar if beaded or fill is None else fill) for d, beaded in layers_of(section))
    return tuple((d, part.value, part.heat_capacity) for d, part in parts)


def _laid_outline(layout: PanelLayout) -> tuple[Point, ...]:
    """The outline of what is laid: cut off where the stock ends."""
    outline = layout.face.outline
    if layout.closed >= 1:
        return outline
    from shapely import Polygon
    from shapely.geometry import box

    top = height_of_share(layout.face, layout.closed)
    low, high = min(x for x, _ in outline), max(x for x, _ in outline)
    bottom = min(y for _, y in outline)
    part = Polygon(outline).intersection(box(low, bottom, high, top))
    return tuple((float(x), float(y)) for x, y in list(part.exterior.coords)[:-1])


def _leads(placed: Placement, materials: WallMaterials, grains: Mapping[str, Grain]) -> tuple[float, float]:
    """Along and across the grain of one log end."""
    known = grains.get(placed.log.parent or placed.log.id)
    across, along = known if known is not None else (materials.across, materials.along)
    return along.value, across.value


def _logs(layout: PanelLayout, materials: WallMaterials, grains: Mapping[str, Grain]) -> Logs:
    rounds = [p for p in layout.placements if p.log.shape == "round"]
    rows = np.array([(p.x, p.y, p.log.diameter / 2, *_leads(p, materials, grains)) for p in rounds]).reshape(-1, 5)
    x, y, radius, along, across = (np.ascontiguousarray(column) for column in rows.T)
    return Logs(x=x, y=y, radius=radius, along=along, across=across)


def _splits(layout: PanelLayout, materials: WallMaterials, grains: Mapping[str, Grain]) -> Iterator[Split]:
    for p in layout.placements:
        if p.log.shape != "round":
            along, across = _leads(p, materials, grains)
            yield Split(outline=split_outline(p), along=along, across=across)


def split_outline(placed: Placement) -> tuple[Point, ...]:
    """The outline of a half or quarter as a polygon of its own area [m]: its arc and the heart of its parent.

    Args:
        placed: the split in its place.

    Sources: closed form; the chords are set outward so that the sector's area is exact.
    """
    half = SPREAD[placed.log.shape]
    step = 2 * half / ARC
    radius = placed.log.diameter / 2 * math.sqrt(step / math.sin(step))
    arc = [placed.angle - half + n * step for n in range(ARC + 1)]
    return ((placed.x, placed.y), *((placed.x + radius * math.cos(a), placed.y + radius * math.sin(a)) for a in arc))


def _post_half(panel: Panel, plan: Plan, stated: PlanInput, face: Face, end: int) -> float:
    """Half the width of the post that stands at one end of a panel [m]; none where none stands or it is unknown."""
    width = stated.frame.post_width
    if width is None or stated.frame.post_depth is None or face.ring:
        return 0.0
    at = panel.centre_line[end]
    near = any(math.dist(at, post) <= stated.post_allowance / 2 + REACH for post in plan.posts)
    return width / 2 if near else 0.0


def _posts(
    stated: PlanInput, outline: tuple[Point, ...], reach: tuple[float, float], width: float, wood: Conductivity
) -> Iterator[Box]:
    depth, thickness, k = stated.frame.post_depth, stated.section.thickness, wood.value
    if depth is None:
        return
    low, high = min(y for _, y in outline), max(y for _, y in outline)
    near = max(0.0, thickness - depth)
    for x0, x1 in ((reach[0], 0.0), (width, reach[1])):
        if x1 > x0:
            yield Box(
                outline=rectangle(x0, x1, low, high),
                near=near,
                far=thickness,
                kx=k,
                ky=ALONG * k,
                kz=k,
                capacity=wood.heat_capacity,
            )


def _lintels(face: Face, uses: Mapping[str, Opening], thickness: float, wood: Conductivity) -> Iterator[Box]:
    k = wood.value
    for hole in face.openings:
        opening = uses[hole.id]
        if opening.lintel_depth is None or opening.shape == "round":
            continue
        bearing = opening.lintel_bearing or 0.0
        x0, x1 = min(x for x, _ in hole.outline) - bearing, max(x for x, _ in hole.outline) + bearing
        top = max(y for _, y in hole.outline)
        yield Box(
            outline=rectangle(x0, x1, top, top + opening.lintel_depth),
            near=0.0,
            far=thickness,
            kx=ALONG * k,
            ky=k,
            kz=k,
            part="lintel",
            capacity=wood.heat_capacity,
        )


def _frames(face: Face, heat: WallHeatInput, thickness: float, wood: Conductivity) -> Iterator[Box]:
    if heat.frame_timber is None:
        return
    k, held = wood.value, wood.heat_capacity
    for hole in face.openings:
        clear = _clear(hole, heat.frame_timber)
        yield Box(outline=hole.outline, near=0.0, far=thickness, kx=k, ky=k, kz=k, capacity=held)
        yield Box(outline=clear, near=0.0, far=thickness, kx=0.0, ky=0.0, kz=0.0, part="void")


def _clear(hole: Hole, timber: float | None) -> tuple[Point, ...]:
    """An opening within the timber that frames it."""
    if not timber:
        return hole.outline
    from shapely import Polygon

    inner = Polygon(hole.outline).buffer(-timber, join_style="mitre")
    if inner.is_empty or inner.geom_type != "Polygon":
        return hole.outline
    return tuple((float(x), float(y)) for x, y in list(inner.exterior.coords)[:-1])
