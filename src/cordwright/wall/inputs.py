"""What does the owner state about the joints and the fill?"""

from dataclasses import dataclass


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
class WallInput:
    """Joints, planned wood fraction (share of the face between frames that is log, with its spread) and fill."""

    joints: Joints
    wood_fraction: float
    wood_fraction_low: float
    wood_fraction_high: float
    fill: Fill
