"""What does the wall take as it is laid, panel by panel and lift by lift?

A lift is a level band. A log end belongs whole to the lift its middle lies in; the joints are cut at the level, so the
lifts of a panel add up to the panel. What the stock does not close is carried at the mean of the laid part.
Areas lie on the wall's centre line; times depth they are exact volumes on a curved wall too (Pappus' theorem).
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Final

from cordwright.base import InputError
from cordwright.mortar import Mix
from cordwright.plan.inputs import WallSection
from cordwright.plan.results import Panel, Plan
from cordwright.timber.inputs import SHARES
from cordwright.timber.results import Stock
from cordwright.wall.displacement import displaced, filler_area, stones_in
from cordwright.wall.laid_study import LayoutStudy
from cordwright.wall.layout import PanelLayout, Placement
from cordwright.wall.level_cuts import bodies_below, end_area, end_perimeter, face_below, height_of_share
from cordwright.wall.ordering import lift_count
from cordwright.wall.taking import Taken, scaled, together

NOTHING: Final = 1e-6
"""A lift with less face than this [m2] is none."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedLift:
    """One lift of a panel: its number from the bed up, the levels it lies between [m], its logs in laying order."""

    number: int
    low: float
    high: float
    logs: tuple[str, ...]
    taken: Taken


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedPanel:
    """One panel as laid; `carried`: what is not laid, at the mean of the laid part; None when all is laid."""

    panel: str
    lifts: tuple[PlacedLift, ...]
    carried: Taken | None = None

    @property
    def laid(self) -> Taken:
        """What the laid part takes."""
        return together(lift.taken for lift in self.lifts)

    @property
    def whole(self) -> Taken:
        """What the panel takes, the part not laid carried."""
        return self.laid if self.carried is None else together((self.laid, self.carried))


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedWall:
    """All panels as laid, with the even joint of the layout [m]."""

    panels: tuple[PlacedPanel, ...]
    joint: float

    @property
    def whole(self) -> Taken:
        """What the wall takes, what is not laid carried."""
        return together(p.whole for p in self.panels)

    @property
    def laid(self) -> Taken:
        """What the laid part takes."""
        return together(p.laid for p in self.panels)

    @property
    def not_laid(self) -> float:
        """Face that the stock does not close [m2]."""
        return math.fsum(p.carried.face_area for p in self.panels if p.carried is not None)

    @property
    def coverage(self) -> float:
        """Share of the net face that is laid [1]."""
        return self.laid.face_area / self.whole.face_area


@dataclass(frozen=True, slots=True, kw_only=True)
class Depths:
    """What turns faces into volumes and masses: the section, how a panel curves, and what weighs how much.

    `curve`: by how much the face at the middle of the inner bead is shorter than on the centre line [1]; `masses`: of
    log ends at laying by id [kg]; `mortar_density`: of fresh mortar [kg/m3], None when no mix is stated.
    """

    section: WallSection
    curve: float
    masses: Mapping[str, float]
    mortar_density: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Cut:
    """What lies below one level of a panel: net face, joints [m2] and edges [m]."""

    face: float
    joints: float
    edges: float


def place_wall(study: LayoutStudy, plan: Plan, section: WallSection, stock: Stock, mix: Mix | None) -> PlacedWall:
    """Add up what every laid panel takes.

    Args:
        study: the laid panels.
        plan: the plan worked out.
        section: the wall's section.
        stock: the log ends, for their masses.
        mix: the mix worked out, None when none is stated.

    Raises:
        InputError: the layout is of other panels.

    Sources: closed form, areas on the centre line times depth.
    """
    if not {p.face.name for p in study.panels} <= {p.name for p in plan.panels}:
        raise InputError("the layout is not of the panels of this plan")
    masses = dict(zip(stock.id, stock.mass_laying.tolist(), strict=True))
    panels = {p.name: p for p in plan.panels}
    placed = []
    for layout in study.panels:
        depths = Depths(
            section=section,
            curve=bead_curve(panels[layout.face.name], section),
            masses=masses,
            mortar_density=fresh_density(mix) if mix else None,
        )
        placed.append((layout, place_panel(layout, depths)))
    mean = together(p.laid for _, p in placed)
    return PlacedWall(panels=tuple(_with_carried(each, panel, mean) for each, panel in placed), joint=study.joint)


def bead_curve(panel: Panel, section: WallSection) -> float:
    """Give by what share the face at the middle of the inner bead is shorter than on the centre line [1].

    Args:
        panel: a panel of the plan; its inner radius is negative where the wall bends inward.
        section: the wall's section.

    Sources: closed form, arcs about one centre.
    """
    if panel.inner_radius is None:
        return 0.0
    depth = section.mortar_depth / 2
    return (section.thickness - depth) / 2 / (panel.inner_radius + section.thickness / 2)


def fresh_density(mix: Mix) -> float:
    """Give the mass of a cubic metre of fresh mortar: all that is put in, and the water added [kg/m3].

    The water that fibre was soaked in is not counted.

    Sources: closed form.
    """
    return math.fsum(a.delivered_mass for a in mix.amounts) + mix.water


def place_panel(layout: PanelLayout, depths: Depths) -> PlacedPanel:
    """Add up what a laid panel takes, lift by lift; what is not laid is not carried yet."""
    heights = [y for _, y in layout.face.outline]
    bottom, top = min(heights), max(heights)
    logs = sorted(layout.placements, key=lambda p: p.order)
    count = max([lift_count([p.y for p in logs], bottom, top), *(p.lift for p in logs)])
    reach = height_of_share(layout.face, layout.closed)
    step = (top - bottom) / count
    levels = [-math.inf, *(min(reach, bottom + n * step) for n in range(1, count)), reach]
    cuts = [_cut(layout, level) for level in levels]
    lifts = [
        PlacedLift(
            number=n,
            low=bottom + (n - 1) * step,
            high=min(reach, bottom + n * step),
            logs=tuple(p.log.id for p in logs if p.lift == n),
            taken=_lift_takes(layout, n, (levels[n - 1], levels[n]), ends, depths),
        )
        for n, ends in enumerate(pairwise(cuts), start=1)
    ]
    return PlacedPanel(panel=layout.face.name, lifts=tuple(f for f in lifts if f.logs or f.taken.face_area > NOTHING))


def _cut(layout: PanelLayout, level: float) -> Cut:
    if level == -math.inf:
        return Cut(face=0.0, joints=0.0, edges=0.0)
    face, edges = face_below(layout.face, level)
    return Cut(face=face, joints=face - bodies_below(layout, level), edges=edges)


def _lift_takes(
    layout: PanelLayout, number: int, levels: tuple[float, float], cuts: tuple[Cut, Cut], depths: Depths
) -> Taken:
    low, high = levels
    logs = [p for p in layout.placements if p.lift == number]
    stones = [f for f in layout.fillers if low <= f.y < high]
    fixed = [o.diameter for o in layout.face.obstacles if low <= o.y < high]
    wood = math.fsum(_face_of(p) for p in logs)
    stone = filler_area(stones)
    joint = cuts[1].joints - cuts[0].joints
    around = [end_perimeter(p.log.shape, p.log.diameter) for p in logs]
    discs = (*(f.stones / 2 * f.diameter for f in stones), *fixed)
    sides = math.fsum((*around, *(math.pi * d for d in discs), cuts[1].edges - cuts[0].edges))
    inner, outer = _beads(joint, cuts[1].face - cuts[0].face, depths)
    density = depths.mortar_density
    return Taken(
        logs=len(logs),
        chips=sum("chip" in p.supports for p in logs),
        stones=stones_in(stones),
        wood_area=wood,
        joint_area=joint,
        stone_area=stone,
        fixed_area=math.fsum(end_area("round", d) for d in fixed),
        wood_volume=wood * depths.section.log_end_length,
        inner_bead=inner,
        outer_bead=outer,
        stone_volume=displaced(stones, depths.section.mortar_depth),
        fill_volume=(joint + stone) * depths.section.cavity,
        joint_length=sides / 2,
        log_mass=_mass(logs, depths.masses),
        mortar_mass=None if density is None else (inner + outer) * density,
    )


def _face_of(placed: Placement) -> float:
    return end_area(placed.log.shape, placed.log.diameter)


def _beads(joint: float, face: float, depths: Depths) -> tuple[float, float]:
    """Mortar of the inner and the outer bead [m3]: log ends are straight, so on a curve the joints alone give way."""
    depth = depths.section.mortar_depth / 2
    return depth * (joint - face * depths.curve), depth * (joint + face * depths.curve)


def _mass(logs: Sequence[Placement], masses: Mapping[str, float]) -> float | None:
    """Mass of some log ends at laying [kg]; None when one is not known. A split weighs its share of its parent."""
    known = [_log_mass(p, masses) for p in logs]
    return None if any(math.isnan(m) for m in known) else math.fsum(known)


def _log_mass(placed: Placement, masses: Mapping[str, float]) -> float:
    log = placed.log
    if log.parent:
        return masses.get(log.parent, math.nan) * SHARES[log.shape]
    return masses.get(log.id, math.nan)


def _with_carried(layout: PanelLayout, placed: PlacedPanel, mean: Taken) -> PlacedPanel:
    """Carry what is not laid at the mean of the panel's laid part, or of the wall's where the panel has none."""
    net = face_below(layout.face, math.inf)[0]
    fixed = math.fsum(end_area("round", o.diameter) for o in layout.face.obstacles)
    laid = placed.laid
    rest = net - fixed - laid.masonry_area
    if layout.closed >= 1.0 or rest <= 0:
        return placed
    like = laid if laid.masonry_area > 0 and laid.wood_area > 0 else mean
    if like.masonry_area <= 0:
        return placed
    carried = scaled(like, rest / like.masonry_area)
    return replace(placed, carried=replace(carried, fixed_area=fixed - laid.fixed_area))
