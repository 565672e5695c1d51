"""The order list and the budget as the owner asks for them."""

import csv
import json
from decimal import Decimal

import pytest

NEW = "item,quantity,unit_price_EUR,covers,unit,delivery,part_of,paid_EUR\n"


def test_the_order_list_goes_by_delivery(run_here, examples):
    run = run_here("order", examples["weaving-studio"], "--no-studies")
    assert run.code == 0, run.err
    titles = [line for line in run.out.splitlines() if line and not line.startswith(" ")]
    assert titles[1:] == [
        "Needed, but in no row of the price list",
        "Ground",
        "Frame and roof",
        "Wall: 4. mai 2028",
        "Closing in",
        "Stove and power",
        "With no delivery named",
    ]


def test_deliveries_and_parts_come_to_the_job_studys_total(run_here, examples):
    """10 296.20 EUR planned, 669.30 EUR of it the wall's materials: the sums of the invented price list by hand."""
    run = run_here("budget", examples["weaving-studio"], "--json", "--no-studies")
    content = json.loads(run.out)
    for kind in ("deliveries", "parts"):
        assert sum(round(100 * g["planned"]["value"]) for g in content[kind]) == 1029620
    figures = content["figures"]
    assert figures["cost.total"]["value"] == 10296.2
    assert figures["cost.wall_materials"]["value"] == 669.3
    assert figures["cost.wall_share"]["value"] == pytest.approx(0.065, abs=5e-4)
    assert figures["cost.hours"]["bound"] == "unknown"


def test_one_delivery_alone_and_one_that_is_none(run_here, examples):
    run = run_here("order", examples["weaving-studio"], "--no-studies", "--json", "--delivery", "wall")
    (wall,) = json.loads(run.out)["deliveries"]
    assert (wall["date"], wall["planned"]["value"]) == ("2028-05-04", 819.3)
    assert sum(Decimal(row["cost"]) for row in wall["rows"]) == Decimal("819.30")
    assert wall["mass"]["bound"] == "at_least"
    run = run_here("order", examples["weaving-studio"], "--no-studies", "--delivery", "wal")
    assert run.code == 2
    assert "wall" in run.err
    assert "names none" in run_here("order", examples["bakehouse"], "--no-studies", "--delivery", "wall").err


def test_pesos_have_no_decimals_and_the_unknown_stays_unknown(run_here, examples):
    run = run_here("budget", examples["bakehouse"], "--no-studies")
    assert "1.054.140" in run.out
    assert "1.054.140," not in run.out
    assert "engineer (mandatory here): price unknown" in run.out


def test_what_is_paid_is_told_against_what_was_planned(run_here, examples, tmp_path):
    rows = (
        NEW + "posts,8,46,,,frame,frame,380\nbeam,1,100,,,frame,frame,\ncement,,6.9,mortar.cement,25 kg,wall,mortar,\n"
    )
    for name in ("building.toml", "stems.csv"):
        (tmp_path / name).write_bytes((examples["weaving-studio"] / name).read_bytes())
    (tmp_path / "prices.csv").write_text(rows, encoding="utf-8")
    run = run_here("budget", tmp_path, "--json", "--no-studies")
    figures = json.loads(run.out)["figures"]
    values = {k: figures[f"cost.{k}"]["value"] for k in ("total", "spent", "left_to_spend", "expected")}
    assert values == {"total": 681.9, "spent": 380.0, "left_to_spend": 313.9, "expected": 693.9}
    words = run_here("budget", tmp_path, "--no-studies").out
    assert next(line.split() for line in words.splitlines() if line.startswith("  Frame  "))[-3:] == [
        "380,00",
        "100,00",
        "480,00",
    ]


def test_the_example_keeps_the_prices_it_was_given(examples):
    """Only the column delivery was added to the invented list."""
    with (examples["weaving-studio"] / "prices.csv").open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    assert len(rows) == 38
    typed = sum(Decimal(r["quantity"]) * Decimal(r["unit_price_EUR"]) for r in rows)
    assert typed == Decimal("10296.20")
