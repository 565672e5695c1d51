"""When are the logs ready, and how dry will they be on the day they are laid?"""

from collections.abc import Iterator
from datetime import date
from typing import Final

from cordwright.base import Check, Cite, Figure, Step, cite, table
from cordwright.site import MonthlyNormals
from cordwright.timber.diffusion import share_through_ends
from cordwright.timber.faces import LAYING
from cordwright.timber.forecast import Curve, Forecast
from cordwright.timber.inputs import TimberInput
from cordwright.timber.moisture import site_moisture
from cordwright.timber.shrinkage import fibre_saturation

CRANK: Final = Cite("crank-diffusion", "slab times cylinder")
STEPS: Final = Cite("duhamel", "air in monthly steps")
COEFFICIENT: Final = Cite("wood-diffusion", "not calibrated to any published drying of short log ends")
RATIO: Final = Cite("langrish-walker-1993", "along over across the grain")
WARM: Final = Cite("drying-warmth", "5280 K")
UNREAD: Final = Cite("simpson-wang-2004", "abstract only")
MONTHS: Final = Cite("owner", "site.months")
TARGET: Final = Cite("owner", "stock.laying_moisture")
WHEN: Final = Cite("owner", "stock.stems, seasoning")
START: Final = Cite("fresh-start", "from cutting and stacking")
LAYING_DAY: Final = "the day laying begins (site.laying_begins)"
SIZES: Final = ("small", "mean", "largest")
SIZE_WORDS: Final = {
    "small": "a small log end (one in ten is thinner)",
    "mean": "the mean log end",
    "largest": "the largest log end",
}


def seasoning_figures(
    timber: TimberInput, made: Forecast, normals: MonthlyNormals | None, log_end_length: float
) -> Iterator[Figure]:
    """Give the drying rate, the days on which the log ends are ready, and their moisture on the laying day.

    `timber.ready_date` is of the largest log end, so of the whole stack; `.small` and `.mean` stand beside it.

    Args:
        timber: the stock as stated.
        made: its forecast.
        normals: the site's months.
        log_end_length: the wall's [m].
    """
    yield _rate_figure(made)
    if made.curves:
        yield _ends_share(timber, made, log_end_length)
    yield from (_ready(timber, made, normals, size) for size in ("largest", "mean", "small"))
    if made.curves and timber.laying_moisture is not None:
        yield _dry_until(timber.laying_moisture, made)
    if made.curves:
        yield from (_falls_below(made, mark) for mark in table("seasoning")["laid"]["marks"])
    yield from (_at_laying(timber, made, size) for size in SIZES)
    if made.curves:
        yield _driest(made)
    if timber.seasoning.readings:
        yield _meter(timber)


def sources_of(made: Forecast) -> tuple[Cite, ...]:
    """Give what a forecast stands on, the owner's own measurements among it."""
    own = (Cite("owner", "seasoning.weighings, seasoning.readings"),) if made.points else ()
    anew = (Cite("meter-overrules", "wet where the model says dry"),) if made.stack.anew else ()
    return (MONTHS, WHEN, CRANK, STEPS, COEFFICIENT, RATIO, WARM, START, *own, *anew)


def _rate_figure(made: Forecast) -> Figure:
    rate = made.rate
    row = table("seasoning")["diffusion"]
    own = "fitted to the own weighings by least squares" if rate.points else "nothing is weighed yet: assumed"
    sources = (COEFFICIENT, RATIO, WARM, UNREAD)
    extra = (Cite("owner", "seasoning.weighings"), Cite("weighing-error"), Cite("meter-error"), Cite("ends-differ"))
    return Figure(
        key="timber.drying_rate",
        label="speed of drying over the assumed one (own weighings replace the assumption)",
        value=rate.middle,
        low=rate.low,
        high=rate.high,
        unit="1",
        sources=(*sources, *(extra if rate.points else ())),
        steps=(
            Step(
                symbol="diffusion across the grain at 20 degC",
                value=row["transverse"] * 1e9,
                unit="1e-9 m2/s",
                formula="assumed, from spruce and pine as remembered",
                source=COEFFICIENT,
            ),
            Step(symbol="along over across the grain", value=row["along"], unit="", formula="assumed", source=RATIO),
            Step(symbol="own measurements", value=float(rate.points), unit="", formula=own),
            Step(
                symbol="calibration",
                value=None,
                unit="",
                formula="to no published drying of short log ends: none was found; published regressions for whole "
                "peeled logs could not be read",
                source=UNREAD,
            ),
        ),
    )


def _ends_share(timber: TimberInput, made: Forecast, length: float) -> Figure:
    row, diameter = table("seasoning")["diffusion"], made.curve("mean").diameter
    along, across = row["transverse"] * row["along"], row["transverse"]
    bark = timber.seasoning.bark == "on"
    share = 1.0 if bark else share_through_ends(diameter, length, across=across, along=along)
    return Figure(
        key="timber.dries_through_ends",
        label="share of the water that leaves the mean log end through its two cut faces",
        value=share,
        unit="1",
        sources=(CRANK, COEFFICIENT, RATIO),
        steps=(
            Step(symbol="diameter", value=diameter, unit="m", formula="in fresh wood"),
            Step(symbol="length", value=length, unit="m", formula="typed", source=Cite("owner", "wall.log_end_length")),
            Step(symbol="side", value=None, unit="", formula="closed by the bark" if bark else "peeled"),
        ),
    )


def _needs(timber: TimberInput, made: Forecast) -> tuple[str, ...]:
    return (*((LAYING,) if timber.laying_moisture is None else ()), *made.missing)


def _unknown(key: str, label: str, unit: str, missing: tuple[str, ...], sources: tuple[Cite, ...]) -> Figure:
    return Figure(key=key, label=label, value=None, unit=unit, bound="unknown", missing=missing, sources=sources)


def _ready(timber: TimberInput, made: Forecast, normals: MonthlyNormals | None, size: str) -> Figure:
    key = "timber.ready_date" + ("" if size == "largest" else f".{size}")
    whole = " (so of the whole stack)" if size == "largest" else ""
    label = f"day on which {SIZE_WORDS[size]} is dry enough to lay{whole}"
    missing, sources = _needs(timber, made), (TARGET, *sources_of(made))
    if missing or timber.laying_moisture is None:
        return _unknown(key, label, "date", missing, sources)
    return _dated(
        key, label, made.curve(size), timber.laying_moisture, sources=sources, steps=_ready_steps(timber, made, normals)
    )


def _dated(
    key: str, label: str, curve: Curve, mark: float, *, sources: tuple[Cite, ...], steps: tuple[Step, ...]
) -> Figure:
    """A day with the fast and the slow run as its spread; a run that never gets there leaves that end open."""
    fast, middle, slow = curve.first_below(mark)
    if middle is None:
        least, most = float(curve.middle.min()), 100 * mark
        never = f"air dry enough for {most:.3g} % (the wood reaches {100 * least:.1f} % here at best)"
        return _unknown(key, label, "date", (never,), sources)
    low = middle if fast is None else min(fast, middle)
    high = None if slow is None else max(slow, middle)
    years = int(table("seasoning")["horizon"]["years"])
    open_end = (f"a latest day: one stack in ten does not reach it within {years} years",)
    return Figure(
        key=key,
        label=label,
        value=middle,
        low=low,
        high=high,
        unit="date",
        bound="exact" if high else "at_least",
        missing=() if high else open_end,
        sources=sources,
        steps=steps,
    )


def _dry_until(target: float, made: Forecast) -> Figure:
    key, label = "timber.dry_until", "day on which the largest log end, left outdoors, is damper than the target again"
    curve, sources = made.curve("largest"), (TARGET, *sources_of(made))
    day = curve.damp_again(target)
    if day is None:
        never = "a day within the forecast on which it is damper than the target again"
        return _unknown(key, label, "date", (never,), sources)
    step = Step(symbol="target at laying", value=target, unit="1", formula="middle run rises over it", source=TARGET)
    return Figure(key=key, label=label, value=day, unit="date", sources=sources, steps=(step,))


def _ready_steps(timber: TimberInput, made: Forecast, normals: MonthlyNormals | None) -> tuple[Step, ...]:
    start, site = made.stack.start, site_moisture(normals)
    assert start is not None
    assert site is not None
    how = made.stack.anew or "cut to length and stacked"
    first = made.stack.first
    return (
        Step(symbol="target at laying", value=timber.laying_moisture, unit="1", formula="typed", source=TARGET),
        Step(symbol=f"drying counts from {start.isoformat()}", value=None, unit="", formula=how, source=START),
        Step(symbol="moisture on that day", value=first[1], unit="1", formula=f"{first[0]:.0%} to {first[2]:.0%}"),
        Step(symbol="driest month's air asks for", value=min(site.months), unit="1", formula="see the months' figures"),
        Step(
            symbol="moisture",
            value=None,
            unit="",
            formula="first moisture x slab x cylinder + the air's steps, each by the same answer; spread: slow and "
            "fast tenth of the rate; rain kept off, surface at once as dry as the air",
            source=CRANK,
        ),
    )


def _falls_below(made: Forecast, mark: float) -> Figure:
    percent = f"{100 * mark:.0f}"
    return _dated(
        f"timber.falls_below_{percent}",
        f"day on which the mean log end falls below {percent} % by the forecast",
        made.curve("mean"),
        mark,
        sources=(*sources_of(made), Cite("gap-marks", "16 to 20 %")),
        steps=(
            Step(symbol="mark", value=mark, unit="1", formula="craft's own", source=Cite("gap-marks", "16 to 20 %")),
        ),
    )


def _at_laying(timber: TimberInput, made: Forecast, size: str) -> Figure:
    key, label = f"timber.moisture_at_laying.{size}", f"moisture of {SIZE_WORDS[size]} on the laying day, forecast"
    sources, missing = sources_of(made), laying_needs(timber, made)
    laying = timber.seasoning.laying
    if missing or laying is None:
        return _unknown(key, label, "1", missing, sources)
    low, middle, high = made.curve(size).at(laying)
    word = "fast, middle and slow run on that day"
    return Figure(
        key=key,
        label=label,
        value=middle,
        low=low,
        high=high,
        unit="1",
        sources=sources,
        steps=(Step(symbol=f"laying on {laying.isoformat()}", value=middle, unit="1", formula=word, source=CRANK),),
    )


def laying_needs(timber: TimberInput, made: Forecast) -> tuple[str, ...]:
    """Name what must be stated before the moisture on the laying day can be forecast; nothing when it can."""
    laying, start = timber.seasoning.laying, made.stack.start
    early = ("a laying day after the stacking",) if laying and start and laying < start else ()
    last = made.curves[0].days[-1] if made.curves else None
    late = ("a laying day within the years of the forecast",) if laying and last and laying.toordinal() > last else ()
    return (*(() if laying else (LAYING_DAY,)), *made.missing, *early, *late)


def _driest(made: Forecast) -> Figure:
    curve = made.curve("mean")
    runs = [float(run.min()) for run in (curve.fast, curve.middle, curve.slow)]
    at = date.fromordinal(int(curve.days[int(curve.middle.argmin())]))
    return Figure(
        key="timber.driest_reachable",
        label="driest the mean log end becomes outdoors within the years of the forecast",
        value=runs[1],
        low=min(runs),
        high=max(runs),
        unit="1",
        sources=sources_of(made),
        steps=(Step(symbol=f"reached about {at.isoformat()}", value=runs[1], unit="1", formula="least of the curve"),),
    )


def _meter(timber: TimberInput) -> Figure:
    last, saturation = max(timber.seasoning.readings, key=lambda r: r.date), fibre_saturation(timber)
    wet, error = last.value >= saturation, float(table("seasoning")["meter"]["error"])
    said = "a meter reading as high as this says wet and no number" if wet else "below fibre saturation: a number"
    symbol = f"read on {last.date.isoformat()}" + (f" at {last.where}" if last.where else "")
    return Figure(
        key="timber.meter_reading",
        label="moisture by the last meter reading" + (": wet" if wet else ""),
        value=saturation if wet else last.value,
        low=None if wet else max(0.0, last.value - error),
        high=None if wet else last.value + error,
        unit="1",
        bound="at_least" if wet else "exact",
        missing=("a number: above fibre saturation the meter says no more than wet",) if wet else (),
        sources=(Cite("owner", "seasoning.readings"), Cite("fibre-saturation"), Cite("meter-error")),
        steps=(Step(symbol=symbol, value=None, unit="", formula=said, source=Cite("fibre-saturation")),),
    )


def dryness_check(timber: TimberInput, made: Forecast) -> Check:
    """Hold the moisture of the largest log end on the laying day against the target.

    Args:
        timber: the stock as stated.
        made: its forecast.
    """
    reason = timber.seasoning.lay_anyway.strip()
    label = "moisture of the largest log end on the laying day against the target"
    missing = tuple(dict.fromkeys((*_needs(timber, made), *laying_needs(timber, made))))
    laying, low, middle, high = timber.seasoning.laying, None, None, None
    if not missing and laying is not None:
        low, middle, high = (round(m, 3) for m in made.curve("largest").at(laying))  # told to a tenth of a point
    step = Step(
        symbol="laid all the same",
        value=None,
        unit="",
        formula=f"the owner's reason: {reason}",
        source=Cite("owner", "seasoning.lay_anyway"),
    )
    return Check(
        key="timber.dryness_check",
        label=label + (" (laid all the same, by the owner's decision)" if reason else ""),
        demand=middle,
        low=low,
        high=high,
        capacity=timber.laying_moisture,
        unit="1",
        sources=(TARGET, *sources_of(made)),
        steps=(step,) if reason else (),
        not_judged=f"not known: {', '.join(missing)}" if missing else "",
    )


def overdry_check(timber: TimberInput, normals: MonthlyNormals | None) -> Check:
    """Hold the moisture at laying against the driest month: wood drier than any air here will swell and push.

    Args:
        timber: the stock as stated.
        normals: the site's months.
    """
    site = site_moisture(normals)
    missing = (*((LAYING,) if timber.laying_moisture is None else ()), *(() if site else ("site.months",)))
    return Check(
        key="timber.overdry_check",
        label="moisture at laying against the driest month outdoors (over-dry wood swells and pushes the wall)",
        demand=min(site.months) if site else None,
        capacity=timber.laying_moisture,
        unit="1",
        sources=(TARGET, MONTHS, cite("simpson-1998-emc: driest month")),
        not_judged=f"not known: {', '.join(missing)}" if missing else "",
    )
