"""ASTM International, C270, Standard Specification for Mortar for Unit Masonry: densities, proportions, worked batch.

The values are the standard's as remembered (source `astm-c270-memory`); the standard itself was not read.
"""

import pytest

from cordwright.base.units import POUND_PER_CUBIC_FOOT
from cordwright.mortar import MixPart, MortarInput, loose_mix, proportion_class, proportions

# because: the densities are printed as whole pounds per cubic foot and carried exactly.
DENSITIES = {"cement": 94, "lime": 40, "sand": 80}
FORMS = {"cement": "powder", "lime": "powder", "sand": "damp sand"}


def mix(cement: float, lime: float, sand: float) -> MortarInput:
    parts = {"cement": cement, "lime": lime, "sand": sand}
    return MortarInput(parts=tuple(MixPart(name=k, kind=k, form=FORMS[k], parts=n) for k, n in parts.items() if n))


@pytest.mark.parametrize(("kind", "pounds"), DENSITIES.items())
def test_loose_bulk_densities(kind: str, pounds: float) -> None:
    (material,) = loose_mix(MortarInput(parts=(MixPart(name=kind, kind=kind, form=FORMS[kind], parts=1),))).materials
    assert material.dry / POUND_PER_CUBIC_FOOT == pytest.approx(pounds, abs=1e-9)


def test_worked_laboratory_batch() -> None:
    """1 cement : 1 1/4 lime : 6 3/4 sand with 1440 g of sand: factor 2.667, 250.7 g of cement, 133.3 g of lime."""
    cement, lime, sand = loose_mix(mix(1, 1.25, 6.75)).materials
    grams = 1440 / (6.75 * sand.sand)
    assert 1440 / (6.75 * sand.sand / POUND_PER_CUBIC_FOOT) == pytest.approx(2.667, abs=0.0005)
    assert grams * cement.cement == pytest.approx(250.7, abs=0.05)
    assert grams * 1.25 * lime.lime == pytest.approx(133.3, abs=0.05)


@pytest.mark.parametrize(
    ("lime", "name"),
    [(0.25, "M"), (0.26, "S"), (0.5, "S"), (0.51, "N"), (1.25, "N"), (1.26, "O"), (2.5, "O")],
)
def test_classes_by_proportion(lime: float, name: str) -> None:
    """Lime to one of cement: M to 1/4, S over 1/4 to 1/2, N over 1/2 to 1 1/4, O over 1 1/4 to 2 1/2."""
    stated = mix(1, lime, 2.6 * (1 + lime))
    assert proportion_class(proportions(loose_mix(stated).materials)) == f"near {name} by proportion, untested"


@pytest.mark.parametrize(("times", "within"), [(2.24, False), (2.25, True), (3.0, True), (3.01, False)])
def test_sand_is_two_and_a_quarter_to_three_times_the_binder(times: float, within: bool) -> None:
    assert proportions(loose_mix(mix(1, 1, 2 * times)).materials).sand_in_range is within
