"""Timber: stems, sticks and stacks; bucking, shrinkage, mass; the log ends in hand."""

from cordwright.timber.bucking import (
    Sawing,
    bark_factor,
    cut_stem,
    cut_stems,
    diameter_at,
    pieces_of_clean_stick,
)
from cordwright.timber.faults import find_faults
from cordwright.timber.inputs import Defect, Pile, Species, Stem, TimberInput
from cordwright.timber.masses import basic_density, density_at
from cordwright.timber.reckoning import reckon_timber
from cordwright.timber.results import Piece, StemCut, Stock, Timber
from cordwright.timber.shrinkage import fibre_saturation, shrinkage_at, shrinkage_gap
from cordwright.timber.species import known_species, species_named, wood_of
from cordwright.timber.volumes import cone_frustum, face_area, huber, neiloid, newton, smalian

__all__ = [
    "Defect",
    "Piece",
    "Pile",
    "Sawing",
    "Species",
    "Stem",
    "StemCut",
    "Stock",
    "Timber",
    "TimberInput",
    "bark_factor",
    "basic_density",
    "cone_frustum",
    "cut_stem",
    "cut_stems",
    "density_at",
    "diameter_at",
    "face_area",
    "fibre_saturation",
    "find_faults",
    "huber",
    "known_species",
    "neiloid",
    "newton",
    "pieces_of_clean_stick",
    "reckon_timber",
    "shrinkage_at",
    "shrinkage_gap",
    "smalian",
    "species_named",
    "wood_of",
]
