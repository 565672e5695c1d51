"""Does a neighbour's CAD read what was drawn: in millimetres built, layer by layer, without a fault?"""

import io
from datetime import date
from math import isclose, tan

import ezdxf
import pytest

from cordwright.book.assemble import assemble
from cordwright.book.companions import pictures_in, write_drawings
from cordwright.book.drawing import Arc, Circle, Drawing, Group, Hatch, Path, Squares, Text, box, line, outline
from cordwright.book.dxf import COLOURS, inert, to_dxf
from cordwright.book.panel_drawing import draw_panel
from cordwright.book.plan_drawing import draw_plan
from cordwright.book.section_drawing import draw_section
from cordwright.book.svg import to_svg
from cordwright.project import read
from cordwright.reckon import reckon


def opened(drawing):
    document = ezdxf.read(io.StringIO(to_dxf(drawing)))
    audit = document.audit()
    assert audit.errors == []
    assert audit.fixes == []
    return document


def of(*shapes, denominator=20.0, name="test"):
    return Drawing(name=name, label="a test", width=100, height=80, shapes=shapes, denominator=denominator)


def extent_of(entities):
    points = [(x, y) for e in entities for x, y, *_ in e.get_points()]
    xs, ys = zip(*points, strict=True)
    return min(xs), min(ys), max(xs), max(ys)


@pytest.fixture(scope="module")
def studio(examples):
    project = read(examples["weaving-studio"]).project
    return project, reckon(project)


def test_a_panel_s_openings_measure_in_cad_what_the_file_states(studio):
    project, reckoning = studio
    panel = next(p for p in reckoning.plan.panels if p.name == "S")
    (drawing,) = draw_panel(project, panel, "panel-s")
    document = opened(drawing)
    assert document.header["$INSUNITS"] == 4
    frames = document.modelspace().query('LWPOLYLINE[layer=="OPENING"]')
    sizes = sorted(
        (round(x1 - x0, 3), round(y1 - y0, 3))
        for x0, y0, x1, y1 in (extent_of([f]) for f in frames if f.dxf.lineweight == 70)
    )
    assert sizes == [(900.0, 1200.0), (1600.0, 1200.0)]
    wall = extent_of(document.modelspace().query('LWPOLYLINE[layer=="WALL"]'))
    assert wall[2] - wall[0] == pytest.approx(panel.centre_length * 1000, abs=1e-6)
    assert wall[3] - wall[1] == pytest.approx(2250, abs=1e-6)


@pytest.mark.parametrize("draw", [lambda p, r: draw_plan(p, r.plan), lambda p, _: draw_section(p)])
def test_plan_and_section_open_without_a_fault(studio, draw):
    document = opened(draw(*studio))
    assert len(document.modelspace()) > 20
    assert {e.dxf.layer for e in document.modelspace()} <= {layer.upper() for layer in COLOURS}


def test_the_eave_measures_in_cad_what_the_file_states(studio):
    project, _ = studio
    plan = project.plan
    document = opened(draw_section(project))
    lines = [e.get_points("xy") for e in document.modelspace().query('LWPOLYLINE[layer=="WALL"]')]
    ((high, low),) = [p for p in lines if len(p) == 2 and p[0][0] != p[1][0] and p[0][1] != p[1][1]]
    beam = extent_of(document.modelspace().query('LWPOLYLINE[layer=="FRAME"]'))
    face = (beam[0] + beam[2]) / 2 + plan.section.thickness * 500
    assert low[0] - face == pytest.approx(plan.roof.overhang * 1000, abs=1e-6)
    assert (high[1] - low[1]) / (low[0] - high[0]) == pytest.approx(tan(plan.roof.pitch))
    assert beam[3] - low[1] == pytest.approx(plan.roof.overhang * tan(plan.roof.pitch) * 1000, abs=1e-6)


def test_every_drawing_of_a_book_opens_without_a_fault(examples):
    project = read(examples["sauna"]).project
    drawings = pictures_in(assemble(project, reckon(project), date(2027, 5, 13)))
    assert {d.name for d in drawings} >= {"plan", "setting-out", "section", "elevation-south"}
    assert all(len(opened(drawing).modelspace()) > 5 for drawing in drawings)


def test_a_square_code_comes_over_as_its_dark_fields():
    document = opened(of(Squares(at=(10.0, 50.0), module=0.5, runs=((0, 0, 7), (3, 2, 1)))))
    fields = document.modelspace().query("HATCH")
    corners = [sorted((x, y) for x, y, _ in f.paths[0].vertices) for f in fields]
    assert corners == [
        [(200, 990), (200, 1000), (270, 990), (270, 1000)],
        [(230, 970), (230, 980), (240, 970), (240, 980)],
    ]


def test_every_kind_of_shape_comes_over_enlarged_with_its_pen():
    document = opened(
        of(
            line((0, 0), (10, 0), 0.5, "frame", (2.0, 1.0)),
            outline(box((0, 0), 4, 3), 0.35, "wall", "grey"),
            Circle(centre=(5, 5), radius=2, pen=0.13, tone="black", layer="built-in"),
            Arc(centre=(1, 1), radius=3, start=0.0, end=1.5707963267948966),
            Text(text="W1", at=(3, 4), size=5.0, face="measures", anchor="start"),
            Hatch(rings=(box((0, 0), 9, 9), box((3, 3), 2, 2)), material="timber"),
        )
    )
    space = document.modelspace()
    dashed = space.query('LWPOLYLINE[layer=="FRAME"]').first
    assert (dashed.dxf.lineweight, dashed.get_points("xy")[1]) == (50, (200, 0))
    assert document.linetypes.get(dashed.dxf.linetype).pattern_tags is not None
    (circle,) = space.query("CIRCLE")
    assert (circle.dxf.radius, circle.dxf.lineweight) == (40, 13)
    (arc,) = space.query("ARC")
    assert isclose(arc.dxf.end_angle, 90)
    (text,) = space.query("TEXT")
    assert (text.dxf.text, text.dxf.style, text.dxf.height) == ("W1", "MEASURES", pytest.approx(5 * 0.68 * 20))
    solid = [h for h in space.query("HATCH") if h.dxf.solid_fill]
    assert {h.rgb for h in solid} == {(228, 228, 228), (17, 17, 17)}
    (pattern,) = [h for h in space.query("HATCH") if not h.dxf.solid_fill]
    assert (pattern.dxf.pattern_name, len(pattern.paths)) == ("ANSI31", 2)


def test_a_log_end_is_a_block_named_as_on_the_log():
    def end(name, x):
        return Group(name=name, at=(x, 4.0), shapes=(Circle(centre=(x, 4.0), radius=3, layer="log"),))

    document = opened(of(end("SW 2-23", 4.0), end("SW 2-24", 14.0), end("SW 2-24", 24.0)))
    placed = document.modelspace().query("INSERT")
    assert [i.dxf.name for i in placed] == ["SW 2-23", "SW 2-24", "SW 2-24 (2)"]
    (circle,) = (e for e in placed[1].virtual_entities() if e.dxftype() == "CIRCLE")
    assert (circle.dxf.center.x, circle.dxf.center.y, circle.dxf.radius) == (280, 80, 60)
    assert to_svg(of(end("SW 2-23", 4.0))).count('data-name="SW 2-23"') == 1


@pytest.mark.parametrize(
    "text",
    [
        '#read("x")',
        "100%%d",
        "^J^M",
        "a\nb\r\nc",
        "%%u{\\H3;x}",
        "\x00\x1b[2J",
        "</text><script>",
        "\ud800",
        "  0\nEOF\n",
    ],
)
def test_a_hostile_name_stays_text(text):
    shapes = (
        Text(text=text, at=(0, 0)),
        Group(name=text, at=(0, 0), shapes=(Path(points=((0, 0), (1, 1)), layer="log"),)),
    )
    document = opened(of(*shapes))
    assert [e.dxftype() for e in document.modelspace()] == ["TEXT", "INSERT"]
    shown = document.modelspace().query("TEXT").first
    assert shown.plain_text().replace("^ ", "^").split() == text_shown(text).split()


def text_shown(text):
    """What a reader should see: the same characters, control characters as spaces."""
    return "".join(" " if ord(c) < 32 or 0x7F <= ord(c) < 0xA0 or 0xD800 <= ord(c) < 0xE000 else c for c in text)


def test_codes_of_dxf_programs_are_written_so_that_they_read_as_text():
    assert inert("60 %") == "60 %"
    assert inert("%%d") == "%%%%%%d"


def test_what_nobody_builds_from_is_no_drawing_for_cad(tmp_path):
    names = ("panel-s", "panel-s-lift-1", "heat-coldest", "warmth-coldest")
    written = [
        p.name for p in write_drawings([of(line((0, 0), (9, 9), 0.5, "frame"), name=name) for name in names], tmp_path)
    ]
    assert written == ["panel-s.svg", "panel-s.dxf", *(f"{name}.svg" for name in names[1:])]
