"""What goes into the bucket, what comes out of it, how many batches is that, and how is it kept while it hardens?"""

from cordwright.mortar.advice import Advice
from cordwright.mortar.batch import batches, whole_up
from cordwright.mortar.batch_card import BatchCard, Load, LoadStep, batch_card
from cordwright.mortar.curing import Curing, curing_by_month, laying_months, reckon_curing
from cordwright.mortar.evaporation import evaporation_figure, evaporation_limit, menzel, uno
from cordwright.mortar.faults import find_faults
from cordwright.mortar.frost import FrostClock, frost_clock, last_laying_figure, lime_rate
from cordwright.mortar.inputs import Fibre, Form, Kind, MixPart, MortarInput, Pat, PatResult
from cordwright.mortar.materials import FORMS, LooseMaterial, as_measured, loose_material, part_sources
from cordwright.mortar.maturity import arrhenius_rate, days_at_reference, equivalent_age, nurse_saul
from cordwright.mortar.mix import damp_loose_volume, damp_mass, dry_loose_volume, reckon_mix
from cordwright.mortar.pats import deciding_pat, judged_class, pat_check, pat_words
from cordwright.mortar.pot_life import last_batch, pot_life_figure, usual_pot_life
from cordwright.mortar.proportions import Proportions, proportion_class, proportions
from cordwright.mortar.ranges import outside, stated_range
from cordwright.mortar.results import Mix, PartAmount
from cordwright.mortar.retarders import Retarder, retarders
from cordwright.mortar.sand_inputs import JarTest, SandInput
from cordwright.mortar.sand_results import SandReport, Sands
from cordwright.mortar.sands import judge_sand, reckon_sands
from cordwright.mortar.spread import Spread
from cordwright.mortar.weather_bands import construction_band, hot_band, protection_band
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
    "Advice",
    "BatchCard",
    "Curing",
    "Fibre",
    "Form",
    "FrostClock",
    "JarTest",
    "Kind",
    "Load",
    "LoadStep",
    "LooseMaterial",
    "LooseMix",
    "Mix",
    "MixPart",
    "MortarInput",
    "PartAmount",
    "Pat",
    "PatResult",
    "Proportions",
    "Retarder",
    "SandInput",
    "SandReport",
    "Sands",
    "Spread",
    "arrhenius_rate",
    "as_measured",
    "batch_card",
    "batches",
    "construction_band",
    "curing_by_month",
    "damp_loose_volume",
    "damp_mass",
    "days_at_reference",
    "deciding_pat",
    "dry_loose_volume",
    "equivalent_age",
    "evaporation_figure",
    "evaporation_limit",
    "find_faults",
    "fresh_volume",
    "frost_clock",
    "hot_band",
    "judge_sand",
    "judged_class",
    "last_batch",
    "last_laying_figure",
    "laying_months",
    "lime_rate",
    "loose_material",
    "loose_mix",
    "menzel",
    "nurse_saul",
    "outside",
    "part_sources",
    "pat_check",
    "pat_words",
    "pot_life_figure",
    "proportion_class",
    "proportions",
    "protection_band",
    "reckon_curing",
    "reckon_mix",
    "reckon_sands",
    "retarders",
    "stated_range",
    "uno",
    "usual_pot_life",
    "water_coefficients",
    "water_demand",
    "whole_up",
    "yield_ratio",
    "yield_sources",
]
