"""A curved wall is laid where its joints close: how does it stand on the centre line and at the wide face?"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace

import numpy as np

from cordwright.wall import region as regions
from cordwright.wall.faces import at_face, hollow_face, seamed
from cordwright.wall.fillers import fillers_for
from cordwright.wall.layout import Face, Filler, LayoutReport, PanelLayout, Placement
from cordwright.wall.report import Laid, joints_between, report_of

IN_ONE_BEAD = 0.5
"""A stone in the bead of one face displaces mortar in one of the two."""


def at_hollow(face: Face, fixed: Sequence[Placement]) -> tuple[Face, tuple[Placement, ...]]:
    """Give a panel and the logs that stand in it as they are seen where the joints close."""
    return hollow_face(face), tuple(replace(p, x=p.x * face.hollow) for p in fixed)


def seen_at_hollow(layout: PanelLayout, edge: float) -> PanelLayout:
    """Give a laid panel as it is seen where its joints close, a ring opened at its cut; a straight one is itself.

    Args:
        layout: the panel on its centre line.
        edge: joint at edges [m].
    """
    face = layout.face
    if face.hollow == 1.0 and not face.ring:
        return layout
    near, placements = at_hollow(face, layout.placements)
    opened = replace(seamed(near, layout.report.joint_nominal - 2 * edge), ring=False)
    stones = tuple(replace(f, x=f.x * face.hollow) for f in layout.fillers if f.face == "both")
    return replace(layout, face=opened, placements=placements, fillers=stones)


def on_centre_line(
    laid: PanelLayout, face: Face, fixed: Sequence[Placement], *, joint: float, edge: float, top: float
) -> PanelLayout:
    """Give a panel laid at its hollow face back on the centre line; stones are looked for at the wide face too.

    Args:
        laid: the panel as laid, in widths true at the hollow face.
        face: the panel on its centre line.
        fixed: logs that were laid or locked, where they stand on the centre line.
        joint: clear joint at the hollow face [m].
        edge: joint at posts, bed, head and frames [m].
        top: height up to which it is laid [m].
    """
    if face.hollow == 1.0 and not face.ring:
        return laid
    stood = {p.log.id: p.x for p in fixed}
    placements = tuple(replace(p, x=stood.get(p.log.id, p.x / face.hollow)) for p in laid.placements)
    fillers = tuple(replace(f, x=f.x / face.hollow) for f in laid.fillers)
    fillers += _stones_at_wide_face(face, placements, fillers, (joint, top))
    return replace(
        laid,
        face=face,
        placements=placements,
        fillers=fillers,
        report=_report(laid.report, face, placements, fillers, {"joint": joint, "edge": edge, "top": top}),
    )


def _stones_at_wide_face(
    face: Face, placements: Sequence[Placement], fillers: Sequence[Filler], joint_and_top: tuple[float, float]
) -> tuple[Filler, ...]:
    """Stones for gaps that are too wide only where the joints have opened."""
    joint, top = joint_and_top
    wide = at_face(face, face.wide)
    logs = [replace(p, x=p.x * face.wide) for p in placements]
    stones = [(f.x * face.wide, f.y, f.diameter / 2) for f in fillers]
    found = fillers_for(regions.regions_of(wide, top), logs, wide.obstacles, joint, stones)
    return tuple(replace(f, x=f.x / face.wide, face="wide") for f in found)


def _report(
    hollow: LayoutReport,
    face: Face,
    placements: Sequence[Placement],
    fillers: Sequence[Filler],
    how: Mapping[str, float],
) -> LayoutReport:
    one_bead = math.pi / 4 * sum(f.diameter**2 for f in fillers if f.face == "wide")
    centre = report_of(_laid(face, placements, fillers, how))
    wide = at_face(face, face.wide)
    moved = [replace(p, x=p.x * face.wide) for p in placements]
    _, widest = joints_between(_laid(wide, moved, [replace(f, x=f.x * face.wide) for f in fillers], how))
    return replace(
        centre,
        effectiveness=hollow.effectiveness,
        reference=hollow.reference,
        unsupported=hollow.unsupported,
        mortar_area=centre.mortar_area + (1 - IN_ONE_BEAD) * one_bead,
        joint_hollow_min=hollow.joint_min,
        joint_wide_max=widest,
    )


def _laid(face: Face, placements: Sequence[Placement], fillers: Sequence[Filler], how: Mapping[str, float]) -> Laid:
    logs = np.array([(p.x, p.y, p.log.diameter / 2) for p in placements], float).reshape(-1, 3)
    others = [(f.x, f.y, f.diameter / 2) for f in fillers] + [(o.x, o.y, o.diameter / 2) for o in face.obstacles]
    return Laid(
        regions=regions.regions_of(face, how["top"]),
        net_area=sum(r.area for r in regions.regions_of(face)),
        x=logs[:, 0].copy(),
        y=logs[:, 1].copy(),
        radius=logs[:, 2].copy(),
        others=np.array(others).reshape(-1, 3),
        joint=how["joint"],
        edge=how["edge"],
        unsupported=0,
    )
