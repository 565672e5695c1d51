"""Laid quantities: lifts add up to the panel, shapely agrees at every level, layouts come back whole from text."""

import json
import math

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

import layout_samples as samples
from cordwright.base import DataError
from cordwright.plan.inputs import WallSection
from cordwright.project.codec import decode, encode
from cordwright.wall.laid_study import LayoutStudy
from cordwright.wall.layout import Disc, Face, Filler, Hole, Log, PanelLayout, Placement
from cordwright.wall.level_cuts import bodies_below, end_area, face_below, height_of_share
from cordwright.wall.placed import Depths, place_panel
from cordwright.wall.taking import AMOUNTS, together

DEPTHS = Depths(section=WallSection(log_end_length=0.35, bead=0.10), curve=0.03, masses={}, mortar_density=2000.0)
FACE = Face(
    name="gable",
    outline=((0.0, 0.0), (3.0, 0.0), (3.0, 1.4), (1.5, 2.1), (0.0, 1.4)),
    openings=(Hole(id="W", outline=samples.box(1.1, 0.6, 0.8, 0.7)),),
    obstacles=(Disc(id="B", x=0.4, y=1.1, diameter=0.09),),
)
SIZES = st.floats(0.02, 0.4)
PLACES = st.floats(0.0, 2.0)
LOGS = st.lists(st.tuples(PLACES, PLACES, SIZES, st.sampled_from(["round", "half", "quarter"]), PLACES), max_size=12)


def layout_of(rows):
    placements = tuple(
        Placement(
            log=Log(id=f"T{n}", stem="T", diameter=d, shape=shape),
            x=x, y=y, order=n + 1, supports=("bed",), lift=min(4, 1 + int(y / 0.525)), angle=angle,
        )
        for n, (x, y, d, shape, angle) in enumerate(rows)
    )  # fmt: skip
    return samples.laid(FACE, placements, [Filler(x=2.5, y=0.3, diameter=0.04)])


@given(LOGS)
@settings(max_examples=30, deadline=None)
def test_lifts_add_up_to_the_panel_exactly(rows):
    layout = layout_of(rows)
    placed = place_panel(layout, DEPTHS)
    whole = placed.whole
    net, edges = face_below(FACE, math.inf)
    assert whole.joint_area == pytest.approx(net - bodies_below(layout, math.inf), abs=1e-9)
    assert whole.wood_area == pytest.approx(
        math.fsum(end_area(p.log.shape, p.log.diameter) for p in layout.placements), abs=1e-12
    )
    assert whole.logs == len(rows)
    assert whole.mortar_volume == pytest.approx(whole.joint_area * 0.20, abs=1e-9)
    assert whole.face_area == pytest.approx(net, abs=1e-9)
    assert 2 * whole.joint_length >= edges - 1e-9


@given(LOGS, st.floats(-0.2, 2.5))
@settings(max_examples=30, deadline=None)
def test_shapely_agrees_on_what_lies_below_a_level(rows, level):
    layout = layout_of(rows)
    below = shapely.box(-9, -9, 9, level)
    bodies = [*(shapely.Point(f.x, f.y).buffer(f.diameter / 2, 64) for f in layout.fillers)]
    bodies += [shapely.Point(o.x, o.y).buffer(o.diameter / 2, 64) for o in FACE.obstacles]
    bodies += [sector(p) for p in layout.placements]
    expected = sum(b.intersection(below).area for b in bodies)
    assert bodies_below(layout, level) == pytest.approx(expected, rel=2e-3, abs=2e-4)
    field = shapely.Polygon(FACE.outline, [h.outline for h in FACE.openings])
    area, _ = face_below(FACE, level)
    assert area == pytest.approx(field.intersection(below).area, abs=1e-6)


def sector(placed):
    radius = placed.log.diameter / 2
    disc = shapely.Point(placed.x, placed.y).buffer(radius, 64)
    half_angle = {"round": math.pi, "half": math.pi / 2, "quarter": math.pi / 4}[placed.log.shape]
    if half_angle == math.pi:
        return disc
    far = [placed.angle + half_angle * k / 4 for k in range(-4, 5)]
    wedge = [(placed.x + 3 * radius * math.cos(a), placed.y + 3 * radius * math.sin(a)) for a in far]
    return disc.intersection(shapely.Polygon([(placed.x, placed.y), *wedge]))


@given(st.floats(0.05, 0.99))
@settings(max_examples=20, deadline=None)
def test_the_height_of_a_share_holds_that_share(share):
    level = height_of_share(FACE, share)
    assert face_below(FACE, level)[0] == pytest.approx(share * face_below(FACE, math.inf)[0], rel=1e-6)


@given(LOGS, st.dictionaries(st.text(), st.floats(0, 1e6), max_size=3), st.text())
@settings(max_examples=40, deadline=None)
def test_a_study_comes_back_exactly_as_it_was(rows, seconds, name):
    layout = layout_of(rows)
    stock = tuple(p.log for p in layout.placements)
    study = LayoutStudy(panels=(layout,), stock=stock, unused=(name,), seconds=seconds)
    again = decode(LayoutStudy, json.loads(json.dumps(encode(study))))
    assert again == study
    assert json.dumps(encode(again)) == json.dumps(encode(study))


@given(
    st.recursive(
        st.none() | st.booleans() | st.floats() | st.text(), lambda x: st.lists(x) | st.dictionaries(st.text(), x)
    )
)
@settings(max_examples=60, deadline=None)
def test_what_is_no_layout_is_refused(plain):
    with pytest.raises(DataError):
        decode(PanelLayout, plain)


def test_what_cannot_be_kept_is_refused():
    with pytest.raises(DataError):
        encode({1: 2})
    with pytest.raises(DataError):
        encode(object())


def test_together_of_nothing_is_nothing():
    none = together(())
    assert all(getattr(none, name) == 0 for name in AMOUNTS)
