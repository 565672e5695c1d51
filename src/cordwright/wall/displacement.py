"""How much mortar do the stones and sticks in the gaps take the place of?

A stone sits in one bead and does not reach through the cavity: where the drawing shows a gap one is set in each bead,
as deep as the bead. Its displacement is its face times the depth of mortar behind it, both beads together.

Sources: assumption (`gap-stone-depth`).
"""

import math
from collections.abc import Sequence
from typing import Final

from cordwright.base import Cite, InputError
from cordwright.wall.layout import Filler

DEPTH_RULE: Final = Cite("gap-stone-depth", "a stone in each bead, as deep as the bead")


def filler_area(fillers: Sequence[Filler]) -> float:
    """Face of a panel's fillers, mean of both beads [m2]; the mortar area of a layout leaves it out already."""
    return math.fsum(f.stones / 2 * math.pi / 4 * f.diameter**2 for f in fillers)


def displaced(fillers: Sequence[Filler], mortar_depth: float) -> float:
    """Mortar that the stones of a panel take the place of, in both beads together [m3].

    Args:
        fillers: stones and sticks as drawn, one mark for one in each bead.
        mortar_depth: depth of mortar in a joint, both beads together [m].

    Raises:
        InputError: a depth that is negative or no number.

    Sources: assumption (`gap-stone-depth`).
    """
    if not (math.isfinite(mortar_depth) and mortar_depth >= 0):
        raise InputError(f"the depth of mortar must be 0 or more, not {mortar_depth}")
    return filler_area(fillers) * mortar_depth


def stones_in(fillers: Sequence[Filler]) -> int:
    """Stones to have at hand for a panel: one in each bead that a mark reaches."""
    return sum(f.stones for f in fillers)
