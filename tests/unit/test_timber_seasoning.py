"""When are the logs ready: starts, own weighings and readings, refusals, overrides, other hemispheres."""

from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest

from cordwright.base import Check, Figure
from cordwright.site import MonthlyNormals
from cordwright.timber import (
    Building,
    LogEnd,
    MarkedEnd,
    Reading,
    SeasoningInput,
    Species,
    Stem,
    Timber,
    TimberInput,
    Treatment,
    Weighing,
    air_from,
    find_faults,
    moisture_on,
    reckon_timber,
    season_timber,
    site_moisture,
)
from cordwright.timber.drying_json import drying_json
from cordwright.timber.stacking import checklist
from cordwright.timber.stacks import day_of, stack_of, stacked_on

NORTH = MonthlyNormals(
    temperature=(-5.4, -5.7, -1.6, 4.9, 11.0, 15.0, 17.4, 15.9, 11.0, 5.5, 0.4, -3.3),
    humidity=(0.88, 0.86, 0.79, 0.71, 0.68, 0.72, 0.75, 0.79, 0.84, 0.87, 0.90, 0.90),
)
SOUTH = MonthlyNormals(
    temperature=NORTH.temperature[6:] + NORTH.temperature[:6],
    humidity=(NORTH.humidity or ())[6:] + (NORTH.humidity or ())[:6],
)
SPRUCE = Species(name="spruce", label="spruce", shrinkage=0.057, radial=0.036, tangential=0.078, basic_density=380.0)
BUILDING = Building(
    volume=75.0, room="test", path=0.2, wood_face=804 * np.pi / 4 * 0.18**2, panel_width=3.7, wood_fraction=0.6
)
STACKED = SeasoningInput(stacked=date(2027, 5, 15), laying=date(2028, 5, 11))


def stick(diameter: float = 0.18, **days: str) -> Stem:
    return Stem(
        name="A", species="spruce", butt_diameter=diameter, top_diameter=diameter, length=0.35, count=10, **days
    )


def wood(
    seasoning: SeasoningInput = STACKED, *, laid: float | None = 0.16, service: float | None = 0.09
) -> TimberInput:
    return TimberInput(
        stems=(stick(),),
        species=(SPRUCE,),
        laying_moisture=laid,
        service_moisture=service,
        seasoning=seasoning,
    )


def seasoned(stock: TimberInput, months: MonthlyNormals | None = NORTH) -> Timber:
    plain = reckon_timber(
        stock, log_end_length=0.35, net_area=1.0, wood_fraction=0.6, wood_fraction_low=0.6, wood_fraction_high=0.6
    )
    return season_timber(stock, plain, months, BUILDING, 0.35)


def check(timber: Timber, key: str) -> Check:
    return next(c for c in timber.checks if c.key == f"timber.{key}")


def figure(timber: Timber, key: str) -> Figure:
    return timber.figure(f"timber.{key}")


def test_moisture_by_month_of_the_weaving_studio() -> None:
    timber = seasoned(wood())
    assert 100 * figure(timber, "equilibrium_moisture.may").value == pytest.approx(12.9, abs=0.05)
    for month in ("nov", "dec"):
        assert 100 * figure(timber, f"equilibrium_moisture.{month}").value == pytest.approx(21.0, abs=0.05)
    may = figure(timber, "equilibrium_moisture.may")
    assert may.high - may.value == pytest.approx(0.015)


def test_a_month_colder_than_the_table_says_that_it_is_read_at_its_edge() -> None:
    timber = seasoned(wood())
    assert "emc-cold-months" in {c.key for c in figure(timber, "equilibrium_moisture.jan").sources}
    assert "emc-cold-months" not in {c.key for c in figure(timber, "equilibrium_moisture.may").sources}


def test_air_damper_than_the_table_gives_at_least() -> None:
    damp = replace(NORTH, humidity=(0.98,) * 12)
    timber = seasoned(wood(), damp)
    assert figure(timber, "equilibrium_moisture.may").bound == "at_least"


@pytest.mark.parametrize(
    ("text", "day"),
    [
        ("2027-05-15", date(2027, 5, 15)),
        ("2027-05", date(2027, 5, 31)),
        ("2027-12", date(2027, 12, 31)),
        ("2027-13", None),
        ("2027-02-30", None),
        ("spring", None),
        ("", None),
    ],
)
def test_a_day_as_typed_in_the_list(text: str, day: date | None) -> None:
    assert day_of(text) == day


def test_the_stack_s_day_makes_the_month_of_a_stem_finer_and_nothing_else() -> None:
    assert stacked_on(stick(stacked="2027-05"), STACKED) == date(2027, 5, 15)
    assert stacked_on(stick(stacked="2027-06"), STACKED) == date(2027, 6, 30)
    assert stacked_on(stick(stacked="2027-05-20"), STACKED) == date(2027, 5, 20)
    assert stacked_on(stick(), STACKED) == date(2027, 5, 15)
    assert stacked_on(stick(stacked="after the rain"), STACKED) is None


def test_the_last_stem_stacked_sets_the_start() -> None:
    stems = (stick(stacked="2027-05-20"), replace(stick(stacked="2027-07-01"), name="B"))
    assert stack_of(TimberInput(stems=stems)).start == date(2027, 7, 1)


def test_ready_days_come_in_order_of_size_with_their_spread() -> None:
    stems = (stick(0.12), replace(stick(0.18), name="B"), replace(stick(0.24), name="C"))
    timber = seasoned(replace(wood(), stems=stems))
    small, mean, whole = (figure(timber, k) for k in ("ready_date.small", "ready_date.mean", "ready_date"))
    assert small.value < mean.value < whole.value
    assert mean.low < mean.value < mean.high


def test_a_blank_leaves_the_day_unknown_and_says_what_is_missing() -> None:
    no_months = figure(seasoned(wood(), None), "ready_date")
    assert no_months.value is None
    assert "site.months" in no_months.missing[0]
    undated = figure(seasoned(wood(SeasoningInput())), "ready_date")
    assert "seasoning.stacked" in undated.missing[0]
    untold = figure(seasoned(wood(laid=None)), "ready_date")
    assert "laying_moisture" in untold.missing[0]


def test_never_ready_where_the_air_asks_for_more_than_the_target() -> None:
    timber = seasoned(wood(laid=0.12))
    ready = figure(timber, "ready_date")
    assert ready.value is None
    assert "reaches 14." in ready.missing[0]
    assert figure(timber, "driest_reachable").value > min(site_moisture(NORTH).months)


def test_the_southern_hemisphere_dries_half_a_year_later() -> None:
    shifted = SeasoningInput(stacked=date(2027, 11, 15), laying=date(2028, 11, 11))
    north, south = seasoned(wood()), seasoned(wood(shifted), SOUTH)
    here, there = (figure(t, "moisture_at_laying.mean").value for t in (north, south))
    assert there == pytest.approx(here, abs=0.004)  # months are not all as long


def test_logs_felled_five_weeks_ago_are_wet_and_not_ready() -> None:
    """Meter 38 %, laying in three weeks."""
    today = date(2028, 4, 20)
    laying = today + timedelta(weeks=3)
    seasoning = SeasoningInput(
        felled=today - timedelta(weeks=5),
        stacked=today - timedelta(weeks=5),
        laying=laying,
        readings=(Reading(date=today, value=0.38),),
    )
    timber = seasoned(wood(seasoning))
    meter = figure(timber, "meter_reading")
    assert (meter.bound, meter.value) == ("at_least", 0.28)
    assert meter.value != 0.38
    assert check(timber, "dryness_check").verdict == "short"
    gap = figure(timber, "gap_laid_26")
    assert [1000 * gap.low, 1000 * gap.high] == pytest.approx([2.0, 3.1], abs=0.05)
    assert figure(timber, "leakage_laid_26").high == pytest.approx(15.0, abs=0.5)
    for mark in ("falls_below_20", "falls_below_18"):
        assert figure(timber, mark).value > laying


def test_an_override_stays_short_and_is_written_down() -> None:
    seasoning = replace(STACKED, laying=date(2027, 6, 20), lay_anyway="the roof must close before the rains")
    short = check(seasoned(wood(seasoning)), "dryness_check")
    assert short.verdict == "short"
    assert "owner's decision" in short.label
    assert any("the roof must close" in step.formula for step in short.steps)


def test_a_wet_reading_where_the_model_says_dry_is_believed() -> None:
    late = date(2028, 4, 1)
    plain = figure(seasoned(wood()), "ready_date.mean")
    overruled = seasoned(wood(replace(STACKED, readings=(Reading(date=late, value=0.35),))))
    assert overruled.drying is not None
    assert overruled.drying.stack.start == late
    assert "wet" in overruled.drying.stack.anew
    assert figure(overruled, "ready_date.mean").value > plain.value


def test_a_stack_of_unknown_age_is_forecast_from_the_meter() -> None:
    seasoning = SeasoningInput(readings=(Reading(date=date(2028, 5, 1), value=0.22),), laying=date(2028, 8, 1))
    timber = seasoned(wood(seasoning))
    assert figure(timber, "moisture_at_laying.mean").value < 0.19
    assert timber.drying is not None
    assert "meter reading" in timber.drying.stack.anew


def weighed(rate: float, noise: float = 0.0, *, dry: bool = True, count: int = 8) -> SeasoningInput:
    """A marked end that dries at a rate, put on the scale every three weeks."""
    months = site_moisture(NORTH)
    assert months is not None
    start = date(2027, 5, 15)
    days = [start + timedelta(days=21 * n) for n in range(count)]
    air = air_from(start, 2, NORTH.temperature, months.months)
    ordinals = np.array([d.toordinal() for d in days], dtype=np.float64)
    moisture = moisture_on(LogEnd(diameter=0.15, length=0.35), air, ordinals, 0.9, rate)
    wobble = noise * np.where(np.arange(count) % 2, 1.0, -1.0)
    masses = 2.4 * (1 + moisture + wobble)
    end = MarkedEnd(name="E1", diameter=0.15, length=0.35, oven_dry_mass=2.4 if dry else None, cut=start)
    rows = tuple(Weighing(end="E1", date=d, mass=float(m)) for d, m in zip(days, masses, strict=True))
    read = () if dry else (Reading(date=days[-1], value=float(moisture[-1]), where="E1"),)
    return replace(STACKED, samples=(end,), weighings=rows, readings=read)


@pytest.mark.parametrize("rate", [0.5, 1.0, 2.0])
def test_own_weighings_find_the_rate_they_were_made_with(rate: float) -> None:
    found = figure(seasoned(wood(weighed(rate))), "drying_rate")
    assert found.value == pytest.approx(rate, rel=0.1)
    assert found.low <= found.value <= found.high
    assert found.high / found.low < 1.5 < 2.5 / 0.4


def test_weighings_that_scatter_leave_a_wider_spread() -> None:
    smooth, rough = (figure(seasoned(wood(weighed(1.0, noise))), "drying_rate") for noise in (0.0, 0.08))
    assert rough.high / rough.low > smooth.high / smooth.low


def test_a_meter_reading_stands_in_for_the_oven() -> None:
    found = figure(seasoned(wood(weighed(1.0, dry=False))), "drying_rate")
    assert found.value == pytest.approx(1.0, rel=0.25)


def test_nothing_weighed_leaves_the_assumed_rate() -> None:
    found = figure(seasoned(wood()), "drying_rate")
    assert (found.low, found.value, found.high) == pytest.approx((0.4, 1.0, 2.5))


def test_bark_on_dries_slower_and_through_the_ends_alone() -> None:
    peeled, barked = (seasoned(wood(replace(STACKED, bark=bark))) for bark in ("off", "on"))
    assert figure(barked, "dries_through_ends").value == 1.0
    assert figure(peeled, "dries_through_ends").value < 0.6
    assert figure(barked, "moisture_at_laying.mean").value > figure(peeled, "moisture_at_laying.mean").value


def test_the_checklist_asks_refuses_and_holds() -> None:
    full = SeasoningInput(bark="off", cover="top", ends="open", on_bearers=True, stickers=True)
    assert check(seasoned(wood(full)), "stacking_check").verdict == "holds"
    blank = check(seasoned(wood(replace(full, stickers=None))), "stacking_check")
    assert blank.verdict == "not judged"
    assert "stickers" in blank.not_judged
    wrapped = check(seasoned(wood(replace(full, cover="all sides"))), "stacking_check")
    assert wrapped.verdict == "short"
    assert "take the sides off" in wrapped.label


def test_a_day_of_peeling_for_every_stem_counts_as_peeled() -> None:
    stems = (stick(peeled="2027-04"),)
    assert checklist(SeasoningInput(), stems)[0].met is True
    assert checklist(SeasoningInput(), (*stems, stick()))[0].met is None


@pytest.mark.parametrize(
    ("laid", "low", "high", "least", "most"),
    [(0.26, 2.0, 3.1, 4, 15), (0.20, 1.3, 2.0, 1.1, 4.3), (0.16, 0.8, 1.3, 0.3, 1.1), (0.14, 0.6, 0.9, 0.1, 0.4)],
)
def test_gaps_and_leakage_round_180_mm_ends(laid: float, low: float, high: float, least: float, most: float) -> None:
    """The job's table; a quarter of 804 rings open, 4 Pa, two beads of 100 mm, 75 m3."""
    timber = seasoned(wood())
    name = f"{100 * laid:.0f}"
    gap, air = figure(timber, f"gap_laid_{name}"), figure(timber, f"leakage_laid_{name}")
    assert [1000 * gap.low, 1000 * gap.high] == pytest.approx([low, high], abs=0.05)
    assert [air.low, air.high] == pytest.approx([least, most], rel=0.15)


def test_a_share_of_checked_ends_lies_between() -> None:
    half = figure(seasoned(wood(replace(STACKED, checked_share=0.5))), "gap_laid_16")
    assert half.value == pytest.approx((half.low + half.high) / 2)


def test_gaps_without_a_service_moisture_are_unknown() -> None:
    assert figure(seasoned(wood(service=None)), "gap_laid_26").value is None


def test_over_dry_wood_is_named_and_its_swelling_given() -> None:
    timber = seasoned(wood(laid=0.08))
    assert check(timber, "overdry_check").verdict == "short"
    swelling = figure(timber, "swelling_panel")
    assert 0.01 < swelling.value < swelling.high
    ordinary = seasoned(wood(laid=0.20))
    assert check(ordinary, "overdry_check").verdict == "holds"
    assert figure(ordinary, "swelling_panel").value == 0.0


def test_the_curves_as_plain_values() -> None:
    made = drying_json(seasoned(wood()).drying)
    assert [c["size"] for c in made["curves"]] == ["small", "mean", "largest"]
    assert made["start"] == "2027-05-15"
    assert drying_json(None)["curves"] == []


@pytest.mark.parametrize(
    ("seasoning", "field"),
    [
        (SeasoningInput(stacked=date(2027, 5, 1), felled=date(2027, 6, 1)), "seasoning.stacked"),
        (SeasoningInput(stacked=date(2027, 5, 1), laying=date(2027, 4, 1)), "site.laying_begins"),
        (SeasoningInput(weighings=(Weighing(end="X", date=date(2027, 5, 1), mass=3.0),)), "seasoning.weighings[0].end"),
        (SeasoningInput(readings=(Reading(date=date(2027, 5, 1), value=2.5),)), "seasoning.readings[0].value"),
        (
            SeasoningInput(
                samples=(MarkedEnd(name="E", diameter=0.1, oven_dry_mass=3.0),),
                weighings=(Weighing(end="E", date=date(2027, 5, 1), mass=2.0),),
            ),
            "seasoning.samples[0].oven_dry_mass",
        ),
        (
            SeasoningInput(
                samples=(MarkedEnd(name="E", diameter=0.1), MarkedEnd(name="E", diameter=0.1)),
            ),
            "seasoning.samples[0].name",
        ),
    ],
)
def test_what_cannot_be_is_refused(seasoning: SeasoningInput, field: str) -> None:
    errors = [p.field for p in find_faults(wood(seasoning), 0.35) if p.severity == "error"]
    assert field in errors


def test_warnings_say_what_to_do() -> None:
    stock = replace(wood(SeasoningInput(cover="all sides")), stems=(stick(felled="last winter"),))
    warned = {p.field: p for p in find_faults(stock, 0.35) if p.severity == "warning"}
    assert "take the sides off" in warned["seasoning.cover"].hint
    assert "2027-05-15" in warned["stems[0].felled"].hint


@pytest.mark.parametrize("product", ["used coolant", "Antifreeze blue", "ethylene glycol mix", "creosote"])
def test_waste_fluids_are_refused_by_name(product: str) -> None:
    faults = find_faults(replace(wood(), treatment=Treatment(product=product)), 0.35)
    assert any(p.field == "treatment.product" and p.severity == "error" for p in faults)


def test_oil_films_are_advised_against() -> None:
    faults = find_faults(replace(wood(), treatment=Treatment(product="linseed oil", registration="R1")), 0.35)
    assert [(p.field, p.severity) for p in faults if p.field == "treatment.product"] == [
        ("treatment.product", "warning")
    ]
