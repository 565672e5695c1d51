"""What follows from the plan: the faces of the wall, its panels, and what stands in them.

Lengths [m], areas [m2]. A panel's own frame: origin at its lower left seen from inside, on the bed; u along the wall's
centre line, v up.
"""

from dataclasses import dataclass
from math import fsum
from typing import Literal

from cordwright.base import Check, Figure
from cordwright.plan.inputs import Opening, Point


@dataclass(frozen=True, slots=True, kw_only=True)
class Obstacle:
    """A sleeve or bottle end: a circle in the panel that the layout goes around."""

    id: str
    what: str
    u: float
    v: float
    diameter: float

    @property
    def area(self) -> float:
        """Face area [m2]."""
        return 0.7853981633974483 * self.diameter**2


@dataclass(frozen=True, slots=True, kw_only=True)
class CornerBlock:
    """A block of a built-up corner that runs along this panel's wall and stands into it as a tooth.

    `course` counts from 1 at the bed; in the courses between, the blocks run along the other wall and end where the
    panel begins. `left`, `right`, `bottom`, `top`: the tooth in the panel's frame [m].
    """

    end: Literal["left", "right"]
    course: int
    left: float
    right: float
    bottom: float
    top: float


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedOpening:
    """An opening with its outline in the panel's frame (arcs as chords) and its exact area."""

    opening: Opening
    outline: tuple[Point, ...]
    area: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Panel:
    """One stretch of wall between posts (or around a curve), with everything that stands in it.

    `inner_line`, `centre_line`, `outer_line`: clear stretch on the three faces as points on the plan, from the left
    end to the right end seen from inside (a curve as many short chords). Clear lengths are exact, not chord sums.
    `inner_radius`: of a curved panel, the tightest radius of its inner face (an oval's sharpest place), negative where
    the wall bends the other way around a re-entrant corner; None on a straight one. `bearing` is the compass bearing
    of the outward normal at mid-panel [rad].
    `outline` is the panel's face, bed to wall head, counter-clockwise in its own frame; `blocks`, the teeth of built-up
    corners, are left out of it and of the gross area.
    """

    name: str
    inner_length: float
    centre_length: float
    outer_length: float
    inner_line: tuple[Point, ...]
    centre_line: tuple[Point, ...]
    outer_line: tuple[Point, ...]
    bearing: float
    inner_radius: float | None
    outline: tuple[Point, ...]
    openings: tuple[PlacedOpening, ...]
    obstacles: tuple[Obstacle, ...]
    gross_area: float
    openings_area: float
    blocks: tuple[CornerBlock, ...] = ()

    @property
    def net_area(self) -> float:
        """Gross less openings; sleeves and bottle ends are not deducted."""
        return self.gross_area - self.openings_area

    @property
    def obstacles_area(self) -> float:
        """Face of the sleeves and bottle ends."""
        return fsum(o.area for o in self.obstacles)


@dataclass(frozen=True, slots=True, kw_only=True)
class SettingOut:
    """The marks a builder strings out: named points on the inside face and the distances between them.

    `rows`: (kind, from, to, length) with kind one of "side", "diagonal", "chord", "offset", "radius", "ordinate" (of a
    curve, square to the line between two points at its middle; of an oval, from the long axis) and "string" (tied to
    two stakes, an oval drawn with it kept taut).
    """

    points: tuple[tuple[str, Point], ...]
    rows: tuple[tuple[str, str, str, float], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class BuildIn:
    """One line of a panel's build-in list: what is set into the wall while it rises, lowest first.

    `size` says the size in words and millimetres; `sizes` holds its lengths [m] in the order named, to write them in
    other units. `from_left` is a frame's left edge, a sleeve's axis, the leftmost bottle's edge.
    """

    panel: str
    mark: str
    what: str
    size: str
    bottom: float
    from_left: float
    sizes: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """The plan worked out. Faces are counter-clockwise rings of points (curves as chords), the first not repeated."""

    inner_face: tuple[Point, ...]
    centre_face: tuple[Point, ...]
    outer_face: tuple[Point, ...]
    eaves: tuple[Point, ...]
    posts: tuple[Point, ...]
    panels: tuple[Panel, ...]
    setting_out: SettingOut
    build_in: tuple[BuildIn, ...]
    figures: tuple[Figure, ...]
    checks: tuple[Check, ...]

    def figure(self, key: str) -> Figure:
        """One figure by its key."""
        return next(f for f in self.figures if f.key == key)
