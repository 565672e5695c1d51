"""On what does each round, half and quarter rest, by name, and what is the mason told of a split?"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace

from cordwright.wall import _split_rest_kernels as kernels
from cordwright.wall._kernels import Floats
from cordwright.wall._support_kernels import is_held
from cordwright.wall.layout import Placement
from cordwright.wall.ordering import Standing
from cordwright.wall.packing import Packing
from cordwright.wall.region import Region, contains
from cordwright.wall.split_shapes import lowest
from cordwright.wall.splits import Bodies, Seat, bodies_of, split_state
from cordwright.wall.supports import SLACK

SIDES = ("left", "right")
ON_EDGE = 1e-3
"""A flat this near [m] to where an edge joint puts it, and this nearly along an edge [rad], lies on it."""


def standing_mixed(part: Region, solved: Packing, ids: Sequence[str], fixed: Sequence[Placement]) -> list[Standing]:
    """Name what holds each round and split laid in a region; locked logs that are still to be laid count with them.

    Args:
        part: the region.
        solved: where its logs stand.
        ids: id of each round of the stock, as `solved.which` numbers them.
        fixed: logs laid or locked, some of which stand in this region.
    """
    bodies = bodies_of(solved, true=True)
    names = _names(part, solved, ids, fixed)
    laid, locked = {p.log.id for p in fixed if p.order > 0}, {p.log.id for p in fixed if p.order <= 0}
    inside = contains(part, bodies.x, bodies.y)
    wanted = [i for i in range(bodies.moving) if names[i] not in laid]
    wanted += [k for k in range(bodies.moving, len(bodies.x)) if names[k] in locked and inside[k]]
    return _without_rings([_standing(part, solved, bodies, names, i) for i in wanted])


def _names(part: Region, solved: Packing, ids: Sequence[str], fixed: Sequence[Placement]) -> list[str]:
    """Names of all bodies as the kernels number them; what bears nothing has none."""
    splits, at = split_state(solved), {(p.x, p.y): p.log.id for p in fixed}
    still = [at.get((x, y), "") for x, y, _ in splits.still.reshape(-1, 3).tolist()]
    own = [*(ids[n] for n in solved.which.tolist()), *(splits.logs[s.which].id for s in splits.seats)]
    return [*own, *still, *part.kinds, *part.corner_kinds]


def _standing(part: Region, solved: Packing, bodies: Bodies, names: Sequence[str], i: int) -> Standing:
    seats = split_state(solved).seats
    seat = seats[i - solved.moving] if solved.moving <= i < bodies.moving else None
    held = _holders(part, solved, bodies, i)
    sides = [int(held[0]), int(held[2])]
    supports = list(dict.fromkeys(names[b] for b in (*sides, int(held[4])) if b >= 0))
    notes = [] if seat is None else [words_for(part, solved, seat)]
    if not is_held(held):
        missing = [side for side, b in zip(SIDES, sides, strict=True) if b < 0]
        supports.append("chip")
        notes.append(f"set on a chip on the {' and '.join(missing)}" if missing else "set on a chip")
    radius = float(bodies.radius[i]) - float(solved.joint_half)
    shape = "round" if seat is None else split_state(solved).logs[seat.which].shape
    angle = 0.0 if seat is None else math.remainder(seat.angle, 2 * math.pi)
    return Standing(
        id=names[i], x=float(bodies.x[i]), y=float(bodies.y[i]), radius=lowest(shape, radius, angle),
        supports=tuple(supports), note="; ".join(notes), angle=angle,
    )  # fmt: skip


def _holders(part: Region, solved: Packing, bodies: Bodies, i: int) -> Floats:
    import numpy as np

    bears = np.concatenate((np.ones(bodies.moving, bool), split_state(solved).bears))
    held: Floats = kernels.body_holders(
        i, bodies.x, bodies.y, bodies.radius, solved.joint_half, bodies.shape, bears, part.edges, part.corners,
        solved.offset, SLACK,
    )  # fmt: skip
    return held


def words_for(part: Region, solved: Packing, seat: Seat) -> str:
    """What the mason is told of a split: what it is and how its flats lie."""
    shape = split_state(solved).logs[seat.which].shape
    edge = solved.offset + solved.joint_half
    flats = [seat.angle] if shape == "half" else [seat.angle + s * math.pi / 4 for s in (1.0, -1.0)]
    found = list(dict.fromkeys(word for facing in flats for word in _flat_on(part, seat, facing, edge)))
    if found:
        return f"{shape}, flat {' and '.join(found)}"
    if any(abs(math.remainder(facing - math.pi / 2, 2 * math.pi)) < ON_EDGE for facing in flats):
        bark = "" if shape == "half" else f", bark to the {'right' if math.cos(seat.angle) > 0 else 'left'}"
        return f"{shape}, flat down{bark}"
    return f"{shape}, bark to the {'right' if math.cos(seat.angle) > 0 else 'left'}"


def _flat_on(part: Region, seat: Seat, facing: float, edge: float) -> Iterator[str]:
    """The edge on which a flat lies whose inner side faces a way."""
    for row, kind in zip(part.edges.tolist(), part.kinds, strict=True):
        x0, y0, tx, ty, length, nx, ny = row
        turn = math.remainder(math.atan2(ny, nx) - facing, 2 * math.pi)
        above = (seat.x - x0) * nx + (seat.y - y0) * ny - edge
        along = (seat.x - x0) * tx + (seat.y - y0) * ty
        if abs(turn) < ON_EDGE and abs(above) < ON_EDGE and 0 <= along <= length:
            yield _edge_words(kind, ny)


def _edge_words(kind: str, up: float) -> str:
    if up > 0.7:
        return "down on the bed" if kind == "bed" else "down on the frame" if kind == "frame" else "down"
    if up < -0.1:
        return "up under the frame" if kind == "frame" else "up under the head"
    return "against the frame" if kind == "frame" else "against the post"


def _without_rings(logs: Sequence[Standing]) -> list[Standing]:
    """Break rings of logs that hold one another: the lowest of them is set on a chip instead."""
    by_id = {log.id: log for log in logs}
    left = set(by_id)
    while left:
        free = {i for i in left if not left & set(by_id[i].supports)}
        if not free:
            lowest_one = min((by_id[i] for i in left), key=lambda log: (log.foot, log.x, log.id))
            kept = tuple(s for s in lowest_one.supports if s not in left and s != "chip")
            note = "; ".join(n for n in (lowest_one.note, "set on a chip") if n)
            by_id[lowest_one.id] = replace(lowest_one, supports=(*kept, "chip"), note=note)
            free = {lowest_one.id}
        left -= free
    return [by_id[log.id] for log in logs]
