"""Cutting a stick into equal pieces (source `stick-cutting`) and common stick lengths (source `stick-lengths`).

Given, in mm: n = floor((L + k) / (p + k)): stick 4000, piece 400, kerf 6 -> 9, left over 352; sticks of 1900, 2650,
3100 and 4200 -> 4, 6, 7 and 10. Common practice for 16 in log ends: a stick of 4 ft plus 2 in gives 3, one of 8 ft plus
2 in gives 6.
"""

import pytest

from cordwright.base.units import FOOT, INCH
from cordwright.timber import Sawing, Stem, StemCut, TimberInput, cut_stem, find_faults, pieces_of_clean_stick

CHAINSAW = 0.3 * INCH


def stick(length: float) -> Stem:
    return Stem(name="A", species="northern white-cedar", butt_diameter=0.15, top_diameter=0.15, length=length)


def cut(length: float, piece: float, kerf: float) -> StemCut:
    return cut_stem(stick(length), Sawing(length=piece, kerf=kerf))


def test_nine_pieces_and_what_is_left_over() -> None:
    assert len(cut(4.0, 0.4, 0.006).pieces) == 9
    assert cut(4.0, 0.4, 0.006).offcut == pytest.approx(0.352, abs=1e-12)


@pytest.mark.parametrize(("length", "count"), [(1.9, 4), (2.65, 6), (3.1, 7), (4.2, 10)])
def test_pieces_of_a_stick(length: float, count: int) -> None:
    assert len(cut(length, 0.4, 0.006).pieces) == count
    assert pieces_of_clean_stick(length, 0.4, 0.006) == count


def test_four_feet_and_two_inches_give_three_and_bear_fresh_ends() -> None:
    got = cut(4 * FOOT + 2 * INCH, 16 * INCH, CHAINSAW)
    assert len(got.pieces) == 3
    assert not got.short_if_retrimmed


def test_eight_feet_and_two_inches_give_six_by_inner_cuts_only_and_warn() -> None:
    length = 8 * FOOT + 2 * INCH
    assert len(cut(length, 16 * INCH, CHAINSAW).pieces) == 6
    assert cut(length, 16 * INCH, CHAINSAW).short_if_retrimmed
    stock = TimberInput(stems=(stick(length),), kerf=CHAINSAW, laying_moisture=0.14)
    (problem,) = find_faults(stock, 16 * INCH)
    assert (problem.field, problem.severity) == ("stems[0].length", "warning")
    assert "one fewer when both ends are cut fresh" in problem.message


def test_stated_trims_are_counted_and_do_not_warn() -> None:
    length = 8 * FOOT + 2 * INCH
    stock = TimberInput(stems=(stick(length),), kerf=CHAINSAW, end_trim=0.5 * INCH, laying_moisture=0.14)
    assert find_faults(stock, 16 * INCH) == ()
    assert len(cut_stem(stick(length), Sawing.of(stock, 16 * INCH)).pieces) == 5
