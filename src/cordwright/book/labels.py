"""What is stapled to a log end so that it is found again when its turn comes? Labels to print and cut, stem by stem.

Each says where the log goes, scribed as on the drawing, and what it is; the square code says the same to a phone.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from cordwright.book.drawing import HAIR_PEN, Drawing, Point, Shape, Squares, Text, fitted, line
from cordwright.book.scribe import scribe, scribed_width

PAPER: Final = (210.0, 297.0)
ACROSS, DOWN = 3, 9
SIZE: Final = (62.0, 30.5)
MARGIN: Final = ((PAPER[0] - ACROSS * SIZE[0]) / 2, (PAPER[1] - DOWN * SIZE[1]) / 2)
CODE: Final = 25.0
"""The square code with its quiet border is so wide [mm]; a module comes to about three quarters of a millimetre."""
FIGURE: Final = 8.6
"""The scribed number is so high [mm]."""
QUIET: Final = 4
"""Modules of white around a code."""
MASK: Final = 1
"""One mask for all codes: to weigh all eight by the standard's rule takes longer than all else on the labels, and of
676 codes at three sizes a reader missed eight of those so chosen and two with this one."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Label:
    """One log end's label: where it goes (panel, lift, number in the lift), its id, stem and size in words."""

    panel: str
    lift: int
    number: str
    log: str
    stem: str
    size: str

    @property
    def place(self) -> str:
        """Where the log goes, in one line."""
        return f"{self.panel} {self.lift}-{self.number}"

    @property
    def said(self) -> str:
        """What the square code says: place, log, size, a line each."""
        return f"{self.place}\n{self.log}\n{self.size}"


def draw_labels(labels: Sequence[Label], name: str = "labels") -> tuple[Drawing, ...]:
    """Sheets of labels, 27 on each, in the order given, with lines to cut along."""
    pages = [labels[n : n + ACROSS * DOWN] for n in range(0, len(labels), ACROSS * DOWN)]
    return tuple(
        Drawing(
            name=f"{name}-{n}",
            label=f"Log-end labels, sheet {n} of {len(pages)}: {page[0].log} to {page[-1].log}",
            width=PAPER[0],
            height=PAPER[1],
            shapes=(*_cuts(), *(s for k, each in enumerate(page) for s in _label(each, _corner(k)))),
        )
        for n, page in enumerate(pages, 1)
    )


def _corner(k: int) -> Point:
    """Lower left corner of the k-th label, from the upper left along the rows."""
    row, column = divmod(k, ACROSS)
    return (MARGIN[0] + column * SIZE[0], PAPER[1] - MARGIN[1] - (row + 1) * SIZE[1])


def _cuts() -> Iterator[Shape]:
    left, low = MARGIN
    right, high = PAPER[0] - left, PAPER[1] - low
    for n in range(ACROSS + 1):
        yield line((left + n * SIZE[0], low - 4), (left + n * SIZE[0], high + 4), HAIR_PEN, "reference", (1.0, 2.0))
    for n in range(DOWN + 1):
        yield line((left - 4, low + n * SIZE[1]), (right + 4, low + n * SIZE[1]), HAIR_PEN, "reference", (1.0, 2.0))


def _label(label: Label, corner: Point) -> Iterator[Shape]:
    x, y = corner
    room = SIZE[0] - CODE - 4.0
    place = f"{label.panel} lift {label.lift}"
    piece = label.log if label.log.startswith(label.stem) else f"{label.log} of stem {label.stem}"
    yield Text(text=fitted(place, room, 5.4), at=(x + 3, y + 24.0), size=5.4, anchor="start", bold=True)
    yield from scribe(label.number, (x + 3 + scribed_width(label.number, FIGURE) / 2, y + 16.6), FIGURE)
    yield Text(text=label.size, at=(x + 3, y + 6.0), size=4.2, anchor="start", face="measures")
    yield Text(text=fitted(piece, room, 3.4), at=(x + 3, y + 2.0), size=3.4, anchor="start")
    yield square_code(label.said, (x + SIZE[0] - CODE - 1.0, y + (SIZE[1] - CODE) / 2), CODE)


def square_code(text: str, corner: Point, width: float) -> Squares:
    """A text as a square code (QR, ISO/IEC 18004) with its quiet border, from its lower left corner [mm]."""
    import segno

    rows = segno.make(text, error="m", micro=False, boost_error=False, mask=MASK).matrix
    module = width / (len(rows) + 2 * QUIET)
    return Squares(
        at=(corner[0] + QUIET * module, corner[1] + width - QUIET * module),
        module=module,
        runs=tuple((start, n, end - start) for n, row in enumerate(rows) for start, end in _runs(row)),
    )


def _runs(row: bytearray) -> Iterator[tuple[int, int]]:
    """Where dark modules follow one another: from the first to behind the last."""
    end = 0
    while (start := row.find(1, end)) >= 0:
        end = row.find(0, start)
        end = len(row) if end < 0 else end
        yield start, end
