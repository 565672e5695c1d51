"""Bulking of damp sand, Indian Standard practice as web pages quote it (source `sand-bulking`).

Printed: 70 L of dry sand at 20 % bulking fill 84 L; bulking 15 to 30 % at 2 to 5 % moisture.
"""

import pytest

from cordwright.base import table
from cordwright.mortar import MixPart, PartAmount, damp_loose_volume, dry_loose_volume


def sand(form: str, litres: float) -> PartAmount:
    part = MixPart(name="sand", kind="sand", form=form, parts=1, bulking=1.20)
    return PartAmount(part=part, dry_mass=110.0, delivered_mass=110.0, loose_volume=litres / 1000)


def test_dry_sand_bulks_when_damp() -> None:
    assert damp_loose_volume(sand("dry sand", 70)) * 1000 == pytest.approx(84, abs=1e-9)
    assert dry_loose_volume(sand("dry sand", 70)) * 1000 == pytest.approx(70, abs=1e-9)


def test_damp_sand_is_less_when_dry() -> None:
    assert dry_loose_volume(sand("damp sand", 84)) * 1000 == pytest.approx(70, abs=1e-9)
    assert damp_loose_volume(sand("damp sand", 84)) * 1000 == pytest.approx(84, abs=1e-9)


def test_the_table_lies_within_the_printed_range() -> None:
    row = table("materials")["sand"]
    assert 1.15 <= row["bulking"] <= 1.30
    assert 0.02 <= row["moisture"] <= 0.05
