"""Which outline on the inside wall face did the owner describe, and in which order do its sides come?

Corners run counter-clockwise seen from above; a rectangle begins at the lower left of its lower side, so that its sides
are S, E, N, W in that order, with chamfers between them.
"""

from collections.abc import Mapping
from typing import Final

from cordwright.plan.inputs import Outline, OvalOutline, Point, PolygonOutline, RoundOutline
from cordwright.project.faults import FieldFault, Findings, shown
from cordwright.project.quantity import parse_quantity
from cordwright.project.schema import PlanTable

NEEDED: Final[Mapping[str, tuple[str, ...]]] = {
    "rectangle": ("inside_length", "inside_width"),
    "polygon": ("corners",),
    "round": ("inside_diameter",),
    "oval": ("inside_length", "inside_width"),
}
ALLOWED: Final[Mapping[str, tuple[str, ...]]] = {
    "rectangle": ("inside_length", "inside_width", "chamfer", "corner_radius"),
    "polygon": ("corners", "corner_radius"),
    "round": ("inside_diameter",),
    "oval": ("inside_length", "inside_width"),
}
"""The sizes each shape needs, and those it may have."""

SIZES: Final = ("inside_length", "inside_width", "inside_diameter", "chamfer", "corner_radius", "corners")
MOST_CORNERS: Final = 200


def read_outline(plan: PlanTable, findings: Findings) -> tuple[Outline, tuple[str, ...]] | None:
    """Give the outline and the names of its sides, or None once its faults are noted."""
    faults = _size_faults(plan)
    for key, fault in faults.items():
        findings.add_fault(f"plan.{key}", fault)
    if faults:
        return None
    if plan.shape == "round":
        assert plan.inside_diameter is not None
        return RoundOutline(inside_diameter=plan.inside_diameter), plan.side_names
    if plan.shape == "polygon":
        return _polygon(plan, findings)
    assert plan.inside_length is not None
    assert plan.inside_width is not None
    if plan.shape == "oval":
        return OvalOutline(inside_length=plan.inside_length, inside_width=plan.inside_width), plan.side_names
    corners = rectangle_corners(plan.inside_length, plan.inside_width, plan.chamfer or 0.0)
    return PolygonOutline(corners=corners, corner_radius=plan.corner_radius or 0.0), plan.side_names


def _size_faults(plan: PlanTable) -> dict[str, FieldFault]:
    """Sizes the shape needs and has not, sizes it has no use for, chamfers that meet."""
    faults: dict[str, FieldFault] = {}
    for key in SIZES:
        given = getattr(plan, key) is not None
        if key in NEEDED[plan.shape] and not given:
            faults[key] = FieldFault("this is missing", f"a {plan.shape} needs {' and '.join(NEEDED[plan.shape])}")
        if given and key not in ALLOWED[plan.shape]:
            allowed = ", ".join(ALLOWED[plan.shape])
            faults[key] = FieldFault(f"a {plan.shape} has no {key}", f"leave it out; a {plan.shape} has {allowed}")
    if plan.chamfer and plan.inside_length and plan.inside_width and not faults:
        most = min(plan.inside_length, plan.inside_width) / 2
        if plan.chamfer >= most:
            message = f"two chamfers of {plan.chamfer * 1000:.0f} mm leave nothing of a side"
            faults["chamfer"] = FieldFault(message, f"less than {most * 1000:.0f} mm")
    return faults


def rectangle_corners(length: float, width: float, chamfer: float) -> tuple[Point, ...]:
    """Corners of a rectangle from the lower left of its lower side, counter-clockwise.

    Args:
        length: along plan right [m].
        width: along plan up [m].
        chamfer: leg of each 45 degree chamfer [m], 0 for none.
    """
    if not chamfer:
        return ((0.0, 0.0), (length, 0.0), (length, width), (0.0, width))
    right, up = length - chamfer, width - chamfer
    return (
        (chamfer, 0.0),
        (right, 0.0),
        (length, chamfer),
        (length, up),
        (right, width),
        (chamfer, width),
        (0.0, up),
        (0.0, chamfer),
    )


def _polygon(plan: PlanTable, findings: Findings) -> tuple[Outline, tuple[str, ...]] | None:
    assert plan.corners is not None
    if len(plan.corners) > MOST_CORNERS:
        findings.add("plan.corners", f"there are {len(plan.corners)} corners", f"at most {MOST_CORNERS} are read")
        return None
    read: list[Point] = []
    for i, text in enumerate(plan.corners):
        try:
            read.append(_corner(text))
        except FieldFault as fault:
            findings.add_fault(f"plan.corners[{i}]", fault)
    if len(read) < len(plan.corners):
        return None
    corners, names = counter_clockwise(tuple(read), plan.side_names)
    return PolygonOutline(corners=corners, corner_radius=plan.corner_radius or 0.0), names


def _corner(text: str) -> Point:
    """Read `3.2 m, 0 m`; with decimal commas the two are parted by a semicolon."""
    parts = text.split(";") if ";" in text else text.split(",")
    if len(parts) != 2:
        hint = 'write "3.2 m, 0 m"; with decimal commas "3,2 m; 0 m"'
        raise FieldFault(f"{shown(text)} is not a distance to the right and a distance up", hint)
    return parse_quantity(parts[0], "length", "any"), parse_quantity(parts[1], "length", "any")


def counter_clockwise(corners: tuple[Point, ...], names: tuple[str, ...]) -> tuple[tuple[Point, ...], tuple[str, ...]]:
    """Turn corners given clockwise around, the first staying first, and the names of the sides with them."""
    following = (*corners[1:], *corners[:1])
    doubled_area = sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in zip(corners, following, strict=True))
    if doubled_area >= 0:
        return corners, names
    return (*corners[:1], *corners[:0:-1]), names[::-1]
