"""How long until the water that the mortar brought into the wall has left it?"""

import math
from collections.abc import Iterator

from cordwright.base import Cite, Figure, Step, table
from cordwright.heat.damp_air import outer_air, room_air
from cordwright.heat.damp_case import DampCase, lacking_for_vapour
from cordwright.heat.house_shell import room_volume
from cordwright.heat.vapour import SECONDS
from cordwright.site import saturation_pressure
from cordwright.site.climate import DAYS

GLASER = Cite("iso-13788-memory", "monthly vapour balance")
DRIFT = Cite("rain-drift")
PLINTH = Cite("plinth-practice", "13 to 14 in over the ground")
MONTHLY = Cite("owner", "site.months")


def drying_figures(case: DampCase) -> Iterator[Figure]:
    """How long the mortar's own water takes to leave as vapour, the longest way."""
    if not case.house.stated:
        return
    key, label = "damp.building_water", "until the mortar's own water has left, by vapour alone (in fact sooner)"
    lacking = lacking_for_vapour(case)
    lacking += () if case.mix is not None and case.mortar_volume is not None else ("the mix and the mortar's volume",)
    lacking += () if case.laying_month is not None else ("when laying begins (site.laying_begins)",)
    days = None if lacking else drying_days(case)
    if days is None:
        missing = lacking or ("a wall that dries within three years by vapour alone",)
        yield Figure(key=key, label=label, value=None, unit="d", bound="unknown", missing=missing, sources=(GLASER,))
        return
    water = free_water(case)
    yield Figure(
        key=key,
        label=label,
        value=days,
        unit="d",
        bound="at_most",
        sources=(GLASER, Cite("bound-water-memory"), MONTHLY),
        steps=(
            Step(symbol="free water", value=water, unit="kg/m2", formula="mixing water less what the cement binds"),
            Step(symbol="from the middle of each bead", value=None, unit="",
                 formula="to the air on its side, room warm as wanted, beads half as thick to the vapour"),
        ),
    )  # fmt: skip


def free_water(case: DampCase) -> float:
    """Water the mortar brings into a square metre of wall, less what its cement binds [kg/m2].

    Sources: `bound-water-memory`.
    """
    assert case.mix is not None
    assert case.mortar_volume is not None
    area = math.fsum(p.net_area for p in case.built.panels)
    cement = math.fsum(a.cement_mass for a in case.mix.amounts)
    bound = float(table("house")["water"]["bound"]) * cement
    brought = case.mix.water + math.fsum(a.delivered_mass - a.dry_mass for a in case.mix.amounts)
    return max(0.0, brought - bound) * case.mortar_volume / area


def drying_days(case: DampCase) -> float | None:
    """Days until the free water has left both beads by vapour alone, from laying on; None for over three years.

    Sources: ISO 13788 flow of vapour from a wet plane at the middle of each bead.
    """
    assert case.months is not None
    assert case.laying_month is not None
    left = free_water(case)
    joint = 1 - _wood(case)
    sd = case.plan.section.bead * table("house")["vapour"]["mortar"][1] / 2
    inside, outside = room_air(case.house, case.months, room_volume(case.plan, case.built)), outer_air(case.months)
    passed = 0.0
    for n in range(36):
        month = (case.laying_month - 1 + n) % 12
        rate = joint * 2e-10 / sd * sum(
            max(0.0, saturation_pressure(a.temperature) - a.pressure) for a in (inside[month], outside[month])
        )  # fmt: skip
        if rate * SECONDS[month] >= left:
            return float(passed + left / (rate * 86400))
        left -= rate * SECONDS[month]
        passed += DAYS[month]
    return None


def _wood(case: DampCase) -> float:
    """Share of the face that is wood, by the mortar in place: what is not joint."""
    assert case.mortar_volume is not None
    area = math.fsum(p.net_area for p in case.built.panels)
    depth = case.plan.section.mortar_depth
    return min(0.95, max(0.05, 1 - case.mortar_volume / (area * depth)))
