"""[heat] as owners write it: units asked for, words corrected, nothing guessed, everything in SI."""

from math import radians
from pathlib import Path

import pytest

from cordwright.project import read
from cordwright.project.reading import read_content


def test_the_studio_in_si(examples: dict[str, Path]) -> None:
    project = read(examples["weaving-studio"]).project
    assert project is not None
    house = project.heat.house
    assert (house.set_temperature, house.design_temperature, house.used_share) == (19.0, -22.0, 0.62)
    assert house.roof.insulation.thickness == pytest.approx(0.3)
    assert house.windows.u_value == pytest.approx(1.4)
    assert house.stove.power == pytest.approx(5000.0)
    assert house.stove.fires == (7.0, 17.0)
    assert house.firewood.moisture == pytest.approx(0.2)
    assert house.roof_lights[0].width == pytest.approx(0.78)
    assert house.indoor_humidity is house.lying_snow is house.rain_side is None


def test_nothing_is_stated_where_there_is_no_table(examples: dict[str, Path]) -> None:
    project = read(examples["sauna"]).project
    assert project is not None
    assert not project.heat.house.stated


def test_bearings_and_snow(examples: dict[str, Path]) -> None:
    file = examples["weaving-studio"] / "building.toml"
    more = 'people = 1\nrain_from = "-135 deg"\nlying_snow = "0.5 m"\nindoor_humidity = "45 %"'
    text = file.read_text(encoding="utf-8").replace("people = 1", more, 1)
    project = read_content(file, text.encode()).project
    assert project is not None
    assert project.heat.house.rain_side == pytest.approx(radians(225))
    assert project.heat.house.lying_snow == 0.5
    assert project.heat.house.indoor_humidity == 0.45


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ('set_temperature = "19 degC"', "set_temperature = 19", "19 has no scale"),
        ('u_value = "1.4 W/m2K"', 'u_value = "1.4"', "1.4 has no unit"),
        ('u_value = "1.4 W/m2K"', 'u_value = "14 W/m2K"', "is the U-value of no window or door"),
        ('power = "5 kW"', 'power = "5 W/K"', "does not measure a power"),
        ('species = "birch"', 'species = "birhc"', "the nearest is birch"),
        ('material = "wood fibre"', 'material = "wool"', "allowed: wood fibre"),
        ('ground = "sand"', 'ground = "peat"', "clay, sand, rock"),
        ("air_changes = 0.4", "air_changes = -1", "no number that makes sense"),
        ('pane = "outside"', 'pane = "out"', "outside, middle, inside"),
        ('follows = "ceiling"', "folows = 1", "there is no key"),
    ],
)
def test_faults_name_the_line_and_the_way_out(examples: dict[str, Path], old: str, new: str, said: str) -> None:
    file = examples["weaving-studio"] / "building.toml"
    text = file.read_text(encoding="utf-8")
    assert old in text
    reading = read_content(file, text.replace(old, new, 1).encode())
    assert reading.project is None
    assert any(said in str(p) and p.line for p in reading.problems), [str(p) for p in reading.problems]
