"""Which wall is the diary about, and what did plan, wood, mix and layout lead one to expect of it?"""

import math
from collections.abc import Mapping
from typing import Final

from cordwright.base import Cite, Figure
from cordwright.diary.inputs import DAY_HOURS, USUAL_PACE, Bag, Expected, Guess, WholeWall
from cordwright.mortar import Mix
from cordwright.plan.results import Plan
from cordwright.timber.inputs import SHARES
from cordwright.timber.results import Stock, Timber
from cordwright.wall.results import Wall

PLAN_SPREAD: Final = 0.2
"""What the plan says of a square metre is good to so much [1]: assumption (`plan-spread`)."""
PLANNED: Final = Cite("plan-spread", "20 % either way")
BINDERS: Final = ("cement", "lime", "pre-blended")


def wall_of(plan: Plan, timber: Timber, wall: Wall, mix: Mix | None, *, currency: str, saturation: float) -> WholeWall:
    """The wall that the records are about.

    Args:
        plan: the plan worked out.
        timber: the wood worked out.
        wall: the wall worked out, planned or laid.
        mix: the mix worked out, None when none is stated.
        currency: the project's.
        saturation: fibre saturation of the wood, from which a meter says only wet [kg/kg].
    """
    usable = _known(timber.figures, "timber.usable_log_ends")
    return WholeWall(
        net_area=math.fsum(panel.net_area for panel in plan.panels),
        panels={panel.name: panel.net_area for panel in plan.panels},
        log_faces=log_faces(timber.stock, _wood_fraction(wall)),
        batch_volume=None if mix is None else mix.batch_volume,
        bags=() if mix is None else bags_of(mix),
        stock=usable,
        currency=currency,
        saturation=saturation,
    )


def _known(figures: tuple[Figure, ...], key: str) -> float | None:
    value = next((f.value for f in figures if f.key == key), None)
    return value if isinstance(value, float) else None


def _wood_fraction(wall: Wall) -> float:
    """Share of the masonry that is log, planned or as laid [1]."""
    masonry = math.fsum(panel.masonry_area for panel in wall.panels)
    return math.fsum(panel.wood_area for panel in wall.panels) / masonry if masonry > 0 else 1.0


def log_faces(stock: Stock, wood_fraction: float) -> Mapping[str, float]:
    """Wall that each log end closes with its share of joints, by its mark [m2].

    Args:
        stock: the log ends; those of unknown diameter are left out.
        wood_fraction: share of the face that is log [1].

    Sources: closed form, area of a disc; halves and quarters by their share of it.
    """
    shapes = stock.shape or ("round",) * len(stock.id)
    return {
        mark: SHARES[shape] * math.pi / 4 * diameter**2 / wood_fraction
        for mark, shape, diameter in zip(stock.id, shapes, stock.diameter.tolist(), strict=True)
        if math.isfinite(diameter)
    }


def bags_of(mix: Mix) -> tuple[Bag, ...]:
    """Bags of each binder to a cubic metre of fresh mortar, where the mass of a bag is stated."""
    return tuple(
        Bag(name=amount.part.name, per_volume=amount.delivered_mass / amount.part.bag)
        for amount in mix.amounts
        if amount.part.bag and amount.part.kind in BINDERS and amount.part.form != "putty"
    )


def expected_of(wall: Wall, whole: WholeWall, pace: Guess = USUAL_PACE, day_hours: float = DAY_HOURS) -> Expected:
    """What plan, mix and layout lead one to expect.

    Args:
        wall: the wall worked out.
        whole: the wall that the diary is about.
        pace: of one person in a usual day [m2/day].
        day_hours: a usual day [h].
    """
    volume = _known(wall.figures, "mortar.volume") or 0.0
    logs = _logs_per_area(wall, whole)
    return Expected(
        pace=pace,
        day_hours=day_hours,
        mortar=_guess(volume / whole.net_area) if volume > 0 < whole.net_area else None,
        logs=_guess(logs) if logs > 0 else None,
    )


def _guess(mean: float) -> Guess:
    return Guess(mean=mean, sd=PLAN_SPREAD * mean, source=PLANNED)


def _logs_per_area(wall: Wall, whole: WholeWall) -> float:
    """Log ends to a square metre as laid out, or by the mean log end of the stock [1/m2]; 0 where unknown."""
    placed = wall.placed
    if placed is not None and placed.laid.face_area > 0:
        return sum(len(lift.logs) for panel in placed.panels for lift in panel.lifts) / placed.laid.face_area
    faces = list(whole.log_faces.values())
    return len(faces) / math.fsum(faces) if faces else 0.0
