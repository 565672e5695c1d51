"""What does warmth look like in a laid panel? Lines of one temperature over the log ends, and the wall cut open.

The inner face is drawn seen from inside, every log in outline; over it run lines of one temperature of the surface.
Below it the wall is cut level, beside it upright, both through the coldest spot. Another drawing prints the heat that
goes in as dots, the larger the more. Temperatures are shown for stated air on both sides; everything reads in black.
"""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from cordwright.book.contours import level_lines
from cordwright.book.drawing import (
    BOLD_PEN,
    CUT_PEN,
    HAIR_PEN,
    OUTLINE_PEN,
    THIN_PEN,
    Circle,
    Drawing,
    Path,
    Point,
    Shape,
    Text,
    Tone,
    box,
    line,
    outline,
)
from cordwright.book.formats import Units, show_number, show_temperature
from cordwright.book.log_ends import draw_laid_end
from cordwright.book.scale import ToPaper, choose_scale
from cordwright.case import Project
from cordwright.heat import HeatStudy, LaidWall
from cordwright.heat.panel_heat import PanelHeat, Slice
from cordwright.wall.layout import PanelLayout

Floats = NDArray[np.float64]
INSIDE_AIR, OUTSIDE_AIR = 20.0, -10.0
"""Air for which temperatures are shown [degC]; only a way to show factors in degrees."""
ROOM: Final = (168.0, 190.0)
GAP: Final = 9.0
LEFT, FOOT, TOP = 6.0, 8.0, 6.0
FACE_STEPS: Final = (0.1, 0.2, 0.25, 0.5, 1.0, 2.0)
MOST_LINES: Final = 8
CUT_LEVELS: Final = (-8.0, -5.0, -2.0, 1.0, 4.0, 7.0, 10.0, 13.0, 16.0, 18.0)
SHORTEST: Final = 3.0
"""Runs shorter than this on paper are specks and left out [mm]."""
DOT_PITCH: Final = 2.0
KEY: Final = 12.0
"""Room for the key under the dots [mm]."""
LARGEST_DOT: Final = 0.66
LETTER: Final = 2.5
LABELS, MOST_TRIED = 3, 12
"""So many times each temperature is written, on the longest of so many runs."""
CLEAR: Final = (16.0, 5.0)
"""Writing stands this far apart, across and up [mm]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Warmth:
    """A solved panel with its layout, how it is written, and its lintels: left, right, lower and upper edge [m]."""

    layout: PanelLayout
    heat: PanelHeat
    units: Units
    locale: str
    lintels: tuple[tuple[float, float, float, float], ...] = ()

    def degrees(self, factor: Floats) -> Floats:
        """Temperatures for the air shown [degC], from factors."""
        return OUTSIDE_AIR + (INSIDE_AIR - OUTSIDE_AIR) * factor

    def words(self, degrees: float) -> str:
        """A temperature in the owner's units."""
        return show_temperature(degrees, self.units, self.locale)


def heat_drawings(project: Project, wall: LaidWall, study: HeatStudy, names: Mapping[str, str]) -> Iterator[Drawing]:
    """The drawings of the solved panels, in the plan's order.

    Args:
        project: the owner's case, for units and language.
        wall: the wall as laid.
        study: the panels solved.
        names: of the files, by panel.
    """
    layouts = {p.face.name: p for p in wall.laid}
    for panel in study.panels:
        body = wall.body(layouts[panel.name], panel.pitch)
        beams = [b.outline for b in body.boxes if b.part == "lintel"]
        warmth = Warmth(
            layout=layouts[panel.name],
            heat=panel,
            units=project.units,
            locale=project.locale,
            lintels=tuple((a[0], c[0], a[1], c[1]) for a, _, c, _ in beams),
        )
        yield draw_warmth(warmth, f"warmth-{names[panel.name]}")
        yield draw_flux(warmth, f"heat-{names[panel.name]}")


def draw_warmth(warmth: Warmth, name: str) -> Drawing:
    """The inner face with its lines of one temperature, the wall cut level below it and upright beside it.

    Args:
        warmth: the solved panel.
        name: the drawing's name among the book's files.
    """
    frame, size = _frame(warmth)
    shapes = (
        *_logs(warmth, frame),
        *_edges(warmth, frame, covered=True),
        *_isotherms(warmth, frame),
        *_level_cut(warmth, frame),
        *_upright_cut(warmth, frame),
        *_spot(warmth, frame),
    )
    label = f"panel {warmth.heat.name} seen from inside: lines of one surface temperature, and the wall cut open"
    return Drawing(name=name, label=label, width=size[0], height=size[1], shapes=shapes, denominator=frame.denominator)


def draw_flux(warmth: Warmth, name: str) -> Drawing:
    """The inner face with the heat that goes in as dots: a dot twice as large in area takes twice the heat.

    Args:
        warmth: the solved panel.
        name: the drawing's name among the book's files.
    """
    whole, _ = _frame(warmth)
    low_edge = warmth.heat.ye[0]
    frame = ToPaper(denominator=whole.denominator, origin=(whole.origin[0], KEY - low_edge * 1000 / whole.denominator))
    flux = warmth.heat.surface.flux.values()
    low, high = (float(np.nanpercentile(flux, share)) for share in (2, 98))
    dots = tuple(_dots(warmth, frame, np.clip((flux - low) / (high - low or 1.0), 0.0, 1.0)))
    shapes = (
        *_logs(warmth, frame, "white"),
        *dots,
        *_edges(warmth, frame, covered=False),
        *_dot_key(warmth, low, high),
    )
    _, x1, _, y1 = _reach(warmth)
    right, top = frame((x1, y1))
    return Drawing(
        name=name,
        label=f"panel {warmth.heat.name} seen from inside: heat that goes in, as dots",
        width=right + LEFT,
        height=top + TOP,
        shapes=shapes,
        denominator=frame.denominator,
    )


def _reach(warmth: Warmth) -> tuple[float, float, float, float]:
    heat = warmth.heat
    return heat.xe[0], heat.xe[-1], heat.ye[0], heat.ye[-1]


def _frame(warmth: Warmth) -> tuple[ToPaper, Point]:
    """The scale, the place of the face on the paper, and the size of the drawing [mm]."""
    x0, x1, y0, y1 = _reach(warmth)
    thick = warmth.heat.level.depth[-1]
    room = (ROOM[0] - GAP, ROOM[1] - GAP)
    denominator = choose_scale(x1 - x0 + thick, y1 - y0 + thick, room, warmth.units)
    mm = 1000 / denominator
    foot = FOOT + thick * mm + GAP
    frame = ToPaper(denominator=denominator, origin=(LEFT - x0 * mm, foot - y0 * mm))
    return frame, (LEFT + (x1 - x0 + thick) * mm + GAP + 14.0, foot + (y1 - y0) * mm + TOP)


def _logs(warmth: Warmth, frame: ToPaper, tone: Tone = "grey") -> Iterator[Shape]:
    for p in warmth.layout.placements:
        yield draw_laid_end(p.log, frame((p.x, p.y)), frame.length(p.log.diameter / 2), angle=p.angle, tone=tone)


def _edges(warmth: Warmth, frame: ToPaper, *, covered: bool) -> Iterator[Shape]:
    """Outline, posts, lintels and openings; lintels hide what is drawn behind them where `covered`."""
    face = warmth.layout.face
    yield outline(frame.all(face.outline), CUT_PEN)
    for x0, x1, y0, y1 in warmth.lintels:
        corner = frame((x0, y0))
        beam = box(corner, frame.length(x1 - x0), frame.length(y1 - y0))
        yield outline(beam, THIN_PEN, "frame", "white" if covered else "none")
    for hole in face.openings:
        yield outline(frame.all(hole.outline), BOLD_PEN, "frame", "white")
    x0, x1, y0, y1 = _reach(warmth)
    width = max(x for x, _ in face.outline)
    for a, b in ((x0, 0.0), (width, x1)):
        if b - a > 1e-6:
            corner = frame((a, y0))
            yield outline(box(corner, frame.length(b - a), frame.length(y1 - y0)), THIN_PEN, "wall")


def _middles(edges: tuple[float, ...]) -> Floats:
    e = np.array(edges)
    return np.asarray((e[:-1] + e[1:]) / 2)


def _isotherms(warmth: Warmth, frame: ToPaper) -> Iterator[Shape]:
    """Lines of one temperature on the inner face, each fifth part heavier, with their degrees where there is room."""
    degrees = warmth.degrees(warmth.heat.surface.factor.values())
    x, y = _middles(warmth.heat.xe), _middles(warmth.heat.ye)
    labels: list[Text] = []
    for n, level in enumerate(face_levels(degrees)):
        runs = [frame.all(run) for run in level_lines(x, y, degrees, level)]
        kept = [run for run in runs if _length(run) > SHORTEST]
        for run in kept:
            yield Path(points=run, pen=THIN_PEN if n % 2 == 0 else HAIR_PEN, layer="hatch")
        labels += _labels(kept, warmth.words(level), [label.at for label in labels])
    yield from labels


def face_levels(degrees: Floats) -> tuple[float, ...]:
    """Round temperatures within the range of a face, at most so many that the drawing stays legible [degC].

    Args:
        degrees: of the surface [degC], NaN where there is none.
    """
    low, high = float(np.nanpercentile(degrees, 1)), float(np.nanmax(degrees))
    for step in FACE_STEPS:
        levels = np.arange(np.ceil(low / step), np.floor(high / step) + 1) * step
        if levels.size <= MOST_LINES:
            break
    return tuple(levels.tolist())


def _length(run: tuple[Point, ...]) -> float:
    points = np.array(run)
    return float(np.hypot(*np.diff(points, axis=0).T).sum())


def _labels(runs: list[tuple[Point, ...]], words: str, taken: list[Point]) -> list[Text]:
    """The degrees on a few of the longest runs, each clear of the others."""
    made: list[Text] = []
    for run in sorted(runs, key=_length, reverse=True)[:MOST_TRIED]:
        for share in (0.5, 0.25, 0.75, 0.1, 0.9):
            at = run[int(share * (len(run) - 1))]
            clear = all(abs(at[0] - x) > CLEAR[0] or abs(at[1] - y) > CLEAR[1] for x, y in taken)
            if clear:
                taken.append((at[0], at[1] - LETTER / 3))
                made.append(Text(text=words, at=taken[-1], size=LETTER, face="measures", halo=True))
                break
        if len(made) == LABELS:
            break
    return made


def _spot(warmth: Warmth, frame: ToPaper) -> Iterator[Shape]:
    """The coldest spot: a ring and a cross that overshoots it."""
    spot = warmth.heat.checked.coldest()
    x, y = frame((spot.x, spot.y))
    yield Circle(centre=(x, y), radius=2.2, pen=OUTLINE_PEN)
    for dx, dy in ((3.4, 0.0), (0.0, 3.4)):
        yield line((x - dx, y - dy), (x + dx, y + dy), THIN_PEN)


def _level_cut(warmth: Warmth, frame: ToPaper) -> Iterator[Shape]:
    """The wall cut level through the coldest spot, outside face down."""
    cut = warmth.heat.level
    mm = frame.length(1.0)
    x0 = frame((0.0, 0.0))[0]

    def paper(point: Point) -> Point:
        return x0 + point[0] * mm, FOOT + point[1] * mm

    yield from _cut(warmth, cut, paper)
    yield Text(text="outside", at=(LEFT + 0.5, FOOT - 3.4), size=LETTER, anchor="start")
    yield Text(text="inside", at=(LEFT + 0.5, FOOT + cut.depth[-1] * mm + 1.0), size=LETTER, anchor="start")


def _upright_cut(warmth: Warmth, frame: ToPaper) -> Iterator[Shape]:
    """The wall cut upright through the coldest spot, outside face to the right."""
    cut = warmth.heat.upright
    mm = frame.length(1.0)
    _, x1, _, _ = _reach(warmth)
    start = frame((x1, 0.0))[0] + GAP
    y0 = frame((0.0, 0.0))[1]
    depth = cut.depth[-1]

    def paper(point: Point) -> Point:
        return start + (depth - point[1]) * mm, y0 + point[0] * mm

    yield from _cut(warmth, cut, paper)
    top = frame((0.0, warmth.heat.ye[-1]))[1]
    yield Text(text="inside", at=(start, top + 1.4), size=LETTER, anchor="middle")
    yield Text(text="outside", at=(start + depth * mm, top + 1.4), size=LETTER, anchor="middle")


def _cut(warmth: Warmth, cut: Slice, to_paper: Callable[[Point], Point]) -> Iterator[Shape]:
    """A section: its faces, the logs it goes through, the beads, and the lines of one temperature in it."""
    degrees = warmth.degrees(cut.field.values())
    along, depth = _middles(cut.along), _middles(cut.depth)
    known = np.asarray(np.isfinite(degrees).any(axis=0))
    for a, b in _stretches(known, cut.along):
        corners = ((a, 0.0), (b, 0.0), (b, cut.depth[-1]), (a, cut.depth[-1]))
        yield outline(tuple(to_paper(c) for c in corners), CUT_PEN)
    for a, b in _logs_cut(warmth, cut):
        for at in (a, b):
            ends = to_paper((at, 0.0)), to_paper((at, cut.depth[-1]))
            yield line(ends[0], ends[1], HAIR_PEN, "log")
    for n, level in enumerate(CUT_LEVELS):
        for run in level_lines(along, depth, degrees, level):
            points = tuple(to_paper(p) for p in run)
            if _length(points) > SHORTEST / 2:
                yield Path(points=points, pen=THIN_PEN if n % 3 == 1 else HAIR_PEN, layer="hatch")
        if n % 3 == 1 and cut.kind == "level":
            yield from _level_word(warmth, level, (along, depth, degrees), to_paper)


def _level_word(
    warmth: Warmth, level: float, cut: tuple[Floats, Floats, Floats], to_paper: Callable[[Point], Point]
) -> Iterator[Shape]:
    """What a line in the level cut stands for, at its right end."""
    ends = [run for run in level_lines(*cut, level) if len(run) > 1]
    if ends:
        x, y = to_paper(max((p for run in ends for p in run), key=lambda p: p[0]))
        yield Text(text=warmth.words(level), at=(x + 2.0, y - LETTER / 3), size=LETTER, anchor="start", face="measures")


def _stretches(known: NDArray[np.bool_], edges: tuple[float, ...]) -> Iterator[tuple[float, float]]:
    """Where the wall stands along a cut."""
    padded = np.concatenate(([False], known, [False]))
    changes = np.flatnonzero(np.diff(padded.astype(np.int8)))
    for a, b in zip(changes[::2].tolist(), changes[1::2].tolist(), strict=True):
        yield edges[a], edges[b]


def _logs_cut(warmth: Warmth, cut: Slice) -> Iterator[tuple[float, float]]:
    """From where to where a cut goes through each round log."""
    for p in warmth.layout.placements:
        across, along = (p.y, p.x) if cut.kind == "level" else (p.x, p.y)
        half = (p.log.diameter / 2) ** 2 - (cut.at - across) ** 2
        if half > 0 and p.log.shape == "round":
            yield along - half**0.5, along + half**0.5


def _dots(warmth: Warmth, frame: ToPaper, share: Floats) -> Iterator[Shape]:
    """A dot on a slanting raster for every spot of the wall, its area by the heat that goes in there."""
    x0, x1, y0, y1 = _reach(warmth)
    left, low = frame((x0, y0))
    right, top = frame((x1, y1))
    mm = frame.length(1.0)
    xe, ye = np.array(warmth.heat.xe), np.array(warmth.heat.ye)
    rows = int((top - low) / (DOT_PITCH * 0.5))
    for n in range(rows):
        y = low + (n + 0.5) * DOT_PITCH * 0.5
        for x in np.arange(left + (DOT_PITCH / 2 if n % 2 else 0.0) + DOT_PITCH / 4, right, DOT_PITCH).tolist():
            i = int(np.searchsorted(xe, x0 + (x - left) / mm)) - 1
            j = int(np.searchsorted(ye, y0 + (y - low) / mm)) - 1
            if 0 <= i < share.shape[1] and 0 <= j < share.shape[0] and np.isfinite(share[j, i]):
                yield _dot((x, y), float(share[j, i]))


def _dot(at: Point, share: float) -> Circle:
    """A dot whose area goes by a share; at the whole it nearly meets its neighbours."""
    return Circle(centre=at, radius=LARGEST_DOT * (0.02 + 0.98 * share) ** 0.5, pen=0.0, tone="black")


def _dot_key(warmth: Warmth, low: float, high: float) -> Iterator[Shape]:
    """What the least and the largest dots stand for, for the air shown."""
    span = INSIDE_AIR - OUTSIDE_AIR
    for n in range(5):
        share = n / 4
        x = LEFT + 1.0 + 21.0 * n
        yield _dot((x, KEY / 2 - 1), share)
        words = show_number((low + share * (high - low)) * span, 1, warmth.locale) + (" W/m²" if n == 4 else "")
        at = (x + 2.4, KEY / 2 - 1 - LETTER / 3)
        yield Text(text=words, at=at, size=LETTER, anchor="start", face="measures")
