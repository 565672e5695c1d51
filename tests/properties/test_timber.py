"""Timber: the best cuts against every other, what is kept whole, what may only grow, and the sizes of drying wood."""

from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import integrate

from cordwright.timber import (
    Defect,
    Pile,
    Sawing,
    Stem,
    StemCut,
    Timber,
    TimberInput,
    cone_frustum,
    cut_stem,
    diameter_at,
    face_area,
    huber,
    known_species,
    neiloid,
    newton,
    reckon_timber,
    shrinkage_at,
    smalian,
)

FEW = settings(max_examples=60, deadline=None)


def stem(length: int, butt: int = 200, top: int = 150, defects: tuple[tuple[int, int], ...] = ()) -> Stem:
    """A stem in whole millimetres."""
    return Stem(
        name="T",
        species="Norway spruce",
        butt_diameter=butt / 1000,
        top_diameter=top / 1000,
        length=length / 1000,
        defects=tuple(Defect(start=a / 1000, end=b / 1000) for a, b in defects),
    )


def sawing(piece: int, kerf: int = 0, trim: int = 0, least: int = 0) -> Sawing:
    return Sawing(length=piece / 1000, kerf=kerf / 1000, end_trim=trim / 1000, least_diameter=least / 1000)


@st.composite
def small_cases(draw: st.DrawFn) -> tuple[int, int, int, int, int, int, int, tuple[tuple[int, int], ...]]:
    """A short stem in whole millimetres, fine enough that a grid of 1 mm holds a best plan."""
    length, piece = draw(st.integers(20, 70)), draw(st.integers(4, 15))
    kerf, trim = draw(st.integers(0, 3)), draw(st.integers(0, 4))
    butt = draw(st.integers(100, 120))
    top, least = draw(st.integers(80, butt)), draw(st.sampled_from((0, 0, 90, 100, 110)))
    places = sorted(draw(st.sets(st.integers(0, length), max_size=6)))
    return length, piece, kerf, trim, butt, top, least, tuple(zip(places[::2], places[1::2], strict=False))


def brute_force(case: tuple[int, int, int, int, int, int, int, tuple[tuple[int, int], ...]]) -> tuple[int, float]:
    """The best of all plans on the grid: from each millimetre, either leave it or begin a log end there."""
    length, piece, kerf, trim, butt, top, least, defects = case
    best = [(0, 0.0)] * (length + piece + kerf + 2)
    for start in range(length - trim - piece, trim - 1, -1):
        best[start] = best[start + 1]
        diameter = butt + (top - butt) * (start + piece / 2) / length
        sound = all(start + piece <= a or start >= b for a, b in defects)
        if sound and diameter >= least - 1e-6:
            count, area = best[start + piece + kerf]
            best[start] = max(best[start], (count + 1, area + np.pi / 4 * diameter**2))
    return best[trim]


@FEW
@given(small_cases())
def test_no_plan_on_a_fine_grid_is_better(case: tuple[int, ...]) -> None:
    length, piece, kerf, trim, butt, top, least, defects = case
    cut = cut_stem(stem(length, butt, top, defects), sawing(piece, kerf, trim, least))
    count, area = brute_force(case)
    assert len(cut.pieces) == count
    assert sum(face_area(p.diameter * 1000) for p in cut.pieces) == pytest.approx(area, rel=1e-9)


@FEW
@given(small_cases())
def test_a_plan_can_be_sawn(case: tuple[int, ...]) -> None:
    length, piece, kerf, trim, butt, top, least, defects = case
    cut = cut_stem(stem(length, butt, top, defects), sawing(piece, kerf, trim, least))
    for p in cut.pieces:
        assert p.end - p.start == pytest.approx(piece / 1000)
        assert trim / 1000 - 2e-6 <= p.start
        assert p.end <= (length - trim) / 1000 + 2e-6
        assert p.diameter >= least / 1000 - 2e-6
        assert all(p.end <= a / 1000 + 2e-6 or p.start >= b / 1000 - 2e-6 for a, b in defects)
    assert all(after.start - before.end >= kerf / 1000 - 2e-6 for before, after in pairwise(cut.pieces))
    assert [p.id for p in cut.pieces] == [f"T-{k}" for k in range(1, len(cut.pieces) + 1)]


@settings(max_examples=300, deadline=None)
@given(st.integers(100, 30_000), st.integers(100, 600), st.integers(0, 15), st.integers(0, 100))
def test_a_clean_stem_gives_what_the_formula_says_exactly(length: int, piece: int, kerf: int, trim: int) -> None:
    cut = cut_stem(stem(length), sawing(piece, kerf, trim))
    assert len(cut.pieces) == max(0, (length - 2 * trim + kerf) // (piece + kerf))


@FEW
@given(
    st.integers(1, 60), st.integers(100, 600), st.integers(0, 15), st.integers(0, 100), st.sampled_from((1e-3, 0.0254))
)
def test_a_stick_cut_to_fit_exactly_gives_all_its_log_ends(
    n: int, piece: int, kerf: int, trim: int, unit: float
) -> None:
    length = 2 * trim * unit + n * (piece * unit) + (n - 1) * (kerf * unit)
    stick = Stem(name="S", species="oak", butt_diameter=0.2, top_diameter=0.2, length=length)
    cut = cut_stem(stick, Sawing(length=piece * unit, kerf=kerf * unit, end_trim=trim * unit))
    assert len(cut.pieces) == n


@FEW
@given(small_cases())
def test_nothing_of_a_stem_is_lost_or_gained(case: tuple[int, ...]) -> None:
    length, piece, kerf, trim, butt, top, least, defects = case
    cut = cut_stem(stem(length, butt, top, defects), sawing(piece, kerf, trim, least))
    n = len(cut.pieces)
    cuts_and_trims = 2 * trim + (n - 1) * kerf if n else 0
    assert (n * piece + cuts_and_trims) / 1000 + cut.offcut == pytest.approx(length / 1000, abs=2e-6)
    assert cut.offcut >= 0


def count(cut: StemCut) -> int:
    return len(cut.pieces)


@FEW
@given(st.integers(300, 9000), st.integers(1, 900), st.integers(100, 500), st.integers(0, 12), st.integers(1, 12))
def test_more_stem_or_a_finer_saw_never_gives_fewer(
    length: int, more: int, piece: int, kerf: int, coarser: int
) -> None:
    base = count(cut_stem(stem(length, top=200), sawing(piece, kerf)))
    assert count(cut_stem(stem(length + more, top=200), sawing(piece, kerf))) >= base
    assert count(cut_stem(stem(length, top=200), sawing(piece, kerf + coarser))) <= base


@FEW
@given(small_cases())
def test_a_defect_never_gives_more(case: tuple[int, ...]) -> None:
    length, piece, kerf, trim, butt, top, least, defects = case
    saw = sawing(piece, kerf, trim, least)
    assert count(cut_stem(stem(length, butt, top, defects), saw)) <= count(cut_stem(stem(length, butt, top), saw))


def reckoned(stock: TimberInput, **change: float) -> Timber:
    wall = {"log_end_length": 0.35, "net_area": 30.0, "wood_fraction": 0.6}
    wall |= {"wood_fraction_low": 0.55, "wood_fraction_high": 0.65} | change
    return reckon_timber(stock, **wall)


def stock(sizes: list[tuple[int, int, int, int]]) -> TimberInput:
    stems = tuple(
        Stem(
            name=f"T{i}",
            species="Norway spruce" if i % 2 else "quaking aspen",
            butt_diameter=(top + more) / 1000,
            top_diameter=top / 1000,
            length=length / 1000,
            count=alike,
        )
        for i, (top, more, length, alike) in enumerate(sizes)
    )
    return TimberInput(stems=stems, kerf=0.009, end_trim=0.04, laying_moisture=0.16, service_moisture=0.09)


SIZES = st.lists(
    st.tuples(st.integers(80, 250), st.integers(0, 80), st.integers(500, 7000), st.integers(1, 3)),
    min_size=1,
    max_size=8,
)


@FEW
@given(SIZES, st.randoms())
def test_the_order_of_the_list_does_not_matter(sizes: list[tuple[int, int, int, int]], random: object) -> None:
    one = stock(sizes)
    shuffled = list(one.stems)
    random.shuffle(shuffled)  # type: ignore[attr-defined]
    other = TimberInput(stems=tuple(shuffled), kerf=0.009, end_trim=0.04, laying_moisture=0.16, service_moisture=0.09)
    first, second = reckoned(one), reckoned(other)
    assert sorted(first.stock.id) == sorted(second.stock.id)
    for figure in first.figures:
        assert second.figure(figure.key).value == pytest.approx(figure.value, rel=1e-9, abs=1e-12)


@FEW
@given(SIZES)
def test_no_log_end_is_listed_twice_and_each_leads_to_its_stem(sizes: list[tuple[int, int, int, int]]) -> None:
    wood = reckoned(stock(sizes))
    assert len(set(wood.stock.id)) == len(wood.stock.id) == wood.figure("timber.log_ends").value
    assert all(name.startswith(stem) for name, stem in zip(wood.stock.id, wood.stock.stem, strict=True))
    rows = (wood.stock.diameter, wood.stock.green_diameter, wood.stock.mass_green, wood.stock.mass_laying)
    assert {row.shape for row in rows} == {(len(wood.stock.id),)}
    area = wood.figure("timber.face_area").value
    assert float(face_area(wood.stock.diameter).sum()) == pytest.approx(area, rel=1e-12)


@FEW
@given(SIZES, st.floats(0.1, 10.0))
def test_coverage_falls_as_the_wall_grows(sizes: list[tuple[int, int, int, int]], times: float) -> None:
    small, large = reckoned(stock(sizes)), reckoned(stock(sizes), net_area=30.0 * times)
    one, other = (wood.figure("timber.coverage") for wood in (small, large))
    for name in ("low", "value", "high"):
        assert getattr(one, name) == pytest.approx(getattr(other, name) * times, rel=1e-9)


@FEW
@given(SIZES, st.integers(2, 4))
def test_so_many_alike_give_so_many_times_as_much(sizes: list[tuple[int, int, int, int]], times: int) -> None:
    single = reckoned(stock([(top, more, length, 1) for top, more, length, _ in sizes]))
    many = reckoned(stock([(top, more, length, times) for top, more, length, _ in sizes]))
    for key in ("log_ends", "face_area", "solid_volume", "stem_volume"):
        one, all_of_them = single.figure(f"timber.{key}").value, many.figure(f"timber.{key}").value
        assert all_of_them == pytest.approx(one * times, rel=1e-9)


@FEW
@given(SIZES)
def test_log_ends_hold_no_more_wood_than_their_stems(sizes: list[tuple[int, int, int, int]]) -> None:
    wood = reckoned(stock(sizes))
    assert wood.figure("timber.solid_volume").value <= wood.figure("timber.stem_volume").value


@FEW
@given(SIZES, st.floats(0.0, 0.3), st.floats(0.0, 0.3))
def test_drier_wood_is_never_thicker(sizes: list[tuple[int, int, int, int]], one: float, other: float) -> None:
    dry, wet = sorted((one, other))
    faces = [
        reckoned(TimberInput(stems=stock(sizes).stems, laying_moisture=m)).figure("timber.face_area").value
        for m in (dry, wet)
    ]
    assert faces[0] <= faces[1] + 1e-12


@FEW
@given(st.floats(0.3, 8.0), st.floats(0.3, 0.8), st.lists(st.integers(80, 260), min_size=1, max_size=40))
def test_a_stack_is_counted_so_that_its_pieces_hold_its_wood(volume: float, factor: float, sample: list[int]) -> None:
    pile = Pile(
        species="Norway spruce", stacked_volume=volume, solid_factor=factor, diameters=tuple(d / 1000 for d in sample)
    )
    wood = reckoned(TimberInput(piles=(pile,), laying_moisture=0.16, measured_moisture=0.16), log_end_length=0.3)
    assert wood.figure("timber.solid_volume").value == pytest.approx(volume * factor, rel=1e-9)
    assert wood.figure("timber.face_area").value == pytest.approx(volume * factor / 0.3, rel=1e-9)
    mean_face = np.mean([np.pi / 4 * (d / 1000) ** 2 for d in sample])
    assert abs(len(wood.stock.id) - volume * factor / 0.3 / mean_face) <= 1
    assert set(wood.stock.diameter) <= set(pile.diameters)
    assert not wood.stock.counted


@FEW
@given(st.floats(0.05, 0.6), st.floats(0.2, 1.0), st.floats(0.2, 20.0))
def test_the_cone_lies_between_the_foresters_rules(butt: float, share: float, length: float) -> None:
    top, middle = butt * share, butt * (1 + share) / 2
    cone = cone_frustum(butt, top, length)
    assert newton(butt, middle, top, length) == pytest.approx(cone, rel=1e-12)
    assert huber(middle, length) <= cone * (1 + 1e-12)
    assert neiloid(butt, top, length) <= cone * (1 + 1e-12)
    assert cone <= smalian(butt, top, length) * (1 + 1e-12)


def test_the_cone_by_quadrature() -> None:
    volume, _ = integrate.quad(lambda x: np.pi / 4 * (0.3 - 0.1 * x / 5) ** 2, 0, 5)
    assert cone_frustum(0.3, 0.2, 5.0) == pytest.approx(volume, rel=1e-12)


@pytest.mark.parametrize("name", sorted(known_species()))
def test_a_wood_shrinks_less_along_its_rays_and_about_as_much_in_volume_as_in_both(name: str) -> None:
    wood = known_species()[name]
    assert wood.shrinkage is not None
    if wood.radial is None or wood.tangential is None:
        assert name == "lenga"
        return
    assert wood.radial < wood.tangential < 0.1
    assert wood.shrinkage == pytest.approx((wood.radial + wood.tangential) / 2)
    if wood.volumetric is not None:
        both = 1 - (1 - wood.radial) * (1 - wood.tangential)
        assert wood.volumetric == pytest.approx(both, abs=0.03)


@FEW
@given(st.floats(0.01, 0.2), st.floats(0.0, 1.5))
def test_shrinkage_is_none_above_saturation_and_all_when_oven_dry(total: float, moisture: float) -> None:
    assert 0 <= shrinkage_at(total, moisture, 0.28) <= total
    assert shrinkage_at(total, 0.0, 0.28) == total
    assert shrinkage_at(total, max(moisture, 0.28), 0.28) == 0


@FEW
@given(small_cases())
def test_the_wood_of_the_log_ends_is_that_of_their_frustums(case: tuple[int, ...]) -> None:
    length, piece, kerf, trim, butt, top, least, defects = case
    log = stem(length, butt, top, defects)
    one = TimberInput(stems=(log,), kerf=kerf / 1000, end_trim=trim / 1000, least_diameter=least / 1000)
    wood = reckoned(one, log_end_length=piece / 1000)
    ends = [(diameter_at(log, p.start), diameter_at(log, p.end)) for p in wood.cuts[0].pieces]
    volume = sum(cone_frustum(a, b, piece / 1000) for a, b in ends)
    assert wood.figure("timber.solid_volume").value == pytest.approx(volume, rel=1e-9, abs=1e-15)
