"""Does the map of lines know every key of any document, and the line each stands on?"""

import tomllib
from pathlib import Path

import pytest
import tomlkit
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from cordwright.project import lines_of
from cordwright.project.lines import key_path, parent_path

ROOT = Path(__file__).resolve().parents[2]
DOCUMENTS = [*sorted((ROOT / "examples").glob("*/building.toml")), ROOT / "src/cordwright/data/blank/building.toml"]

keys = st.one_of(
    st.text("abc-_1", min_size=1, max_size=4), st.text(min_size=0, max_size=5).filter(lambda k: "\x00" not in k)
)
scalars = st.one_of(
    st.text(max_size=12),
    st.integers(-(2**40), 2**40),
    st.floats(allow_nan=False, allow_infinity=False),
    st.booleans(),
    st.dates(),
)
values = st.recursive(
    scalars,
    lambda inner: st.one_of(st.lists(inner, max_size=3), st.dictionaries(keys, inner, max_size=3)),
    max_leaves=12,
)
documents = st.dictionaries(keys, values, max_size=5)


def paths(value, path=""):
    """Every key path of what the TOML reader gives."""
    pairs = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    for key, part in pairs:
        here = key_path(path, key)
        yield here
        yield from paths(part, here)


def assert_known(text):
    lines = lines_of(text)
    assert set(lines) == set(paths(tomllib.loads(text)))
    assert all(1 <= line <= text.count("\n") + 1 for line in lines.values())
    return lines


@pytest.mark.parametrize("path", DOCUMENTS, ids=lambda path: path.parent.name)
@pytest.mark.parametrize("ending", ["\n", "\r\n"])
def test_every_key_of_every_example_stands_on_its_line(path, ending):
    text = path.read_text(encoding="utf-8").replace("\n", ending)
    rows = text.split("\n")
    for key, line in assert_known(text).items():
        name = key.rpartition(".")[2].partition("[")[0]
        row = rows[line - 1].strip()
        inside_list = key.endswith("]") and not row.startswith("[[")
        assert inside_list or row.startswith((f"{name} =", "[")), (key, row)
        assert not row.startswith("[") or name in row


@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(documents)
def test_every_key_of_any_document_is_known(content):
    assert_known(tomlkit.dumps(content))


@settings(max_examples=80, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(st.data())
def test_headers_in_any_order_give_their_own_lines(data):
    """Tables, arrays of tables and sub-tables in turns, between comments; each line is known as built."""
    rows, expected, counts = [], {}, {}
    for n in range(data.draw(st.integers(1, 12))):
        rows += data.draw(st.lists(st.sampled_from(["", "# a [comment] = 1", "  ", "\t# [[x]]"]), max_size=2))
        kind = data.draw(st.sampled_from(["table", "many", "under"]))
        path, header = _header(kind, n, data.draw(st.sampled_from("xyz")), counts)
        rows.append(header)
        expected[path] = len(rows)
        rows.append(
            data.draw(st.sampled_from(["k = 1", "  k='a # ]'", 'k = """\n[no]\n"""', "k = [\n 1, # ]\n]", '"k"={a=1}']))
        )
        expected[f"{path}.k"] = len(rows)
        rows = "\n".join(rows).split("\n")
    lines = assert_known("\n".join(rows))
    assert {path: lines[path] for path in expected} == expected


def _header(kind, n, name, counts):
    if kind == "many" or (kind == "under" and not counts.get(name)):
        counts[name] = counts.get(name, 0) + 1
        return f"{name}[{counts[name] - 1}]", f"[[{name}]] # here"
    if kind == "under":
        return f"{name}[{counts[name] - 1}].sub{n}", f"[{name}.sub{n}]"
    return f"t{n}.'a b'".replace("'a b'", '"a b"'), f"[ t{n} . 'a b' ]"


@settings(max_examples=300, deadline=None)
@given(st.text("ab=.[]{}\"'#\\\n\r ,1u", max_size=40))
def test_text_that_is_no_toml_never_raises_nor_names_a_line_it_has_not(text):
    assert all(1 <= line <= text.count("\n") + text.count("\r") + 1 for line in lines_of(text).values())


@settings(deadline=None)
@given(st.lists(st.one_of(keys, st.integers(0, 9)), min_size=1, max_size=5).filter(lambda p: isinstance(p[0], str)))
def test_a_path_has_the_parent_it_was_made_of(parts):
    path = ""
    for part in parts:
        parent, path = path, key_path(path, part)
        assert parent_path(path) == parent


@pytest.mark.parametrize(
    "text", ["a={1,]", "a=[1,}", "a=[{,]", "a={b=[}", "[[", "a.", "=", "a={b", 'a="', "[a\n]\nb=["]
)
def test_brackets_that_do_not_match_come_to_an_end(text):
    assert set(lines_of(text).values()) <= {1, 2, 3}


def test_a_long_document_is_one_pass():
    text = "".join(f'[[row]]\nname = "{n}"\nsizes = [1, 2, 3]\n' for n in range(20_000))
    lines = lines_of(text)
    assert lines["row[19999].sizes[2]"] == 60_000
