"""A part of the mix that names its sand: what was measured of that sand holds, what the part states goes before it."""

import shutil

import pytest

from cordwright.mortar import MixPart, SandInput, as_measured, loose_material
from cordwright.project import read

STATED = 'parts = 10\nmoisture = "5 %"\nbulking = 1.18\n'
PIT = SandInput(name="pit", slug="pit", loose_density=1620.0, moisture=0.04, bulking=1.2)


def part(form="damp sand", **more):
    return MixPart(name="sand", kind="sand", form=form, parts=1, **more)


@pytest.fixture
def reading(tmp_path, examples):
    def make(wanted, old=STATED):
        folder = tmp_path / "building"
        shutil.copytree(examples["weaving-studio"], folder)
        path = folder / "building.toml"
        text = path.read_text(encoding="utf-8")
        assert text.count(old) == 1
        path.write_text(text.replace(old, wanted if old != STATED else f"parts = 10\n{wanted}"), encoding="utf-8")
        return read(folder)

    return make


def sand_of(made):
    (found,) = (p for p in made.project.mortar.parts if p.kind == "sand")
    return found


def test_what_was_measured_of_the_sand_holds(reading):
    found = sand_of(reading('sand = "pit"\n'))
    assert (found.sand, found.moisture, found.bulking) == ("pit", 0.05, 1.18)
    assert found.bulk_density == pytest.approx(1620 / 1.18)


def test_what_the_part_states_goes_before(reading):
    found = sand_of(reading('sand = "pit"\nmoisture = "3 %"\nbulk_density = "1.3 kg/L"\n'))
    assert (found.moisture, found.bulking, found.bulk_density) == (0.03, 1.18, pytest.approx(1300))


def test_an_unknown_sand_names_the_nearest(reading):
    made = reading('sand = "pitt"\n')
    (fault,) = (p for p in made.problems if p.severity == "error")
    assert fault.field.endswith(".sand")
    assert fault.message == 'there is no sand "pitt"'
    assert fault.hint == "the nearest is pit; allowed: pit, lake beach, crushed 0/4"
    assert made.lines[fault.field] == fault.line


def test_only_sand_names_a_sand(reading):
    made = reading('name = "cement"\nsand = "pit"\n', 'name = "cement"\n')
    assert [p.message for p in made.problems if p.severity == "error"] == ["cement is cement and names a sand"]


def test_a_damp_measure_holds_less_by_the_bulking_and_a_dry_one_does_not():
    damp, dry = (loose_material(as_measured(part(form), PIT)).sand for form in ("damp sand", "dry sand"))
    assert dry == pytest.approx(1620)
    assert damp == pytest.approx(1620 / 1.2)


def test_a_sand_of_which_nothing_was_measured_leaves_the_tables_values():
    bare = SandInput(name="bare", slug="bare")
    assert loose_material(as_measured(part(), bare)).sand == loose_material(part()).sand
