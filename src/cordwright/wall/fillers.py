"""Where is a gap too wide for mortar alone, and how large a stone or stick fills it?"""

from collections.abc import Sequence

import numpy as np

from cordwright.wall.gaps import empty_circles
from cordwright.wall.layout import Disc, Filler, Placement
from cordwright.wall.region import Region
from cordwright.wall.split_shapes import placed_stand_ins

WIDEST_GAP = 0.075
"""A gap in which a circle of this diameter finds room takes a filler [m] (`gap-stone`)."""

LEAST_FILLER = 0.02
"""Smallest filler worth setting [m] (`gap-stone`)."""


def fillers_for(
    parts: Sequence[Region],
    placements: Sequence[Placement],
    obstacles: Sequence[Disc],
    joint: float,
    stones: Sequence[tuple[float, float, float]] = (),
) -> tuple[Filler, ...]:
    """Give a filler for each gap that is too wide, a joint clear of everything around it.

    Args:
        parts: the regions laid.
        placements: all logs in their places.
        obstacles: pipes and bottle ends.
        joint: clear joint between logs [m].
        stones: middles and radii of fillers that are there already [m].
    """
    discs = [disc for p in placements for disc in _discs(p)] + [(o.x, o.y, o.diameter / 2) for o in obstacles]
    discs += stones
    return tuple(filler for part in parts for filler in _fill(part, discs, joint))


def _discs(placed: Placement) -> list[tuple[float, float, float]]:
    """The log, or what stands in for a split."""
    if placed.log.shape == "round":
        return [(placed.x, placed.y, placed.log.diameter / 2)]
    return [(x, y, r) for x, y, r in placed_stand_ins(placed.log, placed.x, placed.y, placed.angle).tolist()]


def _fill(part: Region, discs: Sequence[tuple[float, float, float]], joint: float) -> list[Filler]:
    """Set fillers from the widest gap on; gaps left beside them are looked at again.

    They are looked for on a grid fine enough for gaps half as wide, so that none is overlooked between its points.
    """
    fillers: list[Filler] = []
    while True:
        table = np.array([*discs, *((f.x, f.y, f.diameter / 2) for f in fillers)]).reshape(-1, 3)
        x, y, radius = (np.ascontiguousarray(column) for column in table.T)
        found = empty_circles(part, 0.0, (x, y, radius), WIDEST_GAP / 4)
        fresh = _apart([circle for circle in found if circle[2] >= WIDEST_GAP / 2], joint)
        if not fresh:
            return fillers
        fillers += fresh


def _apart(circles: Sequence[tuple[float, float, float]], joint: float) -> list[Filler]:
    """Fillers for circles that do not meet, the wider first."""
    fresh: list[Filler] = []
    taken: list[tuple[float, float, float]] = []
    for x, y, gap in circles:
        size = 2 * gap - 2 * joint
        clear = all(np.hypot(x - a, y - b) >= gap + r for a, b, r in taken)
        if clear and size >= LEAST_FILLER:
            fresh.append(Filler(x=x, y=y, diameter=size))
            taken.append((x, y, gap))
    return fresh
