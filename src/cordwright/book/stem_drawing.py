"""Where does the saw go? One stem or stick as a bar with its cuts, trims, defects and what is left over."""

from collections.abc import Sequence
from typing import Final

from cordwright.book.drawing import (
    FINE_PEN,
    HAIR_PEN,
    OUTLINE_PEN,
    Drawing,
    Hatch,
    Path,
    Point,
    Shape,
    Text,
    box,
    line,
    outline,
)
from cordwright.book.formats import Units
from cordwright.book.scale import choose_scale
from cordwright.book.scribe import scribe, scribed_width
from cordwright.timber.inputs import Stem
from cordwright.timber.results import StemCut

WIDTH: Final = 138.0
SWELL: Final = 2.0
"""Diameters are drawn twice as thick as lengths are long, so that a number fits; the sheet says so."""
TALLEST: Final = 13.0
LEAST_FIGURE: Final = 1.8
MOST_FIGURE: Final = 3.6


def stem_scale(cuts: Sequence[StemCut], units: Units) -> float:
    """One scale for all stems, so that two on the sheet compare: the longest and the thickest still fit."""
    longest = max(c.stem.length for c in cuts)
    thickest = max(max(c.stem.butt_diameter, c.stem.top_diameter) for c in cuts) * SWELL
    return choose_scale(longest, thickest, (WIDTH - 2, TALLEST), units)


def draw_stem(cut: StemCut, denominator: float, name: str) -> Drawing:
    """One stem lying butt to the left, every log end numbered from the butt."""
    stem, per_metre = cut.stem, 1000 / denominator
    height = max(4.0, max(stem.butt_diameter, stem.top_diameter) * SWELL * per_metre + 1.5)

    def strip(start: float, end: float) -> tuple[Point, ...]:
        halves = [diameter_at(stem, x) * SWELL * per_metre / 2 for x in (start, end)]
        xs = (1 + start * per_metre, 1 + end * per_metre)
        mid = height / 2
        return ((xs[0], mid - halves[0]), (xs[1], mid - halves[1]), (xs[1], mid + halves[1]), (xs[0], mid + halves[0]))

    shapes: list[Shape] = [outline(strip(0.0, stem.length), HAIR_PEN, "log", "grey")]
    for defect in stem.defects:
        shapes += _defect(strip(defect.start, min(defect.end, stem.length)))
    for n, piece in enumerate(cut.pieces, start=1):
        shapes += _piece(strip(piece.start, piece.end), n)
    label = f"Stem {stem.name}: {len(cut.pieces)} log ends, butt to the left"
    return Drawing(name=name, label=label, width=WIDTH, height=height, shapes=tuple(shapes), denominator=denominator)


def diameter_at(stem: Stem, x: float) -> float:
    """The stem's diameter at a distance from the butt, tapering evenly [m]."""
    return stem.butt_diameter + (stem.top_diameter - stem.butt_diameter) * x / stem.length


def _piece(ring: tuple[Point, ...], number: int) -> list[Shape]:
    wide, high = ring[1][0] - ring[0][0], min(ring[3][1] - ring[0][1], ring[2][1] - ring[1][1])
    centre = ((ring[0][0] + ring[1][0]) / 2, (ring[0][1] + ring[3][1] + ring[1][1] + ring[2][1]) / 4)
    room = 0.8 * wide / scribed_width(str(number), 1.0)
    figure = max(LEAST_FIGURE, min(MOST_FIGURE, room, 0.6 * high))
    return [outline(ring, OUTLINE_PEN, "log", "white"), *scribe(str(number), centre, figure)]


def _defect(ring: tuple[Point, ...]) -> list[Shape]:
    return [
        outline(ring, FINE_PEN, "log", "white"),
        Hatch(rings=(ring,), material="timber"),
        line(ring[0], ring[2], OUTLINE_PEN, "log"),
        line(ring[1], ring[3], OUTLINE_PEN, "log"),
    ]


def stem_key() -> Drawing:
    """What the marks on a stem mean."""
    shapes: list[Shape] = [
        *_piece(box((1, 1), 10, 6), 1),
        Text(text="log end", at=(13, 2.6), anchor="start"),
        outline(box((38, 1), 10, 6), HAIR_PEN, "log", "grey"),
        Text(text="trim or left over", at=(50, 2.6), anchor="start"),
        *_defect(box((88, 1), 10, 6)),
        Text(text="cut out", at=(100, 2.6), anchor="start"),
        Path(points=((121, 0.5), (121, 7.5)), pen=OUTLINE_PEN, layer="log"),
        Text(text="saw cut", at=(123, 2.6), anchor="start"),
    ]
    return Drawing(name="stem-key", label="Marks on the stems", width=WIDTH, height=8, shapes=tuple(shapes))
