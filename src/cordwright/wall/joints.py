"""How wide does the joint open at the outer face of a curved wall, and which log ends keep it narrow enough?

Log ends stand like the spokes of a wheel: side by side with one joint at the inner face, they part toward the outer.
"""

import numpy as np
from numpy.typing import NDArray

from cordwright.base import Check, Cite, Step, table
from cordwright.plan.inputs import WallSection
from cordwright.plan.results import Panel, Plan
from cordwright.wall.inputs import Joints
from cordwright.wall.results import CurvedJoint


def widest_joint() -> float:
    """Widest joint that mortar alone can fill [m].

    Sources: assumption (`joint-refusal`).
    """
    return float(table("materials")["joint"]["widest_mm"]) / 1000


def outer_joint(log_diameter: float, inner_joint: float, inner_radius: float, thickness: float) -> float:
    """Clear joint between two round log ends at the outer face of a curved wall [m].

    Args:
        log_diameter: diameter of the log ends, the same at both faces [m].
        inner_joint: clear joint at the inner face [m].
        inner_radius: radius of the inner face [m].
        thickness: mortar face to mortar face [m].

    Sources: closed form (similar arcs); spacing along the face, log ends pointing at the centre.
    """
    return (log_diameter + inner_joint) * (inner_radius + thickness) / inner_radius - log_diameter


def largest_log(inner_joint: float, largest_outer: float, inner_radius: float, thickness: float) -> float:
    """Largest round log end that keeps the outer joint within a width [m]; 0 or less: none does.

    Args:
        inner_joint: clear joint at the inner face [m].
        largest_outer: widest joint wanted at the outer face [m].
        inner_radius: radius of the inner face [m].
        thickness: mortar face to mortar face [m].

    Sources: closed form, `outer_joint` solved for the diameter.
    """
    widening = (inner_radius + thickness) / inner_radius
    return (largest_outer - inner_joint * widening) / (widening - 1.0)


def hollow_radius(panel: Panel, thickness: float) -> float | None:
    """Radius of the face on the hollow side of a curved panel, where log ends stand closest [m]; None when straight.

    That is the inner face, or the outer one where the wall bends inward around a re-entrant corner.

    Args:
        panel: a panel of the plan; its inner radius is negative where the wall bends inward.
        thickness: mortar face to mortar face [m].
    """
    if panel.inner_radius is None:
        return None
    return panel.inner_radius if panel.inner_radius > 0 else -panel.inner_radius - thickness


def wide_face(panel: Panel) -> str:
    """Name the face at which the joints of a curved panel open."""
    return "outer" if panel.inner_radius is not None and panel.inner_radius > 0 else "inner"


def curved_joints(
    plan: Plan, section: WallSection, joints: Joints, diameters: NDArray[np.float64]
) -> tuple[CurvedJoint, ...]:
    """Give the joints of every curved panel for the mean and the largest log end, in this order.

    Args:
        plan: the plan worked out.
        section: the wall's section.
        joints: joint widths as stated.
        diameters: of the log ends at laying [m], shape (n,).
    """
    if not diameters.size:
        return ()
    sizes = (float(diameters.mean()), float(diameters.max()))
    return tuple(
        _joint(panel, size, joints.nominal, outer_joint(size, joints.nominal, radius, section.thickness))
        for panel in plan.panels
        if (radius := hollow_radius(panel, section.thickness)) is not None
        for size in sizes
    )


def _joint(panel: Panel, size: float, nominal: float, opened: float) -> CurvedJoint:
    inner, outer = (nominal, opened) if wide_face(panel) == "outer" else (opened, nominal)
    return CurvedJoint(panel=panel.name, log_diameter=size, inner=inner, outer=outer)


def curved_checks(plan: Plan, joints: Joints, curved: tuple[CurvedJoint, ...]) -> tuple[Check, ...]:
    """Hold the joint at the wide face of each curved panel against the largest: mean log end, largest as its spread."""
    return tuple(
        _check(panel, joints, [c for c in curved if c.panel == panel.name])
        for panel in plan.panels
        if panel.inner_radius is not None
    )


def _check(panel: Panel, joints: Joints, curved: list[CurvedJoint]) -> Check:
    mean, largest = curved or (None, None)
    face = f"joint at the {wide_face(panel)} face of {panel.name}"
    return Check(
        key=f"wall.curved_joint.{panel.name}",
        label=f"{face}, mean log end (largest as the spread), within the largest joint",
        demand=mean.widest if mean else None,
        capacity=joints.largest,
        unit="m",
        high=largest.widest if largest else None,
        sources=(Cite("geometry", "similar arcs"), Cite("owner", "wall.joints")),
        steps=tuple(_step(c) for c in curved),
        not_judged="" if curved else "no log sizes are stated",
    )


def _step(joint: CurvedJoint) -> Step:
    return Step(
        symbol=f"joint beside log ends of {joint.log_diameter * 1000:.0f} mm",
        value=joint.widest,
        unit="m",
        formula="(diameter + nominal joint) x (hollow face's radius + thickness) / hollow face's radius - diameter",
        source=Cite("geometry", "similar arcs"),
    )
