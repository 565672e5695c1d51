"""What does the owner state about the plan?

Lengths in metres. The outline is given on the inside wall face, because that is where the floor, the loom and the bed
are measured. Seen from above, x points to plan right and y to plan up.
"""

from dataclasses import dataclass
from typing import Literal

from cordwright.base import InputError

Point = tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class PolygonOutline:
    """A simple polygon on the inside face, corners counter-clockwise, with one inside corner radius (0: sharp)."""

    corners: tuple[Point, ...]
    corner_radius: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class RoundOutline:
    """A circle on the inside face."""

    inside_diameter: float


@dataclass(frozen=True, slots=True, kw_only=True)
class OvalOutline:
    """An ellipse on the inside face; the wall's other faces are its parallel curves."""

    inside_length: float
    inside_width: float


Outline = PolygonOutline | RoundOutline | OvalOutline


@dataclass(frozen=True, slots=True, kw_only=True)
class WallSection:
    """The section of the wall: what is typed, and the thickness and cavity that follow.

    Raises:
        InputError: a log end with no thickness left between its proud ends, or a bead with no depth.
    """

    log_end_length: float
    bead: float
    proud: float = 0.0

    def __post_init__(self) -> None:
        if not (self.log_end_length > 0 and self.bead > 0 and self.proud >= 0 and self.thickness > 0):
            raise InputError("the wall section has no thickness")

    @property
    def thickness(self) -> float:
        """Mortar face to mortar face [m]."""
        return self.log_end_length - 2 * self.proud

    @property
    def solid(self) -> bool:
        """Whether the two beads meet: a solid mortar joint with no cavity."""
        return 2 * self.bead >= self.thickness

    @property
    def cavity(self) -> float:
        """Width between the beads [m]; 0 in a solid joint."""
        return 0.0 if self.solid else self.thickness - 2 * self.bead

    @property
    def mortar_depth(self) -> float:
        """Depth of mortar in the joint, both beads together [m]."""
        return self.thickness if self.solid else 2 * self.bead


@dataclass(frozen=True, slots=True, kw_only=True)
class Head:
    """The upper edge of a panel: level, gable (a peak), or sloping (two heights). Heights above the bed [m].

    "gable": `rise` above the wall height at `peak_from_left` (None: the middle). "sloping": `left` and `right`.
    """

    kind: Literal["level", "gable", "sloping"] = "level"
    rise: float = 0.0
    peak_from_left: float | None = None
    left: float | None = None
    right: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class PanelSpec:
    """What the owner states of one panel beyond the plan's common values; None takes the plan's value."""

    name: str
    head: Head = Head()
    post_allowance: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Post:
    """A post within a side that divides it into panels, `from_left` along the centre line seen from inside [m]."""

    side: str
    from_left: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Frame:
    """The posts and the ring beam as the owner states them; sections in metres, None is unknown."""

    material: str = ""
    post_width: float | None = None
    post_depth: float | None = None
    beam_depth: float | None = None
    posts: tuple[Post, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Corners:
    """How the corners are made: with posts, or built up of squared blocks that cross in alternate courses.

    A block is as wide as the wall is thick; `joint` is the mortar between two courses. Lengths [m]; None with posts.
    """

    kind: Literal["posts", "built-up"] = "posts"
    block_length: float | None = None
    block_height: float | None = None
    joint: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Opening:
    """A window, door or other hole: frame outer sizes, measured in its panel seen from inside.

    "round": width is the diameter and equals height. "arched": `height` to the crown, `rise` of the segment or half
    circle above the springing (at most half the width). `sill` is the height of the frame's underside above the bed.
    """

    id: str
    panel: str
    width: float
    height: float
    sill: float
    from_left: float
    use: Literal["window", "door", "other"] = "window"
    shape: Literal["rectangle", "round", "arched"] = "rectangle"
    rise: float = 0.0
    lintel_depth: float | None = None
    lintel_bearing: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Sleeve:
    """A pipe through the wall; `from_left` and `height` locate its axis in the panel seen from inside."""

    id: str
    panel: str
    what: str
    diameter: float
    from_left: float
    height: float


@dataclass(frozen=True, slots=True, kw_only=True)
class BottleGroup:
    """Bottle ends of one size to be spread evenly within a band of one panel (heights above the bed)."""

    id: str
    panel: str
    count: int
    diameter: float
    band_low: float
    band_high: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Roof:
    """The roof's shape: pitch [rad] and overhang from the outer wall face on plan [m].

    `ridge` is the bearing of a gable's ridge or of a shed's fall line [rad clockwise from plan up]; only they need it.
    """

    form: Literal["gable", "hip", "shed", "cone"]
    pitch: float
    overhang: float
    ridge: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanInput:
    """All the owner states about the shape of the building.

    `north` is the bearing of plan up, clockwise from true north [rad]. `side_names` names the sides in the order of
    the outline's corners (side i runs from corner i to i + 1); empty: named by the compass. `height` is bed to wall
    head. `post_allowance` is taken off each panel's centre line, half at each end; at a built-up corner a panel
    begins at the inside corner instead. `ceiling_height` is floor to ceiling.
    """

    outline: Outline
    section: WallSection
    height: float
    north: float = 0.0
    side_names: tuple[str, ...] = ()
    post_allowance: float = 0.0
    panels: tuple[PanelSpec, ...] = ()
    frame: Frame = Frame()
    corners: Corners = Corners()
    openings: tuple[Opening, ...] = ()
    sleeves: tuple[Sleeve, ...] = ()
    bottles: tuple[BottleGroup, ...] = ()
    wall_head_gap: float | None = None
    opening_slack: float | None = None
    plinth_height: float | None = None
    plinth_width: float | None = None
    floor_above_ground: float | None = None
    ceiling_height: float | None = None
    roof: Roof | None = None
