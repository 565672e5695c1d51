"""How large can a laid panel be drawn, and what room do posts, sizes and marks take around it? All in millimetres."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Final

from cordwright.base import InputError
from cordwright.book.bays import bay_of, bays
from cordwright.book.drawing import Point, distance, text_width
from cordwright.book.formats import show_millimetres
from cordwright.book.lift_bands import Bands, numbers_in_lifts
from cordwright.book.log_ends import FLOOR, figure_height, split_figure
from cordwright.book.marks import SIZE
from cordwright.book.scale import ToPaper, extent, scales_of
from cordwright.case import Project
from cordwright.plan.results import Panel
from cordwright.wall.layout import PanelLayout, Placement

ROOM: Final = (180.0, 200.0)
SMALLEST: Final = {"metric": 25.0, "imperial": 24.0}
"""The largest denominator at which scribed figures are still read; a longer panel is drawn in bays."""
MOST_BAYS: Final = 12
STRIPS: Final = 145.0
"""So much of a page is left for the strips of all lifts under the table of what they take [mm]."""
STRIP_MARGIN: Final = 9.0
"""A lift's strip takes so much more paper than its logs are high, the gap to the next one included [mm]."""
STRIP: Final = 6.0
"""Of a post so much is shown beside the panel, and the lift's numeral stands on it."""
FIRST_ROW: Final = 4.6
NEXT_ROW: Final = 5.0
TICK: Final = 1.4
BED: Final = 2.0
HEAD: Final = 2.4
MARK: Final = 4.2
"""Height of the row of marks of sleeves and bottle ends, above the head or under the bed."""
SIDE_ROW: Final = 6.6


@dataclass(frozen=True, slots=True, kw_only=True)
class Bay:
    """What one sheet shows: a stretch of the panel in its own frame, with the logs of its neighbours at a cut.

    `ends`: where it lies along the whole panel; `beside`: room left and right for neighbours, 0 at a post [m].
    `rows`: how far below the bed the two rows of sizes stand, `aside`: how far right of the post the heights [mm].
    """

    panel: Panel
    layout: PanelLayout
    ends: tuple[float, float]
    beside: tuple[float, float]
    number: int
    count: int

    @property
    def size(self) -> tuple[float, float]:
        """Length and height of what is shown, neighbours left out [m]."""
        _, _, wide, high = extent(self.panel.outline)
        return (wide, high)

    @property
    def own(self) -> tuple[Placement, ...]:
        """The logs that this sheet numbers: those whose middle lies in its stretch."""
        wide = self.size[0]
        left, right = self.beside
        return tuple(p for p in self.layout.placements if (not left or p.x >= 0) and (not right or p.x < wide))

    @property
    def neighbours(self) -> tuple[Placement, ...]:
        """The logs beyond a cut that are shown whole, in outline."""
        wide, (left, right) = self.size[0], self.beside
        own = {p.log.id for p in self.own}
        return tuple(
            p
            for p in self.layout.placements
            if p.log.id not in own and -left <= p.x - p.log.diameter / 2 and p.x + p.log.diameter / 2 <= wide + right
        )

    @property
    def marks_below(self) -> bool:
        """Whether the marks of sleeves and bottle ends stand under the bed: when all of them lie low."""
        return all(o.v < self.size[1] / 2 for o in self.panel.obstacles)


@dataclass(frozen=True, slots=True, kw_only=True)
class Frame:
    """The sheet about the panel [mm]: its scale and way to paper, its size, and where rows of sizes stand."""

    to_paper: ToPaper
    width: float
    height: float
    rows: tuple[float, float]
    aside: float
    mark_foot: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Laid:
    """All that one sheet draws from: `upto` is the lift being laid, None for the whole panel."""

    project: Project
    bay: Bay
    frame: Frame
    bands: Bands
    numbers: Mapping[str, str]
    rings: Mapping[str, int]
    upto: int | None = None

    @property
    def lifts(self) -> tuple[int, ...]:
        """The lifts that stand in this drawing."""
        return tuple(n for n in sorted(self.bands) if self.upto is None or n <= self.upto)


def cut_in_bays(panel: Panel, layout: PanelLayout, count: int) -> tuple[Bay, ...]:
    """The panel in about equal stretches that cut no opening, sleeve or bottle end; all of it when count is 1."""
    ends = bays(panel, count) if count > 1 else ((0.0, panel.centre_length),)
    room = max((p.log.diameter for p in layout.placements), default=0.0)
    return tuple(
        Bay(
            panel=bay_of(panel, (left, right)) if len(ends) > 1 else panel,
            layout=_moved(layout, left),
            ends=(left, right),
            beside=(room if n else 0.0, room if n < len(ends) - 1 else 0.0),
            number=n + 1,
            count=len(ends),
        )
        for n, (left, right) in enumerate(ends)
    )


def _moved(layout: PanelLayout, left: float) -> PanelLayout:
    if not left:
        return layout
    face = replace(
        layout.face,
        outline=tuple((x - left, y) for x, y in layout.face.outline),
        openings=tuple(replace(h, outline=tuple((x - left, y) for x, y in h.outline)) for h in layout.face.openings),
        obstacles=tuple(replace(d, x=d.x - left) for d in layout.face.obstacles),
    )
    return replace(
        layout,
        face=face,
        placements=tuple(replace(p, x=p.x - left) for p in layout.placements),
        fillers=tuple(replace(f, x=f.x - left) for f in layout.fillers),
    )


def choose_sheets(project: Project, panel: Panel, layout: PanelLayout) -> tuple[tuple[Bay, Frame], ...]:
    """As few sheets as there must be for every scribed figure to be read, each at one and the same scale.

    Raises:
        InputError: the panel is too high for a sheet at any scale at which figures are read.
    """
    numbers = numbers_in_lifts(layout.placements)
    best: tuple[tuple[Bay, ...], float] | None = None
    for count in range(1, MOST_BAYS + 1):
        cut = cut_in_bays(panel, layout, count)
        scale = common_scale(project, cut)
        if scale is None:
            continue
        best = (cut, scale) if best is None or scale < best[1] else best
        if smallest_figure(layout, numbers, best[1]) >= FLOOR or scale == scales_of(project.units)[0]:
            break
    if best is None:
        raise InputError(f"panel {panel.name} is too large to be drawn with its log ends on sheets of this size")
    return tuple((bay, frame_at(project, bay, best[1])) for bay in best[0])


def lift_sheets(project: Project, panel: Panel, layout: PanelLayout) -> tuple[tuple[Bay, Frame], ...]:
    """The same sheets at the scale for strips: smaller while the lifts overflow a page and figures are still read."""
    sheets = choose_sheets(project, panel, layout)
    scale = sheets[0][1].to_paper.denominator
    numbers, heights = numbers_in_lifts(layout.placements), lift_heights(layout)
    for smaller in scales_of(project.units):
        room = sum(h * 1000 / scale + STRIP_MARGIN for h in heights) * len(sheets)
        if room <= STRIPS or smaller > SMALLEST[project.units] or smallest_figure(layout, numbers, smaller) < FLOOR:
            break
        scale = max(scale, float(smaller))
    return tuple((bay, frame_at(project, bay, scale)) for bay, _ in sheets)


def lift_heights(layout: PanelLayout) -> list[float]:
    """How high each lift's logs reach, from the lowest foot to the highest crown [m]."""
    heights = []
    for lift in sorted({p.lift for p in layout.placements}):
        own = [(p.y, p.log.diameter / 2) for p in layout.placements if p.lift == lift]
        heights.append(max(y + r for y, r in own) - min(y - r for y, r in own))
    return heights


def smallest_figure(layout: PanelLayout, numbers: dict[str, str], denominator: float) -> float:
    """The height of the smallest scribed figure at that scale [mm].

    A lift of more than 99 logs is to be split; its third digit is drawn, but forces no larger scale.
    """
    heights = []
    for p in layout.placements:
        radius, number = p.log.diameter * 500 / denominator, numbers[p.log.id][-2:]
        if p.log.shape == "round":
            heights.append(figure_height(number, radius))
        else:
            heights.append(split_figure(p.log, radius, p.angle, number))
    return min(heights, default=FLOOR)


def common_scale(project: Project, cut: Sequence[Bay]) -> float | None:
    """The largest usual scale at which every bay fits its sheet; None when figures would be too small to read."""
    for denominator in scales_of(project.units):
        if denominator > SMALLEST[project.units]:
            return None
        frames = [frame_at(project, bay, float(denominator)) for bay in cut]
        if all(f.width <= ROOM[0] + 1e-6 and f.height <= ROOM[1] + 1e-6 for f in frames):
            return float(denominator)
    return None


def frame_at(project: Project, bay: Bay, denominator: float) -> Frame:
    """The sheet about a bay at a scale."""
    wide, high = bay.size
    unit = 1000 / denominator
    below = MARK if bay.panel.obstacles and bay.marks_below else 0.0
    above = MARK if bay.panel.obstacles and not bay.marks_below else 0.0
    first = BED + FIRST_ROW + below + _raise(across(bay), project, denominator)
    last = first + NEXT_ROW if bay.panel.openings else first
    aside = SIDE_ROW + _raise(upward(bay), project, denominator)
    left = SIDE_ROW + STRIP + bay.beside[0] * unit
    right = bay.beside[1] * unit + STRIP + (aside + TICK if len(upward(bay)) > 2 else 1.0)
    foot = last + TICK
    return Frame(
        to_paper=ToPaper(denominator=denominator, origin=(left, foot)),
        width=left + wide * unit + right,
        height=foot + high * unit + HEAD + above,
        rows=(first, last),
        aside=aside,
        mark_foot=foot + high * unit + 2.2 if above else foot - BED - MARK + 0.7,
    )


def _raise(points: Sequence[Point], project: Project, denominator: float) -> float:
    """Room for a figure raised above its neighbour because its stretch is too short for it [mm]."""
    lengths = [distance(a, b) for a, b in pairwise(points)]
    tight = [v for v in lengths if text_width(show(v, project), SIZE, "measures") > v * 1000 / denominator - 0.5]
    return SIZE if tight else 0.0


def show(length: float, project: Project) -> str:
    """A size on the drawing."""
    return show_millimetres(length, project.locale, project.units)


def across(bay: Bay) -> list[Point]:
    """The upright edges of openings and the ends of what is shown, left to right along the bed [m]."""
    spans = [(p.opening.from_left, p.opening.from_left + p.opening.width) for p in bay.panel.openings]
    return [(u, 0.0) for u in _edges(spans, bay.size[0])]


def upward(bay: Bay) -> list[Point]:
    """Sills and heads of openings and corners of the head, from the bed up, at the right end [m]."""
    wide, high = bay.size
    spans = [(p.opening.sill, p.opening.sill + p.opening.height) for p in bay.panel.openings]
    spans += [(v, v) for u, v in bay.panel.outline if not any(u in (b.left, b.right) for b in bay.panel.blocks)]
    return [(wide, v) for v in _edges(spans, high)]


def _edges(spans: Sequence[tuple[float, float]], last: float) -> list[float]:
    values = sorted({round(v, 4) for v in (0.0, last, *(edge for span in spans for edge in span))})
    return [v for v in values if 0.0 <= v <= round(last, 4)]
