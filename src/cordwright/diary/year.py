"""What is looked at every year, and what was it last time? The walk, with the last figures beside the blanks."""

from dataclasses import dataclass
from datetime import date

from cordwright.base import Cite, table
from cordwright.base.tables import cite
from cordwright.diary.results import Diary, Trend

PRACTICE = Cite("keeping-practice", "a walk round the building once a year")


@dataclass(frozen=True, slots=True, kw_only=True)
class Look:
    """One thing to look at: when in the year, where, how, what is done when it is not well; whose habit that is."""

    key: str
    season: str
    what: str
    how: str
    do: str
    sources: tuple[Cite, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Measured:
    """One thing measured every year: what, its last value in SI with its unit and day, and how it goes."""

    what: str
    value: float
    unit: str
    day: date
    word: str


def looks() -> tuple[Look, ...]:
    """The yearly walk, in the order in which it is walked.

    Sources: common practice (`keeping-practice`), row by row in `data/keeping.toml`.
    """
    rows = table("keeping")
    return tuple(
        Look(
            key=key,
            season=row["season"],
            what=row["what"],
            how=row["how"],
            do=row["do"],
            sources=tuple(cite(s) for s in row["sources"]),
        )
        for key, row in rows.items()
    )


def measured(diary: Diary | None) -> tuple[Measured, ...]:
    """What was measured before, to stand beside the blanks: cracks first, then log ends, then test ends.

    Args:
        diary: the diary worked out, None before the first record.
    """
    if diary is None:
        return ()
    return (
        *(_crack(t) for t in diary.cracks),
        *(
            Measured(what=f"moisture, {s.place}", value=s.last.value, unit="1", day=s.last.day, word="")
            for s in diary.moisture
        ),
        *(
            Measured(what=f"test end {s.place}", value=s.last.value, unit="kg", day=s.last.day, word="")
            for s in diary.weighings
        ),
    )


def _crack(trend: Trend) -> Measured:
    last = trend.series.last
    return Measured(what=f"crack at {trend.series.place}", value=last.value, unit="m", day=last.day, word=trend.word)
