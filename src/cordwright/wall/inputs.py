"""What does the owner state about the joints, the fill and the way the log ends are to be laid?"""

from dataclasses import dataclass, field
from typing import Literal


@dataclass(frozen=True, slots=True, kw_only=True)
class Joints:
    """Clear joint widths between log ends [m]; `edge` is the joint at posts and frames."""

    nominal: float
    least: float
    largest: float
    edge: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Fill:
    """The loose cavity fill: what it is, waste share, loose density [kg/m3] and mass share of lime mixed in.

    None is unknown.
    """

    material: str = ""
    waste: float = 0.0
    density: float | None = None
    lime_share: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Lock:
    """A named log at a named place: its centre from the panel's left end, seen from inside, and above the bed [m]."""

    log: str
    panel: str
    from_left: float
    height: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Swap:
    """Two logs that change places in the finished layout; `other` may stand in the wall or be left over."""

    log: str
    other: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Band:
    """A level band of a panel (empty: of all) in which large or small logs are wanted; heights above the bed [m]."""

    panel: str = ""
    low: float
    high: float
    sizes: Literal["large", "small"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Splitting:
    """Which rounds are cleaved: those over a diameter [m] (None: none for its size) and those named, for bad checks.

    `into` says what they become. Splits stand flat against bed, posts and frames.
    """

    over: float | None = None
    logs: tuple[str, ...] = ()
    into: Literal["half", "quarter"] = "half"


@dataclass(frozen=True, slots=True, kw_only=True)
class LaidLog:
    """A log as it was really laid: its centre from the panel's left end and above the bed [m].

    `diameter` as measured in the wall [m]; None takes the stock's. A log that is not in the stock needs one.
    """

    log: str
    panel: str
    from_left: float
    height: float
    diameter: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Wishes:
    """How the owner wants the log ends laid; nothing is wanted when nothing is stated.

    `splitting` None: no round is cleaved.
    """

    seed: int = 1
    pattern: Literal["mixed", "large at the bottom"] = "mixed"
    bands: tuple[Band, ...] = ()
    locks: tuple[Lock, ...] = ()
    swaps: tuple[Swap, ...] = ()
    forbidden: tuple[str, ...] = ()
    splitting: Splitting | None = None
    laid: tuple[LaidLog, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class WallInput:
    """Joints, planned wood fraction (share of the face between frames that is log, with spread), fill and wishes."""

    joints: Joints
    wood_fraction: float
    wood_fraction_low: float
    wood_fraction_high: float
    fill: Fill
    wishes: Wishes = field(default_factory=Wishes)
