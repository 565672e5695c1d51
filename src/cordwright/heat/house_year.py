"""How does the year of hours go in this house: the stove's heat, the cold morning, the hot summer?"""

import math
from dataclasses import replace
from typing import Any, Final

import numpy as np

from cordwright.base import Cite, OutOfRangeError, table
from cordwright.heat.house import total
from cordwright.heat.house_inputs import HouseInput
from cordwright.heat.house_results import HouseYear
from cordwright.heat.house_shell import (
    Band,
    losses,
)
from cordwright.heat.sunlight import Floats
from cordwright.heat.year_elements import areal_capacity
from cordwright.heat.year_run import Hours, Person, Shell, StoveBody, Vents, YearRun, run_year
from cordwright.heat.year_shell import Case, shell_of, sun_through
from cordwright.heat.year_weather import Weather, by_month, days_in_use, weather_of
from cordwright.site.weather_year import WeatherYear

SUN_SOURCES: Final = (
    Cite("perez-1990"),
    Cite("kasten-young-1989"),
    Cite("spencer-1971", "sun outside the atmosphere"),
    Cite("albedo-memory"),
    Cite("glass-by-angle"),
    Cite("reveal-shade"),
    Cite("parallel-rectangles"),
    Cite("reveal-light"),
)
"""What stands behind the sun on walls and through panes."""
ROOM_SOURCES: Final = (
    Cite("iso-13786-memory"),
    Cite("iso-13790-memory", "air and faces"),
    Cite("iso-52016-memory", "ground"),
    Cite("round-cell"),
    Cite("mean-layers"),
    Cite("leakage-area"),
    Cite("days-in-a-row"),
    Cite("unknown-wind"),
)
"""What stands behind room, walls and use."""
DRAWN_SOURCES: Final = (Cite("middle-year"), Cite("bristow-campbell-1984", "clearness"), Cite("erbs-1982"))
"""What stands behind the sun of a year that is drawn from the months."""


def run_house(case: Case, year: WeatherYear) -> HouseYear:
    """Run the year of a house three times, losing little, as usual and much.

    Args:
        case: all it stands on; every way out for heat is known.
        year: hours of weather.

    Raises:
        OutOfRangeError: a year of weather with too many gaps.

    Sources: `two-port-galerkin`; the stove by `sensible-fire`.
    """
    weather = weather_of(year)
    parts, missing = losses(case.house, case.plan, case.built, case.wall, case.leakage)
    if missing:
        raise OutOfRangeError("a year is not run while this is unknown: " + ", ".join(missing))
    loss = total(parts)
    shell = shell_of(case, parts, weather)
    hours = hours_of(case, weather)
    body, person = stove_of(case, loss, shell)
    runs = [run_year(_eased(shell, x - loss[1]), hours, body, replace(person, loss=x)) for x in loss]
    shut = run_year(replace(shell, vents=Vents()), hours, body, person) if shell.vents.conductance else runs[1]
    return _summary(case, weather, hours, runs, shut)


def _eased(shell: Shell, by: float) -> Shell:
    """The shell with another loss per kelvin, put where heat is lost at once [W/K]."""
    return replace(shell, past=max(0.0, shell.past + by))


def hours_of(case: Case, weather: Weather) -> Hours:
    """Weather, sun and use in each hour.

    Args:
        case: all it stands on.
        weather: made ready.
    """
    house, row = case.house, table("house")
    share = 1.0 if house.used_share is None else house.used_share
    used = np.repeat(days_in_use(share, weather.year.hours // 24), 24)
    clock = np.arange(used.size) % 24
    awake = (clock >= row["night"]["morning"]) & (clock < row["night"]["evening"])
    people = (house.people or 0.0) * row["people"]["warmth"]
    gains = used * (people + np.where(awake & (people > 0), row["people"]["lamps"], 0.0))
    return Hours(
        outside=weather.temperature,
        sun=sun_through(case, weather),
        gains=gains,
        wind=weather.wind,
        in_use=used,
    )


def stove_of(case: Case, loss: Band, shell: Shell) -> tuple[StoveBody, Person]:
    """The stove and who tends it.

    Args:
        case: all it stands on.
        loss: of the building [W/K].
        shell: for the hours.

    Sources: `stove-memory`; a stove that is not stated is as large as half-way between least and most.
    """
    stated, row = case.house.stove, table("house")
    kind: dict[str, Any] = row["stove"][stated.kind]
    wanted = case.house.set_temperature
    assert wanted is not None
    power = stated.power if stated.power is not None else assumed_power(case.house, loss[1])
    mass = stated.mass if stated.mass is not None else kind["mass"]
    body = StoveBody(
        capacity=mass * kind["specific_heat"],
        conductance=mass * kind["gives"],
        power=power,
        most=power * stated.most_hours * 3600,
        least=power * row["stove"]["least_share"] * row["stove"]["least_hours"] * 3600,
        slowest=power * row["stove"]["least_share"],
        lasts=stated.most_hours * 3600,
        radiant=kind["radiant"],
    )
    stored = math.fsum(p.area * areal_capacity(p.modes) for p in shell.parts) + shell.air
    person = Person(
        wanted=wanted,
        fires=tuple(int(h) for h in stated.fires),
        wakes=row["night"]["morning"],
        sleeps=row["night"]["evening"],
        loss=loss[1],
        capacity=stored,
        free=(case.house.people or 0.0) * row["people"]["warmth"],
    )
    return body, person


def assumed_power(house: HouseInput, loss: float) -> float:
    """Power of a stove that is not stated: half-way between the least and the most for the coldest days [W]."""
    assert house.set_temperature is not None
    design = -15.0 if house.design_temperature is None else house.design_temperature
    load = loss * (house.set_temperature - design)
    tended = min(24.0, len(house.stove.fires) * house.stove.most_hours)
    return load * (1 + 24 / tended) / 2


def _summary(case: Case, weather: Weather, hours: Hours, runs: list[YearRun], shut: YearRun) -> HouseYear:
    run = runs[1]
    row = table("house")
    low, middle, high = (float(r.fire.sum() * 3600) for r in runs)
    nights = _nights(run, hours, weather)
    over = row["overheating"]["over"]
    used = hours.in_use > 0
    lit = run.charges > 0
    clock = np.arange(used.size) % 24
    usual = np.isin(clock, [int(h) for h in case.house.stove.fires])
    per_month = [_band(np.array([m for m, _, month in nights if month == n])) for n in range(12)]
    return HouseYear(
        run=run,
        outside=weather.temperature,
        season_energy=(min(low, middle), middle, max(high, middle)),
        morning=_band(np.array([m for m, _, _ in nights])),
        drop=_band(np.array([d for _, d, _ in nights if not math.isnan(d)])),
        warm_hours=float((used & (run.felt > over)).sum()),
        warm_hours_shut=float((used & (shut.felt > over)).sum()),
        fire=by_month(run.fire * 3600, weather),
        sun=by_month(hours.sun * 3600, weather),
        gains=by_month(hours.gains * 3600, weather),
        mornings_by_month=tuple(per_month),
        fires=int((lit & usual).sum()),
        extra_fires=int((lit & ~usual).sum()),
        weather="weather of a usual year drawn from the months"
        if weather.year.source.key == "day-curve"
        else f"weather of {weather.year.station or 'the file named'}",
        bridged=weather.bridged,
        sources=(
            weather.year.source,
            *(DRAWN_SOURCES if weather.year.source.key == "day-curve" else ()),
            *SUN_SOURCES,
            *ROOM_SOURCES,
        ),
    )


def _nights(run: YearRun, hours: Hours, weather: Weather) -> list[tuple[float, float, int]]:
    """Morning temperature, fall since the evening (NaN when nobody was there) and month of each winter day in use."""
    row = table("house")["night"]
    limit = float(table("house")["season"]["limit"])
    mean = np.array(by_month(weather.temperature, weather)) / np.array(by_month(np.ones_like(run.felt), weather))
    found = []
    for day in range(1, run.felt.size // 24):
        at, before = 24 * day + row["morning"] - 1, 24 * day - 24 + row["evening"] - 1
        month = int(weather.month[at])
        if hours.in_use[at] and hours.in_use[before] and mean[month] < limit:
            fall = float(run.felt[before] - run.felt[at])
            found.append((float(run.felt[at]), fall, month))
    return found


def _band(values: Floats) -> Band | None:
    """One in twenty, mean, and nineteen in twenty of some values; None of none."""
    if not values.size:
        return None
    low, high = (float(v) for v in np.percentile(values, (5, 95)))
    middle = float(values.mean())
    return min(low, middle), middle, max(high, middle)
