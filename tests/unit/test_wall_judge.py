"""Does the judge let whole layouts be, and find each thing that can be wrong with one?"""

import math
import random
from dataclasses import replace

import pytest

import layout_samples as samples
from cordwright.base import InputError
from cordwright.wall.judge import STEEPEST_PAIR, Contact, holds, judge, used_twice
from cordwright.wall.layout import Face, Filler, Hole, Log, Placement

RULES = samples.RULES


def rules_broken(layout, stock=None, **changes):
    found = judge(layout, samples.stock_of(layout) if stock is None else stock, **{**RULES, **changes})
    return {v.rule for v in found}


def changed(layout, n, **changes):
    placements = list(layout.placements)
    placements[n] = replace(placements[n], **changes)
    return replace(layout, placements=tuple(placements))


@pytest.mark.parametrize(
    "layout",
    [samples.square(5, 4), samples.hexagonal(5, 6), samples.stored(), samples.laid(samples.stored().face, ())],
    ids=["square", "hexagonal", "stored", "empty"],
)
def test_whole_layouts_break_no_rule(layout):
    assert judge(layout, samples.stock_of(layout), **RULES) == ()


def test_a_plain_laying_of_random_sizes_breaks_no_rule():
    dice = random.Random(5)
    face = Face(
        name="p", outline=samples.box(0, 0, 0.9, 0.8), openings=(Hole(id="W", outline=samples.box(0.3, 0, 0.25, 0.3)),)
    )
    layout, stock = samples.bottom_up(face, [dice.uniform(0.08, 0.17) for _ in range(24)])
    assert len(layout.placements) > 12
    assert judge(layout, stock, **RULES) == ()


def test_a_hexagonal_layout_fails_a_wider_joint_everywhere():
    layout = samples.hexagonal(4, 3)
    found = judge(layout, samples.stock_of(layout), **{**RULES, "joint": 0.026})
    pairs = [v for v in found if v.rule == "joint"]
    # 11 logs in rows of 4, 3, 4: 3 + 2 + 3 within the rows and 6 + 6 between them.
    assert len(pairs) == 20
    assert all(v.amount == pytest.approx(0.001, abs=1e-9) for v in pairs)
    assert rules_broken(layout, edge=0.013) == {"edge"}


def test_what_is_missing_within_the_tolerance_is_let_be():
    layout = samples.hexagonal(4, 3)
    assert rules_broken(layout, joint=samples.JOINT + 4e-5) == set()
    assert rules_broken(layout, joint=samples.JOINT + 6e-5) == {"joint"}


@pytest.mark.parametrize(
    ("change", "rule"),
    [
        ({"x": 0.08}, "edge"),
        ({"y": -5.0}, "edge"),
        ({"x": math.nan}, "edge"),
        ({"y": math.inf}, "edge"),
        ({"x": 0.6, "y": 0.6}, "opening"),
        ({"x": 1.0, "y": 0.5}, "obstacle"),
        ({"x": 1.05, "y": 0.73}, "filler"),
        ({"order": 7}, "order"),
        ({"order": 0}, "order"),
        ({"supports": ()}, "support"),
        ({"supports": ("chip",)}, "support"),
        ({"supports": ("chip",), "note": "  "}, "support"),
        ({"supports": ("T99-1",)}, "support"),
        ({"supports": ("bed",)}, "support"),
        ({"supports": ("frame", "post")}, "support"),
        ({"supports": ("T03-2",)}, "support"),
        ({"supports": ("T03-2", "T03-2")}, "support"),
        ({"supports": ("T03-2", "post")}, "support"),
        ({"supports": ("T03-2", "T03-5")}, "support"),
        ({"supports": ("T04-7", "T03-4")}, "order"),
        ({"lift": 0}, "lift"),
        ({"lift": 3}, "lift"),
    ],
)
def test_each_broken_rule_is_found(change, rule):
    layout = samples.stored()
    n = next(i for i, p in enumerate(layout.placements) if p.log.id == "T04-4")
    assert rule in rules_broken(changed(layout, n, **change))


def test_a_chip_with_a_note_stands_for_a_missing_support():
    layout = samples.stored()
    alone = changed(layout, 27, supports=("T03-2", "chip"), note="flat stone, right")
    assert rules_broken(alone) == set()
    assert rules_broken(changed(layout, 27, supports=("T99-1", "chip"), note="stone")) == {"support"}


def test_stock_is_used_once_and_as_it_is():
    layout = samples.stored()
    stock = samples.stock_of(layout)
    assert rules_broken(layout, stock[1:]) == {"not in stock"}
    thicker = (replace(stock[0], diameter=stock[0].diameter + 0.001), *stock[1:])
    (found,) = judge(layout, thicker, **RULES)
    assert (found.rule, found.ids) == ("not in stock", ("T01-1",))
    assert found.amount == pytest.approx(0.001)
    assert rules_broken(layout, (replace(stock[0], stem="T77"), *stock[1:])) == {"not in stock"}
    again = replace(layout, placements=(*layout.placements, replace(layout.placements[0], order=46)))
    assert {"double use", "joint"} <= rules_broken(again, stock)
    assert rules_broken(replace(layout, unused=("T01-1",))) == {"double use"}
    with pytest.raises(InputError, match="share an id"):
        judge(layout, (*stock, stock[0]), **RULES)


def test_one_log_in_two_panels_is_found():
    layout = samples.stored()
    other = samples.hexagonal(3, 1)
    found = used_twice((layout, other))
    assert {v.ids[0] for v in found} == {"T01-1", "T01-2", "T01-3"}
    assert used_twice((layout,)) == ()


def test_fillers_stand_clear_of_everything():
    layout = samples.stored()
    for filler in (
        Filler(x=1.05, y=0.75, diameter=0.0),
        Filler(x=1.05, y=0.89, diameter=0.06),
        Filler(x=0.83, y=0.8, diameter=0.06),
        Filler(x=1.05, y=0.56, diameter=0.04),
        Filler(x=0.1, y=0.1, diameter=0.06),
        Filler(x=1.05, y=0.75, diameter=math.nan),
    ):
        assert rules_broken(replace(layout, fillers=(filler,))) == {"filler"}
    two = (layout.fillers[0], Filler(x=1.05, y=0.82, diameter=0.06))
    assert rules_broken(replace(layout, fillers=two)) == {"filler"}


def test_an_outline_that_crosses_itself_is_refused():
    bow = Face(name="bow", outline=((0, 0), (1, 1), (1, 0), (0, 1)))
    with pytest.raises(InputError, match="bow crosses itself"):
        judge(samples.laid(bow, samples.hexagonal(2, 1).placements), samples.stock_of(samples.hexagonal(2, 1)), **RULES)


def contact(degrees, kind="log"):
    angle = math.radians(degrees)
    return Contact(kind=kind, away=(math.sin(angle), math.cos(angle)), gap=0.025)


@pytest.mark.parametrize(
    ("contacts", "still"),
    [
        ([contact(-30), contact(30)], True),
        ([contact(-74.9), contact(89)], True),
        ([contact(-75.1), contact(89)], False),
        ([contact(20), contact(30)], False),
        ([contact(0), contact(30)], False),
        ([contact(0)], False),
        ([contact(-10), contact(91)], False),
        ([contact(-10), contact(90, "post")], True),
        ([contact(-90, "post"), contact(90, "frame")], False),
        ([contact(0, "bed")], True),
        ([contact(0, "frame")], True),
        ([contact(180, "frame")], False),
        ([contact(-3, "frame")], False),
        ([], False),
    ],
)
def test_a_log_rests_between_left_and_right_or_on_a_level(contacts, still):
    assert holds(contacts, 1e-6) is still
    assert math.degrees(STEEPEST_PAIR) == pytest.approx(75)


def half(n, x, y, angle, *, supports=("bed",), note=""):
    own = Log(id=f"H{n}", stem="H", diameter=0.2, shape="half")
    return Placement(log=own, x=x, y=y, order=n, angle=angle, supports=supports, note=note)


def test_halves_are_measured_as_halves():
    face = Face(name="h", outline=samples.box(0, 0, 0.45, 0.3))
    edge, joint = samples.EDGE, samples.JOINT
    chip = {"supports": ("bed", "chip"), "note": "half, set on a chip"}
    back_to_back = (half(1, 0.2, 0.1125, math.pi, **chip), half(2, 0.2 + joint, 0.1125, 0.0, **chip))
    # Their parents overlap by nearly all their width; the flats are one joint apart.
    assert rules_broken(samples.laid(face, back_to_back)) == set()
    nearer = (back_to_back[0], replace(back_to_back[1], x=0.2 + joint - 0.002))
    assert rules_broken(samples.laid(face, nearer)) == {"joint"}
    on_its_end = (replace(back_to_back[0], supports=("bed",)),)
    assert rules_broken(samples.laid(face, on_its_end)) == {"support"}
    flat_down = half(1, 0.2, edge, math.pi / 2)
    assert rules_broken(samples.laid(face, (flat_down,))) == set()
    assert rules_broken(samples.laid(face, (replace(flat_down, y=edge - 0.001),))) == {"edge"}
    assert "edge" in rules_broken(samples.laid(face, (replace(flat_down, angle=0.0),)))


def test_a_log_on_a_lintel_rests_on_the_frame():
    face = Face(
        name="l", outline=samples.box(0, 0, 1, 1), openings=(Hole(id="D", outline=samples.box(0.2, 0, 0.6, 0.5)),)
    )
    log = Log(id="a", stem="a", diameter=0.15)
    up = Placement(log=log, x=0.5, y=0.5 + samples.EDGE + 0.075, order=1, supports=("frame",))
    assert rules_broken(samples.laid(face, (up,))) == set()
    assert rules_broken(samples.laid(face, (replace(up, y=up.y + 0.0125),))) == {"support"}
    overhanging = replace(up, x=0.15, y=0.5 + math.sqrt((samples.EDGE + 0.075) ** 2 - 0.05**2))
    assert rules_broken(samples.laid(face, (overhanging,))) == {"support"}
