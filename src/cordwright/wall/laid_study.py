"""What does laying the whole wall out of the owner's stock give? Plain values, read without the engine."""

from dataclasses import dataclass, field
from typing import Final

from cordwright.base import Problem
from cordwright.wall.layout import Log, PanelLayout

SIZE_CLASSES: Final = {"metric": 0.020, "imperial": 0.0254}
"""Breadth of a class of diameters in the owner's system [m]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SizeClass:
    """Missing logs of one class of diameters, `low` up to but not including `high` [m]."""

    low: float
    high: float
    count: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Widened:
    """The joint had to widen for the stock to close the wall.

    `joint` in place of `nominal` [m]; `extra_mortar` over what the nominal joint would take [m3], None without a depth.
    """

    joint: float
    nominal: float
    extra_mortar: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Shortage:
    """What the stock lacks to close the wall at the largest joint, and the choices.

    `wall_area`: wall left open; `wood_area`: log-end face missing in it [m2]. `logs` by size class in `classes`;
    `logs_nominal`: how many more for the nominal joint. `stems` or `stacked` [m3]: what would give `logs`, of wood like
    theirs, culls and spares allowed for; None where the stock is not counted so. `closing_joint` would close the wall
    [m] at `closing_mortar` more than the largest joint [m3]; None when no joint up to the widest asked for does.
    `height`: up to which the stock reaches on all panels alike, over the bed; `openings_top`: the highest frame's head
    [m].
    """

    joint: float
    wall_area: float
    wood_area: float
    logs: int
    logs_nominal: int
    classes: tuple[SizeClass, ...]
    stems: int | None
    stacked: float | None
    closing_joint: float | None
    closing_mortar: float | None
    height: float
    openings_top: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Note:
    """Something the builder should know: words, with lengths [m] between them as numbers."""

    pieces: tuple[str | float, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class LayoutStudy:
    """All panels laid, the stock they were laid from, and the ids left over.

    `stock` has laid logs at the diameter measured in the wall. `seconds`: by panel, how long it took, as told by the
    clock the caller hands in; empty without one. `settled`: logs laid or locked, whose places the owner decided.
    `notes`: what the builder should know; `refusals`: swaps that cannot be, with the numbers, as faults of the file.
    `shortage`: what is missing when the stock does not close the wall; `widened`: what its wider joint costs.
    """

    panels: tuple[PanelLayout, ...]
    stock: tuple[Log, ...]
    unused: tuple[str, ...]
    seconds: dict[str, float] = field(default_factory=dict)
    settled: tuple[str, ...] = ()
    notes: tuple[Note, ...] = ()
    refusals: tuple[Problem, ...] = ()
    shortage: Shortage | None = None
    widened: Widened | None = None

    @property
    def joint(self) -> float:
        """The even joint that the stock asks for [m]; the widest where panels differ."""
        return max((p.report.joint_nominal for p in self.panels), default=0.0)
