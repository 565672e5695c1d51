"""Panels that fall apart, openings that touch, and what nobody can lay: each laid and judged."""

import math

import numpy as np
import pytest

from cordwright.base import InputError
from cordwright.wall.engine import lay_panel
from cordwright.wall.inputs import Joints
from cordwright.wall.judge import judge
from cordwright.wall.layout import Disc, Face, Hole, Log
from cordwright.wall.narrow import layout_notes, narrow_strips
from cordwright.wall.region import regions_of
from cordwright.wall.study import laid_panels

JOINT, EDGE = 0.025, 0.0125


def box(left, bottom, right, top):
    return ((left, bottom), (right, bottom), (right, top), (left, top))


def stock_of(area, seed=1, low=0.09, high=0.18):
    rng = np.random.Generator(np.random.PCG64(seed))
    stock = []
    while area > 0:
        stock.append(Log(id=f"L{len(stock) + 1}", stem="S", diameter=float(np.round(rng.uniform(low, high), 4))))
        area -= math.pi * ((stock[-1].diameter + JOINT) / 2) ** 2
    return tuple(stock)


def lay(panel, stock, **more):
    stated = {"joint": JOINT, "joint_least": 0.02, "joint_largest": 0.04, "edge": EDGE, "seed": 1, "effort": "draft"}
    return lay_panel(panel, stock, **{**stated, **more})


def faults(layout, stock, joint=JOINT):
    return judge(layout, stock, joint=joint, joint_least=0.02, edge=EDGE)


def test_a_door_up_to_the_head_parts_the_panel_and_both_sides_are_laid() -> None:
    panel = Face(name="S", outline=box(0, 0, 2.0, 1.0), openings=(Hole(id="D1", outline=box(0.8, 0.0, 1.5, 1.0)),))
    assert len(regions_of(panel)) == 2
    stock = stock_of(1.7)
    layout = lay(panel, stock)
    assert faults(layout, stock) == ()
    left = [p for p in layout.placements if p.x < 0.8]
    right = [p for p in layout.placements if p.x > 1.5]
    assert len(left) + len(right) == len(layout.placements)
    wood = [sum(p.log.diameter**2 for p in side) for side in (left, right)]
    assert wood[0] / wood[1] == pytest.approx(0.8 / 0.5, rel=0.25)


def test_openings_that_touch_and_one_on_the_edge_are_laid_around() -> None:
    panel = Face(
        name="S",
        outline=box(0, 0, 1.6, 1.2),
        openings=(
            Hole(id="W1", outline=box(0.5, 0.4, 0.8, 0.8)),
            Hole(id="W2", outline=box(0.8, 0.4, 1.1, 0.7)),
            Hole(id="D1", outline=box(1.3, 0.0, 1.6, 0.9)),
        ),
    )
    stock = stock_of(1.9)
    layout = lay(panel, stock)
    assert faults(layout, stock) == ()
    assert layout.closed == 1.0


def test_openings_that_touch_at_a_corner_leave_one_wall() -> None:
    panel = Face(
        name="S",
        outline=box(0, 0, 1.4, 1.2),
        openings=(Hole(id="W1", outline=box(0.4, 0.3, 0.7, 0.6)), Hole(id="W2", outline=box(0.7, 0.6, 1.0, 0.9))),
    )
    stock = stock_of(1.7)
    assert faults(lay(panel, stock), stock) == ()


def test_an_empty_stock_lays_nothing_and_says_that_nothing_is_closed() -> None:
    layout = lay(Face(name="S", outline=box(0, 0, 1.0, 1.0)), ())
    assert layout.placements == ()
    assert layout.closed == 0.0
    assert faults(layout, ()) == ()


def test_joints_wider_than_the_logs_are_laid_as_asked() -> None:
    stock = stock_of(0.8, low=0.05, high=0.06)
    layout = lay(Face(name="S", outline=box(0, 0, 0.8, 0.6)), stock, joint=0.07, joint_largest=0.07)
    assert faults(layout, stock, joint=0.07) == ()
    assert layout.placements


def test_a_log_larger_than_the_panel_stays_over_and_the_rest_is_laid() -> None:
    stock = (*stock_of(0.5), Log(id="huge", stem="S", diameter=0.9))
    layout = lay(Face(name="S", outline=box(0, 0, 0.6, 0.6)), stock)
    assert "huge" in layout.unused
    assert faults(layout, stock) == ()


def test_a_panel_into_which_no_log_fits_does_not_keep_the_others_from_being_laid() -> None:
    faces = (Face(name="slit", outline=box(0, 0, 0.1, 1.0)), Face(name="S", outline=box(0, 0, 1.0, 1.0)))
    stock = stock_of(1.2)
    slit, wide = laid_panels(
        faces, stock, Joints(nominal=JOINT, least=0.02, largest=0.04, edge=EDGE), 1, effort="draft"
    )
    assert (slit.placements, slit.closed) == ((), 0.0)
    assert wide.closed > 0.9


CROSSED = ((0.2, 0.2), (0.6, 0.6), (0.6, 0.2), (0.2, 0.7))
GOOD = Face(name="S", outline=box(0, 0, 1.0, 1.0))
A = Log(id="a", stem="S", diameter=0.1)


@pytest.mark.parametrize(
    ("panel", "stock", "more", "told"),
    [
        (GOOD, (A, A), {}, "log a stands 2 times in the stock; give every log its own id"),
        (GOOD, (Log(id="b", stem="S", diameter=math.nan),), {}, "log b has a diameter of nan mm; measure it"),
        (GOOD, (Log(id="b", stem="S", diameter=-0.12),), {}, "log b has a diameter of -120 mm; measure it"),
        (GOOD, (A,), {"joint": 0.05}, "joint are 20 mm, 50 mm, 40 mm; they must"),
        (GOOD, (A,), {"joint": math.nan}, "joint are 20 mm, nan mm, 40 mm"),
        (GOOD, (A,), {"edge": -0.01}, "the joint at edges is -10 mm; it must be 0 mm or more"),
        (Face(name="S", outline=box(0, 0, math.nan, 1)), (A,), {}, "outline has a corner without a place; state all"),
        (Face(name="S", outline=box(0, 0, 0, 1)), (A,), {}, "outline has no area; state its width and height"),
        (
            Face(name="S", outline=box(0, 0, 1, 1), openings=(Hole(id="W1", outline=CROSSED),)),
            (A,),
            {},
            "opening W1 crosses or touches itself; list its corners",
        ),
        (
            Face(name="S", outline=box(0, 0, 1, 1), obstacles=(Disc(id="K1", x=0.5, y=0.5, diameter=-0.1),)),
            (A,),
            {},
            "K1 has a diameter of -100 mm; state its size",
        ),
        (Face(name="S", outline=box(0, 0, 1, 1), hollow=0.01, wide=1.99), (A,), {}, "hollow face is 1 % of the centre"),
        (
            Face(name="S", outline=box(0, 0, 0.11, 1)),
            (A, Log(id="b", stem="S", diameter=0.2)),
            {},
            "too small for any log of the stock: the smallest, a, is 100 mm, and 85 mm find room",
        ),
    ],
)  # fmt: skip
def test_what_nobody_can_lay_is_refused_with_its_number_and_its_cure(panel, stock, more, told) -> None:
    with pytest.raises(InputError) as refused:
        lay(panel, stock, **more)
    assert str(refused.value).startswith("S: ")
    assert told in str(refused.value)


def test_narrow_piers_and_bands_are_named_with_their_width() -> None:
    panel = Face(
        name="S",
        outline=box(0, 0, 3.0, 2.2),
        openings=(Hole(id="W1", outline=box(0.6, 0.9, 1.2, 1.9)), Hole(id="W2", outline=box(1.51, 0.9, 2.2, 1.9))),
    )
    strips = {s.what: round(s.width, 4) for s in narrow_strips(panel, 0.132)}
    assert strips == {
        "the band over W1": 0.3,
        "the band over W2": 0.3,
        "the pier between W1 and W2": 0.31,
    }
    assert [s.width for s in narrow_strips(panel, 0.132)] == pytest.approx(sorted(strips.values()))
    assert narrow_strips(panel, 0.1) == ()


def test_a_narrow_panel_and_a_band_under_a_gable_are_named() -> None:
    slit = Face(name="slit", outline=box(0, 0, 0.35, 2.0))
    assert [(s.what, round(s.width, 3)) for s in narrow_strips(slit, 0.13)] == [("panel slit", 0.35)]
    gable = Face(
        name="G",
        outline=((0, 0), (4, 0), (4, 2), (2, 3), (0, 2)),
        openings=(Hole(id="W1", outline=box(0.5, 1.0, 1.5, 2.0)), Hole(id="W2", outline=box(1.7, 0.4, 2.3, 2.5))),
    )
    found = {s.what: round(s.width, 4) for s in narrow_strips(gable, 0.13)}
    assert found["the band over W1"] == 0.25
    assert found["the band over W2"] == 0.35
    assert found["the pier between W1 and W2"] == 0.2


def test_a_laid_panel_notes_its_narrow_strips() -> None:
    stock = stock_of(0.9)
    panel = Face(name="S", outline=box(0, 0, 1.0, 1.0), openings=(Hole(id="W1", outline=box(0.3, 0.3, 0.7, 0.7)),))
    notes = layout_notes(lay(panel, stock), Joints(nominal=JOINT, least=0.02, largest=0.04, edge=EDGE))
    assert len(notes) == 1
    assert "the pier left of W1 is 300 mm" in notes[0]
    assert "less than three mean log ends (3 x 1" in notes[0]


def test_logs_stated_in_a_few_round_sizes_are_noted() -> None:
    panel, joints = (
        Face(name="S", outline=box(0, 0, 1.3, 1.2)),
        Joints(nominal=JOINT, least=0.02, largest=0.04, edge=EDGE),
    )
    coarse = tuple(Log(id=f"L{n}", stem="S", diameter=(0.1, 0.125, 0.15)[n % 3]) for n in range(110))
    notes = layout_notes(lay(panel, coarse), joints)
    assert len(notes) == 1
    assert "stated in 3 sizes only" in notes[0]
    assert layout_notes(lay(panel, stock_of(1.7)), joints) == ()
