"""What do the owner's wishes and what is laid already mean for the panels, log by log?"""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import combinations

from cordwright.base import Cite
from cordwright.wall.faces import place_in
from cordwright.wall.inputs import LaidLog, Lock, Wishes
from cordwright.wall.laid_study import Note
from cordwright.wall.layout import Face, Log, Placement

MEASURING = 0.006
"""Logs measured in the wall may stand this far from where they are said to stand [m] (`as-laid-error`)."""
MEASURING_SOURCE = Cite("as-laid-error")

MOST_TOLD = 12
"""So many pairs of laid logs that stand close are told; the rest are counted."""


def locked(wishes: Wishes, stock: Sequence[Log], faces: Sequence[Face]) -> dict[str, tuple[Placement, ...]]:
    """Give the locked logs of each panel in their places, not numbered yet.

    Args:
        wishes: of the owner.
        stock: all logs.
        faces: the panels.
    """
    panels = {face.name: face for face in faces}
    by_id = {log.id: log for log in stock}
    found: dict[str, list[Placement]] = {}
    for lock in wishes.locks:
        found.setdefault(lock.panel, []).append(_place(panels[lock.panel], lock, by_id[lock.log]))
    return {panel: tuple(placements) for panel, placements in found.items()}


def _place(face: Face, wish: Lock | LaidLog, log: Log, order: int = 0) -> Placement:
    x = place_in(face, wish.from_left)
    return Placement(log=log, x=x, y=wish.height, order=order, supports=(), lift=0 if order else 1)


def stock_as_laid(stock: Sequence[Log], laid: Sequence[LaidLog]) -> tuple[Log, ...]:
    """Give the stock with the diameters as measured in the wall, and the laid logs that are not in it added.

    Args:
        stock: all logs.
        laid: logs laid.
    """
    measured = {row.log: row.diameter for row in laid if row.diameter is not None}
    known = {log.id for log in stock}
    strange = [Log(id=i, stem="", diameter=d) for i, d in measured.items() if i not in known]
    return (*(replace(log, diameter=measured.get(log.id, log.diameter)) for log in stock), *strange)


def as_laid(
    face: Face, laid: Sequence[LaidLog], stock: Sequence[Log], *, joint: float, edge: float
) -> tuple[Placement, ...]:
    """Give the laid logs of a panel where they really stand, numbered as they were laid, with what holds each.

    Args:
        face: the panel.
        laid: logs laid, in the order of laying; those of other panels are passed over.
        stock: all logs, with the diameters as laid.
        joint: clear joint planned between logs [m].
        edge: joint at edges [m].
    """
    # Loaded here: to check the owner's file needs no engine.
    from cordwright.wall.engine import renewed

    by_id = {log.id: log for log in stock}
    rows = [row for row in laid if row.panel == face.name]
    if not rows:
        return ()
    placed = [_place(face, row, by_id[row.log]) for row in rows]
    held = {p.log.id: p.supports for p in renewed(face, placed, joint=joint, edge=edge).placements}
    order = {row.log: n for n, row in enumerate(rows, start=1)}
    return tuple(_numbered(p, order, held.get(p.log.id, ())) for p in placed)


def _numbered(placed: Placement, order: Mapping[str, int], held: Sequence[str]) -> Placement:
    mine = order[placed.log.id]
    supports = tuple(s for s in held if order.get(s, 0) < mine and s != "chip")
    firm = len(supports) == len(held) and bool(held)
    note = "as laid" if firm else "as laid; it rests on a chip or on its mortar"
    return replace(placed, order=mine, lift=0, supports=supports if firm else (*supports, "chip"), note=note)


def close_pairs(laid: Sequence[Placement], least: float) -> tuple[Note, ...]:
    """Tell which laid logs stand closer than the least joint: the owner's fact, which the plan no longer decides.

    Args:
        laid: the laid logs of one panel.
        least: narrowest joint anywhere [m].
    """
    pairs = sorted(_gaps(laid, least))
    told = [_close(gap, a, b) for gap, a, b in pairs[:MOST_TOLD]]
    if len(pairs) > MOST_TOLD:
        told.append(
            Note(pieces=(f"{len(pairs) - MOST_TOLD} more pairs of laid logs stand closer than the least joint",))
        )
    return tuple(told)


def _close(gap: float, a: str, b: str) -> Note:
    if gap < 0:
        return Note(pieces=(f"laid logs {a} and {b} overlap by ", -gap, " as measured"))
    return Note(pieces=(f"laid logs {a} and {b} stand ", gap, " apart"))


def _gaps(laid: Sequence[Placement], least: float) -> Iterator[tuple[float, str, str]]:
    for a, b in combinations(laid, 2):
        gap = math.hypot(a.x - b.x, a.y - b.y) - (a.log.diameter + b.log.diameter) / 2
        if gap < least:
            yield gap, a.log.id, b.log.id
