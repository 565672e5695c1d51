"""How much is there to do, in the units in which work is counted?"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from math import ceil, fsum
from typing import Final

from cordwright.base import Cite
from cordwright.plan.inputs import PlanInput, Point
from cordwright.plan.results import Panel, Plan
from cordwright.season.habits import habits
from cordwright.site.inputs import SiteInput
from cordwright.timber.inputs import TimberInput
from cordwright.timber.results import Timber
from cordwright.wall.ordering import LIFT_HEIGHT

LIFTS: Final = Cite("lift-height")


@dataclass(frozen=True, slots=True, kw_only=True)
class LiftWork:
    """One lift of one panel: its number from the bed up and the face to lay in it [m2]."""

    panel: str
    lift: int
    area: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Work:
    """What there is to do. `amounts` by unit of work (`stem`, `trench_m3`, ...), in SI.

    `lifts` in the order of laying: one lift all round, then the next. `ready`: the day on which the mean log end is dry
    enough by the forecast, with the latest it may be; None where there is no forecast. `framed`: posts carry the roof,
    so that walls without a roof still stand between posts. `begins`: the day before which no log end is to be laid.
    """

    amounts: dict[str, float]
    lifts: tuple[LiftWork, ...]
    ready: date | None
    ready_late: date | None
    framed: bool
    begins: date | None

    @property
    def area(self) -> float:
        """Face to lay [m2]."""
        return fsum(lift.area for lift in self.lifts)


def work_of(site: SiteInput, stated: PlanInput, plan: Plan, wood: TimberInput, timber: Timber) -> Work:
    """Count the work of a building.

    Args:
        site: the place, with the rules told for it.
        stated: the plan as stated.
        plan: the plan worked out.
        wood: the stock as stated.
        timber: the wood worked out.
    """
    return Work(
        amounts=_amounts(site, stated, plan, wood, timber),
        lifts=_lifts(plan),
        ready=_ready(timber, "value"),
        ready_late=_ready(timber, "high"),
        framed=bool(plan.posts),
        begins=site.laying_begins,
    )


def _amounts(site: SiteInput, stated: PlanInput, plan: Plan, wood: TimberInput, timber: Timber) -> dict[str, float]:
    around = _number(plan, "plan.centre_perimeter")
    width = stated.section.log_end_length if stated.plinth_width is None else stated.plinth_width
    ends = sum(cut.stem.count * len(cut.pieces) for cut in timber.cuts)
    return {
        "stem": float(sum(stem.count for stem in wood.stems)),
        "log_end": float(ends),
        "trench_m3": around * width * trench_depth(site),
        "plinth_m3": around * width * (stated.plinth_height or 0.0),
        "post": float(len(plan.posts)),
        "beam_m": around if plan.posts else 0.0,
        "roof_m2": _number(plan, "roof.slope_area"),
        "opening": float(len(stated.openings)),
        "sleeve": float(len(stated.sleeves)),
        "wall_m2": _number(plan, "plan.net_wall_area"),
        "floor_m2": _number(plan, "plan.inner_area"),
        "building": 1.0,
    }


def _number(plan: Plan, key: str) -> float:
    found = next((f.value for f in plan.figures if f.key == key), None)
    return found if isinstance(found, float) else 0.0


def trench_depth(site: SiteInput) -> float:
    """How deep the trench is dug [m]: the frost depth somebody told, else a habit.

    Args:
        site: the place, with its rules.
    """
    told = (r.number for r in site.rules if "frost" in r.slug and "depth" in r.slug and r.unit == "m")
    return next((depth for depth in told if depth is not None), float(habits()["defaults"]["trench_depth_m"]))


def _ready(timber: Timber, end: str) -> date | None:
    figure = next((f for f in timber.figures if f.key == "timber.ready_date.mean"), None)
    day = getattr(figure, end) if figure is not None else None
    return day if isinstance(day, date) else None


def _lifts(plan: Plan) -> tuple[LiftWork, ...]:
    """All lifts with something to lay, one round after the other; by the plan, so that a layout moves no day."""
    found = [lift for panel in plan.panels for lift in planned_lifts(panel) if lift.area > 0]
    return tuple(sorted(found, key=lambda lift: lift.lift))  # a sort that keeps the order of the panels


def planned_lifts(panel: Panel) -> list[LiftWork]:
    """Cut a panel into level lifts of one height.

    Args:
        panel: with its outline and openings.

    Sources: assumption (`lift-height`).
    """
    heights = [v for _, v in panel.outline]
    low, high = min(heights), max(heights)
    count = max(1, ceil((high - low) / LIFT_HEIGHT - 1e-9))
    step = (high - low) / count
    return [
        LiftWork(panel=panel.name, lift=n + 1, area=_face_between(panel, low + n * step, low + (n + 1) * step))
        for n in range(count)
    ]


def _face_between(panel: Panel, low: float, high: float) -> float:
    """Net face of a panel between two levels [m2], scaled so that all lifts together give the panel's own net area."""
    rings = [panel.outline, *(o.outline for o in panel.openings)]
    whole, band = ([_ring_area(ring, a, b) for ring in rings] for a, b in ((-1e9, 1e9), (low, high)))
    net = whole[0] - fsum(whole[1:])
    return max(0.0, band[0] - fsum(band[1:])) * (panel.net_area / net if net > 0 else 0.0)


def _ring_area(ring: Sequence[Point], low: float, high: float) -> float:
    """Area of a ring between two levels."""
    points = _cut(_cut(ring, low, 1.0), high, -1.0)
    pairs = zip(points, [*points[1:], *points[:1]], strict=True)
    return abs(fsum(a[0] * b[1] - b[0] * a[1] for a, b in pairs)) / 2


def _cut(ring: Sequence[Point], level: float, side: float) -> list[Point]:
    """What of a ring lies over a level (side 1) or under it (side -1)."""
    kept: list[Point] = []
    for a, b in zip(ring, [*ring[1:], *ring[:1]], strict=True):
        over_a, over_b = side * (a[1] - level), side * (b[1] - level)
        if over_a >= 0:
            kept.append(a)
        if over_a * over_b < 0:
            share = over_a / (over_a - over_b)
            kept.append((a[0] + share * (b[0] - a[0]), level))
    return kept
