"""Steering the layout from the command line: what is asked is done, what cannot be is told, and it stops at once."""

import json
import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest


def lay(run_cli, folder, *options):
    run = run_cli("lay", folder, "--panel", "W", "--json", *options, timeout=280)
    assert run.code == 0, run.err
    shown = json.loads(run.out)
    return shown, {p["id"]: p for p in shown["panels"][0]["placements"]}


def test_locks_forbids_and_swaps_are_honoured(run_cli, examples):
    studio = examples["weaving-studio"]
    _, plan = lay(run_cli, studio)
    first, second = (next(i for i, p in plan.items() if p["order"] == n) for n in (10, 20))
    _, there = lay(run_cli, studio, "--forbid", first, "--lock", f"{second} W 0.30 m 1.20 m")
    assert first not in there
    assert (there[second]["x"], there[second]["y"]) == (0.3, 1.2)
    out = max(plan, key=lambda i: plan[i]["diameter"])
    inn = min((i for i in plan if i != out), key=lambda i: abs(plan[i]["diameter"] - plan[out]["diameter"]))
    _, changed = lay(run_cli, studio, "--swap", f"{out} {inn}")
    assert abs(changed[out]["x"] - plan[inn]["x"]) < plan[out]["diameter"] / 2
    assert abs(changed[inn]["y"] - plan[out]["y"]) < plan[out]["diameter"] / 2


def test_what_is_laid_stays_and_the_rest_stays_where_it_can(run_cli, examples, tmp_path):
    studio = examples["weaving-studio"]
    _, plan = lay(run_cli, studio)
    rows = [p for p in plan.values() if p["order"] <= 15]
    lines = [f"{p['id']};W;{p['x'] * 1000 + 3:.0f};{p['y'] * 1000:.0f}" for p in rows]
    laid = tmp_path / "laid.csv"
    laid.write_text("log;panel;from_left_mm;height_mm\n" + "\n".join(lines) + "\n", encoding="utf-8")
    shown, there = lay(run_cli, studio, "--laid", laid)
    assert sorted(shown["settled"]) == sorted(p["id"] for p in rows)
    for p in rows:
        assert (there[p["id"]]["x"], there[p["id"]]["order"]) == (round(p["x"] * 1000 + 3) / 1000, p["order"])
    rest = [p for p in plan.values() if p["order"] > 15]
    near = [p for p in rest if p["id"] in there and abs(there[p["id"]]["x"] - p["x"]) < 0.01]
    assert len(near) >= 0.8 * len(rest)


@pytest.mark.parametrize(
    ("options", "words"),
    [
        (("--forbid", "T99-9"), "--forbid:1: layout.forbid[0]: there is no log T99-9 in the stock; the nearest"),
        (("--lock", "T01-5 W 1.92 m 1.1 m"), "stands past the edge of panel W"),
        (("--lock", "T01-5 W"), "is no log with its place"),
        (("--swap", "T01-5 T01-5"), "with itself"),
        (("--pattern", "wild"), "allowed: mixed, large at the bottom"),
        (("--laid", "nowhere.csv"), "nowhere.csv"),
        (("--seed", "-3"), "layout.seed"),
    ],
)
def test_what_cannot_be_is_told_with_exit_1(run_cli, examples, tmp_path, options, words):
    run = run_cli("lay", examples["weaving-studio"], "--panel", "W", "-o", tmp_path / "out", *options)
    assert run.code == 1
    assert words in run.err
    assert "Traceback" not in run.err
    assert not (tmp_path / "out").exists()


def test_a_swap_that_does_not_fit_is_told_with_its_numbers_and_nothing_is_written(run_cli, examples, tmp_path):
    studio = examples["weaving-studio"]
    shown, plan = lay(run_cli, studio)
    size = {s["id"]: s["diameter"] for s in shown["stock"]}
    small = min(plan, key=size.get)
    large = max(size, key=size.get)
    run = run_cli(
        "lay", studio, "--panel", "W", "--swap", f"{small} {large}", "-o", tmp_path / "out", timeout=280
    )  # fmt: skip
    assert run.code == 1
    assert "--swap:1: layout.swaps[0]: log" in run.err
    assert "mm too large even with joints of 12 mm" in run.err
    assert not (tmp_path / "out").exists()
    as_json = run_cli("lay", studio, "--panel", "W", "--swap", f"{small} {large}", "--json", timeout=280)
    assert as_json.code == 1
    assert json.loads(as_json.out)["problems"][0]["field"] == "layout.swaps[0]"


def test_a_short_stock_tells_what_is_missing_and_the_choices(run_cli, examples):
    run = run_cli("lay", examples["bakehouse"], "--panel", "N", timeout=280)
    assert run.code == 0, run.err
    for words in ("missing: ", "in the proportion of your stock", "more logs: ", "stacked like yours", "a larger joint",
                  "a lower wall: the stock reaches", "bottle ends or stones", "shorter log ends"):  # fmt: skip
        assert words in run.out, words
    shown = json.loads(run_cli("lay", examples["bakehouse"], "--panel", "N", "--json", timeout=280).out)
    short = shown["shortage"]
    assert sum(c["count"] for c in short["classes"]) == short["logs"] > 0
    assert short["stems"] is None
    assert short["closing_joint"] > 0.06


def test_a_stock_that_closes_has_no_shortage_and_its_wider_joint_a_price_in_mortar(run_cli, examples):
    shown, _ = lay(run_cli, examples["weaving-studio"])
    assert shown["shortage"] is None
    assert shown["widened"]["joint"] > shown["widened"]["nominal"] == 0.025
    assert shown["widened"]["extra_mortar"] > 0


def environment():
    paths = [p for p in os.environ.get("PYTHONPATH", "").split(os.pathsep) if p]
    known = {**os.environ, "PYTHONUTF8": "1"}
    return {**known, "PYTHONPATH": os.pathsep.join(str(Path(p).resolve()) for p in paths)} if paths else known


@pytest.mark.parametrize(("command", "wait"), [("lay", 0.2), ("lay", 1.0), ("lay", 2.5), ("book", 0.2), ("book", 0.7)])
def test_ctrl_c_ends_at_once_with_one_line_and_no_half_written_file(examples, tmp_path, command, wait):
    out = tmp_path / "out"
    child = subprocess.Popen(
        [sys.executable, "-m", "cordwright", command, str(examples["weaving-studio"]), "-o", str(out)],
        env=environment(), stdout=subprocess.PIPE, stderr=subprocess.PIPE, encoding="utf-8",
    )  # fmt: skip
    time.sleep(wait)
    child.send_signal(signal.SIGINT)
    _, said = child.communicate(timeout=60)
    assert child.returncode == 130
    assert said.splitlines()[-1] == "stopped; no half-written file is left"
    assert "Traceback" not in said
    assert not out.exists() or list(out.iterdir()) == []
    assert [p.name for p in tmp_path.iterdir()] in ([], ["out"])
