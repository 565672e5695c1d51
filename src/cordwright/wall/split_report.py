"""How did a panel with halves and quarters come out? The report of rounds, with what splits add and block.

`effectiveness` counts a split as its half or quarter disc grown all around by half a joint, as a round is.
"""

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from cordwright.wall import _split_kernels as kernels
from cordwright.wall.layout import LayoutReport, Placement
from cordwright.wall.packing import reference
from cordwright.wall.region import Floats
from cordwright.wall.report import FAR, LARGE, Laid, florian_bound, report_of
from cordwright.wall.split_shapes import KINDS, even_radius, face_of, grown_area, placed_stand_ins
from cordwright.wall.supports import SLACK

Span = tuple[int, int, float]


def blocks_of(placements: Sequence[Placement]) -> list[Floats]:
    """By split, the discs that stand in for it, shapes (n, 3) [m]."""
    return [placed_stand_ins(p.log, p.x, p.y, p.angle) for p in placements if p.log.shape != "round"]


def with_splits(laid: Laid, placements: Sequence[Placement]) -> LayoutReport:
    """Describe a panel with splits in numbers.

    Args:
        laid: its rounds and all that is no log.
        placements: all its logs.
    """
    report = report_of(replace(laid, others=np.vstack((laid.others, *blocks_of(placements)))))
    half = laid.joint / 2
    wood = sum(face_of(p.log) for p in placements)
    inflated = np.array([even_radius(p.log) + half for p in placements])
    grown = laid.area + (half - laid.edge) * laid.perimeter
    filled = sum(grown_area(p.log.shape, p.log.diameter / 2, half) for p in placements)
    spans = _spans(placements)
    near = [gap for a, b, gap in spans if gap <= laid.joint or _is_free(placements, laid.others, a, b)]
    return replace(
        report,
        wood_fraction=wood / laid.net_area if laid.net_area else 0.0,
        effectiveness=filled / grown if grown > 0 else 0.0,
        reference=reference(laid.area, laid.perimeter, inflated),
        florian_bound=florian_bound(float(inflated.max()), float(inflated.min())),
        joint_min=min(near, default=laid.joint),
        joint_max=max(near, default=laid.joint),
        clustering=_clustering(placements, [s for s in spans if s[2] <= laid.joint + SLACK]),
        mortar_area=laid.area - wood - np.pi * float(np.sum(laid.others[:, 2] ** 2)),
    )


def _shape(placed: Placement) -> Floats:
    return np.array([float(KINDS[placed.log.shape]), np.cos(placed.angle), np.sin(placed.angle)])


def gap_between(a: Placement, b: Placement) -> float:
    """Clear joint between two logs of any shape [m]."""
    ra, rb = a.log.diameter / 2, b.log.diameter / 2
    return float(kernels.meet(_shape(a), a.x, a.y, ra, _shape(b), b.x, b.y, rb, 0.0)[0])


def _spans(placements: Sequence[Placement]) -> list[Span]:
    """Pairs of logs near enough to be neighbours, with their joint."""
    x, y, r = (np.array(c) for c in zip(*((p.x, p.y, p.log.diameter / 2) for p in placements), strict=True))
    first, second = np.nonzero(np.triu(np.hypot(x[:, None] - x, y[:, None] - y) - r[:, None] - r <= FAR, k=1))
    pairs = zip(first.tolist(), second.tolist(), strict=True)
    spans = ((a, b, gap_between(placements[a], placements[b])) for a, b in pairs)
    return [span for span in spans if span[2] <= FAR]


def _is_free(placements: Sequence[Placement], others: Floats, a: int, b: int) -> bool:
    """Whether no other log, filler, pipe or bottle reaches into the circle that just spans the joint between two."""
    one, two = placements[a], placements[b]
    gap, nx, ny, qx, qy = kernels.meet(
        _shape(one), one.x, one.y, one.log.diameter / 2, _shape(two), two.x, two.y, two.log.diameter / 2, 0.0
    )  # fmt: skip
    if one.log.shape == "round":
        qx, qy = one.x - nx * one.log.diameter / 2, one.y - ny * one.log.diameter / 2
    mx, my = qx - nx * gap / 2, qy - ny * gap / 2
    dot = np.zeros(3)
    if np.any(np.hypot(others[:, 0] - mx, others[:, 1] - my) - others[:, 2] < gap / 2 - 1e-9):
        return False
    return all(
        kernels.meet(_shape(p), p.x, p.y, p.log.diameter / 2, dot, mx, my, 0.0, 0.0)[0] >= gap / 2 - 1e-9
        for n, p in enumerate(placements)
        if n not in (a, b) and np.hypot(p.x - mx, p.y - my) < p.log.diameter / 2 + gap / 2
    )


def _clustering(placements: Sequence[Placement], near: Sequence[Span]) -> float:
    """Contacts among the largest faces over what chance would give."""
    n = len(placements)
    large = max(1, round(LARGE * n))
    expected = len(near) * large * (large - 1) / (n * (n - 1)) if n > 1 else 0.0
    if expected <= 0:
        return 1.0
    by_size = sorted(range(n), key=lambda i: -even_radius(placements[i].log))
    among = set(by_size[:large])
    return sum(a in among and b in among for a, b, _ in near) / expected
