"""Where does each log end stand in a panel, on what does it rest, in what order is it laid, and how full is the wall?

`effectiveness` is the area of all discs with half a joint around them, over the area of the regions laid grown by what
the edge joint leaves of half a joint: what the laying controls, whatever stock and joint. It is told of the part laid.
"""

import math
from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np

from cordwright.base import StoppedError
from cordwright.wall import curving, dealing, stocking
from cordwright.wall import region as regions
from cordwright.wall.faces import seamed
from cordwright.wall.fillers import fillers_for
from cordwright.wall.layout import Cancelled, Face, Log, PanelLayout, Placement, Progress, never, quiet
from cordwright.wall.ordering import Standing, laying_order, lifts_of
from cordwright.wall.packing import DRAFT, NORMAL, Packing
from cordwright.wall.refusals import refuse, refuse_misfits
from cordwright.wall.region import Floats, Region
from cordwright.wall.report import Laid, report_of
from cordwright.wall.resting import standing_logs
from cordwright.wall.solving import TINY, Still, solve
from cordwright.wall.split_report import blocks_of, with_splits
from cordwright.wall.split_solving import Mixed, solve_mixed
from cordwright.wall.splitting import kin_of
from cordwright.wall.taste import PLAIN, Taste

EffortName = Literal["draft", "normal"]
EFFORTS = {"draft": DRAFT, "normal": NORMAL}


@dataclass(frozen=True, slots=True, kw_only=True)
class Task:
    """One panel to lay: its rounds and splits that may be used, what is fixed, and the joints [m]."""

    face: Face
    stock: tuple[Log, ...]
    splits: tuple[Log, ...]
    fixed: tuple[Placement, ...]
    joint: float
    edge: float
    seed: int
    effort: EffortName
    taste: Taste = PLAIN

    @property
    def offset(self) -> float:
        """What an edge keeps beyond half a joint [m]."""
        return self.edge - self.joint / 2

    def still(self) -> list[Still]:
        """Discs that stand still: rounds laid or locked, then pipes and bottle ends."""
        half = self.joint / 2
        logs = [(p.x, p.y, p.log.diameter / 2 + half, True) for p in self.fixed if p.log.shape == "round"]
        return logs + [(o.x, o.y, o.diameter / 2 + half, False) for o in self.face.obstacles]


def lay_panel(
    face: Face,
    stock: Sequence[Log],
    *,
    joint: float,
    joint_least: float,
    joint_largest: float,
    edge: float,
    seed: int,
    effort: EffortName = "normal",
    fixed: Sequence[Placement] = (),
    forbidden: Collection[str] = (),
    taste: Taste = PLAIN,
    progress: Progress = quiet,
    cancelled: Cancelled = never,
) -> PanelLayout:
    """Lay one panel with the logs in stock, each used at most once and at its true size.

    Where the stock is short the even joint is widened up to the largest; beyond that the panel is laid up to the height
    the stock reaches and `closed` says so. Halves and quarters stand flat along bed, posts and frames first. Forbidden
    logs and those that fit nowhere stay in `unused`.
    A curved panel is laid with that joint at its hollow face and told on its centre line, where joints are wider.

    Args:
        face: the panel.
        stock: logs that may be used.
        joint: clear joint wanted between logs [m].
        joint_least: narrowest joint anywhere [m]; the joints laid are never under `joint`.
        joint_largest: widest even joint [m].
        edge: joint at posts, bed, head and frames [m].
        seed: fixes every choice; the same seed gives the same wall on one machine.
        effort: "draft" for a look, "normal" for the wall.
        fixed: logs laid (order 1 or more) or locked to a place (order 0); none of them moves.
        forbidden: ids of logs that must not be used.
        taste: where large and small logs are wanted.
        progress: told the share done and what is done.
        cancelled: asked often; the laying stops when it says so.

    Raises:
        InputError: a size or joint that no wall can have, or one id twice.
        StoppedError: `cancelled` said so.
    """
    refuse(face, stock, (p.log for p in fixed), (joint_least, joint, joint_largest, edge))
    banned = {*forbidden, *(p.log.id for p in fixed), *kin_of([p.log for p in fixed], stock)}
    usable = tuple(log for log in stocking.round_logs(stock) if log.id not in banned)
    splits = tuple(log for log in stock if log.shape != "round" and log.id not in banned)
    near, still = curving.at_hollow(face, fixed)
    task = Task(
        face=near, stock=usable, splits=splits, fixed=still, joint=joint, edge=edge, seed=seed, effort=effort,
        taste=taste,
    )  # fmt: skip
    task = replace(task, joint=stocking.even_joint(lambda j: _short(replace(task, joint=j)), joint, joint_largest))
    task = replace(task, face=seamed(near, task.joint - 2 * edge))
    refuse_misfits(task.face, usable, task.joint, edge)
    top = _reach(task)
    ids = {log.id for log in stock} - {p.log.id for p in fixed}
    laid = _lay(task, top, ids, _pulse(face.name, progress, cancelled))
    return curving.on_centre_line(laid, face, fixed, joint=task.joint, edge=edge, top=top)


def _pulse(name: str, progress: Progress, cancelled: Cancelled) -> Callable[[float], None]:
    def pulse(share: float) -> None:
        if cancelled():
            raise StoppedError(f"{name}: the laying was stopped")
        progress(share, name)

    return pulse


def _short(task: Task, top: float = math.inf) -> float:
    parts = regions.regions_of(task.face, top)
    taken = sum(math.pi * r * r for x, y, r, _ in task.still() if y < top)
    taken += stocking.split_area([p.log for p in task.fixed if p.y < top], task.joint)
    return stocking.lacking(parts, (*task.stock, *task.splits), task.joint, task.edge, taken)


def _reach(task: Task) -> float:
    """Height to which the stock closes the panel [m]; infinite when it closes all of it.

    Of a handful of logs the last one decides, which no mean share can tell: there a shortage of one log is none.
    """
    sizes = stocking.inflated(task.stock, task.joint)
    one = math.pi * float(sizes.max(initial=0.0)) ** 2 if len(sizes) <= TINY else 0.0
    if _short(task) <= one and len(sizes):
        return math.inf
    heights = [y for _, y in task.face.outline]
    low, high = min(heights), max(heights)
    while high - low > 1e-3:
        middle = (low + high) / 2
        low, high = (middle, high) if _short(task, middle) <= 0 else (low, middle)
    return low


def _lay(task: Task, top: float, ids: set[str], pulse: Callable[[float], None]) -> PanelLayout:
    parts = regions.regions_of(task.face, top)
    net = sum(r.area for r in regions.regions_of(task.face))
    splits = _split_shares(task, parts)
    shares = _shares(task, parts, splits)
    standing: list[Standing] = []
    placed: dict[str, Log] = {}
    for n, part in enumerate(parts):
        logs = _sorted(shares[str(n)])
        every = (*logs, *splits[str(n)])
        solved = _solve_part(task, part, every, n, _part_of(pulse, n / len(parts), 1 / len(parts)))
        for which in solved.which.tolist():
            placed[logs[which].id] = logs[which]
        if solved.splits is not None:
            placed |= {solved.splits.logs[s.which].id: solved.splits.logs[s.which] for s in solved.splits.seats}
        standing += standing_logs(part, solved, [log.id for log in logs], task.fixed)
    return _describe(task, parts, net, standing, placed=placed, unused=ids - placed.keys())


def renewed(
    face: Face,
    placements: Sequence[Placement],
    *,
    joint: float,
    edge: float,
    top: float = math.inf,
    unused: Collection[str] = (),
) -> PanelLayout:
    """Say anew what holds each log of a panel, in what order they are laid and how the panel comes out.

    No log moves. Those laid (order 1 or more) keep their order; all others (order 0) are numbered after them.

    Args:
        face: the panel.
        placements: every log in its place.
        joint: clear joint between logs [m].
        edge: joint at edges [m].
        top: height to which the panel is laid [m].
        unused: ids of logs left over.
    """
    near, fixed = curving.at_hollow(face, placements)
    near = seamed(near, joint - 2 * edge)
    task = Task(face=near, stock=(), splits=(), fixed=fixed, joint=joint, edge=edge, seed=0, effort="draft")
    parts = regions.regions_of(near, top)
    net = sum(r.area for r in regions.regions_of(near))
    standing = [log for part in parts for log in standing_logs(part, _still_packing(task, part), (), task.fixed)]
    laid = _describe(task, parts, net, standing, placed={}, unused=set(unused))
    return curving.on_centre_line(laid, face, placements, joint=joint, edge=edge, top=top)


def _still_packing(task: Task, part: Region) -> Packing:
    """A region in which nothing moves."""
    if any(p.log.shape != "round" for p in task.fixed):
        return _solve_part(task, part, (), 0, lambda _: None)
    margin = max((r for _, _, r, _ in task.still()), default=0.0)
    still = [s for s in task.still() if _reaches(part, s, margin)]
    x, y, radius = _columns([s[:3] for s in still])
    return Packing(
        region=part,
        offset=task.offset,
        joint_half=task.joint / 2,
        sizes=np.zeros(0),
        x=x,
        y=y,
        which=np.zeros(0, np.int64),
        still=radius,
        bears=np.array([s[3] for s in still], bool),
        rng=np.random.Generator(np.random.PCG64(0)),
    )


def _part_of(pulse: Callable[[float], None], start: float, share: float) -> Callable[[float], None]:
    return lambda done: pulse(start + share * done)


def _sorted(logs: Sequence[Log]) -> list[Log]:
    return sorted(logs, key=lambda g: (g.diameter, g.id))


def _shares(task: Task, parts: Sequence[Region], splits: Mapping[str, tuple[Log, ...]]) -> dict[str, tuple[Log, ...]]:
    return stocking.share_out(
        task.stock,
        dealing.left_for_rounds({str(n): part.area for n, part in enumerate(parts)}, splits, task.joint),
        {str(n): 2 * dealing.widest(part, task.offset) - task.joint for n, part in enumerate(parts)},
    )


def _split_shares(task: Task, parts: Sequence[Region]) -> dict[str, tuple[Log, ...]]:
    return dealing.share_splits(
        task.splits,
        {str(n): dealing.edge_room([part], task.face, task.edge, task.splits) for n, part in enumerate(parts)},
        {str(n): part.area for n, part in enumerate(parts)},
        joint=task.joint,
    )


def _solve_part(task: Task, part: Region, logs: Sequence[Log], n: int, pulse: Callable[[float], None]) -> Packing:
    sizes = np.sort(stocking.inflated(stocking.round_logs(logs), task.joint))
    splits = tuple(log for log in logs if log.shape != "round")
    margin = float(sizes.max()) if len(sizes) else 0.0
    still = [s for s in task.still() if _reaches(part, s, margin)]
    fixed = tuple(
        p for p in task.fixed if p.log.shape != "round" and _reaches(part, (p.x, p.y, p.log.diameter / 2, True), 0.0)
    )
    if splits or fixed:
        mixed = Mixed(
            region=part, face=task.face, sizes=sizes, splits=splits, fixed=fixed, still=tuple(still), joint=task.joint,
            edge=task.edge, taste=task.taste,
        )  # fmt: skip
        return solve_mixed(mixed, EFFORTS[task.effort], [task.seed, n], pulse)
    return solve(
        part, sizes, task.offset, task.joint / 2,
        still=still, effort=EFFORTS[task.effort], seed=[task.seed, n], pulse=pulse, taste=task.taste,
    )  # fmt: skip


def _reaches(part: Region, disc: Still, margin: float) -> bool:
    from shapely import Point

    return bool(part.shape.distance(Point(disc[0], disc[1])) < disc[2] + margin)


def _describe(
    task: Task,
    parts: Sequence[Region],
    net: float,
    standing: Sequence[Standing],
    *,
    placed: Mapping[str, Log],
    unused: set[str],
) -> PanelLayout:
    heights = [y for _, y in task.face.outline]
    there = [Standing(id=p.log.id, x=p.x, y=p.y, radius=p.log.diameter / 2, supports=()) for p in task.fixed if p.order]
    lifts = lifts_of([*standing, *there], min(heights), max(heights))
    laid = [replace(p, lift=p.lift or lifts[p.log.id]) for p in task.fixed if p.order > 0]
    order = laying_order(standing, lifts, max((p.order for p in laid), default=0))
    locked = {p.log.id: p.log for p in task.fixed}
    placements = [*laid, *_placements(standing, {**placed, **locked}, lifts, order)]
    fillers = fillers_for(parts, placements, task.face.obstacles, task.joint)
    others = [(f.x, f.y, f.diameter / 2) for f in fillers] + [(o.x, o.y, o.diameter / 2) for o in task.face.obstacles]
    x, y, radius = _columns([(p.x, p.y, p.log.diameter / 2) for p in placements if p.log.shape == "round"])
    area = sum(p.area for p in parts)
    laid_out = Laid(
        regions=parts, net_area=net, x=x, y=y, radius=radius, others=np.array(others).reshape(-1, 3),
        joint=task.joint, edge=task.edge, unsupported=sum("chip" in p.supports for p in placements),
    )  # fmt: skip
    return PanelLayout(
        face=task.face,
        placements=tuple(sorted(placements, key=lambda p: p.order)),
        fillers=fillers,
        report=with_splits(laid_out, placements) if blocks_of(placements) else report_of(laid_out),
        closed=min(1.0, area / net) if net else 0.0,
        unused=tuple(sorted(unused)),
    )


def _columns(rows: Sequence[tuple[float, float, float]]) -> tuple[Floats, Floats, Floats]:
    table = np.array(rows, float).reshape(-1, 3)
    return table[:, 0].copy(), table[:, 1].copy(), table[:, 2].copy()


def _placements(
    standing: Sequence[Standing], logs: Mapping[str, Log], lifts: Mapping[str, int], order: Mapping[str, int]
) -> Iterator[Placement]:
    for log in standing:
        yield Placement(
            log=logs[log.id],
            x=log.x,
            y=log.y,
            order=order[log.id],
            supports=log.supports,
            lift=lifts[log.id],
            angle=log.angle,
            note=log.note,
        )
