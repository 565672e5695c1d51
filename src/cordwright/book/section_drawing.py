"""What does the wall look like cut through? Plinth, beads, cavity and head, from what the owner stated alone."""

from itertools import pairwise
from math import atan2, degrees, pi, tan
from typing import Final

from cordwright.book.drawing import (
    BOLD_PEN,
    CUT_PEN,
    DASHED,
    FINE_PEN,
    Drawing,
    Hatch,
    Path,
    Point,
    Shape,
    along,
    box,
    line,
    outline,
    shifted,
)
from cordwright.book.formats import show_level, show_millimetres, show_value
from cordwright.book.marks import dimension, level, note
from cordwright.book.scale import ToPaper, choose_scale, show_scale
from cordwright.case import Project
from cordwright.plan.inputs import PlanInput, WallSection

ROOM: Final = (180.0, 205.0)
LEFT, FOOT, RIGHT, TOP = 66.0, 18.0, 44.0, 6.0
"""Paper around: RIGHT beyond the eave, for its level [mm]."""
LABELS: Final = 60.0
"""Paper to the right of the wall for the names of its strips and the levels outside [mm]."""
INSIDE: Final = 0.3
"""The roof is drawn on so far inside of the wall [m]."""
BELOW: Final = 0.2
"""What goes on underground is broken off so far below the ground [m]."""

WANTED: Final = (
    ("plinth_height", "the plinth's height"),
    ("plinth_width", "the plinth's width"),
    ("floor_above_ground", "the floor's height above ground"),
    ("wall_head_gap", "the gap at the wall head"),
)


def not_stated(plan: PlanInput) -> tuple[str, ...]:
    """What the section leaves out because the owner has not stated it."""
    missing = [words for field, words in WANTED if getattr(plan, field) is None]
    if plan.frame.beam_depth is None:
        missing.append("the ring beam's depth")
    return tuple(missing)


def draw_section(project: Project) -> Drawing:
    """The wall cut upright through a mortar joint, from the ground to the eaves."""
    plan = project.plan
    half, (low, high) = _half(plan), _reach(plan)
    out = half + (plan.roof.overhang if plan.roof is not None else 0.0)
    denominator = _scale(project, half, out, high - low)
    per_metre = 1000 / denominator
    to_paper = ToPaper(denominator=denominator, origin=(LEFT + half * per_metre, FOOT - low * per_metre))
    width = LEFT + half * per_metre + max(out * per_metre + RIGHT, half * per_metre + LABELS)
    shapes = [
        *_plinth(plan, to_paper),
        *_strips(plan, to_paper),
        *_head(plan, to_paper),
        *_roof(project, to_paper),
        *_sizes(project, to_paper),
        *_levels(project, to_paper),
    ]
    label = f"Section through the wall at a joint, {show_scale(denominator, project.units)}"
    height = FOOT + TOP + (high - low) * per_metre
    return Drawing(
        name="section", label=label, width=width, height=height, shapes=tuple(shapes), denominator=denominator
    )


def _half(plan: PlanInput) -> float:
    """From the middle of the wall to its farther face, or the plinth's [m]."""
    return max(plan.section.thickness, plan.plinth_width or 0.0) / 2


def _reach(plan: PlanInput) -> tuple[float, float]:
    """From where to where above the bed is drawn [m]."""
    low = -(plan.plinth_height + BELOW) if plan.plinth_height is not None else 0.0
    roof = plan.roof
    return low, _top(plan) + ((plan.section.thickness + INSIDE) * tan(roof.pitch) if roof is not None else 0.0)


def _top(plan: PlanInput) -> float:
    """The top of the ring beam above the bed, of the wall where no beam is stated [m]."""
    return plan.height + (plan.wall_head_gap or 0.0) + (plan.frame.beam_depth or 0.0)


def _scale(project: Project, half: float, out: float, high: float) -> float:
    """The largest scale at which wall, eave and words find room side by side."""
    beside = (ROOM[0] - LEFT - RIGHT, ROOM[1] - FOOT - TOP)
    labelled = (ROOM[0] - LEFT - LABELS, beside[1])
    return max(
        choose_scale(half + out, high, beside, project.units), choose_scale(2 * half, high, labelled, project.units)
    )


def _plinth(plan: PlanInput, to_paper: ToPaper) -> list[Shape]:
    """Plinth and ground; what goes on underground is not stated and broken off."""
    if plan.plinth_height is None:
        return []
    half, ground = (plan.plinth_width or plan.section.thickness) / 2, -plan.plinth_height
    (left, level_at), (right, _) = to_paper((-half, ground)), to_paper((half, ground))
    body = box((left, level_at), right - left, to_paper.length(plan.plinth_height))
    foot = level_at - to_paper.length(BELOW)
    shapes: list[Shape] = [
        line((left - 20, level_at), (left, level_at), BOLD_PEN, "ground"),
        line((right, level_at), (right + 20, level_at), BOLD_PEN, "ground"),
        *(line((x, level_at), (x, foot), FINE_PEN, "hidden", DASHED) for x in (left, right)),
        *broken_off((left - 3, foot), (right + 3, foot)),
        note("footing not stated", (right + 6, foot - 1.2), anchor="start"),
    ]
    if plan.plinth_width is None:
        return [
            *shapes,
            line(body[0], body[3], FINE_PEN, "wall", DASHED),
            line(body[1], body[2], FINE_PEN, "wall", DASHED),
        ]
    return [*shapes, Hatch(rings=(body,), material="stone"), outline(body, CUT_PEN)]


def _strips(plan: PlanInput, to_paper: ToPaper) -> list[Shape]:
    section, half = plan.section, plan.section.thickness / 2
    edges = (-half, half) if section.solid else (-half, section.bead - half, half - section.bead, half)
    shapes: list[Shape] = []
    for n, (a, b) in enumerate(pairwise(edges)):
        strip = box(to_paper((a, 0.0)), to_paper.length(b - a), to_paper.length(plan.height))
        shapes += [Hatch(rings=(strip,), material="fill" if n == 1 else "mortar"), outline(strip, FINE_PEN)]
    return [
        *shapes,
        outline(box(to_paper((-half, 0.0)), to_paper.length(2 * half), to_paper.length(plan.height)), CUT_PEN),
    ]


def _head(plan: PlanInput, to_paper: ToPaper) -> list[Shape]:
    frame = plan.frame
    if frame.beam_depth is None:
        return []
    half = (frame.post_depth or frame.post_width or plan.section.thickness) / 2
    foot = plan.height + (plan.wall_head_gap or 0.0)
    beam = box(to_paper((-half, foot)), to_paper.length(2 * half), to_paper.length(frame.beam_depth))
    known = frame.post_depth or frame.post_width
    return [Hatch(rings=(beam,), material="timber"), outline(beam, CUT_PEN if known else FINE_PEN, "frame")]


def _roof(project: Project, to_paper: ToPaper) -> list[Shape]:
    """The roof's underside over the beam out to the eave: its build-up is not stated."""
    plan = project.plan
    if plan.roof is None:
        return []
    half, rise, head = plan.section.thickness / 2, tan(plan.roof.pitch), _top(plan)
    inner = to_paper((-half - INSIDE, head + (2 * half + INSIDE) * rise))
    eave = to_paper((half + plan.roof.overhang, head - plan.roof.overhang * rise))
    wall = (to_paper((half, 0.0))[0], eave[1])
    overhang = show_millimetres(plan.roof.overhang, project.locale, project.units)
    said = f"{show_level(head - plan.roof.overhang * rise, project.locale, project.units)} eave"
    shapes: list[Shape] = [
        line(inner, eave, CUT_PEN, "wall"),
        *broken_off((inner[0], inner[1] - 4), (inner[0], inner[1] + 4)),
    ]
    if plan.roof.overhang > 0:
        shapes += dimension(wall, eave, -7.0, overhang, extend=False)
        shapes.append(line((eave[0], eave[1] - 1), (eave[0], eave[1] - 9), FINE_PEN, "dimension"))
    pitch = show_value(degrees(plan.roof.pitch), "deg", project.units, project.locale)
    at = along(inner, eave, 0.72)
    shapes.append(note(pitch, (at[0] + 3, at[1] + 3), anchor="start"))
    return [*shapes, *level((eave[0] + 6, eave[1]), said, reach=36)]


def broken_off(start: Point, end: Point) -> tuple[Shape, ...]:
    """A thin line with a jog in its middle: here the drawing ends, not the thing."""
    angle = atan2(end[1] - start[1], end[0] - start[0])
    near, far = along(start, end, 0.42), along(start, end, 0.58)
    up, down = (
        shifted(along(near, far, 0.25), 1.6, angle + pi / 2),
        shifted(along(near, far, 0.75), -1.6, angle + pi / 2),
    )
    return (Path(points=(start, near, up, down, far, end), pen=FINE_PEN, layer="reference"),)


def _sizes(project: Project, to_paper: ToPaper) -> list[Shape]:
    plan, half = project.plan, project.plan.section.thickness / 2
    foot = _reach(plan)[0]
    ends = (to_paper((-half, foot)), to_paper((half, foot)))
    side = (to_paper((-_half(plan), 0.0)), to_paper((-_half(plan), plan.height)))
    shapes = [
        *dimension(
            *ends, -10.0, show_millimetres(2 * half, project.locale, project.units), extend=plan.plinth_height is None
        ),
        *dimension(*side, 12.0, show_millimetres(plan.height, project.locale, project.units)),
        *_words(project, to_paper),
    ]
    if plan.plinth_height is not None:
        down = (to_paper((-_half(plan), -plan.plinth_height)), side[0])
        shapes += dimension(
            *down, 12.0, show_millimetres(plan.plinth_height, project.locale, project.units), extend=False
        )
    return shapes


def _words(project: Project, to_paper: ToPaper) -> list[Shape]:
    plan, half = project.plan, project.plan.section.thickness / 2
    shapes: list[Shape] = []
    for n, (across, words, size) in enumerate(_strip_words(plan.section)):
        start = to_paper((across, plan.height * (0.62 - 0.09 * n)))
        end = (to_paper((half, 0.0))[0] + 8, start[1])
        said = f"{words} {show_millimetres(size, project.locale, project.units)}"
        shapes += [line(start, end, FINE_PEN, "text"), note(said, (end[0] + 1, end[1] - 1.2), anchor="start")]
    return shapes


def _strip_words(section: WallSection) -> tuple[tuple[float, str, float], ...]:
    """Where each strip lies from the middle, what it is, and how deep."""
    if section.solid:
        return ((0.0, "mortar, solid joint,", section.thickness),)
    bead, edge = section.bead, (section.thickness - section.bead) / 2
    return (
        (edge, "outer bead, mortar,", bead),
        (0.0, "cavity, loose fill,", section.cavity),
        (-edge, "inner bead, mortar,", bead),
    )


def _levels(project: Project, to_paper: ToPaper) -> list[Shape]:
    """Inside to the left, outside to the right, so that bed and floor never stand in each other's way."""
    plan = project.plan
    left, right = to_paper((-_half(plan), 0.0))[0] - 51, to_paper((_half(plan), 0.0))[0] + 9
    rows = [(right, 0.0, "bed"), (left, plan.height, "wall head")]
    if plan.plinth_height is not None:
        rows.append((right, -plan.plinth_height, "ground"))
        if plan.floor_above_ground is not None:
            rows.append((left, plan.floor_above_ground - plan.plinth_height, "floor"))
    shapes: list[Shape] = []
    for n, (x, height, words) in enumerate(rows):
        said = f"{show_level(height, project.locale, project.units)} {words}"
        shapes += level((x, to_paper((0.0, height))[1]), said, datum=n == 0, reach=30)
    return shapes
