"""What comes with which delivery, and what does each part of the building and each trade take?"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from typing import Final

from cordwright.base.slugs import free_slug
from cordwright.cost.budget import Accounts, paid_of, sum_figure
from cordwright.cost.inputs import Delivery, PriceRow
from cordwright.cost.loads import with_load
from cordwright.cost.results import Group, OrderLine


@dataclass(frozen=True, slots=True, kw_only=True)
class _Kind:
    """One way to group rows: the word for it, what a row says of it, and the slug of rows that say nothing."""

    word: str
    instead: str
    said: Callable[[PriceRow], str]


DELIVERY: Final = _Kind(word="delivery", instead="none", said=lambda row: row.delivery)
PART: Final = _Kind(word="part", instead="other", said=lambda row: row.part_of)
TRADE: Final = _Kind(word="trade", instead="none", said=lambda row: row.trade)


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
    groups = _groups(names, DELIVERY, lines, accounts)
    return tuple(with_load(group, stated.get(group.name, Delivery(name=group.name)), accounts) for group in groups)


def _in_order(names: Sequence[str], stated: dict[str, Delivery]) -> list[str]:
    """Names by their days; one without a day stays behind the one before it in the list."""
    latest, keys = "", {}
    for place, name in enumerate(names):
        day = stated[name].day if name in stated else None
        latest = day.isoformat() if day else latest
        keys[name] = (latest, place)
    return sorted(names, key=keys.__getitem__)


def parts_of(lines: Sequence[OrderLine], accounts: Accounts) -> tuple[Group, ...]:
    """The parts of the building in the order of the list; rows that name none together."""
    return _groups(_names(line.row.part_of for line in lines), PART, lines, accounts)


def trades_of(lines: Sequence[OrderLine], accounts: Accounts) -> tuple[Group, ...]:
    """The trades that rows name; nothing where none does."""
    return _groups([n for n in _names(line.row.trade for line in lines) if n], TRADE, lines, accounts)


def _names(names: Iterable[str]) -> list[str]:
    found = dict.fromkeys(names)
    return [*(n for n in found if n), *(n for n in found if not n)]


def _groups(names: Iterable[str], kind: _Kind, lines: Sequence[OrderLine], accounts: Accounts) -> tuple[Group, ...]:
    groups: list[Group] = []
    taken: set[str] = set()
    for name in names:
        slug = free_slug(name, taken, kind.instead)
        taken.add(slug)
        held = tuple(line for line in lines if kind.said(line.row) == name)
        label = f"{kind.word} {name}: planned" if name else f"rows that name no {kind.word}: planned"
        groups.append(_group(name, f"cost.{kind.word}.{slug}", label, held, accounts))
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
