"""Portland Cement Association, "Trowel Tips", Masonry Magazine, August 1993, p. 17.

"Almost 1 cubic foot of damp loose sand" to each cubic foot of mortar.
"""

import pytest

from cordwright.mortar import Mix, MixPart, MortarInput, reckon_mix

BAND = (0.85, 1.05)
"""Because "almost" is no number, it is read as this band of mortar over damp loose sand."""


def mix(lime: float, sand: float) -> Mix:
    parts = (
        MixPart(name="cement", kind="cement", form="powder", parts=1),
        MixPart(name="lime", kind="lime", form="powder", parts=lime),
        MixPart(name="sand", kind="sand", form="damp sand", parts=sand),
    )
    return reckon_mix(MortarInput(parts=parts))


@pytest.mark.parametrize(("lime", "sand"), [(0.25, 3.75), (0.5, 4.5), (1.0, 6.0), (1.25, 6.75)])
def test_almost_a_measure_of_damp_sand_to_a_measure_of_mortar(lime: float, sand: float) -> None:
    per_sand = mix(lime, sand).yield_ratio * (1 + lime + sand) / sand
    assert BAND[0] <= per_sand <= BAND[1]


def test_the_leanest_mix_lies_at_the_edge_of_the_band() -> None:
    """1:2:9 holds less binder to its sand than both mixes the water was read from: its spread reaches into the band."""
    lean = mix(2.0, 9.0)
    assert lean.yield_ratio * 12 / 9 == pytest.approx(BAND[0], rel=0.01)
    assert lean.yield_low * 12 / 9 < BAND[0] < lean.yield_high * 12 / 9
