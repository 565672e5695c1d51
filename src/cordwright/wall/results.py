"""What the wall takes, panel by panel."""

from dataclasses import dataclass

from cordwright.base import Caution, Check, Figure


@dataclass(frozen=True, slots=True, kw_only=True)
class PanelQuantity:
    """What one panel takes at the planned wood fraction: face areas [m2] and volumes in place [m3]."""

    panel: str
    masonry_area: float
    wood_area: float
    joint_area: float
    wood_volume: float
    mortar_volume: float
    fill_volume: float


@dataclass(frozen=True, slots=True, kw_only=True)
class CurvedJoint:
    """The joint at the two faces of a curved panel, for one log diameter [m].

    Nominal at the face on the hollow side, where log ends stand closest; wider at the other.
    """

    panel: str
    log_diameter: float
    inner: float
    outer: float

    @property
    def widest(self) -> float:
        """The joint at the face where it opens [m]."""
        return max(self.inner, self.outer)


@dataclass(frozen=True, slots=True, kw_only=True)
class NailKeys:
    """A curved panel whose joints open too wide at one face: which face, how wide [m], its log ends and their nails."""

    panel: str
    face: str
    joint: float
    log_ends: int
    nails: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Wall:
    """The wall worked out; `planned` until a layout exists."""

    panels: tuple[PanelQuantity, ...]
    curved_joints: tuple[CurvedJoint, ...]
    planned: bool
    figures: tuple[Figure, ...]
    checks: tuple[Check, ...]
    cautions: tuple[Caution, ...]
    nail_keys: tuple[NailKeys, ...] = ()

    def figure(self, key: str) -> Figure:
        """One figure by its key."""
        return next(f for f in self.figures if f.key == key)
