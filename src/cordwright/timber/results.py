"""What the wood gives: cuts along each stem, log ends in hand, their sizes and masses."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from cordwright.base import Caution, Check, Figure
from cordwright.timber.inputs import Stem


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """One log end on its stem: where it is cut [m from the butt] and its mid-length diameter as measured [m]."""

    id: str
    start: float
    end: float
    diameter: float


@dataclass(frozen=True, slots=True, kw_only=True)
class StemCut:
    """How one stem (or each of `stem.count` alike) is cut.

    `offcut` is what is left over [m]; `short_if_retrimmed` tells that re-cutting both stick ends would cost a piece.
    """

    stem: Stem
    pieces: tuple[Piece, ...]
    offcut: float
    short_if_retrimmed: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Stock:
    """The log ends in hand, one row each, all arrays of the same length n.

    `diameter`: mid-length diameter at the laying moisture [m]; `green_diameter` as cut; `mass_green`, `mass_laying`
    [kg], NaN where the species' density is unknown. `counted` is False when ids stand for a pile known only by sample.
    """

    id: tuple[str, ...]
    stem: tuple[str, ...]
    species: tuple[str, ...]
    diameter: NDArray[np.float64]
    green_diameter: NDArray[np.float64]
    mass_green: NDArray[np.float64]
    mass_laying: NDArray[np.float64]
    counted: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Timber:
    """The wood worked out."""

    cuts: tuple[StemCut, ...]
    stock: Stock
    figures: tuple[Figure, ...]
    checks: tuple[Check, ...]
    cautions: tuple[Caution, ...]

    def figure(self, key: str) -> Figure:
        """One figure by its key."""
        return next(f for f in self.figures if f.key == key)
