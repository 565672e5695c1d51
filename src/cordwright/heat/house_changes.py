"""What single change would save most: log ends, beads, fill, windows, roof, floor, or fewer gaps?"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Final

from cordwright.heat.house import total
from cordwright.heat.house_inputs import HouseInput, Insulation
from cordwright.heat.house_results import Change
from cordwright.heat.house_shell import Leakage, Wall, insulation_band, losses
from cordwright.heat.house_wall import Section
from cordwright.heat.section import section_of
from cordwright.plan.inputs import PlanInput, WallSection
from cordwright.plan.results import Plan

LONGER: Final = 0.05
THINNER: Final = 0.02
GOOD_FILL: Final = 0.040
GOOD_WINDOW: Final = 0.9
MORE: Final = 0.1
LEAST_BEAD: Final = 0.06


@dataclass(frozen=True, slots=True, kw_only=True)
class Now:
    """The house as it stands: all that its losses follow from, and its stacked wood of a year [m3], None unknown."""

    house: HouseInput
    plan: PlanInput
    built: Plan
    wall: Wall
    section: Section | None
    leakage: Leakage
    wood: float | None


def house_changes(now: Now) -> tuple[Change, ...]:
    """Try single changes, each alone, and give what they save, the best first.

    Args:
        now: the house as it stands.

    Sources: `steady-loss`; the wall's U is scaled by that of its section.
    """
    before = _loss(now, now.house, now.wall)
    if before is None:
        return ()
    found = []
    for (words, amount, unit), house, wall in (*_walls(now), *_shell(now)):
        after = _loss(now, house, wall)
        if after is not None and abs(after - before) > 1e-6:
            saved = None if now.wood is None else now.wood * (1 - after / before)
            found.append(Change(words=words, amount=amount, unit=unit, before=before, after=after, wood_saved=saved))
    return tuple(sorted(found, key=lambda c: c.after))


Said = tuple[str, float, str]
"""The change in words with {} for its amount, the amount, its unit."""
Trial = tuple[Said, HouseInput, Wall]


def _loss(now: Now, house: HouseInput, wall: Wall) -> float | None:
    parts, missing = losses(house, now.plan, now.built, wall, now.leakage)
    return None if missing else total(parts)[1]


def _scaled(now: Now, factor: float) -> Wall:
    low, middle, high = (u * factor for u in now.wall.u)
    return replace(now.wall, u=(low, middle, high))


def _walls(now: Now) -> Iterator[Trial]:
    if now.section is None:
        return
    base = now.section
    plain = section_of(base.section, base.wood_fraction, base.materials).u_value
    longer = replace(base.section, log_end_length=base.section.log_end_length + LONGER)
    shorter = replace(base.section, log_end_length=base.section.log_end_length - LONGER)
    trials: list[tuple[Said, WallSection]] = [(("log ends {} longer", LONGER, "m"), longer)]
    if shorter.thickness > 2 * base.section.bead + 0.02:
        trials.append((("log ends {} shorter", LONGER, "m"), shorter))
    if base.section.bead - THINNER >= LEAST_BEAD and not base.section.solid:
        thin = replace(base.section, bead=base.section.bead - THINNER)
        trials.append((("beads {} thinner, more fill", THINNER, "m"), thin))
    for said, section in trials:
        u = section_of(section, base.wood_fraction, base.materials).u_value
        yield said, now.house, _scaled(now, u / plain)
    fill = base.materials.fill
    if fill is not None and fill.value > GOOD_FILL + 1e-9:
        better = replace(base.materials, fill=replace(fill, value=GOOD_FILL))
        u = section_of(base.section, base.wood_fraction, better).u_value
        yield ("fill of {}, kept dry", GOOD_FILL, "W/mK"), now.house, _scaled(now, u / plain)


def _shell(now: Now) -> Iterator[Trial]:
    house, wall = now.house, now.wall
    windows = house.windows
    if windows.u_value is not None and windows.u_value > GOOD_WINDOW:
        better = replace(house, windows=replace(windows, u_value=GOOD_WINDOW))
        yield ("windows of {}", GOOD_WINDOW, "W/m2K"), better, wall
    for name, layer in (("roof", house.roof.insulation), ("floor", house.floor.insulation)):
        if layer.thickness is not None and insulation_band(layer) is not None:
            part = getattr(house, name)
            thicker: Insulation = replace(layer, thickness=layer.thickness + MORE)
            more = replace(house, **{name: replace(part, insulation=thicker)})
            yield ("{} more insulation in the " + name, MORE, "m"), more, wall
    yield from _air(now)


def _air(now: Now) -> Iterator[Trial]:
    house = now.house
    if house.air_changes is not None:
        yield ("air leaks halved", 0.5, "1"), replace(house, air_changes=house.air_changes / 2), now.wall
    elif house.fan_test is not None:
        yield ("air leaks halved", 0.5, "1"), replace(house, fan_test=house.fan_test / 2), now.wall
