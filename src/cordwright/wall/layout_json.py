"""How does a laid wall read for another program? As plain mappings, lists, numbers and words, all lengths in metres."""

import math
from collections.abc import Mapping, Sequence
from typing import Any, Final

from cordwright.plan.inputs import Point
from cordwright.wall.laid_study import Shortage, Widened
from cordwright.wall.layout import Filler, LayoutReport, Log, PanelLayout, Placement
from cordwright.wall.placed import PlacedWall
from cordwright.wall.taking import AMOUNTS, Taken

SCHEMA: Final = 1
UNIT: Final = "m"


def layout_json(
    panels: Sequence[PanelLayout],
    stock: Sequence[Log],
    unused: Sequence[str],
    *,
    mortar_depth: float | None = None,
    seconds: Mapping[str, float] | None = None,
    shortage: Shortage | None = None,
    widened: Widened | None = None,
    settled: Sequence[str] = (),
) -> Mapping[str, Any]:
    """What `lay --json` prints: panels with their logs in laying order, the stock, and the logs left over.

    Angles are radians counter-clockwise from the right. What is not known is null.

    Args:
        panels: the laid panels.
        stock: the log ends that were in hand.
        unused: ids of those that stand in no panel.
        mortar_depth: depth of mortar in a joint, all beads together [m].
        seconds: by panel, how long laying it out took [s].
        shortage: what the stock lacks to close the wall; null when nothing.
        widened: what a joint wider than nominal costs; null when it is not wider.
        settled: ids of logs whose places the owner decided, laid or locked.
    """
    took = seconds or {}
    return {
        "schema": SCHEMA,
        "unit": UNIT,
        "panels": [_panel(p, mortar_depth, took.get(p.face.name)) for p in panels],
        "stock": [_log(log) for log in stock],
        "unused": list(unused),
        "settled": list(settled),
        "widened": None if widened is None else _values(widened),
        "shortage": None if shortage is None else _shortage(shortage),
    }


def _values(value: Shortage | Widened) -> dict[str, Any]:
    return {name: getattr(value, name) for name in type(value).__slots__}


def _shortage(shortage: Shortage) -> dict[str, Any]:
    classes = [{"low": c.low, "high": c.high, "count": c.count} for c in shortage.classes]
    return {**_values(shortage), "classes": classes}


def _panel(layout: PanelLayout, mortar_depth: float | None, seconds: float | None) -> dict[str, Any]:
    face = layout.face
    return {
        "name": face.name,
        "outline": _points(face.outline),
        "openings": [{"id": hole.id, "outline": _points(hole.outline)} for hole in face.openings],
        "obstacles": [{"id": d.id, "x": d.x, "y": d.y, "diameter": d.diameter} for d in face.obstacles],
        "placements": [_placement(p) for p in sorted(layout.placements, key=lambda p: p.order)],
        "fillers": [_filler(f) for f in layout.fillers],
        "report": _report(layout.report, mortar_depth, seconds),
    }


def _log(log: Log) -> dict[str, Any]:
    """A log in stock; a split tells its shape, and the round it is cleft from where that is known."""
    split = {} if log.shape == "round" else {"shape": log.shape, "parent": log.parent}
    return {"id": log.id, "stem": log.stem, "diameter": log.diameter, **split}


def _points(outline: Sequence[Point]) -> list[list[float]]:
    return [[x, y] for x, y in outline]


def _placement(placed: Placement) -> dict[str, Any]:
    return {
        "id": placed.log.id,
        "stem": placed.log.stem,
        "shape": placed.log.shape,
        "angle": placed.angle,
        "x": placed.x,
        "y": placed.y,
        "diameter": placed.log.diameter,
        "order": placed.order,
        "supports": list(placed.supports),
        "note": placed.note,
    }


def _filler(filler: Filler) -> dict[str, float | str]:
    return {"x": filler.x, "y": filler.y, "diameter": filler.diameter, "face": filler.face}


def _report(report: LayoutReport, mortar_depth: float | None, seconds: float | None) -> dict[str, Any]:
    mortar = None if mortar_depth is None else report.mortar_area * mortar_depth
    return {
        "wood_fraction": _known(report.wood_fraction),
        "effectiveness": _known(report.effectiveness),
        "reference": _known(report.reference),
        "florian_bound": _known(report.florian_bound),
        "joint_min": _known(report.joint_min),
        "joint_nominal": _known(report.joint_nominal),
        "joint_max": _known(report.joint_max),
        "unsupported": report.unsupported,
        "straight_run": _known(report.straight_run),
        "clustering": _known(report.clustering),
        "joint_hollow_min": _known(report.joint_hollow_min),
        "joint_wide_max": _known(report.joint_wide_max),
        "mortar_volume": _known(mortar),
        "seconds": _known(seconds),
    }


def _known(value: float | None) -> float | None:
    """A number JSON can hold; what is not finite is not known."""
    return value if value is not None and math.isfinite(value) else None


def quantities_json(placed: PlacedWall) -> dict[str, Any]:
    """What the wall takes as laid, panel by panel and lift by lift, in place and without waste (SI)."""
    return {
        "whole": _taken(placed.whole),
        "not_laid": placed.not_laid,
        "panels": [
            {
                "name": p.panel,
                "whole": _taken(p.whole),
                "carried": None if p.carried is None else _taken(p.carried),
                "lifts": [
                    {"lift": f.number, "low": f.low, "high": f.high, "logs": list(f.logs), **_taken(f.taken)}
                    for f in p.lifts
                ],
            }
            for p in placed.panels
        ],
    }


def _taken(taken: Taken) -> dict[str, float | None]:
    named = {"logs": "log_count"}
    return {named.get(name, name): getattr(taken, name) for name in AMOUNTS}
