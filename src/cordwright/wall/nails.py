"""Which log ends of a curved wall want nails, to key the mortar where the joints open wide?"""

from collections.abc import Sequence
from math import ceil, pi
from typing import Final

from cordwright.base import Cite, Figure, Step
from cordwright.plan.results import Plan
from cordwright.wall.inputs import Joints
from cordwright.wall.joints import wide_face
from cordwright.wall.results import CurvedJoint, NailKeys, PanelQuantity

NAILS: Final = (2, 3, 4)
"""Nails to a log end beside a wide joint: least, usual, most (assumption `nail-count`)."""
PRACTICE: Final = Cite("nails-as-keys", "common practice, no source")
COUNT: Final = Cite("nail-count", "three, two to four")


def nail_keys(
    plan: Plan, joints: Joints, curved: Sequence[CurvedJoint], panels: Sequence[PanelQuantity]
) -> tuple[NailKeys, ...]:
    """The curved panels in which a joint at the wide face is wider than the largest joint stated.

    Each log end of such a panel is counted, by the mean size: which ones stand beside a wide joint only laying tells.

    Args:
        plan: the plan worked out.
        joints: joint widths as stated.
        curved: joints of the curved panels, mean and largest log end.
        panels: what each panel takes.

    Sources: common practice (`nails-as-keys`); counts are an assumption (`nail-count`).
    """
    wood = {p.panel: p.wood_area for p in panels}
    found: list[NailKeys] = []
    for panel in plan.panels:
        mine = [c for c in curved if c.panel == panel.name]
        wide = max((c.widest for c in mine), default=0.0)
        if wide > joints.largest + 1e-9:
            mean = mine[0].log_diameter
            ends = ceil(wood[panel.name] / (pi / 4 * mean**2))
            found.append(
                NailKeys(panel=panel.name, face=wide_face(panel), joint=wide, log_ends=ends, nails=NAILS[1] * ends)
            )
    return tuple(found)


def nails_figure(keys: Sequence[NailKeys]) -> Figure:
    """Nails for all panels whose joints open too wide; none where every joint stays within the largest.

    Args:
        keys: the panels that want nails.
    """
    ends = sum(k.log_ends for k in keys)
    least, usual, most = (float(n * ends) for n in NAILS)
    steps = tuple(
        Step(symbol=f"log ends in {k.panel}", value=float(k.log_ends), unit="", formula="wood face over mean log end")
        for k in keys
    )
    each = Step(symbol="nails to a log end", value=float(NAILS[1]), unit="", source=COUNT)
    return Figure(
        key="wall.nails",
        label="nails as keys at the face where joints of a curved wall open wide",
        value=usual,
        low=least if ends else None,
        high=most if ends else None,
        unit="",
        sources=(PRACTICE, COUNT),
        steps=(*steps, each),
    )
