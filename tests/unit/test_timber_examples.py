"""The wood of the three example buildings, against the figures their owners were told."""

import csv
from pathlib import Path

import numpy as np
import pytest

from cordwright.base.units import FOOT, INCH
from cordwright.timber import Pile, Species, Stem, Timber, TimberInput, reckon_timber, species_named

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
SPRUCE = Species(name="spruce", label="Norway spruce", shrinkage=0.057, radial=0.036, basic_density=380.0)
ASPEN = Species(name="aspen", label="European aspen", shrinkage=0.051, radial=0.035, basic_density=380.0)
LENGA = Species(name="lenga", label="lenga", shrinkage=0.062)


def rows(name: str) -> list[dict[str, str]]:
    with (EXAMPLES / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def studio_stems() -> tuple[Stem, ...]:
    return tuple(
        Stem(
            name=row["stem"],
            species=row["species"],
            butt_diameter=float(row["butt_diameter_mm"]) / 1000,
            top_diameter=float(row["top_diameter_mm"]) / 1000,
            length=float(row["length_m"]),
        )
        for row in rows("weaving-studio/stems.csv")
    )


STUDIO = TimberInput(
    stems=studio_stems(),
    species=(SPRUCE, ASPEN),
    kerf=0.009,
    end_trim=0.04,
    cull_share=0.05,
    spare_share=0.08,
    laying_moisture=0.16,
    service_moisture=0.09,
)
BAKEHOUSE = TimberInput(
    piles=(
        Pile(
            species="lenga",
            stacked_volume=4.6,
            solid_factor=0.62,
            diameters=tuple(float(row["diameter_mm"]) / 1000 for row in rows("bakehouse/diameters.csv")),
        ),
    ),
    species=(LENGA,),
    laying_moisture=0.24,
    measured_moisture=0.24,
)


def studio(stock: TimberInput = STUDIO) -> Timber:
    return reckon_timber(
        stock,
        log_end_length=0.35,
        net_area=34.86,
        wood_fraction=0.60,
        wood_fraction_low=0.55,
        wood_fraction_high=0.65,
    )


def bakehouse(stock: TimberInput = BAKEHOUSE) -> Timber:
    return reckon_timber(
        stock,
        log_end_length=0.30,
        net_area=27.755,
        wood_fraction=0.58,
        wood_fraction_low=0.58,
        wood_fraction_high=0.58,
    )


def test_fifty_eight_stems_give_804_log_ends_and_97_percent_of_the_face() -> None:
    wood = studio()
    assert len(wood.cuts) == 58
    assert wood.figure("timber.log_ends").value == 804
    assert wood.figure("timber.face_area").value == pytest.approx(20.21, abs=0.005)
    assert wood.figure("timber.coverage").value == pytest.approx(0.966, abs=0.0005)


def test_every_stem_of_the_studio_by_the_formula() -> None:
    for cut in studio().cuts:
        length = round(cut.stem.length * 1000)
        assert len(cut.pieces) == (length - 80 + 9) // 359


def test_the_studio_is_short_after_culls_and_told_what_to_do() -> None:
    wood = studio()
    (check,) = wood.checks
    assert check.key == "timber.coverage_check"
    assert check.verdict == "short"
    assert check.capacity == pytest.approx(20.2113 * 0.95, abs=1e-3)
    assert (check.low, check.demand, check.high) == tuple(pytest.approx(34.86 * f) for f in (0.55, 0.60, 0.65))
    short = wood.figure("timber.shortfall_area")
    assert short.value == pytest.approx(check.demand - check.capacity)
    more = wood.figure("timber.shortfall_log_ends").value
    mean_face = 20.2113 / 804 * 0.95
    assert (more - 1) * mean_face < short.value <= more * mean_face
    choices = {s.symbol: s.value for s in short.steps if s.symbol.startswith("choice")}
    assert choices["choice: lower wood fraction"] == pytest.approx(check.capacity / 34.86)
    assert choices["choice: smaller net wall"] == pytest.approx(check.capacity / 0.60)
    assert choices["choice: shorter log ends"] == pytest.approx(0.35 * check.capacity / check.demand)
    assert choices["choice: more log ends"] == more


def test_culls_and_spares_leave_so_many() -> None:
    figure = studio().figure("timber.usable_log_ends")
    assert figure.value == 699  # 804 x 0.87 = 699.48
    assert figure.bound == "exact"


def test_the_coverage_ranges_from_culled_at_the_high_fraction_to_all_at_the_low_one() -> None:
    wood = studio()
    face, coverage = wood.figure("timber.face_area"), wood.figure("timber.coverage")
    assert coverage.low == pytest.approx(face.low * 0.95 / (34.86 * 0.65))
    assert coverage.high == pytest.approx(face.high / (34.86 * 0.55))
    assert face.low == pytest.approx(face.value * 0.99**2)
    assert face.high == pytest.approx(face.value * 1.01**2)


def test_masses_of_the_studio_and_its_cautions() -> None:
    wood = studio()
    heaviest = wood.figure("timber.heaviest_piece")
    assert heaviest.value == pytest.approx(float(wood.stock.mass_green.max()))
    assert (heaviest.low, heaviest.high) == (
        pytest.approx(heaviest.value * 1.6 / 2.1),
        pytest.approx(heaviest.value * 2.5 / 2.1),
    )
    assert wood.stock.mass_laying / wood.stock.mass_green == pytest.approx(1.16 / 2.1)
    t32 = next(s for s in STUDIO.stems if s.name == "T54")
    volume = (
        np.pi / 12 * t32.length * (t32.butt_diameter**2 + t32.butt_diameter * t32.top_diameter + t32.top_diameter**2)
    )
    assert wood.figure("timber.heaviest_stem").value == pytest.approx(volume * 380 * 2.1)
    assert [c.key for c in wood.cautions] == ["felling", "lifting"]


def test_the_bakehouse_stack_covers_59_percent_and_is_never_scaled_up() -> None:
    wood = bakehouse()
    assert wood.figure("timber.solid_volume").value == pytest.approx(4.6 * 0.62)
    assert wood.figure("timber.face_area").value == pytest.approx(9.51, abs=0.005)
    assert wood.figure("timber.coverage").value == pytest.approx(0.59, abs=0.005)
    assert wood.figure("timber.shortfall_area").value == pytest.approx(27.755 * 0.58 - 4.6 * 0.62 / 0.3)
    assert wood.checks[0].verdict == "short"
    assert wood.stock.diameter.max() == 0.240
    assert wood.stock.id[0] == "pile-1"
    assert not wood.stock.counted
    assert "choice: shorter log ends" not in {s.symbol for s in wood.figure("timber.shortfall_area").steps}


def test_the_bakehouse_masses_are_unknown_without_a_density_and_known_with_one() -> None:
    heaviest = bakehouse().figure("timber.heaviest_piece")
    assert heaviest.bound == "unknown"
    assert heaviest.missing == ("the basic density of lenga",)
    weighed = Species(name="lenga", label="lenga", shrinkage=0.062, basic_density=450.0, sources=("owner",))
    stock = TimberInput(piles=BAKEHOUSE.piles, species=(weighed,), laying_moisture=0.24, measured_moisture=0.24)
    known = bakehouse(stock).figure("timber.heaviest_piece")
    at_24 = 1.24 * 450 * np.pi / 4 * 0.24**2 * 0.3 / (1 - 0.062 * 4 / 28) ** 2
    assert known.value == pytest.approx(
        at_24, rel=0.01
    )  # the stack's pieces share its volume as counted, to half a piece
    assert known.low is None


def test_the_bakehouse_states_no_culls_and_no_service_moisture() -> None:
    wood = bakehouse()
    usable = wood.figure("timber.usable_log_ends")
    assert (usable.bound, len(usable.missing)) == ("at_most", 2)
    assert wood.figure("timber.shrinkage_gap").missing == ("the moisture in service (stock.service_moisture)",)
    assert "timber.stem_volume" not in {f.key for f in wood.figures}


def test_the_sauna_sticks_give_eight_each() -> None:
    sticks = tuple(
        Stem(
            name=row["stem"],
            species="northern white-cedar",
            butt_diameter=float(row["diameter_in"]) * INCH,
            top_diameter=float(row["diameter_in"]) * INCH,
            length=8 * FOOT + 9 * INCH,
            count=int(row["count"]),
        )
        for row in rows("sauna/sticks.csv")
    )
    stock = TimberInput(stems=sticks, kerf=0.3 * INCH, laying_moisture=0.14, service_moisture=0.05)
    wood = reckon_timber(
        stock,
        log_end_length=12 * INCH,
        net_area=14.0,
        wood_fraction=0.62,
        wood_fraction_low=0.62,
        wood_fraction_high=0.62,
    )
    assert [len(cut.pieces) for cut in wood.cuts] == [8, 8, 8, 8]
    assert not any(cut.short_if_retrimmed for cut in wood.cuts)
    assert wood.figure("timber.log_ends").value == 8 * (24 + 30 + 26 + 16)
    assert wood.stock.id[:2] == ("A.1-1", "A.1-2")
    assert wood.stock.id[8] == "A.2-1"
    shrunk = 4 * INCH * (1 - species_named("northern white-cedar").shrinkage * 14 / 28)
    assert wood.stock.diameter[0] == pytest.approx(shrunk)
    assert wood.figure("timber.heaviest_stem").high > 20
    assert [c.key for c in wood.cautions] == ["felling", "lifting"]
