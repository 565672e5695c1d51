"""The owner wants two logs to change places: does each fit where the other was, and what near it gives way?"""

import math
from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from cordwright.base import InputError
from cordwright.wall import curving, giving_way
from cordwright.wall import region as regions
from cordwright.wall.engine import renewed
from cordwright.wall.layout import Log, PanelLayout, Placement
from cordwright.wall.packing import TOLERANCE, Floats, Packing, ease
from cordwright.wall.relaying import height_laid, packing_of, stills
from cordwright.wall.supports import repair, unheld

RINGS = (1.6, 2.6, 4.0)
"""How far the neighbourhood that gives way reaches, in turn, in mean diameters with a joint."""

STEPS = 4000
"""Steps of shifting before a neighbourhood counts as too small."""

HALVINGS = 12
"""How finely the joint or the diameter that just fits is sought."""


def swap(
    layouts: Sequence[PanelLayout],
    log: str,
    other: str,
    stock: Sequence[Log],
    *,
    joint_least: float,
    edge: float,
    laid: Collection[str] = (),
    locked: Collection[str] = (),
) -> tuple[PanelLayout, ...]:
    """Let two logs change places, in one panel, between two, or with one that is left over.

    Only the neighbourhood of each place gives way; all other logs stay where they are. Joints stay at the nominal width
    where that can be; in a neighbourhood that has no room they narrow, never under the least. Order and supports are
    renewed in the panels concerned.

    Args:
        layouts: the panels as laid; left as they are.
        log: id of one log.
        other: id of the other; it may be left over.
        stock: all logs.
        joint_least: narrowest joint anywhere [m].
        edge: joint at edges [m].
        laid: ids of logs that are laid already and keep their places and order.
        locked: ids of logs that keep their places.

    Raises:
        InputError: the two cannot change places; the message says which does not fit and by how much.
    """
    logs = {g.id: g for g in stock}
    _refuse(log, other, logs, layouts, {*laid, *locked})
    exchanged = {log: logs[other], other: logs[log]}
    rules = _Rules(least=joint_least, edge=edge, laid=frozenset(laid), still=frozenset({*laid, *locked}))
    return tuple(_exchanged(layout, exchanged, rules) for layout in layouts)


def _exchanged(layout: PanelLayout, exchanged: Mapping[str, Log], rules: "_Rules") -> PanelLayout:
    """One panel with the two logs exchanged: a curved one is worked on where its joints close."""
    near = curving.seen_at_hollow(layout, rules.edge)
    worked = _in_panel(near, exchanged, rules)
    if worked is near:
        return _with_left_over(layout, layout, exchanged)
    done = _with_left_over(worked, layout, exchanged)
    if near is layout:
        return done
    joint, top = done.report.joint_nominal, height_laid(done)
    stood = [p for p in layout.placements if p.log.id not in exchanged]
    unmoved = {p.log.id: p.x for p in near.placements}
    kept = [p for p in stood if any(q.log.id == p.log.id and q.x == unmoved[p.log.id] for q in done.placements)]
    return curving.on_centre_line(done, layout.face, kept, joint=joint, edge=rules.edge, top=top)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Rules:
    least: float
    edge: float
    laid: frozenset[str]
    still: frozenset[str]


def _refuse(
    log: str, other: str, logs: Mapping[str, Log], layouts: Sequence[PanelLayout], still: Collection[str]
) -> None:
    placed = {p.log.id for layout in layouts for p in layout.placements}
    if log == other:
        raise InputError(f"log {log} cannot change places with itself")
    for name in (log, other):
        if name not in logs:
            raise InputError(f"there is no log {name} in the stock")
        if name in still:
            raise InputError(f"log {name} is laid or locked and keeps its place")
        if logs[name].shape != "round":
            raise InputError(f"log {name} is a {logs[name].shape}: only rounds change places")
    if not {log, other} & placed:
        raise InputError(f"neither {log} nor {other} stands in a panel")


def _in_panel(layout: PanelLayout, exchanged: Mapping[str, Log], rules: _Rules) -> PanelLayout:
    here = [p for p in layout.placements if p.log.id in exchanged]
    if not here:
        return layout
    fresh = [replace(p, log=exchanged[p.log.id]) if p in here else p for p in layout.placements]
    spots = np.array([(p.x, p.y) for p in here])
    moved = _fitted(layout, fresh, spots, exchanged, rules)
    open_ = [p if p.log.id in rules.laid else replace(p, order=0) for p in moved]
    return renewed(
        layout.face, open_, joint=layout.report.joint_nominal, edge=rules.edge, top=height_laid(layout),
        unused=layout.unused,
    )  # fmt: skip


def _with_left_over(layout: PanelLayout, before: PanelLayout, exchanged: Mapping[str, Log]) -> PanelLayout:
    """Name what is left over now: a log that came out of this panel, and no longer one that went into any."""
    there = {p.log.id for p in before.placements}
    here = {p.log.id for p in layout.placements}
    left = {i for i in before.unused if i not in exchanged}
    out = {old for old, new in exchanged.items() if old in there and old not in here and new.id in before.unused}
    kept = {i for i in before.unused if i in exchanged and i not in here and exchanged[i].id in before.unused}
    return replace(layout, unused=tuple(sorted(left | out | kept)))


def _fitted(
    layout: PanelLayout,
    placements: Sequence[Placement],
    spots: Floats,
    exchanged: Mapping[str, Log],
    rules: _Rules,
) -> list[Placement]:
    """Give all placements with the neighbourhood moved, at the widest joint that holds.

    Raises:
        InputError: not even the least joint holds.
    """
    nominal = layout.report.joint_nominal

    def tried(joint: float, logs: Sequence[Placement] = placements) -> list[Placement] | None:
        return _give_way(layout, logs, spots, joint, rules)

    if (moved := tried(nominal)) is not None:
        return moved
    least = min(rules.least, nominal)
    if tried(least) is None:
        raise InputError(_too_large(layout, placements, exchanged, lambda logs: tried(least, logs) is not None, least))
    joint = _just(least, nominal, lambda width: tried(width) is not None)
    found = tried(joint)
    assert found is not None
    return found


def _just(holds: float, fails: float, trial: Callable[[float], bool]) -> float:
    """Give the value nearest to one that fails that still holds."""
    for _ in range(HALVINGS):
        middle = (holds + fails) / 2
        holds, fails = (middle, fails) if trial(middle) else (holds, middle)
    return holds


def _too_large(
    layout: PanelLayout,
    placements: Sequence[Placement],
    exchanged: Mapping[str, Log],
    holds: Callable[[Sequence[Placement]], bool],
    joint: float,
) -> str:
    """Say which log does not fit, and by how much."""
    size = {p.log.id: p.log for p in layout.placements}
    grown = [(old, new) for old, new in exchanged.items() if old in size and new.diameter > size[old].diameter]
    old, new = max(grown, key=lambda pair: pair[1].diameter - size[pair[0]].diameter)

    def trial(diameter: float) -> bool:
        return holds(
            [replace(p, log=replace(p.log, diameter=diameter)) if p.log.id == new.id else p for p in placements]
        )

    fits = _just(size[old].diameter, new.diameter, trial)
    over = max(1, math.ceil((new.diameter - fits) * 1000 - 0.05))
    return (
        f"log {new.id} of {new.diameter * 1000:.0f} mm does not fit at the place of {old} in panel"
        f" {layout.face.name}: {over} mm too large even with joints of {joint * 1000:g} mm"
    )


def _give_way(
    layout: PanelLayout,
    placements: Sequence[Placement],
    spots: Floats,
    joint: float,
    rules: _Rules,
) -> list[Placement] | None:
    """Move the neighbourhood of some places until its joints hold; None when they do not."""
    typical = float(np.mean([p.log.diameter for p in placements])) + joint
    for ring in RINGS:
        local = [p for p in placements if _may_move(p, spots, ring * typical, rules)]
        moved = _moved(layout, placements, local, joint, rules)
        if moved is not None:
            return moved
    return None


def _may_move(p: Placement, spots: Floats, reach: float, rules: _Rules) -> bool:
    near = bool(np.any(np.hypot(spots[:, 0] - p.x, spots[:, 1] - p.y) <= reach))
    return near and p.log.id not in rules.still and p.log.shape == "round"


def _moved(
    layout: PanelLayout,
    placements: Sequence[Placement],
    local: Sequence[Placement],
    joint: float,
    rules: _Rules,
) -> list[Placement] | None:
    names = {p.log.id for p in local}
    standing = [p for p in placements if p.log.id not in names]
    moved: dict[str, Placement] = {}
    for part in regions.regions_of(layout.face, height_laid(layout)):
        mine = [p for p in local if _inside(part, p)]
        logs = sorted((p.log for p in mine), key=lambda g: (g.diameter, g.id))
        packing = packing_of(part, mine, logs, stills(layout, standing, joint), joint=joint, edge=rules.edge, seed=(0,))
        if not _holds(packing):
            return None
        moved |= {p.log.id: p for p in _placed(packing, mine, logs)}
    return [moved.get(p.log.id, p) for p in placements] if len(moved) == len(local) else None


def _holds(packing: Packing) -> bool:
    """Shift, sink and mend a neighbourhood; False when its joints do not hold or a log strays from its place."""
    x, y = packing.x[: packing.moving].copy(), packing.y[: packing.moving].copy()
    if ease(packing, STEPS)[0] > TOLERANCE:
        return False
    for way in (giving_way.sink, _rest):
        kept = packing.keep()
        loose = len(unheld(packing))
        if not way(packing) or len(unheld(packing)) > loose or _strayed(packing, x, y):
            packing.put_back(kept)
    return not _strayed(packing, x, y) and _all_inside(packing)


def _rest(packing: Packing) -> bool:
    repair(packing)
    return True


def _strayed(packing: Packing, x: Floats, y: Floats) -> bool:
    m = packing.moving
    return bool(np.any(np.hypot(packing.x[:m] - x, packing.y[:m] - y) > packing.radius[:m] / 2))


def _all_inside(packing: Packing) -> bool:
    return bool(np.all(regions.contains(packing.region, packing.x[: packing.moving], packing.y[: packing.moving])))


def _inside(part: regions.Region, p: Placement) -> bool:
    return bool(regions.contains(part, np.array([p.x]), np.array([p.y]))[0])


def _placed(packing: Packing, mine: Sequence[Placement], logs: Sequence[Log]) -> Iterator[Placement]:
    by_id = {p.log.id: p for p in mine}
    for i, n in enumerate(packing.which.tolist()):
        yield replace(by_id[logs[n].id], x=float(packing.x[i]), y=float(packing.y[i]))
