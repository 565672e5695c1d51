"""What does the whole building lose per kelvin, what does the coldest night ask for, and how much wood is a winter?"""

import math
from collections.abc import Iterator
from dataclasses import dataclass, field

from cordwright.base import Caution, Check, Cite, Figure, Step, caution, cite, table
from cordwright.heat.firewood import EVAPORATING, MEGAJOULE, Fuel, fuel, stacked_energy
from cordwright.heat.house_inputs import HouseInput
from cordwright.heat.house_results import Change, House, HouseYear
from cordwright.heat.house_shell import Band, Leakage, Loss, Wall, losses
from cordwright.plan.inputs import PlanInput
from cordwright.plan.results import Plan
from cordwright.site import MonthlyNormals
from cordwright.site.climate import DAYS

ERRORS = Cite("independent-errors")
STEADY = Cite("steady-loss")
YEAR = Cite("two-port-galerkin", "year of hours")
JOULE = 1 / 3.6e6
"""One joule [kWh]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Surroundings:
    """What the house stands in: the usual months, the air its shrinkage gaps let through, the cold hours of a file.

    `cold`: figure of the coldest hours of the weather file, taken where the owner names no coldest days.
    """

    months: MonthlyNormals | None = None
    leakage: Leakage = field(default_factory=Leakage)
    cold: Figure | None = None

    def design(self, house: HouseInput) -> tuple[float | None, tuple[Cite, ...]]:
        """Temperature of the coldest days to heat for [degC], and who says so."""
        if house.design_temperature is not None:
            return house.design_temperature, (Cite("owner", "heat.design_temperature"),)
        if self.cold is not None and isinstance(self.cold.value, float):
            return self.cold.value, self.cold.sources
        return None, ()


def total(parts: tuple[Loss, ...]) -> Band:
    """Sum of the losses, each erring on its own: low, middle, high [W/K].

    Sources: closed form (`independent-errors`).
    """
    middle = math.fsum(p.loss[1] for p in parts)
    less = math.hypot(*(p.loss[1] - p.loss[0] for p in parts))
    more = math.hypot(*(p.loss[2] - p.loss[1] for p in parts))
    return middle - less, middle, middle + more


def degree_days(months: MonthlyNormals, base: float) -> float:
    """Kelvin under a base temperature times days, by the means of the months [K.d].

    Args:
        months: of the site.
        base: outdoor temperature from which no fire is needed [degC].

    Sources: `months-as-means`.
    """
    return math.fsum(d * max(0.0, base - t) for d, t in zip(DAYS, months.temperature, strict=True))


def season_by_degree_days(house: HouseInput, loss: Band, months: MonthlyNormals) -> Band:
    """Heat of a season at the share of days in use: low, middle, high [kWh].

    Args:
        house: as stated, with a set temperature and a share of days.
        loss: of the building [W/K].
        months: of the site.

    Sources: `degree-day-method`; free heat is an assumption (`free-heat-lift`).
    """
    assert house.set_temperature is not None
    assert house.used_share is not None
    lift = table("house")["season"]["lift"]
    most, usual, least = (degree_days(months, house.set_temperature - x) for x in lift)
    middle = loss[1] * usual
    less = math.hypot(middle - loss[0] * usual, middle - loss[1] * least)
    more = math.hypot(loss[2] * usual - middle, loss[1] * most - middle)
    low, mid, high = (house.used_share * 24 / 1000 * x for x in (middle - less, middle, middle + more))
    return low, mid, high


def reckon_house(  # noqa: PLR0917 (what the house stands on, in the order of the job)
    house: HouseInput,
    plan: PlanInput,
    built: Plan,
    wall: Wall | None,
    around: Surroundings,
    year: HouseYear | None = None,
    changes: tuple[Change, ...] = (),
) -> House:
    """Work out the building as a thing to be heated; nothing where no temperature is asked for.

    Args:
        house: as the owner states it.
        plan: the shape as stated.
        built: the plan worked out.
        wall: U of the wall; None while unknown.
        around: months and leakage.
        year: its hours, when they were run.
        changes: what single changes would do (`house_changes`).

    Sources: those of each part; each figure says its own.
    """
    if not house.stated:
        return House(losses=(), missing=(), changes=(), year=None, figures=(), checks=(), cautions=())
    parts, missing = losses(house, plan, built, wall, around.leakage)
    loss = total(parts) if parts else (0.0, 0.0, 0.0)
    lacking = ("what the building loses (heat.loss_coefficient)",) if missing else ()
    figures = (
        _loss_figure(parts, missing, loss),
        *_load_figures(house, around, lacking, loss),
        *_season_figures(house, around, lacking, loss, year),
        *_year_figures(house, lacking, year),
    )
    return House(
        losses=parts,
        missing=missing,
        changes=changes,
        year=year,
        figures=figures,
        checks=tuple(_checks(house, figures)),
        cautions=tuple(_cautions(house)),
    )


def _unknown(key: str, label: str, unit: str, missing: tuple[str, ...], sources: tuple[Cite, ...]) -> Figure:
    return Figure(key=key, label=label, value=None, unit=unit, bound="unknown", missing=missing, sources=sources)


def part_steps(parts: tuple[Loss, ...]) -> tuple[Step, ...]:
    """A line for each way out for heat."""
    return tuple(
        Step(symbol=p.name, value=p.loss[1], unit="W/K", formula=f"{p.amount:.4g} {p.unit} x {p.each[1]:.3g}: {p.how}",
             source=p.sources[-1])
        for p in parts
    )  # fmt: skip


def _loss_figure(parts: tuple[Loss, ...], missing: tuple[str, ...], loss: Band) -> Figure:
    key, label = "heat.loss_coefficient", "heat the building loses for each kelvin between room and air outdoors"
    if missing:
        return _unknown(key, label, "W/K", missing, (STEADY,))
    sources = tuple(dict.fromkeys((STEADY, ERRORS, *(c for p in parts for c in p.sources))))
    return Figure(
        key=key, label=label, value=loss[1], low=loss[0], high=loss[2], unit="W/K", sources=sources,
        steps=part_steps(parts),
    )  # fmt: skip


def _load_figures(house: HouseInput, around: Surroundings, missing: tuple[str, ...], loss: Band) -> Iterator[Figure]:
    design, told = around.design(house)
    lacking = (*missing, *(() if design is not None else ("the coldest days to heat for (heat.design_temperature)",)))
    labels = {
        "heat.peak_load": "heat wanted on the coldest days to heat for, no sun and nobody counted",
        "heat.stove_low": "stove that holds the coldest days by burning day and night (for review)",
        "heat.stove_high": "stove that holds them burning only while it is tended (for review)",
    }
    if lacking:
        yield from (_unknown(key, label, "W", lacking, (STEADY,)) for key, label in labels.items())
        return
    assert house.set_temperature is not None
    assert design is not None
    difference = house.set_temperature - design
    tended = min(24.0, len(house.stove.fires) * house.stove.most_hours)
    steps = (
        Step(symbol="loss per kelvin", value=loss[1], unit="W/K", formula="heat.loss_coefficient"),
        Step(symbol="room less coldest days", value=difference, unit="K", formula=f"wanted less {design:g} degC",
             source=told[0]),
    )  # fmt: skip
    hours = Step(
        symbol="hours tended a day", value=tended, unit="h", formula="fires x longest firing; load x 24 / hours",
        source=Cite("tended-hours"),
    )  # fmt: skip
    for key, factor in (("heat.peak_load", 1.0), ("heat.stove_low", 1.0), ("heat.stove_high", 24 / tended)):
        low, middle, high = (x * difference * factor for x in loss)
        high_end = key == "heat.stove_high"
        yield Figure(
            key=key,
            label=labels[key],
            value=middle,
            low=low,
            high=high,
            unit="W",
            sources=(STEADY, ERRORS, *told, *((Cite("tended-hours"),) if high_end else ())),
            steps=(*steps, hours) if high_end else steps,
        )


def _season_figures(
    house: HouseInput, around: Surroundings, missing: tuple[str, ...], loss: Band, year: HouseYear | None
) -> Iterator[Figure]:
    label = "heat the stove gives in a year" + (" by its hours" if year else " by degree days")
    energy, lacking = _season_energy(house, around, missing, loss, year)
    sources = (
        (YEAR, Cite("sensible-fire"), *year.sources) if year else (Cite("degree-day-method"), Cite("free-heat-lift"))
    )
    if energy is None:
        yield _unknown("heat.season_energy", label, "kWh", lacking, sources)
    else:
        yield Figure(
            key="heat.season_energy",
            label=label,
            value=energy[1],
            low=energy[0],
            high=energy[2],
            unit="kWh",
            sources=(*sources, ERRORS),
            steps=tuple(_energy_steps(house, around, loss, year)),
        )
    yield from _wood_figures(house, energy, lacking)


def _season_energy(
    house: HouseInput, around: Surroundings, missing: tuple[str, ...], loss: Band, year: HouseYear | None
) -> tuple[Band | None, tuple[str, ...]]:
    if year is not None:
        low, middle, high = (x * JOULE for x in year.season_energy)
        return (low, middle, high), ()
    lacking = missing
    lacking += () if house.used_share is not None else ("the share of days in use (heat.used_share)",)
    lacking += () if around.months is not None else ("the months' temperatures (site.months)",)
    if lacking or around.months is None:
        return None, lacking
    return season_by_degree_days(house, loss, around.months), ()


def _energy_steps(house: HouseInput, around: Surroundings, loss: Band, year: HouseYear | None) -> Iterator[Step]:
    yield Step(symbol="loss per kelvin", value=loss[1], unit="W/K", formula="heat.loss_coefficient")
    if around.months is not None and house.used_share is not None and house.set_temperature is not None:
        lift = table("house")["season"]["lift"][1]
        base = house.set_temperature - lift
        yield Step(
            symbol="degree days", value=degree_days(around.months, base), unit="K.d",
            formula=f"under {base:g} degC: set temperature less {lift:g} K by sun, people and lamps",
            source=Cite("free-heat-lift"),
        )  # fmt: skip
        yield Step(
            symbol="share of days in use", value=house.used_share, unit="1", source=Cite("owner", "heat.used_share")
        )
        yield Step(
            symbol="by degree days", value=season_by_degree_days(house, loss, around.months)[1], unit="kWh",
            formula="loss x degree days x 24 h x share", source=Cite("degree-day-method"),
        )  # fmt: skip
    if year is not None:
        yield Step(symbol="fires lit", value=float(year.fires), unit="", formula="usual fires in the year run")
        yield Step(symbol="fires relit", value=float(year.extra_fires), unit="", formula="because it had grown cold")
        yield Step(
            symbol="by the hours", value=year.season_energy[1] * JOULE, unit="kWh", formula=year.weather, source=YEAR
        )


def wood_band(burnt: Fuel, moisture: float) -> Band:
    """Heat in a stacked cubic metre with the spread of stack and wood: low, middle, high [kWh/m3].

    Args:
        burnt: the wood.
        moisture: on the oven-dry mass [1].

    Sources: those of `firewood`.
    """
    middle = stacked_energy(burnt, moisture)
    low = middle * burnt.solid_low / burnt.solid_share
    richer = burnt.dry_density * (burnt.heating_high - EVAPORATING * moisture) * MEGAJOULE
    more = math.hypot(middle * (burnt.solid_high / burnt.solid_share - 1), richer * burnt.solid_share - middle)
    return low, middle, middle + more


def _wood_figures(house: HouseInput, energy: Band | None, lacking: tuple[str, ...]) -> Iterator[Figure]:
    labels = {
        "heat.firewood_stacked": "firewood of a year, stacked",
        "heat.firewood_solid": "firewood of a year, solid wood without the air of the stack",
    }
    wood = house.firewood
    told: tuple[str, ...] = () if wood.species else ("which wood is burnt (heat.firewood.species)",)
    told += () if wood.moisture is not None else ("how dry it is (heat.firewood.moisture)",)
    if energy is None or told or wood.moisture is None:
        source = (Cite("firewood-heating-value"),)
        yield from (_unknown(key, label, "m3", (*lacking, *told), source) for key, label in labels.items())
        return
    burnt = fuel(wood.species)
    usual = table("house")["stove"]["efficiency"]
    own = house.stove.efficiency
    efficiency: Band = (usual[0], usual[1], usual[2]) if own is None else (own * 0.93, own, min(1.0, own * 1.07))
    stacked = _divided(energy, efficiency, wood_band(burnt, wood.moisture))
    solid = _divided(energy, efficiency, _solid(burnt, wood.moisture))
    sources = (
        Cite("firewood-heating-value"), Cite("stove-efficiency"), ERRORS, *(cite(text) for text in burnt.sources)
    )  # fmt: skip
    steps = _wood_steps(burnt, wood.moisture, energy[1], efficiency[1])
    for (key, label), band in zip(labels.items(), (stacked, solid), strict=True):
        yield Figure(
            key=key,
            label=label,
            value=band[1],
            low=band[0],
            high=band[2],
            unit="m3",
            sources=tuple(dict.fromkeys(sources)),
            steps=steps,
        )


def _solid(burnt: Fuel, moisture: float) -> Band:
    middle = stacked_energy(burnt, moisture) / burnt.solid_share
    richer = burnt.dry_density * (burnt.heating_high - EVAPORATING * moisture) * MEGAJOULE
    return middle * 0.95, middle, max(richer, middle)


def _divided(energy: Band, efficiency: Band, holds: Band) -> Band:
    """Energy over efficiency over what the wood holds, each erring on its own."""
    middle = energy[1] / efficiency[1] / holds[1]
    less = math.hypot(energy[0] / energy[1] - 1, efficiency[1] / efficiency[2] - 1, holds[1] / holds[2] - 1)
    more = math.hypot(energy[2] / energy[1] - 1, efficiency[1] / efficiency[0] - 1, holds[1] / holds[0] - 1)
    return middle * max(0.0, 1 - less), middle, middle * (1 + more)


def _wood_steps(burnt: Fuel, moisture: float, energy: float, efficiency: float) -> tuple[Step, ...]:
    stacked = stacked_energy(burnt, moisture)
    return (
        Step(symbol="heat of the year", value=energy, unit="kWh", formula="heat.season_energy"),
        Step(symbol="stove's efficiency", value=efficiency, unit="1", formula="heat to the room over heat in the wood",
             source=Cite("stove-efficiency")),
        Step(symbol="moisture of the wood", value=moisture, unit="1", formula="of its oven-dry mass",
             source=Cite("owner", "heat.firewood.moisture")),
        Step(symbol=f"oven-dry {burnt.name}", value=burnt.dry_density, unit="kg/m3", formula="over its air-dry volume",
             source=cite(burnt.sources[-2])),
        Step(symbol="a stacked cubic metre holds", value=stacked, unit="kWh",
             formula=f"density x ({burnt.heating_value:g} MJ/kg - 2.443 x moisture) x {burnt.solid_share:g} solid",
             source=Cite("firewood-heating-value")),
    )  # fmt: skip


def _year_figures(house: HouseInput, missing: tuple[str, ...], year: HouseYear | None) -> Iterator[Figure]:
    label = {
        "heat.morning_temperature": ("felt in the room on a winter morning before the first fire", "degC"),
        "heat.night_drop": ("how far the room cools from evening to morning in winter", "K"),
        "heat.overheating_hours": ("hours in use that feel warmer than 26 °C in a year", "h"),
    }
    if year is None:
        lacking = (*missing, "the year by its hours (the studies, with a weather file or the months' lows and highs)")
        yield from (_unknown(key, text, unit, lacking, (YEAR,)) for key, (text, unit) in label.items())
        return
    nights = {"heat.morning_temperature": year.morning, "heat.night_drop": year.drop}
    for key, band in nights.items():
        text, unit = label[key]
        if band is None:
            yield _unknown(key, text, unit, ("a night in the heating season with the house in use",), (YEAR,))
            continue
        yield Figure(
            key=key, label=text, value=band[1], low=band[0], high=band[2], unit=unit,
            sources=(YEAR, Cite("sensible-fire"), Cite("night-hours"), *year.sources), steps=_night_steps(house, year),
        )  # fmt: skip
    yield _warm_figure(house, year, *label["heat.overheating_hours"])


def _night_steps(house: HouseInput, year: HouseYear) -> tuple[Step, ...]:
    wanted = house.set_temperature
    return (
        Step(symbol="wanted while in use", value=wanted, unit="degC", source=Cite("owner", "heat.set_temperature")),
        Step(symbol="run", value=None, unit="", formula=f"{year.weather}; mean of the nights, nine in ten within"
             " the spread", source=YEAR),
    )  # fmt: skip


def _warm_figure(house: HouseInput, year: HouseYear, label: str, unit: str) -> Figure:
    opened = house.summer_air_changes is not None
    shut = Step(symbol="with windows shut", value=year.warm_hours_shut, unit="h", formula="the same year", source=YEAR)
    how = Step(
        symbol="windows open", value=house.summer_air_changes, unit="1/h",
        formula="air changes when it feels over 24 degC and is cooler outdoors" if opened else "not stated: shut",
        source=Cite("owner", "heat.summer_air_changes"),
    )  # fmt: skip
    return Figure(
        key="heat.overheating_hours",
        label=label if opened else label + ", windows shut",
        value=year.warm_hours,
        unit=unit,
        bound="exact" if opened else "at_most",
        sources=(YEAR, Cite("overheating-memory"), *year.sources),
        steps=(how, shut),
    )


def _checks(house: HouseInput, figures: tuple[Figure, ...]) -> Iterator[Check]:
    """The stove's nominal heat beside the load of the coldest days, and beside what it would idle under."""
    by_key = {f.key: f for f in figures}
    load, most = by_key["heat.peak_load"], by_key["heat.stove_high"]
    power = house.stove.power
    reason = "" if power is not None and load.value is not None else "the stove's power or the load is not known"
    value, low, high = (v if isinstance(v, float) else None for v in (load.value, load.low, load.high))
    yield Check(
        key="heat.stove_reaches",
        label="stove's nominal heat beside the load of the coldest days",
        demand=value,
        capacity=power,
        unit="W",
        low=low,
        high=high,
        sources=(Cite("owner", "heat.stove.power"), *load.sources),
        steps=load.steps,
        not_judged=reason,
    )
    largest = most.high if isinstance(most.high, float) else None
    yield Check(
        key="heat.stove_idles",
        label="stove's nominal heat beside the largest that still burns briskly",
        demand=power,
        capacity=largest,
        unit="W",
        sources=(Cite("owner", "heat.stove.power"), *most.sources, Cite("stove-memory", "an idling stove tars")),
        steps=most.steps,
        not_judged=reason,
    )


def _cautions(house: HouseInput) -> Iterator[Caution]:
    yield caution("stove-flue")
    yield caution("carbon-monoxide")
    yield caution("air-quality")
    if house.air_changes is None:
        yield caution("mould-rot")
