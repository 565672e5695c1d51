"""Lay today or not, and how long is it kept damp, shaded and out of the frost?"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from datetime import date
from typing import Final, Literal

from cordwright.base import Caution, Cite, Figure, caution, table
from cordwright.mortar.advice import Advice
from cordwright.mortar.evaporation import evaporation_figure, evaporation_limit, unknown_evaporation
from cordwright.mortar.frost import FrostClock, frost_clock, last_laying_figure
from cordwright.mortar.inputs import MortarInput
from cordwright.mortar.maturity import days_at_reference, ripe_on
from cordwright.mortar.pats import deciding_pat, pat_words
from cordwright.mortar.weather_bands import construction_band, hot_band, protection_band
from cordwright.site import DayWeather, SiteInput, frost_chance, on_day, saturation_pressure

Lay = Literal["lay", "lay, and keep the night off it", "do not lay", "not judged"]
Origin = Literal["typed", "forecast", "normals", "none"]
GUIDES: Final = (
    Cite("lime-winter-notes", "not below 5 C"),
    Cite("cold-masonry-2004", "fig 5-33"),
    Cite("hot-masonry-2004", "bands"),
    Cite("damp-cloth", "3 to 7 days"),
    Cite("damp-by-maturity"),
    Cite("day-vapour"),
    Cite("months-between"),
)
LIMIT_OF_NORMALS: Final = (
    "a monthly mean says nothing about the worst night: read the forecast, and the thermometer at the wall"
)
RISK: Final = 0.01
"""Chance of hard frost in one night [1] from which it counts as one that may bring it (assumption `night-spread`)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Curing:
    """What a day of laying asks for. `origin` tells where its weather comes from.

    `reasons` stand behind `lay`. `damp_from`, `damp_until`: last day under damp cover by the shorter and the longer
    habit; `frost_until`: the day until which it is kept from hard frost; `frost_night`: the first night after laying,
    before that day, that may bring one, None where no record of nightly lows tells or none is likely.
    """

    day: date
    weather: DayWeather | None
    origin: Origin
    lay: Lay
    reasons: tuple[Advice, ...]
    construction: Advice | None
    protection: Advice | None
    heat: Advice | None
    evaporation: Figure
    damp_from: date | None
    damp_until: date | None
    clock: FrostClock | None
    frost_until: date | None
    frost_night: date | None
    cautions: tuple[Caution, ...]
    sources: tuple[Cite, ...] = GUIDES


def reckon_curing(site: SiteInput, mortar: MortarInput, day: date, typed: DayWeather | None = None) -> Curing:
    """Judge one day of laying.

    Args:
        site: the place, with its forecast and its months.
        mortar: the mix, without errors, with its pats.
        day: the day of laying.
        typed: that day's weather as the owner typed it, before forecast and months.
    """
    weather, origin = _weather(site, day, typed)
    warmth = _warmth(site, weather)
    clock = frost_clock(mortar)
    until = None if clock is None or (clock.by_warmth and site.months is None) else clock.until(day, warmth)
    evaporation = _evaporation(weather)
    lay, reasons = _lay(site, mortar, weather, day, origin)
    damp = (None, None) if weather is None and site.months is None else _damp(day, warmth)
    return Curing(
        day=day,
        weather=weather,
        origin=origin,
        lay=lay,
        reasons=(*reasons, *_drying(evaporation)),
        construction=None if weather is None else construction_band(weather.high if weather.high < 5 else weather.mean),
        protection=None if weather is None else protection_band(weather.low, weather.high),
        heat=None if weather is None else hot_band(weather.high, weather.wind),
        evaporation=evaporation,
        damp_from=damp[0],
        damp_until=damp[1],
        clock=clock,
        frost_until=until,
        frost_night=_frost_night(site, day, until),
        cautions=(caution("frost-on-work"), caution("alkali-burns")),
    )


def _weather(site: SiteInput, day: date, typed: DayWeather | None) -> tuple[DayWeather | None, Origin]:
    if typed is not None:
        return typed, "typed"
    for ahead in site.forecast:
        if ahead.date == day:
            return ahead, "forecast"
    usual = usual_day(site, day)
    return usual, "none" if usual is None else "normals"


def usual_day(site: SiteInput, day: date) -> DayWeather | None:
    """A day as the months have it; None without nightly lows and daily highs, for a mean hides both.

    Args:
        site: the place.
        day: any day.

    Sources: the owner's months, along straight lines between their middles (`months-between`).
    """
    months = site.months
    if months is None or months.low is None or months.high is None:
        return None
    return DayWeather(
        date=day,
        low=on_day(months.low, day),
        high=on_day(months.high, day),
        humidity=None if months.humidity is None else on_day(months.humidity, day),
        wind=None if months.wind is None else on_day(months.wind, day),
    )


def _warmth(site: SiteInput, weather: DayWeather | None) -> Callable[[date], float]:
    """Mean temperature of any day: the forecast's, else the months', else that of the day of laying [degC]."""
    known = {ahead.date: ahead.mean for ahead in site.forecast}
    months = site.months

    def mean(day: date) -> float:
        if day in known:
            return known[day]
        if months is not None:
            return on_day(months.temperature, day)
        assert weather is not None
        return weather.mean

    return mean


def _damp(day: date, warmth: Callable[[date], float]) -> tuple[date | None, date | None]:
    """Last day under damp cover: three and seven days at 20 degC, longer where it is colder."""
    row = table("curing")["damp"]

    def gain(at: date) -> float:
        return min(1.0, days_at_reference(warmth(at), 1.0))

    return ripe_on(day, float(row["least_days"]), gain), ripe_on(day, float(row["most_days"]), gain)


def _evaporation(weather: DayWeather | None) -> Figure:
    if weather is None:
        return unknown_evaporation(("the day's weather",))
    return evaporation_figure(weather.high, warm_hour_humidity(weather), weather.wind)


def warm_hour_humidity(weather: DayWeather) -> float | None:
    """Relative humidity of a day's warmest hour, when the air holds the same water all day [1]; None when unknown.

    Args:
        weather: the day, with the mean of its relative humidity.

    Sources: assumption (`day-vapour`).
    """
    if weather.humidity is None:
        return None
    return weather.humidity * saturation_pressure(weather.mean) / saturation_pressure(weather.high)


def _drying(evaporation: Figure) -> Iterator[Advice]:
    if isinstance(evaporation.high, float) and evaporation.high > evaporation_limit():
        sure = isinstance(evaporation.value, float) and evaporation.value > evaporation_limit()
        how = "dries" if sure else "may dry"
        words = f"a fresh face {how} faster than {{}}: shade, a wind break, mist, cover at once"
        yield Advice(words=words, amounts=((evaporation_limit(), "kg/m2h"),))


def _lay(
    site: SiteInput, mortar: MortarInput, weather: DayWeather | None, day: date, origin: Origin
) -> tuple[Lay, tuple[Advice, ...]]:
    against = (*_mix_reasons(mortar), *_season_reasons(site, mortar, day))
    least = float(table("curing")["frost"]["least_laying_C"])
    if weather is None:
        why = "neither a forecast for this day nor nightly lows and daily highs of its month are known"
        return ("do not lay" if against else "not judged"), (*against, Advice(words=why))
    if weather.high < least:
        against = (*against, Advice(words="the air stays under {}: the set nearly stops", amounts=((least, "degC"),)))
    if weather.low < 0:
        against = (*against, Advice(words="frost tonight, {}", amounts=((weather.low, "degC"),)))
    if against:
        return "do not lay", against
    cold = _cold_nights(site, weather, day, least)
    usual = (Advice(words=LIMIT_OF_NORMALS),) if origin == "normals" else ()
    return ("lay, and keep the night off it" if cold else "lay"), (*cold, *usual)


def _cold_nights(site: SiteInput, weather: DayWeather, day: date, least: float) -> tuple[Advice, ...]:
    nights = {day: weather.low, **{a.date: a.low for a in site.forecast if 0 < (a.date - day).days <= 3}}
    if min(nights.values()) >= least:
        return ()
    hours = float(table("curing")["frost"]["one_freeze_hours"])
    words = (
        "a night of {}: cover it warm and keep it at {} or more; cement mortar held there for {} and no longer wet has "
        "stood one freezing, and of lime no source says so"
    )
    return (Advice(words=words, amounts=((min(nights.values()), "degC"), (least, "degC"), (hours, "h"))),)


def _mix_reasons(mortar: MortarInput) -> tuple[Advice, ...]:
    pat = deciding_pat(mortar)
    if pat is None or pat.result == "hard":
        return ()
    return (Advice(words=f"{pat_words(pat)}: lay nothing with this mix"),)


def _season_reasons(site: SiteInput, mortar: MortarInput, day: date) -> tuple[Advice, ...]:
    last = last_laying_figure(site, mortar).value
    if not isinstance(last, date) or site.laying_begins is None:
        return ()
    if not 0 < (day - last).days < 240:
        return ()
    words = "the last laying day was {}: this would not be frost-hard in time"
    return (Advice(words=words, amounts=((last, "date"),)),)


def _frost_night(site: SiteInput, day: date, until: date | None) -> date | None:
    """The first night before the clock has run out that may bring hard frost, by the months' nightly lows."""
    if until is None or site.months is None or site.months.low is None:
        return None
    lows = site.months.low
    days = (date.fromordinal(n) for n in range(day.toordinal(), until.toordinal() + 1))
    return next((d for d in days if frost_chance(on_day(lows, d)) > RISK), None)


def laying_months(site: SiteInput) -> tuple[int, ...]:
    """The months warm enough for laying on a usual day, in the order the season has them here; 1 is January.

    A year begins with the month after its coldest one, so that a season across New Year stands in one piece.

    Args:
        site: the place with its months; none without them.

    Sources: lime suppliers' notes: nothing is laid under 5 degC.
    """
    if site.months is None:
        return ()
    means = site.months.temperature
    coldest = min(range(12), key=lambda m: means[m])
    order = [(coldest + 1 + n) % 12 for n in range(12)]
    least = float(table("curing")["frost"]["least_laying_C"])
    return tuple(m + 1 for m in order if means[m] >= least)


def month_days(site: SiteInput, around: date) -> tuple[date, ...]:
    """The middle day of each laying month, in the season's order and in the years it takes.

    Args:
        site: the place with its months.
        around: a day of the season; the year it belongs to gives the dates.
    """
    months = laying_months(site)
    if not months:
        return ()
    first = months[0]
    year = around.year if around.month >= first else around.year - 1
    return tuple(date(year if m >= first else year + 1, m, 15) for m in months)


def curing_by_month(site: SiteInput, mortar: MortarInput, around: date) -> tuple[Curing, ...]:
    """What laying in the middle of each laying month asks for, by the months alone.

    Args:
        site: the place with its months.
        mortar: the mix, without errors.
        around: a day of the season meant.
    """
    usual = replace(site, forecast=())
    return tuple(reckon_curing(usual, mortar, day) for day in month_days(site, around))
