"""Timber: stems, sticks and stacks; bucking, seasoning, shrinkage, mass; the log ends in hand."""

from cordwright.timber.borates import as_boric_acid, as_oxide, retention_targets, solubility_bounds
from cordwright.timber.bucking import (
    Sawing,
    bark_factor,
    cut_stem,
    cut_stems,
    diameter_at,
    pieces_of_clean_stick,
)
from cordwright.timber.diffusion import left_in_cylinder, left_in_log_end, left_in_slab, share_through_ends
from cordwright.timber.drying import Air, LogEnd, air_from, moisture_on
from cordwright.timber.drying_rate import Rate, assumed_rate, fitted_rate
from cordwright.timber.end_treatment import Dose, dose_of, treatment_checks, treatment_figures
from cordwright.timber.faults import find_faults
from cordwright.timber.forecast import Curve, Forecast, forecast_drying
from cordwright.timber.gaps import Building, air_changes, reynolds, ring_flow
from cordwright.timber.inputs import (
    Defect,
    MarkedEnd,
    Pile,
    Reading,
    SeasoningInput,
    Species,
    Stem,
    TimberInput,
    Treatment,
    Weighing,
)
from cordwright.timber.masses import basic_density, density_at
from cordwright.timber.moisture import SiteMoisture, equilibrium_moisture, moisture_figures, site_moisture
from cordwright.timber.movement import check_opening
from cordwright.timber.reckoning import reckon_timber, season_timber
from cordwright.timber.results import Piece, StemCut, Stock, Timber
from cordwright.timber.shrinkage import fibre_saturation, shrinkage_at, shrinkage_gap
from cordwright.timber.species import known_species, species_named, wood_of
from cordwright.timber.stacking import checklist, stacking_check
from cordwright.timber.volumes import cone_frustum, face_area, huber, neiloid, newton, smalian

__all__ = [
    "Air",
    "Building",
    "Curve",
    "Defect",
    "Dose",
    "Forecast",
    "LogEnd",
    "MarkedEnd",
    "Piece",
    "Pile",
    "Rate",
    "Reading",
    "Sawing",
    "SeasoningInput",
    "SiteMoisture",
    "Species",
    "Stem",
    "StemCut",
    "Stock",
    "Timber",
    "TimberInput",
    "Treatment",
    "Weighing",
    "air_changes",
    "air_from",
    "as_boric_acid",
    "as_oxide",
    "assumed_rate",
    "bark_factor",
    "basic_density",
    "check_opening",
    "checklist",
    "cone_frustum",
    "cut_stem",
    "cut_stems",
    "density_at",
    "diameter_at",
    "dose_of",
    "equilibrium_moisture",
    "face_area",
    "fibre_saturation",
    "find_faults",
    "fitted_rate",
    "forecast_drying",
    "huber",
    "known_species",
    "left_in_cylinder",
    "left_in_log_end",
    "left_in_slab",
    "moisture_figures",
    "moisture_on",
    "neiloid",
    "newton",
    "pieces_of_clean_stick",
    "reckon_timber",
    "retention_targets",
    "reynolds",
    "ring_flow",
    "season_timber",
    "share_through_ends",
    "shrinkage_at",
    "shrinkage_gap",
    "site_moisture",
    "smalian",
    "solubility_bounds",
    "species_named",
    "stacking_check",
    "treatment_checks",
    "treatment_figures",
    "wood_of",
]
