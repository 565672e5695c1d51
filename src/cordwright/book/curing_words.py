"""How does a day of laying read: lay or not, cover until when, damp how long?"""

from collections.abc import Iterable, Mapping

from cordwright.book.lettering import Lettering, capped
from cordwright.mortar import Curing, evaporation_limit
from cordwright.reckon import figure_json

ORIGINS = {
    "typed": "weather as typed",
    "forecast": "weather by the forecast in the file",
    "normals": "weather of a usual such day, by the months",
    "none": "weather not known",
}


def damp_words(curing: Curing, lettering: Lettering) -> str:
    """Until when the work stays under damp cover, by the shorter and the longer habit."""
    if curing.damp_from is None or curing.damp_until is None:
        return "not known: temperatures are missing"
    return f"{lettering.day(curing.damp_from)} at least, better {lettering.day(curing.damp_until)}"


def frost_words(curing: Curing, lettering: Lettering) -> str:
    """Until when the work is kept from hard frost, and from which night that matters."""
    if curing.clock is None:
        return "not known: the file states no mix"
    if curing.frost_until is None:
        return "not known: the months' temperatures are missing, or too cold for this lime"
    night = (
        ""
        if curing.frost_night is None
        else f"; the first night that may bring one is {lettering.day(curing.frost_night)}"
    )
    return f"{lettering.day(curing.frost_until)}{night}"


def weather_words(curing: Curing, lettering: Lettering) -> str:
    """The day's weather and where it comes from."""
    weather = curing.weather
    if weather is None:
        return ORIGINS[curing.origin]
    said = [f"{lettering.value(weather.low, 'degC')} to {lettering.value(weather.high, 'degC')}"]
    said += [f"humidity {lettering.value(weather.humidity, '1')}"] if weather.humidity is not None else []
    said += [f"wind {lettering.value(weather.wind, 'm/s')}"] if weather.wind is not None else []
    said += [f"rain {lettering.value(weather.rain, 'm')}"] if weather.rain else []
    return f"{ORIGINS[curing.origin]}: {', '.join(said)}"


def curing_lines(curing: Curing, lettering: Lettering) -> Iterable[str]:
    """One day of laying for the terminal."""
    yield f"{lettering.value(curing.day, 'date')}: {capped(curing.lay)}"
    yield from (f"  {lettering.advice(a)}" for a in curing.reasons)
    yield weather_words(curing, lettering)
    for head, advice in (
        ("while laying", curing.construction),
        ("afterwards", curing.protection),
        ("heat", curing.heat),
    ):
        if advice is not None:
            yield f"{head}: {lettering.advice(advice)}"
    line = lettering.value(evaporation_limit(), "kg/m2h")
    yield f"evaporation: {lettering.figure(curing.evaporation)}; the line is {line}"
    yield f"damp cover until {damp_words(curing, lettering)}"
    yield f"out of hard frost until {frost_words(curing, lettering)}"
    if curing.clock is not None:
        other = "; no source speaks of this mix" if curing.clock.borrowed else ""
        yield f"  by {curing.clock.stated_for}{other}"
    for each in curing.cautions:
        yield f"caution: {each.harm} {each.do} Who decides: {each.decides}."


def curing_json(curing: Curing, lettering: Lettering) -> Mapping[str, object]:
    """One day of laying as plain values."""
    dates = {
        "damp_from": curing.damp_from,
        "damp_until": curing.damp_until,
        "frost_until": curing.frost_until,
        "frost_night": curing.frost_night,
    }
    bands = {"construction": curing.construction, "protection": curing.protection, "heat": curing.heat}
    return {
        "schema": 1,
        "day": curing.day.isoformat(),
        "lay": curing.lay,
        "reasons": [lettering.advice(a) for a in curing.reasons],
        "weather_from": curing.origin,
        **{name: None if advice is None else lettering.advice(advice) for name, advice in bands.items()},
        **{name: None if day is None else day.isoformat() for name, day in dates.items()},
        "figures": {curing.evaporation.key: figure_json(curing.evaporation)},
        "sources": [f"{c.key}: {c.where}" if c.where else c.key for c in curing.sources],
    }
