"""Are drawings true to scale, complete and inert?"""

import re
from dataclasses import replace
from math import pi
from xml.etree import ElementTree as ET

import pytest

import book_samples as samples
from cordwright.base import Check, InputError
from cordwright.book.drawing import (
    Arc,
    Circle,
    Drawing,
    Hatch,
    Path,
    Text,
    box,
    distance,
    fitted,
    line,
    outline,
    text_width,
)
from cordwright.book.marks import dimension, level, north_needle, post, sleeve, upright
from cordwright.book.panel_drawing import draw_panel
from cordwright.book.plan_drawing import draw_plan, draw_setting_out, drawn_marks, piers, quarters_to_north, run_through
from cordwright.book.scale import ToPaper, bar_step, choose_scale, extent, scale_bar, show_scale, turned
from cordwright.book.scribe import FIGURES, scribe, scribed_width
from cordwright.book.section_drawing import draw_section, not_stated
from cordwright.book.small_drawings import LATH_WIDTH, LIMIT, draw_buckets, draw_lath, vial
from cordwright.book.stem_drawing import diameter_at, draw_stem, stem_scale
from cordwright.book.svg import escape, plain, to_svg
from cordwright.plan.inputs import WallSection

SVG = "{http://www.w3.org/2000/svg}"


def texts(drawing):
    return [s.text for s in drawing.shapes if isinstance(s, Text)]


@pytest.mark.parametrize(
    ("width", "height", "room", "scale"),
    [
        (1.8, 2.0, (180, 200), 10),
        (1.9, 2.0, (180, 200), 12.5),
        (3.6, 2.25, (180, 200), 20),
        (8.9, 7.1, (180, 200), 50),
        (100, 2, (180, 200), 1000),
    ],
)
def test_the_largest_usual_scale_that_fits(width, height, room, scale):
    assert choose_scale(width, height, room) == scale


def test_imperial_scales_are_inches_to_the_foot():
    assert choose_scale(3.0, 2.0, (180, 200), "imperial") == 24
    assert show_scale(24, "imperial") == "1/2 in to the foot (1:24)"
    assert show_scale(20) == "1:20"
    with pytest.raises(InputError, match="nothing to draw"):
        choose_scale(0.0, 1.0, (180, 200))
    with pytest.raises(InputError, match="do not fit"):
        choose_scale(1e7, 1.0, (180, 200))


@pytest.mark.parametrize("denominator", [10, 12.5, 20, 24, 60, 100])
@pytest.mark.parametrize("units", ["metric", "imperial"])
def test_the_bar_scale_is_as_long_as_it_says(denominator, units):
    bar = scale_bar(denominator, units)
    step = bar_step(denominator, units)
    boxes = [s for s in bar.shapes if isinstance(s, Path)]
    left, _, right, _ = extent(p for b in boxes for p in b.points)
    assert right - left == pytest.approx(4 * step * 1000 / denominator)
    assert right - left <= 60
    last = float(texts(bar)[-2])
    assert last == pytest.approx(4 * step / 0.3048 if units == "imperial" else 4 * step * 1000)


def test_quarter_turns_bring_north_up():
    assert quarters_to_north(0.0) == 0
    assert quarters_to_north(pi / 2) == 1
    assert quarters_to_north(-pi / 2) == 3
    assert turned((1.0, 0.0), 1) == (0.0, -1.0)
    to_paper = ToPaper(denominator=20.0, origin=(10.0, 5.0), quarters=2)
    assert to_paper((1.0, 2.0)) == (-40.0, -95.0)
    assert to_paper.length(1.0) == 50.0


def test_a_dimension_stands_off_and_reads_from_below_or_from_the_right():
    shapes = dimension((0, 0), (0, 50), 8, "2250")
    words = next(s for s in shapes if isinstance(s, Text))
    assert words.text == "2250"
    assert words.turn == pytest.approx(pi / 2)
    assert words.at[0] < -8
    assert [upright(a) for a in (0.0, pi / 2, -pi / 2, pi)] == pytest.approx([0.0, pi / 2, pi / 2, 0.0])


def test_marks_are_whole():
    assert len(north_needle((10, 10), 0.0)) == 3
    assert sum(isinstance(s, Circle) for s in sleeve((0, 0), 2.0)) == 1
    assert len(post((0, 0), 4, 4)) == 3
    datum = [s for s in level((0, 0), "±0.00", datum=True) if isinstance(s, Path) and s.closed]
    assert [s.tone for s in datum] == ["black"]


@pytest.mark.parametrize("digit", sorted(FIGURES))
def test_scribed_figures_stay_on_their_grid(digit):
    for stroke in FIGURES[digit]:
        left, foot, right, top = extent(stroke)
        assert left >= -0.01
        assert right <= 4.01
        assert foot >= -0.01
        assert top <= 6.01


def test_a_number_that_reads_upside_down_stands_on_a_bar():
    bars = {n: len(scribe(n, (0, 0), 3.0)) - sum(len(FIGURES[c]) for c in n) for n in ("18", "69", "12", "7", "0")}
    assert bars == {"18": 1, "69": 1, "12": 0, "7": 0, "0": 1}
    assert scribe("no", (0, 0), 3.0) == ()
    assert scribed_width("12", 6.0) == pytest.approx(9.6)
    assert scribe("12", (0, 0), 3.0)[0].pen == pytest.approx(3.0 / 8.3)


def test_long_words_are_cut_to_their_room_with_an_ellipsis():
    assert fitted("short", 50, 4) == "short"
    cut = fitted("a very long name indeed", 20, 4)
    assert cut.endswith("…")
    assert text_width(cut, 4) <= 20


def test_the_svg_has_one_element_a_shape_and_millimetres_for_units():
    shapes = (
        line((0, 0), (10, 0)),
        outline(box((0, 0), 10, 5), tone="grey"),
        Circle(centre=(5, 5), radius=2, dash=(1, 1)),
        Arc(centre=(5, 5), radius=3, start=0, end=pi * 1.5),
        Text(text="W1", at=(5, 5), turn=pi / 2, halo=True, bold=True, face="measures"),
        Hatch(rings=(box((0, 0), 10, 5), box((2, 2), 1, 1)), material="mortar"),
    )
    root = ET.fromstring(to_svg(Drawing(name="t", label="All shapes", width=40, height=20, shapes=shapes)))
    assert root.attrib["width"] == "40mm"
    assert root.attrib["viewBox"] == "0 0 40 20"
    tags = [e.tag.removeprefix(SVG) for e in root]
    assert tags == ["defs", "path", "path", "circle", "path", "text", "text", "path"]
    assert root[1].attrib["d"] == "M0 20L10 20"
    assert " 1 0 " in root[4].attrib["d"]
    assert root[6].attrib["transform"] == "rotate(-90 5 15)"
    assert root[7].attrib["fill"] == "url(#t-mortar)"
    assert root[0][0].attrib["id"] == "t-mortar"


def test_a_shape_no_backend_knows_is_refused():
    with pytest.raises(TypeError, match="no backend draws"):
        to_svg(Drawing(name="t", label="", width=1, height=1, shapes=("blot",)))


def test_text_is_escaped_and_what_no_xml_holds_is_marked():
    assert escape("<b a='1'>&\"") == "&lt;b a=&#39;1&#39;&gt;&amp;&quot;"
    assert plain("a\x00b\x08c\ud800d\ufffee") == "a\ufffdb\ufffdc\ufffdd\ufffde"


def test_piers_stand_between_openings():
    panel = samples.panel("S", (samples.window(id="W2", width=0.9, from_left=2.4), samples.window()))
    assert [edge for pier in piers(panel) for edge in pier] == pytest.approx([0.0, 0.4, 2.0, 2.4, 3.3, 4.0])
    assert piers(samples.panel("S")) == ((0.0, 4.0),)


def test_a_line_through_a_panel_keeps_its_depth():
    panel = samples.panel("E")
    start, end = run_through(panel, 0.1, 0.5, 2.0, samples.THICKNESS)
    assert start == pytest.approx((4.1, 2.5))
    assert end == pytest.approx((4.1, 1.0))
    whole = samples.round_plan().panels[0]
    run = run_through(whole, 0.0, 1.0, 3.0, 0.3048)
    assert all(distance(p, (0, 0)) == pytest.approx(1.3716, rel=2e-3) for p in run)


def test_the_plan_is_to_scale_and_says_everything():
    project, plan = samples.sample_project(), samples.sample_plan()
    drawing = draw_plan(project, plan)
    assert drawing.width <= 180
    assert drawing.height <= 200
    assert {"S", "E", "N", "W1", "W2", "D1", "4000", "3000", "4700", "3700"} <= set(texts(drawing))
    eaves = next(s for s in drawing.shapes if isinstance(s, Path) and s.layer == "hidden")
    left, _, right, _ = extent(eaves.points)
    assert right - left == pytest.approx((4.0 + 2 * 0.95) * 1000 / drawing.denominator)
    strips = [s for s in drawing.shapes if isinstance(s, Hatch)]
    assert sum(s.material == "fill" for s in strips) * 2 == sum(s.material == "mortar" for s in strips)


def test_a_solid_wall_has_one_strip_and_an_unstated_post_none():
    plan = samples.sample_project().plan
    solid = samples.sample_project(
        plan=replace(
            plan, section=WallSection(log_end_length=0.35, bead=0.2), frame=replace(plan.frame, post_width=None)
        )
    )
    drawing = draw_plan(solid, samples.sample_plan())
    assert {s.material for s in drawing.shapes if isinstance(s, Hatch)} == {"mortar"}
    assert not [s for s in drawing.shapes if isinstance(s, Path) and s.layer == "frame"]


def test_a_round_plan_in_feet_is_drawn_whole():
    project, plan = samples.round_project(), samples.round_plan()
    assert "9'" in [t.replace("\u00a0", " ") for t in texts(draw_plan(project, plan))]
    for drawing in draw_panel(project, plan.panels[0], "panel-round"):
        assert "unrolled" in drawing.label
        assert drawing.width <= 180
    assert draw_setting_out(project, plan).denominator


def test_a_circle_divided_more_than_once_is_drawn_with_its_first_division():
    plan = samples.round_plan()
    marks = (("O", (0.0, 0.0)), ("8.1", (0.0, 1.37)), ("8.2", (1.0, 1.0)), ("12.1", (0.0, 1.37)))
    divided = replace(plan, setting_out=replace(plan.setting_out, points=marks))
    assert set(drawn_marks(divided)) == {"O", "8.1", "8.2"}
    assert "12.1" not in texts(draw_setting_out(samples.round_project(), divided))


def test_a_panel_shows_openings_sizes_and_sleeves_in_their_places():
    project, plan = samples.sample_project(), samples.sample_plan()
    (south,) = draw_panel(project, plan.panels[0], "panel-s")
    assert {"W1", "W2", "1600 × 1200", "400", "1600", "900", "700", "4000", "2250", "750", "300"} <= set(texts(south))
    frame = next(s for s in south.shapes if isinstance(s, Path) and s.layer == "opening" and s.pen == 0.7)
    left, foot, right, top = extent(frame.points)
    assert (right - left) * south.denominator == pytest.approx(1600)
    assert (top - foot) * south.denominator == pytest.approx(1200)
    hatch = next(s for s in south.shapes if isinstance(s, Hatch))
    assert len(hatch.rings) == 3
    (north,) = draw_panel(project, plan.panels[2], "panel-n")
    assert "K1" in texts(north)
    (east,) = draw_panel(project, plan.panels[1], "panel-e")
    assert "B1: 8 bottle ends" in texts(east)
    assert sum(isinstance(s, Circle) for s in east.shapes) == 8


def test_the_section_draws_what_is_stated_and_lists_the_rest():
    project = samples.sample_project()
    assert not_stated(project.plan) == ("the plinth's width",)
    words = " ".join(texts(draw_section(project)))
    for wanted in ("±0.00 bed", "+2.25 wall head", "−0.45 ground", "−0.05 floor", "cavity, loose fill, 150"):
        assert wanted in words
    bare = replace(project.plan, plinth_height=None, frame=replace(project.plan.frame, beam_depth=None))
    assert "ground" not in " ".join(texts(draw_section(samples.sample_project(plan=bare))))


def test_a_stem_is_cut_where_the_saw_goes():
    cut = samples.sample_timber().cuts[1]
    scale = stem_scale(samples.sample_timber().cuts, "metric")
    drawing = draw_stem(cut, scale, "stem-2")
    white = [s for s in drawing.shapes if isinstance(s, Path) and s.tone == "white" and s.pen == 0.35]
    assert len(white) == len(cut.pieces)
    for piece, ring in zip(cut.pieces, white, strict=True):
        left, _, right, _ = extent(ring.points)
        assert (left - 1) * scale / 1000 == pytest.approx(piece.start)
        assert (right - left) * scale / 1000 == pytest.approx(0.35)
    assert sum(isinstance(s, Hatch) for s in drawing.shapes) == 1
    assert diameter_at(cut.stem, 2.0) == pytest.approx(0.19)


def test_a_lath_ends_where_demand_ends_and_the_plumb_line_is_the_limit():
    def lath(demand, capacity, **more):
        check = Check(key="k", label="K", demand=demand, capacity=capacity, unit="m2", **more)
        return draw_lath(check, "lath-1")

    def black(drawing):
        return [extent(s.points) for s in drawing.shapes if isinstance(s, Path) and s.tone == "black"]

    assert black(lath(0.5, 1.0)) == []
    left, _, right, _ = black(lath(1.2, 1.0))[0]
    assert (left, right) == pytest.approx((LIMIT, 1.2 * LIMIT))
    assert black(lath(9.0, 1.0))[0][2] == pytest.approx(LATH_WIDTH)
    empty = lath(None, 1.0, not_judged="why")
    assert [s.dash != () for s in empty.shapes] == [True]
    assert lath(1.0, 0.0).shapes == empty.shapes
    bubbles = {
        w: [s.centre[0] for s in vial(w, "v").shapes if isinstance(s, Circle)]
        for w in ("holds", "close", "short", "not judged")
    }
    assert bubbles["holds"] < bubbles["close"] < bubbles["short"]
    assert bubbles["not judged"] == []


@pytest.mark.parametrize(("count", "buckets", "rows"), [(2, 2, 1), (10, 10, 2), (2.5, 3, 1), (0, 0, 1), (1000, 30, 6)])
def test_a_bucket_for_every_bucket_in_rows_of_five(count, buckets, rows):
    drawing = draw_buckets(count, "sand", "b")
    assert sum(isinstance(s, Hatch) for s in drawing.shapes) == buckets
    assert drawing.height == pytest.approx(12.6 * rows)


def test_drawings_come_out_the_same_every_time():
    project, plan = samples.sample_project(), samples.sample_plan()
    assert to_svg(draw_plan(project, plan)) == to_svg(draw_plan(project, plan))


def test_a_stored_plan_is_drawn_as_it_was(root):
    golden = (root / "tests" / "golden" / "plan.svg").read_text(encoding="utf-8")
    assert to_svg(draw_plan(samples.sample_project(), samples.sample_plan())) == golden


def test_a_stored_panel_is_drawn_as_it_was(root):
    golden = (root / "tests" / "golden" / "panel-s.svg").read_text(encoding="utf-8")
    (drawing,) = draw_panel(samples.sample_project(), samples.sample_plan().panels[0], "panel-s")
    assert to_svg(drawing) == golden


def test_no_writing_on_a_drawing_is_too_small_to_read():
    project, plan = samples.sample_project(), samples.sample_plan()
    drawings = [draw_plan(project, plan), draw_section(project), draw_setting_out(project, plan)]
    drawings += [d for p in plan.panels for d in draw_panel(project, p, "p")]
    sizes = [float(s) for d in drawings for s in re.findall(r'font-size="([\d.]+)"', to_svg(d))]
    assert min(sizes) >= 2.5
