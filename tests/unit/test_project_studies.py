"""The cache of layouts: kept and read back, passed over when damaged or of another make, never in the way."""

import json

import pytest

import layout_samples as samples
from cordwright.project.studies import KEPT, keep, read_kept
from cordwright.wall.laid_study import LayoutStudy


@pytest.fixture
def study():
    layout = samples.hexagonal(4, 3)
    return LayoutStudy(panels=(layout,), stock=samples.stock_of(layout), unused=(), seconds={"hexagonal": 0.1})


def test_what_is_kept_comes_back(tmp_path, study):
    path, said = tmp_path / ".cache" / "layout-a.json", []
    keep(path, "a", study, said.append)
    assert read_kept(path, LayoutStudy, "a") == study
    assert said == []


@pytest.mark.parametrize(
    "damage", [b"", b"{", b"[]", b"null", b"\xff\xfe", b'{"key": "a", "result": {}}', b'{"key": "a"}']
)
def test_a_damaged_file_is_passed_over(tmp_path, damage):
    path = tmp_path / "layout-a.json"
    path.write_bytes(damage)
    assert read_kept(path, LayoutStudy, "a") is None


def test_another_key_and_a_cut_file_are_passed_over(tmp_path, study):
    path = tmp_path / "layout-a.json"
    keep(path, "b", study, print)
    assert read_kept(path, LayoutStudy, "a") is None
    content = path.read_bytes()
    for share in (0.1, 0.5, 0.999):
        path.write_bytes(content[: int(len(content) * share)])
        assert read_kept(path, LayoutStudy, "b") is None
    extra = json.loads(content)
    extra["result"]["foreign"] = 1
    path.write_text(json.dumps(extra), encoding="utf-8")
    assert read_kept(path, LayoutStudy, "b") is None


def test_a_folder_that_cannot_be_written_is_told(tmp_path, study):
    (tmp_path / ".cache").write_text("a file in the way", encoding="utf-8")
    said = []
    keep(tmp_path / ".cache" / "layout-a.json", "a", study, said.append)
    assert len(said) == 1
    assert "not kept" in said[0]


def test_old_layouts_make_room(tmp_path, study):
    for n in range(KEPT + 3):
        keep(tmp_path / ".cache" / f"layout-{n}.json", str(n), study, print)
    assert len(list((tmp_path / ".cache").iterdir())) == KEPT
