"""When are the logs ready, as the owner asks it at the command line."""

import json
import shutil

import pytest


def dry(run_here, folder):
    run = run_here("dry", folder, "--json")
    assert run.code == 0, run.err
    return json.loads(run.out)


def test_the_answer_comes_first_and_says_what_it_is_worth(run_here, examples):
    run = run_here("dry", examples["weaving-studio"])
    assert run.code == 0, run.err
    lines = run.out.splitlines()
    assert "not reviewed by an engineer" in lines[0]
    assert "laying day" in lines[1]
    assert "calibrated to no published drying" in run.out
    assert "12,9 %" in run.out
    assert "21,0 %" in run.out


def test_json_holds_curves_figures_and_checks(run_here, examples):
    shown = dry(run_here, examples["weaving-studio"])
    assert shown["schema"] == 1
    figures, curves = shown["figures"], shown["drying"]["curves"]
    assert figures["timber.equilibrium_moisture.may"]["value"] == pytest.approx(0.129, abs=0.0005)
    assert figures["timber.ready_date"]["unit"] == "date"
    assert [c["size"] for c in curves] == ["small", "mean", "largest"]
    assert all(len(c["days"]) == len(c["middle"]) == len(c["slow"]) for c in curves)
    assert "timber.dryness_check" in {c["key"] for c in shown["checks"]}
    assert not any(key.startswith("plan.") for key in figures)


def test_every_example_gets_an_answer(run_here, example):
    run = run_here("dry", example)
    assert run.code == 0, run.err
    assert "Traceback" not in run.err


def edited(tmp_path, source, *replacements):
    folder = tmp_path / source.name
    shutil.copytree(source, folder)
    path = folder / "building.toml"
    text = path.read_text(encoding="utf-8")
    for old, new in replacements:
        assert old in text, old
        text = text.replace(old, new, 1)
    path.write_text(text, encoding="utf-8")
    return folder


FRESH = """[seasoning]
felled = 2028-03-16
stacked = 2028-03-16
bark = "off"
lay_anyway = "the roof must close before the rains"

[[seasoning.readings]]
date = 2028-04-20
value = "38 %"

[mix]
"""


def fresh_pile(tmp_path, examples):
    """The bakehouse's pile, felled five weeks ago, laid three weeks from now, at 16 % for a room at 9 %."""
    source = examples["bakehouse"]
    text = (source / "building.toml").read_text(encoding="utf-8")
    old = text[text.index("[seasoning]") : text.index("[mix]\n") + len("[mix]\n")]
    return edited(
        tmp_path,
        source,
        (old, FRESH),
        ('laying_moisture = "24 %"', 'laying_moisture = "16 %"\nservice_moisture = "9 %"'),
        ("laying_begins = 2028-11-04", "laying_begins = 2028-05-11"),
        ("start = 2028-11-04", "start = 2028-04-01"),
    )


def test_row_3_fresh_logs_are_refused_whatever_the_meter_says(run_here, tmp_path, examples):
    folder = fresh_pile(tmp_path, examples)
    shown = dry(run_here, folder)
    figures = shown["figures"]
    meter = figures["timber.meter_reading"]
    assert (meter["bound"], meter["value"]) == ("at_least", 0.28)
    verdicts = {c["key"]: c["verdict"] for c in shown["checks"]}
    assert verdicts["timber.dryness_check"] == "short"
    assert figures["timber.gap_laid_26"]["value"] > figures["timber.gap_laid_16"]["value"] > 0
    assert figures["timber.falls_below_20"]["value"] > "2028-05-11"
    told = run_here("dry", folder).out
    assert "Not ready: the meter said wet" in told
    assert "the roof must close before the rains" in told
    assert "falls below 18 %" in told


def test_row_3_the_override_is_written_into_the_book(run_here, tmp_path, examples):
    folder = fresh_pile(tmp_path, examples)
    run = run_here("book", folder, "--no-studies", timeout=280)
    assert run.code == 0, run.err
    page = (folder / "book" / "book.html").read_text(encoding="utf-8")
    assert "Not ready: the meter said wet" in page
    assert "the roof must close before the rains" in page


def test_a_coolant_is_refused_with_its_line(run_here, tmp_path, examples):
    folder = edited(
        tmp_path, examples["weaving-studio"], ("DOT powder in water (invented product)", "used engine coolant")
    )
    run = run_here("check", folder)
    assert run.code == 1
    (line,) = [line for line in run.out.splitlines() if " treatment.product: " in line]
    assert "building.toml:" in line
    assert "registered" in line


def test_a_stack_wrapped_on_all_sides_is_refused(run_here, tmp_path, examples):
    folder = edited(tmp_path, examples["weaving-studio"], ('cover = "top"', 'cover = "all sides"'))
    shown = dry(run_here, folder)
    (stack,) = [c for c in shown["checks"] if c["key"] == "timber.stacking_check"]
    assert stack["verdict"] == "short"
    assert "take the sides off" in stack["label"]


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ('cover = "tarpaulin"', "allowed: top, all sides, none"),
        ("stacked = 2028-06-01", "site.laying_begins"),
        ('coverage = "4"', "8 m2/L"),
        ('coverage = "4 kg"', "8 m2/L"),
        ('temperature = "20"', "degC"),
    ],
)
def test_faults_name_the_place_and_the_way_out(run_here, tmp_path, examples, typed, said):
    key = typed.partition(" = ")[0]
    text = (examples["weaving-studio"] / "building.toml").read_text(encoding="utf-8")
    table = text.index("[treatment]" if key in ("coverage", "temperature") else "[seasoning]")
    start = text.index(f"\n{key} = ", table) + 1
    old = text[start : text.index("\n", start)]
    folder = tmp_path / "typed"
    shutil.copytree(examples["weaving-studio"], folder)
    (folder / "building.toml").write_text(text[:start] + typed + text[start + len(old) :], encoding="utf-8")
    run = run_here("check", folder)
    assert run.code == 1
    assert said in run.out
    assert "building.toml:" in run.out
