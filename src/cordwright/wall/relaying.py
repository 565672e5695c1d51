"""The wall goes otherwise than planned: how is the rest laid around what stands, most of the plan staying true?"""

import math
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from cordwright.base import InputError, StoppedError
from cordwright.wall import curving, giving_way, stocking
from cordwright.wall import region as regions
from cordwright.wall.engine import EffortName, lay_panel, renewed
from cordwright.wall.layout import Cancelled, Log, PanelLayout, Placement, Progress, never, quiet
from cordwright.wall.packing import TOLERANCE, Floats, Packing
from cordwright.wall.region import Region
from cordwright.wall.solving import Still
from cordwright.wall.split_shapes import placed_stand_ins

SPARED = 0.98
"""The rest of a plan stands while its logs and the spare ones make up this share of its wood; else it is laid anew."""


def replan(
    layout: PanelLayout,
    laid: Sequence[Placement],
    stock_left: Sequence[Log],
    *,
    joint_least: float,
    joint_largest: float,
    edge: float,
    seed: int,
    effort: EffortName = "normal",
    forbidden: Collection[str] = (),
    locked: Collection[str] = (),
    progress: Progress = quiet,
    cancelled: Cancelled = never,
) -> PanelLayout:
    """Lay the rest of a panel around the logs as they were really laid, which stay where they are.

    The rest begins at its planned places and only what must give way moves. Where too few of its logs are left, the
    rest is laid anew from the start.

    Args:
        layout: the panel as planned; its joint is kept.
        laid: the logs laid, where they are.
        stock_left: logs that may be used for the rest.
        joint_least: narrowest joint anywhere [m].
        joint_largest: widest even joint [m].
        edge: joint at edges [m].
        seed: fixes every choice.
        effort: how long to try where the rest is laid anew: "draft" for a look, "normal" for the wall.
        forbidden: ids of logs that must not be used.
        locked: ids of planned logs that keep their places.
        progress: told the share done and what is done.
        cancelled: asked often; the laying stops when it says so.

    Raises:
        InputError: a size or joint that no wall can have, or one id twice.
        StoppedError: `cancelled` said so.
    """
    how = _How(
        joint_least=joint_least, joint_largest=joint_largest, edge=edge, seed=seed, effort=effort,
        forbidden=frozenset(forbidden), locked=frozenset(locked), progress=progress, cancelled=cancelled,
    )  # fmt: skip
    near = curving.seen_at_hollow(layout, edge)
    if near is layout:
        return _replanned(layout, laid, stock_left, how)
    _, there = curving.at_hollow(layout.face, laid)
    again = _replanned(near, there, stock_left, how)
    joint, top = again.report.joint_nominal, height_laid(again)
    return curving.on_centre_line(again, layout.face, laid, joint=joint, edge=edge, top=top)


@dataclass(frozen=True, slots=True, kw_only=True)
class _How:
    """How the rest is laid, as `replan` is asked."""

    joint_least: float
    joint_largest: float
    edge: float
    seed: int
    effort: EffortName
    forbidden: frozenset[str]
    locked: frozenset[str]
    progress: Progress
    cancelled: Cancelled


def _replanned(layout: PanelLayout, laid: Sequence[Placement], stock_left: Sequence[Log], how: _How) -> PanelLayout:
    """The rest of a panel in widths that are true where it is laid."""
    face, joint = layout.face, layout.report.joint_nominal
    if len({log.id for log in stock_left}) < len(stock_left):
        raise InputError(f"{face.name}: a log's id stands twice in the stock")
    banned = {*how.forbidden, *(p.log.id for p in laid)}
    usable = [log for log in stocking.round_logs(stock_left) if log.id not in banned]
    rest = _Rest.of(layout, laid, usable, how.locked)
    if not rest.stands(layout, laid, joint):
        return lay_panel(
            face, stock_left, joint=joint, joint_least=how.joint_least, joint_largest=max(how.joint_largest, joint),
            edge=how.edge, seed=how.seed, effort=how.effort, fixed=[*laid, *rest.locks], forbidden=how.forbidden,
            progress=how.progress, cancelled=how.cancelled,
        )  # fmt: skip
    if how.cancelled():
        raise StoppedError(f"{face.name}: the laying was stopped")
    standing = [*laid, *rest.locks, *_relaid(layout, rest, [*laid, *rest.locks], how.edge, how.seed)]
    how.progress(1.0, face.name)
    unused = {log.id for log in stock_left} - {p.log.id for p in standing}
    return renewed(face, standing, joint=joint, edge=how.edge, top=height_laid(layout), unused=unused)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Rest:
    """What of a plan is still to lay: logs that may move, logs that keep their place, spare logs, empty places."""

    planned: tuple[Placement, ...]
    locks: tuple[Placement, ...]
    spare: tuple[Log, ...]
    empty: tuple[Placement, ...]

    @classmethod
    def of(
        cls, layout: PanelLayout, laid: Sequence[Placement], usable: Sequence[Log], locked: Collection[str]
    ) -> "_Rest":
        """Part a plan by what is in hand; splits keep their places, for they stand flat against something."""
        in_hand = {log.id: log for log in usable}
        open_ = [replace(p, order=0) for p in layout.placements if p.log.id not in {q.log.id for q in laid}]
        keeps = [p for p in open_ if p.log.id in locked or p.log.shape != "round"]
        free = [p for p in open_ if p.log.id in in_hand and p not in keeps]
        planned = [p for p in free if not _stands_in(p, laid)]
        places = {p.log.id for p in planned}
        return cls(
            planned=tuple(planned),
            locks=tuple(keeps),
            spare=tuple(log for log in usable if log.id not in places | {p.log.id for p in keeps}),
            empty=tuple(p for p in layout.placements if p.log.id not in places | {q.log.id for q in keeps}),
        )

    def stands(self, layout: PanelLayout, laid: Sequence[Placement], joint: float) -> bool:
        """Whether the logs in hand still make up the plan's wood."""

        def area(logs: Sequence[Log]) -> float:
            return stocking.supplied(stocking.inflated(logs, joint))

        wanted = area([p.log for p in layout.placements])
        have = area([*(p.log for p in (*laid, *self.planned, *self.locks)), *self.spare])
        return have >= SPARED * wanted


def _stands_in(planned: Placement, laid: Sequence[Placement]) -> bool:
    """Whether a laid log covers the middle of a planned one, which then cannot give way but must go."""
    return any(math.hypot(planned.x - p.x, planned.y - p.y) < p.log.diameter / 2 for p in laid)


def height_laid(layout: PanelLayout) -> float:
    """Height up to which a panel is laid [m]; infinite when all of it is."""
    if layout.closed >= 1.0:
        return math.inf
    heights = [y for _, y in layout.face.outline]
    net = sum(part.area for part in regions.regions_of(layout.face))
    low, high = min(heights), max(heights)
    while high - low > 1e-6:
        middle = (low + high) / 2
        area = sum(part.area for part in regions.regions_of(layout.face, middle))
        low, high = (middle, high) if area < layout.closed * net else (low, middle)
    return high


def _relaid(
    layout: PanelLayout, rest: "_Rest", standing: Sequence[Placement], edge: float, seed: int
) -> list[Placement]:
    """Give all logs of the rest where they stand now, region by region."""
    moved: list[Placement] = []
    for n, part in enumerate(regions.regions_of(layout.face, height_laid(layout))):
        moved += _relay_part(layout, part, rest, standing=standing, edge=edge, seed=(seed, n), before=moved)
    return moved


def _relay_part(
    layout: PanelLayout,
    part: Region,
    rest: _Rest,
    *,
    standing: Sequence[Placement],
    edge: float,
    seed: tuple[int, int],
    before: Sequence[Placement],
) -> list[Placement]:
    joint = layout.report.joint_nominal
    mine = [p for p in rest.planned if _within(part, p)]
    used = {p.log.id for p in before} | {p.log.id for p in rest.planned if p not in mine}
    logs = sorted([*(p.log for p in mine), *(g for g in rest.spare if g.id not in used)], key=_by_size)
    packing = packing_of(part, mine, logs, stills(layout, standing, joint), joint=joint, edge=edge, seed=seed)
    empty = np.array([(p.x, p.y) for p in rest.empty]).reshape(-1, 2)
    giving_way.make_room(packing, pressed(packing))
    gone = np.array([(p.x, p.y) for p in mine if p.log.id not in _ids(packing, logs)]).reshape(-1, 2)
    giving_way.fill_holes(packing, np.concatenate((_unfilled(empty, standing), gone)), 2.5 * _mean(packing))
    giving_way.hold_again(packing)
    lifts = {p.log.id: p for p in mine}
    return [_placed(packing, logs, i, lifts) for i in range(packing.moving)]


def _by_size(log: Log) -> tuple[float, str]:
    return log.diameter, log.id


def _within(part: Region, placed: Placement) -> bool:
    from shapely import contains_xy

    return bool(contains_xy(part.shape, placed.x, placed.y))


def stills(layout: PanelLayout, standing: Sequence[Placement], joint: float) -> list[Still]:
    """Give the discs that stand still in a panel: logs that keep their places, pipes and bottle ends."""
    half = joint / 2
    logs = [
        (x, y, r, True) for p in standing for x, y, r in placed_stand_ins(p.log, p.x, p.y, p.angle, grown=half).tolist()
    ]
    return logs + [(o.x, o.y, o.diameter / 2 + half, False) for o in layout.face.obstacles]


def packing_of(
    part: Region,
    moving: Sequence[Placement],
    logs: Sequence[Log],
    still: Sequence[Still],
    *,
    joint: float,
    edge: float,
    seed: Sequence[int],
) -> Packing:
    """Set logs that may move at their places in a region.

    Args:
        part: the region.
        moving: logs that may move, where they stand.
        logs: these and the spare ones, by size.
        still: what stands still.
        joint: clear joint between logs [m].
        edge: joint at edges [m].
        seed: fixes every choice.
    """
    number = {log.id: n for n, log in enumerate(logs)}
    discs = np.array([s[:3] for s in still]).reshape(-1, 3)
    return Packing(
        region=part,
        offset=edge - joint / 2,
        joint_half=joint / 2,
        sizes=stocking.inflated(logs, joint),
        x=np.concatenate(([p.x for p in moving], discs[:, 0])),
        y=np.concatenate(([p.y for p in moving], discs[:, 1])),
        which=np.array([number[p.log.id] for p in moving], np.int64),
        still=discs[:, 2].copy(),
        bears=np.array([s[3] for s in still], bool),
        rng=np.random.Generator(np.random.PCG64(np.random.SeedSequence(list(seed)))),
    )


def pressed(packing: Packing) -> Floats:
    """Give the places of the moving logs whose joints do not hold, shape (n, 2) [m]."""
    from cordwright.wall.packing import ease

    kept = packing.keep()
    _, p = ease(packing, 1)
    packing.put_back(kept)
    tight = np.flatnonzero(p > TOLERANCE)
    return np.column_stack((packing.x[tight], packing.y[tight]))


def _unfilled(empty: Floats, standing: Sequence[Placement]) -> Floats:
    """Places that a planned log left empty and where no log stands now."""
    free = [not any(math.hypot(x - p.x, y - p.y) < p.log.diameter / 2 for p in standing) for x, y in empty.tolist()]
    left: Floats = empty[np.array(free, bool)]
    return left


def _ids(packing: Packing, logs: Sequence[Log]) -> set[str]:
    return {logs[n].id for n in packing.which.tolist()}


def _mean(packing: Packing) -> float:
    return float(np.mean(packing.sizes)) if len(packing.sizes) else 0.0


def _placed(packing: Packing, logs: Sequence[Log], i: int, planned: Mapping[str, Placement]) -> Placement:
    log = logs[int(packing.which[i])]
    x, y = float(packing.x[i]), float(packing.y[i])
    if (old := planned.get(log.id)) is not None:
        return replace(old, x=x, y=y)
    return Placement(log=log, x=x, y=y, order=0, supports=())
