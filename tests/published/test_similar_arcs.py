"""Joints of a curved wall by similar arcs: closed form, worked by hand.

Nine feet inside, wall twelve inches, log ends six inches, joint one inch at the inner face: spacing 7 in grows by
66 / 54 to 8.5556 in at the outer face, which leaves a joint of 2.56 in.
"""

import pytest

from cordwright.plan import PlanInput, RoundOutline, WallSection, reckon_plan
from cordwright.wall.faces import faces_of
from cordwright.wall.joints import outer_joint
from cordwright.wall.judged_faces import seen_at
from cordwright.wall.layout import LayoutReport, Log, PanelLayout, Placement
from cordwright.wall.measures import joint_hollow_min, joint_wide_max

INCH = 0.0254


def test_nine_feet_inside_opens_an_inch_to_two_and_a_half() -> None:
    assert outer_joint(6 * INCH, INCH, 54 * INCH, 12 * INCH) / INCH == pytest.approx(2.56, abs=0.005)


def test_two_logs_side_by_side_part_as_the_arcs_say() -> None:
    plan = reckon_plan(
        PlanInput(
            outline=RoundOutline(inside_diameter=108 * INCH),
            section=WallSection(log_end_length=12 * INCH, bead=3.5 * INCH),
            height=2.0,
        )
    )
    (face,) = faces_of(plan)
    logs = [
        Placement(
            log=Log(id=f"L{n}", stem="S", diameter=6 * INCH),
            x=(10 + 7 * n) * INCH / face.hollow,
            y=0.1,
            order=n + 1,
            supports=("bed",),
        )
        for n in range(3)
    ]
    blank = LayoutReport(**{**dict.fromkeys(LayoutReport.__dataclass_fields__, 0.0), "unsupported": 0})
    layout = PanelLayout(face=face, placements=tuple(logs), fillers=(), report=blank)
    assert joint_hollow_min(layout) == pytest.approx(INCH)
    widest = joint_wide_max(layout)
    assert widest is not None
    assert widest / INCH == pytest.approx(2.56, abs=0.005)
    width = max(x for x, _ in seen_at(layout, face.wide).face.outline)
    assert width == pytest.approx(plan.panels[0].outer_length)
