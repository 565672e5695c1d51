"""What does a laid panel look like from inside? Every log end in its place with its number in its lift.

Numbers start again in each lift; the lift's numeral stands at both ends; lifts alternate grey and white, and a dashed
line runs through the joints where one ends. One drawing shows the whole panel, or one lift with all before it greyed.
"""

from collections import Counter
from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace
from itertools import pairwise
from typing import Final

from cordwright.book.blocks import corner_blocks
from cordwright.book.drawing import (
    BOLD_PEN,
    CUT_PEN,
    DASHED,
    FINE_PEN,
    OUTLINE_PEN,
    THIN_PEN,
    Drawing,
    Group,
    Path,
    Point,
    Shape,
    Text,
    Tone,
    box,
    distance,
    fitted,
    line,
    outline,
    shifted,
    strip_of,
    text_width,
)
from cordwright.book.laid_marks import draw_marks, is_sleeve
from cordwright.book.laid_sheet import BED, STRIP, Bay, Frame, Laid, across, choose_sheets, lift_sheets, show, upward
from cordwright.book.lift_bands import end_of_lift, heights_at, lift_at, lift_bands, numbers_in_lifts, rings_of
from cordwright.book.log_ends import draw_bottle_end, draw_laid_end, draw_log_end, draw_stone
from cordwright.book.marks import dimension, dimension_row, sleeve
from cordwright.book.scale import extent, show_scale
from cordwright.case import Project
from cordwright.plan.panels import seen_from
from cordwright.plan.results import Panel, PlacedOpening
from cordwright.wall.layout import PanelLayout

NUMERAL: Final = 5.6
AROUND_LIFT: Final = 3.0
"""A lift's strip shows so much more below and above its logs [mm]."""
INSIDE: Final = 1e-4
"""Lifts are read off this far inside the ends of the panel [m]."""
JOG: Final = ((0.0, -3.0), (-1.4, -1.0), (1.4, 1.0), (0.0, 3.0))


def draw_laid_panel(
    project: Project, panel: Panel, layout: PanelLayout, rings: Mapping[str, int], name: str
) -> tuple[Drawing, ...]:
    """The laid panel seen from inside, on as many sheets as it takes for every number to be read.

    Args:
        project: the owner's case, for units, language and what is built in.
        panel: the panel.
        layout: its logs.
        rings: by log id, which ring tells its wood (its place in `kinds_of_wood`); an unknown wood has none.
        name: the drawing's name among the book's files.
    """
    sheets = _sheets(project, panel, layout, rings, choose_sheets)
    return tuple(_draw(laid, name) for laid in sheets)


def draw_lifts(
    project: Project, panel: Panel, layout: PanelLayout, rings: Mapping[str, int], name: str
) -> tuple[Drawing, ...]:
    """The panel lift by lift, each a strip: the logs of that lift with their numbers, those they stand on greyed.

    Args:
        project: the owner's case, for units, language and what is built in.
        panel: the panel.
        layout: its logs.
        rings: by log id, which ring tells its wood.
        name: the drawing's name among the book's files, before "-lift-1".
    """
    sheets = _sheets(project, panel, layout, rings, lift_sheets)
    lifts = sorted({p.lift for p in layout.placements})
    drawn = (_draw_lift(_up_to(laid, lift), f"{name}-lift-{lift}") for lift in lifts for laid in sheets)
    return tuple(drawing for drawing in drawn if drawing is not None)


def _draw_lift(laid: Laid, name: str) -> Drawing | None:
    """The stretch between the lowest foot and the highest crown of a lift's logs; none where the lift has none."""
    own = [p for p in laid.bay.own if p.lift == laid.upto]
    if not own:
        return None
    to_paper = laid.frame.to_paper
    low = to_paper((0.0, min(p.y - p.log.diameter / 2 for p in own)))[1] - AROUND_LIFT
    high = to_paper((0.0, max(p.y + p.log.diameter / 2 for p in own)))[1] + AROUND_LIFT
    return strip_of(_draw(laid, name), low, high)


def _sheets(
    project: Project,
    panel: Panel,
    layout: PanelLayout,
    rings: Mapping[str, int],
    choose: Callable[[Project, Panel, PanelLayout], tuple[tuple[Bay, Frame], ...]],
) -> tuple[Laid, ...]:
    numbers = numbers_in_lifts(layout.placements)
    panel = seen_from(panel, layout.face.start)
    return tuple(
        Laid(
            project=project,
            bay=bay,
            frame=frame,
            bands=lift_bands(bay.layout),
            numbers=numbers,
            rings=rings,
        )
        for bay, frame in choose(project, panel, layout)
    )


def _up_to(laid: Laid, lift: int) -> Laid:
    return replace(laid, upto=lift)


def _draw(laid: Laid, name: str) -> Drawing:
    shapes = (
        *_bands(laid),
        *_ground(laid),
        *corner_blocks(laid.bay.panel, laid.frame.to_paper),
        *_ends_of_lifts(laid),
        *_logs(laid),
        *(shape for p in laid.bay.panel.openings for shape in _opening(p, laid)),
        *_built_in(laid),
        *_end(laid, right=False),
        *_end(laid, right=True),
        *(_sizes(laid) if laid.upto is None else ()),
        *draw_marks(laid),
    )
    frame = laid.frame
    suffix = f"-bay-{laid.bay.number}" if laid.bay.count > 1 else ""
    return Drawing(
        name=name + suffix,
        label=_label(laid),
        width=frame.width,
        height=frame.height,
        shapes=shapes,
        denominator=frame.to_paper.denominator,
    )


def _label(laid: Laid) -> str:
    bay, project = laid.bay, laid.project
    unrolled = ", unrolled on the centre line" if bay.panel.inner_radius is not None else ""
    if bay.layout.face.start:
        unrolled += f", cut at {show(bay.layout.face.start, project)}"
    cut = f" from {show(bay.ends[0], project)} to {show(bay.ends[1], project)}" if bay.count > 1 else ""
    lift = "" if laid.upto is None else f", lift {laid.upto} of {max(laid.bands)}"
    scale = show_scale(laid.frame.to_paper.denominator, project.units)
    shapes = Counter(p.log.shape for p in bay.own)
    splits = "".join(f", {n} {word}" for word, n in (("halves", shapes["half"]), ("quarters", shapes["quarter"])) if n)
    return f"Panel {bay.panel.name} laid, seen from inside{unrolled}{cut}{lift}{splits}, {scale}"


def _shown(laid: Laid) -> tuple[float, float, float, float]:
    """The stretch of wall on the sheet, neighbours included: left, foot, right, top [m]."""
    (wide, high), (left, right) = laid.bay.size, laid.bay.beside
    return (-left, 0.0, wide + right, high)


def _bands(laid: Laid) -> list[Shape]:
    """The mortar of every other lift grey; lift by lift, all before the one at hand."""
    import shapely

    window = shapely.box(*_shown(laid))
    shapes: list[Shape] = []
    for lift in laid.lifts:
        grey = lift % 2 == 1 if laid.upto is None else lift < laid.upto
        if grey:
            for ring, holes in rings_of(shapely.intersection(laid.bands[lift], window)):
                shapes.append(outline(laid.frame.to_paper.all(ring), 0.0, "ground", "grey"))
                shapes += [outline(laid.frame.to_paper.all(h), 0.0, "ground", "white") for h in holes]
    return shapes


def _ends_of_lifts(laid: Laid) -> list[Shape]:
    import shapely

    window = shapely.box(*_shown(laid))
    shapes: list[Shape] = []
    for lift in laid.lifts:
        for points in end_of_lift(laid.bands, lift):
            kept = shapely.intersection(shapely.LineString(points), window)
            shapes += [
                Path(points=laid.frame.to_paper.all(g.coords), pen=OUTLINE_PEN, dash=DASHED, layer="reference")
                for g in shapely.get_parts(kept)
                if g.geom_type == "LineString" and g.length > 0.01
            ]
    return shapes


def _logs(laid: Laid) -> list[Shape]:
    to_paper = laid.frame.to_paper
    shapes: list[Shape] = []
    for p in (*laid.bay.neighbours, *laid.bay.own):
        if laid.upto is not None and p.lift > laid.upto:
            continue
        centre, radius = to_paper((p.x, p.y)), to_paper.length(p.log.diameter / 2)
        beyond, before = p in laid.bay.neighbours, laid.upto is not None and p.lift < laid.upto
        if beyond or before:
            tone: Tone = "grey" if before else "white"
            shapes.append(draw_laid_end(p.log, centre, radius, angle=p.angle, tone=tone))
            continue
        number, ring = laid.numbers[p.log.id], laid.rings.get(p.log.id)
        end = draw_log_end(p.log, centre, radius, number, ring=ring, angle=p.angle)
        shapes.append(Group(name=f"{laid.bay.panel.name} {p.lift}-{number}", at=centre, shapes=end))
    return shapes


def _ground(laid: Laid) -> list[Shape]:
    """The bed under all, and the panel's outline."""
    left, foot, right, _ = _shown(laid)
    to_paper, beside = laid.frame.to_paper, laid.bay.beside
    (x0, y), (x1, _) = to_paper((left, foot)), to_paper((right, foot))
    reach = [0.0 if cut else STRIP for cut in beside]
    bed = outline(box((x0 - reach[0], y - BED), x1 - x0 + sum(reach), BED), 0, "ground", "black")
    face = to_paper.all(laid.bay.panel.outline)
    edges = [(a, b) for a, b in pairwise((*face, face[0])) if not _at_cut(a, b, laid)]
    return [bed, *(line(a, b, CUT_PEN) for a, b in edges)]


def _at_cut(a: Point, b: Point, laid: Laid) -> bool:
    """Whether an edge of the drawn outline is where a bay is cut from the panel."""
    cuts = [
        laid.frame.to_paper((x, 0.0))[0] for x, cut in zip((0.0, laid.bay.size[0]), laid.bay.beside, strict=True) if cut
    ]
    return any(abs(a[0] - x) < 1e-6 and abs(b[0] - x) < 1e-6 for x in cuts)


def _opening(placed: PlacedOpening, laid: Laid) -> list[Shape]:
    """A frame with its inner edge and mitres, its mark and its size."""
    ring = laid.frame.to_paper.all(placed.outline)
    left, foot, right, top = extent(ring)
    middle, depth = ((left + right) / 2, (foot + top) / 2), min(2.4, 0.12 * (right - left), 0.12 * (top - foot))
    shares = (1 - 2 * depth / (right - left), 1 - 2 * depth / (top - foot))
    inner = [(middle[0] + (x - middle[0]) * shares[0], middle[1] + (y - middle[1]) * shares[1]) for x, y in ring]
    mitres = zip(ring, inner, strict=True) if placed.opening.shape == "rectangle" else ()
    return [
        outline(ring, BOLD_PEN, "opening", "white"),
        outline(inner, THIN_PEN, "opening"),
        *(line(a, b, FINE_PEN, "opening") for a, b in mitres),
        *_opening_words(placed, laid.project, middle, (right - left - 2 * depth - 1, top - foot - 2 * depth - 1)),
    ]


def _opening_words(placed: PlacedOpening, project: Project, at: Point, room: tuple[float, float]) -> list[Shape]:
    opening = placed.opening
    large = min(5.6, max(2.6, room[0] / max(1.0, text_width(opening.id, 1.0))), max(2.6, room[1] * 0.8))
    words = f"{show(opening.width, project)} × {show(opening.height, project)}"
    small = min(3.4, room[0] / text_width(words, 1.0))
    fits = small >= 2.5 and room[1] > 12
    y = at[1] + 0.6 if fits else at[1] - large / 3
    mark = Text(
        text=fitted(opening.id, max(room[0], 2.0), large), at=(at[0], y), size=large, bold=True, layer="opening"
    )
    return [mark, Text(text=words, at=(at[0], at[1] - 4.6), size=small, layer="opening")] if fits else [mark]


def _built_in(laid: Laid) -> list[Shape]:
    """Stones of the lifts that stand, sleeves and bottle ends; stones in the outer bead alone are not seen."""
    outer_is_wide = (laid.bay.panel.inner_radius or 0.0) > 0
    to_paper, (left, _, right, _) = laid.frame.to_paper, _shown(laid)
    stones = [
        draw_stone(to_paper((f.x, f.y)), to_paper.length(f.diameter / 2))
        for f in laid.bay.layout.fillers
        if not (f.face == "wide" and outer_is_wide)
        and left <= f.x <= right
        and lift_at(laid.bands, (f.x, f.y)) in laid.lifts
    ]
    shapes: list[Shape] = [*stones]
    for o in laid.bay.panel.obstacles:
        centre, radius = to_paper((o.u, o.v)), to_paper.length(o.diameter / 2)
        shapes += sleeve(centre, radius) if is_sleeve(o, laid) else draw_bottle_end(centre, radius)
    return shapes


def _end(laid: Laid, *, right: bool) -> list[Shape]:
    """One end of what is shown: a post broken off, or a break where the wall goes on; the lifts' numerals on it."""
    to_paper, bay = laid.frame.to_paper, laid.bay
    way, cut = (1.0, bay.beside[1]) if right else (-1.0, bay.beside[0])
    face = (bay.size[0] if right else 0.0) + way * cut
    inside = face - way * INSIDE if not cut else face
    heights = heights_at(laid.bands, inside)
    foot = to_paper((face, 0.0))
    top = to_paper((face, max([high for _, _, high in heights], default=bay.size[1])))
    shapes: list[Shape] = []
    if cut:
        shapes.append(_broken(foot, (foot[0], top[1] + 1), 0.0))
    elif _has_posts(laid.project):
        shapes += _post(foot, top, way * STRIP)
    return [*shapes, *_numerals(laid, heights, foot[0], way)]


def _has_posts(project: Project) -> bool:
    return project.plan.post_allowance > 0 or bool(project.plan.frame.post_width)


def _post(foot: Point, top: Point, across_it: float) -> list[Shape]:
    upper = (top[0], top[1] + 2)
    return [
        line(foot, upper, CUT_PEN, "frame"),
        _broken((foot[0], foot[1] - BED), upper, across_it),
        line(upper, (upper[0] + across_it, upper[1]), CUT_PEN, "frame"),
    ]


def _broken(foot: Point, top: Point, off: float) -> Path:
    """A thin line with a jog: here the thing goes on."""
    middle = (foot[0] + off, (foot[1] + top[1]) / 2)
    jog = [(middle[0] + dx, middle[1] + dy) for dx, dy in JOG]
    return Path(points=((foot[0] + off, foot[1]), *jog, (top[0] + off, top[1])), pen=FINE_PEN, layer="frame")


def _numerals(laid: Laid, heights: Iterable[tuple[int, float, float]], x: float, way: float) -> list[Shape]:
    """A tick where a lift ends, and each lift's numeral midway in its longest stretch at this end."""
    to_paper, shapes = laid.frame.to_paper, list[Shape]()
    longest: dict[int, tuple[float, float]] = {}
    for lift, low, high in heights:
        if lift not in laid.lifts:
            continue
        if high - low > longest.get(lift, (0.0, 0.0))[1] - longest.get(lift, (0.0, 0.0))[0]:
            longest[lift] = (low, high)
        if low > INSIDE:
            shapes.append(_tick(x, to_paper((0.0, low))[1], way))
        if high < laid.bay.size[1] - INSIDE and lift == laid.upto:
            shapes.append(_tick(x, to_paper((0.0, high))[1], way))
    for lift, (low, high) in longest.items():
        shapes.append(_numeral(lift, (x + way * STRIP / 2, to_paper((0.0, (low + high) / 2))[1])))
    for lift in laid.lifts:
        if lift not in longest and (at := _under_slope(laid, lift, way)):
            x_at, y_at = to_paper(at)
            shapes.append(_numeral(lift, (x_at + way * STRIP / 2, y_at + STRIP / 2)))
    return shapes


def _numeral(lift: int, centre: Point) -> Text:
    at = (centre[0], centre[1] - NUMERAL * 0.36)
    return Text(text=str(lift), at=at, size=NUMERAL, face="measures", bold=True, halo=True, layer="reference")


def _under_slope(laid: Laid, lift: int, way: float) -> Point | None:
    """Where a lift that meets no post ends under a sloping head, None where it ends nowhere on the outline [m]."""
    import shapely

    band, outer = laid.bands[lift], shapely.Polygon(laid.bay.panel.outline).exterior
    left, low, right, high = band.bounds
    middle = shapely.LineString([(left - 1, (low + high) / 2), (right + 1, (low + high) / 2)])
    span = shapely.intersection(band, middle).bounds
    at = (span[2] if way > 0 else span[0], (low + high) / 2)
    return at if outer.distance(shapely.Point(at)) < INSIDE else None


def _tick(x: float, y: float, way: float) -> Path:
    return line((x, y), (x + way * STRIP, y), CUT_PEN, "reference")


def _sizes(laid: Laid) -> list[Shape]:
    """Length below, height at the left; with openings, their places along the bed and their heights at the right."""
    to_paper, frame, bay, project = laid.frame.to_paper, laid.frame, laid.bay, laid.project
    wide, high = bay.size
    start, end, top = to_paper((0.0, 0.0)), to_paper((wide, 0.0)), to_paper((0.0, high))
    post = shifted(start, -(STRIP + to_paper.length(bay.beside[0])), 0.0)
    shapes: list[Shape] = [
        *dimension(_under(start), _under(end), -(frame.rows[1] - BED), show(bay.ends[1] - bay.ends[0], project)),
        *dimension(post, (post[0], top[1]), 2.4, show(high, project)),
    ]
    if bay.panel.openings:
        shapes += _chain([_under(to_paper(p)) for p in across(bay)], across(bay), -(frame.rows[0] - BED), project)
    if len(upward(bay)) > 2:
        off = STRIP + to_paper.length(bay.beside[1])
        levels = [shifted(to_paper(p), off, 0.0) for p in upward(bay)]
        shapes += _chain(levels, upward(bay), -frame.aside, project)
    return shapes


def _under(point: Point) -> Point:
    """The underside of the bed below a point."""
    return (point[0], point[1] - BED)


def _chain(on_paper: list[Point], points: list[Point], away: float, project: Project) -> tuple[Shape, ...]:
    return dimension_row(on_paper, away, [show(distance(a, b), project) for a, b in pairwise(points)])
