"""What would a mason say of this stock and these panels before the first log is laid?"""

from collections.abc import Iterator, Sequence

import numpy as np

from cordwright.base import Cite
from cordwright.wall.inputs import Joints
from cordwright.wall.laid_study import Note
from cordwright.wall.layout import Face, Hole, Log
from cordwright.wall.region import Floats

EVEN = 0.15
"""Diameters that spread less than this share of their mean lock into rows (`even-stock`)."""

NEAR = 0.012
"""A row of logs closes a band when its logs are within this of the band's height [m] (`lintel-band`)."""

SOURCES = (Cite("even-stock"), Cite("lintel-band"))
"""What these notes rest on."""


def stock_notes(stock: Sequence[Log]) -> Iterator[Note]:
    """Tell when a stock is so even that its logs lock into rows with straight joints.

    Args:
        stock: logs that may be used.

    Sources: common practice and assumption (`even-stock`).
    """
    sizes = np.array([log.diameter for log in stock])
    if len(sizes) > 1 and float(np.std(sizes)) < EVEN * float(np.mean(sizes)):
        yield Note(
            pieces=(
                "your stock is too even: its logs lock into rows; 10 to 15 % small logs, about ",
                0.6 * float(np.mean(sizes)),
                " across, would help (common practice)",
            )
        )


def band_notes(faces: Sequence[Face], stock: Sequence[Log], joints: Joints) -> Iterator[Note]:
    """Tell which bands between a frame and the wall head fit no log of the stock well.

    Args:
        faces: the panels.
        stock: logs that may be used.
        joints: joint widths as stated.

    Sources: assumption (`lintel-band`).
    """
    sizes = np.array([log.diameter for log in stock])
    if not len(sizes):
        return
    for face in faces:
        for hole in face.openings:
            height, width = _band(face, hole)
            if height > 1e-6 and not _fits(height, width, sizes, joints):
                yield _band_note(face, hole, height, sizes, joints)


def _band(face: Face, hole: Hole) -> tuple[float, float]:
    """Height of the band over a frame up to the wall head at the frame's middle, and the frame's width [m]."""
    from shapely import LineString, Polygon

    xs, ys = zip(*hole.outline, strict=True)
    middle, top = (min(xs) + max(xs)) / 2, max(ys)
    head = max(y for _, y in face.outline)
    above = LineString([(middle, top), (middle, head + 1.0)]).intersection(Polygon(face.outline))
    return float(above.length), max(xs) - min(xs)


def _fits(height: float, width: float, sizes: Floats, joints: Joints) -> bool:
    """Whether one row or two close the band with enough logs of the right size, or it is high enough for any mix."""
    mean = float(np.mean(sizes))
    if height - 2 * joints.edge > 2.5 * mean + joints.nominal:
        return True
    for rows in (1, 2):
        each = (height - 2 * joints.edge - (rows - 1) * joints.nominal) / rows
        right = np.abs(sizes - each) <= NEAR
        if each > 0 and np.sum(right) >= rows * width / (each + joints.nominal):
            return True
    return False


def _band_note(face: Face, hole: Hole, height: float, sizes: Floats, joints: Joints) -> Note:
    row = float(np.median(sizes)) + 2 * joints.edge
    return Note(
        pieces=(
            f"panel {face.name}: the band over {hole.id} of ",
            height,
            " fits no log of the stock well; a band of ",
            row,
            " takes one row of your middle size, ",
            row + float(np.median(sizes)) + joints.nominal,
            " two: move the lintel if you can",
        )
    )
