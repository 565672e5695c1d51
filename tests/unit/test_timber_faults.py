"""Faults of a stated stock: which field, how grave, with the numbers at hand."""

import dataclasses
from typing import Any

import pytest

from cordwright.timber import Defect, Pile, Species, Stem, TimberInput, find_faults

SOUND = Stem(name="T01", species="Norway spruce", butt_diameter=0.2, top_diameter=0.15, length=4.0)
PILE = Pile(species="lenga", stacked_volume=4.6, solid_factor=0.62, diameters=(0.1, 0.2))
STOCK = TimberInput(stems=(SOUND,), kerf=0.009, end_trim=0.04, laying_moisture=0.16)


def found(stock: TimberInput, length: float = 0.35) -> list[tuple[str, str]]:
    return [(p.field, p.severity) for p in find_faults(stock, length)]


def with_stem(**change: Any) -> TimberInput:
    return dataclasses.replace(STOCK, stems=(dataclasses.replace(SOUND, **change),))


def with_pile(**change: Any) -> TimberInput:
    return TimberInput(piles=(dataclasses.replace(PILE, **change),), laying_moisture=0.2)


def test_a_sound_stock_has_no_fault() -> None:
    assert found(STOCK) == []
    assert found(with_pile()) == []


@pytest.mark.parametrize(
    ("change", "field"),
    [
        ({"butt_diameter": 0.0}, "butt_diameter"),
        ({"butt_diameter": -0.2}, "butt_diameter"),
        ({"butt_diameter": 20.0}, "butt_diameter"),
        ({"top_diameter": 1.5}, "top_diameter"),
        ({"top_diameter": 0.21}, "butt_diameter"),
        ({"length": 0.0}, "length"),
        ({"length": 400.0}, "length"),
        ({"length": float("nan")}, "length"),
        ({"count": 0}, "count"),
        ({"defects": (Defect(start=3.0, end=4.2),)}, "defects"),
        ({"defects": (Defect(start=-0.1, end=0.2),)}, "defects"),
        ({"defects": (Defect(start=2.0, end=1.0),)}, "defects"),
        ({"defects": (Defect(start=2.0, end=3.0), Defect(start=1.0, end=2.1))}, "defects"),
    ],
)
def test_a_stem_that_cannot_be(change: dict[str, Any], field: str) -> None:
    assert found(with_stem(**change)) == [(f"stems[0].{field}", "error")]


def test_a_swapped_stem_is_told_with_both_sizes() -> None:
    (problem,) = find_faults(with_stem(butt_diameter=0.15, top_diameter=0.2), 0.35)
    assert "200 mm" in problem.message
    assert "150 mm" in problem.message
    assert "swapped" in problem.hint


@pytest.mark.parametrize(
    ("change", "field"),
    [
        ({"kerf": -0.001}, "stock.kerf"),
        ({"end_trim": -0.01}, "stock.end_trim"),
        ({"least_diameter": -0.1}, "stock.least_diameter"),
        ({"cull_share": 1.0}, "stock.cull_share"),
        ({"spare_share": -0.1}, "stock.spare_share"),
        ({"cull_share": 0.6, "spare_share": 0.4}, "stock.spare_share"),
        ({"bark_factor": 0.0}, "stock.bark_factor"),
        ({"bark_factor": 1.1}, "stock.bark_factor"),
        ({"laying_moisture": 16.0}, "stock.laying_moisture"),
        ({"service_moisture": -0.1}, "stock.service_moisture"),
        ({"measured_moisture": 2.5}, "stock.measured_moisture"),
        ({"fibre_saturation": 0.0}, "stock.fibre_saturation"),
        ({"fibre_saturation": 28.0}, "stock.fibre_saturation"),
        ({"species": (Species(name="x", label="x", shrinkage=5.7),)}, "species[0].shrinkage"),
        ({"species": (Species(name="x", label="x", radial=-0.1),)}, "species[0].radial"),
        ({"species": (Species(name="x", label="x", basic_density=0.38),)}, "species[0].basic_density"),
    ],
)
def test_a_stock_that_cannot_be(change: dict[str, Any], field: str) -> None:
    assert found(dataclasses.replace(STOCK, **change)) == [(field, "error")]


@pytest.mark.parametrize(
    ("change", "field", "severity"),
    [
        ({"solid_factor": 0.0}, "solid_factor", "error"),
        ({"solid_factor": 1.2}, "solid_factor", "error"),
        ({"solid_factor": 0.40}, "solid_factor", "warning"),
        ({"solid_factor": 0.85}, "solid_factor", "warning"),
        ({"solid_factor_low": 0.7}, "solid_factor", "error"),
        ({"solid_factor_high": 0.6}, "solid_factor", "error"),
        ({"solid_factor_high": 6.0}, "solid_factor_high", "error"),
        ({"stacked_volume": 0.0}, "stacked_volume", "error"),
        ({"stacked_volume": 4600.0}, "stacked_volume", "error"),
        ({"diameters": ()}, "diameters", "error"),
        ({"diameters": (0.1, 110.0)}, "diameters", "error"),
    ],
)
def test_a_stack_that_cannot_be_or_is_uncommon(change: dict[str, Any], field: str, severity: str) -> None:
    assert found(with_pile(**change)) == [(f"stock.piles[0].{field}", severity)]


@pytest.mark.parametrize(
    ("change", "field"),
    [
        ({"laying_moisture": None}, "stock.laying_moisture"),
        ({"laying_moisture": 0.38}, "stock.laying_moisture"),
        ({"service_moisture": 0.20}, "stock.service_moisture"),
        ({"bark_factor": 0.7}, "stock.bark_factor"),
    ],
)
def test_what_is_only_warned_of(change: dict[str, Any], field: str) -> None:
    assert found(dataclasses.replace(STOCK, **change)) == [(field, "warning")]


def test_a_stem_shorter_than_trims_and_one_log_end() -> None:
    stock = dataclasses.replace(STOCK, stems=(SOUND, dataclasses.replace(SOUND, name="T02", length=0.42)))
    (problem,) = find_faults(stock, 0.35)
    assert (problem.field, problem.severity) == ("stems[1].length", "warning")
    assert "420 mm" in problem.message
    assert found(dataclasses.replace(stock, stems=(SOUND, dataclasses.replace(SOUND, name="T02", length=0.43)))) == []


def test_a_log_end_longer_than_every_stem_is_told_once() -> None:
    stems = tuple(dataclasses.replace(SOUND, name=f"T{i}") for i in range(5))
    assert found(dataclasses.replace(STOCK, stems=stems), 14.0) == [("wall.log_end_length", "warning")]
    assert found(STOCK, 0.0) == [("wall.log_end_length", "error")]


def test_a_stem_that_is_all_defect_or_too_thin() -> None:
    assert found(with_stem(defects=(Defect(start=0.1, end=3.9),))) == [("stems[0]", "warning")]
    assert found(dataclasses.replace(STOCK, least_diameter=0.3)) == [("stems[0]", "warning")]


def test_names_from_which_ids_are_made_lead_to_one_stem() -> None:
    alike = dataclasses.replace(SOUND, name="A", count=3)
    twice = (SOUND, SOUND)
    clash = (alike, dataclasses.replace(SOUND, name="A.2"))
    clear = (alike, dataclasses.replace(SOUND, name="A.4"))
    assert found(dataclasses.replace(STOCK, stems=twice)) == [("stems[1].stem", "error")]
    assert found(dataclasses.replace(STOCK, stems=clash)) == [("stems[1].stem", "error")]
    assert found(dataclasses.replace(STOCK, stems=clear)) == []
    pile = dataclasses.replace(STOCK, stems=(dataclasses.replace(SOUND, name="pile"),), piles=(PILE,))
    assert found(pile) == [("stems[0].stem", "error")]


def test_an_unknown_wood_is_warned_of_once() -> None:
    stems = tuple(dataclasses.replace(SOUND, name=f"T{i}", species="pear") for i in range(3))
    assert found(dataclasses.replace(STOCK, stems=stems)) == [("stems[0].species", "warning")]
    assert found(with_pile(species="pear")) == [("stock.piles[0].species", "warning")]
    own = (Species(name="pear", label="pear", shrinkage=0.06),)
    assert found(dataclasses.replace(STOCK, stems=stems, species=own)) == []


def test_no_stock_is_a_warning() -> None:
    assert found(TimberInput()) == [("stock.laying_moisture", "warning"), ("stock", "warning")]


def test_more_log_ends_than_anyone_lays_are_refused_before_they_are_listed() -> None:
    assert found(with_stem(count=10_000, length=30.0)) == [("stems", "error")]
    assert found(with_pile(stacked_volume=900.0, diameters=(0.001,))) == [("stock.piles", "error")]


def test_a_short_stock_is_no_fault() -> None:
    assert found(with_stem(length=0.5)) == []
