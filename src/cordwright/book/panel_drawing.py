"""What does one panel look like from inside? Its outline, openings, sleeves, bottle ends and the posts' edges."""

from collections.abc import Iterable, Sequence
from itertools import pairwise
from typing import Final

from cordwright.book.bays import MOST_BAYS, READABLE, bay_of, bays
from cordwright.book.blocks import corner_blocks
from cordwright.book.drawing import (
    BOLD_PEN,
    CHAIN,
    CUT_PEN,
    FINE_PEN,
    THIN_PEN,
    Circle,
    Drawing,
    Hatch,
    Path,
    Point,
    Shape,
    Text,
    box,
    fitted,
    line,
    outline,
    text_width,
)
from cordwright.book.formats import show_millimetres
from cordwright.book.marks import dimension, dimension_row, note, sleeve
from cordwright.book.scale import ToPaper, choose_scale, extent, show_scale
from cordwright.case import Project
from cordwright.plan.results import Obstacle, Panel, PlacedOpening

ROOM: Final = (180.0, 150.0)
STACK: Final = 215.0
"""Room for all bays of a panel one above the other [mm]."""
SIDE, FOOT, TOP = 15.0, 27.0, 7.0
POST_SHOWN: Final = 0.16
"""Of a post beside the panel this much is drawn, then it is broken off [m]."""


def draw_panel(project: Project, panel: Panel, name: str) -> tuple[Drawing, ...]:
    """One panel's face seen from inside, in bays one above the other where in one piece it would be too small."""
    parts: tuple[tuple[float, float], ...] = ((0.0, panel.centre_length),)
    scale = _scale(project, panel, _post_shown(project), ROOM[1])
    for count in range(2, MOST_BAYS + 1):
        if scale <= READABLE[project.units]:
            break
        cut = bays(panel, count)
        smaller = max(_scale(project, bay_of(panel, ends), 0.0, STACK / len(cut)) for ends in cut)
        parts, scale = (cut, smaller) if smaller < scale else (parts, scale)
    if len(parts) == 1:
        return (_draw(project, panel, name, scale),)
    return tuple(_draw_bay(project, panel, ends, f"{name}-bay-{n}", scale) for n, ends in enumerate(parts, 1))


def _scale(project: Project, panel: Panel, beside: float, room: float) -> float:
    """The largest usual scale at which a panel and what is shown of its posts fit the sheet."""
    _, _, wide, high = extent(panel.outline)
    return choose_scale(wide + 2 * beside, high, (ROOM[0] - 2 * SIDE, room - FOOT - TOP), project.units)


def _draw_bay(project: Project, panel: Panel, ends: tuple[float, float], name: str, denominator: float) -> Drawing:
    left, right = (show_millimetres(u, project.locale, project.units) for u in ends)
    return _draw(project, bay_of(panel, ends), name, denominator, cut=f" from {left} to {right}")


def _draw(project: Project, panel: Panel, name: str, denominator: float, cut: str = "") -> Drawing:
    _, _, wide, high = extent(panel.outline)
    beside = 0.0 if cut or panel.blocks else _post_shown(project)
    left = SIDE + beside * 1000 / denominator
    to_paper = ToPaper(denominator=denominator, origin=(left, FOOT))
    width, height = left + to_paper.length(wide) + (left - SIDE) + SIDE, FOOT + TOP + to_paper.length(high)
    shapes = [
        *_ground(panel, to_paper, beside),
        *_posts(beside, (wide, high), to_paper),
        *corner_blocks(panel, to_paper),
        *(shape for placed in panel.openings for shape in _opening(placed, to_paper, project)),
        *_built_in(panel, project, to_paper),
        *_lengths(panel, project, to_paper, (wide, high)),
    ]
    unrolled = ", unrolled on the centre line" if panel.inner_radius is not None else ""
    if cut:
        shapes += [*_cut_marks(to_paper, (wide, high)), note(cut.strip(), (left, height - 4), anchor="start")]
    label = f"Panel {panel.name} seen from inside{unrolled}{cut}, {show_scale(denominator, project.units)}"
    return Drawing(name=name, label=label, width=width, height=height, shapes=tuple(shapes), denominator=denominator)


def _cut_marks(to_paper: ToPaper, size: tuple[float, float]) -> list[Shape]:
    """Chain lines where a bay is cut from the panel: there the wall goes on, no post stands."""
    wide, high = size
    ends = [(to_paper((u, 0.0)), to_paper((u, high))) for u in (0.0, wide)]
    return [line(foot, (top[0], top[1] + 3), FINE_PEN, "reference", CHAIN) for foot, top in ends]


def _post_shown(project: Project) -> float:
    return POST_SHOWN if project.plan.post_allowance > 0 or project.plan.frame.post_width else 0.0


def _ground(panel: Panel, to_paper: ToPaper, beside: float) -> list[Shape]:
    face = to_paper.all(panel.outline)
    holes = tuple(to_paper.all(p.outline) for p in panel.openings)
    left, foot, right, _ = extent(face)
    reach = to_paper.length(beside)
    bed = outline(box((left - reach, foot - 2), right - left + 2 * reach, 2), 0, "ground", "black")
    return [Hatch(rings=(face, *holes), material="mortar"), outline(face, CUT_PEN), bed]


def _posts(beside: float, size: tuple[float, float], to_paper: ToPaper) -> list[Shape]:
    if not beside:
        return []
    wide, high = size
    shapes: list[Shape] = []
    for face, way in ((0.0, -1.0), (wide, 1.0)):
        foot, top = to_paper((face, 0.0)), to_paper((face, high))
        away = to_paper((face + way * beside, 0.0))[0]
        middle = (foot[1] + top[1]) / 2
        jog = (
            (away, foot[1]),
            (away, middle - 3),
            (away - 1.5, middle - 1),
            (away + 1.5, middle + 1),
            (away, middle + 3),
            (away, top[1] + 2),
        )
        shapes += [
            line(foot, (foot[0], top[1] + 2), CUT_PEN, "frame"),
            Path(points=jog, pen=FINE_PEN, layer="frame"),
            line((foot[0], top[1] + 2), (away, top[1] + 2), CUT_PEN, "frame"),
        ]
    return shapes


def _opening(placed: PlacedOpening, to_paper: ToPaper, project: Project) -> list[Shape]:
    ring = to_paper.all(placed.outline)
    left, foot, right, top = extent(ring)
    middle = ((left + right) / 2, (foot + top) / 2)
    frame = min(1.6, 0.12 * (right - left), 0.12 * (top - foot))
    shapes: list[Shape] = [
        outline(ring, BOLD_PEN, "opening", "white"),
        outline(_inset(ring, middle, frame), THIN_PEN, "opening"),
    ]
    return [
        *shapes,
        *_opening_words(placed, project, middle, (right - left - 2 * frame - 1, top - foot - 2 * frame - 1)),
    ]


def _opening_words(placed: PlacedOpening, project: Project, middle: Point, room: tuple[float, float]) -> list[Shape]:
    """The mark, and the size where it fits inside the frame; the dimensions and the list say it in any case."""
    opening = placed.opening
    large = min(5.0, max(2.6, room[0] / max(1.0, text_width(opening.id, 1.0))), max(2.6, room[1] * 0.8))
    size = " × ".join(show_millimetres(v, project.locale, project.units) for v in (opening.width, opening.height))
    small = min(3.2, room[0] / text_width(size, 1.0))
    fits = small >= 2.5 and room[1] > 12
    x, y = middle[0], middle[1] + (0.6 if fits else -large / 3)
    shapes: list[Shape] = [_word(fitted(opening.id, max(room[0], 2.0), large), (x, y), large, bold=True)]
    return [*shapes, _word(size, (x, middle[1] - 4.2), small)] if fits else shapes


def _word(text: str, at: Point, size: float, *, bold: bool = False) -> Text:
    return Text(text=text, at=at, size=size, bold=bold, layer="opening")


def _inset(ring: Sequence[Point], middle: Point, by: float) -> tuple[Point, ...]:
    """The inner edge of a frame: every point drawn in toward the middle by a fixed width on each axis."""
    left, foot, right, top = extent(ring)
    x_share = max(0.0, 1 - 2 * by / (right - left))
    y_share = max(0.0, 1 - 2 * by / (top - foot))
    return tuple((middle[0] + (x - middle[0]) * x_share, middle[1] + (y - middle[1]) * y_share) for x, y in ring)


def _built_in(panel: Panel, project: Project, to_paper: ToPaper) -> list[Shape]:
    pipes = {s.id for s in project.plan.sleeves}
    shapes: list[Shape] = []
    for obstacle in panel.obstacles:
        centre, radius = to_paper((obstacle.u, obstacle.v)), to_paper.length(obstacle.diameter / 2)
        if obstacle.id in pipes:
            mark = note(
                fitted(obstacle.id, 20, 4),
                (centre[0] + radius + 1.2, centre[1] + 1.4),
                size=4,
                anchor="start",
                bold=True,
            )
            shapes += [*sleeve(centre, radius), mark]
        else:
            shapes.append(Circle(centre=centre, radius=radius, pen=THIN_PEN, tone="white", layer="built-in"))
    return [*shapes, *_bottle_marks(panel, project, to_paper)]


def _bottle_marks(panel: Panel, project: Project, to_paper: ToPaper) -> list[Shape]:
    pipes = {s.id for s in project.plan.sleeves}
    shapes: list[Shape] = []
    for group in (g for g in project.plan.bottles if g.panel == panel.name):
        ends: list[Obstacle] = [o for o in panel.obstacles if o.id not in pipes and o.id.startswith(f"{group.id}.")]
        if ends:
            at = to_paper((min(o.u - o.diameter / 2 for o in ends), max(o.v + o.diameter / 2 for o in ends)))
            words = f"{fitted(group.id, 20, 3.7)}: {group.count} bottle ends"
            shapes.append(note(words, (at[0], at[1] + 1.5), anchor="start", bold=True))
    return shapes


def _lengths(panel: Panel, project: Project, to_paper: ToPaper, size: tuple[float, float]) -> list[Shape]:
    wide, high = size
    shapes = list(_overall(project, to_paper, panel.centre_length, wide, high))
    if not panel.openings:
        return shapes
    across = _edges((p.opening.from_left, p.opening.from_left + p.opening.width) for p in panel.openings)
    up = _edges((p.opening.sill, p.opening.sill + p.opening.height) for p in panel.openings)
    shapes += _row([(u, 0.0) for u in (0.0, *across, wide)], -9.0, project, to_paper)
    return [
        *shapes,
        *_row(
            [(wide, v) for v in (0.0, *up, high)],
            -(SIDE - 5 + to_paper.length(_post_shown(project))),
            project,
            to_paper,
        ),
    ]


def _overall(project: Project, to_paper: ToPaper, length: float, wide: float, high: float) -> tuple[Shape, ...]:
    foot = (to_paper((0.0, 0.0)), to_paper((wide, 0.0)))
    side = (to_paper((0.0, 0.0)), to_paper((0.0, high)))
    across = show_millimetres(length, project.locale, project.units)
    up = show_millimetres(high, project.locale, project.units)
    return (*dimension(*foot, -20.0, across), *dimension(*side, SIDE - 8 + to_paper.length(_post_shown(project)), up))


def _edges(spans: Iterable[tuple[float, float]]) -> tuple[float, ...]:
    values = sorted({round(edge, 6) for span in spans for edge in span})
    return tuple(v for n, v in enumerate(values) if n == 0 or v - values[n - 1] > 1e-4)


def _row(points: Sequence[Point], away: float, project: Project, to_paper: ToPaper) -> tuple[Shape, ...]:
    kept = [
        p for n, p in enumerate(points) if n == 0 or abs(p[0] - points[n - 1][0]) + abs(p[1] - points[n - 1][1]) > 1e-4
    ]
    pairs = pairwise(kept)
    texts = [show_millimetres(abs(b[0] - a[0]) + abs(b[1] - a[1]), project.locale, project.units) for a, b in pairs]
    return dimension_row(to_paper.all(kept), away, texts)
