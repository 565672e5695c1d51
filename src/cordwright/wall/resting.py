"""What holds each log end, by name, once a region is laid?"""

from collections.abc import Sequence

from cordwright.wall import _support_kernels as kernels
from cordwright.wall.layout import Placement
from cordwright.wall.ordering import Standing
from cordwright.wall.packing import Floats, Packing
from cordwright.wall.region import Region
from cordwright.wall.split_resting import standing_mixed
from cordwright.wall.supports import SLACK, bearing

SIDES = ("left", "right")


def standing_logs(part: Region, solved: Packing, ids: Sequence[str], fixed: Sequence[Placement]) -> list[Standing]:
    """Name what holds each log laid in a region; locked logs that are still to be laid count with them.

    Args:
        part: the region.
        solved: where its logs stand.
        ids: id of each log of the stock, as `solved.which` numbers them.
        fixed: logs laid or locked, some of which stand in this region.
    """
    if solved.splits is not None:
        return standing_mixed(part, solved, ids, fixed)
    names = _names(part, solved, ids, fixed)
    half = float(solved.joint_half)
    logs = [_standing(part, solved, names, i, half) for i in range(solved.moving)]
    for k in range(solved.moving, len(solved.x)):
        name = names[k]
        if name in {p.log.id for p in fixed if p.order <= 0} and _inside(part, solved, k):
            logs.append(_standing(part, solved, names, k, half))
    return logs


def _inside(part: Region, solved: Packing, k: int) -> bool:
    from shapely import contains_xy

    return bool(contains_xy(part.shape, solved.x[k], solved.y[k]))


def _names(part: Region, solved: Packing, ids: Sequence[str], fixed: Sequence[Placement]) -> list[str]:
    """Names of all bodies as the kernels number them; what bears nothing has none."""
    at = {(p.x, p.y): p.log.id for p in fixed}
    logs = [ids[n] for n in solved.which.tolist()]
    still = [
        at.get((float(x), float(y)), "") for x, y in zip(solved.x[len(logs) :], solved.y[len(logs) :], strict=True)
    ]
    return [*logs, *still, *part.kinds, *part.corner_kinds]


def _standing(part: Region, solved: Packing, names: Sequence[str], i: int, half: float) -> Standing:
    held = _holders(part, solved, i)
    bodies = [int(held[0]), int(held[2])]
    supports = list(dict.fromkeys(names[b] for b in bodies if b >= 0))
    note = ""
    if not kernels.is_held(held):
        missing = [side for side, b in zip(SIDES, bodies, strict=True) if b < 0]
        supports.append("chip")
        note = f"set on a chip on the {' and '.join(missing)}" if missing else "set on a chip: both supports lie flat"
    return Standing(
        id=names[i],
        x=float(solved.x[i]),
        y=float(solved.y[i]),
        radius=float(solved.radius[i]) - half,
        supports=tuple(supports),
        note=note,
    )


def _holders(part: Region, solved: Packing, i: int) -> Floats:
    reach = 2.0 * float(solved.radius.max()) + SLACK
    near = kernels.within(solved.x, solved.y, solved.x[i], solved.y[i], reach)
    held: Floats = kernels.holders(
        i, solved.x[i], solved.y[i], solved.radius[i], solved.x, solved.y, solved.radius, bearing(solved), near,
        part.edges, part.corners, solved.offset, SLACK,
    )  # fmt: skip
    return held
