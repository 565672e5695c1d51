"""What did the owner write down on site? Records of the diary as plain values, for every stage to read.

A record says one thing about one day of work. Nothing here knows of files: `project` keeps the records, and what was
corrected or withdrawn does not stand in `Records` (its history stays in the file). A blank is unknown, never zero.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime
from types import MappingProxyType
from typing import Final, Literal, TypeVar

Source = Literal["cli", "pocket", "desk"]
Sky = Literal["dry", "shower", "rain", "frost"]
Covering = Literal["damp cloth", "sheet", "frost mat", "uncovered", "frozen"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Laid:
    """Wall laid: its face [m2] or the log ends by their marks, where, how long each worked [h] and how many did."""

    area: float | None = None
    logs: tuple[str, ...] = ()
    panel: str = ""
    hours: float | None = None
    people: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Batches:
    """Batches of mortar mixed, as the mix card has them."""

    count: float
    panel: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Weather:
    """One day's weather at the wall: lowest and highest [degC], rain in a can [m], the sky, hours lost to it [h]."""

    low: float | None = None
    high: float | None = None
    rain: float | None = None
    sky: Sky | None = None
    lost: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Moisture:
    """A meter's reading [kg water per kg dry wood] at a log end, with the wood's temperature [degC]."""

    share: float
    log: str = ""
    temperature: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Weighing:
    """A marked test end on the scale [kg]."""

    end: str
    mass: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Crack:
    """A crack's width [m] at a place with a name."""

    place: str
    width: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Spent:
    """Money paid out, in a currency's own units, and for what."""

    amount: float
    currency: str
    what: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Hours:
    """Hours of one trade: how long each worked [h], how many did."""

    trade: str
    hours: float
    people: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Cover:
    """What lies over the fresh work of a panel, or what the night did to it."""

    covering: Covering
    panel: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Note:
    """The owner's own words."""

    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Photo:
    """A picture by its path as seen from the project's folder and the SHA-256 of its bytes, with words to it."""

    path: str
    digest: str
    words: str = ""


Said = Laid | Batches | Weather | Moisture | Weighing | Crack | Spent | Hours | Cover | Note | Photo
KINDS: Final[Mapping[str, type[Said]]] = MappingProxyType(
    {
        "laid": Laid,
        "batches": Batches,
        "weather": Weather,
        "moisture": Moisture,
        "weighing": Weighing,
        "crack": Crack,
        "spent": Spent,
        "hours": Hours,
        "cover": Cover,
        "note": Note,
        "photo": Photo,
    }
)
"""What can be recorded, by the word it is kept under."""

One = TypeVar("One", bound=Said)


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """One record as it stands: of which day of work, made when, by whom, at what."""

    id: str
    day: date
    made: datetime
    said: Said
    who: str = ""
    source: Source = "cli"
    device: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Records:
    """All records that stand, by day of work and then as they were made."""

    entries: tuple[Entry, ...] = ()

    def __bool__(self) -> bool:
        """Whether anything was written down at all."""
        return bool(self.entries)

    def of(self, kind: type[One]) -> tuple[tuple[date, One], ...]:
        """What was said of one kind, with its day, in order."""
        return tuple((e.day, e.said) for e in self.entries if isinstance(e.said, kind))
