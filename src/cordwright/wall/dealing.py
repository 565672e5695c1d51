"""Which panel gets which logs of the stock, and what even joint does the whole wall ask for?"""

import math
from collections.abc import Sequence

import numpy as np

from cordwright.wall import region as regions
from cordwright.wall import stocking
from cordwright.wall.faces import hollow_face
from cordwright.wall.gaps import empty_circles
from cordwright.wall.inputs import Joints
from cordwright.wall.layout import Face, Log
from cordwright.wall.region import Region


def net_area(face: Face) -> float:
    """Give the area of a panel on its centre line less its openings [m2]."""
    return sum(part.area for part in regions.regions_of(face))


def hollow_area(face: Face) -> float:
    """Give the area of a panel less its openings where it is laid, at its hollow face [m2]."""
    return net_area(hollow_face(face))


def wall_joint(faces: Sequence[Face], stock: Sequence[Log], joints: Joints) -> float:
    """Give the narrowest even joint, nominal to largest, with which a stock closes all panels [m].

    Args:
        faces: the panels.
        stock: logs that may be used.
        joints: joint widths as stated.
    """
    parts = [part for face in faces for part in regions.regions_of(hollow_face(face))]
    discs = [o.diameter for face in faces for o in face.obstacles]

    def short(joint: float) -> float:
        taken = sum(math.pi * ((d + joint) / 2) ** 2 for d in discs)
        return stocking.lacking(parts, stock, joint, joints.edge, taken)

    return stocking.even_joint(short, joints.nominal, joints.largest)


def allot(stock: Sequence[Log], faces: Sequence[Face], *, joint: float, edge: float) -> dict[str, tuple[Log, ...]]:
    """Deal a stock out to panels in proportion to their area, every panel the same mix of the sizes that fit it.

    Args:
        stock: logs that may be used.
        faces: the panels.
        joint: clear joint between logs [m].
        edge: joint at edges [m].
    """
    offset = edge - joint / 2
    sizes = {
        face.name: max((2 * widest(p, offset) - joint for p in regions.regions_of(hollow_face(face))), default=0.0)
        for face in faces
    }
    return stocking.share_out(stocking.round_logs(stock), {face.name: hollow_area(face) for face in faces}, sizes)


def widest(part: Region, offset: float) -> float:
    """Inflated radius of the largest disc that fits into an empty region [m]."""
    none = np.zeros(0)
    found = empty_circles(part, offset, (none, none, none), 0.02)
    return found[0][2] if found else 0.0
