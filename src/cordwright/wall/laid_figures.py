"""What does the layout say of the wall: its wood, its joint, how much of it the stock closes?"""

from collections.abc import Iterator
from typing import Final

from cordwright.base import Check, Cite, Figure, Step
from cordwright.wall.inputs import Joints
from cordwright.wall.placed import PlacedWall
from cordwright.wall.quantities import LAYOUT

WHOLE: Final = 1.0 - 1e-6
"""A wall closed to this share is closed: what lacks is rounding of the outline."""

LAID: Final = (
    LAYOUT,
    Cite("kim-hilgenfeldt-2024", "abstract: swaps of sizes in over-full packings"),
    Cite("layout-density", "share of the reference at which a panel is closed"),
)


def laid_figures(placed: PlacedWall) -> Iterator[Figure]:
    """Give the wood fraction, the joint, the coverage and what the hands do: joint to point, weight to lift."""
    whole = placed.whole
    yield _figure(
        "wall.wood_fraction", "wood fraction of the face, laid", whole.wood_area / whole.face_area, "1", placed
    )
    yield _figure("wall.joint", "joint of the layout", placed.joint, "m", placed)
    yield _figure("wall.coverage", "share of the net wall the layout closes", _coverage(placed), "1", placed)
    yield _figure("wall.joint_length", "joint to point, both faces", 2 * whole.joint_length, "m", placed)
    yield _figure("wall.inner_bead", "mortar of the inner bead, in place", whole.inner_bead, "m3", placed)
    yield _figure("wall.outer_bead", "mortar of the outer bead, in place", whole.outer_bead, "m3", placed)
    yield _mass("wall.log_mass", "log ends in the wall, at laying", whole.log_mass, "wood whose mass is known", placed)
    yield _mass("wall.mortar_mass", "fresh mortar in the wall", whole.mortar_mass, "the mix", placed)


def _coverage(placed: PlacedWall) -> float:
    return 1.0 if placed.coverage >= WHOLE else placed.coverage


def _figure(key: str, label: str, value: float, unit: str, placed: PlacedWall) -> Figure:
    return Figure(key=key, label=label, value=value, unit=unit, sources=LAID, steps=tuple(_steps(key, placed)))


def _mass(key: str, label: str, value: float | None, missing: str, placed: PlacedWall) -> Figure:
    if value is None:
        return Figure(key=key, label=label, value=None, unit="kg", bound="unknown", missing=(missing,), sources=LAID)
    return _figure(key, label, value, "kg", placed)


FORMULAS: Final = {
    "wall.wood_fraction": "log ends / (outline - openings)",
    "wall.joint": "narrowest even joint, from the nominal to the largest, at which the stock closes the wall",
    "wall.coverage": "face laid / (outline - openings)",
    "wall.joint_length": "half the length around all log ends, stones and edges: each joint has two sides; both faces",
    "wall.inner_bead": "face of the joints at the middle of the bead x its depth; of a solid joint, its inner half",
    "wall.outer_bead": "face of the joints at the middle of the bead x its depth; of a solid joint, its outer half",
    "wall.log_mass": "sum over the log ends laid",
    "wall.mortar_mass": "mortar in place x mass of all that goes into a cubic metre, water added with it",
}


def _steps(key: str, placed: PlacedWall) -> Iterator[Step]:
    whole = placed.whole
    yield Step(symbol="log ends laid", value=placed.laid.wood_area, unit="m2", formula=FORMULAS[key], source=LAYOUT)
    yield Step(symbol="face between frames", value=whole.face_area, unit="m2", formula="outline - openings")
    yield from carried_steps(placed)


def carried_steps(placed: PlacedWall | None) -> tuple[Step, ...]:
    """Say what is not laid and how it is carried; nothing when all is laid or only planned."""
    if placed is None or placed.coverage >= WHOLE:
        return ()
    how = "carried at the mean of the laid part"
    return (Step(symbol="face not laid", value=placed.not_laid, unit="m2", formula=how, source=LAYOUT),)


def laid_checks(placed: PlacedWall | None, joints: Joints) -> Iterator[Check]:
    """Hold the stock against the whole wall, and its joint against the largest."""
    if placed is None:
        return
    yield Check(
        key="wall.coverage",
        label="the stock closes the wall",
        demand=1.0,
        capacity=_coverage(placed),
        unit="1",
        sources=LAID,
        steps=tuple(_steps("wall.coverage", placed)),
    )
    yield Check(
        key="wall.joint",
        label="joint of the layout, within the largest joint",
        demand=min(placed.joint, joints.largest) if placed.joint <= joints.largest + 1e-9 else placed.joint,
        capacity=joints.largest,
        unit="m",
        sources=(*LAID, Cite("owner", "wall.joints")),
        steps=tuple(_steps("wall.joint", placed)),
    )
