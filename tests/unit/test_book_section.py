"""Do plinth, wall and eaves stand in the section where the file puts them?"""

from dataclasses import replace
from math import atan2, tan

import pytest

import book_samples as samples
from cordwright.book.drawing import Path, Text
from cordwright.book.scale import extent
from cordwright.book.section_drawing import draw_section
from cordwright.plan.inputs import Roof

ROOF = Roof(form="hip", pitch=0.47, overhang=0.8)


def section(**changes):
    plan = replace(samples.sample_project().plan, roof=ROOF, **changes)
    return draw_section(samples.sample_project(plan=plan)), plan


def words(drawing):
    return {s.text.replace("\u00a0", " ") for s in drawing.shapes if isinstance(s, Text)}


def slope(drawing):
    """The roof's line, the one that is neither level nor plumb and thick."""
    (found,) = [
        s for s in drawing.shapes
        if isinstance(s, Path) and s.pen == 0.5 and len(s.points) == 2 and s.points[0][0] != s.points[1][0]
    ]  # fmt: skip
    return found.points


def test_the_roof_runs_at_its_pitch_over_the_beams_outer_edge_out_to_the_eave():
    drawing, plan = section()
    (x0, y0), (x1, y1) = slope(drawing)
    assert atan2(y0 - y1, x1 - x0) == pytest.approx(ROOF.pitch)
    per_metre = 1000 / drawing.denominator
    wall = next(s for s in drawing.shapes if isinstance(s, Path) and s.closed and s.pen == 0.5 and s.layer == "wall"
                and extent(s.points)[3] - extent(s.points)[1] == pytest.approx(plan.height * per_metre))  # fmt: skip
    _, bed, face, _ = extent(wall.points)
    assert x1 - face == pytest.approx(ROOF.overhang * per_metre)
    head = plan.height + (plan.wall_head_gap or 0) + (plan.frame.beam_depth or 0)
    assert (y1 - bed) / per_metre == pytest.approx(head - ROOF.overhang * tan(ROOF.pitch))
    assert {"800", "2250"} <= words(drawing)
    assert any(text.endswith("eave") for text in words(drawing))
    assert "footing not stated" in words(drawing)


@pytest.mark.parametrize("overhang", [0.0, 0.3, 1.5])
@pytest.mark.parametrize("units", ["metric", "imperial"])
def test_nothing_runs_off_the_paper(overhang, units):
    plan = replace(samples.sample_project().plan, roof=replace(ROOF, overhang=overhang), plinth_width=0.45)
    drawing = draw_section(samples.sample_project(plan=plan, units=units))
    assert drawing.width <= 180
    assert drawing.height <= 205
    for shape in drawing.shapes:
        if isinstance(shape, Path):
            left, foot, right, top = extent(shape.points)
            assert left >= 0
            assert foot >= 0
            assert right <= drawing.width
            assert top <= drawing.height
        elif isinstance(shape, Text) and shape.anchor == "start":
            share = 0.602 if shape.face == "measures" else 0.45
            assert shape.at[0] + len(shape.text) * shape.size * share <= drawing.width + 1


def test_without_a_roof_there_is_no_eave():
    plan = replace(samples.sample_project().plan, roof=None)
    drawing = draw_section(samples.sample_project(plan=plan))
    assert not any("eave" in text for text in words(drawing))
    assert "0" not in words(drawing)
