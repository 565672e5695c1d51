"""Does each log end get a label that a mason reads and a phone decodes?"""

import re
from datetime import date
from io import BytesIO
from xml.etree import ElementTree as ET

import cv2
import numpy as np
import pytest
from pypdf import PdfReader

from cordwright.book.drawing import Drawing, Path, Squares, Text
from cordwright.book.labels import ACROSS, CODE, DOWN, Label, draw_labels, square_code
from cordwright.book.scale import extent
from cordwright.book.svg import to_svg
from cordwright.book.typst_backend import set_drawings


def label(n, **changes):
    stated = {"panel": "SW", "lift": 1 + n // 60, "number": str(n % 60 + 1), "log": f"T{n // 8 + 1:02d}-{n % 8 + 1}"}
    return Label(**{**stated, "stem": f"T{n // 8 + 1:02d}", "size": "142 mm", **changes})


def pixels(code, width, per_mm=12):
    """A square code as a camera sees it: dark modules on white, read from the drawing as it is written to the page."""
    drawing = Drawing(name="code", label="code", width=width, height=width, shapes=(code,))
    (path,) = ET.fromstring(to_svg(drawing)).iter("{http://www.w3.org/2000/svg}path")
    x, y, module = map(float, re.findall(r"-?[\d.]+", path.get("transform")))
    picture = np.full((round(width * per_mm),) * 2, 255, np.uint8)
    for column, row, length in re.findall(r"M(\d+) (\d+)h(\d+)v1h-\3z", path.get("d")):
        left, right, top, foot = (
            round((start + int(n) * module) * per_mm)
            for start, n in ((x, column), (x, int(column) + int(length)), (y, row), (y, int(row) + 1))
        )
        picture[top:foot, left:right] = 0
    return picture


@pytest.mark.parametrize(
    "text", ["SW 2-23\nT01-7\n142 mm", "Süd-Ost 1-6\nKuusk 3-2\n5 5/8 in", "panel " + "x" * 60, '#read("x")']
)
def test_a_phone_reads_from_the_code_what_the_label_says(text):
    read, _, _ = cv2.QRCodeDetector().detectAndDecode(pixels(square_code(text, (0.0, 0.0), CODE), CODE))
    assert read == text


def test_one_mask_serves_every_label():
    """All codes carry one mask, tried for none: a hundred labels of as many places and sizes are all read."""
    for n in range(100):
        said = label(n * 7, panel=("S", "NW", "round", "Küche")[n % 4], size=f"{95 + n} mm").said
        read, _, _ = cv2.QRCodeDetector().detectAndDecode(pixels(square_code(said, (0.0, 0.0), CODE), CODE, 8))
        assert read == said


def test_labels_stand_apart_on_the_sheet_and_go_on_to_the_next():
    sheets = draw_labels([label(n) for n in range(ACROSS * DOWN + 2)])
    assert [s.name for s in sheets] == ["labels-1", "labels-2"]
    for sheet in sheets:
        points = [p for s in sheet.shapes if isinstance(s, Path) for p in s.points]
        left, low, right, high = extent(points)
        assert min(left, low, sheet.width - right, sheet.height - high) >= 4
    words = [s.text for s in sheets[1].shapes if isinstance(s, Text)]
    assert words == ["SW lift 1", "142 mm", "T04-4", "SW lift 1", "142 mm", "T04-5"]


def test_a_foot_bar_does_not_run_into_the_size():
    (sheet,) = draw_labels([label(5)])  # number 6 stands on a bar
    size = next(s for s in sheet.shapes if isinstance(s, Text) and s.text == "142 mm")
    strokes = [s for s in sheet.shapes if isinstance(s, Path) and s.layer == "log"]
    assert min(y for s in strokes for _, y in s.points) - strokes[0].pen / 2 > size.at[1] + 0.72 * size.size


def test_a_log_that_bears_its_stem_s_name_does_not_say_it_twice():
    (sheet,) = draw_labels([label(0), label(1, log="7", stem="by the brook")])
    words = [s.text for s in sheet.shapes if isinstance(s, Text) and s.size == 3.4]
    assert words == ["T01-1", "7 of stem by the…"]


def test_long_names_are_cut_before_the_code():
    (sheet,) = draw_labels([label(0, panel="the long wall toward the lake", log="Spruce by the brook-12")])
    corner = min(s.at[0] for s in sheet.shapes if isinstance(s, Squares))
    for text in (s for s in sheet.shapes if isinstance(s, Text)):
        assert text.at[0] + 0.52 * text.size * len(text.text) < corner + 2.5


def test_the_sheets_come_as_whole_a4_pages(tmp_path):
    sheets = draw_labels([label(n) for n in range(30)])
    pdf = PdfReader(BytesIO(set_drawings(sheets, "Labels", tmp_path, date(2027, 5, 1))))
    assert len(pdf.pages) == 2
    assert [round(float(v)) for v in pdf.pages[0].mediabox[2:]] == [595, 842]
