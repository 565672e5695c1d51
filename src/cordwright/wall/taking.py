"""What does a piece of laid wall take? Amounts that add up: logs, areas on the centre line, volumes, masses."""

import math
from collections.abc import Iterable
from dataclasses import dataclass, fields
from typing import Any


@dataclass(frozen=True, slots=True, kw_only=True)
class Taken:
    """What a piece of laid wall takes, in place and without waste; the parts of a panel add up to the whole of it.

    Counts are no whole numbers where a part not laid is carried. Areas on the centre line [m2]: log ends, joints,
    stones in gaps, sleeves and bottle ends. Volumes [m3]: solid wood, the inner and the outer bead (of a solid joint
    each half of its depth), what stones displace, loose fill. `joint_length`: of joint to point on one face, half the
    length of all its sides [m]. Masses [kg]: log ends at laying and fresh mortar; None where not known.
    """

    logs: float
    chips: float
    stones: float
    wood_area: float
    joint_area: float
    stone_area: float
    fixed_area: float
    wood_volume: float
    inner_bead: float
    outer_bead: float
    stone_volume: float
    fill_volume: float
    joint_length: float
    log_mass: float | None
    mortar_mass: float | None

    @property
    def masonry_area(self) -> float:
        """Face of logs, joints and stones: all but sleeves and bottle ends [m2]."""
        return self.wood_area + self.joint_area + self.stone_area

    @property
    def face_area(self) -> float:
        """All of its face between frames [m2]."""
        return self.masonry_area + self.fixed_area

    @property
    def mortar_volume(self) -> float:
        """Mortar of both beads [m3]."""
        return self.inner_bead + self.outer_bead


AMOUNTS = tuple(f.name for f in fields(Taken))


def together(parts: Iterable[Taken]) -> Taken:
    """Add up what parts of a wall take, exactly rounded; a mass is known when it is known of every part."""
    rows = list(parts)
    amounts: dict[str, Any] = {name: _sum([getattr(row, name) for row in rows]) for name in AMOUNTS}
    return Taken(**amounts)


def _sum(amounts: list[float | None]) -> float | None:
    known = [a for a in amounts if a is not None]
    return math.fsum(known) if len(known) == len(amounts) else None


def scaled(taken: Taken, factor: float) -> Taken:
    """Give a multiple of what a piece of wall takes.

    Args:
        taken: what it takes.
        factor: how many such pieces [1].
    """
    amounts: dict[str, Any] = {name: getattr(taken, name) for name in AMOUNTS}
    amounts = {name: None if a is None else a * factor for name, a in amounts.items()}
    return Taken(**amounts)
