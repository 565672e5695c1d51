"""Which faces are to be laid, and with which log ends?"""

import math
from collections.abc import Iterator

from cordwright.plan.results import Panel, Plan
from cordwright.timber.results import Stock
from cordwright.wall.layout import Disc, Face, Hole, Log, Shape


def faces_of(plan: Plan) -> tuple[Face, ...]:
    """Give the faces of all panels on the wall's centre line, bed to wall head, with their holes and fixed discs."""
    return tuple(_face(panel) for panel in plan.panels)


def _face(panel: Panel) -> Face:
    return Face(
        name=panel.name,
        outline=panel.outline,
        openings=tuple(Hole(id=p.opening.id, outline=p.outline) for p in panel.openings),
        obstacles=tuple(Disc(id=o.id, x=o.u, y=o.v, diameter=o.diameter) for o in panel.obstacles),
    )


def logs_of(stock: Stock) -> tuple[Log, ...]:
    """Give the log ends in stock whose diameter at laying is known, each with the stem it came from."""
    return tuple(_logs(stock))


def _logs(stock: Stock) -> Iterator[Log]:
    whole: tuple[Shape, ...] = ("round",)
    shapes = stock.shape or whole * len(stock.id)
    for name, stem, diameter, shape in zip(stock.id, stock.stem, stock.diameter.tolist(), shapes, strict=True):
        if not math.isnan(diameter):
            yield Log(id=name, stem=stem, diameter=diameter, shape=shape)
