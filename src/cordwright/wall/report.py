"""How did a panel come out: how much wood, how even the joints, how straight the longest mortar run?"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from cordwright.base import Cite
from cordwright.wall import _gap_kernels, _kernels
from cordwright.wall._run_kernels import longest_run
from cordwright.wall.layout import LayoutReport
from cordwright.wall.packing import reference
from cordwright.wall.region import Floats, Region
from cordwright.wall.supports import SLACK

METHOD = (
    Cite("kim-hilgenfeldt-2024", "abstract: swaps of sizes in over-full packings"),
    Cite("bitzek-2006", "fast inertial relaxation"),
    Cite("roberts-r2", "the R2 sequence"),
    Cite("florian-1960", "no packing of discs of a size ratio is denser than the triangle of one large and two small"),
    Cite("disc-rows", "hexagonal packing; a row of discs along a straight edge"),
    Cite("log-rest", "two contacts from below"),
    Cite("lift-height", "height and number of logs of a lift"),
    Cite("layout-density", "share of the reference at which a panel is closed"),
    Cite("gap-stone", "gap that mortar alone does not fill"),
)
"""What the layout rests on."""

RUN_WIDTH = 0.008
"""A straight run counts where a strip this wide is clear of logs [m]."""

LARGE = 0.15
"""Share of the logs that count as the large ones when heaps are looked for."""

FAR = 0.12
"""Logs farther apart than this are no neighbours [m]."""


def florian_bound(largest: float, smallest: float) -> float:
    """Give the share that discs between two radii can fill at most: the triangle of one large and two small.

    Args:
        largest: inflated radius of the largest log [m].
        smallest: inflated radius of the smallest log [m].

    Sources: Florian 1960 (through Fernique 2021).
    """
    at_large = 2.0 * math.asin(smallest / (largest + smallest))
    at_small = (math.pi - at_large) / 2.0
    height = math.sqrt((largest + smallest) ** 2 - smallest**2)
    wood = at_large * largest**2 / 2.0 + at_small * smallest**2
    return wood / (smallest * height)


@dataclass(frozen=True, slots=True, kw_only=True)
class Laid:
    """What a report looks at: regions laid, logs (centres, true radii), other discs (fillers, pipes, bottles) [m].

    `net_area`: the panel's outline less its openings [m2], laid or not.
    """

    regions: Sequence[Region]
    net_area: float
    x: Floats
    y: Floats
    radius: Floats
    others: Floats
    joint: float
    edge: float
    unsupported: int

    @property
    def area(self) -> float:
        """Area of the regions laid [m2]."""
        return sum(r.area for r in self.regions)

    @property
    def perimeter(self) -> float:
        """Length of all edges of the regions laid [m]."""
        return sum(r.perimeter for r in self.regions)


def report_of(laid: Laid) -> LayoutReport:
    """Describe a laid panel in numbers."""
    inflated = laid.radius + laid.joint / 2
    wood = float(np.sum(laid.radius**2)) * math.pi
    grown = laid.area + (laid.joint / 2 - laid.edge) * laid.perimeter
    smallest, largest = joints_between(laid)
    return LayoutReport(
        wood_fraction=wood / laid.net_area if laid.net_area else 0.0,
        effectiveness=float(np.sum(inflated**2)) * math.pi / grown if grown > 0 else 0.0,
        reference=reference(laid.area, laid.perimeter, inflated),
        florian_bound=florian_bound(float(inflated.max()), float(inflated.min())) if len(inflated) else 0.0,
        joint_min=smallest,
        joint_nominal=laid.joint,
        joint_max=largest,
        unsupported=laid.unsupported,
        straight_run=straight_run(laid),
        clustering=clustering(laid),
        mortar_area=laid.area - wood - math.pi * float(np.sum(laid.others[:, 2] ** 2)),
        joint_hollow_min=smallest,
        joint_wide_max=largest,
    )


def _pairs(laid: Laid, within: float) -> Floats:
    """Pairs of logs whose clear distance is at most a width: numbers of both and the distance."""
    reach = laid.radius + within / 2
    pairs = np.empty((len(reach) * 60 + 60, 2), np.int64)
    count = _kernels.list_pairs(laid.x, laid.y, reach, len(reach), pairs) if len(reach) else 0
    i, k = pairs[:count].T
    gaps = np.hypot(laid.x[i] - laid.x[k], laid.y[i] - laid.y[k]) - laid.radius[i] - laid.radius[k]
    near: Floats = np.column_stack((i, k, gaps))[gaps <= within]
    return near


def joints_between(laid: Laid) -> tuple[float, float]:
    """Give the least and the largest clear joint between neighbouring logs [m].

    Neighbours are two logs between which nothing else reaches into the circle that just spans the gap. Where there are
    none the nominal joint is given for both.
    """
    x, y, radius = (np.concatenate((a, laid.others[:, n])) for n, a in enumerate((laid.x, laid.y, laid.radius)))
    none = np.zeros((0, 7)), np.zeros((0, 2))
    spans: list[float] = []
    for i, k, gap in _pairs(laid, FAR).tolist():
        a, b = int(i), int(k)
        share = (radius[a] + gap / 2) / (radius[a] + radius[b] + gap)
        mx, my = x[a] + share * (x[b] - x[a]), y[a] + share * (y[b] - y[a])
        if gap <= laid.joint or _gap_kernels.clearance(mx, my, x, y, radius, *none, 0.0) >= gap / 2 - 1e-9:
            spans.append(gap)
    return (min(spans), max(spans)) if spans else (laid.joint, laid.joint)


def clustering(laid: Laid) -> float:
    """Compare contacts among the largest logs with what chance would give: 1 is chance, more is heaps.

    Too few logs to have contacts count as chance.
    """
    n = len(laid.radius)
    large = max(1, round(LARGE * n))
    near = _pairs(laid, laid.joint + SLACK)[:, :2].astype(np.int64)
    expected = len(near) * large * (large - 1) / (n * (n - 1)) if n > 1 else 0.0
    if expected <= 0:
        return 1.0
    among = np.zeros(n, bool)
    among[np.argsort(-laid.radius, kind="stable")[:large]] = True
    return float(np.sum(among[near].all(axis=1)) / expected)


def straight_run(laid: Laid) -> float:
    """Give the longest straight strip of mortar that meets no log, the joints along the edges left out [m]."""
    from cordwright.wall.region import polygons

    x, y, radius = (np.concatenate((a, laid.others[:, n])) for n, a in enumerate((laid.x, laid.y, laid.radius)))
    longest = 0.0
    for region in laid.regions:
        for inner in polygons(region.shape.buffer(-(laid.edge + RUN_WIDTH / 2))):
            rings = [np.asarray(ring.coords) for ring in (inner.exterior, *inner.interiors)]
            sides = np.concatenate([np.hstack((ring[:-1], ring[1:])) for ring in rings])
            longest = max(longest, float(longest_run(x, y, radius + RUN_WIDTH / 2, sides, 60, 0.004)))
    return longest
