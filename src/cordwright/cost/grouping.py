"""What comes with which delivery, and what does each part of the building and each trade take?"""

import math
from collections.abc import Callable, Iterable, Sequence
from typing import Final

from cordwright.base import Cite, Figure, Step
from cordwright.base.slugs import free_slug
from cordwright.cost.budget import Accounts, paid_of, sources_of, sum_figure
from cordwright.cost.inputs import Delivery
from cordwright.cost.quantities import number
from cordwright.cost.results import Group, OrderLine
from cordwright.mortar import whole_up

LOADS: Final = Cite("owner", "cost.deliveries")
Sorting = Callable[[OrderLine], str]


def deliveries_of(lines: Sequence[OrderLine], accounts: Accounts) -> tuple[Group, ...]:
    """The deliveries in the order in which they come, those with a day by their day; what names none last.

    Args:
        lines: of the order list.
        accounts: what the sums stand on.
    """
    if not any(line.row.delivery for line in lines):
        return ()
    stated = {d.name: d for d in accounts.cost.deliveries}
    found = dict.fromkeys((*stated, *(line.row.delivery for line in lines)))
    names = _in_order([n for n in found if n], stated) + ([""] if "" in found else [])
    groups = _groups(names, "cost.delivery", ("delivery", "none"), lambda line: line.row.delivery, lines, accounts)
    return tuple(_with_load(group, stated.get(group.name, Delivery(name=group.name)), accounts) for group in groups)


def _in_order(names: Sequence[str], stated: dict[str, Delivery]) -> list[str]:
    """Names by their days; one without a day stays behind the one before it in the list."""
    latest, keys = (0, 0, 0), {}
    for place, name in enumerate(names):
        day = stated[name].day if name in stated else None
        latest = (day.year, day.month, day.day) if day else latest
        keys[name] = (latest, place)
    return sorted(names, key=keys.__getitem__)


def parts_of(lines: Sequence[OrderLine], accounts: Accounts) -> tuple[Group, ...]:
    """The parts of the building in the order of the list; rows that name none together."""
    names = _names(line.row.part_of for line in lines)
    return _groups(names, "cost.part", ("part", "other"), lambda line: line.row.part_of, lines, accounts)


def trades_of(lines: Sequence[OrderLine], accounts: Accounts) -> tuple[Group, ...]:
    """The trades that rows name; nothing where none does."""
    names = [n for n in _names(line.row.trade for line in lines) if n]
    return _groups(names, "cost.trade", ("trade", "none"), lambda line: line.row.trade, lines, accounts)


def _names(names: Iterable[str]) -> list[str]:
    found = dict.fromkeys(names)
    return [*(n for n in found if n), *(n for n in found if not n)]


def _groups(
    names: Iterable[str],
    prefix: str,
    words: tuple[str, str],
    sorting: Sorting,
    lines: Sequence[OrderLine],
    accounts: Accounts,
) -> tuple[Group, ...]:
    groups: list[Group] = []
    taken: set[str] = set()
    word, instead = words
    for name in names:
        slug = free_slug(name, taken, instead)
        taken.add(slug)
        held = tuple(line for line in lines if sorting(line) == name)
        label = f"{word} {name}: planned" if name else f"rows that name no {word}: planned"
        groups.append(_group(name, f"{prefix}.{slug}", label, held, accounts))
    return tuple(groups)


def _group(name: str, key: str, label: str, lines: tuple[OrderLine, ...], accounts: Accounts) -> Group:
    return Group(
        name=name,
        key=key,
        lines=lines,
        planned=sum_figure(key, label, "planned", lines, accounts),
        left=sum_figure(f"{key}.left", "still to pay", "left", lines, accounts),
        expected=sum_figure(f"{key}.expected", "paid and still to pay", "expected", lines, accounts),
        paid=paid_of(lines),
    )


def _with_load(group: Group, delivery: Delivery, accounts: Accounts) -> Group:
    mass = _mass(group, accounts) if group.name else None
    return Group(
        **{name: getattr(group, name) for name in ("name", "key", "lines", "planned", "left", "expected", "paid")},
        delivery=delivery,
        mass=mass,
        trips=_trips(group, delivery, mass) if mass and delivery.carries else None,
    )


def _mass(group: Group, accounts: Accounts) -> Figure | None:
    """Mass to be carried; a lower limit where not every row tells its own, nothing where none does."""
    known = [line for line in group.lines if line.mass is not None]
    if not known:
        return None
    unknown = tuple(line.row.item for line in group.lines if line.mass is None or line.only_limit)
    value, low, high = (math.fsum(_mass_at(line, end) for line in known) for end in ("value", "low", "high"))
    return Figure(
        key=f"{group.key}.mass",
        label=f"delivery {group.name}: mass to carry",
        value=value,
        unit="kg",
        low=low if low != high else None,
        high=high if low != high and not unknown else None,
        bound="at_least" if unknown else "exact",
        missing=tuple(f"mass of {item}" for item in unknown),
        sources=sources_of(known, accounts.figures),
        steps=tuple(Step(symbol=line.row.item, value=line.mass, unit="kg", source=LOADS) for line in known),
    )


def _mass_at(line: OrderLine, end: str) -> float:
    ends = {"value": line.quantity, "low": line.quantity_low, "high": line.quantity_high}
    assert line.mass is not None
    at_end = ends[end]
    return line.mass * at_end / line.quantity if line.quantity and at_end is not None else line.mass


def _trips(group: Group, delivery: Delivery, mass: Figure) -> Figure:
    """Trips by mass alone: at least so many, for nothing is known of the room a load takes."""
    value = number(mass.value)
    assert value is not None and delivery.carries
    carried = Step(symbol="one trip carries", value=delivery.carries, unit="kg", source=LOADS)
    return Figure(
        key=f"{group.key}.trips",
        label=f"delivery {group.name}: trips by mass",
        value=float(whole_up(value / delivery.carries)),
        unit="",
        bound="at_least",
        missing=(*mass.missing, "the room the load takes"),
        sources=(LOADS, *mass.sources),
        steps=(Step(symbol="mass to carry", value=value, unit="kg"), carried),
    )
