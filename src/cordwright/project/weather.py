"""What did the owner type of one day's weather, at the command line?"""

from datetime import date

from cordwright.base import Problem
from cordwright.project.faults import FieldFault
from cordwright.project.months import read_temperature
from cordwright.project.quantity import parse_quantity, parse_share
from cordwright.site.climate import DayWeather

FIELDS = ("low", "high", "humidity", "wind", "rain")


def read_weather(day: date, typed: dict[str, str]) -> DayWeather | tuple[Problem, ...] | None:
    """Read a day's weather typed word by word; None when nothing was typed, problems when a word cannot be taken.

    Args:
        day: which day.
        typed: the words under `low`, `high`, `humidity`, `wind`, `rain`; empty ones are unknown.
    """
    given = {name: words for name, words in typed.items() if words}
    if not given:
        return None
    values: dict[str, float] = {}
    problems: list[Problem] = []
    for name, words in given.items():
        try:
            values[name] = _read(name, words)
        except FieldFault as fault:
            problems.append(Problem(field=f"--{name}", message=fault.message, hint=fault.hint, where="command line"))
    problems += _incomplete(given, values)
    if problems:
        return tuple(problems)
    low, high = values.pop("low"), values.pop("high")
    return DayWeather(date=day, low=low, high=high, **values)


def _read(name: str, words: str) -> float:
    if name in ("low", "high"):
        return read_temperature(words)
    if name == "humidity":
        return parse_share(words)
    return parse_quantity(words, "speed" if name == "wind" else "length")


def _incomplete(given: dict[str, str], values: dict[str, float]) -> list[Problem]:
    missing = [name for name in ("low", "high") if name not in given]
    if missing:
        hint = 'write both, for example --low "6 degC" --high "17 degC"'
        return [Problem(field=f"--{missing[0]}", message="this is missing", hint=hint, where="command line")]
    if values.keys() >= {"low", "high"} and values["low"] > values["high"]:
        message = f"low {values['low']:.1f} degC is over high {values['high']:.1f} degC"
        return [Problem(field="--low", message=message, hint="exchange them", where="command line")]
    return []
