"""The stock does not close the wall: what is missing, and what are the choices, each with its numbers?

All from the owner's own sizes and joints by the same estimate that chooses the joint: what closes a panel, as a share
of the finite-wall reference. No log is ever scaled.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from cordwright.wall import region as regions
from cordwright.wall import stocking
from cordwright.wall.inputs import Joints
from cordwright.wall.laid_study import SIZE_CLASSES, Shortage, SizeClass, Widened
from cordwright.wall.layout import Face, Log
from cordwright.wall.region import Region

WIDEST_ASKED = 0.150
"""Up to this joint [m] it is asked which would close the wall; beyond it a wall is a wall of mortar."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Supply:
    """How the stock was counted: logs in it, stems they came from, stacked volume [m3], share kept of culls and spares.

    0 stems or stacked volume: not counted so.
    """

    logs: int
    stems: int = 0
    stacked: float = 0.0
    kept: float = 1.0


def shortage_of(
    faces: Sequence[Face],
    stock: Sequence[Log],
    joints: Joints,
    supply: Supply,
    *,
    mortar_depth: float | None,
    size_class: float = SIZE_CLASSES["metric"],
) -> Shortage | None:
    """Say what a stock lacks to close all panels; None when it closes them at some joint up to the largest.

    Args:
        faces: all panels.
        stock: logs that may be used, culls and spares left out.
        joints: joint widths as stated.
        supply: how the stock was counted.
        mortar_depth: depth of mortar in a joint, all beads together [m].
        size_class: breadth of a class of diameters [m].
    """
    joint = joints.largest
    lacking = _lacking(faces, stock, joint, joints.edge)
    if not stock or lacking <= 0:
        return None
    logs, more = (_logs_for(_lacking(faces, stock, j, joints.edge), stock, j) for j in (joint, joints.nominal))
    wood = sum(math.pi * log.diameter**2 / 4 for log in stock) / len(stock)
    closing = _closing_joint(faces, stock, joints)
    return Shortage(
        joint=joint,
        wall_area=lacking / _wanted(faces, stock, joint, joints.edge) * sum(p.area for p in _parts(faces)),
        wood_area=logs * wood,
        logs=logs,
        logs_nominal=more,
        classes=size_classes(stock, logs, size_class),
        stems=math.ceil(logs / supply.kept * supply.stems / supply.logs) if supply.stems else None,
        stacked=logs / supply.kept * supply.stacked / supply.logs if supply.stacked and not supply.stems else None,
        closing_joint=closing,
        closing_mortar=None
        if closing is None
        else extra_mortar(faces, stock, joints, wide=closing, narrow=joint, depth=mortar_depth),
        height=height_reached(faces, stock, joint, joints.edge),
        openings_top=max((y - _bed(f) for f in faces for hole in f.openings for _, y in hole.outline), default=0.0),
    )


def widened(
    faces: Sequence[Face], stock: Sequence[Log], joints: Joints, joint: float, *, mortar_depth: float | None
) -> Widened | None:
    """Say what a joint wider than nominal costs in mortar; None when it is not wider.

    Args:
        faces: all panels.
        stock: logs that may be used.
        joints: joint widths as stated.
        joint: the joint that was laid [m].
        mortar_depth: depth of mortar in a joint, all beads together [m].
    """
    if joint <= joints.nominal + 1e-9 or not stock:
        return None
    mortar = extra_mortar(faces, stock, joints, wide=joint, narrow=joints.nominal, depth=mortar_depth)
    return Widened(joint=joint, nominal=joints.nominal, extra_mortar=mortar)


def extra_mortar(
    faces: Sequence[Face],
    stock: Sequence[Log],
    joints: Joints,
    *,
    wide: float,
    narrow: float,
    depth: float | None,
) -> float | None:
    """Give how much more mortar the closed wall takes at one joint than at a narrower one [m3].

    Args:
        faces: all panels.
        stock: logs of the sizes at hand.
        joints: joint widths as stated.
        wide: clear joint [m].
        narrow: the other [m].
        depth: of mortar in a joint, all beads together [m]; None is unknown.
    """
    if depth is None:
        return None
    wood = [_wanted(faces, stock, j, joints.edge) * _wood_share(stock, j) for j in (narrow, wide)]
    return (wood[0] - wood[1]) * depth


def _wood_share(stock: Sequence[Log], joint: float) -> float:
    """Share of discs with half a joint around them that is wood [1]."""
    return sum(log.diameter**2 for log in stock) / sum((log.diameter + joint) ** 2 for log in stock)


def _parts(faces: Sequence[Face], height: float = math.inf) -> list[Region]:
    return [part for face in faces for part in regions.regions_of(face, _bed(face) + height)]


def _bed(face: Face) -> float:
    return min(y for _, y in face.outline)


def _discs(faces: Sequence[Face], joint: float, height: float = math.inf) -> float:
    discs = [o.diameter for face in faces for o in face.obstacles if o.y - _bed(face) < height]
    return sum(math.pi * ((d + joint) / 2) ** 2 for d in discs)


def _lacking(faces: Sequence[Face], stock: Sequence[Log], joint: float, edge: float, height: float = math.inf) -> float:
    return stocking.lacking(_parts(faces, height), stock, joint, edge, _discs(faces, joint, height))


def _wanted(faces: Sequence[Face], stock: Sequence[Log], joint: float, edge: float) -> float:
    sizes = stocking.inflated(stock, joint)
    return stocking.wanted(_parts(faces), sizes, edge - joint / 2) - _discs(faces, joint)


def _logs_for(lacking: float, stock: Sequence[Log], joint: float) -> int:
    each = stocking.supplied(stocking.inflated(stock, joint)) / len(stock)
    return math.ceil(lacking / each - 1e-9)


def size_classes(stock: Sequence[Log], count: int, breadth: float = SIZE_CLASSES["metric"]) -> tuple[SizeClass, ...]:
    """Part a number of missing logs over classes of diameter in the proportion of a stock; the parts make up the whole.

    Args:
        stock: the owner's logs.
        count: logs missing.
        breadth: of a class [m].
    """
    numbers = [math.floor(log.diameter / breadth + 1e-9) for log in stock]
    found = sorted(set(numbers))
    exact = [count * numbers.count(n) / len(numbers) for n in found]
    whole = [math.floor(e) for e in exact]
    rest = sorted(range(len(found)), key=lambda i: whole[i] - exact[i])[: count - sum(whole)]
    counts = [w + (i in rest) for i, w in enumerate(whole)]
    return tuple(
        SizeClass(low=n * breadth, high=(n + 1) * breadth, count=c) for n, c in zip(found, counts, strict=True) if c
    )


def _closing_joint(faces: Sequence[Face], stock: Sequence[Log], joints: Joints) -> float | None:
    if _lacking(faces, stock, WIDEST_ASKED, joints.edge) > 0:
        return None
    return stocking.even_joint(lambda j: _lacking(faces, stock, j, joints.edge), joints.largest, WIDEST_ASKED)


def height_reached(faces: Sequence[Face], stock: Sequence[Log], joint: float, edge: float) -> float:
    """Give the height over the bed up to which a stock closes all panels alike [m].

    Args:
        faces: all panels.
        stock: logs that may be used.
        joint: clear joint between logs [m].
        edge: joint at edges [m].
    """
    low, high = 0.0, max(y - _bed(face) for face in faces for _, y in face.outline)
    while high - low > 1e-3:
        middle = (low + high) / 2
        low, high = (middle, high) if _lacking(faces, stock, joint, edge, middle) <= 0 else (low, middle)
    return low
