"""What goes into the bucket, what comes out of it, and how many batches does it take?"""

from cordwright.mortar.batch import batches, whole_up
from cordwright.mortar.faults import find_faults
from cordwright.mortar.inputs import Form, Kind, MixPart, MortarInput
from cordwright.mortar.materials import FORMS, LooseMaterial, loose_material, part_sources
from cordwright.mortar.mix import damp_loose_volume, damp_mass, dry_loose_volume, reckon_mix
from cordwright.mortar.proportions import Proportions, proportion_class, proportions
from cordwright.mortar.ranges import outside, stated_range
from cordwright.mortar.results import Mix, PartAmount
from cordwright.mortar.sand_inputs import JarTest, SandInput
from cordwright.mortar.sand_results import SandReport, Sands
from cordwright.mortar.sands import judge_sand, reckon_sands
from cordwright.mortar.spread import Spread
from cordwright.mortar.yields import (
    LooseMix,
    fresh_volume,
    loose_mix,
    water_coefficients,
    water_demand,
    yield_ratio,
    yield_sources,
)

__all__ = [
    "FORMS",
    "Form",
    "JarTest",
    "Kind",
    "LooseMaterial",
    "LooseMix",
    "Mix",
    "MixPart",
    "MortarInput",
    "PartAmount",
    "Proportions",
    "SandInput",
    "SandReport",
    "Sands",
    "Spread",
    "batches",
    "damp_loose_volume",
    "damp_mass",
    "dry_loose_volume",
    "find_faults",
    "fresh_volume",
    "judge_sand",
    "loose_material",
    "loose_mix",
    "outside",
    "part_sources",
    "proportion_class",
    "proportions",
    "reckon_mix",
    "reckon_sands",
    "stated_range",
    "water_coefficients",
    "water_demand",
    "whole_up",
    "yield_ratio",
    "yield_sources",
]
