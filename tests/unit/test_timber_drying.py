"""Sizes and gaps of drying wood, bark, masses, and what stays unknown."""

import dataclasses

import numpy as np
import pytest

from cordwright.base import InputError
from cordwright.base.units import CUBIC_FOOT, FOOT, INCH
from cordwright.timber import (
    Pile,
    Species,
    Stem,
    Timber,
    TimberInput,
    basic_density,
    cone_frustum,
    density_at,
    huber,
    known_species,
    newton,
    reckon_timber,
    shrinkage_gap,
    species_named,
    wood_of,
)


def stick(diameter: float = 0.18, *, species: str = "Norway spruce", bark: bool = False, length: float = 0.35) -> Stem:
    return Stem(name="A", species=species, butt_diameter=diameter, top_diameter=diameter, length=length, bark=bark)


def reckoned(stock: TimberInput, length: float = 0.35) -> Timber:
    return reckon_timber(
        stock,
        log_end_length=length,
        net_area=1.0,
        wood_fraction=0.6,
        wood_fraction_low=0.6,
        wood_fraction_high=0.6,
    )


@pytest.mark.parametrize(
    ("laid", "low", "high"), [(0.26, 2.0, 3.1), (0.20, 1.3, 2.0), (0.16, 0.8, 1.3), (0.14, 0.6, 0.9)]
)
def test_gap_round_a_180_mm_end_that_dries_to_9_percent(laid: float, low: float, high: float) -> None:
    gaps = [1000 * shrinkage_gap(0.18, s, laid, 0.09, 0.28) for s in (0.036, 0.057)]
    assert gaps == [pytest.approx(low, abs=0.05), pytest.approx(high, abs=0.05)]
    figure = reckoned(TimberInput(stems=(stick(),), laying_moisture=laid, service_moisture=0.09)).figure(
        "timber.shrinkage_gap"
    )
    assert [1000 * figure.low, 1000 * figure.value] == pytest.approx(gaps)
    assert figure.high == figure.value


def test_wood_laid_too_dry_presses_instead() -> None:
    stock = TimberInput(stems=(stick(),), laying_moisture=0.08, service_moisture=0.16)
    figure = reckoned(stock).figure("timber.shrinkage_gap")
    assert figure.value < 0
    assert figure.low == figure.value < figure.high < 0


def test_a_wood_of_unknown_radial_shrinkage_has_a_gap_without_a_low() -> None:
    stock = TimberInput(stems=(stick(species="lenga"),), laying_moisture=0.20, service_moisture=0.10)
    figure = reckoned(stock).figure("timber.shrinkage_gap")
    assert figure.value == pytest.approx(0.18 * 0.062 * 10 / 28 / 2)
    assert figure.low is None


def test_bark_comes_off_before_anything_is_reckoned() -> None:
    bare, barked = (
        reckoned(TimberInput(stems=(stick(bark=on),), laying_moisture=0.16)).figure("timber.face_area")
        for on in (False, True)
    )
    assert barked.value == pytest.approx(bare.value * 0.92**2)
    assert barked.low == pytest.approx(bare.value * 0.90**2 * 0.99**2)
    assert barked.high == pytest.approx(bare.value * 0.93**2 * 1.01**2)
    stated = TimberInput(stems=(stick(bark=True),), laying_moisture=0.16, bark_factor=0.95)
    assert reckoned(stated).figure("timber.face_area").low == pytest.approx(bare.value * 0.95**2 * 0.99**2)


def test_the_least_diameter_is_that_without_bark() -> None:
    stems = (stick(0.10, bark=True),)
    assert reckoned(TimberInput(stems=stems, least_diameter=0.092)).figure("timber.log_ends").value == 1
    assert reckoned(TimberInput(stems=stems, least_diameter=0.093)).figure("timber.log_ends").value == 0


def test_wood_measured_dry_is_reckoned_back_to_green() -> None:
    stock = TimberInput(stems=(stick(0.20),), measured_moisture=0.14, laying_moisture=0.07)
    wood = reckoned(stock)
    green = 0.20 / (1 - 0.057 / 2)
    assert wood.stock.green_diameter[0] == pytest.approx(green)
    assert wood.stock.diameter[0] == pytest.approx(green * (1 - 0.057 * 0.75))
    assert wood.figure("timber.solid_volume").value == pytest.approx(np.pi / 4 * 0.2**2 * 0.35)


def test_the_owners_fibre_saturation_counts() -> None:
    wood = reckoned(TimberInput(stems=(stick(0.20),), laying_moisture=0.15, fibre_saturation=0.30))
    assert wood.stock.diameter[0] == pytest.approx(0.20 * (1 - 0.057 / 2))


def test_an_unknown_wood_leaves_sizes_at_laying_unknown_and_says_why() -> None:
    wood = reckoned(TimberInput(stems=(stick(species="pear"),), laying_moisture=0.16, service_moisture=0.10))
    assert wood.figure("timber.log_ends").value == 1
    for key in ("face_area", "coverage", "mean_diameter", "shrinkage_gap", "shortfall_area", "shortfall_log_ends"):
        figure = wood.figure(f"timber.{key}")
        assert figure.value is None, key
        assert figure.missing == ("the shrinkage of pear",)
    assert wood.figure("timber.heaviest_piece").missing == ("the basic density of pear",)
    assert np.isnan(wood.stock.diameter).all()
    assert wood.stock.known_diameters.size == 0
    assert wood.checks[0].verdict == "not judged"
    assert [c.key for c in wood.cautions] == ["felling", "lifting"]


def test_an_unknown_wood_measured_as_it_is_laid_keeps_its_size() -> None:
    stock = TimberInput(stems=(stick(species="pear"),), laying_moisture=0.16, measured_moisture=0.16)
    wood = reckoned(stock)
    assert wood.stock.diameter[0] == 0.18
    assert np.isnan(wood.stock.green_diameter).all()
    assert wood.figure("timber.face_area").value == pytest.approx(np.pi / 4 * 0.18**2)


def test_a_blank_laying_moisture_is_unknown_and_never_zero() -> None:
    wood = reckoned(TimberInput(stems=(stick(),)))
    assert wood.figure("timber.face_area").missing == ("the moisture at laying (stock.laying_moisture)",)
    assert np.isnan(wood.stock.mass_laying).all()
    assert np.isfinite(wood.stock.mass_green).all()


def test_no_stock_at_all_is_unknown_not_nothing() -> None:
    wood = reckoned(TimberInput(laying_moisture=0.16, service_moisture=0.1))
    assert {f.bound for f in wood.figures} == {"unknown"}
    assert wood.stock.id == ()
    assert wood.stock.diameter.shape == (0,)
    assert wood.cautions == ()


def test_stems_that_give_nothing_are_known_to_give_nothing() -> None:
    wood = reckoned(TimberInput(stems=(stick(length=0.2),), laying_moisture=0.16))
    assert wood.figure("timber.log_ends").value == 0
    assert wood.figure("timber.face_area").value == 0
    assert wood.figure("timber.coverage").value == 0
    assert wood.figure("timber.shortfall_area").value == pytest.approx(0.6)
    assert wood.figure("timber.shortfall_log_ends").bound == "unknown"
    assert wood.figure("timber.mean_diameter").missing == ("stems that give a log end",)
    assert wood.cuts[0].offcut == 0.2


def test_a_partly_known_weight_is_a_least() -> None:
    stock = TimberInput(stems=(stick(), dataclasses.replace(stick(species="pear"), name="B")), laying_moisture=0.16)
    figure = reckoned(stock).figure("timber.heaviest_piece")
    assert (figure.bound, figure.missing) == ("at_least", ("the basic density of pear",))


def test_a_thick_green_end_is_flagged_and_a_dry_one_is_not() -> None:
    thick = reckoned(TimberInput(stems=(stick(0.30, length=0.40),)), length=0.40)
    figure = thick.figure("timber.heaviest_piece")
    assert figure.low < 24 < figure.high
    assert "lifting" in {c.key for c in thick.cautions}
    dry = reckoned(TimberInput(stems=(stick(0.18),), laying_moisture=0.16, measured_moisture=0.16))
    assert dry.figure("timber.heaviest_piece").value == pytest.approx(4.1, abs=0.1)
    assert "lifting" not in {c.key for c in dry.cautions}


def test_a_meter_above_saturation_only_says_wet() -> None:
    wet = reckoned(TimberInput(stems=(stick(),), measured_moisture=0.38)).figure("timber.heaviest_piece")
    fresh = reckoned(TimberInput(stems=(stick(),))).figure("timber.heaviest_piece")
    assert (wet.low, wet.value, wet.high) == (fresh.low, fresh.value, fresh.high)


def test_density_of_weighed_wood_back_to_basic() -> None:
    assert basic_density(560, 0.24, 0.062, 0.28) == pytest.approx(560 / 1.24 * (1 - 0.062 / 7) ** 2)
    assert basic_density(840, 1.10, 0.06, 0.28) == pytest.approx(400)


def test_a_density_without_its_row_is_unknown() -> None:
    assert density_at(species_named("lenga"), 0.12, 0.28) is None


def test_the_owners_row_stands_before_the_table() -> None:
    own = Species(name="Norway spruce", label="Norway spruce", shrinkage=0.05)
    assert wood_of(TimberInput(species=(own,)), "Norway spruce") is own
    assert wood_of(TimberInput(), "Norway spruce").shrinkage == pytest.approx(0.057)


def test_woods_of_the_examples_as_their_owners_state_them() -> None:
    assert species_named("European aspen").shrinkage == pytest.approx(0.051)
    assert species_named("northern white-cedar").shrinkage == pytest.approx(0.0355)
    assert species_named("lenga").shrinkage == pytest.approx(0.062)
    assert species_named("lenga").radial is None
    assert all(wood.sources for wood in known_species().values())
    with pytest.raises(InputError, match="there is no wood 'spruce pine'"):
        species_named("spruce pine")


def test_huber_and_newton_by_their_formulas() -> None:
    ends = (12 * INCH, 10.9 * INCH, 10 * INCH)
    assert huber(ends[1], 16 * FOOT) / CUBIC_FOOT == pytest.approx(10.3681, abs=0.00005)
    assert newton(*ends, 16 * FOOT) / CUBIC_FOOT == pytest.approx(10.4609, abs=0.00005)
    assert huber(11 * INCH, 16 * FOOT) / CUBIC_FOOT == pytest.approx(10.559, abs=0.0005)
    assert cone_frustum(ends[0], ends[2], 16 * FOOT) / CUBIC_FOOT == pytest.approx(10.5883, abs=0.00005)


def test_two_stacks_are_numbered_through() -> None:
    pile = Pile(species="lenga", stacked_volume=0.1, solid_factor=0.6, diameters=(0.15, 0.20))
    wood = reckoned(TimberInput(piles=(pile, pile), laying_moisture=0.2, measured_moisture=0.2))
    assert wood.stock.id == tuple(f"pile-{n}" for n in range(1, len(wood.stock.id) + 1))
    assert set(wood.stock.stem) == {"pile 1", "pile 2"}


@pytest.mark.parametrize(
    ("name", "value"), [("length", 0.0), ("butt_diameter", -0.2), ("top_diameter", 0.3), ("top_diameter", 0.0)]
)
def test_a_stem_that_cannot_be_is_refused(name: str, value: float) -> None:
    wrong = dataclasses.replace(stick(), **{name: value})
    with pytest.raises(InputError, match="stem A"):
        reckoned(TimberInput(stems=(wrong,)))


def test_a_wall_without_area_is_refused() -> None:
    with pytest.raises(InputError, match="no net area"):
        reckon_timber(
            TimberInput(stems=(stick(),)),
            log_end_length=0.35,
            net_area=0.0,
            wood_fraction=0.6,
            wood_fraction_low=0.6,
            wood_fraction_high=0.6,
        )
