"""How long must this mortar be kept from frost, and what is the last day to lay it?

Sources differ by binder, and none speaks of this mix: the slowest clock that fits is taken, and its source is named.
"""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Final

from cordwright.base import Cite, Figure, Step, table
from cordwright.mortar.inputs import MortarInput
from cordwright.mortar.materials import loose_material
from cordwright.mortar.maturity import ripe_on
from cordwright.mortar.proportions import Proportions, proportions
from cordwright.site import SiteInput, first_frost, on_day

LIME_NOTES: Final = Cite(
    "lime-winter-notes", "ten weeks for cement-lime 1:1:6; 90 days at 18-20 C, a quarter more for 5 C"
)
KEY: Final = "season.last_laying_date"
LABEL: Final = "last day to lay mortar before the first hard frost"


@dataclass(frozen=True, slots=True, kw_only=True)
class FrostClock:
    """How long fresh mortar must be kept from freezing while soaked.

    `days` of the calendar, or days at 19 degC when `by_warmth` is set. `stated_for`: the mortar the source speaks of;
    `borrowed` when the mix in hand is another.
    """

    days: float
    by_warmth: bool
    stated_for: str
    borrowed: bool
    source: Cite

    def until(self, laid: date, temperature: Callable[[date], float]) -> date | None:
        """The day until which mortar laid on a day is to be kept from frost; None when it never ripens in a year.

        Args:
            laid: day of laying.
            temperature: mean of a day [degC].
        """
        if not self.by_warmth:
            return laid + timedelta(days=round(self.days))
        return ripe_on(laid, self.days, lambda day: lime_rate(temperature(day)))


def lime_rate(temperature: float) -> float:
    """Speed at which hydraulic lime gains frost resistance over that at 19 degC [1]: none under 5, no faster over 19.

    Args:
        temperature: mean of the day [degC].

    Sources: lime suppliers' winter notes: a quarter more time for each 5 degC colder, nothing under 5 degC.
    """
    row = table("curing")["frost"]
    if temperature < row["hydration_stops_C"]:
        return 0.0
    colder = max(0.0, float(row["hydraulic_at_C"]) - temperature) / 5.0
    return 1.0 / (1.0 + float(row["slower_per_5_K"]) * colder)


def frost_clock(mortar: MortarInput) -> FrostClock | None:
    """The clock for the mix in hand; None when no mix is stated.

    Args:
        mortar: the mix, without errors.
    """
    if not mortar.parts:
        return None
    shares = proportions(tuple(loose_material(p) for p in mortar.parts))
    row = table("curing")["frost"]
    if not shares.cement:
        stated = "hydraulic lime; a lime that is not hydraulic takes longer, and no source here says how long"
        return FrostClock(
            days=row["hydraulic_days"], by_warmth=True, stated_for=stated, borrowed=False, source=LIME_NOTES
        )
    return _cement_lime(shares, float(row["lime_rich_days"]))


def _cement_lime(shares: Proportions, days: float) -> FrostClock:
    borrowed = shares.lime < shares.cement * (1 - 1e-9)
    source = Cite("late-laying") if borrowed else LIME_NOTES
    return FrostClock(days=days, by_warmth=False, stated_for="cement-lime 1:1:6", borrowed=borrowed, source=source)


def last_laying_figure(site: SiteInput, mortar: MortarInput) -> Figure:
    """The last day to lay before the first hard frost that follows the beginning of laying.

    Args:
        site: the place, with the day laying begins (its year and hemisphere) and its frost.
        mortar: the mix, without errors.
    """
    clock = frost_clock(mortar)
    missing = _missing(site, clock)
    if missing or clock is None or site.laying_begins is None:
        return _unknown(missing)
    frost = first_frost(site, site.laying_begins)
    if frost is None:
        return _unknown(("a hard frost in this climate: by the nights' lows it does not come every year",))
    days = _last_days(clock, site, (frost.early, frost.middle, frost.late))
    if days[1] is None:
        return _unknown(("a summer warm enough for this lime to gain frost resistance",))
    return Figure(
        key=KEY,
        label=LABEL + (" (no later than laying begins: lay nothing this year)" if days[1] < site.laying_begins else ""),
        value=days[1],
        low=days[0],
        high=days[2],
        unit="date",
        sources=(frost.source, clock.source, Cite("late-laying")),
        steps=(*frost.steps, _clock_step(clock)),
    )


def _missing(site: SiteInput, clock: FrostClock | None) -> tuple[str, ...]:
    lows = site.months is not None and site.months.low is not None
    told = {
        "the mix": clock is not None,
        "the day laying begins (site.laying_begins)": site.laying_begins is not None,
        "the first hard frost, or the months' nightly lows": site.first_hard_frost is not None or lows,
        "the months' temperatures": clock is None or not clock.by_warmth or site.months is not None,
    }
    return tuple(what for what, known in told.items() if not known)


def _last_days(
    clock: FrostClock, site: SiteInput, frosts: tuple[date | None, ...]
) -> tuple[date | None, date | None, date | None]:
    early, middle, late = (None if frost is None else last_day(clock, site, frost) for frost in frosts)
    return early, middle, late


def last_day(clock: FrostClock, site: SiteInput, frost: date) -> date | None:
    """The last day from which the clock runs out before a frost; None when no day of the year before it does.

    Args:
        clock: of the mix.
        site: the place; its months are asked when the clock goes by warmth.
        frost: the first hard frost.
    """
    if not clock.by_warmth or site.months is None:
        return frost - timedelta(days=round(clock.days))
    gained, day, means = 0.0, frost, site.months.temperature
    while (frost - day).days < 300:
        gained += lime_rate(on_day(means, day))
        day -= timedelta(days=1)
        if gained >= clock.days:
            return day
    return None


def _clock_step(clock: FrostClock) -> Step:
    how = "at 19 degC, a quarter more for each 5 K colder" if clock.by_warmth else "of the calendar"
    note = "; this mix is another and no source speaks of it: taken all the same" if clock.borrowed else ""
    return Step(
        symbol="days kept from frost",
        value=clock.days,
        unit="d",
        formula=f"{how}; {clock.stated_for}{note}",
        source=clock.source,
    )


def _unknown(missing: tuple[str, ...]) -> Figure:
    return Figure(
        key=KEY, label=LABEL, value=None, unit="date", bound="unknown", missing=missing, sources=(Cite("late-laying"),)
    )
