"""Does the sand lie in the band of a standard, and if not, where and by how much?

A sand outside may still serve when the mortar made with it performs: the standards themselves allow it.
"""

from dataclasses import dataclass
from itertools import pairwise
from typing import Any, Final, Literal

from cordwright.base import Cite, cite, table
from cordwright.mortar.grading import Grading

Verdict = Literal["fits", "outside", "not judged"]
BANDS: Final = ("c144-natural", "c144-manufactured", "c33")
ROUNDING: Final = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class Limit:
    """Share passing one sieve that a band wants: `opening` [m], `low` and `high` [1]."""

    sieve: str
    opening: float
    low: float
    high: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Band:
    """A band of a standard; `steps` are the most that may lie between two neighbouring sieves named [1]."""

    name: str
    title: str
    limits: tuple[Limit, ...]
    most_between: float
    most_fine_step: float | None
    source: Cite
    step_source: Cite


def band(name: str) -> Band:
    """Give one band of `data/sands.toml`."""
    row: dict[str, Any] = table("sands")["bands"][name]
    limits = tuple(
        Limit(sieve=s, opening=mm / 1000, low=low / 100, high=high / 100) for s, mm, low, high in row["limits"]
    )
    return Band(
        name=name,
        title=row["title"],
        limits=limits,
        most_between=row["most_between"],
        most_fine_step=row.get("most_fine_step"),
        source=cite(row["sources"][0]),
        step_source=cite(row["sources"][1]),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Excursion:
    """A place where a sand leaves a band: what it has, what is wanted there and by how much it is off [1]."""

    sieve: str
    opening: float
    has: float
    low: float
    high: float

    @property
    def by(self) -> float:
        """How far outside: above the high limit positive, below the low one negative [1]."""
        return self.has - self.high if self.has > self.high else self.has - self.low


@dataclass(frozen=True, slots=True, kw_only=True)
class Judgement:
    """A sand held against a band; `unknown` are the sieves of the band that the sieving does not reach."""

    band: Band
    excursions: tuple[Excursion, ...]
    steps: tuple[Excursion, ...]
    unknown: tuple[str, ...]

    @property
    def verdict(self) -> Verdict:
        """Outside as soon as one sieve is; without that a sieve not reached leaves it unjudged."""
        if self.excursions or self.steps:
            return "outside"
        return "not judged" if self.unknown else "fits"

    @property
    def worst(self) -> Excursion | None:
        """The sieve at which the sand is farthest outside."""
        return max(self.excursions, key=lambda e: abs(e.by), default=None)


def judge(curve: Grading, wanted: Band) -> Judgement:
    """Hold a passing curve against a band, at the band's sieves and between them."""
    read = [(limit, reading(curve, limit)) for limit in wanted.limits]
    return Judgement(
        band=wanted,
        excursions=tuple(
            Excursion(sieve=lim.sieve, opening=lim.opening, has=has, low=lim.low, high=lim.high)
            for lim, has in read
            if has is not None and not lim.low - ROUNDING <= has <= lim.high + ROUNDING
        ),
        steps=tuple(_wide_steps(read, wanted)),
        unknown=tuple(limit.sieve for limit, has in read if has is None),
    )


def reading(curve: Grading, limit: Limit) -> float | None:
    """Share passing at a band's sieve [1]; None outside the sieves used."""
    return curve.at(limit.opening)


def _wide_steps(read: list[tuple[Limit, float | None]], wanted: Band) -> list[Excursion]:
    """Intervals between neighbouring sieves that hold more than they may."""
    found = []
    for (wide, above), (tight, below) in pairwise(read):
        if above is None or below is None:
            continue
        fine = wanted.most_fine_step if (wide.sieve, tight.sieve) == ("No.50", "No.100") else None
        most = wanted.most_between if fine is None else fine
        if above - below > most + ROUNDING:
            name = f"{wide.sieve} to {tight.sieve}"
            found.append(Excursion(sieve=name, opening=tight.opening, has=above - below, low=0.0, high=most))
    return found
