"""What does the wall look like cut through? Plinth, beads, cavity and head, from what the owner stated alone."""

from itertools import pairwise
from typing import Final

from cordwright.book.drawing import (
    BOLD_PEN,
    CUT_PEN,
    FINE_PEN,
    Drawing,
    Hatch,
    Shape,
    box,
    line,
    outline,
)
from cordwright.book.formats import show_level, show_millimetres
from cordwright.book.marks import dimension, level, note
from cordwright.book.scale import ToPaper, choose_scale, show_scale
from cordwright.case import Project
from cordwright.plan.inputs import PlanInput, WallSection

ROOM: Final = (160.0, 185.0)
LEFT, FOOT, RIGHT, TOP = 34.0, 14.0, 74.0, 8.0

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
    """The wall cut upright through a mortar joint, from the ground to the beam."""
    plan = project.plan
    plinth, beam = plan.plinth_height or 0.0, (plan.frame.beam_depth or 0.0) + (plan.wall_head_gap or 0.0)
    wide = max(plan.section.thickness, plan.plinth_width or 0.0)
    room = (ROOM[0] - LEFT - RIGHT, ROOM[1] - FOOT - TOP)
    denominator = choose_scale(wide, plan.height + plinth + beam, room, project.units)
    to_paper = ToPaper(
        denominator=denominator, origin=(LEFT + wide * 500 / denominator, FOOT + plinth * 1000 / denominator)
    )
    width, height = LEFT + RIGHT + to_paper.length(wide), FOOT + TOP + to_paper.length(plan.height + plinth + beam)
    shapes = [
        *_plinth(plan, to_paper),
        *_strips(plan, to_paper),
        *_head(plan, to_paper),
        *_sizes(project, to_paper),
        *_levels(project, to_paper),
    ]
    label = f"Section through the wall at a joint, {show_scale(denominator, project.units)}"
    return Drawing(
        name="section", label=label, width=width, height=height, shapes=tuple(shapes), denominator=denominator
    )


def _plinth(plan: PlanInput, to_paper: ToPaper) -> list[Shape]:
    if plan.plinth_height is None:
        return []
    half = (plan.plinth_width or plan.section.thickness) / 2
    corner = to_paper((-half, -plan.plinth_height))
    body = box(corner, to_paper.length(2 * half), to_paper.length(plan.plinth_height))
    ground = line(
        (corner[0] - 20, corner[1]), (corner[0] + to_paper.length(2 * half) + 20, corner[1]), BOLD_PEN, "ground"
    )
    if plan.plinth_width is None:
        return [
            ground,
            line(body[0], body[3], FINE_PEN, "wall", (2.4, 0.9)),
            line(body[1], body[2], FINE_PEN, "wall", (2.4, 0.9)),
        ]
    return [ground, Hatch(rings=(body,), material="stone"), outline(body, CUT_PEN)]


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


def _sizes(project: Project, to_paper: ToPaper) -> list[Shape]:
    plan, half = project.plan, project.plan.section.thickness / 2
    foot = -(plan.plinth_height or 0.0)
    ends = (to_paper((-half, foot)), to_paper((half, foot)))
    side = (to_paper((-half, 0.0)), to_paper((-half, plan.height)))
    return [
        *dimension(*ends, -9.0, show_millimetres(2 * half, project.locale, project.units)),
        *dimension(*side, 12.0, show_millimetres(plan.height, project.locale, project.units)),
        *_words(project, to_paper),
    ]


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
    plan = project.plan
    x = to_paper((max(plan.section.thickness, plan.plinth_width or 0.0) / 2, 0.0))[0] + 9
    rows = [(0.0, "bed"), (plan.height, "wall head")]
    if plan.plinth_height is not None:
        rows.append((-plan.plinth_height, "ground"))
        if plan.floor_above_ground is not None:
            rows.append((plan.floor_above_ground - plan.plinth_height, "floor"))
    shapes: list[Shape] = []
    for n, (height, words) in enumerate(rows):
        at = (x + (30 if words == "floor" else 0), to_paper((0.0, height))[1])
        shapes += level(at, f"{show_level(height, project.locale, project.units)} {words}", datum=n == 0, reach=28)
    return shapes
