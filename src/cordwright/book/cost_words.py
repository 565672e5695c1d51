"""How do the rows of the order list and the sums of the budget read, in a book or at a command line?"""

from collections.abc import Iterator
from datetime import date
from decimal import Decimal
from typing import Final

from cordwright.book.formats import NB, show_number
from cordwright.book.lettering import Lettering, capped
from cordwright.case import Project
from cordwright.cost.results import Group, OrderLine

MONTH: Final = 365.25 / 12
UNKNOWN: Final = "not known"
SAID: Final = frozenset({"own", "free", "price unknown", "quantity unknown"})
"""Notes that the columns of the order list say already."""
MOST_DECIMALS: Final = 6


def thing(line: OrderLine) -> str:
    """What is bought, with what one unit holds where its name does not say so."""
    row = line.row
    return f"{row.item} ({row.unit_text})" if row.unit_text and row.unit_text not in row.item else row.item


def amount(line: OrderLine, lettering: Lettering) -> str:
    """How many units are ordered."""
    return UNKNOWN if line.quantity is None else lettering.count(line.quantity)


def money(value: Decimal | float | None, project: Project, instead: str = "–") -> str:
    """A sum of money without its currency, for a column that is headed by it."""
    return instead if value is None else show_number(value, project.cost.decimals, project.locale)


def unit_price(line: OrderLine, project: Project) -> str:
    """The price of one unit with as many decimals as were typed; the owner's word for what costs nothing."""
    row = line.row
    if row.unit_price is None:
        return UNKNOWN
    if row.unit_price == 0:
        return row.given or "own"
    typed = -int(Decimal(repr(row.unit_price)).normalize().as_tuple().exponent)
    return show_number(row.unit_price, min(MOST_DECIMALS, max(project.cost.decimals, typed)), project.locale)


def remarks(line: OrderLine, day: date) -> str:
    """What else is to be said of a row: what is not known, spares, who named the price and how long ago."""
    notes = [note for note in line.note.split("; ") if note and note not in SAID]
    return "; ".join((*notes, *_share(line), *_asked(line, day)))


def _share(line: OrderLine) -> Iterator[str]:
    if line.row.share is not None and line.row.share < 1.0:
        yield f"{line.row.share * 100:.3g}{NB}% of the need"


def _asked(line: OrderLine, day: date) -> Iterator[str]:
    age = "" if line.row.price_date is None else f"price {age_words(line.price_age(day))}"
    said = ", ".join(part for part in (line.row.price_source, age) if part)
    if said:
        yield said


def age_words(days: int | None) -> str:
    """How old a price is, in days to two months, then in months."""
    if days is None or days < 0:
        return "a day to come"
    if days < 2 * MONTH:
        return f"{days}{NB}{'day' if days == 1 else 'days'} old"
    return f"{int(days / MONTH)}{NB}months old"


def group_title(group: Group, lettering: Lettering) -> str:
    """The name of a delivery with its day."""
    if not group.name:
        return "With no delivery named"
    stated = group.delivery
    day = f": {lettering.value(stated.day, 'date')}" if stated is not None and stated.day is not None else ""
    return f"{capped(group.name)}{day}"


def load_words(group: Group, lettering: Lettering) -> str:
    """When a delivery comes in the work, what is to be carried and how often one drives."""
    stated, words = group.delivery, []
    if stated is not None and stated.stage:
        words.append(capped(stated.stage))
    if group.mass is not None:
        words.append(f"{capped(lettering.middle(group.mass))} to carry")
    if group.trips is not None and stated is not None and stated.carries is not None:
        trips = lettering.middle(group.trips)
        one = "trip" if group.trips.value == 1 else "trips"
        words.append(f"{capped(trips)} {one} of {lettering.value(stated.carries, 'kg')}")
    return ". ".join(words) + ("." if words else "")
