"""Does each elevation show from outside what the plan states: every opening once, true heights, true widths?"""

import pytest

from cordwright.book.drawing import Path, Text
from cordwright.book.elevation_drawing import View, draw_elevations
from cordwright.book.scale import extent
from cordwright.project import read
from cordwright.reckon import reckon


@pytest.fixture(scope="module", params=["weaving-studio", "bakehouse", "sauna"])
def building(request, examples):
    project = read(examples[request.param]).project
    plan = reckon(project).plan
    return request.param, project, plan, {d.name.removeprefix("elevation-"): d for d in draw_elevations(project, plan)}


def openings(drawing):
    return [s for s in drawing.shapes if isinstance(s, Path) and s.layer == "opening"]


def test_four_sides_to_one_scale_that_fits_the_sheet(building):
    _, _, _, views = building
    assert set(views) == {"north", "east", "south", "west"}
    assert len({d.denominator for d in views.values()}) == 1
    for drawing in views.values():
        left, foot, right, top = extent(p for s in drawing.shapes if isinstance(s, Path) for p in s.points)
        assert min(left, foot, drawing.width - right, drawing.height - top) > -0.01
        assert drawing.width <= 190


def test_openings_stand_at_their_height_and_square_ones_at_their_width(building):
    name, project, _, views = building
    seen = {"weaving-studio": ("south", ["W1", "W2"]), "bakehouse": ("north", ["D1", "W1"]), "sauna": ("east", ["W1"])}
    side, ids = seen[name]
    scale = views[side].denominator / 1000
    boxes = [extent(s.points) for s in openings(views[side])]
    stated = {o.id: o for o in project.plan.openings}
    datum = min(p[1] for s in views[side].shapes if isinstance(s, Path) and s.layer == "ground" for p in s.points)
    bed = datum + (project.plan.plinth_height or 0.0) / scale
    for each in ids:
        opening = stated[each]
        # A round wall foreshortens a little; a straight one seen square does not.
        low, high = (0.97, 1.13) if name == "sauna" else (0.999, 1.001)
        match = [
            b
            for b in boxes
            if abs((b[1] - bed) * scale - opening.sill) < 1e-3
            and abs((b[3] - b[1]) * scale - opening.height) < 1e-3
            and low <= (b[2] - b[0]) * scale / opening.width <= high
        ]
        assert match, each


def test_every_opening_is_seen_and_none_through_the_wall(building):
    _, project, _, views = building
    marks = [s.text for d in views.values() for s in d.shapes if isinstance(s, Text) and s.layer == "opening"]
    assert set(marks) == {o.id for o in project.plan.openings}
    # Seen square from one side, or aslant from two.
    assert all(1 <= marks.count(each) <= 2 for each in marks)


def test_a_quarter_turn_looks_at_the_next_side():
    view = View(toward=(0.0, -1.0))
    assert view.across((3.0, 5.0)) == 3.0
    assert view.depth((3.0, 5.0)) == -5.0
    assert View(toward=(1.0, 0.0)).right == (0.0, 1.0)
