"""When are the logs ready, in a sentence first and then in rows? For the command line and for the book alike."""

from collections.abc import Iterator
from datetime import date
from typing import Final

from cordwright.base import Check, Figure
from cordwright.base.units import INCH
from cordwright.book.drying_drawing import Marks
from cordwright.book.formats import NB, Units, show_check, show_date, show_figure, show_missing, show_number, show_value
from cordwright.case import Project
from cordwright.reckon import Reckoning
from cordwright.timber import Forecast, SeasoningInput
from cordwright.timber.shrinkage import fibre_saturation
from cordwright.timber.stacks import wet_readings

SIZES: Final = ("small", "mean", "largest")
MONTHS: Final = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
LAID: Final = ("26", "20", "16", "14")
MODEL_WORDS: Final = (
    "The forecast is a model: water moves by diffusion in a short round log, faster along the grain than across, "
    "against the mean air of each month. It is calibrated to no published drying of short log ends, because none was "
    "found; its spread is wide until you weigh. Weigh a marked end every month and it learns from your stack.",
    "Not reckoned: rain on the stack, sun, wind, ice in the wood, and how far one wood differs from another.",
)
GAP_WORDS: Final = (
    "Low: a main check has opened and only the radius still shrinks. Leakage goes with the cube of the gap; a quarter "
    "of the rings open right through and 4 Pa on the wall are assumed."
)
PRACTICE_WORDS: Final = (
    "Common practice, no source: peeled, the top of the stack covered and both ends open, at least one year and better "
    "two."
)


def percent(value: float, locale: str) -> str:
    """A moisture in percent with one decimal: a meter shows no more."""
    return f"{show_number(100 * value, 1, locale)}{NB}%"


def percent_spread(figure: Figure, locale: str) -> str:
    """A moisture with its spread; what is missing where it is unknown."""
    if not isinstance(figure.value, float):
        return "not known"
    ends = [percent(v, locale) for v in (figure.low, figure.high) if isinstance(v, float)]
    return percent(figure.value, locale) + (f" ({' to '.join(ends)})" if len(ends) == 2 else "")


def gap_words(figure: Figure, units: Units, locale: str) -> str:
    """A gap with its spread, in tenths of a millimetre or hundredths of an inch: a feeler gauge shows no more."""
    values = [v for v in (figure.value, figure.low, figure.high) if isinstance(v, float)]
    if not values:
        return "not known"
    size, places, sign = (INCH, 3, "in") if units == "imperial" else (1e-3, 1, "mm")
    shown = [show_number(v / size, places, locale) for v in values]
    spread = f" ({shown[1]} to {shown[2]})" if len(shown) == 3 and shown[1] != shown[2] else ""
    return f"{shown[0]}{NB}{sign}{spread}"


def answer(project: Project, reckoning: Reckoning) -> tuple[str, ...]:
    """The answer in sentences, the first one first."""
    made, timber = reckoning.timber.drying, project.timber
    if made is None:
        return ("There is no wood in the file yet.",)
    reason = timber.seasoning.lay_anyway.strip()
    told = [*_wet(project, reckoning), *_laying(project, reckoning)]
    if reason:
        told.insert(1, f"Laid all the same by the owner's decision: {reason}")
    if made.stack.anew:
        told.append(f"{made.stack.anew[:1].upper()}{made.stack.anew[1:]}.")
    return tuple(told)


def _wet(project: Project, reckoning: Reckoning) -> Iterator[str]:
    """A last reading that says wet outweighs every forecast: what laying them now would mean, and when they pass."""
    timber = project.timber
    last = max(timber.seasoning.readings, key=lambda r: r.date, default=None)
    if last is not None and last.value >= fibre_saturation(timber):
        day = show_date(last.date, project.locale)
        limit = show_number(100 * fibre_saturation(timber), 0, project.locale)
        yield (
            f"Not ready: the meter said wet on {day} (it showed {show_number(100 * last.value, 0, project.locale)} %, "
            f"and above about {limit} % that is no number)."
        )
        wood, units = reckoning.timber, project.units
        gap = gap_words(wood.figure("timber.gap_laid_26"), units, project.locale)
        air = _changes(wood.figure("timber.leakage_laid_26"), project.locale)
        yield f"Laid at 26 % or wetter, the gap round the mean log end becomes {gap}; air changes an hour: {air}."
        falling = [f for f in wood.figures if f.key.startswith("timber.falls_below_")]
        for figure in falling:
            yield f"{figure.label[:1].upper()}{figure.label[1:]}: {show_figure(figure, units, project.locale)}."


def _laying(project: Project, reckoning: Reckoning) -> Iterator[str]:
    locale, laying = project.locale, project.timber.seasoning.laying
    check = next(c for c in reckoning.timber.checks if c.key == "timber.dryness_check")
    ready = reckoning.timber.figure("timber.ready_date")
    if check.demand is not None and check.capacity is not None and laying is not None:
        word = {"short": "Not dry enough", "close": "Close", "holds": "Dry enough by the forecast"}[check.verdict]
        spread = f"{percent(check.low or 0.0, locale)} to {percent(check.high or 0.0, locale)}"
        yield (
            f"{word} on the laying day, {show_date(laying, locale)}: the largest log end will be at "
            f"{percent(check.demand, locale)} ({spread}), the target is {percent(check.capacity, locale)}."
        )
    if isinstance(ready.value, date):
        made = reckoning.timber.drying
        at_once = made is not None and ready.value == made.stack.start
        day = show_date(ready.value, locale)
        yield f"The whole stack is dry enough {f'already on {day}' if at_once else _about(ready, project)}."
        until = reckoning.timber.figure("timber.dry_until")
        if isinstance(until.value, date):
            yield f"Left outdoors it grows damper than the target again about {show_date(until.value, locale)}."
    else:
        yield f"When the stack is dry enough is {show_figure(ready, project.units, locale)}."


def _about(figure: Figure, project: Project) -> str:
    """A day with the fast and the slow tenth of stacks, in words."""
    low, middle, high = (
        show_date(v, project.locale) if isinstance(v, date) else "" for v in (figure.low, figure.value, figure.high)
    )
    latest = f"not before {high}" if high else "not within four years"
    return f"about {middle} (one stack in ten by {low}, one in ten {latest})"


def _days(figure: Figure, project: Project) -> str:
    """A day with its spread, an open end said in words."""
    low, middle, high = (
        show_date(v, project.locale) if isinstance(v, date) else "" for v in (figure.low, figure.value, figure.high)
    )
    return f"{middle} ({low} to {high or 'beyond four years'})"


def marks_of(project: Project, reckoning: Reckoning) -> Marks:
    """What stands on the chart besides the curves."""
    made, timber, locale = reckoning.timber.drying, project.timber, project.locale
    assert made is not None
    target, laying = timber.laying_moisture, timber.seasoning.laying
    return Marks(
        target=target,
        target_words="" if target is None else f"target {percent(target, locale)}",
        laying=laying,
        laying_words="" if laying is None else f"laying {show_date(laying, locale)}",
        size_words={c.name: f"{c.name} {show_value(c.diameter, 'm', project.units, locale)}" for c in made.curves},
        ready={c.name: (None, None, None) if target is None else c.first_below(target) for c in made.curves},
        wet=tuple(r.date for r in wet_readings(timber)),
    )


def month_rows(reckoning: Reckoning, locale: str) -> tuple[tuple[str, str], ...]:
    """Each month's name and the moisture its air asks for; nothing where the air is not stated."""
    known = {f.key: f for f in reckoning.timber.figures}
    keys = [(m, f"timber.equilibrium_moisture.{m}") for m in MONTHS]
    return tuple((m.capitalize(), percent_bare(known[key], locale)) for m, key in keys if key in known)


def percent_bare(figure: Figure, locale: str) -> str:
    """A moisture in percent without its spread."""
    assert isinstance(figure.value, float)
    return percent(figure.value, locale)


def gap_rows(project: Project, reckoning: Reckoning) -> tuple[tuple[str, str, str], ...]:
    """Laid at, gap round the mean log end, air changes an hour."""
    wood, locale = reckoning.timber, project.locale
    return tuple(
        (
            f"{laid} %",
            gap_words(wood.figure(f"timber.gap_laid_{laid}"), project.units, locale),
            _changes(wood.figure(f"timber.leakage_laid_{laid}"), locale),
        )
        for laid in LAID
    )


def gaps_unknown(reckoning: Reckoning) -> str:
    """Why the gaps have no number; empty where they have one."""
    gap = reckoning.timber.figure(f"timber.gap_laid_{LAID[0]}")
    return "" if gap.value is not None else show_missing(gap.missing)


def _changes(figure: Figure, locale: str) -> str:
    values = [v for v in (figure.value, figure.low, figure.high) if isinstance(v, float)]
    if not values:
        return "not known"
    shown = [show_number(v, 1, locale) for v in values]
    return shown[0] + (f" ({shown[1]} to {shown[2]})" if len(shown) == 3 else "")


def size_rows(project: Project, reckoning: Reckoning) -> tuple[tuple[str, str, str, str], ...]:
    """Each size: its diameter in fresh wood, its moisture on the laying day, the day it is dry enough."""
    made, timber = reckoning.timber.drying, reckoning.timber
    assert made is not None
    rows = []
    for curve in made.curves:
        figure = timber.figure("timber.ready_date" + ("" if curve.name == "largest" else f".{curve.name}"))
        known = isinstance(figure.value, date)
        rows.append(
            (
                curve.name,
                show_value(curve.diameter, "m", project.units, project.locale),
                percent_spread(timber.figure(f"timber.moisture_at_laying.{curve.name}"), project.locale),
                _days(figure, project) if known else show_figure(figure, project.units, project.locale),
            )
        )
    return tuple(rows)


def measured_lines(seasoning: SeasoningInput, made: Forecast, locale: str) -> Iterator[str]:
    """What was measured, and what it did to the forecast."""
    rate = made.rate
    if not rate.points:
        yield "Nothing was weighed yet: the speed of drying is assumed."
        return
    shown = [show_number(100 * v, 0, locale) for v in (rate.middle, rate.low, rate.high)]
    counted = f"{len(seasoning.weighings)} weighings and {len(seasoning.readings)} meter readings"
    yield f"From {counted}: this stack dries at {shown[0]} % of the assumed speed ({shown[1]} to {shown[2]} %)."


def check_lines(checks: tuple[Check, ...], units: Units, locale: str) -> Iterator[str]:
    """The checks of stacking, over-dry wood and treatment, a line each."""
    wanted = ("timber.stacking_check", "timber.overdry_check", "timber.treatment")
    for check in (c for c in checks if c.key.startswith(wanted)):
        yield f"{check.label[:1].upper()}{check.label[1:]}: {show_check(check, units, locale)}"
