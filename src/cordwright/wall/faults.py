"""What in the stated joints, beads and fill cannot be, and what will the builder regret?"""

import math
from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

from cordwright.base import Problem, Severity, table
from cordwright.mortar import outside
from cordwright.plan.inputs import WallSection
from cordwright.plan.results import Panel, Plan
from cordwright.wall.faces import faces_of
from cordwright.wall.inputs import Fill, Joints, WallInput
from cordwright.wall.joints import hollow_radius, largest_log, outer_joint, wide_face, widest_joint
from cordwright.wall.narrow import narrow_strips, told


def find_faults(
    wall: WallInput, plan: Plan, section: WallSection, diameters: NDArray[np.float64] | None
) -> tuple[Problem, ...]:
    """Name every fault of the stated wall.

    Args:
        wall: joints, planned wood fraction and fill as stated.
        plan: the plan worked out, for its curved panels.
        section: the wall's section.
        diameters: of the log ends at laying [m], shape (n,), None or empty when no stock is stated.

    Sources: limits are assumptions (`cavity-least`, `joint-refusal`, `mortar-limits`).
    """
    joints = tuple(_joint_faults(wall.joints))
    plain = (*_bead_faults(section), *_fraction_faults(wall), *joints, *_fill_faults(wall.fill))
    if joints or diameters is None or not diameters.size:
        return plain
    return (*plain, *_curved_faults(wall, plan, section, diameters), *_strip_faults(plan, float(diameters.mean())))


def _strip_faults(plan: Plan, mean: float) -> Iterator[Problem]:
    """A warning for each panel that is narrow as a whole; piers and bands within one are told where it is laid out.

    Sources: assumption (`narrow-strip`).
    """
    for face in faces_of(plan):
        strips = [s for s in narrow_strips(face, mean) if s.what == f"panel {face.name}"]
        if strips:
            message, _, hint = told(strips, mean).rpartition(": ")
            yield Problem(field="stock", message=f"{face.name}: {message}", hint=hint, severity="warning")


def _mm(length: float) -> str:
    return f"{round(length * 1000, 1):g}"


def _bead_faults(section: WallSection) -> Iterator[Problem]:
    if not section.solid:
        return
    thickness = section.thickness
    message = f"the two beads (2 x {_mm(section.bead)} mm) fill the wall's {_mm(thickness)} mm: solid joint, no cavity"
    offer = largest_bead(thickness)
    if offer <= 0:
        hint = (
            f"a wall of {_mm(thickness)} mm has no room for two beads and a cavity; a solid joint is what it can have"
        )
    else:
        more = thickness / (2 * offer) - 1
        message += f"; takes {more:.0%} more mortar than beads of {_mm(offer)} mm".replace("%", " %")
        hint = f"beads of at most {_mm(offer)} mm leave a cavity of {_mm(thickness - 2 * offer)} mm"
    yield Problem(field="wall.bead", message=message, hint=hint, severity="warning")


def largest_bead(thickness: float) -> float:
    """Largest bead, in whole centimetres, that leaves a cavity fit to fill [m]; 0 or less: none does.

    Args:
        thickness: mortar face to mortar face [m].

    Sources: assumption, a cavity of at least 70 mm (`cavity-least`).
    """
    least_cavity = float(table("materials")["cavity"]["least_mm"]) / 1000
    return math.floor((thickness - least_cavity) / 2 * 100 + 1e-9) / 100


def _fraction_faults(wall: WallInput) -> Iterator[Problem]:
    fractions = {
        "wood_fraction_low": wall.wood_fraction_low,
        "wood_fraction": wall.wood_fraction,
        "wood_fraction_high": wall.wood_fraction_high,
    }
    # Equal rounds that touch close 0.907 of a face, and touching logs leave no joint to lay.
    for name, value in fractions.items():
        yield from outside(f"wall.{name}", f"the {name.replace('_', ' ')}", value, "wood_fraction")
    if not wall.wood_fraction_low <= wall.wood_fraction <= wall.wood_fraction_high:
        yield Problem(
            field="wall.wood_fraction",
            message=(
                f"the planned {wall.wood_fraction:g} is not between its low {wall.wood_fraction_low:g}"
                f" and its high {wall.wood_fraction_high:g}"
            ),
            hint="low <= planned <= high",
        )


def _joint_faults(joints: Joints) -> Iterator[Problem]:
    for name in ("least", "nominal", "largest", "edge"):
        what = f"the {name} joint"
        yield from outside(f"wall.joints.{name}", what, getattr(joints, name), "joint", unit="mm", scale=1000)
    if joints.least > joints.nominal:
        yield _disorder("least", joints.least, joints.nominal, "over", "at most")
    if joints.largest < joints.nominal:
        yield _disorder("largest", joints.largest, joints.nominal, "under", "at least")


def _disorder(name: str, width: float, nominal: float, how: str, allowed: str) -> Problem:
    return Problem(
        field=f"wall.joints.{name}",
        message=f"the {name} joint of {_mm(width)} mm is {how} the nominal joint of {_mm(nominal)} mm",
        hint=f"{allowed} {_mm(nominal)} mm",
    )


def _fill_faults(fill: Fill) -> Iterator[Problem]:
    yield from outside("wall.fill.waste", "waste", fill.waste, "waste")
    yield from outside("wall.fill.lime_share", "the share of lime", fill.lime_share, "lime_share")
    yield from outside("wall.fill.density", "the fill's density", fill.density, "fill_density", unit="kg/m3")


def _curved_faults(
    wall: WallInput, plan: Plan, section: WallSection, diameters: NDArray[np.float64]
) -> tuple[Problem, ...]:
    """The mean log end decides whether the wall can be laid at all; a few large ones can be split or left out."""
    mean, largest = float(diameters.mean()), float(diameters.max())
    faults = (_panel_fault(p, wall.joints, section, mean, largest) for p in plan.panels)
    return tuple(f for f in faults if f is not None)


def _panel_fault(panel: Panel, joints: Joints, section: WallSection, mean: float, largest: float) -> Problem | None:
    radius = hollow_radius(panel, section.thickness)
    if radius is None:
        return None
    at_mean = outer_joint(mean, joints.nominal, radius, section.thickness)
    at_largest = outer_joint(largest, joints.nominal, radius, section.thickness)
    hint = _advice(joints, section, radius)
    if at_mean > widest_joint():
        return _wide(panel, f"the mean log end of {_mm(mean)} mm", (at_mean, widest_joint()), hint, "error")
    if at_mean > joints.largest:
        return _wide(panel, f"the mean log end of {_mm(mean)} mm", (at_mean, joints.largest), hint, "warning")
    if at_largest > joints.largest:
        return _wide(panel, f"the largest log end of {_mm(largest)} mm", (at_largest, joints.largest), hint, "warning")
    return None


def _wide(panel: Panel, beside: str, widths: tuple[float, float], hint: str, severity: Severity) -> Problem:
    # Rounded twice, so that noise in the last digit does not decide a half millimetre.
    width, most = widths
    return Problem(
        field="wall.joints.nominal",
        message=(
            f"{panel.name}: beside {beside} the joint opens to {round(width * 1000, 6):.0f} mm"
            f" at the {wide_face(panel)} face, over {_mm(most)} mm"
        ),
        hint=hint,
        severity=severity,
    )


def _advice(joints: Joints, section: WallSection, radius: float) -> str:
    log = largest_log(joints.nominal, joints.largest, radius, section.thickness)
    sizes = (
        f"rounds up to {math.floor(log * 1000):d} mm keep it within {_mm(joints.largest)} mm"
        if log > 0
        else (f"no round keeps it within {_mm(joints.largest)} mm at this length")
    )
    return (
        f"{sizes}; use split or tapered ends, a smaller diameter or shorter log ends; nails as keys in wide joints are"
        " common practice"
    )
