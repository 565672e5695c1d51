"""What moves the wall's U most: its wood, its thickness, its beads, or what is in the cavity?"""

from dataclasses import dataclass, replace
from typing import Final, Literal

import numpy as np
from numpy.typing import NDArray

from cordwright.heat.conductivity import WallMaterials
from cordwright.heat.section import path_u, section_of, varied
from cordwright.heat.unit_cell import unit_cell
from cordwright.plan.inputs import WallSection

Cause = Literal["grain", "mortar", "fill", "length", "bead", "fraction"]
STEP: Final = 0.10
"""Share by which what the owner chooses is varied [1]; what is only uncertain goes by its own spread."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Driver:
    """One cause and by what share U moves when it goes down and when it goes up [1]."""

    cause: Cause
    low: float
    high: float

    @property
    def reach(self) -> float:
        """The larger of both moves [1]."""
        return max(abs(self.low), abs(self.high))


@dataclass(frozen=True, slots=True, kw_only=True)
class Drivers:
    """What moves U, the strongest first, and the two paths side by side [W/(m2 K)]."""

    unsure: tuple[Driver, ...]
    chosen: tuple[Driver, ...]
    log_path: float
    joint_path: float


def drivers(
    section: WallSection, wood_fraction: float, materials: WallMaterials, diameters: NDArray[np.float64]
) -> Drivers:
    """Rank what moves U: what is only uncertain by its spread, what the owner chooses by a tenth either way.

    Args:
        section: the wall's section.
        wood_fraction: log end over face [1].
        materials: what the wall is made of.
        diameters: of the log ends [m]; with none the two bounds' mean stands for the resolved cell.

    Sources: closed form (differences of the unit cell).
    """

    def u(where: WallSection, fraction: float, what: WallMaterials) -> float:
        if not diameters.size:
            return section_of(where, fraction, what).u_value
        return unit_cell(where, fraction, what, diameters).u_value

    base = u(section, wood_fraction, materials)

    def driver(cause: Cause, low: float, high: float) -> Driver:
        return Driver(cause=cause, low=low / base - 1, high=high / base - 1)

    names: tuple[tuple[str, Cause], ...] = (("along", "grain"), ("mortar", "mortar"), ("fill", "fill"))
    unsure = []
    for low, high in varied(materials):
        for name, cause in names:
            if getattr(low, name) != getattr(materials, name):
                unsure.append(driver(cause, u(section, wood_fraction, low), u(section, wood_fraction, high)))
    less, more = 1 - STEP, 1 + STEP
    lengths = [replace(section, log_end_length=f * section.log_end_length) for f in (less, more)]
    beads = [replace(section, bead=f * section.bead) for f in (less, more)]
    fractions = [wood_fraction * less, min(0.9, wood_fraction * more)]
    chosen = (
        driver("length", *(u(s, wood_fraction, materials) for s in lengths)),
        driver("bead", *(u(s, wood_fraction, materials) for s in beads)),
        driver("fraction", *(u(section, f, materials) for f in fractions)),
    )
    log, joint = path_u(section, materials)
    return Drivers(
        unsure=tuple(sorted(unsure, key=lambda d: -d.reach)),
        chosen=tuple(sorted(chosen, key=lambda d: -d.reach)),
        log_path=log,
        joint_path=joint,
    )
