"""The cache of layouts: kept and read back, passed over when damaged or of another make, never in the way."""

import json
from dataclasses import replace
from datetime import date

import numpy as np
import pytest
from numpy.typing import NDArray

import layout_samples as samples
from cordwright.base import DataError
from cordwright.project import read
from cordwright.project.codec import decode, encode
from cordwright.project.studies import KEPT, KeptStudies, keep, read_kept, season_key
from cordwright.reckon import reckon
from cordwright.season import season
from cordwright.season.work import work_of
from cordwright.site import weather_model
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


def test_seasons_that_are_kept_come_back_whole(tmp_path, examples, monkeypatch):
    project = read(examples["weaving-studio"]).project
    assert project is not None
    weather = weather_model(project.site)
    done = reckon(project)
    work = work_of(project.site, project.plan, done.plan, project.timber, done.timber)
    few = season.reckon_season
    monkeypatch.setattr(season, "reckon_season", lambda *given, **more: few(*given, **more, seasons=20))
    (tmp_path / "building.toml").write_text("", encoding="utf-8")
    studies = KeptStudies(tmp_path, clock=lambda: 0.0, say=pytest.fail)
    run = studies.season(project, work, weather, date(2027, 8, 1))
    assert run is not None
    monkeypatch.setattr(season, "reckon_season", lambda *_given, **_more: pytest.fail("run anew"))
    kept = studies.season(project, work, weather, date(2027, 8, 1))
    assert kept is not None
    assert encode(kept) == encode(run)
    assert kept.chosen_outcome.fan.threads.shape == run.chosen_outcome.fan.threads.shape
    assert kept.chosen_outcome.laid.middle == run.chosen_outcome.laid.middle
    assert studies.season(project, work, None, None) is None
    key = season_key(project, work, weather, None)
    other = replace(project, season=replace(project.season, people=2.0))
    assert key != season_key(project, work, weather, date(2027, 8, 1))
    assert key != season_key(other, work, weather, None)
    assert key != season_key(project, replace(work, framed=not work.framed), weather, None)
    assert key != season_key(project, work, replace(weather, persistence=weather.persistence + 0.01), None)


@pytest.mark.parametrize(
    ("kind", "plain"),
    [
        (date, "2027-02-30"),
        (date, 7),
        (NDArray[np.float64], {"shape": [2], "numbers": [1.0]}),
        (NDArray[np.float64], {"shape": [-1], "numbers": []}),
        (NDArray[np.float64], {"shape": [1], "numbers": ["a"]}),
        (NDArray[np.float64], [1.0]),
    ],
)
def test_days_and_arrays_that_do_not_fit_are_refused(kind, plain):
    with pytest.raises(DataError):
        decode(kind, plain)


def test_days_and_arrays_come_back_to_the_bit():
    numbers = np.random.default_rng(1).normal(size=(3, 4))
    assert np.array_equal(decode(NDArray[np.float64], json.loads(json.dumps(encode(numbers)))), numbers)
    assert decode(NDArray[np.float64], encode(np.zeros((0, 5)))).shape == (0, 5)
    assert decode(date, encode(date(2028, 2, 29))) == date(2028, 2, 29)
