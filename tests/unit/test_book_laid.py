"""Is a laid panel drawn so that every log is found: true to scale, numbered by lift, readable, the same every time?"""

import re
from dataclasses import replace
from itertools import pairwise

import pytest
import shapely

import book_samples
import layout_samples as samples
from cordwright.base import InputError
from cordwright.book.drawing import Circle, Path, Text, distance, every
from cordwright.book.laid_drawing import draw_laid_panel, draw_lifts
from cordwright.book.laid_sheet import SMALLEST, choose_sheets, smallest_figure
from cordwright.book.lift_bands import end_of_lift, heights_at, lift_at, lift_bands, numbers_in_lifts
from cordwright.book.log_ends import (
    FLOOR,
    draw_key,
    draw_log_end,
    draw_stone,
    figure_height,
    kinds_of_wood,
)
from cordwright.book.scale import extent
from cordwright.book.scribe import scribed_width
from cordwright.book.svg import to_svg
from cordwright.plan.inputs import BottleGroup, Sleeve
from cordwright.plan.results import Obstacle, Panel
from cordwright.wall.layout import Log

LAYOUT = samples.stored()
RINGS = {p.log.id: (0, 0, 1, 2)[n % 4] for n, p in enumerate(LAYOUT.placements)}


def panel_of(layout, openings=(), obstacles=()):
    wide, high = layout.face.outline[2]
    return Panel(
        name=layout.face.name,
        inner_length=wide,
        centre_length=wide,
        outer_length=wide,
        inner_line=(),
        centre_line=(),
        outer_line=(),
        bearing=0.0,
        inner_radius=None,
        outline=layout.face.outline,
        openings=openings,
        obstacles=obstacles,
        gross_area=wide * high,
        openings_area=0.0,
    )


def stored_panel():
    window = book_samples.window(id="W1", width=0.4, height=0.4, sill=0.45, from_left=0.4)
    obstacles = tuple(Obstacle(id=d.id, what="", u=d.x, v=d.y, diameter=d.diameter) for d in LAYOUT.face.obstacles)
    return panel_of(LAYOUT, (book_samples.placed(window),), obstacles)


def project(**changes):
    base = book_samples.sample_project()
    sleeve = Sleeve(id="K1", panel="S", what="inlet", diameter=0.05, from_left=1.05, height=0.5)
    bottles = BottleGroup(id="B1", panel="S", count=1, diameter=0.078, band_low=0.7, band_high=0.8)
    return replace(base, plan=replace(base.plan, sleeves=(sleeve,), bottles=(bottles,)), **changes)


def texts(drawing):
    return [s.text for s in drawing.shapes if isinstance(s, Text)]


def ends(drawing, tone="white"):
    """The log ends of a drawing: circles with a tone, none of the rings."""
    return [s for s in every(drawing.shapes) if isinstance(s, Circle) and s.layer == "log" and s.tone == tone]


def drawn():
    (drawing,) = draw_laid_panel(project(), stored_panel(), LAYOUT, RINGS, "laid-s")
    return drawing


def test_a_stored_layout_is_drawn_as_it_was(root):
    golden = (root / "tests" / "golden" / "laid-s.svg").read_text(encoding="utf-8")
    assert to_svg(drawn()) == golden


def test_a_stored_lift_is_drawn_as_it_was(root):
    lifts = draw_lifts(project(), stored_panel(), LAYOUT, RINGS, "laid-s")
    golden = (root / "tests" / "golden" / "laid-s-lift-2.svg").read_text(encoding="utf-8")
    assert to_svg(lifts[1]) == golden


def test_every_log_stands_true_to_scale_in_its_place():
    drawing = drawn()
    assert drawing.denominator == 10
    circles = ends(drawing)
    assert len(circles) == len(LAYOUT.placements)
    left = min(c.centre[0] - c.radius for c in circles) - 0.0125 * 100
    foot = min(c.centre[1] - c.radius for c in circles) - 0.0125 * 100
    for circle, placed in zip(circles, LAYOUT.placements, strict=True):
        assert circle.radius == pytest.approx(placed.log.diameter * 50)
        assert circle.centre == pytest.approx((left + placed.x * 100, foot + placed.y * 100), abs=1e-6)
        assert circle.pen == 0.35


def test_numbers_start_again_in_each_lift_in_laying_order():
    numbers = numbers_in_lifts(LAYOUT.placements)
    for lift in (1, 2):
        own = [p for p in LAYOUT.placements if p.lift == lift]
        assert [int(numbers[p.log.id]) for p in own] == list(range(1, len(own) + 1))
    assert {"1", "2", "W1", "400 × 400", "1200", "900", "K1", "B1: 1 bottle end"} <= set(texts(drawn()))


@pytest.mark.parametrize(
    ("number", "radius", "height"),
    [("7", 3.0, 2.76), ("7", 6.0, 3.6), ("27", 3.0, 2.625), ("27", 2.0, 2.1), ("7", 2.0, 2.3), ("27", 9.0, 3.6)],
)
def test_figures_are_as_high_as_the_rule_says(number, radius, height):
    assert figure_height(number, radius) == pytest.approx(height)
    assert scribed_width(number, figure_height(number, radius)) <= 1.68 * radius + 1e-9


def test_no_number_leaves_its_log_or_falls_under_the_floor():
    drawing = drawn()
    circles = ends(drawing)
    for stroke in (s for s in every(drawing.shapes) if isinstance(s, Path) and s.layer == "log"):
        left, foot, right, top = extent(stroke.points)
        home = min(circles, key=lambda c: distance(c.centre, ((left + right) / 2, (foot + top) / 2)))
        assert all(distance(home.centre, p) < home.radius for p in stroke.points)
    numbers = numbers_in_lifts(LAYOUT.placements)
    assert smallest_figure(LAYOUT, numbers, 10.0) >= FLOOR


def rings_of(ring, radius=5.0):
    log = Log(id="a", stem="a", diameter=0.1)
    return [
        (round(s.radius / radius, 9), bool(s.dash))
        for s in draw_log_end(log, (0, 0), radius, "7", ring=ring)[1:]
        if isinstance(s, Circle)
    ]


def test_a_ring_tells_the_wood():
    assert rings_of(0) == [(0.88, False)]
    assert rings_of(1) == [(0.86, True)]
    assert rings_of(2) == [(0.88, False), (0.76, False)]
    assert rings_of(None) == []
    assert rings_of(9) == []
    assert rings_of(0, radius=2.5) == []
    assert kinds_of_wood(["spruce", "aspen", "spruce", "", "lime"]) == ("spruce", "aspen", "lime")


def test_a_number_that_reads_upside_down_has_a_foot_bar_and_others_none():
    log = Log(id="a", stem="a", diameter=0.1)

    def level(number):
        paths = [s for s in draw_log_end(log, (0, 0), 5.0, number) if isinstance(s, Path)]
        return [p for p in paths if len(p.points) == 2 and p.points[0][1] == p.points[1][1] < -1.5]

    assert len(level("18")) == 1
    assert level("25") == level("14") == []


def test_a_split_is_drawn_as_a_split_with_its_number_inside():
    half = Log(id="h", stem="h", diameter=0.2, shape="half")
    shapes = draw_log_end(half, (10, 10), 8.0, "5", ring=0, angle=0.0)
    face = shapely.Polygon(shapes[0].points)
    assert face.area == pytest.approx(3.14159 * 32, rel=5e-3)
    assert face.bounds[0] == pytest.approx(10, abs=1e-9)
    assert all(face.contains(shapely.LineString(s.points)) for s in shapes[1:])
    assert not any(isinstance(s, Circle) for s in shapes)


def test_lifts_share_the_whole_face_and_part_in_the_joints():
    for layout in (LAYOUT, samples.square(8, 8), samples.hexagonal(9, 9)):
        bands = lift_bands(layout)
        holes = sum(shapely.Polygon(h.outline).area for h in layout.face.openings)
        whole = shapely.Polygon(layout.face.outline).area - holes
        assert sum(b.area for b in bands.values()) == pytest.approx(whole)
        for lift in list(bands)[:-1]:
            lines = end_of_lift(bands, lift)
            assert lines
            for placed in layout.placements:
                gap = min(shapely.LineString(p).distance(shapely.Point(placed.x, placed.y)) for p in lines)
                assert gap > placed.log.diameter / 2
                assert lift_at(bands, (placed.x, placed.y)) == placed.lift


def test_the_lifts_are_read_at_both_posts():
    bands = lift_bands(samples.square(4, 6))
    rows = heights_at(bands, 1e-4)
    assert [lift for lift, _, _ in rows] == [1, 2, 3]
    assert [low for _, low, _ in rows] == pytest.approx([0.0, 0.35, 0.70], abs=0.013)
    (drawing,) = draw_laid_panel(project(), panel_of(samples.square(4, 6)), samples.square(4, 6), {}, "sq")
    assert [texts(drawing).count(n) for n in "123"] == [2, 2, 2]
    ticks = [s for s in drawing.shapes if isinstance(s, Path) and s.layer == "reference" and s.pen == 0.5]
    assert len(ticks) == 4


def test_under_a_gable_the_upper_lifts_are_named_beside_the_slope():
    outline = ((0.0, 0.0), (1.5, 0.0), (1.5, 0.4), (0.75, 1.15), (0.0, 0.4))
    gable = shapely.Polygon(outline)
    hexagonal = samples.hexagonal(8, 8)
    inside = [p for p in hexagonal.placements if gable.buffer(-0.0874).contains(shapely.Point(p.x, p.y))]
    layout = samples.laid(replace(hexagonal.face, outline=outline), inside)
    panel = replace(panel_of(layout), outline=outline, centre_length=1.5)
    (drawing,) = draw_laid_panel(project(), panel, layout, {}, "g")
    assert [texts(drawing).count(n) for n in "123"] == [2, 2, 0]
    assert {"400", "750", "1150", "1500"} <= set(texts(drawing))


def test_a_panel_laid_in_one_lift_has_no_end_of_lift():
    layout = samples.hexagonal(4, 2)
    (drawing,) = draw_laid_panel(project(), panel_of(layout), layout, {}, "one")
    assert not [s for s in drawing.shapes if isinstance(s, Path) and s.dash]
    (lift,) = draw_lifts(project(), panel_of(layout), layout, {}, "one")
    assert lift.name == "one-lift-1"


def test_lift_by_lift_the_laid_ones_are_grey_and_the_later_ones_missing():
    first, second = draw_lifts(project(), stored_panel(), LAYOUT, RINGS, "laid-s")
    counts = [sum(p.lift == n for p in LAYOUT.placements) for n in (1, 2)]
    assert (first.name, second.name) == ("laid-s-lift-1", "laid-s-lift-2")
    assert [len(ends(first)), len(ends(first, "grey"))] == [counts[0], 0]
    foot = min(p.y - p.log.diameter / 2 for p in LAYOUT.placements if p.lift == 2) - 0.030
    under = [p for p in LAYOUT.placements if p.lift == 1 and p.y + p.log.diameter / 2 > foot]
    assert 0 < len(under) < counts[0]
    assert [len(ends(second)), len(ends(second, "grey"))] == [counts[1], len(under)]
    assert "lift 2 of 2" in second.label


def long_layout(columns=60):
    return samples.hexagonal(columns, 6, diameter=0.08)


def test_a_long_panel_is_cut_in_sheets_that_number_each_log_once():
    layout = long_layout()
    drawings = draw_laid_panel(project(), panel_of(layout), layout, {}, "long")
    assert len(drawings) > 1
    assert [d.name for d in drawings] == [f"long-bay-{n}" for n in range(1, len(drawings) + 1)]
    assert len({d.denominator for d in drawings}) == 1
    assert all(d.width <= 180 and d.height <= 200 for d in drawings)
    full = [c for d in drawings for c in ends(d) if c.pen == 0.35]
    assert len(full) == len(layout.placements)
    assert any(c.pen == 0.18 for d in drawings for c in ends(d))
    assert " from 0 to " in drawings[0].label


def test_the_scale_is_the_largest_that_fits_and_never_too_small_to_read():
    for columns, scale in ((8, 10), (18, 12.5), (21, 15), (28, 20)):
        layout = samples.hexagonal(columns, 3, diameter=0.08)
        ((bay, frame),) = choose_sheets(project(), panel_of(layout), layout)
        assert bay.count == 1
        assert frame.to_paper.denominator == scale
    sheets = choose_sheets(project(), panel_of(long_layout()), long_layout())
    assert (
        smallest_figure(long_layout(), numbers_in_lifts(long_layout().placements), sheets[0][1].to_paper.denominator)
        >= FLOOR
    )
    feet = project(units="imperial", locale="en_US")
    ((_, frame),) = choose_sheets(feet, panel_of(samples.hexagonal(8, 3)), samples.hexagonal(8, 3))
    assert frame.to_paper.denominator in (12, 16, 24)
    assert SMALLEST == {"metric": 25.0, "imperial": 24.0}


def test_a_panel_higher_than_any_sheet_is_refused_in_words():
    face = samples.Face(name="tower", outline=samples.box(0, 0, 1, 6))
    layout = samples.laid(face, ())
    with pytest.raises(InputError, match="tower is too large"):
        draw_laid_panel(project(), panel_of(layout), layout, {}, "t")


def test_nothing_is_drawn_off_the_paper_and_no_writing_is_too_small():
    lifts = draw_lifts(project(), stored_panel(), LAYOUT, RINGS, "s")
    for drawing in (drawn(), *lifts, draw_key(("spruce", "aspen"), "k")):
        for shape in every(drawing.shapes):
            points = shape.points if isinstance(shape, Path) else [getattr(shape, "centre", None) or shape.at]
            assert all(-0.5 <= x <= drawing.width + 0.5 for x, _ in points)
            # A lift is a strip: posts, frames and logs below run on past its edge; writing does not.
            if drawing not in lifts or isinstance(shape, Text):
                assert all(-0.5 <= y <= drawing.height + 0.5 for _, y in points)
        assert min(float(s) for s in re.findall(r'font-size="([\d.]+)"', to_svg(drawing))) >= 2.5


def test_marks_of_sleeves_do_not_cover_each_other():
    obstacles = tuple(Obstacle(id=f"K{n}", what="", u=0.5 + 0.01 * n, v=0.5, diameter=0.03) for n in range(4))
    layout = samples.laid(samples.hexagonal(6, 4).face, ())
    (drawing,) = draw_laid_panel(project(), panel_of(layout, obstacles=obstacles), layout, {}, "m")
    marks = sorted(s.at[0] for s in drawing.shapes if isinstance(s, Text) and s.text.startswith("K"))
    assert len(marks) == 4
    assert all(b - a > 3.8 for a, b in pairwise(marks))


def test_a_stone_is_rough_round_and_keeps_to_its_place():
    for x in range(20):
        stone = draw_stone((x * 3.1, 7.0), 2.0)
        assert max(distance(p, (x * 3.1, 7.0)) for p in stone.points) <= 2.0 + 1e-9
        assert shapely.Polygon(stone.points).is_valid
        assert shapely.Polygon(stone.points).area > 7.0
    assert draw_stone((1, 1), 2.0) == draw_stone((1, 1), 2.0)


def test_hostile_names_stay_words():
    text = "</svg><script>"
    layout = replace(LAYOUT, face=replace(LAYOUT.face, name=text))
    panel = replace(stored_panel(), name=text, openings=tuple(
        replace(p, opening=replace(p.opening, id=text)) for p in stored_panel().openings
    ))  # fmt: skip
    (drawing,) = draw_laid_panel(project(), panel, layout, RINGS, "laid-s")
    assert "<script" not in to_svg(drawing)


def test_a_stone_above_the_lift_is_left_out():
    first, second = draw_lifts(project(), stored_panel(), LAYOUT, RINGS, "s")
    stones = [
        sum(isinstance(s, Path) and s.layer == "built-in" and s.closed for s in d.shapes) for d in (first, second)
    ]
    assert stones == [0, 1]
