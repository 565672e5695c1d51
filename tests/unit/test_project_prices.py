"""Are the columns of the price list read as meant, old lists too, and every slip named at its cell?"""

from datetime import date
from pathlib import Path

import pytest

from cordwright.cost import PriceRow
from cordwright.project import read
from cordwright.project.faults import Findings
from cordwright.project.prices import read_prices
from cordwright.reckon import reckon

OLD = "item,quantity,unit_price_EUR,covers,unit,step,part_of\n"
NEW = (
    "item,quantity,unit_price_EUR,price_low_EUR,price_high_EUR,price_spread,price_date,price_source,covers,unit,share,"
    "waste,step,pack,spare,mass,delivery,part_of,trade,paid_EUR,paid_date,owed_EUR\n"
)
BLANK = "x" + "," * 21


class Read:
    """Reads one price list and keeps what came of it."""

    def __init__(self, path: Path):
        self.path = path
        self.findings = Findings("building.toml", {})

    def __call__(self, content: str) -> tuple[PriceRow, ...]:
        self.path.write_text(content, encoding="utf-8")
        return read_prices(self.path, "prices.csv", "EUR", self.findings, [])[0]


@pytest.fixture
def prices(tmp_path):
    """A price list to write and read."""
    return Read(tmp_path / "prices.csv")


def test_every_column_is_read(prices):
    (row,) = prices(
        NEW + "sheet,,8.4,8,9.5,,2027-11-03,yard at the crossing,roof.slope_area,1 m2,50 %,10 %,,2.5,2,4.6 kg,frame,"
        "roof,roofer,300,2028-04-02,120.50\n"
    )
    assert (row.unit_price, row.price_low, row.price_high, row.price_spread) == (8.4, 8.0, 9.5, None)
    assert (row.price_date, row.price_source) == (date(2027, 11, 3), "yard at the crossing")
    assert (row.share, row.waste, row.pack, row.spare, row.unit_mass) == (0.5, 0.1, 2.5, 2.0, 4.6)
    assert (row.delivery, row.part_of, row.trade) == ("frame", "roof", "roofer")
    assert (row.paid, row.paid_date, row.owed) == (300.0, date(2028, 4, 2), 120.5)


def test_blank_is_unknown_and_never_nothing(prices):
    (row,) = prices(NEW + BLANK + "\n")
    unknown = ("unit_price", "price_low", "price_high", "price_spread", "price_date", "share", "pack", "unit_mass")
    assert [getattr(row, name) for name in (*unknown, "paid", "paid_date", "owed", "quantity")] == [None] * 12
    assert (row.waste, row.spare, row.step, row.given, row.delivery) == (0.0, 0.0, 1.0, "", "")


def test_a_list_of_old_is_read_as_before(prices):
    (row,) = prices(OLD + "cement,31,6.9,mortar.cement,25 kg,,mortar\n")
    assert row == PriceRow(
        item="cement",
        line=2,
        quantity=31.0,
        unit_price=6.9,
        covers="mortar.cement",
        unit_amount=25.0,
        unit_text="25 kg",
        part_of="mortar",
    )


@pytest.mark.parametrize(("word", "given"), [("own", "own"), ("Free", "free"), ("0", "")])
def test_own_and_free_are_prices_of_nothing(prices, word, given):
    (row,) = prices(OLD + f"stone,1,{word},,,,ground\n")
    assert (row.unit_price, row.given) == (0.0, given)


def test_a_list_with_semicolons_and_decimal_commas(prices):
    (row,) = prices("item;quantity;unit_price_EUR;waste;mass;paid_EUR\nsheet;3;8,45;2,5 %;4,6 kg;30,10\n")
    assert (row.unit_price, row.waste, row.unit_mass, row.paid) == (8.45, 0.025, 4.6, 30.1)


@pytest.mark.parametrize(
    ("column", "cell", "told"),
    [
        ("price_date", "3.11.2027", "year-month-day"),
        ("price_date", "2027-02-30", "no day"),
        ("price_low_EUR", "-1", "negative"),
        ("price_spread", "10", "10 %"),
        ("share", "140 %", "more than 100 %"),
        ("waste", "-5 %", "negative"),
        ("pack", "0", "slipped digit"),
        ("spare", "two", "not a number"),
        ("mass", "25", "25 kg"),
        ("paid_EUR", "=1+1", "not a number"),
        ("paid_date", "yesterday", "year-month-day"),
        ("owed_EUR", "own", "not a number"),
    ],
)
def test_a_slip_is_named_at_its_cell(prices, column, cell, told):
    prices(f"item,unit_price_EUR,{column}\nx,1,{cell}\n")
    (problem,) = prices.findings.sorted()
    assert (problem.where, problem.line, problem.field) == ("prices.csv", 2, f"prices[0].{column.removesuffix('_EUR')}")
    assert told in str(problem)


def test_money_in_another_currency_is_refused_in_every_column(prices):
    prices("item,unit_price_EUR,paid_USD\nx,1,2\n")
    (problem,) = prices.findings.sorted()
    assert "paid is in USD, the project in EUR" in problem.message


@pytest.fixture
def studio(tmp_path, examples):
    """A copy of the weaving studio with prices and more lines of our own."""

    def make(rows: str, more: str = "") -> Path:
        for file in filter(Path.is_file, examples["weaving-studio"].iterdir()):
            (tmp_path / file.name).write_bytes(file.read_bytes())
        (tmp_path / "prices.csv").write_text(rows, encoding="utf-8")
        building = tmp_path / "building.toml"
        stated = building.read_text(encoding="utf-8").partition("# What comes together")[0]
        building.write_text(stated + more, encoding="utf-8")
        return tmp_path

    return make


def errors(folder: Path) -> list[str]:
    return [p.field for p in read(folder).problems if p.severity == "error"]


def test_deliveries_are_read_in_their_units(studio):
    folder = studio(
        OLD.replace("part_of", "delivery") + "posts,8,46,,,,frame\n",
        'as_of = 2028-01-10\n[[cost.deliveries]]\nname = "frame"\ndate = 2028-03-01\ncarries = "750 kg"\ntrips = 2\n',
    )
    reading = read(folder)
    assert reading.project is not None
    (stated,) = reading.project.cost.deliveries
    assert (stated.name, stated.day, stated.carries, stated.trips) == ("frame", date(2028, 3, 1), 750.0, 2)
    assert reading.project.cost.as_of == date(2028, 1, 10)


def test_a_misspelt_delivery_is_told_at_its_row(studio):
    rows = OLD.replace("part_of", "delivery") + "posts,8,46,,,,frane\n"
    problems = read(studio(rows, '[[cost.deliveries]]\nname = "frame"\n')).problems
    told = {p.field: p for p in problems}
    assert told["prices[0].delivery"].line == 2
    assert "frame" in told["prices[0].delivery"].hint
    assert "cost.deliveries[0].name" in told


def test_a_price_may_cover_what_only_the_whole_building_tells(studio):
    """The sands and the drying are left out of the first look; a row that names them gets the second."""
    sand = reckon(read(studio(OLD + "x,1,1,,,,\n")).project).figure("sand.pit.loose_density")
    assert sand.unit == "kg/m3"
    assert errors(studio(OLD + "sand,,22,sand.pit.loose_density,1 kg/m3,,\n")) == []
    assert errors(studio(OLD + "sand,,22,sand.nowhere.fineness_modulus,1,,\n")) == ["prices[0].covers"]


RULE = """
[[rules]]
rule = "most for {key}"
value = "{value}"
said_by = "the owner"
date = 2027-06-07
limits = "{key}"
sense = "at most"
"""


@pytest.mark.parametrize(
    ("key", "value", "fault"),
    [
        ("cost.delivery.frame", "500", False),
        ("cost.part.other", "500", False),
        ("cost.unknown_items", "3", False),
        ("cost.delivery.frane", "500", True),
        ("timber.leakage", "3", False),
        ("sand.pit.uniformity", "3", False),
    ],
)
def test_a_rule_may_bound_any_figure_of_this_list(studio, key, value, fault):
    rows = OLD.replace("part_of", "delivery") + "posts,8,46,,,,frame\n"
    faults = [p for p in read(studio(rows, RULE.format(key=key, value=value))).problems if p.severity == "error"]
    assert [p.field for p in faults if "no figure" in p.message] == (["rules[3].limits"] if fault else [])
