"""How cold does it get, how often, and from when to when, year after year?

Means of months say what is usual; a footing and a stove must meet the winter that is not. These figures come from some
hundred generated winters.
"""

from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import Final

import numpy as np
from numpy.typing import NDArray

from cordwright.base import Cite, Figure, Step
from cordwright.site.first_frost import HARD_FROST
from cordwright.site.inputs import SiteInput
from cordwright.site.measured_cold import INDEX, freezing_index
from cordwright.site.site_weather import wanting_for_days
from cordwright.site.weather import GENERATOR, SEED, WINTERS, WeatherModel
from cordwright.site.weather_fit import NIGHT_SPREAD, SPREAD_SOURCE, Assumed, fit_normals
from cordwright.site.year_curve import LEAP_DAY

Floats = NDArray[np.float64]

DESIGN_YEARS: Final = 30
ANY_YEAR: Final = date(2001, 7, 1)
CHANCES: Final = (0.1, 0.5, 0.9)
COLDEST_OF: Final = Cite("coldest-of-thirty", "chance that none of thirty winters is colder")
KEYS: Final = (
    ("site.design_freezing_index", "freezing index of the coldest winter in thirty, from generated winters", "K.d"),
    ("site.design_cold", "mean of the coldest day of a winter, from generated winters", "degC"),
    ("site.frost_nights", "nights under 0 °C in a year, from generated winters", ""),
    ("site.first_frost_night", "first night under -3 °C after the laying season, from generated winters", "date"),
    ("site.last_frost_night", "last night under -3 °C before the laying season, from generated winters", "date"),
)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Winters:
    """Generated years from midsummer to midsummer: `mean` and `low` of each day (winters, days) [degC]."""

    first: date
    mean: Floats
    low: Floats
    sources: tuple[Cite, ...]
    steps: tuple[Step, ...]


def generated_figures(site: SiteInput, model: WeatherModel | None) -> tuple[Figure, ...]:
    """Figures of generated winters, unknown where no days can be generated; none where nothing is told of the weather.

    Args:
        site: the place.
        model: its generator, from `weather_model`.
    """
    if site.months is None and site.weather is None:
        return ()
    if model is None:
        return tuple(_unknown(i, wanting_for_days(site), (GENERATOR,)) for i in range(len(KEYS)))
    figures = _figures_of(site, model)
    for spread in _other_spreads(site, model):
        figures = tuple(map(_widened, figures, _figures_of(site, spread)))
    return figures


def _figures_of(site: SiteInput, model: WeatherModel) -> tuple[Figure, ...]:
    made = winters(model, site.laying_begins or ANY_YEAR)
    return (_design_index(made), _coldest_day(made), _frost_nights(made), *_frost_dates(made, site.laying_begins))


def _other_spreads(site: SiteInput, model: WeatherModel) -> tuple[WeatherModel, ...]:
    """Where the spread of nights is assumed, the site as it would be with the least and the greatest assumed one."""
    if site.months is None or model.sources.get("spread") != SPREAD_SOURCE:
        return ()
    least, _, greatest = NIGHT_SPREAD
    return tuple(fit_normals(site.months, Assumed(night_spread=spread)) for spread in (least, greatest))


def _widened(figure: Figure, other: Figure) -> Figure:
    """A figure whose range holds another's too; one of them unknown leaves the end it does not know open."""
    if figure.value is None or other.value is None:
        return figure
    lows, highs = (figure.low, other.low, other.value), (figure.high, other.high, other.value)
    low = None if None in lows else min(lows)  # type: ignore[type-var]
    high = None if None in highs else max(highs)  # type: ignore[type-var]
    return replace(figure, low=low, high=high)


def winters(model: WeatherModel, near: date) -> Winters:
    """Generate winters, each from the middle of summer on.

    Args:
        model: of the site.
        near: the summers begin at the one nearest to this day.
    """
    begin = midsummer(model, near)
    made = model.days(SEED, range(WINTERS), begin, 365)
    told = dict.fromkeys(model.sources[name] for name in ("mean", "spread", "slow") if name in model.sources)
    return Winters(
        first=begin,
        mean=(made.low + made.high) / 2,
        low=made.low,
        sources=(GENERATOR, *told),
        steps=(
            Step(symbol="generated winters", value=float(WINTERS), unit="", source=GENERATOR),
            Step(
                symbol="spread of single nights, over the year",
                value=float(model.spread[:, :, 1].mean()),
                unit="K",
                formula="; ".join(model.notes),
                source=model.sources.get("spread"),
            ),
        ),
    )


def midsummer(model: WeatherModel, near: date) -> date:
    """The middle of the mildest time of the year that lies nearest to a day."""
    usual = model.mean.mean(axis=(1, 2))
    month = np.ones(31) / 31
    smooth = np.convolve(np.concatenate([usual[-15:], usual, usual[:15]]), month, mode="valid")
    smooth[LEAP_DAY] = -np.inf
    warmest = date(2000, 1, 1) + timedelta(days=int(np.argmax(smooth)))
    years = (near.year - 1, near.year, near.year + 1)
    return min((date(y, warmest.month, warmest.day) for y in years), key=lambda d: abs(d - near))


def _unknown(which: int, missing: tuple[str, ...], sources: tuple[Cite, ...]) -> Figure:
    key, label, unit = KEYS[which]
    return Figure(key=key, label=label, value=None, unit=unit, bound="unknown", missing=missing, sources=sources)


def _figure(which: int, of: tuple[float, float, float], steps: tuple[Step, ...], sources: tuple[Cite, ...]) -> Figure:
    key, label, unit = KEYS[which]
    low, value, high = of
    return Figure(key=key, label=label, value=value, unit=unit, low=low, high=high, sources=sources, steps=steps)


def coldest_of(values: Floats, years: int = DESIGN_YEARS) -> tuple[float, float, float]:
    """The greatest of some years: with a chance of 10, 50 and 90 % it is no greater than these, in the values' unit.

    Args:
        values: of single years, any number.
        years: looked at together.

    Sources: closed form (`coldest-of-thirty`): the chance that all stay under x is that of one, to their number.
    """
    low, middle, high = np.quantile(values, [chance ** (1.0 / years) for chance in CHANCES])
    return float(low), float(middle), float(high)


def _design_index(made: Winters) -> Figure:
    index = freezing_index(made.mean)
    steps = (
        *made.steps,
        Step(symbol="usual winter", value=float(np.median(index)), unit="K.d", formula="median", source=INDEX),
        Step(
            symbol="coldest of thirty",
            value=coldest_of(index)[1],
            unit="K.d",
            formula="in half of all runs of thirty winters no winter is colder",
            source=COLDEST_OF,
        ),
    )
    return _figure(0, coldest_of(index), steps, (*made.sources, INDEX, COLDEST_OF))


def _thirds(values: Floats) -> tuple[float, float, float]:
    low, middle, high = np.quantile(values, CHANCES)
    return float(low), float(middle), float(high)


def _coldest_day(made: Winters) -> Figure:
    coldest = made.mean.min(axis=1)
    low, middle, high = _thirds(coldest)
    steps = (
        *made.steps,
        Step(symbol="one winter in ten", value=low, unit="degC", formula="has a day colder than this"),
        Step(symbol="one winter in two", value=middle, unit="degC", formula="has a day colder than this"),
    )
    return _figure(1, (low, middle, high), steps, made.sources)


def _frost_nights(made: Winters) -> Figure:
    nights = (made.low < 0.0).sum(axis=1).astype(np.float64)
    steps = (*made.steps, Step(symbol="mean of the years", value=float(nights.mean()), unit=""))
    return _figure(2, _thirds(np.round(nights)), steps, made.sources)


def _frost_dates(made: Winters, laying: date | None) -> tuple[Figure, ...]:
    """First and last hard frost round the laying season; without the day laying begins there is no year to name."""
    if laying is None:
        return tuple(_unknown(i, ("site.laying_begins",), made.sources) for i in (3, 4))
    hard = made.low < HARD_FROST
    first = _dated(3, made, np.where(hard.any(axis=1), np.argmax(hard, axis=1), np.nan), made.first)
    last = np.where(hard.any(axis=1), hard.shape[1] - 1.0 - np.argmax(hard[:, ::-1], axis=1), np.nan)
    return first, _dated(4, made, last, made.first.replace(year=made.first.year - 1))


def _dated(which: int, made: Winters, day: Floats, begin: date) -> Figure:
    """A date that half the winters have reached; winters without frost never do."""
    late = which == 3
    known = np.where(np.isnan(day), np.inf if late else -np.inf, day)
    at = [float(np.quantile(known, chance, method="nearest")) for chance in CHANCES]
    if not np.isfinite(at[1]):
        return _unknown(which, ("a night under -3 degC in at least half of the winters",), made.sources)
    dates = [begin + timedelta(days=round(n)) if np.isfinite(n) else None for n in at]
    none = Step(symbol="winters without", value=float(np.isnan(day).mean()), unit="1", formula="no night under -3 degC")
    key, label, unit = KEYS[which]
    return Figure(
        key=key,
        label=label,
        value=dates[1],
        unit=unit,
        low=dates[0],
        high=dates[2],
        sources=made.sources,
        steps=(*made.steps, none),
    )
