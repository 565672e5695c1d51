"""What stands on each sheet? One tree of plain values; the paper and the page set the same tree.

Text here is still the owner's own, unescaped: each backend hands it on as data.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, fields, is_dataclass
from typing import Any, Literal

from cordwright.book.drawing import Drawing

Manner = Literal["lead", "body", "small", "aside"]
SheetManner = Literal["plain", "large", "small", "desk"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Heading:
    """A heading within a sheet."""

    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Paragraph:
    """Some sentences: the answer first (lead), plain, small print, or an aside in italics."""

    text: str
    manner: Manner = "body"


@dataclass(frozen=True, slots=True, kw_only=True)
class Items:
    """A list; with boxes to tick where each is to be done or asked."""

    items: tuple[str, ...]
    tick: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """A column of a table: its head, whether it holds measures, and its share of the width."""

    title: str
    measure: bool = False
    share: float = 1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """A row of a table: as many cells as columns; a group has one, a total stands under a thick rule."""

    cells: tuple[str, ...]
    manner: Literal["row", "group", "total"] = "row"


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """A table, each row with a box to tick if wanted."""

    label: str
    columns: tuple[Column, ...]
    rows: tuple[Row, ...]
    tick: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Picture:
    """A drawing at its true size."""

    drawing: Drawing


@dataclass(frozen=True, slots=True, kw_only=True)
class CautionBox:
    """A caution behind a striped edge: the harm, what to do, who decides."""

    harm: str
    do: str
    decides: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Lath:
    """One check: its name, its demand and limit in a sentence, its bar, and the vial with its word and margin."""

    name: str
    sentence: str
    bar: Drawing
    vial: Drawing
    word: str
    margin: str
    short: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Laths:
    """All checks against one plumb line; `line_at` is its place as a share of the bar's width."""

    rows: tuple[Lath, ...]
    line_at: float


@dataclass(frozen=True, slots=True, kw_only=True)
class StemRow:
    """One stem of the cutting sheet: its name, what it is, its bar and what it gives."""

    name: str
    what: str
    bar: Drawing
    gives: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Stems:
    """Stems one under the other, to one scale, each with a box to tick."""

    rows: tuple[StemRow, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class MixRow:
    """One material of a batch: how many buckets, of what, in which form."""

    count: str
    name: str
    note: str
    buckets: Drawing


@dataclass(frozen=True, slots=True, kw_only=True)
class Fact:
    """A number that hangs beside the mixer."""

    before: str
    value: str
    after: str


@dataclass(frozen=True, slots=True, kw_only=True)
class MixCard:
    """One batch of mortar for the wall of the mixing shed."""

    rows: tuple[MixRow, ...]
    loading: tuple[str, ...]
    facts: tuple[Fact, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Strokes:
    """Empty boxes for tally strokes."""

    label: str
    count: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Working:
    """Why this number: its name and value, and the lines of its working; some are for the page on the screen alone."""

    question: str
    answer: str
    table: Table
    screen_only: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """A line of the contents: a sheet's mark, title and place."""

    mark: str
    title: str
    slug: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Contents:
    """The sheets of this book."""

    entries: tuple[Entry, ...]


Block = (
    Heading | Paragraph | Items | Table | Picture | CautionBox | Laths | Stems | MixCard | Strokes | Working | Contents
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """One sheet: the boxed mark it is found by, its title, an address for links, its blocks, a bar scale or none.

    `manner`: "large" hangs beside the mixer; "small" and "desk" are read at a table, in small type, one column or two.
    """

    mark: str
    title: str
    slug: str
    blocks: tuple[Block, ...]
    aside: str = ""
    bar: Drawing | None = None
    manner: SheetManner = "plain"


@dataclass(frozen=True, slots=True, kw_only=True)
class Book:
    """The whole book: its title, what stands in every foot, and its sheets in the order of the job."""

    title: str
    foot: str
    file_mark: str
    sheets: tuple[Sheet, ...]


def drawings_in(value: object) -> Iterator[Drawing]:
    """Every drawing in a part of the tree, in order."""
    if isinstance(value, Drawing):
        yield value
    elif is_dataclass(value):
        for field in fields(value):
            yield from drawings_in(getattr(value, field.name))
    elif isinstance(value, tuple):
        for item in value:
            yield from drawings_in(item)


def as_data(value: Any) -> Any:
    """A part of the tree as lists and mappings; a drawing becomes the name of its file and its size [mm]."""
    if isinstance(value, Drawing):
        return {
            "kind": "Drawing",
            "file": f"{value.name}.svg",
            "label": value.label,
            "width": value.width,
            "height": value.height,
        }
    if is_dataclass(value):
        return {"kind": type(value).__name__, **{f.name: as_data(getattr(value, f.name)) for f in fields(value)}}
    if isinstance(value, tuple):
        return [as_data(item) for item in value]
    return value


def table(label: str, columns: Sequence[Column], rows: Sequence[Sequence[str] | Row], *, tick: bool = False) -> Table:
    """A table of plain rows and ready-made group or total rows."""
    ready = tuple(r if isinstance(r, Row) else Row(cells=tuple(r)) for r in rows)
    return Table(label=label, columns=tuple(columns), rows=ready, tick=tick)
