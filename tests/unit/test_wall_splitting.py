"""What is cleaved, what the pieces are called, what stones displace, and how splits are stated, told and drawn."""

import math
from dataclasses import replace

import numpy as np
import pytest

import layout_samples as samples
from cordwright.base import InputError
from cordwright.book.drawing import Circle, Path, distance
from cordwright.book.log_ends import FLOOR, TALLEST, draw_log_end, figure_place, split_figure
from cordwright.book.scribe import scribed_width
from cordwright.timber import find_faults, reckon_timber
from cordwright.timber.inputs import Pile, Species, TimberInput
from cordwright.wall.dealing import widest_place
from cordwright.wall.displacement import displaced, filler_area, stones_in
from cordwright.wall.faces import logs_of
from cordwright.wall.inputs import Splitting
from cordwright.wall.judge import judge, used_twice
from cordwright.wall.layout import Face, Filler, Log, Placement
from cordwright.wall.layout_json import layout_json
from cordwright.wall.splitting import cleave

STOCK = tuple(Log(id=f"S{n}", stem="S", diameter=d) for n, d in enumerate((0.12, 0.2, 0.28, 0.34), start=1))


def test_only_what_the_owner_wants_cleaved_is_cleaved():
    assert cleave(STOCK, None, 0.1) == STOCK
    cut = cleave(STOCK, Splitting(over=0.25, logs=("S1",)), 1.0)
    assert [log.id for log in cut] == ["S1a", "S1b", "S2", "S3a", "S3b", "S4a", "S4b"]
    assert {log.shape for log in cut if log.parent} == {"half"}
    assert [log.diameter for log in cut if log.parent == "S3"] == [0.28, 0.28]
    assert {log.stem for log in cut} == {"S"}


def test_a_log_too_wide_for_every_panel_is_cleaved_and_one_just_at_the_size_is_not():
    cut = cleave(STOCK, Splitting(over=0.28, into="quarter"), 0.3)
    assert [log.id for log in cut] == ["S1", "S2", "S3", "S4a", "S4b", "S4c", "S4d"]
    assert cleave(STOCK, Splitting(), 0.3)[-1].id == "S4b"


def test_a_split_that_came_as_one_stays_as_it_is():
    split = Log(id="P1", stem="P", diameter=0.5, shape="half")
    assert cleave((split,), Splitting(over=0.1, logs=("P1",), into="quarter"), 0.1) == (split,)


def test_unknown_and_doubled_names_are_refused():
    with pytest.raises(InputError, match="S7, S9"):
        cleave(STOCK, Splitting(logs=("S9", "S1", "S7")), 1.0)
    with pytest.raises(InputError, match="S1a"):
        cleave((*STOCK, replace(STOCK[1], id="S1a")), Splitting(logs=("S1",)), 1.0)


def test_the_widest_place_of_all_panels():
    narrow = Face(name="n", outline=samples.box(0, 0, 0.2, 2.0))
    wide = Face(name="w", outline=samples.box(0, 0, 0.3, 1.0))
    assert widest_place((narrow,), 0.0125) == pytest.approx(0.175, abs=1e-4)
    assert widest_place((narrow, wide), 0.0125) == pytest.approx(0.275, abs=1e-4)


def test_a_round_and_its_halves_and_a_third_half_are_used_twice():
    face = Face(name="d", outline=samples.box(0, 0, 2, 1))
    whole = Log(id="A", stem="A", diameter=0.2)
    halves = [Log(id=f"A{c}", stem="A", diameter=0.2, shape="half", parent="A") for c in "abc"]

    def doubled(*logs):
        laid = samples.laid(
            face,
            [Placement(log=g, x=0.3 + 0.3 * n, y=0.5, order=n + 1, supports=("bed",)) for n, g in enumerate(logs)],
        )
        return [(v.ids, v.amount) for v in used_twice((laid,))]

    assert doubled(*halves[:2]) == []
    assert doubled(whole, halves[0]) == [(("A", "Aa"), 0.5)]
    assert doubled(*halves) == [(("A", "Aa", "Ab", "Ac"), 0.5)]


@pytest.mark.parametrize("rule", ["edge", "opening", "joint", "obstacle"])
def test_the_judge_measures_a_half_by_its_own_outline(rule):
    """The flat faces what it must keep clear of; moved nearer by 0.1 mm it is told, at the joint it is not."""
    half = Log(id="H", stem="H", diameter=0.3, shape="half")
    left, joint = 0.5, {"edge": samples.EDGE, "opening": samples.EDGE}.get(rule, samples.JOINT)
    face = Face(name="f", outline=samples.box(left if rule == "edge" else 0, 0, 2, 1))
    others = ()
    if rule == "opening":
        face = replace(face, openings=(samples.Hole(id="W", outline=samples.box(0.2, 0.3, 0.3, 0.4)),))
    if rule == "obstacle":
        face = replace(face, obstacles=(samples.Disc(id="K", x=left - 0.05, y=0.5, diameter=0.1),))
    if rule == "joint":
        log = Log(id="R", stem="R", diameter=0.1)
        others = (Placement(log=log, x=left - 0.05, y=0.5, order=2, supports=("chip",), note="chip"),)
    for nearer, found in ((0.0, set()), (1e-4, {rule})):
        own = Placement(log=half, x=left + joint - nearer, y=0.5, order=1, supports=("chip",), note="chip")
        layout = samples.laid(face, (own, *others))
        assert {v.rule for v in judge(layout, samples.stock_of(layout), **samples.RULES)} == found


def test_stones_displace_the_mortar_behind_their_faces():
    fillers = (Filler(x=0, y=0, diameter=0.04), Filler(x=1, y=0, diameter=0.06))
    area = math.pi / 4 * (0.04**2 + 0.06**2)
    assert filler_area(fillers) == pytest.approx(area)
    assert displaced(fillers, 0.15) == pytest.approx(area * 0.15)
    assert displaced((), 0.15) == 0.0
    assert stones_in(fillers) == 4
    with pytest.raises(InputError):
        displaced(fillers, math.nan)
    with pytest.raises(InputError):
        displaced(fillers, -0.1)


def timber_of(shape):
    pile = Pile(species="spruce", stacked_volume=2.0, solid_factor=0.6, diameters=(0.2, 0.24), shape=shape)
    wood = Species(name="spruce", label="spruce", shrinkage=0.057, basic_density=370.0)
    return TimberInput(piles=(pile,), species=(wood,), laying_moisture=0.2, measured_moisture=0.2)


@pytest.mark.parametrize(("shape", "share"), [("round", 1.0), ("half", 0.5), ("quarter", 0.25)])
def test_a_pile_of_splits_holds_more_pieces_of_the_same_wood(shape, share):
    need = {"net_area": 10.0, "wood_fraction": 0.6, "wood_fraction_low": 0.55, "wood_fraction_high": 0.65}
    wood = reckon_timber(timber_of(shape), log_end_length=0.4, **need)
    mean_face = share * math.pi / 4 * (0.2**2 + 0.24**2) / 2
    assert len(wood.stock.id) == round(2.0 * 0.6 / (mean_face * 0.4))
    assert wood.figure("timber.solid_volume").value == pytest.approx(1.2)
    assert wood.figure("timber.face_area").value == pytest.approx(3.0)
    logs = logs_of(wood.stock)
    assert {log.shape for log in logs} == {shape}
    assert {round(log.diameter, 3) for log in logs} == {0.2, 0.24}
    heavier = reckon_timber(timber_of("round"), log_end_length=0.4, **need).stock.mass_laying.max()
    assert wood.stock.mass_laying.max() == pytest.approx(share * heavier, rel=0.02)
    assert np.isfinite(wood.stock.diameter).all()


def test_a_shape_nobody_knows_is_a_problem():
    odd = replace(timber_of("round").piles[0], shape="third")
    (found,) = [p for p in find_faults(replace(timber_of("round"), piles=(odd,)), 0.4) if p.severity == "error"]
    assert found.field == "stock.piles[0].shape"
    assert "third" in found.message


def test_a_split_is_told_with_its_parents_centre_and_diameter():
    log = Log(id="S3-4a", stem="S3", diameter=0.3, shape="half", parent="S3-4")
    face = Face(name="j", outline=samples.box(0, 0, 1, 1))
    placed = Placement(
        log=log, x=0.5, y=samples.EDGE, order=1, supports=("bed",), angle=math.pi / 2, note="half, flat down on the bed"
    )
    shown = layout_json((samples.laid(face, (placed,)),), (log, STOCK[0]), ())
    (end,) = shown["panels"][0]["placements"]
    assert (end["shape"], end["diameter"], end["x"], end["y"]) == ("half", 0.3, 0.5, samples.EDGE)
    assert end["angle"] == pytest.approx(math.pi / 2)
    assert shown["stock"][0] == {"id": "S3-4a", "stem": "S3", "diameter": 0.3, "shape": "half", "parent": "S3-4"}
    assert set(shown["stock"][1]) == {"id", "stem", "diameter"}


@pytest.mark.parametrize("shape", ["half", "quarter"])
@pytest.mark.parametrize("number", ["7", "16", "42"])
@pytest.mark.parametrize("turn", range(8))
def test_a_split_carries_its_number_inside_its_outline(shape, number, turn):
    angle, log = turn * math.pi / 4, Log(id="x", stem="x", diameter=1.0, shape=shape)
    (x, y), height = figure_place(log, (0.0, 0.0), 9.0, angle, number)
    assert FLOOR <= height <= TALLEST
    wide, low = scribed_width(number, height) / 2, (0.5 + 1.3 / 6 if number == "16" else 0.5) * height
    for px, py in ((x - wide, y - low), (x + wide, y - low), (x - wide, y + height / 2), (x + wide, y + height / 2)):
        along, across = px * math.cos(angle) + py * math.sin(angle), py * math.cos(angle) - px * math.sin(angle)
        assert math.hypot(px, py) < 9.0
        assert along > 0.5 if shape == "half" else along - abs(across) > 0.5
    assert split_figure(log, 3.0, angle, number) < split_figure(log, 9.0, angle, number)


def test_a_splits_rings_end_on_its_flats():
    log = Log(id="x", stem="x", diameter=1.0, shape="half")
    face, ring = draw_log_end(log, (10.0, 10.0), 8.0, "", ring=0, angle=math.pi / 2)[:2]
    assert isinstance(face, Path)
    assert isinstance(ring, Path)
    assert (face.closed, ring.closed) == (True, False)
    assert [p[1] for p in (ring.points[0], ring.points[-1])] == pytest.approx([10.0, 10.0])
    assert all(distance((10.0, 10.0), p) == pytest.approx(0.88 * 8.0) for p in ring.points)
    assert not any(isinstance(s, Circle) for s in draw_log_end(log, (0.0, 0.0), 8.0, "5", ring=1))
