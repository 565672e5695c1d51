"""The house as a thing to be heated: losses, load, stove, wood, its year, its damp, its first winter."""

from dataclasses import replace
from datetime import UTC, date, datetime
from functools import cache
from math import hypot, pi
from pathlib import Path

import numpy as np
import pytest

from cordwright.base import Cite, Figure, OutOfRangeError, Records
from cordwright.base.records import Crack, Entry, Moisture
from cordwright.case import Project
from cordwright.heat.damp import Damp
from cordwright.heat.damp_air import over_pressure
from cordwright.heat.firewood import fuel, solid_energy
from cordwright.heat.house import Surroundings, degree_days, total
from cordwright.heat.house_faults import find_house_faults
from cordwright.heat.house_inputs import HouseInput, Insulation, RoofLight, StoveInput
from cordwright.heat.house_results import House
from cordwright.heat.inputs import WallHeatInput
from cordwright.heat.winter import Mark, first_winter
from cordwright.heat.year_generated import drawn_year, wanting_for_hours
from cordwright.heat.year_shell import hole_of
from cordwright.heat.year_weather import days_in_use, weather_of
from cordwright.project import read
from cordwright.reckon import Reckoning, reckon
from house_samples import HouseYears

ROOT = Path(__file__).resolve().parents[2]


@cache
def studio() -> Project:
    project = read(ROOT / "examples" / "weaving-studio").project
    assert project is not None
    told = WallHeatInput(along_grain=0.215, across_grain=0.119, mortar=0.7, fill_conductivity=0.055)
    project = replace(project, mortar=replace(project.mortar, sands=()))  # nothing here asks for sands
    return replace(project, heat=replace(project.heat, wall=told))


def changed(**words: object) -> Project:
    project = studio()
    return replace(project, heat=replace(project.heat, house=replace(project.heat.house, **words)))  # type: ignore[arg-type]


@cache
def plain() -> Reckoning:
    return reckon(studio())


@cache
def with_year() -> Reckoning:
    return reckon(studio(), studies=HouseYears())


def house(reckoning: Reckoning) -> House:
    return reckoning.warmth.house


def damp(reckoning: Reckoning) -> Damp:
    return reckoning.warmth.damp


def value(reckoning: Reckoning, key: str) -> float:
    found = reckoning.figure(key).value
    assert isinstance(found, float)
    return found


def test_the_losses_add_up_and_their_spreads_too() -> None:
    parts = house(plain()).losses
    whole = total(parts)
    assert whole[1] == pytest.approx(sum(p.loss[1] for p in parts))
    assert whole[1] - whole[0] == pytest.approx(hypot(*(p.loss[1] - p.loss[0] for p in parts)))
    assert value(plain(), "heat.loss_coefficient") == pytest.approx(whole[1])
    assert sum(s.value or 0 for s in plain().figure("heat.loss_coefficient").steps) == pytest.approx(whole[1])


def test_the_studio_without_posts_beam_and_edges_is_the_sum_known_for_it() -> None:
    """52.5 W/K at 0.4 air changes counts walls, windows, door, roof, floor and air alone."""
    parts = [p for p in house(plain()).losses if p.kind not in ("posts", "edges")]
    assert sum(p.loss[1] for p in parts) == pytest.approx(52.5, rel=0.03)
    assert value(plain(), "heat.loss_coefficient") > 52.5
    airy = reckon(changed(air_changes=1.0))
    assert value(airy, "heat.loss_coefficient") - value(plain(), "heat.loss_coefficient") == pytest.approx(15, abs=0.3)


def test_load_and_stove_follow_from_the_loss() -> None:
    loss = value(plain(), "heat.loss_coefficient")
    assert value(plain(), "heat.peak_load") == pytest.approx(loss * 41)
    assert value(plain(), "heat.stove_low") == pytest.approx(loss * 41)
    assert value(plain(), "heat.stove_high") == pytest.approx(loss * 41 * 2.4)
    verdicts = {c.key: c.verdict for c in house(plain()).checks}
    assert verdicts == {"heat.stove_reaches": "holds", "heat.stove_idles": "holds"}
    small = reckon(changed(stove=StoveInput(power=2000.0)))
    assert {c.key: c.verdict for c in house(small).checks}["heat.stove_reaches"] == "short"
    great = reckon(changed(stove=StoveInput(power=14000.0)))
    assert {c.key: c.verdict for c in house(great).checks}["heat.stove_idles"] == "short"


def test_coldest_days_come_from_the_weather_file_where_nobody_names_them() -> None:
    told = Figure(
        key="site.design_cold_hours", label="", value=-25.0, unit="degC", sources=(Cite("cold-hours"),), steps=()
    )
    bare = HouseInput(set_temperature=19.0)
    assert Surroundings(cold=told).design(bare) == (-25.0, (Cite("cold-hours"),))
    assert Surroundings(cold=told).design(studio().heat.house)[0] == -22.0
    assert Surroundings().design(bare) == (None, ())
    made = reckon(changed(design_temperature=None))
    assert made.figure("heat.peak_load").value is None
    assert any("design_temperature" in m for m in made.figure("heat.peak_load").missing)


def test_season_and_wood_by_degree_days() -> None:
    project = studio()
    assert project.site.months is not None
    loss = value(plain(), "heat.loss_coefficient")
    energy = loss * degree_days(project.site.months, 15.0) * 24 / 1000 * 0.62
    assert value(plain(), "heat.season_energy") == pytest.approx(energy)
    solid = energy / 0.7 / solid_energy(fuel("birch"), 0.20)
    assert value(plain(), "heat.firewood_solid") == pytest.approx(solid)
    assert value(plain(), "heat.firewood_stacked") == pytest.approx(solid / 0.59)
    assert value(plain(), "heat.firewood_stacked") == pytest.approx(2.9, abs=0.15)
    for key in ("heat.season_energy", "heat.firewood_stacked", "heat.firewood_solid"):
        figure = plain().figure(key)
        assert figure.low < figure.value < figure.high  # type: ignore[operator]
        assert figure.steps


@pytest.mark.parametrize(
    ("words", "missing"),
    [
        ({"air_changes": None, "fan_test": None}, None),
        ({"door_u_value": None}, "door_u_value"),
        ({"roof": replace(studio().heat.house.roof, insulation=Insulation())}, "heat.roof"),
        ({"floor": replace(studio().heat.house.floor, soil="")}, "heat.floor"),
        ({"windows": replace(studio().heat.house.windows, u_value=None)}, "heat.windows.u_value"),
    ],
)
def test_what_is_not_stated_stays_unknown(words: dict[str, object], missing: str | None) -> None:
    made = reckon(changed(**words))
    figure = made.figure("heat.loss_coefficient")
    if missing is None:  # the gaps round the log ends tell how much air leaks
        assert made.figure("timber.leakage").value is not None
        air = next(p for p in house(made).losses if p.kind == "air")
        assert "shrinkage gaps" in air.how
        return
    assert figure.value is None
    assert any(missing in m for m in figure.missing)
    assert made.figure("heat.peak_load").missing == ("what the building loses (heat.loss_coefficient)",)
    assert made.figure("heat.firewood_stacked").value is None


def test_nothing_is_said_of_a_building_that_is_not_heated() -> None:
    project = studio()
    cold = reckon(replace(project, heat=replace(project.heat, house=HouseInput())))
    assert house(cold).figures == house(cold).checks == ()
    assert not [f for f in cold.figures if f.key.startswith("heat.")]
    assert not [c for c in cold.checks if c.key in ("damp.mould", "damp.snow")]
    assert cold.figure("damp.wetted_height").value is not None


def test_wood_moisture_and_species_are_asked_for() -> None:
    made = reckon(changed(firewood=replace(studio().heat.house.firewood, species="", moisture=None)))
    missing = " ".join(made.figure("heat.firewood_stacked").missing)
    assert "heat.firewood.species" in missing
    assert "heat.firewood.moisture" in missing
    with pytest.raises(OutOfRangeError, match="no firewood 'teak'"):
        fuel("teak")


def test_single_changes_are_ranked_and_better_things_save() -> None:
    found = {c.name: c for c in house(plain()).changes}
    losses = [c.after for c in house(plain()).changes]
    assert losses == sorted(losses)
    assert found["log ends 50 mm longer"].share > 0 > found["log ends 50 mm shorter"].share
    assert found["beads 20 mm thinner, more fill"].share > 0
    assert found["air leaks halved"].before - found["air leaks halved"].after == pytest.approx(5.04, abs=0.01)
    assert all(c.wood_saved is not None for c in found.values())


def test_the_year_gives_mornings_months_and_wood() -> None:
    made = with_year()
    year = house(made).year
    assert year is not None
    assert year.run.felt.size == 8760
    assert sum(year.fire) == pytest.approx(year.season_energy[1])
    assert value(made, "heat.season_energy") == pytest.approx(sum(year.fire) / 3.6e6)
    assert year.fire[6] == 0.0 < year.fire[0]
    low, middle, high = year.season_energy
    assert low < middle < high
    morning, drop = made.figure("heat.morning_temperature"), made.figure("heat.night_drop")
    assert 8 < morning.value < 19  # type: ignore[operator]
    assert 4 < drop.value < 16  # type: ignore[operator]
    assert drop.unit == "K"
    assert year.warm_hours < year.warm_hours_shut
    assert year.fires > 150


def test_a_house_left_cold_takes_more_than_its_share_of_days() -> None:
    by_days, by_hours = value(plain(), "heat.season_energy"), value(with_year(), "heat.season_energy")
    assert by_hours > by_days
    steps = {s.symbol: s.value for s in with_year().figure("heat.season_energy").steps}
    assert steps["by degree days"] == pytest.approx(by_days)
    assert steps["by the hours"] == pytest.approx(by_hours)


def test_a_heavy_stove_evens_out_the_night() -> None:
    heavy = changed(stove=StoveInput(power=5000.0, efficiency=0.7, kind="masonry"))
    made = reckon(heavy, studies=HouseYears())
    assert value(made, "heat.night_drop") < value(with_year(), "heat.night_drop")
    assert value(made, "heat.morning_temperature") > value(with_year(), "heat.morning_temperature")


def test_the_year_is_only_asked_for_when_all_it_needs_is_known() -> None:
    years = HouseYears()
    reckon(changed(door_u_value=None), studies=years)
    assert years.cases == []


def test_days_in_use_are_as_many_as_the_share_and_in_a_row() -> None:
    used = days_in_use(0.62, 364)
    assert used.mean() == pytest.approx(0.62, abs=0.01)
    weeks = used.reshape(52, 7)
    assert ((np.diff(weeks, axis=1) >= 0).all(axis=1)).all()
    assert days_in_use(1.0, 365).all()
    assert not days_in_use(0.0, 365).any()


def test_a_drawn_year_has_no_sun_by_night_and_asks_for_its_place() -> None:
    site = studio().site
    year = drawn_year(site)
    assert year is not None
    assert wanting_for_hours(site) == ()
    assert "the latitude" in wanting_for_hours(replace(site, latitude=None))[0]
    assert drawn_year(replace(site, latitude=None)) is None
    ready = weather_of(year)
    assert (year.direct_normal[ready.sun.height <= 0] == 0).all()
    assert ready.bridged == 0


def test_gaps_in_the_weather_are_bridged_and_told_and_too_many_refused() -> None:
    year = drawn_year(studio().site)
    assert year is not None
    holed = year.temperature.copy()
    holed[100:110] = np.nan
    ready = weather_of(replace(year, temperature=holed))
    assert ready.bridged == 10
    assert np.isfinite(ready.temperature).all()
    holed = np.where(np.arange(8760) < 2000, np.nan, holed)
    with pytest.raises(OutOfRangeError, match="were not measured"):
        weather_of(replace(year, temperature=holed))


def test_eaves_over_a_window_hang_as_the_roof_slopes() -> None:
    plan = studio().plan
    window = next(o for o in plan.openings if o.id == "W1")
    hole = hole_of(window, plan, "outside")
    assert hole.eaves == pytest.approx(0.8)
    assert hole.above == pytest.approx(2.25 - 0.75 - 1.2 + 0.2 - 0.8 * np.tan(plan.roof.pitch))  # type: ignore[union-attr]
    assert hole_of(window, plan, "inside").setback > hole_of(window, plan, "middle").setback > hole.setback


def test_a_roof_light_takes_its_area_from_the_roof() -> None:
    parts = {p.name: p for p in house(plain()).losses}
    assert parts["roof lights"].amount == pytest.approx(0.78 * 0.98)
    assert parts["roof"].amount == pytest.approx(value(plain(), "plan.inner_area") - 0.78 * 0.98)
    dark = reckon(changed(roof_lights=(RoofLight(id="R1", width=0.78, height=0.98, u_value=2.0),)))
    assert {p.name: p for p in house(dark).losses}["roof lights"].each[1] == pytest.approx(2.0)


def test_floor_over_open_air_and_stated_u_values() -> None:
    stated = studio().heat.house
    open_floor = replace(stated.floor, kind="over open air")
    made = reckon(changed(floor=open_floor), studies=HouseYears())
    floor = next(p for p in house(made).losses if p.kind == "floor")
    boards, xps = 0.028 / 0.13, 0.1 / 0.035
    assert floor.each[1] == pytest.approx(1 / (0.21 + boards + xps))
    known = reckon(changed(floor=replace(stated.floor, u_value=0.3), roof=replace(stated.roof, u_value=0.2)))
    each = {p.kind: p.each[1] for p in house(known).losses}
    assert (each["floor"], each["roof"]) == (0.3, 0.2)


def test_leaks_by_a_fan_test_follow_wind_and_warmth() -> None:
    made = reckon(changed(air_changes=None, fan_test=8.0), studies=HouseYears())
    air = next(p for p in house(made).losses if p.kind == "air")
    assert "fan test" in air.how
    assert air.loss[1] == pytest.approx(74.95 * 0.4 * 0.3364, rel=0.01)
    assert house(made).year is not None


@pytest.mark.parametrize(
    ("words", "field"),
    [
        ({"set_temperature": 60.0}, "heat.set_temperature"),
        ({"design_temperature": 25.0}, "heat.design_temperature"),
        ({"fan_test": 5.0}, "heat.fan_test"),
        ({"stove": StoveInput(fires=(7.0, 7.5))}, "heat.stove.fires"),
        ({"stove": StoveInput(fires=())}, "heat.stove.fires"),
        ({"door_u_value": 12.0}, "heat.door_u_value"),
        ({"floor": replace(studio().heat.house.floor, edge="vertical")}, "heat.floor.edge"),
        ({"roof": replace(studio().heat.house.roof, insulation=Insulation(thickness=0.3))}, "heat.roof.insulation"),
        (
            {"roof": replace(studio().heat.house.roof,
                             insulation=Insulation(thickness=0.3, material="straw", conductivity=0.05))},
            "heat.roof.conductivity",
        ),
    ],
)  # fmt: skip
def test_faults_are_named_by_their_key(words: dict[str, object], field: str) -> None:
    found = find_house_faults(changed(**words).heat.house)
    assert [p.field for p in found] == [field]
    assert found[0].hint
    assert find_house_faults(studio().heat.house) == ()


def test_vapour_by_people_and_air_or_by_the_class() -> None:
    stated = studio().heat.house
    few = over_pressure(stated, 75.0, -5.0)
    assert few == pytest.approx(0.10 / (0.4 * 75) * 461.5 * 292.15)
    assert over_pressure(replace(stated, people=4), 75.0, -5.0) == pytest.approx(4 * few)
    assert over_pressure(replace(stated, people=None), 75.0, -5.0) == 810.0
    assert over_pressure(stated, 75.0, 20.0) == 0.0


def test_damp_people_make_the_face_need_more_and_the_wall_wetter() -> None:
    few, many = reckon(studio()), reckon(changed(people=6))
    needs = [next(c for c in damp(r).checks if c.key == "damp.mould").demand for r in (few, many)]
    assert needs[1] > needs[0]  # type: ignore[operator]
    assert next(c for c in damp(many).checks if c.key == "damp.mould").verdict == "short"
    assert value(many, "damp.winter_water.joint") > value(few, "damp.winter_water.joint")
    assert damp(many).vapour["joint"].wettest == "between the fill and the outer bead"


def test_water_of_the_mortar_leaves_and_the_longer_in_thicker_beads() -> None:
    assert 60 < value(plain(), "damp.building_water") < 1095
    assert plain().figure("damp.building_water").bound == "at_most"
    unknown = reckon(replace(studio(), site=replace(studio().site, laying_begins=None)))
    assert any("laying_begins" in m for m in unknown.figure("damp.building_water").missing)


def test_rain_from_a_side_ranks_that_side_first() -> None:
    made = reckon(changed(rain_side=5 * pi / 4))
    order = [p.panel for p in damp(made).panels]
    assert order[0] == "SW"
    lee = next(p for p in damp(made).panels if p.panel == "NE")
    assert lee.score == 0.0
    assert lee.why == ("nothing found",)
    wet = next(p for p in damp(made).panels if p.panel == "SW")
    assert wet.cure.startswith("wider eaves before the roof is on")


def test_lying_snow_and_a_low_plinth_are_told_with_their_cure() -> None:
    snowed = reckon(changed(lying_snow=0.6))
    check = next(c for c in damp(snowed).checks if c.key == "damp.snow")
    assert check.verdict == "short"
    assert all("foot within lying snow" in p.why for p in damp(snowed).panels)
    project = studio()
    low = reckon(replace(project, plan=replace(project.plan, plinth_height=0.2)))
    assert next(c for c in damp(low).checks if c.key == "damp.splash").verdict == "short"
    assert damp(low).panels[0].cure.startswith("coarse gravel")


def test_wind_that_nobody_states_gives_no_height() -> None:
    site = replace(studio().site, months=replace(studio().site.months, wind=None))  # type: ignore[type-var]
    made = reckon(replace(studio(), site=site))
    assert made.figure("damp.wetted_height").value is None
    assert next(c for c in damp(made).checks if c.key == "damp.eaves").verdict == "not judged"


def test_the_first_winter_dries_the_wall_and_opens_its_gaps() -> None:
    made = plain().warmth.winter
    assert made.missing == ()
    assert made.heated_from == date(2028, 9, 1)
    assert made.moisture.shape == made.gap.shape == (3, made.days.size)
    assert made.moisture[1, 0] == pytest.approx(0.16, abs=0.002)
    assert value(plain(), "timber.moisture_after_winter") < 0.16
    assert 0 < value(plain(), "timber.gap_after_winter") < 1.3e-3
    assert min(made.indoor) < 0.10


def test_readings_stand_beside_the_forecast() -> None:
    from cordwright.heat.house_reckoning import WarmthCase, _winter_case

    project, done = studio(), plain()
    case = WarmthCase(
        heat=project.heat, site=project.site, plan=project.plan, built=done.plan, timber=project.timber,
        stock=done.timber.stock, mix=done.mix, wood_fraction=0.6, figures={f.key: f for f in done.figures},
        moistures=(Mark(day=date(2028, 12, 1), value=0.14, where="S 2-23"),),
        gaps=(Mark(day=date(2029, 3, 1), value=4e-4),),
    )  # fmt: skip
    made = first_winter(_winter_case(case))
    assert made.moistures[0].where == "S 2-23"
    assert made.gaps[0].value == 4e-4
    blank = first_winter(replace(_winter_case(case), laid=None))
    assert "site.laying_begins" in blank.missing[0]
    assert [f.value for f in blank.figures] == [None, None]


def test_the_diary_s_readings_come_to_the_chart() -> None:
    day = date(2028, 12, 1)
    made = datetime(2028, 12, 1, 18, 0, tzinfo=UTC)

    def entry(n: int, said: object) -> Entry:
        return Entry(id=str(n), day=day, made=made, said=said)  # type: ignore[arg-type]

    records = Records(
        entries=(
            entry(1, Moisture(share=0.13, log="S 2-23")),
            entry(2, Crack(place="gap round S 2-23", width=4e-4)),
            entry(3, Crack(place="corner SW", width=2e-4)),
        )
    )
    winter = reckon(studio(), records=records).warmth.winter
    assert winter.moistures == (Mark(day=day, value=0.13, where="S 2-23"),)
    assert winter.gaps == (Mark(day=day, value=4e-4, where="gap round S 2-23"),)
