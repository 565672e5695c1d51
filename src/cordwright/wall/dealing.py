"""Which panel gets which logs of the stock, and what even joint does the whole wall ask for?"""

import math
from collections.abc import Mapping, Sequence

import numpy as np

from cordwright.wall import region as regions
from cordwright.wall import stocking
from cordwright.wall.faces import hollow_face
from cordwright.wall.gaps import empty_circles
from cordwright.wall.inputs import Joints
from cordwright.wall.layout import Face, Log
from cordwright.wall.rails import rails_of, room_for
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

    Halves and quarters go where there are edges for their flats; what the edges cannot take goes by area.

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
    areas = {face.name: hollow_area(face) for face in faces}
    splits = [log for log in stock if log.shape != "round"]
    rooms = {
        face.name: edge_room(regions.regions_of(near), near, edge, splits)
        for face, near in ((f, hollow_face(f)) for f in faces)
    }
    flat = share_splits(splits, rooms, areas, joint=joint)
    rounds = stocking.share_out(stocking.round_logs(stock), left_for_rounds(areas, flat, joint), sizes)
    return {name: (*logs, *flat[name]) for name, logs in rounds.items()}


def left_for_rounds(areas: Mapping[str, float], splits: Mapping[str, Sequence[Log]], joint: float) -> dict[str, float]:
    """Give what of each area is left once its splits stand there [m2], never less than a tenth.

    Args:
        areas: by share [m2].
        splits: by share, its halves and quarters.
        joint: clear joint between logs [m].
    """
    return {
        name: max(area - stocking.split_area(splits[name], joint) / stocking.FILLED, area / 10)
        for name, area in areas.items()
    }


def edge_room(parts: Sequence[Region], face: Face, edge: float, splits: Sequence[Log]) -> float:
    """Give the length of edges on which a small split lies flat [m]; 0 without splits.

    Args:
        parts: the regions of a panel.
        face: the panel.
        edge: joint at edges [m].
        splits: halves and quarters in hand.
    """
    if not splits:
        return 0.0
    least = float(np.quantile([log.diameter / 2 for log in splits], 0.1))
    return sum(room_for(rails_of(part, face, edge), least) for part in parts)


def share_splits(
    splits: Sequence[Log], rooms: Mapping[str, float], areas: Mapping[str, float], *, joint: float
) -> dict[str, tuple[Log, ...]]:
    """Deal halves and quarters out by the edges they lie flat on, what the edges cannot take by area.

    Args:
        splits: halves and quarters.
        rooms: by share, length of its edges [m].
        areas: by share, its area [m2].
        joint: clear joint between logs [m].
    """
    if not splits:
        return {name: () for name in areas}
    need = sum(log.diameter * (1.0 if log.shape == "half" else 0.5) + joint for log in splits)
    share = min(1.0, sum(rooms.values()) / need)
    ordered = sorted(splits, key=lambda log: (log.shape, log.diameter, log.id))
    flat = [log for n, log in enumerate(ordered) if int((n + 1) * share) > int(n * share)]
    field = [log for n, log in enumerate(ordered) if int((n + 1) * share) <= int(n * share)]
    anywhere = dict.fromkeys(areas, math.inf)
    at_edges, inside = stocking.share_out(flat, rooms, anywhere), stocking.share_out(field, areas, anywhere)
    return {name: (*at_edges[name], *inside[name]) for name in areas}


def widest_place(faces: Sequence[Face], edge: float) -> float:
    """Give the diameter of the largest round that fits into any panel [m]; 0 where none does.

    Args:
        faces: the panels.
        edge: joint at edges [m].
    """
    return max((2 * widest(part, edge) for face in faces for part in regions.regions_of(face)), default=0.0)


def widest(part: Region, offset: float) -> float:
    """Inflated radius of the largest disc that fits into an empty region [m]."""
    none = np.zeros(0)
    found = empty_circles(part, offset, (none, none, none), 0.02)
    return found[0][2] if found else 0.0
