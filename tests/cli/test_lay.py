"""The layout as the owner asks for it, held against the independent judge."""

import json

import pytest

from cordwright.wall.judge import judge
from cordwright.wall.layout import Disc, Face, Filler, Hole, LayoutReport, Log, PanelLayout, Placement


def lay(run_cli, folder, *options):
    run = run_cli("lay", folder, "--json", *options, timeout=280)
    assert run.code == 0, run.err
    return json.loads(run.out)


def points(rows):
    return tuple((x, y) for x, y in rows)


def panel_of(shown, stock):
    """Reads one panel of `lay --json` back, so that the judge sees what another program sees."""
    face = Face(
        name=shown["name"],
        outline=points(shown["outline"]),
        openings=tuple(Hole(id=o["id"], outline=points(o["outline"])) for o in shown["openings"]),
        obstacles=tuple(Disc(**o) for o in shown["obstacles"]),
    )
    placed = tuple(
        Placement(
            log=stock[p["id"]],
            x=p["x"],
            y=p["y"],
            order=p["order"],
            supports=tuple(p["supports"]),
            angle=p["angle"],
            note=p["note"],
        )
        for p in shown["placements"]
    )
    report = {k: v for k, v in shown["report"].items() if k not in ("mortar_volume", "seconds")}
    return PanelLayout(
        face=face,
        placements=placed,
        fillers=tuple(Filler(**f) for f in shown["fillers"]),
        report=LayoutReport(mortar_area=0.0, **report),
    )


@pytest.mark.parametrize(("name", "panels", "edge"), [("weaving-studio", ["SW"], 0.0125), ("bakehouse", ["N"], 0.0125)])
def test_what_is_laid_stands_before_the_judge(run_cli, examples, name, panels, edge):
    shown = lay(run_cli, examples[name], "--panel", panels[0])
    assert [p["name"] for p in shown["panels"]] == panels
    stock = {s["id"]: Log(**s) for s in shown["stock"]}
    for each in shown["panels"]:
        panel = panel_of(each, stock)
        joint = each["report"]["joint_nominal"]
        assert judge(panel, list(stock.values()), joint=joint, joint_least=0.012, edge=edge) == ()
        assert each["report"]["seconds"] > 0
        assert {p["id"] for p in each["placements"]}.isdisjoint(shown["unused"])


def test_the_studio_s_joint_follows_its_stock_and_its_drawings_are_written(run_cli, examples, tmp_path):
    run = run_cli("lay", examples["weaving-studio"], "--panel", "W", "-o", tmp_path / "laid", timeout=280)
    assert run.code == 0, run.err
    assert "so wide for the stock to close the wall" in run.out
    (drawing,) = (tmp_path / "laid").iterdir()
    assert drawing.name == "laid-w.svg"
    assert drawing.read_text(encoding="utf-8").count("<circle") > 30


def test_a_short_stock_leaves_the_top_unlaid_and_says_so(run_cli, examples):
    run = run_cli("lay", examples["bakehouse"], "--panel", "E", timeout=280)
    assert run.code == 0
    assert "even so the stock does not close the wall" in run.out
    assert "only 73 % of its area laid" in run.out
    assert "never scaled" in run.out


def test_the_same_seed_gives_the_same_wall(run_cli, examples):
    first, second = (lay(run_cli, examples["weaving-studio"], "--panel", "W", "--seed", "7") for _ in range(2))
    for each in (first, second):
        for panel in each["panels"]:
            del panel["report"]["seconds"]
    assert first == second


def test_an_unknown_panel_is_wrong_use(run_cli, examples):
    run = run_cli("lay", examples["sauna"], "--panel", "attic")
    assert run.code == 2
    assert "round" in run.err
