"""The commands as the owner runs them."""

import hashlib
import json

import pytest


def figures(run_cli, folder, *options):
    run = run_cli("reckon", folder, "--json", "--no-studies", *options)
    assert run.code == 0, run.out + run.err
    return json.loads(run.out)["figures"]


def assert_near(figure, value, tolerance):
    assert figure["value"] == pytest.approx(value, abs=tolerance)


def test_weaving_studio_comes_to_what_the_trade_expects(run_cli, examples):
    got = figures(run_cli, examples["weaving-studio"])
    assert_near(got["plan.gross_wall_area"], 42.57, 0.02)
    assert_near(got["plan.openings_area"], 7.71, 0.02)
    assert_near(got["plan.net_wall_area"], 34.86, 0.02)
    assert_near(got["timber.log_ends"], 804, 0)
    assert_near(got["timber.face_area"], 20.2, 0.05)
    assert_near(got["timber.coverage"], 0.97, 0.005)
    assert_near(got["mortar.volume"], 3.12, 0.02)
    assert_near(got["wall.fill_volume"], 2.20, 0.02)
    assert_near(got["mortar.damp_sand_volume"], 2.5, 0.05)
    assert_near(got["cost.total"], 10296, 0.5)
    assert_near(got["cost.wall_materials"], 669, 0.5)


def test_bakehouse_and_sauna(run_cli, examples):
    got = figures(run_cli, examples["bakehouse"])
    assert_near(got["plan.net_wall_area"], 27.76, 0.01)
    assert got["cost.total"]["unit"] == "CLP"
    assert got["cost.total"]["bound"] == "at_least"
    got = figures(run_cli, examples["sauna"])
    assert_near(got["timber.log_ends"], 8 * 96, 0)
    assert_near(got["plan.inner_area"], 3.14159265 / 4 * (9 * 0.3048) ** 2, 1e-6)


def test_every_figure_prints_its_unit_bound_and_sources(run_cli, example):
    for key, figure in figures(run_cli, example).items():
        assert set(figure) >= {"value", "unit", "low", "high", "bound", "sources"}, key
        assert figure["sources"] or figure["bound"] == "unknown", key
        assert figure["value"] is None or figure["low"] is None or figure["low"] <= figure["value"], key


def test_only_one_stage(run_cli, examples):
    assert {k.partition(".")[0] for k in figures(run_cli, examples["sauna"], "--only", "mortar")} == {"mortar"}
    run = run_cli("reckon", examples["sauna"], "--only", "nonsense")
    assert run.code == 2
    assert "timber" in run.err


def test_reckon_in_words_names_itself_unreviewed(run_cli, example):
    run = run_cli("reckon", example, "--no-studies")
    assert run.code == 0
    assert "not reviewed by an engineer" in run.out
    assert "plan.net_wall_area" in run.out


def test_faulty_files_give_json_with_problems_and_exit_1(run_cli, tmp_path):
    (tmp_path / "building.toml").write_text("[plan]\nheight = 3\n", encoding="utf-8")
    run = run_cli("reckon", tmp_path, "--json", "--no-studies")
    assert run.code == 1
    content = json.loads(run.out)
    assert content["figures"] == {}
    assert any(p["field"] == "plan.height" and p["line"] == 2 for p in content["problems"])


def test_the_owner_s_files_are_never_touched_by_reading(run_cli, example):
    before = {p.name: hashlib.sha256(p.read_bytes()).digest() for p in example.iterdir() if p.is_file()}
    run_cli("check", example)
    run_cli("reckon", example, "--json", "--no-studies")
    assert before == {p.name: hashlib.sha256(p.read_bytes()).digest() for p in example.iterdir() if p.is_file()}


@pytest.mark.parametrize("like", ["", "weaving-studio", "bakehouse", "sauna"])
def test_start_gives_a_project_free_of_errors(run_cli, tmp_path, like):
    folder = tmp_path / "new"
    run = run_cli("start", folder, *(["--like", like] if like else []))
    assert run.code == 0
    assert run_cli("check", folder).code == 0
    again = run_cli("start", folder)
    assert again.code == 2
    assert "nothing is overwritten" in again.err


def test_start_like_nothing_known_names_what_there_is(run_cli, tmp_path):
    run = run_cli("start", tmp_path / "new", "--like", "castle")
    assert run.code == 2
    assert "weaving-studio" in run.err
    assert not (tmp_path / "new").exists()


def test_set_changes_one_line_only(run_cli, tmp_path):
    folder = tmp_path / "p"
    run_cli("start", folder, "--like", "weaving-studio")
    path = folder / "building.toml"
    before = path.read_bytes().splitlines(keepends=True)
    assert run_cli("set", folder, "plan.height=2.30 m").code == 0
    after = path.read_bytes().splitlines(keepends=True)
    changed = [(a, b) for a, b in zip(before, after, strict=True) if a != b]
    assert changed == [(b'height = "2.25 m"\n', b'height = "2.30 m"\n')]


@pytest.mark.parametrize(
    "change", ["plan.height=2.30", "plan.height=0.5 m", "plan.hight=2.3 m", "openings[0].from_left=9 m"]
)
def test_set_refuses_what_makes_an_error_and_leaves_the_file(run_cli, tmp_path, change):
    folder = tmp_path / "p"
    run_cli("start", folder, "--like", "weaving-studio")
    before = (folder / "building.toml").read_bytes()
    run = run_cli("set", folder, change)
    assert run.code == 1
    assert run.out.strip()
    assert (folder / "building.toml").read_bytes() == before


def test_set_without_a_value_is_wrong_use(run_cli, examples):
    run = run_cli("set", examples["sauna"], "plan.height")
    assert run.code == 2
    assert "KEY=VALUE" in run.err


def test_idea_answers_could_i(run_cli):
    run = run_cli("idea", "--floor", "6.6 m x 4.8 m", "--wall", "350 mm")
    assert run.code == 0
    for word in ("logs", "mortar", "hours", "season", "?"):
        assert word in run.out.lower()
    content = json.loads(run_cli("idea", "--floor", "6.6 m x 4.8 m", "--wall", "350 mm", "--json").out)
    for key, value in [("wall_area", 35), ("wood_volume", 7), ("mortar_volume", 3), ("hours", 350), ("seasons", 2)]:
        figure = content["figures"][f"idea.{key}"]
        assert figure["low"] <= value <= figure["high"], key


def test_idea_round_and_imperial(run_cli):
    run = run_cli("idea", "--floor", "9 ft", "--wall", "12 in")
    assert run.code == 0
    assert "ft" in run.out


@pytest.mark.parametrize("floor", ["6.6 x 4.8", "six metres", "6.6 m x 4.8 m x 2 m", "500 m x 3 m"])
def test_idea_refuses_in_words(run_cli, floor):
    run = run_cli("idea", "--floor", floor, "--wall", "350 mm")
    assert run.code == 2
    assert run.err.strip()
    assert "Traceback" not in run.err


def test_version_and_help(run_cli):
    assert run_cli("--version").out.startswith("cordwright ")
    run = run_cli("--help")
    for command in ("start", "check", "set", "reckon", "idea", "book"):
        assert command in run.out


def test_book_of_each_example(run_cli, example, tmp_path):
    run = run_cli("book", example, "--no-studies", "-o", tmp_path / "book", timeout=120)
    assert run.code == 0, run.err
    made = {p.name for p in (tmp_path / "book").iterdir()}
    assert made >= {"book.pdf", "book.html", "order-list.xlsx", "order-list.csv", "plan.svg"}


def test_single_sheets_come_alone_and_a_wrong_mark_is_answered(run_cli, examples, tmp_path):
    studio, folder = examples["sauna"], tmp_path / "book"
    run = run_cli("book", studio, "--no-studies", "--only", "mix,Plan", "-o", folder)
    assert run.code == 0, run.err
    assert run.out.splitlines() == [str(folder / "sheets-plan-mix.pdf")]
    assert [p.name for p in folder.iterdir()] == ["sheets-plan-mix.pdf"]
    wrong = run_cli("book", studio, "--no-studies", "--only", "MXI", "-o", tmp_path / "other")
    assert wrong.code == 2
    assert wrong.err.splitlines()[-1].startswith(
        "--only:1: sheets[0]: this book has no sheet 'MXI'; the nearest is MIX; the sheets are FIRST,"
    )
    assert not (tmp_path / "other").exists()


def test_book_of_a_faulty_project_leaves_nothing(run_cli, tmp_path):
    (tmp_path / "building.toml").write_text("[plan]\nheight = 3\n", encoding="utf-8")
    run = run_cli("book", tmp_path, "-o", tmp_path / "book")
    assert run.code == 1
    assert "plan.height" in run.err
    assert not (tmp_path / "book").exists()
