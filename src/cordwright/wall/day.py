"""What must stand ready for a lift, or for one day of laying: which logs, how many batches, how much fill?"""

import math
from collections.abc import Collection, Mapping
from dataclasses import dataclass

from cordwright.base import InputError
from cordwright.mortar import Mix, MortarInput
from cordwright.wall.inputs import Fill
from cordwright.wall.placed import PlacedLift, PlacedPanel
from cordwright.wall.taking import Taken, scaled, together


@dataclass(frozen=True, slots=True, kw_only=True)
class Needs:
    """What a piece of wall needs, waste included: logs by id in laying order, mortar and fill [m3], materials [kg].

    `area`: face it closes [m2]. `batches`: not rounded, None while the bucket is not stated; `buckets`: of each part
    of the mix, by its name, None likewise. Masses are None while no mix is stated.
    """

    panel: str
    area: float
    logs: tuple[str, ...]
    log_mass: float | None
    mortar: float
    fill: float
    stones: float
    batches: float | None
    buckets: Mapping[str, float] | None
    cement: float | None
    lime: float | None
    dry_sand: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Supplies:
    """What turns mortar in place into what is mixed: the mix as stated and as worked out, and the fill."""

    stated: MortarInput
    mix: Mix | None
    fill: Fill


def needs_of(panel: str, logs: tuple[str, ...], taken: Taken, supplies: Supplies) -> Needs:
    """Give what a piece of wall needs.

    Args:
        panel: where it is.
        logs: its log ends in laying order.
        taken: what it takes in place.
        supplies: mix, waste and fill.

    Sources: closed form, volume in place with waste times what one cubic metre takes.
    """
    mix, mortar = supplies.mix, taken.mortar_volume * (1.0 + supplies.stated.waste)
    batches = mortar / mix.batch_volume if mix is not None and mix.batch_volume is not None else None
    amounts = mix.amounts if mix is not None else ()
    return Needs(
        panel=panel,
        area=taken.face_area,
        logs=logs,
        log_mass=taken.log_mass,
        mortar=mortar,
        fill=taken.fill_volume * (1.0 + supplies.fill.waste),
        stones=taken.stones,
        batches=batches,
        buckets=None if batches is None else {p.name: p.parts * batches for p in supplies.stated.parts},
        cement=mortar * math.fsum(a.cement_mass for a in amounts) if mix is not None else None,
        lime=mortar * math.fsum(a.lime_mass for a in amounts) if mix is not None else None,
        dry_sand=mortar * math.fsum(a.dry_mass for a in amounts if a.part.kind == "sand") if mix is not None else None,
    )


def day_needs(placed: PlacedPanel, area: float, supplies: Supplies, done: Collection[str] = ()) -> Needs:
    """Give what laying so much of a panel needs, from its next log that is not laid on.

    Each log brings its even share of its lift's joints, stones and fill. The day ends with the log that reaches the
    area.

    Args:
        placed: the laid panel.
        area: face to close in the day [m2].
        supplies: mix, waste and fill.
        done: ids of logs that stand already.

    Raises:
        InputError: no area.

    Sources: closed form.
    """
    if not (math.isfinite(area) and area > 0):
        raise InputError(f"the area of a day must be above 0 m2, not {area}")
    logs: list[str] = []
    parts: list[Taken] = []
    wanted = area
    for lift in placed.lifts:
        left = tuple(name for name in lift.logs if name not in done)
        if not left or wanted <= 0:
            continue
        count = min(len(left), math.ceil(wanted / _face_each(lift) - 1e-9))
        logs += left[:count]
        parts.append(scaled(lift.taken, count / len(lift.logs)))
        wanted -= count * _face_each(lift)
    return needs_of(placed.panel, tuple(logs), together(parts), supplies)


def _face_each(lift: PlacedLift) -> float:
    """Face that one log of a lift closes with its share of the joints [m2]."""
    return lift.taken.face_area / len(lift.logs)
