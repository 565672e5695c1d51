"""Yield of cement-lime mortar by absolute volumes (closed form): two mixes worked outside this project, as given.

Inputs: 94 lb of cement, 40 or 20 lb of lime, 480 or 360 lb of dry sand, 75 or 62 lb of water, 8 % air, specific
gravities 3.15, 2.30 and 2.65, water 62.4 lb/ft3.
"""

import pytest

from cordwright.base.units import CUBIC_FOOT, POUND
from cordwright.mortar import MixPart, MortarInput, Spread, fresh_volume, loose_mix, reckon_mix, water_demand

WORKED = {
    "1:1:6": (1, 6, 75, 5.284, 0.881),
    "1:1/2:4 1/2": (0.5, 4.5, 62, 4.118, 0.915),
}


def mix(lime: float, sand: float) -> MortarInput:
    return MortarInput(
        parts=(
            MixPart(name="cement", kind="cement", form="powder", parts=1),
            MixPart(name="lime", kind="lime", form="powder", parts=lime),
            MixPart(name="sand", kind="sand", form="damp sand", parts=sand),
        )
    )


def cubic_feet(lime: float, sand: float, water_lb: float, air: float) -> float:
    """Fresh mortar of a mix with one cubic foot of cement and the water as printed."""
    grains = loose_mix(mix(lime, sand)).grains * CUBIC_FOOT
    return fresh_volume(grains, water_lb * POUND, air) / CUBIC_FOOT


@pytest.mark.parametrize(("lime", "sand", "water", "fresh", "per_sand"), WORKED.values(), ids=WORKED)
def test_yield_with_the_water_as_printed(lime: float, sand: float, water: float, fresh: float, per_sand: float) -> None:
    assert cubic_feet(lime, sand, water, 0.08) == pytest.approx(fresh, abs=0.0005)
    assert cubic_feet(lime, sand, water, 0.08) / sand == pytest.approx(per_sand, abs=0.0005)


def test_absolute_volume_without_air() -> None:
    assert cubic_feet(1, 6, 75, 0.0) == pytest.approx(4.862, abs=0.0005)


@pytest.mark.parametrize(("lime", "sand", "water", "fresh", "per_sand"), WORKED.values(), ids=WORKED)
def test_our_own_water_gives_the_printed_water_back(
    lime: float, sand: float, water: float, fresh: float, per_sand: float
) -> None:
    """The plane goes through both mixes, so the whole reckoning gives the printed yield too."""
    stated = mix(lime, sand)
    loose = loose_mix(stated)
    assert water_demand(loose.binder, loose.sand).middle * CUBIC_FOOT / POUND == pytest.approx(water, abs=1e-9)
    reckoned = reckon_mix(stated)
    assert reckoned.yield_ratio * (1 + lime + sand) / sand == pytest.approx(per_sand, abs=0.0005)


def test_masses_in_a_cubic_metre() -> None:
    """1:1:6: 285 kg of cement, 121 of lime, 1455 of sand, 227 of water."""
    reckoned = reckon_mix(mix(1, 6))
    assert [a.dry_mass for a in reckoned.amounts] == pytest.approx([285, 121, 1455], abs=0.5)
    brought = sum(a.delivered_mass - a.dry_mass for a in reckoned.amounts)
    assert reckoned.water + brought == pytest.approx(227, abs=0.5)


def test_spread_holds_the_middle() -> None:
    reckoned = reckon_mix(mix(1, 6))
    spread = Spread(reckoned.yield_low, reckoned.yield_ratio, reckoned.yield_high)
    assert spread.low < spread.middle < spread.high
