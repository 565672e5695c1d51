"""What is a laid panel, as plain values?

Lengths [m], areas [m2]. A panel's own frame: origin at its lower left seen from inside, on the bed, x along the wall's
centre line, y up. Diameters are those at the laying moisture.
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

from cordwright.plan.inputs import Point

Progress = Callable[[float, str], None]
Cancelled = Callable[[], bool]
Shape = Literal["round", "half", "quarter"]


def quiet(_share: float, _what: str) -> None:
    """Progress that nobody watches."""


def never() -> bool:
    """A study that nobody stops."""
    return False


@dataclass(frozen=True, slots=True, kw_only=True)
class Log:
    """One log end in stock: its id, the stem it came from and its diameter (of the parent, for a split) [m].

    `parent`: id of the round it is cleaved from; empty for a round and for a split that came to site as one.
    """

    id: str
    stem: str
    diameter: float
    shape: Shape = "round"
    parent: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Hole:
    """An opening's frame (outer sizes) as a closed outline in the panel's frame."""

    id: str
    outline: tuple[Point, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Disc:
    """A sleeve or bottle end that the layout goes around [m]."""

    id: str
    x: float
    y: float
    diameter: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Face:
    """The face of one panel to lay: outline counter-clockwise from bed to wall head, holes and fixed discs.

    All stands on the wall's centre line. `hollow` and `wide`: the width of the panel at the face where the joints
    of a curved wall close (at most 1) and where they open (at least 1), over that on the centre line.

    `ring`: the wall closes on itself and the two ends of the outline are one place; `start`: where they lie, along the
    centre line from where the plan counts places of this panel [m].
    """

    name: str
    outline: tuple[Point, ...]
    openings: tuple[Hole, ...] = ()
    obstacles: tuple[Disc, ...] = ()
    hollow: float = 1.0
    wide: float = 1.0
    ring: bool = False
    start: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Placement:
    """One log end in its place.

    `order`: 1, 2, 3 ... in which the mason lays; a log comes after all its supports. `supports`: ids of the logs it
    rests on, or "bed", "post", "frame", "chip" (a chip of wood or stone set under it, named in `note`). `angle`: the
    way a split's bark faces, counter-clockwise from the right [rad].
    """

    log: Log
    x: float
    y: float
    order: int
    supports: tuple[str, ...]
    lift: int = 1
    angle: float = 0.0
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Filler:
    """A stone or stick in a gap too wide for mortar alone [m].

    `face`: one stands in each bead, or one only in the bead of the face where a curved wall's joints open.
    """

    x: float
    y: float
    diameter: float
    face: Literal["both", "wide"] = "both"

    @property
    def stones(self) -> int:
        """How many stones the mark stands for: one in each bead it reaches."""
        return 2 if self.face == "both" else 1


@dataclass(frozen=True, slots=True, kw_only=True)
class LayoutReport:
    """How a panel came out.

    `wood_fraction`: placed log-end area over (outline - openings). `effectiveness`: inflated-disc area (radius plus
    half the nominal joint) over the same area grown by the edge allowance (see the engine); `reference`: finite-wall
    reference .9069 - .1215 R P / A; `florian_bound`: densest packing of discs of this size ratio. Joints [m] are
    the least and largest clear widths between neighbouring logs. `unsupported`: logs without two lower supports (each
    on a chip); `straight_run`: longest straight mortar run [m]; `clustering`: contacts between the largest 15 % over
    what chance would give; `mortar_area` [m2]; `seconds` of wall clock are told by the caller, never here.

    All is told on the centre line, but `effectiveness` and `reference` where the joints close, at the hollow face of
    a curved wall, as it was laid. `joint_hollow_min`: least joint at that face; `joint_wide_max`: largest at the face
    where they open. On a straight wall both faces are as the centre line.
    """

    wood_fraction: float
    effectiveness: float
    reference: float
    florian_bound: float
    joint_min: float
    joint_nominal: float
    joint_max: float
    unsupported: int
    straight_run: float
    clustering: float
    mortar_area: float
    joint_hollow_min: float
    joint_wide_max: float


@dataclass(frozen=True, slots=True, kw_only=True)
class PanelLayout:
    """One panel laid, with the share of its net area that is closed (1 when all) and what it could not use."""

    face: Face
    placements: tuple[Placement, ...]
    fillers: tuple[Filler, ...]
    report: LayoutReport
    closed: float = 1.0
    unused: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Violation:
    """One thing that the judge finds wrong in a layout: the rule, the ids concerned and by how much [m] (or count)."""

    rule: Literal[
        "joint", "edge", "opening", "obstacle", "double use", "not in stock", "order", "support", "filler", "lift"
    ]
    ids: tuple[str, ...]
    amount: float
