"""Can a shop read the order list, and the owner the budget?"""

from dataclasses import replace
from datetime import date

import openpyxl
import pytest

import book_samples as samples
from cordwright.base import Figure
from cordwright.book.content import Heading, Items, Paragraph, Table
from cordwright.book.cost_page import sheet_lines
from cordwright.book.cost_words import age_words, unit_price
from cordwright.book.formats import NB, show_figure, show_spread, show_value
from cordwright.book.lettering import plain_lettering
from cordwright.book.lists import write_workbook
from cordwright.book.sheets.budget import budget_sheet
from cordwright.book.sheets.order import order_sheet
from cordwright.cost import CostInput, PriceRow, order_lines, reckon_cost


def test_the_budget_of_the_workbook_reads_back_to_the_coin(tmp_path):
    order = samples.sample_order()
    write_workbook(samples.sample_project(), order, tmp_path / "o.xlsx", samples.TODAY)
    sheet = openpyxl.load_workbook(tmp_path / "o.xlsx", data_only=True)["Budget"]
    heads_row, *rows = [[c.value for c in row] for row in sheet.iter_rows()]
    said = {(row[0], row[1]): dict(zip(heads_row[2:], row[2:], strict=True)) for row in rows}
    assert said["delivery", "wall"]["planned_EUR"] == 213.9
    assert said["part", "plinth"]["planned_EUR"] == 0
    assert said["trade", "mason"]["to_pay_EUR"] == 213.9
    assert [r["planned_EUR"] for (by, _), r in said.items() if by is None] == [order.figure("cost.total").value]
    assert said["delivery", "wall"]["not_known"] == "sawdust"


def test_the_order_sheet_goes_by_delivery_and_the_budget_says_what_is_not_known():
    lettering = plain_lettering(samples.sample_project())
    sheet = order_sheet(samples.sample_project(), samples.sample_reckoning(), lettering, samples.TODAY)
    headings = [b.text for b in sheet.blocks if isinstance(b, Heading)]
    assert headings == ["Needed, but in no row of the price list", "Wall: 4 May 2028", "With no delivery named"]
    words = " ".join(b.text for b in sheet.blocks if isinstance(b, Paragraph))
    assert "At least 775" in words.replace(NB, " ")
    assert "2 trips of 500" in words.replace(NB, " ")
    rows = [row.cells for b in sheet.blocks if isinstance(b, Table) and b.tick for row in b.rows]
    assert [row[:4] for row in rows] == [
        ("31", "cement 25 kg", "6.90", "213.90"),
        ("1", "sawdust", "not known", "not known"),
        ("", "in all, at least", "", "213.90"),
        ("2", "own stones", "own", "0.00"),
        ("", "in all", "", "0.00"),
    ]
    assert "local yard" in rows[0][4]
    assert "months old" in rows[0][4].replace(NB, " ")
    budget = budget_sheet(samples.sample_project(), samples.sample_reckoning(), lettering, samples.TODAY)
    items = [item for b in budget.blocks if isinstance(b, Items) for item in b.items]
    assert items[:2] == ["sawdust: price unknown", "Lime: in no row of the price list"]
    assert items[2].startswith("cement 25 kg: ")


def test_a_budget_with_something_paid_shows_what_is_left():
    order = samples.sample_order()
    paid = replace(order.lines[1].row, paid=35.0, owed=5.0)
    spent = reckon_cost(CostInput(rows=(order.lines[0].row, paid)), {})
    reckoning = replace(samples.sample_reckoning(), order=spent)
    sheet = budget_sheet(samples.sample_project(), reckoning, plain_lettering(samples.sample_project()), samples.TODAY)
    tables = {b.label: b for b in sheet.blocks if isinstance(b, Table)}
    assert [c.title for c in tables["By delivery"].columns][-3:] == ["Paid", "To pay", "In all"]
    assert tables["By delivery"].rows[-1].cells == ("In all", "≥ 213.90", "", "35.00", "218.90", "253.90")


@pytest.mark.parametrize(
    ("price", "decimals", "given", "words"),
    [
        (6.9, 2, "", "6.90"),
        (0.335, 2, "", "0.335"),
        (5290.0, 0, "", "5,290"),
        (5290.5, 0, "", "5,290.5"),
        (0.0, 2, "", "own"),
        (0.0, 2, "free", "free"),
        (None, 2, "", "not known"),
        (1e6, 2, "", "1,000,000.00"),
    ],
)
def test_a_price_shows_what_was_typed(price, decimals, given, words):
    row = PriceRow(item="x", line=2, quantity=1.0, unit_price=price, given=given)
    project = samples.sample_project(cost=CostInput(rows=(row,), decimals=decimals))
    (line,) = order_lines(project.cost, {})
    assert unit_price(line, project) == words


@pytest.mark.parametrize(
    ("days", "words"),
    [(0, "0 days old"), (1, "1 day old"), (60, "60 days old"), (61, "2 months old"), (366, "12 months old")],
)
def test_the_age_of_a_price(days, words):
    assert age_words(days).replace(NB, " ") == words
    assert age_words(-1) == "a day to come"


@pytest.mark.parametrize(("units", "words"), [("metric", "370.90 EUR/m²"), ("imperial", "34.46 EUR/ft²")])
def test_money_to_an_area_in_both_systems(units, words):
    """370.90 EUR/m2 x 0.09290304 m2/ft2 = 34.457 EUR/ft2."""
    assert show_value(370.90, "EUR/m2", units, "en_GB").replace(NB, " ") == words


def test_at_the_command_line_measures_stand_to_the_right():
    project = samples.sample_project()
    sheet = order_sheet(project, samples.sample_reckoning(), plain_lettering(project), date(2027, 1, 1))
    lines = list(sheet_lines(project, sheet))
    assert lines[0] == "Tool shed: order list"
    (cement,) = [line for line in lines if "cement 25 kg" in line]
    (head,) = [line for line in lines if line.strip().startswith("Order") and lines.index(line) < lines.index(cement)]
    assert cement.index("213.90") + len("213.90") == head.index("Cost EUR") + len("Cost EUR")
    assert not [line for line in lines if NB in line]


def test_a_lower_limit_has_no_upper_end():
    shown = Figure(
        key="cost.total", label="", value=719.0, unit="EUR", low=634.0, bound="at_least", missing=("wool",), sources=()
    )
    assert show_figure(shown, "metric", "en_GB").replace(NB, " ") == "at least 719.00 EUR (from 634.00)"
    assert show_spread(replace(shown, high=800.0, bound="exact"), "metric", "en_GB") == "634.00 to 800.00"
