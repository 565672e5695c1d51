"""What does the wall lose, reckoned by hand's method: two bounds, their mean, and whether that mean may be used?

The log path and the joint path lie side by side through three layers: bead, cavity, bead. Heat that stays in its path
gives the lower bound of U; heat that spreads freely between the layers the upper one.
"""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Final

from cordwright.base import Cite, InputError
from cordwright.heat.conductivity import Conductivity, WallMaterials
from cordwright.plan.inputs import WallSection

COMBINED: Final = Cite("iso-6946", "combined method")
SURFACES: Final = Cite("iso-6946", "surface resistances, heat flow level")
INSIDE: Final = 0.13
"""Surface resistance inside, heat flowing level [m2 K/W] (`iso-6946`)."""
OUTSIDE: Final = 0.04
"""Surface resistance outside [m2 K/W] (`iso-6946`)."""
MOST_RATIO: Final = 1.5
"""Bounds further apart than this give no mean [1] (`iso-6946`)."""

InLayers = tuple[float, ...]
"""Conductivity of a path in each layer [W/(m K)]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SectionU:
    """The combined method's answer: resistances from air to air [m2 K/W] and what follows from them.

    `upper_resistance` of heat that stays in its path, `lower_resistance` of heat that spreads between layers.
    """

    upper_resistance: float
    lower_resistance: float

    @property
    def resistance(self) -> float:
        """Mean of the two [m2 K/W]."""
        return (self.upper_resistance + self.lower_resistance) / 2

    @property
    def u_value(self) -> float:
        """U by the mean resistance [W/(m2 K)]; of use only where the method is `valid`."""
        return 1 / self.resistance

    @property
    def u_lower(self) -> float:
        """Lower bound of U [W/(m2 K)]."""
        return 1 / self.upper_resistance

    @property
    def u_upper(self) -> float:
        """Upper bound of U [W/(m2 K)]."""
        return 1 / self.lower_resistance

    @property
    def ratio(self) -> float:
        """Upper resistance over the lower one [1]."""
        return self.upper_resistance / self.lower_resistance

    @property
    def error(self) -> float:
        """Largest error of the mean, as a share of it [1]."""
        return (self.upper_resistance - self.lower_resistance) / (2 * self.resistance)

    @property
    def valid(self) -> bool:
        """Whether the bounds lie near enough for their mean to be an answer."""
        return self.ratio <= MOST_RATIO


@dataclass(frozen=True, slots=True, kw_only=True)
class WallSectionU:
    """The wall's section with the spread of its materials: U and its bounds, each (low, middle, high) [W/(m2 K)]."""

    middle: SectionU
    u_value: tuple[float, float, float]
    u_lower: tuple[float, float, float]
    u_upper: tuple[float, float, float]
    log_path: float
    joint_path: float


def combined(
    thicknesses: Sequence[float],
    paths: Sequence[tuple[float, InLayers]],
    *,
    inside: float = INSIDE,
    outside: float = OUTSIDE,
) -> SectionU:
    """Both bounds of a section of layers through which unlike paths run.

    Args:
        thicknesses: of the layers [m].
        paths: the share of the face [1] and the conductivity in each layer [W/(m K)] of each path; shares sum to 1.
        inside: surface resistance inside [m2 K/W].
        outside: surface resistance outside [m2 K/W].

    Raises:
        InputError: shares that do not sum to 1, or a thickness or conductivity not above 0.

    Sources: ISO 6946, combined method.
    """
    shares = [share for share, _ in paths]
    if abs(math.fsum(shares) - 1) > 1e-9 or min(shares) < 0:
        raise InputError("the shares of the paths through a wall sum to 1")
    if min(thicknesses) < 0 or any(k <= 0 for _, path in paths for k in path):
        raise InputError("layers have a thickness and a conductivity above 0")
    films = inside + outside
    straight = math.fsum(
        share / (films + math.fsum(d / k for d, k in zip(thicknesses, path, strict=True))) for share, path in paths
    )
    spread = films + math.fsum(
        d / math.fsum(share * path[n] for share, path in paths) for n, d in enumerate(thicknesses)
    )
    return SectionU(upper_resistance=1 / straight, lower_resistance=spread)


def section_of(section: WallSection, wood_fraction: float, materials: WallMaterials) -> SectionU:
    """Bounds of the wall's own section; log ends that stand proud count to the mortar face.

    Args:
        section: the wall's section.
        wood_fraction: share of the face that is log end [1].
        materials: what it is made of.

    Raises:
        InputError: as `combined`.

    Sources: ISO 6946, combined method.
    """
    k = materials
    layers = layers_of(section)
    joint = tuple(k.mortar.value if mortar or k.fill is None else k.fill.value for _, mortar in layers)
    log = (k.along.value,) * len(layers)
    return combined([d for d, _ in layers], [(wood_fraction, log), (1 - wood_fraction, joint)])


def layers_of(section: WallSection) -> tuple[tuple[float, bool], ...]:
    """The joint's layers from outside in: thickness [m] and whether it is mortar."""
    if section.solid:
        return ((section.thickness, True),)
    return ((section.bead, True), (section.cavity, False), (section.bead, True))


def path_u(section: WallSection, materials: WallMaterials) -> tuple[float, float]:
    """U straight through a log end and straight through a joint [W/(m2 K)]."""
    return section_of(section, 1.0, materials).u_lower, section_of(section, 0.0, materials).u_lower


def varied(materials: WallMaterials) -> tuple[tuple[WallMaterials, WallMaterials], ...]:
    """The wall with one material after another at its low and at its high; those without spread are left out."""
    found = []
    for name in ("along", "across", "mortar", "fill"):
        part: Conductivity | None = getattr(materials, name)
        if part is not None and part.low < part.high:
            ends = (replace(part, value=part.low), replace(part, value=part.high))
            found.append((replace(materials, **{name: ends[0]}), replace(materials, **{name: ends[1]})))
    return tuple(found)


def banded(reckoned: Callable[[WallMaterials], float], materials: WallMaterials) -> tuple[float, float, float]:
    """Low, middle and high of what follows from the materials, each of which errs on its own.

    Args:
        reckoned: what follows; it rises with every conductivity.
        materials: with their spread.

    Sources: closed form (`independent-errors`).
    """
    middle = reckoned(materials)
    ends = [(reckoned(low), reckoned(high)) for low, high in varied(materials)]
    less = math.hypot(*(min(0.0, low - middle) for low, _ in ends))
    more = math.hypot(*(max(0.0, high - middle) for _, high in ends))
    return middle - less, middle, middle + more


def wall_section(section: WallSection, wood_fraction: float, materials: WallMaterials) -> WallSectionU:
    """U of the wall's section, its bounds, and how far they move with what the materials may be.

    Args:
        section: the wall's section.
        wood_fraction: share of the face that is log end [1].
        materials: what it is made of.

    Raises:
        InputError: as `combined`.

    Sources: ISO 6946, combined method; independent errors.
    """

    def of(name: str) -> tuple[float, float, float]:
        return banded(lambda m: float(getattr(section_of(section, wood_fraction, m), name)), materials)

    log, joint = path_u(section, materials)
    return WallSectionU(
        middle=section_of(section, wood_fraction, materials),
        u_value=of("u_value"),
        u_lower=of("u_lower"),
        u_upper=of("u_upper"),
        log_path=log,
        joint_path=joint,
    )
