"""Does a change touch the one line it is meant for, and nothing else, in any file an owner may have?"""

import shutil
import tomllib
from datetime import date
from pathlib import Path

import pytest

from cordwright.base import FileChangedError
from cordwright.project import change, lines_of, read
from cordwright.project.changing import changed_content, steps
from cordwright.project.faults import FieldFault
from cordwright.project.reading import read_content

ROOT = Path(__file__).resolve().parents[2]
FOLDERS = sorted(path.parent for path in (ROOT / "examples").glob("*/building.toml"))


def value_at(content, key):
    for step in steps(key):
        content = content[step]
    return content


def new_value(old):
    """Another value of the same kind, as typed at the command line, and what must be read back."""
    if isinstance(old, str):
        return old + ' #"\\', old + ' #"\\'
    if isinstance(old, date):
        return "2031-01-02", date(2031, 1, 2)
    return "7", 7


def scalar_keys(content):
    text = content.decode()
    tables = tomllib.loads(text)
    return [key for key in lines_of(text) if not isinstance(value_at(tables, key), dict | list)]


@pytest.mark.parametrize(
    ("folder", "ending"),
    [*((folder, b"\n") for folder in FOLDERS), (FOLDERS[0], b"\r\n")],
    ids=lambda given: getattr(given, "name", repr(given)),
)
def test_a_change_of_any_key_alters_exactly_its_line(folder, ending):
    content = (folder / "building.toml").read_bytes().replace(b"\n", ending)
    reading = read_content(folder / "building.toml", content)
    old_lines = content.split(b"\n")
    keys = scalar_keys(content)
    for key in keys:
        typed, wanted = new_value(value_at(tomllib.loads(content.decode()), key))
        fresh = changed_content(content, key, typed, reading.lines)
        new_lines = fresh.split(b"\n")
        different = [n for n, (a, b) in enumerate(zip(old_lines, new_lines, strict=True), 1) if a != b]
        assert different == [reading.lines[key]], key
        assert value_at(tomllib.loads(fresh.decode()), key) == wanted
    assert len(keys) > 60


@pytest.fixture
def studio(tmp_path):
    """A copy of the weaving studio to write in."""
    return Path(shutil.copytree(ROOT / "examples/weaving-studio", tmp_path / "studio"))


def rewrite(folder, old, new):
    path = folder / "building.toml"
    content = path.read_bytes()
    assert old in content
    path.write_bytes(content.replace(old, new, 1))
    return path


def test_a_change_is_saved_with_the_comment_behind_it(studio):
    path = rewrite(studio, b'height = "2.25 m"', b'height   =  "2.25 m"   # bed to head')
    before = path.read_bytes()
    assert change(studio, "plan.height", "2.3 m") == ()
    assert path.read_bytes() == before.replace(b'"2.25 m"   # bed', b'"2.3 m"   # bed')
    project = read(studio).project
    assert project is not None
    assert project.plan.height == 2.3


def test_a_mark_at_the_beginning_and_line_endings_are_kept(studio):
    path = studio / "building.toml"
    path.write_bytes(b"\xef\xbb\xbf" + path.read_bytes().replace(b"\n", b"\r\n"))
    before = path.read_bytes()
    assert change(path, "openings[1].sill", '"0.8 m"') == ()
    assert path.read_bytes().count(b"\r\n") == before.count(b"\r\n") == before.count(b"\n")
    assert path.read_bytes().startswith(b"\xef\xbb\xbf# ")


@pytest.mark.parametrize(
    ("key", "text", "told"),
    [
        ("wall.log_end_length", "14", "14 in (356 mm) or 14 cm (140 mm)"),
        ("plan.height", "-2 m", "negative"),
        ("openings[0].from_left", "2.3 m", "W2"),
        ("roof.form", "hipp", "hip"),
        ("mix.parts[0].parts", "zero", "no value"),
        ("plan.hight", "2 m", "no key"),
        ("openings[99].sill", "1 m", "no key"),
        ("wall", "x", "table"),
        ("no.such", "x", "no key"),
        ("", "x", "no key"),
        ("rules[0].date", "June", "no value"),
    ],
)
def test_a_change_that_brings_an_error_is_refused_and_nothing_is_written(studio, key, text, told):
    before = (studio / "building.toml").read_bytes()
    problems = change(studio, key, text)
    assert any(told in str(p) and p.severity == "error" for p in problems), problems
    assert (studio / "building.toml").read_bytes() == before


def test_an_old_error_elsewhere_does_not_hinder_a_change(studio):
    path = rewrite(studio, b'kerf = "9 mm"', b'kerf = "9 kg"')
    assert change(studio, "plan.height", "2.3 m") == ()
    assert b'height = "2.3 m"' in path.read_bytes()
    assert change(studio, "stock.kerf", "8 mm") == ()
    assert read(studio).project is not None


def test_lists_and_numbers_are_typed_as_toml(studio):
    assert change(studio, "mix.parts[0].parts", "2.5") == ()
    assert change(studio, "notes", "[]")[0].severity == "error"
    assert change(studio, "project.notes", '["one", "two"]') == ()
    project = read(studio).project
    assert project is not None
    assert project.notes == ("one", "two")
    assert project.mortar.parts[0].parts == 2.5


def test_hostile_text_is_one_value_and_nothing_more(studio):
    typed = 'x"\n[plan]\nheight = "9 m"'
    assert change(studio, "project.name", typed) == ()
    project = read(studio).project
    assert project is not None
    assert project.name == typed
    assert project.plan.height == 2.25


def test_a_file_changed_since_it_was_read_is_left_alone(studio):
    digest = read(studio).digest
    path = rewrite(studio, b"# The weaving", b"# My weaving")
    before = path.read_bytes()
    with pytest.raises(FileChangedError, match="changed since"):
        change(studio, "plan.height", "2.3 m", expected=digest)
    assert path.read_bytes() == before
    assert change(studio, "plan.height", "2.3 m", expected=read(studio).digest) == ()


def test_a_missing_or_broken_file_is_told_not_raised(tmp_path):
    assert change(tmp_path, "plan.height", "2 m")[0].severity == "error"
    (tmp_path / "building.toml").write_bytes(b"[plan\n")
    assert "not TOML" in change(tmp_path, "plan.height", "2 m")[0].message


@pytest.mark.parametrize(
    ("key", "parts"),
    [
        ("plan.height", ["plan", "height"]),
        ("openings[1].sill", ["openings", 1, "sill"]),
        ('a."b.c"[0]."d\\"e"', ["a", "b.c", 0, 'd"e']),
    ],
)
def test_key_paths_are_cut_into_steps(key, parts):
    assert steps(key) == parts


def test_what_is_no_key_path_is_refused():
    with pytest.raises(FieldFault):
        steps("plan height")
