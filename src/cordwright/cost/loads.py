"""How much is to be carried with a delivery, and how often must one drive?"""

import math
from collections.abc import Iterator
from dataclasses import replace
from typing import Final

from cordwright.base import Check, Cite, Figure, Step
from cordwright.cost.budget import Accounts, sources_of
from cordwright.cost.inputs import Delivery
from cordwright.cost.quantities import number
from cordwright.cost.results import Group, OrderLine
from cordwright.mortar import whole_up

LOADS: Final = Cite("owner", "cost.deliveries")


def with_load(group: Group, delivery: Delivery, accounts: Accounts) -> Group:
    """Give a delivery with its load and its trips.

    Args:
        group: the lines of the delivery.
        delivery: what is stated of it.
        accounts: what the sums stand on.
    """
    mass = _mass(group, accounts) if group.name else None
    carried = number(mass.value) if mass is not None else None
    trips = _trips(group, mass, carried, delivery.carries) if mass and carried and delivery.carries else None
    return replace(group, delivery=delivery, mass=mass, trips=trips)


def _mass(group: Group, accounts: Accounts) -> Figure | None:
    """Mass to be carried; a lower limit where not every row tells its own, nothing where none does."""
    known = [line for line in group.lines if line.mass is not None]
    if not known:
        return None
    unknown = tuple(line.row.item for line in group.lines if line.mass is None or line.only_limit)
    low, value, high = (math.fsum(_mass_at(line, end) for line in known) for end in ("low", "value", "high"))
    spread = not low == value == high
    return Figure(
        key=f"{group.key}.mass",
        label=f"delivery {group.name}: mass to carry",
        value=value,
        unit="kg",
        low=min(low, value) if spread else None,
        high=max(high, value) if spread and not unknown else None,
        bound="at_least" if unknown else "exact",
        missing=tuple(f"mass of {item}" for item in unknown),
        sources=sources_of(known, accounts.figures),
        steps=tuple(Step(symbol=line.row.item, value=line.mass, unit="kg", source=LOADS) for line in known),
    )


def _mass_at(line: OrderLine, end: str) -> float:
    """Mass of a line when its need stands at one end."""
    assert line.mass is not None
    at_end = {"low": line.quantity_low, "high": line.quantity_high}.get(end)
    return line.mass * at_end / line.quantity if line.quantity and at_end is not None else line.mass


def _trips(group: Group, mass: Figure, carried: float, carries: float) -> Figure:
    """Trips by mass alone: at least so many, for nothing is known of the room a load takes."""
    one_trip = Step(
        symbol="one trip carries", value=carries, unit="kg", formula="mass / trip, rounded up", source=LOADS
    )
    return Figure(
        key=f"{group.key}.trips",
        label=f"delivery {group.name}: trips by mass",
        value=float(whole_up(carried / carries)),
        unit="",
        bound="at_least",
        missing=(*mass.missing, "the room the load takes"),
        sources=(LOADS, *mass.sources),
        steps=(Step(symbol="mass to carry", value=carried, unit="kg"), one_trip),
    )


def load_check(group: Group) -> Iterator[Check]:
    """Hold the load of a delivery against what its trips carry; a lower limit can only show it too much.

    Args:
        group: a delivery with its load.
    """
    stated, mass = group.delivery, group.mass
    if stated is None or stated.carries is None or stated.trips is None or mass is None:
        return
    value, capacity = number(mass.value), stated.carries * stated.trips
    undecided = value is None or (mass.bound == "at_least" and value <= capacity)
    yield Check(
        key=f"{group.key}.load",
        label=f"load of the delivery {group.name}, within its trips",
        demand=value,
        capacity=capacity,
        unit="kg",
        low=number(mass.low),
        high=number(mass.high),
        sources=tuple(dict.fromkeys((LOADS, *mass.sources))),
        steps=mass.steps,
        not_judged="not known yet: " + ", ".join(mass.missing) if undecided else "",
    )
