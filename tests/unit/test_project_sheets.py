"""Are stems, diameters and prices read whatever program saved them, and every fault told with its physical line?"""

import math
from pathlib import Path

import pytest

from cordwright.project import read
from cordwright.project.faults import FieldFault, Findings
from cordwright.project.prices import read_prices
from cordwright.project.stock import read_defects, read_diameters, read_stems

HEADINGS = "stem,species,butt_diameter_mm,top_diameter_mm,length_m\n"
PRICES = "item,quantity,unit_price_EUR,covers,unit,step,part_of\n"


class Read:
    """Reads one list and keeps what came of it."""

    def __init__(self, folder: Path):
        self.path = folder / "list.csv"
        self.findings = Findings("building.toml", {})
        self.echo: list[str] = []

    def write(self, content):
        self.path.write_bytes(content if isinstance(content, bytes) else content.encode())

    def stems(self, content):
        self.write(content)
        return read_stems(self.path, "list.csv", self.findings, self.echo)

    def diameters(self, content):
        self.write(content)
        return read_diameters(self.path, "list.csv", self.findings, self.echo, "stock.piles[0].diameters")

    def prices(self, content, currency="EUR"):
        self.write(content)
        return read_prices(self.path, "list.csv", currency, self.findings, self.echo)

    def only(self):
        (problem,) = self.findings.sorted()
        assert problem.where == "list.csv"
        return problem


@pytest.fixture
def sheet(tmp_path):
    """A list to write and read."""
    return Read(tmp_path)


@pytest.mark.parametrize("mark", [b"", b"\xef\xbb\xbf"])
@pytest.mark.parametrize("ending", ["\n", "\r\n", "\r"])
@pytest.mark.parametrize(
    ("content", "told"),
    [
        ("stem,species,butt_diameter_mm,top_diameter_mm,length_m\nT1,spruce,200,175.5,3.0\n", "comma, decimal point"),
        (
            "stem;species;butt_diameter_mm;top_diameter_mm;length_m\nT1;spruce;200;175,5;3,0\n",
            "semicolon, decimal comma",
        ),
        (
            "stem\tspecies\tbutt_diameter_mm\ttop_diameter_mm\tlength_m\nT1\tspruce\t200\t175,5\t3,0\n",
            "tab, decimal comma",
        ),
        (
            'stem,species,butt_diameter_mm,top_diameter_mm,length_m\n"T1",spruce,200,"175,5","3,0"\n',
            "comma, decimal comma",
        ),
        ("Stem ; Species;Butt_Diameter_CM;top_diameter;length\n T1 ;spruce;20;175,5 mm;300 cm\n", "semicolon"),
    ],
)
def test_any_dialect_is_read_and_told(sheet, content, told, ending, mark):
    (stem,) = sheet.stems(mark + content.replace("\n", ending).encode())
    assert sheet.findings.sorted() == ()
    assert (stem.name, stem.species, stem.butt_diameter, stem.top_diameter, stem.length) == (
        "T1",
        "spruce",
        0.2,
        0.1755,
        3.0,
    )
    assert told in sheet.echo[0]


def test_girths_sticks_bark_counts_and_dates(sheet):
    first, second = sheet.stems(
        "stem,species,count,girth_cm,length,bark,defects,felled,peeled,stacked\n"
        'A,birch,24,62.8,8 ft 9 in,on,"1.2-1.5 m; 2.0-2.1 m: rot",2027-01,soon,\n'
        "B,birch,,62.8,2.667 m,off,,,,\n"
    )
    assert first.butt_diameter == first.top_diameter == pytest.approx(0.628 / math.pi)
    assert first.length == second.length == 2.667
    assert (first.count, second.count) == (24, 1)
    assert (first.bark, second.bark) == (True, False)
    assert [(d.start, d.end, d.what) for d in first.defects] == [(1.2, 1.5, ""), (2.0, 2.1, "rot")]
    assert (first.felled, first.peeled, first.stacked) == ("2027-01", "soon", "")


def test_a_blank_about_bark_is_told_not_silently_off(sheet):
    (stem,) = sheet.stems("stem,species,diameter_mm,length_m,bark\nT1,oak,200,3,\n")
    problem = sheet.only()
    assert not stem.bark
    assert (problem.field, problem.line, problem.severity) == ("stems[0].bark", 2, "warning")
    assert "on or off" in problem.hint


def test_one_end_by_girth_and_inches(sheet):
    (stem,) = sheet.stems("stem,species,butt_girth_cm,top_diameter_in,length_ft\nA,oak,100,5 1/2,8.5\n")
    assert sheet.findings.sorted() == ()
    assert stem.butt_diameter == pytest.approx(1 / math.pi)
    assert stem.top_diameter == 0.1397
    assert stem.length == 2.5908


@pytest.mark.parametrize(
    ("text", "stretches"),
    [
        ("", []),
        ("1.2-1.5 m", [(1.2, 1.5)]),
        ("1,2 - 1,5 m", [(1.2, 1.5)]),
        ("120 to 150 cm", [(1.2, 1.5)]),
        ("4 ft 2 in - 5 ft", [(1.27, 1.524)]),
        ("1.2 m – 150 cm;", [(1.2, 1.5)]),
        ("0-30 cm: butt rot; 2.9-3 m", [(0.0, 0.3), (2.9, 3.0)]),
    ],
)
def test_defects(text, stretches):
    assert [(d.start, d.end) for d in read_defects(text, 3.0)] == stretches


@pytest.mark.parametrize(
    "text", ["1.2", "1.5-1.2 m", "2.9-3.2 m", "1.2-1.5", "rot", "1.2-1.5-1.7 m", "-1-2 m", "1-1 m"]
)
def test_what_is_no_stretch_of_the_stem_is_refused(text):
    with pytest.raises(FieldFault):
        read_defects(text, 3.0)


@pytest.mark.parametrize(
    ("content", "line", "field", "told"),
    [
        ("", 1, "stems", "empty"),
        ("\n\n  \n", 1, "stems", "empty"),
        (HEADINGS, 1, "stems", "nothing below"),
        (HEADINGS.replace("species", "spezies") + "T1,spruce,1,1,1\n", 1, "stems", "nearest is species"),
        (HEADINGS.replace("length_m", "length_parsec") + "T1,spruce,1,1,1\n", 1, "stems", "length_parsec"),
        ("stem,species,butt_diameter_mm,length_m\nT1,spruce,200,3\n", 1, "stems", "both ends"),
        (HEADINGS.replace("top_diameter_mm", "butt_girth_cm") + "T1,spruce,1,1,1\n", 1, "stems", "both ends"),
        (HEADINGS.replace("top_diameter_mm", "butt_diameter_mm") + "T1,spruce,1,1,1\n", 1, "stems", "keep one"),
        ("stem,butt_diameter_mm,top_diameter_mm,length_m\nT1,1,1,1\n", 1, "stems", "no column species"),
        (HEADINGS + "T1,spruce,200,175\n", 2, "stems[0]", "4 cells"),
        (HEADINGS + "\nT1,spruce,200,175,3\n\nT2,spruce,200,,3\n", 5, "stems[1].top_diameter", "blank"),
        (HEADINGS + 'T1,"two\nlines",200,175,3\nT2,spruce,x,175,3\n', 4, "stems[1].butt_diameter", "x"),
        (HEADINGS + "T1,spruce,200,175,3\nT1,spruce,200,175,3\n", 3, "stems[1].stem", "line 2 already"),
        (HEADINGS + "T1,spruce,-200,175,3\n", 2, "stems[0].butt_diameter", "negative"),
        (HEADINGS + "T1,spruce,0,175,3\n", 2, "stems[0].butt_diameter", "nothing"),
        (HEADINGS + "T1,spruce,nan,175,3\n", 2, "stems[0].butt_diameter", "nan"),
        (HEADINGS + "T1,spruce,1e9,175,3\n", 2, "stems[0].butt_diameter", "e9"),
        (HEADINGS + "T1,spruce,200,175,300\n", 2, "stems[0].length", "longer than any stem"),
        (HEADINGS + ",spruce,200,175,3\n", 2, "stems[0].stem", "blank"),
        (HEADINGS + '"T1,spruce,200,175,3\n', 2, "stems", "no list"),
        (HEADINGS.replace("length_m", "length") + "T1,spruce,200,175,3\n", 2, "stems[0].length", "no unit"),
        ("stem;species;diameter_mm;length_m\nT1;oak;1,200;3\n", 2, "stems[0].diameter", "1200 or as 1.200"),
        ("stem,species,diameter_mm,length_m,bark\nT1,oak,200,3,maybe\n", 2, "stems[0].bark", "on or off"),
        ("stem,species,diameter_mm,length_m,count\nT1,oak,200,3,1.5\n", 2, "stems[0].count", "whole number"),
        ("stem,species,diameter_mm,length_m,count\nT1,oak,200,3,999999\n", 2, "stems[0].count", "10000"),
        ("stem,species,diameter_mm,length_m,defects\nT1,oak,200,3,2-9 m\n", 2, "stems[0].defects", "3 m"),
        (HEADINGS.encode() + b"T\xe4,spruce,200,175,3\n", 2, "file", "UTF-8"),
        (HEADINGS.encode() + b"T1,\x00,200,175,3\n", 2, "file", "zero byte"),
        (HEADINGS.encode("utf-16"), 1, "file", "UTF-16"),
    ],
)
def test_a_fault_names_its_physical_line_and_cell(sheet, content, line, field, told):
    sheet.stems(content)
    problem = sheet.only()
    assert (problem.line, problem.field) == (line, field)
    assert told in str(problem)
    assert problem.hint


def test_both_decimal_signs_in_one_file_are_refused(sheet):
    sheet.stems("stem;species;diameter_mm;length_m\nA;oak;200,5;3\nB;oak;200.5;3\n")
    assert "both , and ." in sheet.only().message


def test_a_comma_of_three_digits_is_decimal_where_another_cell_proves_it(sheet):
    stems = sheet.stems("stem;species;diameter_cm;length_m\nA;oak;20,25;1,200\n")
    assert stems[0].length == 1.2


def test_a_missing_list_and_a_folder_are_problems(sheet):
    assert read_stems(sheet.path, "list.csv", sheet.findings, sheet.echo) == ()
    assert "no file" in sheet.only().message


def test_what_looks_like_a_formula_is_a_name(sheet):
    (stem,) = sheet.stems(HEADINGS + '"=HYPERLINK(""http://x"")",+oak,200,175,3\n')
    assert (stem.name, stem.species) == ('=HYPERLINK("http://x")', "+oak")


def test_diameters_of_a_pile(sheet):
    assert sheet.diameters("diameter_mm\n95\n110\n\n110\n") == (0.095, 0.11, 0.11)
    assert sheet.diameters("girth_cm;count\n31,4;3\n") == (pytest.approx(0.314 / math.pi),) * 3


@pytest.mark.parametrize(
    ("content", "line", "field"),
    [
        ("diameter_mm\n95\nx\n", 3, "stock.piles[0].diameters[1].diameter"),
        ("count\n1\n", 1, "stock.piles[0].diameters"),
        ("diameter_mm,girth_cm\n1,1\n", 1, "stock.piles[0].diameters"),
    ],
)
def test_a_fault_in_a_sample_of_diameters(sheet, content, line, field):
    sheet.diameters(content)
    assert (sheet.only().line, sheet.only().field) == (line, field)


def test_zero_is_own_blank_is_unknown_and_a_comma_is_told(sheet):
    """Row 7 of the nasty inputs."""
    rows, units = sheet.prices(
        "item;quantity;unit_price_EUR;covers;unit;step;part_of\n"
        "own sand;3;0;;;;mortar\nlogs;1;;;;;wall\ncement;;6,90;mortar.cement;25 kg;;mortar\nwire;1;1,5;;;0,5;\n"
    )
    assert [row.unit_price for row in rows] == [0.0, None, 6.9, 1.5]
    assert [row.quantity for row in rows] == [3.0, 1.0, None, 1.0]
    assert [row.step for row in rows] == [1.0, 1.0, 1.0, 0.5]
    assert (rows[2].unit_amount, units[2], rows[2].unit_text, rows[2].line) == (25.0, "kg", "25 kg", 4)
    assert "list.csv:4: 6,90 -> 6.90 EUR" in sheet.echo


def test_units_in_the_owners_own_system(sheet):
    rows, units = sheet.prices(PRICES + "lime,,1,x,50 lb,,\nsand,,1,x,1 yd3,,\nlogs,,1,x,100,,\n")
    assert [(round(row.unit_amount, 6), unit) for row, unit in zip(rows, units, strict=True)] == [
        (22.679619, "kg"),
        (0.764555, "m3"),
        (100.0, ""),
    ]


@pytest.mark.parametrize(
    ("content", "line", "field", "told"),
    [
        (PRICES + "sand,3,-5,,,,mortar\n", 2, "prices[0].unit_price", "negative"),
        (PRICES + "sand,-3,5,,,,mortar\n", 2, "prices[0].quantity", "negative"),
        (PRICES + "sand,3,5 EUR,,,,mortar\n", 2, "prices[0].unit_price", "not a number"),
        (PRICES + "sand,3,=1+1,,,,mortar\n", 2, "prices[0].unit_price", "not a number"),
        (PRICES + "sand,3,99999999999999,,,,mortar\n", 2, "prices[0].unit_price", "slipped digit"),
        (PRICES + "sand,3,5,,,0,mortar\n", 2, "prices[0].step", "slipped digit"),
        (PRICES + "sand,3,5,x,a barrow,,mortar\n", 2, "prices[0].unit", "25 kg"),
        (PRICES + "sand,3,5,x,-25 kg,,mortar\n", 2, "prices[0].unit", "25 kg"),
        (PRICES + ",3,5,,,,mortar\n", 2, "prices[0].item", "blank"),
        (
            PRICES.replace("EUR", "USD") + "sand,3,5,,,,mortar\n",
            1,
            "prices",
            "the prices are in USD, the project in EUR",
        ),
        (PRICES.replace("unit_price_EUR,", "") + "sand,3,,,,mortar\n", 1, "prices", "unit_price_EUR"),
        (PRICES.replace("item,", "") + "3,5,,,,mortar\n", 1, "prices", "no column item"),
        (PRICES.replace("item", "itme") + "sand,3,5,,,,mortar\n", 1, "prices", "nearest is item"),
        (PRICES, 1, "prices", "nothing below"),
    ],
)
def test_a_fault_in_the_prices(sheet, content, line, field, told):
    sheet.prices(content)
    assert (sheet.only().line, sheet.only().field) == (line, field)
    assert told in str(sheet.only())


@pytest.fixture
def studio(tmp_path, examples):
    """A copy of the weaving studio with prices of our own."""

    def make(rows):
        for file in filter(Path.is_file, examples["weaving-studio"].iterdir()):
            (tmp_path / file.name).write_bytes(file.read_bytes())
        (tmp_path / "prices.csv").write_text(PRICES + rows, encoding="utf-8")
        return tmp_path

    return make


@pytest.mark.parametrize(
    ("row", "field", "told"),
    [
        ("cement,,6.9,mortar.cemnt,25 kg,,\n", "prices[0].covers", "mortar.cement"),
        ("cement,,6.9,mortar.cement,1 m3,,\n", "prices[0].unit", "does not measure mortar.cement"),
        ("cement,,6.9,mortar.cement,25,,\n", "prices[0].unit", "an amount in kg"),
    ],
)
def test_what_a_price_covers_is_a_figure_of_this_building(studio, row, field, told):
    folder = studio(row)
    (problem,) = [p for p in read(folder).problems if p.severity == "error"]
    assert (problem.where, problem.line, problem.field) == (str(folder / "prices.csv"), 2, field)
    assert told in str(problem)
