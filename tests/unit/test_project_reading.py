"""Does every fault of building.toml become a problem with its line and a way out, all of them at once?"""

import math
import os
from pathlib import Path

import pytest

from cordwright.plan import OvalOutline, PolygonOutline, RoundOutline
from cordwright.project import read

ROOT = Path(__file__).resolve().parents[2]
BLANK = ROOT / "src/cordwright/data/blank"
RECTANGLE = 'shape = "rectangle"\ninside_length = "4.2 m"\ninside_width = "3.0 m"'
SIDES = 'side_names = ["S", "E", "N", "W"]'


@pytest.fixture
def cabin(tmp_path):
    """Writes the blank cabin with pieces of its building.toml replaced, and gives its folder."""

    def make(*replacements):
        for file in BLANK.iterdir():
            (tmp_path / file.name).write_bytes(file.read_bytes())
        path = tmp_path / "building.toml"
        text = path.read_text(encoding="utf-8")
        for old, new in replacements:
            assert old in text, old
            text = text.replace(old, new, 1)
        path.write_text(text, encoding="utf-8")
        return tmp_path

    return make


def problem(folder, field):
    """The one problem of a field, placed on the line its key stands on."""
    reading = read(folder)
    assert reading.project is None
    (found,) = [p for p in reading.problems if p.field == field]
    assert found.where == str(folder / "building.toml")
    assert found.line is not None
    assert found.hint
    return found


def line_of(folder, text):
    lines = (folder / "building.toml").read_text(encoding="utf-8").splitlines()
    return next(n for n, line in enumerate(lines, 1) if text in line)


def test_the_blank_cabin_and_every_example_are_read_without_errors(cabin, example):
    for folder in (cabin(), example):
        reading = read(folder)
        assert reading.project is not None, reading.problems
        assert all(p.severity == "warning" for p in reading.problems)
        assert read(folder / "building.toml").project == reading.project


def test_the_weaving_studio_as_the_stages_see_it(examples):
    project = read(examples["weaving-studio"]).project
    assert project is not None
    outline = project.plan.outline
    assert isinstance(outline, PolygonOutline)
    assert outline.corners[:3] == ((1.4, 0.0), (6.6 - 1.4, 0.0), (6.6, 1.4))
    assert project.plan.side_names == ("S", "SE", "E", "NE", "N", "NW", "W", "SW")
    assert (project.plan.section.log_end_length, project.plan.height) == (0.35, 2.25)
    assert project.plan.roof is not None
    assert project.plan.roof.pitch == pytest.approx(math.radians(27))
    assert len(project.timber.stems) == 58
    assert project.timber.stems[0].butt_diameter == 0.2
    assert project.mortar.bucket == 0.012
    assert [r.slug for r in project.site.rules] == [
        "frost_depth",
        "ground_snow_load",
        "largest_floor_that_needs_only_a_notice",
    ]
    assert [(r.number, r.unit) for r in project.site.rules] == [(1.2, "m"), (None, ""), (60.0, "m2")]
    assert (project.cost.purse, project.cost.currency, project.cost.decimals) == (11000.0, "EUR", 2)


def test_other_examples_in_their_own_units_and_money(examples):
    sauna, bakehouse = read(examples["sauna"]).project, read(examples["bakehouse"]).project
    assert sauna is not None
    assert bakehouse is not None
    assert sauna.plan.outline == RoundOutline(inside_diameter=2.7432)
    assert sauna.timber.stems[0].count == 24
    assert sauna.timber.stems[0].length == 2.667
    assert (sauna.wall.wood_fraction_low, sauna.wall.wood_fraction_high) == (0.57, 0.67)
    assert bakehouse.cost.decimals == 0
    assert bakehouse.site.latitude == -44.2
    assert bakehouse.timber.piles[0].diameters[:3] == (0.095, 0.11, 0.11)
    assert any("no spread stated" in line for line in read(examples["bakehouse"]).echo)


@pytest.mark.parametrize("typed", ['"14"', "14", "14.0"])
def test_a_bare_length_asks_which_unit(cabin, typed):
    """Row 1 of the nasty inputs."""
    folder = cabin(('log_end_length = "350 mm"', f"log_end_length = {typed}"))
    found = problem(folder, "wall.log_end_length")
    assert found.line == line_of(folder, "log_end_length")
    assert "14 in (356 mm) or 14 cm (140 mm)?" in found.message
    assert "350 mm" in found.hint


def test_openings_that_overlap_and_leave_the_wall_are_told_with_their_line(cabin):
    """The reading part of row 2: the stage's numbers, our lines."""
    folder = cabin(('from_left = "0.6 m"', 'from_left = "4 m"'), ('sill = "0 m"', 'sill = "0.5 m"'))
    reading = read(folder)
    assert reading.project is None
    told = [p for p in reading.problems if p.field.startswith("openings[0]") and p.severity == "error"]
    assert told
    assert all(p.line is not None and line_of(folder, "[[openings]]") <= p.line for p in told)


@pytest.mark.parametrize("mix", ['mix = "8:2:2:1"\n', "mix = 8\n"])
def test_a_mix_in_one_word_asks_for_the_form_of_each_part(cabin, mix):
    """Row 8 of the nasty inputs."""
    folder = cabin()
    path = folder / "building.toml"
    text = path.read_text(encoding="utf-8")
    path.write_text(mix + text[: text.index("[mix]")] + text[text.index("[cost]") :], encoding="utf-8")
    (found,) = [p for p in read(folder).problems if p.field.startswith("mix")]
    assert found.line == 1
    if "8:2" in mix:
        assert '"8:2:2:1"' in found.message
        for form in ("damp sand", "putty", "powder"):
            assert form in found.hint


def test_a_mix_written_as_parts_asks_too(cabin):
    folder = cabin(("[mix]", '[mix]\nparts = "8:2:2:1"'))
    path = folder / "building.toml"
    text = path.read_text(encoding="utf-8")
    path.write_text(text[: text.index("[[mix.parts]]")] + text[text.index("[cost]") :], encoding="utf-8")
    assert "form" in problem(folder, "mix.parts").hint


def test_putty_asks_for_its_density(cabin):
    """Row 8: putty is not powder."""
    folder = cabin(('kind = "lime"\nform = "powder"', 'kind = "lime"\nform = "putty"'))
    assert any(p.field.startswith("mix.parts[1]") and "densit" in str(p) for p in read(folder).problems)


def test_beads_that_meet_are_a_warning(cabin):
    """The reading part of row 9."""
    folder = cabin(('log_end_length = "350 mm"', 'log_end_length = "250 mm"'), ('bead = "100 mm"', 'bead = "130 mm"'))
    reading = read(folder)
    assert reading.project is not None, reading.problems
    (found,) = [p for p in reading.problems if p.field == "wall.bead"]
    assert (found.severity, found.line) == ("warning", line_of(folder, 'bead = "130 mm"'))


def test_a_tight_round_wall_of_thick_logs_is_refused(cabin):
    """The reading part of row 10: the joint at the outer face, 162 mm."""
    folder = cabin(
        (RECTANGLE, 'shape = "round"\ninside_diameter = "1.8 m"'),
        (SIDES, ""),
        ('ridge = "90 deg"', ""),
        ('form = "gable"', 'form = "cone"'),
        ('panel = "S"', 'panel = "round"'),
        ('log_end_length = "350 mm"', 'log_end_length = "450 mm"'),
    )
    (folder / "stems.csv").write_text("stem,species,diameter_mm,length_m,bark\nA,spruce,250,2.7,off\n")
    found = [p for p in read(folder).problems if p.field == "wall.joints.nominal"]
    assert found
    assert found[0].severity == "error"


@pytest.mark.parametrize(
    ("old", "new", "field", "told"),
    [
        ("post_allowance", "post_alowance", "plan.post_alowance", "the nearest is post_allowance"),
        ("[roof]", "[rof]", "rof", "the nearest is roof"),
        ('form = "gable"', 'form = "gabel"', "roof.form", "the nearest is gable"),
        ('units = "metric"', 'units = "metrical"', "project.units", "allowed: metric, imperial"),
        ('locale = "en"', 'locale = "qq_QQ"', "project.locale", "no locale"),
        ('currency = "EUR"', 'currency = "euro"', "project.currency", "EUR, USD, CLP"),
        ('height = "2.2 m"\n', "", "plan.height", "missing"),
        ('height = "2.2 m"', "height = true", "plan.height", "true is not a length"),
        ('height = "2.2 m"', "height = inf", "plan.height", "inf is not a length"),
        ('height = "2.2 m"', "height = 0x" + "f" * 6000, "plan.height", "not a length"),
        ('side_names = ["S", "E", "N", "W"]', 'side_names = "S"', "plan.side_names", "a list in brackets"),
        ('side_names = ["S", "E", "N", "W"]', 'side_names = ["S", 3, "N", "W"]', "plan.side_names[1]", "not text"),
        ('inside_width = "3.0 m"\n', "", "plan.inside_width", "needs inside_length and inside_width"),
        ('inside_width = "3.0 m"', 'inside_width = "3 m"\ninside_diameter = "3 m"', "plan.inside_diameter", "has no"),
        ('inside_width = "3.0 m"', 'inside_width = "3 m"\nchamfer = "1.5 m"', "plan.chamfer", "less than 1500 mm"),
        ('proud = "0 mm"', 'proud = "175 mm"', "wall.proud", "leave nothing"),
        ('wood_fraction = "60 %"', "wood_fraction = 60", "wall.wood_fraction", "60 % or 6000 %"),
        ("[wall.joints]", "[wall.joint]", "wall.joints", "missing"),
        ('stems = "stems.csv"', 'stems = "../stems.csv"', "stock.stems", "leads out"),
        ('stems = "stems.csv"', 'stems = "/etc/passwd"', "stock.stems", "a place on this computer"),
        ('stems = "stems.csv"', 'stems = "C:\\\\stems.csv"', "stock.stems", "a place on this computer"),
        ('stems = "stems.csv"', 'stems = ""', "stock.stems", "names no file"),
        ('like = "Norway spruce"', 'like = "Norway sprucce"', "species[0].like", "the nearest is Norway spruce"),
        ('name = "spruce"', 'name = "spruce"\ndensity = "450 kg/m3"', "species[0].density", "measured_moisture"),
        ("parts = 2", 'parts = "two"', "mix.parts[0].parts", "a number above 0"),
        ("parts = 2", "parts = -2", "mix.parts[0].parts", "a number above 0"),
        ('form = "damp sand"', 'form = "damp snad"', "mix.parts[2].form", "the nearest is damp sand"),
        ('prices = "prices.csv"', 'prices = "prices.csv"\npurse = "100 USD"', "cost.purse", "the project in EUR"),
        ('prices = "prices.csv"', 'prices = "prices.csv"\npurse = "much"', "cost.purse", "11000 EUR"),
        ('prices = "prices.csv"', 'prices = "prices.csv"\npurse = "-5 EUR"', "cost.purse", "negative"),
        ('place = ""', 'latitude = "95 deg"', "site.latitude", "beyond 90"),
        ("[[openings]]", "[openings]", "openings", "[[openings]]"),
    ],
)
def test_a_fault_names_its_key_and_line_and_what_is_accepted(cabin, old, new, field, told):
    folder = cabin((old, new))
    found = problem(folder, field)
    assert told in str(found)
    if new and field.rpartition(".")[2].partition("[")[0] in new:
        key = new.splitlines()[-1]
        assert found.line == line_of(folder, key)


def test_every_fault_is_shown_at_once_in_the_order_of_lines(cabin):
    folder = cabin(
        ('height = "2.2 m"', "height = 2.2"),
        ('pitch = "35 deg"', 'pich = "35 deg"'),
        ('kerf = "9 mm"', 'kerf = "9 kg"'),
        ('id = "D1"', "id = 1"),
    )
    (folder / "stems.csv").write_text("stem,species,diameter_mm,length_m\nA,spruce,-3,2.7\n")
    problems = read(folder).problems
    fields = [p.field for p in problems]
    for field in ("plan.height", "roof.pich", "roof.pitch", "stock.kerf", "openings[0].id", "stems[0].diameter"):
        assert field in fields
    own = [p.line for p in problems if p.where.endswith("building.toml")]
    assert own == sorted(own)
    assert problems[-1].where.endswith("stems.csv")


RULE = '[[rules]]\nrule = "frost depth"\nvalue = "1.2 m"\nsaid_by = "office"\ndate = 2027-06-07\n'


def test_rules_of_one_name_get_numbers(cabin):
    folder = cabin(("[plan]", RULE * 3 + "[plan]"))
    project = read(folder).project
    assert project is not None
    assert [r.slug for r in project.site.rules] == ["frost_depth", "frost_depth_2", "frost_depth_3"]


@pytest.mark.parametrize("typed", ['"2027-06-07"', "2027-06-07T10:00:00", "2027"])
def test_a_rule_has_a_date(cabin, typed):
    folder = cabin(("[plan]", RULE.replace("2027-06-07", typed) + "[plan]"))
    assert "year-month-day" in problem(folder, "rules[0].date").hint


def test_a_rule_that_bounds_no_figure_is_told_with_its_line(cabin):
    folder = cabin(("[plan]", RULE + 'limits = "plan.inner_aera"\n[plan]'))
    assert "plan.inner_area" in problem(folder, "rules[0].limits").hint


def test_a_polygon_given_clockwise_is_turned_with_its_sides(cabin):
    corners = 'corners = ["0 m, 0 m", "0 m, 3 m", "4.2 m, 3 m", "4,2 m; 0 m"]'
    sides = 'side_names = ["W", "N", "E", "S"]'
    turned = read(cabin((RECTANGLE, f'shape = "polygon"\n{corners}'), (SIDES, sides))).project
    straight = read(cabin()).project
    assert turned is not None
    assert straight is not None
    assert turned.plan.outline == PolygonOutline(corners=((0.0, 0.0), (4.2, 0.0), (4.2, 3.0), (0.0, 3.0)))
    assert turned.plan == straight.plan


@pytest.mark.parametrize("corner", ["3 m", "3, 4", "3 m, 4 m, 5 m", "", "a, b"])
def test_a_corner_is_two_lengths(cabin, corner):
    corners = f'corners = ["0 m, 0 m", "4 m, 0 m", "{corner}"]'
    assert problem(cabin((RECTANGLE, f'shape = "polygon"\n{corners}')), "plan.corners[2]")


def test_an_oval_plan(cabin):
    folder = cabin(
        (RECTANGLE, RECTANGLE.replace("rectangle", "oval")),
        (SIDES, ""),
        ('panel = "S"', 'panel = "oval"'),
        ('ridge = "90 deg"', ""),
        ('form = "gable"', 'form = "hip"'),
    )
    project = read(folder).project
    assert project is not None
    assert project.plan.outline == OvalOutline(inside_length=4.2, inside_width=3.0)


def test_rounded_corners(cabin):
    rounded = (RECTANGLE, RECTANGLE.replace("3.0 m", "3.4 m") + '\ncorner_radius = "1.4 m"')
    project = read(cabin(rounded, ('from_left = "0.6 m"', 'from_left = "0.1 m"'))).project
    assert project is not None
    assert isinstance(project.plan.outline, PolygonOutline)
    assert project.plan.outline.corner_radius == 1.4


@pytest.mark.parametrize(("ridge", "north", "relative"), [(90, 0, 90), (90, 20, 70), (10, 30, 340)])
def test_the_ridge_turns_with_the_plan(cabin, ridge, north, relative):
    folder = cabin(('ridge = "90 deg"', f'ridge = "{ridge} deg"'), ('north = "0 deg"', f'north = "{north} deg"'))
    project = read(folder).project
    assert project is not None
    assert project.plan.roof is not None
    assert project.plan.roof.ridge == pytest.approx(math.radians(relative))


def test_panels_and_posts(cabin):
    extra = '[[posts]]\nside = "N"\nfrom_left = "2 m"\n[[panels]]\nname = "W"\nhead = "gable"\nrise = "1 m"\n[plan]'
    project = read(cabin(("[plan]", extra))).project
    assert project is not None
    assert project.plan.frame.posts[0].side == "N"
    assert (project.plan.panels[0].head.kind, project.plan.panels[0].head.rise) == ("gable", 1.0)


@pytest.mark.parametrize(
    ("content", "line", "told"),
    [
        (b"", 1, "missing"),
        (b"\xff\xfeh\x00", 1, "UTF-16"),
        (b'[plan]\nname = "\xe4"\n', 2, "not UTF-8"),
        (b"a = 1\nb = \x00", 2, "zero byte"),
        (b"a = 1\nb = [1,\n", 2, "not TOML"),
        (b"a = 1\nb == 2\n", 2, "not TOML"),
        (b"[plan]\n[plan]\n", 2, "not TOML"),
        (b"x = 1\nx = 2\n", 2, "not TOML"),
        (b"x = " + b"[" * 50_000, 1, "too deep"),
        (b"x = " + b"9" * 50_000, 1, "too long"),
        (b"\x89PNG\r\n\x1a\n\x00\x00", 3, "zero byte"),
        (b"#" * 5_000_000, None, "larger than 4 MB"),
    ],
)
def test_a_file_that_is_no_project_is_a_problem_with_its_line(tmp_path, content, line, told):
    (tmp_path / "building.toml").write_bytes(content)
    reading = read(tmp_path)
    assert reading.project is None
    assert reading.problems[0].line == line
    assert told in reading.problems[0].message


def test_a_folder_a_missing_file_and_a_pipe_are_problems(tmp_path):
    (tmp_path / "building.toml").mkdir()
    (tmp_path / "empty").mkdir()
    places = [tmp_path, tmp_path / "nowhere", tmp_path / "empty", Path("a\0b")]
    if hasattr(os, "mkfifo"):
        os.mkfifo(tmp_path / "pipe")
        places.append(tmp_path / "pipe")
    for place in places:
        reading = read(place)
        assert reading.project is None
        assert len(reading.problems) == 1


def test_a_mark_at_the_beginning_is_taken(cabin):
    folder = cabin()
    path = folder / "building.toml"
    path.write_bytes(b"\xef\xbb\xbf" + path.read_bytes().replace(b"\n", b"\r\n"))
    assert read(folder).project is not None


def test_thousands_of_faults_are_counted_not_listed(cabin):
    folder = cabin(("[plan]", "".join(f"x{n} = 1\n" for n in range(3000)) + "[plan]"))
    problems = read(folder).problems
    assert len(problems) == 201
    assert "more faults" in problems[-1].message


def test_a_link_to_a_list_is_followed(cabin, tmp_path_factory):
    folder = cabin()
    kept = tmp_path_factory.mktemp("kept") / "stems.csv"
    kept.write_bytes((folder / "stems.csv").read_bytes())
    (folder / "stems.csv").unlink()
    (folder / "stems.csv").symlink_to(kept)
    assert read(folder).project is not None


def test_a_density_is_traced_back_to_a_basic_one(examples):
    """560 kg/m3 at 24 %: 560 / 1.24 oven-dry, in a volume swollen back by what 6.2 % shrinks from fibre saturation."""
    project = read(examples["bakehouse"]).project
    assert project is not None
    (lenga,) = project.timber.species
    assert lenga.basic_density is not None
    assert 560 / 1.24 * (1 - 0.062) ** 2 < lenga.basic_density < 560 / 1.24
    assert "owner" in lenga.sources
