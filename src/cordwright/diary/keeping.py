"""What else does the diary come to: hours, money, moisture and cracks as figures?"""

import math
import re
from collections.abc import Iterator
from typing import Final

from cordwright.base import Cite, Figure, Records, Step
from cordwright.base.records import Moisture, Spent
from cordwright.diary.results import Trend
from cordwright.diary.series import spans_a_year

OWN: Final = Cite("diary")
LINE: Final = Cite("least-squares", "slope and its standard error")
POINTS: Final = Cite("anscombe-1973", "one line fits many shapes: look at the points too")


def hours_figure(trades: tuple[tuple[str, float], ...]) -> Iterator[Figure]:
    """Person-hours written down [h], by trade in the working."""
    if trades:
        yield Figure(
            key="diary.hours",
            label="person-hours written down, all trades",
            value=math.fsum(hours for _, hours in trades),
            unit="h",
            sources=(OWN,),
            steps=tuple(Step(symbol=trade, value=hours, unit="h", source=OWN) for trade, hours in trades),
        )


def spent_figure(records: Records, currency: str) -> Iterator[Figure]:
    """Money written down as spent, in the project's currency; other currencies are named and not added."""
    told = [said for _, said in records.of(Spent)]
    if not told:
        return
    ours = [said for said in told if said.currency == currency]
    others = sorted({said.currency for said in told} - {currency})
    yield Figure(
        key="diary.spent",
        label="money written down as spent",
        value=math.fsum(said.amount for said in ours),
        unit=currency,
        bound="at_least" if others else "exact",
        missing=tuple(f"what was paid in {other}" for other in others),
        sources=(OWN,),
        steps=tuple(Step(symbol=said.what or "paid", value=said.amount, unit=currency) for said in ours[-10:]),
    )


def moisture_figure(records: Records, saturation: float) -> Iterator[Figure]:
    """Mean of the newest day's readings with their range [1].

    Args:
        records: those that stand.
        saturation: from here up a meter says only wet [kg/kg], so the mean is at least what it reads.

    Sources: `fibre-saturation`.
    """
    told = records.of(Moisture)
    if not told:
        return
    newest = told[-1][0]
    shares = [said.share for day, said in told if day == newest]
    yield Figure(
        key="diary.moisture",
        label=f"moisture of {len(shares)} log ends on {newest.isoformat()}, mean and range",
        value=math.fsum(shares) / len(shares),
        low=min(shares),
        high=max(shares),
        unit="1",
        bound="at_least" if max(shares) >= saturation else "exact",
        sources=(OWN, Cite("fibre-saturation", "above it a meter says only wet")),
        steps=tuple(Step(symbol=f"reading {n}", value=s, unit="1") for n, s in enumerate(shares, start=1)),
    )


def crack_figures(trends: tuple[Trend, ...]) -> Iterator[Figure]:
    """How each crack goes [m/year]; unknown while it has fewer than three readings."""
    taken: set[str] = set()
    for each in trends:
        yield _crack_figure(each, _slug(each.series.place, taken))


def _slug(place: str, taken: set[str]) -> str:
    stem = re.sub(r"[\W_]+", "_", place.lower()).strip("_")[:40] or "crack"
    slug = stem if stem not in taken else next(f"{stem}_{n}" for n in range(2, 9999) if f"{stem}_{n}" not in taken)
    taken.add(slug)
    return slug


def _crack_figure(each: Trend, slug: str) -> Figure:
    label = f"trend of the crack at {each.series.place}: {each.word}{_season_words(each)}"
    return Figure(
        key=f"diary.crack.{slug}.trend",
        label=label,
        value=each.slope,
        low=each.low,
        high=each.high,
        unit="m/year",
        bound="unknown" if each.slope is None else "exact",
        missing=("three readings on different days",) if each.slope is None else (),
        sources=(OWN, LINE, POINTS),
        steps=tuple(
            Step(symbol=r.day.isoformat(), value=r.value, unit="m", formula="width") for r in each.series.readings[-10:]
        ),
    )


def _season_words(each: Trend) -> str:
    short = each.slope is not None and not spans_a_year(each.series)
    return "; readings of less than a year may show the season" if short else ""
